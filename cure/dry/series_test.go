package dry

import (
	"math"
	"testing"
	"time"

	"salthand/cure"

	"pgregory.net/rapid"
)

// week is the published series, with the middle reading as given.
func week(middle cure.Gram) Series {
	return Series{{0, 1000}, {7 * day, middle}, {14 * day, 830}}
}

// One gram on one reading moves the date by days, and every reading off by one by weeks.
func TestFinishIsAnInterval(t *testing.T) {
	f, err := week(900).Finish(700, 1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "likely", days(f.Likely.After), 45.190, 0.0005)
	for _, middle := range []cure.Gram{899, 901} { // published: 52.02 and 40.96 d
		w := must[Curve](t)(Fit(week(middle))).Reach(700)
		if w.Before(f.Single.Early) || f.Single.Late.Before(w) {
			t.Errorf("%v g: %v d is outside of %+v", middle, days(w.After), f.Single)
		}
	}
	if f.Early.Never || f.Late.Never || !f.Early.Before(f.Single.Early) || !f.Single.Late.Before(f.Late) {
		t.Errorf("%+v", f)
	}
	if f, err = week(900).Finish(650, 1); err != nil || !f.Likely.Never || !f.Late.Never || f.Early.Never {
		t.Errorf("650 g is beyond the limit, but not for the scale: %+v, %v", f, err)
	}
	if f, err = week(900).Finish(500, 1); err != nil || !f.Early.Never {
		t.Errorf("500 g is beyond any limit: %+v, %v", f, err)
	}
	if f, err = week(900).Finish(900, 1); err != nil || !f.Reached || f.Likely.After != 7*day || f.Late.After != 7*day {
		t.Errorf("900 g was read after a week: %+v, %v", f, err)
	}
}

// TestFinishAgainstAllCorners tries every reading off by a division, by half of one, or not.
func TestFinishAgainstAllCorners(t *testing.T) {
	for _, s := range []Series{
		week(900),
		{{0, 1000}, {3 * day, 950}, {9 * day, 880}, {14 * day, 835}},
		{{2 * day, 3000}, {9 * day, 2800}, {17 * day, 2650}, {30 * day, 2480}, {41 * day, 2390}},
	} {
		target := s[0].Weight * 0.72
		f, err := s.Finish(target, 1)
		if err != nil {
			t.Fatal(err)
		}
		corners := 1
		for range s {
			corners *= 5
		}
		early, late := f.Likely, f.Likely
		for c := range corners {
			moved := append(Series(nil), s...)
			for i, n := 0, c; i < len(s); i, n = i+1, n/5 {
				moved[i].Weight += f.Step * cure.Gram(n%5-2) / 2
			}
			w := must[Curve](t)(Fit(moved)).Reach(target)
			early, _ = order(early, w, w)
			_, late = order(late, w, w)
		}
		if early.Before(f.Early) || f.Late.Before(late) {
			t.Errorf("%v: from %+v to %+v, got %+v to %+v", s, early, late, f.Early, f.Late)
		}
	}
}

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

