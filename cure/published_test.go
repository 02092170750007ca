package cure

import (
	"testing"

	"salthand/cure/published"
)

// agentOf is the cure of a strength in per cent; below 1 % it is a nitrited salt.
func agentOf(percent float64) Given[Agent] {
	a := Agent{Kind: No1, Nitrite: Fraction(percent / 100)}
	if percent < 1 {
		a.Kind = NitritedSalt
	}
	return Typed(a)
}

func in(region Region) Given[Region] { return Given[Region]{region, FromKitchen} }

func compute(t *testing.T, r Request) Dose {
	t.Helper()
	d, err := Compute(r)
	if err != nil {
		t.Fatalf("%+v: %v", r, err)
	}
	return d
}

func (d Dose) exact(item Item) float64 {
	for _, a := range d.Add {
		if a.Item == item {
			return float64(a.Exact)
		}
	}
	return 0
}

func TestDosePerKilo(t *testing.T) {
	for _, l := range published.Lines(t, "dose_per_kilo.csv") {
		d := compute(t, Request{
			Region: in("us"), Cut: "beef brisket", Pieces: []Gram{1000}, Method: Typed(DryRub),
			Agent: agentOf(l.Number("strength_pct")), Nitrite: Typed(PPM(l.Number("target_ppm"))),
			Salt: Typed(Fraction(0.02)), SaltOnTop: true, // the weak cures bring more than 2 %
		})
		l.Near(d.exact(CureItem), l.Number("cure_g"), l.Number("tolerance"))
	}
}

func TestGolden(t *testing.T) {
	for _, l := range published.Lines(t, "golden.csv") {
		m, ok := methodNamed(l.Cell["method"])
		if !ok {
			t.Fatal(l.Cell)
		}
		r := Request{
			Region: in(Region(l.Cell["region"])), Cut: l.Cell["cut"], Pieces: []Gram{Gram(l.Number("meat_g"))},
			Method: Typed(m), Agent: agentOf(l.Number("strength_pct")), SaltOnTop: l.Cell["on_top"] == "yes",
		}
		if l.Cell["skin"] == "on" {
			r.SkinOn = Typed(true)
		}
		set(l, "pump", &r.Pump)
		set(l, "water_g", &r.Water)
		set(l, "cover_g", &r.Cover)
		set(l, "rate", &r.Rate)
		set(l, "target_ppm", &r.Nitrite)
		set(l, "salt", &r.Salt)
		l.Near(wanted(l, r), l.Number("value"), l.Number("tolerance"))
	}
}

func set[T ~float64](l published.Line, column string, g *Given[T]) {
	if l.Cell[column] != "" {
		*g = Typed(T(l.Number(column)))
	}
}

// wanted is the figure of a dose that a row asks for.
func wanted(l published.Line, r Request) float64 {
	l.T.Helper()
	d, err := Compute(r)
	if l.Cell["want"] == "stop ppm" {
		stop, ok := err.(*Stop)
		if !ok || stop.Rule != StopOver {
			l.T.Fatalf("%v: no stop: %v", l.Cell, err)
		}
		return stop.Got
	}
	if err != nil {
		l.T.Fatalf("%v: %v", l.Cell, err)
	}
	switch l.Cell["want"] {
	case "cure g":
		return d.exact(CureItem)
	case "cure g a kilo of pickle":
		return float64(d.PerKilo[0].Exact)
	case "nitrite ppm":
		return float64(d.Nitrite)
	case "compared ppm":
		return float64(d.Limits[0].Got)
	case "pickle g":
		return float64(d.Pickle)
	case "salt g":
		return float64(d.SaltTotal)
	case "salt to weigh g":
		return d.exact(SaltItem)
	case "salt %":
		return 100 * float64(d.Salt)
	}
	l.T.Fatalf("%v: what is wanted?", l.Cell)
	return 0
}

func TestLimitFigures(t *testing.T) {
	lines := published.Lines(t, "limit_figures.csv")
	by := map[string]Limit{}
	for _, limit := range Limits() {
		by[limit.ID] = limit
	}
	seen := map[string]bool{}
	for _, l := range lines {
		limit, ok := by[l.Cell["id"]]
		if !ok {
			t.Errorf("no limit %s", l.Cell["id"])
			continue
		}
		seen[limit.ID] = true
		l.Near(float64(limit.Value), l.Number("value"), 1e-9)
		if enforced := l.Cell["seen"] != "memory"; limit.Enforced != enforced {
			t.Errorf("%s: enforced %v, seen %s", limit.ID, limit.Enforced, l.Cell["seen"])
		}
	}
	for id := range by {
		// The figures for immersion are those for pumping, on another basis.
		if !seen[id] && id != "us-immersed-nitrite" && id != "us-immersed-nitrate" {
			t.Errorf("%s is checked against nothing", id)
		}
	}
}

func TestComposition(t *testing.T) {
	lines := published.Lines(t, "cut_composition.csv")
	if all := house().cuts; len(lines) != len(all) {
		t.Errorf("%d cuts, %d are checked", len(all), len(lines))
	}
	for _, l := range lines {
		cut, ok := FindCut(l.Cell["cut"])
		if !ok {
			t.Errorf("no cut %s", l.Cell["cut"])
			continue
		}
		l.Near(100*float64(cut.Water), l.Number("water"), l.Number("tolerance"))
		l.Near(100*float64(cut.Protein), l.Number("protein"), l.Number("tolerance"))
		l.Near(100*float64(cut.Fat), l.Number("fat"), l.Number("tolerance"))
	}
}
