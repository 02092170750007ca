package cure_test

import (
	"math"
	"testing"
	"time"

	"salthand/cure"
	"salthand/cure/published"
)

const oneDay = 24 * time.Hour

// The core by a rule of thumb, beside the published table.
func TestSizedCore(t *testing.T) {
	for _, row := range published.Rows(t, "diffusion_rules.csv") {
		s := cure.Sized{Thickness: cure.Millimetre(10 * published.Number(t, row["thickness_cm"])), Temperature: 3}
		core, err := s.Core(time.Duration(published.Number(t, row["days"]) * float64(oneDay)))
		if err != nil {
			t.Fatal(err)
		}
		// the days of the table are rounded to a tenth, and the core follows them
		published.Near(t, row, float64(core.Likely), published.Number(t, row["centre"]), 0.012)
	}
}

// The days at 3 °C until the core has 95 %, of a slab with a constant surface.
func TestSizedThrough(t *testing.T) {
	for _, row := range published.Rows(t, "diffusion_days.csv") {
		if row["boundary"] != "constant" || row["share"] != "0.95" {
			continue
		}
		s := cure.Sized{Thickness: cure.Millimetre(10 * published.Number(t, row["thickness_cm"])), Bath: true, Temperature: 3}
		to, err := s.Through()
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]time.Duration{"slow": to.Slow, "likely": to.Likely, "fast": to.Fast}[row["speed"]]
		published.Near(t, row, got.Hours()/24, published.Number(t, row["days"]), published.Number(t, row["tolerance"]))
	}
}

// Two faces and one, beside figures worked out by hand: a quarter inch a day a side and two
// days, seven days an inch.
func TestSizedThumbs(t *testing.T) {
	for _, c := range []struct {
		slab           cure.Sized
		quarter, seven float64 // days
	}{
		{cure.Sized{Thickness: 88.9}, 9, 24.5},
		{cure.Sized{Thickness: 44.45}, 5.5, 12.25},
		{cure.Sized{Thickness: 88.9, OneFace: true}, 16, 49},
	} {
		got := c.slab.Thumbs()
		for i, want := range []float64{c.quarter, c.seven} {
			if days := got[i].After.Hours() / 24; math.Abs(days-want) > 0.001 {
				t.Errorf("%v %s: %.3f days, want %.3f", c.slab, got[i].Rule, days, want)
			}
		}
	}
}

// One face takes four times as long as two, and a slab of no thickness is refused.
func TestSizedFaces(t *testing.T) {
	two, err := cure.Sized{Thickness: 50, Temperature: 3}.Through()
	if err != nil {
		t.Fatal(err)
	}
	one, err := cure.Sized{Thickness: 50, OneFace: true, Temperature: 3}.Through()
	if err != nil {
		t.Fatal(err)
	}
	if r := one.Likely.Hours() / two.Likely.Hours(); math.Abs(r-4) > 1e-6 {
		t.Errorf("one face takes %v times as long as two", r)
	}
	if _, err := (cure.Sized{Temperature: 3}).Through(); err == nil {
		t.Error("a slab of no thickness has a time")
	}
}

// A round piece of 10 cm: by the first term of the series for a dose that is all on the surface
// at once, 1 − 2.483·e^(−14.68·τ) (roots of J1; Crank 1975, §5.3, from memory), the centre has 95 %
// at τ 0.2660, which is 34.98 days at 3 °C and D 2.2e-10 m²/s. A rub goes in a little later.
func TestSizedRound(t *testing.T) {
	to, err := cure.Sized{Thickness: 100, Round: true, Temperature: 3}.Through()
	if err != nil {
		t.Fatal(err)
	}
	if days := to.Likely.Hours() / 24; days < 34.9 || days > 35.5 {
		t.Errorf("%.2f days, want 35", days)
	}
}
