package console

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/mattn/go-runewidth"

	"salthand/bot"
)

// caretWidth is how much of a line a caret's phrase may take.
const caretWidth = 78

// layout is text that wraps between words at a width; 0 doesn't wrap.
type layout struct {
	strings.Builder
	width int
}

// Print lays a card out as plain text. Lines wrap at width, or not at all where it is 0.
func Print(w io.Writer, c bot.Card, width int) error {
	b := layout{width: width}
	b.card(c)
	if c.Also != nil {
		b.WriteString("  ―\n")
		b.card(*c.Also)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// card lays out a card in one language.
func (b *layout) card(c bot.Card) {
	head := label(c)
	if c.Title != "" {
		head += "  " + bot.Visible(c.Title)
	}
	b.wrap("", head)
	for _, l := range c.Lines {
		b.wrap("  ", bot.Visible(l))
	}
	if c.Caret != nil {
		b.caret(*c.Caret)
	}
	b.weigh(c.Weigh)
	for _, f := range c.Facts {
		b.fact(f)
	}
	for _, wn := range c.Warnings {
		b.wrap("  ", c.LevelName(wn)+": "+bot.Visible(wn.Text))
	}
	for _, choice := range c.Choices {
		b.WriteString("    · " + bot.Visible(choice) + "\n")
	}
	if c.Small != "" {
		b.wrap("  ", bot.Visible(c.Small))
	}
	if c.Next != "" {
		b.wrap("→ ", bot.Visible(c.Next))
	}
}

// label begins a card: what it is, and of which batch.
func label(c bot.Card) string {
	kind := c.Heading()
	if kind == "" {
		kind = map[bot.Kind]string{bot.QuestionCard: "?", bot.ErrorCard: "✗", bot.NoteCard: "·", bot.EmergencyCard: "!!", bot.FigureCard: "="}[c.Kind]
	}
	if c.Batch != 0 {
		kind = fmt.Sprintf("[%d] %s", c.Batch, kind)
	}
	return kind
}

// weigh prints the grams in a column of their own.
func (b *layout) weigh(lines []bot.Weigh) {
	item, amount := 0, 0
	lines = slices.Clone(lines)
	for i, l := range lines {
		l = bot.Weigh{Item: bot.Visible(l.Item), Amount: bot.Visible(l.Amount), Note: bot.Visible(l.Note)}
		lines[i] = l
		item, amount = max(item, runewidth.StringWidth(l.Item)), max(amount, runewidth.StringWidth(l.Amount))
	}
	if len(lines) > 0 {
		b.WriteString("\n")
	}
	for _, l := range lines {
		row := "    " + runewidth.FillLeft(l.Amount, amount) + "  " + runewidth.FillRight(l.Item, item)
		if l.Note != "" {
			row += "  (" + l.Note + ")"
		}
		b.WriteString(strings.TrimRight(row, " ") + "\n")
	}
	if len(lines) > 0 {
		b.WriteString("\n")
	}
}

// fact prints a label and its lines beside it.
func (b *layout) fact(f bot.Fact) {
	const indent = "              "
	label := bot.Visible(f.Label)
	name := "  " + runewidth.FillRight(label, len(indent)-2)
	if runewidth.StringWidth(label) > len(indent)-4 {
		b.WriteString("  " + label + "\n")
		name = indent
	}
	for i, l := range f.Lines {
		lead := indent
		if i == 0 {
			lead = name
		}
		b.wrapUnder(lead, indent, bot.Visible(l))
	}
}

// caret prints what was typed and points under the place.
func (b *layout) caret(c bot.Caret) {
	line, marks := c.Pointed(caretWidth)
	b.WriteString("    " + line + "\n    " + marks + "\n")
}

// wrap prints text under an indent, broken between words.
func (b *layout) wrap(lead, text string) {
	b.wrapUnder(lead, strings.Repeat(" ", runewidth.StringWidth(lead)), text)
}

func (b *layout) wrapUnder(lead, indent, text string) {
	line, width := lead, runewidth.StringWidth(lead)
	begun := false
	for word := range strings.SplitSeq(text, " ") {
		n := runewidth.StringWidth(word)
		if begun && b.width > 0 && width+1+n > b.width {
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
