package grammar

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"salthand/cure"
)

const (
	pound = 453.59237 // g, NIST Handbook 44, Appendix C, exact (from memory)
	day   = 24 * time.Hour
)

// What stands in the fields of each phrase that asks for figures.
func TestFigures(t *testing.T) {
	g := func(v float64) cure.Given[cure.Gram] { return cure.Typed(cure.Gram(v)) }
	of := func(v float64) cure.Given[cure.Fraction] { return cure.Typed(cure.Fraction(v)) }
	c := func(v float64) cure.Given[cure.Celsius] { return cure.Typed(cure.Celsius(v)) }
	mm := func(v float64) cure.Given[cure.Millimetre] { return cure.Typed(cure.Millimetre(v)) }
	for _, x := range []struct {
		phrase string
		want   Command
	}{
		{"check 12 g no 1 + 80 g salt on 3.2 kg belly", Check{Amounts: []Amount{{Kind: cure.No1, Grams: g(12)}}, Salt: g(80), Meat: Dose{Cut: "pork belly", Pieces: []cure.Gram{3200}}}},
		{"check 3/4 tsp no 1 on 2 lb belly", Check{Amounts: []Amount{{Kind: cure.No1, Spoons: cure.Typed(Spoons{0.75, "teaspoon"})}}, Meat: Dose{Cut: "pork belly", Pieces: []cure.Gram{2 * pound}}}},
		{"check 36 g no 1 + 130 g salt + 90 g sugar in 1200 g water, inject 10%", Check{Amounts: []Amount{{Kind: cure.No1, Grams: g(36)}}, Salt: g(130), Sugar: g(90),
			Meat: Dose{Method: cure.Typed(cure.Injection), Pump: of(0.1), Water: g(1200)}}},
		{"check 15 g no 1 in 1.6 l marinade on 3 lb ground venison", Check{Amounts: []Amount{{Kind: cure.No1, Grams: g(15)}}, Marinade: g(1600), Meat: Dose{Cut: "ground venison", Pieces: []cure.Gram{1360.77711}}}},
		{"check 20 g/kg nitrited salt 0.6%", Check{Amounts: []Amount{{Kind: cure.NitritedSalt, Nitrite: of(0.006), Rate: of(0.02)}}}},
		{"check 12 g jar A7 on 3 kg belly", Check{Amounts: []Amount{{Jar: "A7", Grams: g(12)}}, Meat: Dose{Cut: "pork belly", Pieces: []cure.Gram{3000}}}},
		{"swap 6.5 g no 1 for jar E6 on 2.6 kg brisket", Swap{From: Amount{Kind: cure.No1, Grams: g(6.5)}, To: Amount{Jar: "E6"}, Meat: Dose{Cut: "beef brisket", Pieces: []cure.Gram{2600}}}},
		{"swap saltpetre 2 g/kg for no 1 on 5 kg belly", Swap{From: Amount{Kind: cure.Saltpetre, Rate: of(0.002)}, To: Amount{Kind: cure.No1}, Meat: Dose{Cut: "pork belly", Pieces: []cure.Gram{5000}}}},
		{"mix 2 kg house cure, 150 ppm at 2.5%", Mix{Make: g(2000), Kind: cure.HouseCure, Target: cure.Typed(cure.PPM(150)), Rate: of(0.025)}},
		{"mix 1 kg house cure 0.6% from no 1 6.25%", Mix{Make: g(1000), Kind: cure.HouseCure, Nitrite: of(0.006), From: Amount{Kind: cure.No1, Nitrite: of(0.0625)}}},
		{"mix 2 g nitrite in 1 kg salt, 0.002%, scale 0.01 g", Mix{From: Amount{Kind: cure.PureNitrite, Grams: g(2)}, Salt: g(1000), Nitrite: of(0.00002), Scale: g(0.01)}},
		{"how long 5 cm brisket, brine 4 l on 2 kg, at 2 c", HowLong{Meat: Dose{Cut: "beef brisket", Pieces: []cure.Gram{2000}, Method: cure.Typed(cure.CoverBrine), Water: g(4000), Thickness: mm(50), Temperature: c(2)}}},
		{"how long 6 cm ham, 2 days at 9 c, 5 days at 3 c", HowLong{Meat: Dose{Cut: "boneless ham", Thickness: mm(60)}, Log: []Spell{{9, 2 * day}, {3, 5 * day}}}},
		{"which cure for 9 month ham", WhichCure{Hang: cure.Typed(270 * day), Meat: Dose{Cut: "boneless ham"}}},
		{"which cure for salami, eu", WhichCure{Product: "salami", Meat: Dose{Against: "eu"}}},
		{"4 l brine at 60 sal", Brine{Volume: cure.Typed(Litre(4)), Salometer: cure.Typed(Degree(60))}},
		{"1 us gal water at 15%", Brine{Volume: cure.Typed(Litre(3.785411784)), OfWater: true, Salt: of(0.15)}},
		{"brine 188 g/l", Brine{PerLitre: cure.Typed(GramPerLitre(188))}},
		{"16 be at 50 f", Brine{Baume: cure.Typed(Degree(16)), Temperature: c(10)}},
		{"soak 3 kg bacon at 5% salt in 6 l, to 2.5%", Desalt{Product: "bacon", Meat: Dose{Pieces: []cure.Gram{3000}}, Salt: of(0.05), Want: of(0.025), Water: g(6000)}},
		{"rub 6 lb salt + 1.5 lb sugar + 1.5 oz saltpetre at 1.5 oz/lb on 12 lb belly", Rub{Amounts: []Amount{{Kind: cure.Saltpetre, Grams: g(42.5242846875)}},
			Salt: g(6 * pound), Sugar: g(680.388555), Rate: of(0.09375), Meat: Dose{Cut: "pork belly", Pieces: []cure.Gram{5443.10844}}}},
		{"dry coppa 1000 g, 900 g day 7, 830 g day 14, to 35%", Dry{Cut: "coppa", Weights: []Weight{{0, 1000}, {7 * day, 900}, {14 * day, 830}}, Loss: of(0.35)}},
		{"dry 1000 g, 900 g day 7, to 650 g", Dry{Weights: []Weight{{0, 1000}, {7 * day, 900}}, Want: g(650)}},
		{"ferment 24 c 10 h, 86 f 10 h, ph 5.3", Ferment{Log: []Spell{{24, 10 * time.Hour}, {30, 10 * time.Hour}}, PH: cure.Typed(PH(5.3))}},
		{"cook log 58 c 20 min, 60 c 12 min", Cook{[]Spell{{58, 20 * time.Minute}, {60, 12 * time.Minute}}}},
		{"cold log 3 c 12 h, 9 c 2 h", Cold{[]Spell{{3, 12 * time.Hour}, {9, 2 * time.Hour}}}},
		{"cooling 54 c to 27 c in 4 h, to 7 c in 9 h", Cooling{Legs: []Leg{{54, 27, 4 * time.Hour}, {27, 7, 9 * time.Hour}}}},
		{"freeze -20 c 10 days, 12 cm pork", Freeze{Temperature: c(-20), For: cure.Typed(10 * day), Thickness: mm(120), Product: "pork"}},
		{"aw 3.5% salt 60% water", WaterActivity{Salt: of(0.035), Water: of(0.6)}},
		{"aw 10% salt solution at 5 c", WaterActivity{Salt: of(0.1), Solution: true, Temperature: c(5)}},
		{"3.2 kg belly, us and eu", Dose{Cut: "pork belly", Pieces: []cure.Gram{3200}, Region: "us", Against: "eu"}},
	} {
		p, err := Parse(x.phrase, Setting{})
		if err != nil {
			t.Errorf("%q: %v", x.phrase, err)
			continue
		}
		if diff := cmp.Diff(x.want, p.Command); diff != "" {
			t.Errorf("%q (-want +got):\n%s", x.phrase, diff)
		}
	}
}

