package grammar

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A phrase in another language is read as the same command; most doses have no English left.
func TestCanonicalIn(t *testing.T) {
	for _, language := range []string{"es", "fr"} {
		doses, translated := 0, 0
		for _, r := range rows(t) {
			p, err := Parse(r.phrase, Setting{})
			if _, inThread := p.Command.(Amend); err != nil || inThread || Canonical(p.Command) == "" {
				continue
			}
			text := CanonicalIn(language, p.Command)
			again, err := Parse(text, Setting{})
			if err != nil {
				t.Errorf("%s %q: %v", language, text, err)
				continue
			}
			if diff := cmp.Diff(p.Command, again.Command); diff != "" {
				t.Errorf("%s %q (-first +again):\n%s", language, text, diff)
			}
			if d, ok := p.Command.(Dose); ok && d.Cut != "" {
				doses++
				if !strings.Contains(text, d.Cut) || d.Cut == "coppa" || d.Cut == "salmon" {
					translated++
				}
			}
		}
		if translated*10 < doses*9 {
			t.Errorf("%s: %d of %d doses have their cut in the language", language, translated, doses)
		}
	}
	for text, want := range map[string]string{"es": "3.2 kg panceta, en seco, 7 días", "fr": "3.2 kg poitrine, à sec, 7 jours"} {
		p, err := Parse("3.2 kg belly, dry rub, 7 days", Setting{})
		if err != nil {
			t.Fatal(err)
		}
		if got := CanonicalIn(text, p.Command); got != want {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}
