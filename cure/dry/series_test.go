package dry

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"salthand/cure"
)

func TestHardened(t *testing.T) {
	slow := Series{{0, 1000}, {4 * day, 960}, {8 * day, 920}, {12 * day, 890}, {16 * day, 862}}
	shut := Series{{0, 1000}, {4 * day, 960}, {8 * day, 920}, {12 * day, 912}, {16 * day, 906}}
	late := Series{{0, 1000}, {10 * day, 800}, {14 * day, 720}, {18 * day, 712}}
	for name, row := range map[string]struct {
		s        Series
		division cure.Gram
		want     bool
	}{"slowing": {slow, 1, false}, "shut": {shut, 1, true}, "shut, on a coarse scale": {shut, 10, false}, "near the target": {late, 1, false}, "one weighing": {slow[:1], 1, false}} {
		drop, got, err := row.s.Hardened(Aim{700, row.division})
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
		if drop, yes, err := s.Hardened(Aim{600, 1}); err != nil || yes {
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
			if _, _, err := s.Hardened(Aim{700, 1}); err != ErrSeries {
				t.Errorf("%v: %v", s, err)
			}
		}
		if _, err := week(900).Finish(Aim{cure.Gram(w), 1}); err != ErrRange {
			t.Errorf("target %v: %v", w, err)
		}
		if _, err := week(900).Finish(Aim{700, cure.Gram(w)}); err != ErrRange {
			t.Errorf("division %v: %v", w, err)
		}
		if _, err := (Series{{0, cure.Gram(w)}}).Targets(); err != ErrSeries {
			t.Errorf("hung %v: %v", w, err)
		}
		if _, err := week(900).Target(cure.Fraction(w)); err != ErrRange && w != 0 {
			t.Errorf("loss %v: %v", w, err)
		}
		if _, err := FitPage([]Moisture{{day, 0.7}, {2 * day, Ratio(w)}}); err != ErrRange {
			t.Errorf("moisture %v: %v", w, err)
		}
		if _, err := FitRootTime(Lost{day, Ratio(w)}); err != ErrRange {
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