// One changed, lost or swapped letter of a phrase must not change which salt is asked about
// unless it stands in a salt's name, nor a weight unless it stands in an amount, nor turn the two sides of a swap around, nor make a
// dose of a question.
func TestFigureMutation(t *testing.T) {
	t.Parallel()
	letters := "1.,/-+x#g"
	if *long {
		letters = "0123456789.,/ -+x#%'abcdefghijklmnopqrstuvwxyz\n"
	}
	for n, r := range rows(t) {
		if !*long && n%mutated != 0 {
			continue
		}
		base, err := Parse(r.phrase, Setting{})
		if err != nil || !isFigure(base.Command) {
			continue
		}
		amounts, salts := spans(r.phrase)
		want, heavy := cures(base.Command), masses(base.Command)
		try := func(text string, at int, what string) {
			p, err := Parse(text, Setting{})
			if err != nil {
				return
			}
			if d, ok := p.Command.(Dose); ok && !d.JustAsking && len(d.Pieces) > 0 && len(want) > 0 {
				t.Errorf("%q, %s: %q makes a dose", r.phrase, what, text)
			}
			if diff := cmp.Diff(heavy, masses(p.Command)); diff != "" && !amounts[at] && !salts[at] && heavy.saidIn(p.Command) {
				t.Errorf("%q, %s: %q changes a weight:\n%s", r.phrase, what, text, diff)
			}
			got := cures(p.Command)
			if salts[at] || len(got) == 0 || len(want) == 0 {
				return
			}
			for i := range min(len(got), len(want)) {
				if got[i] != want[i] && got[i] != cure.NoAgent && want[i] != cure.NoAgent {
					t.Errorf("%q, %s: %q changes cure %d from %d to %d", r.phrase, what, text, i, want[i], got[i])
				}
			}
		}
		for i := range len(r.phrase) {
			before, after := r.phrase[:i], r.phrase[i+1:]
			try(before+after, i, "one left out")
			for j := range len(letters) {
				try(before+letters[j:j+1]+after, i, "one changed")
			}
			if i > 0 && !salts[i-1] {
				try(r.phrase[:i-1]+r.phrase[i:i+1]+r.phrase[i-1:i]+after, i, "two swapped")
			}
		}
	}
}

