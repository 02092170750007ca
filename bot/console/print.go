package console

import (
	"fmt"
	"io"
	"strings"

	"github.com/mattn/go-runewidth"

	"salthand/bot"
)

// lineWidth is where text wraps.
const lineWidth = 78

// Print lays a card out as plain text.
func Print(w io.Writer, c bot.Card) error {
	var b strings.Builder
	head := label(c)
	if c.Title != "" {
		head += "  " + clean(c.Title)
	}
	wrap(&b, "", head)
	for _, l := range c.Lines {
		wrap(&b, "  ", clean(l))
	}
	if c.Caret != nil {
		caret(&b, *c.Caret)
	}
	weigh(&b, c.Weigh)
	for _, f := range c.Facts {
		fact(&b, f)
	}
	for _, wn := range c.Warnings {
		wrap(&b, "  ", strings.ToUpper(wn.Level)+": "+clean(wn.Text))
	}
	for _, choice := range c.Choices {
		b.WriteString("    · " + clean(choice) + "\n")
	}
	if c.Small != "" {
		wrap(&b, "  ", clean(c.Small))
	}
	if c.Next != "" {
		wrap(&b, "→ ", clean(c.Next))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// label begins a card: what it is, and of which batch.
func label(c bot.Card) string {
	kind := map[bot.Kind]string{
		bot.DoseCard: "DOSE CARD", bot.StopCard: "NO DOSE", bot.QuestionCard: "?", bot.ErrorCard: "✗", bot.NoteCard: "·",
		bot.ReminderCard: "DUE", bot.HoldCard: "HOLD", bot.EmergencyCard: "!!", bot.ListCard: "LOOK BACK", bot.HelpCard: "HELP",
	}[c.Kind]
	if c.Batch != 0 {
		kind = fmt.Sprintf("[%d] %s", c.Batch, kind)
	}
	return kind
}

// weigh prints the grams in a column of their own.
func weigh(b *strings.Builder, lines []bot.Weigh) {
	item, amount := 0, 0
	for _, l := range lines {
		item, amount = max(item, runewidth.StringWidth(l.Item)), max(amount, runewidth.StringWidth(l.Amount))
	}
	if len(lines) > 0 {
		b.WriteString("\n")
	}
	for _, l := range lines {
		row := "    " + runewidth.FillLeft(l.Amount, amount) + "  " + runewidth.FillRight(l.Item, item)
		if l.Note != "" {
			row += "  (" + clean(l.Note) + ")"
		}
		b.WriteString(strings.TrimRight(row, " ") + "\n")
	}
	if len(lines) > 0 {
		b.WriteString("\n")
	}
}

// fact prints a label and its lines beside it.
func fact(b *strings.Builder, f bot.Fact) {
	const indent = "              "
	name := "  " + runewidth.FillRight(clean(f.Label), len(indent)-2)
	for i, l := range f.Lines {
		lead := indent
		if i == 0 {
			lead = name
		}
		wrapUnder(b, lead, indent, clean(l))
	}
}

// caret prints what was typed and points under the place. What would not fit on the line is
// left out on both sides.
func caret(b *strings.Builder, c bot.Caret) {
	text := []rune(clean(c.Text))
	from := min(max(c.Column-1, 0), len(text))
	to := min(from+max(c.Width, 1), len(text))
	start := max(0, from-lineWidth/2)
	end := min(len(text), start+lineWidth)
	b.WriteString("    " + string(text[start:end]) + "\n")
	b.WriteString("    " + strings.Repeat(" ", runewidth.StringWidth(string(text[start:from]))) +
		strings.Repeat("^", max(1, runewidth.StringWidth(string(text[from:min(to, end)])))) + "\n")
}

// wrap prints text under an indent, broken between words.
func wrap(b *strings.Builder, lead, text string) {
	wrapUnder(b, lead, strings.Repeat(" ", runewidth.StringWidth(lead)), text)
}

func wrapUnder(b *strings.Builder, lead, indent, text string) {
	line, width := lead, runewidth.StringWidth(lead)
	begun := false
	for word := range strings.SplitSeq(text, " ") {
		n := runewidth.StringWidth(word)
		if begun && width+1+n > lineWidth {
			b.WriteString(strings.TrimRight(line, " ") + "\n")
			line, width, begun = indent, runewidth.StringWidth(indent), false
		}
		if begun {
			line, width = line+" ", width+1
		}
		line, width, begun = line+word, width+n, true
	}
	b.WriteString(strings.TrimRight(line, " ") + "\n")
}

// clean takes out of text what a terminal would obey or hide: control characters, and marks
// that turn the writing direction or have no width.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0:
			return ' '
		case r >= 0x200b && r <= 0x200f, r >= 0x202a && r <= 0x202e, r >= 0x2060 && r <= 0x2069, r == 0xfeff, r == 0x061c:
			return -1
		}
		return r
	}, s)
}