// The true finish lies in the interval when the readings are rounded to the scale.
func TestFinishHoldsTheTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCurve(t)
		division := cure.Gram(rapid.SampledFrom([]float64{0.1, 1, 5}).Draw(t, "division"))
		s := weighed(t, c, division)
		limit, _ := c.Limit()
		target := limit + (c.Start-limit)*cure.Gram(rapid.Float64Range(0.02, 0.9).Draw(t, "target"))
		f, err := s.Finish(target, division)
		if err == ErrCoarse || err == nil && f.Reached {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if f.Likely.Before(f.Early) || f.Late.Before(f.Likely) || f.Single.Early.Before(f.Early) || f.Late.Before(f.Single.Late) {
			t.Fatalf("out of order: %+v", f)
		}
		truth := s.due(c, target)
		const slack = day / 10
		if truth.After+slack < f.Early.After || !f.Late.Never && truth.After-slack > f.Late.After {
			t.Fatalf("%v d is outside of %v to %v: %v", days(truth.After), f.Early, f.Late, s)
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
	near(t, "after 50 d", c.At(53*day), w, 1e-5)
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
	near(t, "plateau", limit, 900, 1e-6)
}

func TestHardened(t *testing.T) {
	slow := Series{{0, 1000}, {4 * day, 960}, {8 * day, 920}, {12 * day, 890}, {16 * day, 862}}
	shut := Series{{0, 1000}, {4 * day, 960}, {8 * day, 920}, {12 * day, 912}, {16 * day, 906}}
	late := Series{{0, 1000}, {10 * day, 800}, {14 * day, 720}, {18 * day, 712}}
	for name, row := range map[string]struct {
		s        Series
		division cure.Gram
		want     bool
	}{"slowing": {slow, 1, false}, "shut": {shut, 1, true}, "shut, on a coarse scale": {shut, 10, false}, "near the target": {late, 1, false}, "one weighing": {slow[:1], 1, false}} {
		drop, got, err := row.s.Hardened(700, row.division)
		if err != nil || got != row.want {
			t.Errorf("%s: %v, %+v, %v", name, got, drop, err)
		}
	}
	// The law of root time slows down too, but not like that.
	rapid.Check(t, func(t *rapid.T) {
		law := RootTime{Ratio(rapid.Float64Range(0.01, 0.06).Draw(t, "one day"))}
		var s Series
		at := time.Duration(0)
		for range rapid.IntRange(2, 12).Draw(t, "weighings") {
			s = append(s, Reading{at, 1000 * cure.Gram(1-law.At(at))})
			at += time.Duration(rapid.IntRange(24, 150).Draw(t, "hours")) * time.Hour
		}
		if drop, yes, err := s.Hardened(600, 1); err != nil || yes {
			t.Fatalf("%+v, %v: %v", drop, err, s)
		}
	})
}

// Water, protein and salt of a kilogram, in grams: another way to the shares.
func TestMeatInGrams(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Meat{
			Water: cure.Fraction(rapid.Float64Range(0.3, 0.76).Draw(t, "water")), Protein: cure.Fraction(rapid.Float64Range(0.05, 0.23).Draw(t, "protein")),
			Salt: cure.Fraction(rapid.Float64Range(0, 0.06).Draw(t, "salt")),
		}
		hung := 1000 + 1000*float64(m.Salt)
		loss := rapid.Float64Range(0, 0.9*float64(m.Water)/(1+float64(m.Salt))).Draw(t, "loss")
		gone, water, protein := loss*hung, 1000*float64(m.Water), 1000*float64(m.Protein)
		share := cure.Fraction(loss)
		moisture, err1 := m.Moisture(share)
		removed, err2 := m.Removed(share)
		ratio, err3 := m.PerProtein(share)
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatal(err1, err2, err3)
		}
		for _, pair := range [][2]float64{
			{float64(moisture), (water - gone) / (hung - gone)}, {float64(removed), gone / water}, {float64(ratio), (water - gone) / protein},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-9 {
				t.Fatalf("%+v at %v: %v", m, loss, pair)
			}
		}
		if back, err := m.LossTo(ratio); err != nil || math.Abs(float64(back)-loss) > 1e-9 {
			t.Fatalf("%v, want %v, %v", back, loss, err)
		}
	})
}

func TestTooCoarse(t *testing.T) {
	s := Series{{0, 265}, {2 * day, 264}, {5 * day, 263}}
	if f, err := s.Finish(200, 1); err != ErrCoarse {
		t.Errorf("two divisions lost: %+v, %v", f, err)
	}
	if _, err := s.Finish(200, 0.1); err != nil {
		t.Errorf("twenty divisions lost: %v", err)
	}
}

