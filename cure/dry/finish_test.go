package dry

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"salthand/cure"
	"salthand/cure/published"
)

// week is the published series, with the middle reading as given.
func week(middle cure.Gram) Series {
	return Series{{0, 1000}, {7 * day, middle}, {14 * day, 830}}
}

// One gram on one reading moves the date by days, and every reading off by one by weeks.
func TestFinishIsAnInterval(t *testing.T) {
	f, err := week(900).Finish(Aim{700, 1})
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "likely", days(f.Likely.After), 45.190, 0.0005)
	for _, middle := range []cure.Gram{899, 901} { // published: 52.02 and 40.96 d
		w := must[Curve](t)(Fit(week(middle))).Reach(700)
		if w.Before(f.Single.Early) || f.Single.Late.Before(w) {
			t.Errorf("%v g: %v d is outside of %+v", middle, days(w.After), f.Single)
		}
	}
	if f.Early.Never || f.Late.Never || !f.Early.Before(f.Single.Early) || !f.Single.Late.Before(f.Late) {
		t.Errorf("%+v", f)
	}
	if f, err = week(900).Finish(Aim{650, 1}); err != nil || !f.Likely.Never || !f.Late.Never || f.Early.Never {
		t.Errorf("650 g is beyond the limit, but not for the scale: %+v, %v", f, err)
	}
	if f, err = week(900).Finish(Aim{500, 1}); err != nil || !f.Early.Never {
		t.Errorf("500 g is beyond any limit: %+v, %v", f, err)
	}
	if f, err = week(900).Finish(Aim{900, 1}); err != nil || !f.Reached || f.Likely.After != 7*day || f.Late.After != 7*day {
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
		f, err := s.Finish(Aim{target, 1})
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

// The true finish lies in the interval when the readings are rounded to the scale.
func TestFinishHoldsTheTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCurve(t)
		division := cure.Gram(rapid.SampledFrom([]float64{0.1, 1, 5}).Draw(t, "division"))
		s := weighed(t, c, division)
		limit, _ := c.Limit()
		target := limit + (c.Start-limit)*cure.Gram(rapid.Float64Range(0.02, 0.9).Draw(t, "target"))
		f, err := s.Finish(Aim{target, division})
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

func TestTooCoarse(t *testing.T) {
	s := Series{{0, 265}, {2 * day, 264}, {5 * day, 263}}
	if f, err := s.Finish(Aim{200, 1}); err != ErrCoarse {
		t.Errorf("two divisions lost: %+v, %v", f, err)
	}
	if _, err := s.Finish(Aim{200, 0.1}); err != nil {
		t.Errorf("twenty divisions lost: %v", err)
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
		if _, err := s.Finish(Aim{1400, 1}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkThree(b *testing.B) {
	for b.Loop() {
		if _, err := week(900).Finish(Aim{700, 1}); err != nil {
			b.Fatal(err)
		}
	}
}