// mass is what weighs something in a command, in g.
type mass struct{ Meat, Cure, Salt float64 }

// saidIn reports whether a command of the same kind says as much of each.
func (m mass) saidIn(c Command) bool {
	got := masses(c)
	return (m.Meat == 0) == (got.Meat == 0) && (m.Cure == 0) == (got.Cure == 0) && (m.Salt == 0) == (got.Salt == 0)
}

func masses(c Command) mass {
	sum := func(as ...Amount) (v float64) {
		for _, a := range as {
			v += float64(a.Grams.Value)
		}
		return v
	}
	switch c := c.(type) {
	case Check:
		return mass{weight(c.Meat), sum(c.Amounts...), float64(c.Salt.Value)}
	case Swap:
		return mass{weight(c.Meat), sum(c.From), float64(c.Salt.Value)}
	case Mix:
		return mass{float64(c.Make.Value), sum(c.From), float64(c.Salt.Value)}
	case Desalt:
		return mass{Meat: weight(c.Meat)}
	case Rub:
		return mass{weight(c.Meat), sum(c.Amounts...), float64(c.Salt.Value)}
	}
	return mass{}
}

// cures are the curing salts that a command names, in order.
func cures(c Command) (out []cure.AgentKind) {
	switch c := c.(type) {
	case Check:
		for _, a := range c.Amounts {
			out = append(out, a.Kind)
		}
	case Swap:
		out = append(out, c.From.Kind, c.To.Kind)
	case Mix:
		out = append(out, c.Kind, c.From.Kind)
	case Rub:
		for _, a := range c.Amounts {
			out = append(out, a.Kind)
		}
	}
	return out
}

// Every phrase that asks for figures has an example that works and asks for the same.
func TestExamples(t *testing.T) {
	for name, text := range examples {
		p, err := Parse(text, Setting{})
		if err != nil || !isFigure(p.Command) {
			t.Errorf("%s: %q: %T, %v", name, text, p.Command, err)
		}
	}
}

// A phrase keeps the unit that was typed, in the way a cook says it.
func TestCanonicalUnits(t *testing.T) {
	for phrase, want := range map[string]string{
		"4 1/2 lb belly":                             "4.5 lb pork belly",
		"1lb10oz belly":                              "1 lb 10 oz pork belly",
		"2 lb 3 5/8 oz belly":                        "2 lb 3.6250 oz pork belly",
		"check 1/2 oz no 1 on 12 lb belly":           "check 0.5 oz no 1 on 12 lb pork belly",
		"check 45.4 g no 1 on 3200 g belly":          "check 45.4 g no 1 on 3.2 kg pork belly",
		"check 3/4 tsp no 1 on 1 lb 10 oz belly":     "check 0.75 teaspoon no 1 on 1 lb 10 oz pork belly",
		"1 us gal water at 15%":                      "1 us gal water at 15%",
		"rub 6 lb salt + 2 oz no 1 at 1.5 oz/lb":     "rub 6 lb salt + 2 oz no 1 at 93.75 g/kg",
		"mix 2 kg house cure, 150 ppm at 25 g/kg":    "mix 2 kg house cure, 150 ppm, at 2.5%",
		"cooling 54 c to 27 c in 4 h, to 7 c in 9 h": "cooling 54 c to 27 c in 4 h, 27 c to 7 c in 9 h",
	} {
		p, err := Parse(phrase, Setting{})
		if got := Canonical(p.Command); err != nil || got != want {
			t.Errorf("%q: %q, want %q (%v)", phrase, got, want, err)
		}
	}
}