func TestNoNumbersGetThrough(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, w := range []float64{nan, inf, -inf, 0, -1, 2e6} {
		for _, s := range []Series{{{0, cure.Gram(w)}}, {{0, 1000}, {day, cure.Gram(w)}, {2 * day, 900}}} {
			if _, err := Fit(s); err != ErrSeries {
				t.Errorf("%v: %v", s, err)
			}
			if _, err := s.Loss(); err != ErrSeries {
				t.Errorf("%v: %v", s, err)
			}
			if _, _, err := s.Hardened(700, 1); err != ErrSeries {
				t.Errorf("%v: %v", s, err)
			}
		}
		if _, err := week(900).Finish(cure.Gram(w), 1); err != ErrRange {
			t.Errorf("target %v: %v", w, err)
		}
		if _, err := week(900).Finish(700, cure.Gram(w)); err != ErrRange {
			t.Errorf("division %v: %v", w, err)
		}
		if _, err := Targets(cure.Gram(w)); err != ErrRange {
			t.Errorf("hung %v: %v", w, err)
		}
		if _, err := FitPage([]Moisture{{day, 0.7}, {2 * day, Ratio(w)}}); err != ErrRange {
			t.Errorf("moisture %v: %v", w, err)
		}
		if _, err := FitRootTime(day, Ratio(w)); err != ErrRange {
			t.Errorf("loss %v: %v", w, err)
		}
		if w == 0 {
			continue
		}
		if _, err := Saturation(cure.Celsius(w * 100)); err != ErrRange {
			t.Errorf("air %v: %v", w, err)
		}
		if _, err := (Room{12, cure.Fraction(w)}).Driving(0.97); err != ErrRange && w != -inf {
			t.Errorf("humidity %v: %v", w, err)
		}
		if _, err := (Meat{0.7, 0.2, 0.02}).PerProtein(cure.Fraction(w)); err != ErrRange {
			t.Errorf("loss %v: %v", w, err)
		}
	}
	for _, s := range []Series{nil, {{-1, 1000}}, {{day, 1000}, {day, 900}}, {{day, 1000}, {0, 900}}, {{0, 1000}, {3651 * day, 900}}} {
		if _, err := s.Rates(); err != ErrSeries {
			t.Errorf("%v: %v", s, err)
		}
	}
	if _, err := Fit(week(900)[:2]); err != ErrFew {
		t.Errorf("two weighings: %v", err)
	}
	if _, err := FitPage([]Moisture{{day, 0.7}}); err != ErrFew {
		t.Errorf("one point: %v", err)
	}
	for _, points := range [][]Moisture{{{day, 0.7}, {day, 0.6}}, {{day, 0.6}, {2 * day, 0.7}}, {{0, 0.9}, {day, 0.7}}} {
		if _, err := FitPage(points); err != ErrRange {
			t.Errorf("%v: %v", points, err)
		}
	}
	for w := range map[When]bool{(Page{0.1, 1}).Reach(0): true, (Page{0.1, 1}).Reach(Ratio(nan)): true, (RootTime{0.1}).Reach(1): true, (RootTime{0.1}).Reach(Ratio(nan)): true} {
		if !w.Never {
			t.Errorf("%+v", w)
		}
	}
}

// Ground and fermented goods never count without degree-hours, and nothing elsewhere.
func TestDemandsHaveDegreeHours(t *testing.T) {
	for _, region := range []string{"us", "ca"} {
		for _, k := range []Kind{Dry, SemiDry} {
			for _, set := range Demands(k, region) {
				if set[0].Need != DegreeHours || len(set) < 2 {
					t.Errorf("%s, %v: %+v", region, k, set)
				}
			}
		}
	}
	for _, region := range []string{"eu", "gb", ""} {
		if sets := Demands(Dry, region); sets != nil {
			t.Errorf("%q: %+v", region, sets)
		}
	}
}

func TestHarsh(t *testing.T) {
	if !(Room{12, 0.70}).Harsh(0.97) || (Room{12, 0.77}).Harsh(0.97) {
		t.Error("harsh is more than 0.2 below the surface")
	}
	if r, err := (Room{12, 0.98}).Beside(Room{12, 0.75}, 0.97); err != ErrRange {
		t.Errorf("a room that doesn't dry: %v, %v", r, err)
	}
}

func BenchmarkFinish(b *testing.B) {
	var s Series
	c := Curve{Start: 2000, Pace: 20, Fade: 0.04}
	for i := range 12 { // twice a week, six weeks
		at := time.Duration(i) * 7 * day / 2
		s = append(s, Reading{at, cure.Gram(math.Round(float64(c.At(at))))})
	}
	for b.Loop() {
		if _, err := s.Finish(1400, 1); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkThree(b *testing.B) {
	for b.Loop() {
		if _, err := week(900).Finish(700, 1); err != nil {
			b.Fatal(err)
		}
	}
}
