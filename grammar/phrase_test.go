package grammar

import (
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"salthand/cure"
)

// row is a phrase, the language that it is in (or "mixed"), and what it means.
type row struct{ phrase, language, meaning, source string }

func rows(t testing.TB) []row {
	t.Helper()
	files, err := filepath.Glob("../testdata/phrases/*.csv")
	if err != nil || len(files) == 0 {
		t.Fatalf("no phrases: %v", err)
	}
	var out []row
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		records, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		for _, r := range records[1:] {
			out = append(out, row{r[0], r[1], r[2], r[3]})
		}
	}
	return out
}

// meaning is what Parse makes of a phrase, in the words of the tables.
func meaning(p Phrase, err error) string {
	var q *Question
	var e *Error
	switch {
	case errors.As(err, &q):
		return "question: " + q.Code
	case errors.As(err, &e):
		return "error: " + e.Code
	}
	batch := ""
	if p.Batch > 0 {
		batch = fmt.Sprintf("batch %d: ", p.Batch)
	}
	switch c := p.Command.(type) {
	case Chatter:
		return batch + "chatter"
	case Emergency:
		return batch + "emergency"
	case Told:
		return batch + "told: " + string(c.Of)
	case ShowBatch:
		return strings.TrimSuffix(batch, ": ")
	}
	return batch + Canonical(p.Command)
}

// means reports whether a phrase means what a table says. The table has the plain metric
// figure, the phrase may keep the unit that was typed.
func means(got, want string) bool {
	for _, none := range []string{"error: ", "question: ", "chatter", "told: ", "emergency"} {
		if strings.HasPrefix(got, none) {
			return got == want
		}
	}
	return got == want || !strings.Contains(want, ":") && got == meaning(Parse(want, Setting{}))
}

func TestPhrases(t *testing.T) {
	n, asked, in := 0, 0, map[string]int{}
	for _, r := range rows(t) {
		n++
		in[r.language]++
		if strings.HasPrefix(r.meaning, "question: ") || strings.HasPrefix(r.meaning, "error: ") {
			asked++
		}
		if r.source == "" {
			t.Errorf("%q: no source", r.phrase)
		}
		if r.language != "en" && r.language != "es" && r.language != "fr" && r.language != "mixed" {
			t.Errorf("%q: language %q", r.phrase, r.language)
		}
		want, inThread := strings.CutPrefix(r.meaning, "thread: ")
		if got := meaning(Parse(r.phrase, Setting{Thread: inThread})); !means(got, want) {
			t.Errorf("%q\n  means %q\n  want  %q (%s)", r.phrase, got, r.meaning, r.source)
		}
	}
	if n < 600 || asked < 150 || in["es"] < 100 || in["fr"] < 100 {
		t.Errorf("%d phrases, %d of them asked back or refused, by language %v: want 600, 150, and 100 of es and fr each", n, asked, in)
	}
}

func TestRoundTrip(t *testing.T) {
	for _, r := range rows(t) {
		p, err := Parse(r.phrase, Setting{})
		if err != nil || p.Command == nil {
			continue
		}
		sameAgain(t, r.phrase, p.Command)
	}
}

// sameAgain checks that the canonical phrase of a command is read back as an equal command.
func sameAgain(t testing.TB, phrase string, c Command) {
	t.Helper()
	text := Canonical(c)
	if text == "" {
		return
	}
	_, amends := c.(Amend)
	again, err := Parse(text, Setting{Thread: amends})
	if err != nil {
		t.Errorf("%q: canonical %q: %v", phrase, text, err)
		return
	}
	if diff := cmp.Diff(c, again.Command); diff != "" {
		t.Errorf("%q: canonical %q (-first +again):\n%s", phrase, text, diff)
	}
}

// Every example of an error, and every choice of a question, must be a phrase that works.
func TestAdvice(t *testing.T) {
	for _, r := range rows(t) {
		_, err := Parse(r.phrase, Setting{})
		var q *Question
		var e *Error
		switch {
		case errors.As(err, &e):
			p, err := Parse(e.Example, Setting{})
			if _, ok := p.Command.(Chatter); ok || err != nil || p.Command == nil {
				t.Errorf("%q: example %q does not work: %v", r.phrase, e.Example, err)
			}
			onText(t, r.phrase, e.Column, e.Width, e.Token)
		case errors.As(err, &q):
			onText(t, r.phrase, q.Column, q.Width, q.Token)
			for _, c := range q.Choices {
				p, err := Parse(c.Phrase, Setting{})
				var again *Question
				if errors.As(err, &again) && again.Code != q.Code {
					continue // the next doubt of the same phrase
				}
				if _, ok := p.Command.(Chatter); ok || err != nil {
					t.Errorf("%q: choice %q: %q does not work: %v", r.phrase, c.Label, c.Phrase, err)
				}
			}
		}
	}
}

