package bot

import (
	"strings"

	"github.com/mattn/go-runewidth"
)

// Visible takes out of text what a screen would obey or hide: control characters become
// spaces, and marks that turn the writing direction or have no width go.
func Visible(s string) string {
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

// Pointed is the line that the caret is about, and the marks to set beneath it in letters of
// one width. What is more than width runes of the line is left out on both sides.
func (c Caret) Pointed(width int) (line, marks string) {
	text := []rune(c.Text)
	for i, r := range text { // each rune keeps its column
		if Visible(string(r)) == "" {
			text[i] = ' '
		}
	}
	text = []rune(Visible(string(text)))
	from := min(max(c.Column-1, 0), len(text))
	to := min(from+max(c.Width, 1), len(text))
	start := max(0, from-width/2)
	end := min(len(text), start+width)
	return string(text[start:end]), strings.Repeat(" ", runewidth.StringWidth(string(text[start:from]))) +
		strings.Repeat("^", max(1, runewidth.StringWidth(string(text[from:min(to, end)]))))
}
