package console

import (
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"

	"salthand/bot"
)

func printed(t *testing.T, c bot.Card, width int) string {
	t.Helper()
	var b strings.Builder
	if err := Print(&b, c, width); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// What a stranger typed can't move the cursor, colour the screen, turn the writing or hide.
func TestHostileTextIsHarmless(t *testing.T) {
	const hostile = "a\x1b[2J\x1b]0;x\x07b\u202ec\u200bd\u2066e\rf\ngh\u009bi"
	out := printed(t, bot.Card{
		Kind: bot.NoteCard, Title: hostile, Lines: []string{hostile}, Next: hostile, Small: hostile, Choices: []string{hostile},
		Facts: []bot.Fact{{Label: hostile, Lines: []string{hostile}}}, Warnings: []bot.Warning{{Level: "note", Text: hostile}},
		Weigh: []bot.Weigh{{Item: hostile, Amount: hostile, Note: hostile}}, Caret: &bot.Caret{Text: hostile, Column: 2, Width: 3},
	}, 0)
	for _, r := range out {
		if r < ' ' && r != '\n' || r >= 0x7f && r < 0xa0 || r >= 0x200b && r <= 0x200f || r >= 0x202a && r <= 0x202e || r >= 0x2060 && r <= 0x2069 {
			t.Errorf("%U reached the screen in %q", r, out)
		}
	}
	if n := strings.Count(out, "\n"); n != 13 { // title, line, caret 2, weigh with a blank line on both sides 3, label and fact 2, warning, choice, small, next
		t.Errorf("%d lines, want 13: a line break was smuggled in\n%s", n, out)
	}
}

// The caret stands under what it points at, with wide letters before it too.
func TestCaretStandsUnderThePlace(t *testing.T) {
	for _, c := range []struct {
		text          string
		column, width int
		under         string
	}{
		{"3.2 kg bely, dry rub", 8, 4, "bely"},
		{"🥓 3.2 kg ostrich", 10, 7, "ostrich"},
		{"épaule 3 kq", 10, 2, "kq"},
		{strings.Repeat("very long ", 20) + "kq and more", 201, 2, "kq"},
	} {
		lines := strings.Split(printed(t, bot.Card{Kind: bot.ErrorCard, Title: "x", Caret: &bot.Caret{Text: c.text, Column: c.column, Width: c.width}}, 0), "\n")
		text, caret := lines[1], lines[2]
		before := caret[:strings.IndexByte(caret, '^')]
		at := strings.Index(text, c.under)
		if at < 0 || runewidth.StringWidth(text[:at]) != len(before) || strings.Count(caret, "^") != c.width {
			t.Errorf("the caret is off:\n%s\n%s", text, caret)
		}
	}
}

func TestLinesWrapAtTheWidth(t *testing.T) {
	card := bot.Card{Kind: bot.DoseCard, Title: strings.Repeat("word ", 40), Small: strings.Repeat("small ", 40),
		Facts: []bot.Fact{{Label: "limits", Lines: []string{strings.Repeat("limit ", 40)}}}}
	for _, line := range strings.Split(printed(t, card, 60), "\n") {
		if runewidth.StringWidth(line) > 60 {
			t.Errorf("%d columns: %q", runewidth.StringWidth(line), line)
		}
	}
	if n := strings.Count(printed(t, card, 0), "\n"); n != 3 {
		t.Errorf("%d lines without wrapping, want 3", n)
	}
}

func TestCompletion(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{"3.2 kg bel", "3.2 kg belly"},
		{"3.2 kg belly, dry r", "3.2 kg belly, dry rub"},
		{"app", "approve"},
		{"who cu", "who cured"},
	} {
		found := false
		for _, got := range complete(c.line) {
			found = found || strings.HasPrefix(got, c.want)
		}
		if !found {
			t.Errorf("%q becomes %q, want %q among them", c.line, complete(c.line), c.want)
		}
	}
	if got := complete("3.2 kg "); got != nil {
		t.Errorf("nothing begun becomes %q", got)
	}
}