// onText checks that a place lies on the text and that token stands there.
func onText(t testing.TB, text string, col, width int, token string) {
	t.Helper()
	runes := utf8.RuneCountInString(text)
	if col < 1 || width < 0 || col-1+width > runes {
		t.Errorf("%q: place %d+%d is outside the text", text, col, width)
		return
	}
	if !strings.Contains(text, token) {
		t.Errorf("%q: %q is not in it", text, token)
	}
	if token != "" && string([]rune(text)[col-1:col-1+width]) != token && utf8.ValidString(text) {
		t.Errorf("%q: at %d+%d stands not %q", text, col, width, token)
	}
}

// Every word for a cut must lead to a cut that cure knows, and every such word must be read.
func TestCutWords(t *testing.T) {
	for _, s := range cuts {
		if _, ok := cure.FindCut(s.value); !ok {
			t.Errorf("cure knows no %q", s.value)
		}
		for _, w := range s.ways {
			p, err := Parse("3 kg "+w+", 7 days", Setting{})
			d, ok := p.Command.(Dose)
			if err != nil || !ok || d.Cut != s.value {
				t.Errorf("%q reads as %q, want %q (%v)", w, d.Cut, s.value, err)
			}
		}
	}
	for _, c := range cure.Cuts() {
		p, err := Parse("3 kg "+c.Name+", 7 days", Setting{})
		if d, ok := p.Command.(Dose); err != nil || !ok || d.Cut != c.Name {
			t.Errorf("no word for cure's %q (%v)", c.Name, err)
		}
	}
}

func TestAnswers(t *testing.T) {
	gallon := ask(t, "4.5 lb brisket, brine 1 gal, 10 days")
	salt := ask(t, "3 kg belly, pink salt")
	thousands := ask(t, "1.250 g belly")
	water := &Open{Append: "3 kg brisket, brine, 7 days"}
	check := &Open{Append: "check 12 g no 1"}
	method := &Open{Choices: []Choice{{"dry rub", "3 kg belly, dry rub"}, {"brine", "3 kg belly, brine"}}, Append: "3 kg belly"}
	for _, c := range []struct {
		open        *Open
		reply, want string
	}{
		{gallon, "us gal", "2.041165665 kg beef brisket, brine 3.785411784 l, 10 days"},
		{gallon, "US", "2.041165665 kg beef brisket, brine 3.785411784 l, 10 days"},
		{gallon, "imperial", "2.041165665 kg beef brisket, brine 4.54609 l, 10 days"},
		{gallon, "2", "2.041165665 kg beef brisket, brine 4.54609 l, 10 days"},
		{gallon, "gal", "chatter"},
		{gallon, "thanks", "chatter"},
		{gallon, "3 kg loin, dry rub", "3 kg pork loin, dry rub"},
		{gallon, "he fainted after eating", "emergency"},
		{gallon, "never mind", "never mind"},
		{salt, "No 1", "3 kg pork belly, no 1"},
		{salt, "#2", "3 kg pork belly, no 2"},
		{salt, "2", "3 kg pork belly, no 2"},
		{salt, "salt", "chatter"},
		{thousands, "1250 g", "1.25 kg pork belly"},
		{thousands, "1250", "1.25 kg pork belly"},
		{water, "3 l", "3 kg beef brisket, brine 3 l, 7 days"},
		{water, "1 gal", "question: gallon"},
		{water, "lunch is ready", "chatter"},
		{water, "approve", "approve"},
		{check, "3.2 kg belly", "check 12 g no 1 on 3.2 kg pork belly"},
		{check, "no 1 5.88%", "check 12 g no 1 5.88%"},
		{check, "3.2 kg loin, dry rub", "3.2 kg pork loin, dry rub"},
		{check, "check 8 g no 1 on 2 kg belly", "check 8 g no 1 on 2 kg pork belly"},
		{check, "brine 1 gal", "question: gallon"},
		{check, "lunch is ready", "chatter"},
		{method, "dry rub", "3 kg pork belly, dry rub"},
		{method, "brine 2 l", "3 kg pork belly, brine 2 l"},
	} {
		if got := meaning(answered(c.open, c.reply)); !means(got, c.want) {
			t.Errorf("%q: %q, want %q", c.reply, got, c.want)
		}
	}
}

