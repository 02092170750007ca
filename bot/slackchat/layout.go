package slackchat

import (
	"fmt"
	"strings"

	"github.com/slack-go/slack"

	"salthand/bot"
)

// caretWidth is how many letters of one width stand on a line of a phone.
const caretWidth = 34

// page is what one message holds. Text says the same without blocks: for notifications,
// readers aloud and search.
type page struct {
	blocks []slack.Block
	text   string
}

// part is a piece of a card that stays on one page.
type part struct {
	blocks []slack.Block
	text   string // one or more lines
}

// pages lays a card out. A card that is too long for one message goes on in further ones.
func pages(c bot.Card) []page {
	parts := card(c)
	if len(parts) == 0 {
		parts = section("·", "") // Slack takes no empty message
	}
	if c.Also != nil {
		parts = append(parts, part{blocks: []slack.Block{slack.NewDividerBlock()}, text: "―"})
		parts = append(parts, card(*c.Also)...)
	}
	var out []page
	var texts []string
	size := 0
	for i, p := range parts {
		last := len(out) - 1
		if i == 0 || len(out[last].blocks)+len(p.blocks) > blocksAtMost || size+width(p.text) > messageAtMost {
			out, texts, size = append(out, page{}), nil, 0
			last++
		}
		out[last].blocks = append(out[last].blocks, p.blocks...)
		texts, size = append(texts, p.text), size+width(p.text)
		out[last].text = strings.Join(texts, "\n")
	}
	return out
}

// signs stand before the title of a card that has no heading. A note needs none.
var signs = map[bot.Kind]string{bot.QuestionCard: "?", bot.ErrorCard: "✗", bot.EmergencyCard: "!!", bot.FigureCard: "="}

// card lays out a card in one language, in the order that it is read: what it is and what
// became of it, what to weigh, what to know, what to do.
func card(c bot.Card) (parts []part) {
	parts = append(parts, head(c)...)
	parts = append(parts, section(joined(c.Status), "")...)
	parts = append(parts, section("", joined(c.Lines))...)
	if c.Caret != nil {
		parts = append(parts, caret(*c.Caret))
	}
	for _, w := range c.Weigh {
		parts = append(parts, weigh(w)...)
	}
	for _, f := range c.Facts {
		parts = append(parts, fact(f)...)
	}
	for _, w := range c.Warnings {
		parts = append(parts, section(c.LevelName(w)+":", " "+shown(w.Text))...)
	}
	if len(c.Choices) > 0 && !picks(c.Buttons) { // as buttons they stand there once
		parts = append(parts, section("", listed(c.Choices))...)
	}
	parts = append(parts, small(shown(c.Small))...)
	if c.Next != "" {
		parts = append(parts, next("→ "+shown(c.Next))...)
	}
	return append(parts, buttons(c.Buttons)...)
}

// head says what a card is and of which batch, and its title: big where it warns.
func head(c bot.Card) []part {
	kind, title := c.Heading(), shown(c.Title)
	if c.Batch != 0 {
		kind = strings.TrimSpace(fmt.Sprintf("[%d] %s", c.Batch, kind))
	}
	if c.Heading() != "" {
		return append(big(kind), section(title, "")...)
	}
	if sign := signs[c.Kind]; sign != "" {
		title = sign + "  " + title
	}
	lead := strings.TrimSpace(kind + "  " + title)
	if c.Kind == bot.EmergencyCard {
		return big(lead)
	}
	return section(lead, "")
}

// weigh is the grams, in the biggest letters there are, with what they are of.
func weigh(w bot.Weigh) []part {
	parts := big(shown(w.Amount) + "  " + shown(w.Item))
	if w.Note == "" {
		return parts
	}
	note := small("(" + shown(w.Note) + ")")
	last := &parts[len(parts)-1] // the note stays on the page of its grams
	last.blocks, last.text = append(last.blocks, note[0].blocks...), last.text+"  "+note[0].text
	return append(parts, note[1:]...)
}

// fact is a label with its lines beneath.
func fact(f bot.Fact) []part {
	label := shown(f.Label)
	switch len(f.Lines) {
	case 0:
		return section(label, "")
	case 1:
		return section(label, "\n"+shown(f.Lines[0]))
	}
	return section(label, "\n"+listed(f.Lines))
}

// joined is lines beneath each other.
func joined(lines []string) string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = shown(l)
	}
	return strings.Join(out, "\n")
}

// listed is lines with a bullet before each.
func listed(lines []string) string {
	var b strings.Builder
	for _, l := range lines {
		b.WriteString("• " + shown(l) + "\n")
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// caret is what was typed with marks under the place, in letters of one width.
func caret(c bot.Caret) part {
	line, marks := c.Pointed(caretWidth)
	line = strings.ReplaceAll(line, "```", "'''") // would end the block
	text := line + "\n" + marks
	return part{blocks: []slack.Block{slack.NewSectionBlock(marked("```"+escape(text)+"```"), nil, nil)}, text: text}
}

// big is a header, or a bold section where it is too long for one.
func big(s string) []part {
	if width(s) > headerAtMost {
		return section(s, "")
	}
	if s == "" {
		return nil
	}
	return []part{{blocks: []slack.Block{slack.NewHeaderBlock(plain(s))}, text: s}}
}

// section is text with a bold lead, in as many blocks as it takes.
func section(lead, rest string) (parts []part) {
	if strings.TrimSpace(lead+rest) == "" {
		return nil
	}
	if width(lead+rest)+2 <= sectionAtMost {
		return []part{{blocks: []slack.Block{slack.NewSectionBlock(led(lead, rest), nil, nil)}, text: lead + rest}}
	}
	for _, s := range pieces(lead+rest, sectionAtMost) {
		parts = append(parts, part{blocks: []slack.Block{slack.NewSectionBlock(plain(s), nil, nil)}, text: s})
	}
	return parts
}

// next is what to do now. What is to be typed stands between two spaces in it, and is set in
// letters of one width.
func next(s string) []part {
	parts := section("", s)
	words := strings.Split(s, "  ")
	if len(parts) != 1 || len(words) == 1 || !tame(s) {
		return parts
	}
	for i := 1; i < len(words); i += 2 {
		typed := strings.TrimRight(words[i], " .")
		if typed == "" {
			return parts
		}
		words[i] = "`" + typed + "`" + strings.TrimLeft(words[i][len(typed):], " ")
	}
	parts[0].blocks = []slack.Block{slack.NewSectionBlock(marked(escape(strings.Join(words, " "))), nil, nil)}
	return parts
}

// small is text in small letters.
func small(s string) (parts []part) {
	for _, s := range pieces(s, contextAtMost) {
		parts = append(parts, part{blocks: []slack.Block{slack.NewContextBlock("", plain(s))}, text: s})
	}
	return parts
}
