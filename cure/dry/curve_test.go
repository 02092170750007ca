package dry

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"salthand/cure"
	"salthand/cure/published"
)

// anyCurve draws a piece that dries towards a limit.
func anyCurve(t *rapid.T) Curve {
	start := rapid.Float64Range(200, 15000).Draw(t, "start")
	limit := start * rapid.Float64Range(0.4, 0.8).Draw(t, "limit")
	fade := rapid.Float64Range(0.01, 0.15).Draw(t, "fade")
	return Curve{Start: cure.Gram(start), Pace: GramDay((start - limit) * fade), Fade: PerDay(fade)}
}

// weighed is a curve read on a scale; a division of 0 reads exactly.
func weighed(t *rapid.T, c Curve, division cure.Gram) (s Series) {
	at := time.Duration(0)
	for range rapid.IntRange(3, 14).Draw(t, "weighings") {
		w := c.At(at)
		if division > 0 {
			w = cure.Gram(math.Round(float64(w/division))) * division
		}
		s = append(s, Reading{at, w})
		at += time.Duration(rapid.IntRange(1, 10).Draw(t, "gap")) * day
	}
	return s
}

// The fit of exact readings is the curve they were read from.
func TestFitFindsTheCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := anyCurve(t)
		s := weighed(t, want, 0)
		got, err := Fit(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range s {
			if off := float64(got.At(r.After)-r.Weight) / float64(r.Weight); math.Abs(off) > 1e-7 {
				t.Fatalf("%v off at %v: %+v, want %+v", off, r.After, got, want)
			}
		}
		if math.Abs(float64(got.Fade/want.Fade)-1) > 1e-4 {
			t.Fatalf("fade %v, want %v", got.Fade, want.Fade)
		}
	})
}

// No other fade gives a sum of squares that is a hundredth smaller.
func TestFitIsTheLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := weighed(t, anyCurve(t), cure.Gram(rapid.SampledFrom([]float64{0.1, 1, 2}).Draw(t, "division")))
		c := s.squares()
		f := newFit(s)
		got := f.at(float64(c.Fade))
		span := days(s[len(s)-1].After)
		for i := range 400 { // from what can be told from a line to a drop between two readings
			x := 0.02 * math.Pow(3000, float64(i)/399) / span
			if other := f.at(x); other < 0.99*got-1e-6 {
				t.Fatalf("fade %v leaves %v, %v leaves %v", c.Fade, got, x, other)
			}
		}
	})
}

// At is the integral of the pace.
func TestCurveIsTheIntegralOfItsPace(t *testing.T) {
	c := Curve{From: 3 * day, Start: 2000, Pace: 25, Fade: 0.06}
	w, cells := float64(c.Start), 40000
	for i := range cells {
		d := (float64(i) + 0.5) / float64(cells) * 50
		w -= float64(c.Pace) * math.Exp(-float64(c.Fade)*d) * 50 / float64(cells)
	}
	published.Near(t, "after 50 d", c.At(53*day), w, 1e-5)
}

func TestALineHasNoLimit(t *testing.T) {
	for _, s := range []Series{
		{{0, 1000}, {7 * day, 930}, {14 * day, 860}},
		{{0, 1000}, {5 * day, 980}, {14 * day, 900}}, // speeds up
		{{0, 1000}, {2 * day, 980}, {14 * day, 860}, {20 * day, 800}},
	} {
		c := must[Curve](t)(Fit(s))
		if limit, ok := c.Limit(); ok {
			t.Errorf("%v: limit %v", s, limit)
		}
		if w := c.Reach(500); w.Never {
			t.Errorf("%v: never", s)
		}
	}
	still := must[Curve](t)(Fit(Series{{0, 1000}, {7 * day, 1000}, {14 * day, 1001}}))
	if w := still.Reach(900); !w.Never {
		t.Errorf("a piece that loses nothing is there at %v", w)
	}
	flat := must[Curve](t)(Fit(Series{{0, 1000}, {7 * day, 900}, {14 * day, 900}}))
	limit, _ := flat.Limit()
	published.Near(t, "plateau", limit, 900, 1e-6)
}