// answered parses what a reply to a question makes.
func answered(o *Open, reply string) (Phrase, error) {
	if phrase, ok := o.Answer(reply); ok {
		reply = phrase
	}
	return Parse(reply, Setting{})
}

func ask(t *testing.T, phrase string) *Open {
	t.Helper()
	_, err := Parse(phrase, Setting{})
	var q *Question
	if !errors.As(err, &q) {
		t.Fatalf("%q: no question: %v", phrase, err)
	}
	return &Open{Choices: q.Choices, Append: q.Append}
}

func TestErrorParts(t *testing.T) {
	for _, c := range []struct {
		phrase string
		want   Error
	}{
		{"3.2 kg bxlliy, dry rub, 7 days", Error{Code: "unknown cut", Column: 8, Width: 6, Token: "bxlliy", Suggest: []string{"pork belly", "belly", "slab of belly", "slab belly"}, Example: "3.2 kg pork belly, dry rub, 7 days", Near: true}},
		{"3.2 kg belly, dry rub, 7 dyas", Error{Code: "unknown unit", Column: 26, Width: 4, Token: "dyas", Suggest: []string{"days"}, Example: "3.2 kg belly, dry rub, 7 days", Near: true}},
		{"½ kg magret, 3 kg loin", Error{Code: "twice", Column: 14, Width: 4, Token: "3 kg", Other: "½ kg", Example: "½ kg magret", Near: true}},
	} {
		_, err := Parse(c.phrase, Setting{})
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%q: %v", c.phrase, err)
			continue
		}
		if diff := cmp.Diff(c.want, *e); diff != "" {
			t.Errorf("%q (-want +got):\n%s", c.phrase, diff)
		}
	}
	if _, err := Parse(strings.Repeat("a", maxText+1), Setting{}); meaning(Phrase{}, err) != "error: too long" {
		t.Errorf("513 bytes: %v", err)
	}
	if p, err := Parse(strings.Repeat("a ", maxText)+" he was poisoned", Setting{}); meaning(p, err) != "error: too long" {
		t.Errorf("far behind the limit: %v", err)
	}
	if p, err := Parse("he was poisoned "+strings.Repeat("a", maxText), Setting{}); meaning(p, err) != "emergency" {
		t.Errorf("an emergency is never too long: %v", err)
	}
}

// What a terminal completes must be known words, each once.
func TestWords(t *testing.T) {
	seen := map[string]bool{}
	for _, w := range Words() {
		if seen[w] {
			t.Errorf("%q twice", w)
		}
		seen[w] = true
		p, _ := cut(w)
		s := scan{text: w, pieces: p}
		if toks := s.run(); len(toks) != 1 || toks[0].kind == wordKind || toks[0].kind == oddKind {
			t.Errorf("%q is no word of the grammar: %v", w, toks)
		}
	}
	for _, c := range cure.Cuts() {
		if !seen[c.Name] && !seen[strings.ReplaceAll(c.Name, "-", " ")] {
			t.Errorf("%q is missing", c.Name)
		}
	}
}

// The table has enough of each language, and of what must be asked or stopped.
func TestTableCounts(t *testing.T) {
	all, asked := map[string]int{}, 0
	for _, r := range rows(t) {
		all["all"]++
		all[r.language]++
		for _, kind := range []string{"question: ", "error: ", "emergency"} {
			if strings.HasPrefix(r.meaning, kind) {
				asked++
				all["asked in "+r.language]++
			}
		}
	}
	for what, least := range map[string]int{"all": 600, "en": 300, "es": 150, "fr": 150, "mixed": 12, "asked in es": 25, "asked in fr": 25} {
		if all[what] < least {
			t.Errorf("%s: %d rows, want at least %d", what, all[what], least)
		}
	}
	if asked < 150 {
		t.Errorf("%d rows that must ask or stop, want at least 150", asked)
	}
}
