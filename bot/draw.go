package bot

// draw makes the files of a card's papers. A paper that can't be drawn costs the card that
// paper, and the card says so: it is not held up.
func (b *Bot) draw(c *Card) {
	if b.Drawer == nil {
		return
	}
	for _, p := range c.Papers {
		files, err := b.Drawer.Draw(p)
		if err != nil {
			b.Log.Error("a paper could not be drawn", "paper", p.Name, "err", err)
			c.Lines = append(c.Lines, tongue(c.Language).say("%s could not be drawn. The records are not touched.", p.Name))
			continue
		}
		c.Files = append(c.Files, files...)
	}
}
