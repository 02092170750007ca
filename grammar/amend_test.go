package grammar

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// amended is a dose phrase after an amendment, as a canonical phrase.
func amended(t testing.TB, phrase, said string) string {
	t.Helper()
	was, err := Parse(phrase, Setting{})
	if err != nil {
		t.Fatalf("%q: %v", phrase, err)
	}
	p, err := Parse(said, Setting{Thread: true})
	a, ok := p.Command.(Amend)
	if err != nil || !ok {
		t.Fatalf("%q: %#v, %v", said, p.Command, err)
	}
	return Canonical(was.Command.(Dose).With(a))
}

func TestWith(t *testing.T) {
	for _, c := range []struct{ phrase, said, want string }{
		{"3.2 kg belly, dry rub, 7 days", "make it 2% salt", "3.2 kg pork belly, dry rub, 7 days, 2% salt"},
		{"3.2 kg belly, dry rub, 7 days, 2.5% salt on top", "make it 2% salt", "3.2 kg pork belly, dry rub, 7 days, 2% salt"},
		{"3.2 kg belly, dry rub, 7 days", "actually 3.4 kg", "3.4 kg pork belly, dry rub, 7 days"},
		{"3.2 kg belly, dry rub, 7 days", "10 days, skin on", "3.2 kg pork belly, dry rub, 10 days, skin on"},
		{"3.2 kg belly, dry rub, no 1 6.25%", "no 2 instead", "3.2 kg pork belly, dry rub, no 2"},
		{"3.2 kg belly, dry rub, no 1 6.25%, 120 ppm", "use no 2 6.25% + 4%", "3.2 kg pork belly, dry rub, no 2 6.25% + 4%, 120 ppm"},
		{"3.2 kg belly, dry rub, no 1 6.25%", "use jar A7", "3.2 kg pork belly, dry rub, jar A7"},
		{"3.2 kg belly, dry rub, 120 ppm", "without cure", "3.2 kg pork belly, dry rub, no cure"},
		{"3.2 kg belly, dry rub, 0.25% no 1", "120 ppm", "3.2 kg pork belly, dry rub, no 1, 120 ppm"},
		{"4 kg brisket, brine 4 l, 7 days", "make it dry rub", "4 kg beef brisket, dry rub, 7 days"},
		{"4 kg brisket, brine 4 l, 7 days", "make it brine 5 l", "4 kg beef brisket, brine 5 l, 7 days"},
		{"3 kg + 2 kg belly, 4 cm + 6 cm thick, dry rub", "make it 5 kg", "5 kg pork belly, dry rub"},
		{"3.2 kg belly, dry rub, 30 x 20 x 12 cm", "4 cm thick", "3.2 kg pork belly, dry rub, 40 mm thick"},
	} {
		if got := amended(t, c.phrase, c.said); got != c.want {
			t.Errorf("%q, %q\n  gives %q\n  want  %q", c.phrase, c.said, got, c.want)
		}
	}
}

// To amend a dose comes to the same as typing the whole of it in one line.
func TestAmendedIsTyped(t *testing.T) {
	clauses := []string{"2.25% salt", "1% sugar", "120 ppm", "no 1 6.25%", "10 days", "4 cm thick", "skin on", "heated", "at 3 c"}
	rapid.Check(t, func(r *rapid.T) {
		weight := rapid.SampledFrom([]string{"3.4 kg", "4 1/2 lb", "2.1 kg + 3.3 kg"}).Draw(r, "weight")
		said := rapid.SliceOfNDistinct(rapid.SampledFrom(clauses), 1, 5, rapid.ID).Draw(r, "said")
		lead := rapid.SampledFrom([]string{"make it ", "actually, ", "no, ", "que sea ", "plutôt "}).Draw(r, "lead")
		line, amend := weight+" belly, dry rub", lead+weight
		for _, c := range said {
			line += ", " + c
			amend += ", " + c
		}
		want, err := Parse(line, Setting{})
		if err != nil {
			r.Fatalf("%q: %v", line, err)
		}
		p, err := Parse(amended(t, "7 kg belly, dry rub", amend), Setting{})
		if err != nil {
			r.Fatalf("%q: %v", amend, err)
		}
		if d := cmp.Diff(want.Command, p.Command); d != "" {
			r.Fatalf("%q (-typed +amended):\n%s", amend, d)
		}
	})
}

// What an amendment says is read back from its canonical phrase.
func TestAmendRoundTrip(t *testing.T) {
	for _, text := range []string{"make it 2% salt", "no, 3.4 kg", "skin off, 10 days", "use jar A7", "plutôt 120 ppm"} {
		p, err := Parse(text, Setting{Thread: true})
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		again, err := Parse("batch 7: "+Canonical(p.Command), Setting{})
		if d := cmp.Diff(p.Command, again.Command); d != "" || err != nil || again.Batch != 7 {
			t.Errorf("%q: batch %d, %v\n%s", text, again.Batch, err, d)
		}
	}
}
