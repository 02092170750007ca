package cure

import (
	"math"
	"strconv"
	"testing"

	"salthand/cure/published"
)

// line is a row of a published table.
type line struct {
	t    *testing.T
	name string
	cell map[string]string
}

// linesOf reads a table of testdata/published.
func linesOf(t *testing.T, name string) (lines []line) {
	t.Helper()
	for _, row := range published.Rows(t, name) {
		lines = append(lines, line{t: t, name: name, cell: row})
	}
	return lines
}

func (l line) number(column string) float64 {
	l.t.Helper()
	x, err := strconv.ParseFloat(l.cell[column], 64)
	if err != nil {
		l.t.Fatalf("%s %v: %v", l.name, l.cell, err)
	}
	return x
}

func (l line) near(got, want, tolerance float64) {
	l.t.Helper()
	if !(math.Abs(got-want) <= tolerance*1.0001) {
		l.t.Errorf("%s %v: got %.9g, want %.9g ± %g", l.name, l.cell, got, want, tolerance)
	}
}

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
	for _, l := range linesOf(t, "dose_per_kilo.csv") {
		d := compute(t, Request{
			Region: in("us"), Cut: "beef brisket", Pieces: []Gram{1000}, Method: Typed(DryRub),
			Agent: agentOf(l.number("strength_pct")), Nitrite: Typed(PPM(l.number("target_ppm"))),
			Salt: Typed(Fraction(0.02)), SaltOnTop: true, // the weak cures bring more than 2 %
		})
		l.near(d.exact(CureItem), l.number("cure_g"), l.number("tolerance"))
	}
}

func TestGolden(t *testing.T) {
	for _, l := range linesOf(t, "golden.csv") {
		m, ok := methodNamed(l.cell["method"])
		if !ok {
			t.Fatal(l.cell)
		}
		r := Request{
			Region: in(Region(l.cell["region"])), Cut: l.cell["cut"], Pieces: []Gram{Gram(l.number("meat_g"))},
			Method: Typed(m), Agent: agentOf(l.number("strength_pct")), SaltOnTop: l.cell["on_top"] == "yes",
		}
		if l.cell["skin"] == "on" {
			r.SkinOn = Typed(true)
		}
		set(l, "pump", &r.Pump)
		set(l, "water_g", &r.Water)
		set(l, "cover_g", &r.Cover)
		set(l, "rate", &r.Rate)
		set(l, "target_ppm", &r.Nitrite)
		set(l, "salt", &r.Salt)
		l.near(l.wanted(r), l.number("value"), l.number("tolerance"))
	}
}

func set[T ~float64](l line, column string, g *Given[T]) {
	if l.cell[column] != "" {
		*g = Typed(T(l.number(column)))
	}
}

// wanted is the figure of a dose that a row asks for.
func (l line) wanted(r Request) float64 {
	l.t.Helper()
	d, err := Compute(r)
	if l.cell["want"] == "stop ppm" {
		stop, ok := err.(*Stop)
		if !ok || stop.Rule != StopOver {
			l.t.Fatalf("%v: no stop: %v", l.cell, err)
		}
		return stop.Got
	}
	if err != nil {
		l.t.Fatalf("%v: %v", l.cell, err)
	}
	switch l.cell["want"] {
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
	l.t.Fatalf("%v: what is wanted?", l.cell)
	return 0
}

func TestLimitFigures(t *testing.T) {
	lines := linesOf(t, "limit_figures.csv")
	by := map[string]Limit{}
	for _, limit := range Limits() {
		by[limit.ID] = limit
	}
	seen := map[string]bool{}
	for _, l := range lines {
		limit, ok := by[l.cell["id"]]
		if !ok {
			t.Errorf("no limit %s", l.cell["id"])
			continue
		}
		seen[limit.ID] = true
		l.near(float64(limit.Value), l.number("value"), 1e-9)
		if enforced := l.cell["seen"] != "memory"; limit.Enforced != enforced {
			t.Errorf("%s: enforced %v, seen %s", limit.ID, limit.Enforced, l.cell["seen"])
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
	lines := linesOf(t, "cut_composition.csv")
	if all := house().cuts; len(lines) != len(all) {
		t.Errorf("%d cuts, %d are checked", len(all), len(lines))
	}
	for _, l := range lines {
		cut, ok := FindCut(l.cell["cut"])
		if !ok {
			t.Errorf("no cut %s", l.cell["cut"])
			continue
		}
		l.near(100*float64(cut.Water), l.number("water"), l.number("tolerance"))
		l.near(100*float64(cut.Protein), l.number("protein"), l.number("tolerance"))
		l.near(100*float64(cut.Fat), l.number("fat"), l.number("tolerance"))
	}
}
