package dry

import (
	"math"
	"time"

	"salthand/cure"
)

// GramDay is a rate of loss in g/d.
type GramDay float64

// Curve is a weight that falls at a rate that dies down: Start − Pace·(1 − e^(−Fade·t))/Fade
// with t from From on. With Fade 0 it is a straight line, which has no limit: the readings
// show none yet.
//
// Source: exponential approach to equilibrium (Newton's law of drying); from memory.
type Curve struct {
	From    time.Duration // the first reading
	Start   cure.Gram     // the weight then, on the curve
	Pace    GramDay       // the loss then
	Fade    PerDay
	Scatter cure.Gram // root mean square of the readings about the curve; 0 with three
}

// When is a moment, or never. What lies more than ten years ahead is never.
type When struct {
	After time.Duration // since the piece was hung
	Never bool
}

// Before reports whether w is earlier than v.
func (w When) Before(v When) bool {
	return !w.Never && (v.Never || w.After < v.After)
}

// Fit is the curve through three equidistant weighings, or the one of least squares through
// any three or more. Readings whose loss doesn't slow down give a straight line. The errors
// are ErrSeries and ErrFew.
func Fit(s Series) (Curve, error) {
	if err := s.check(3); err != nil {
		return Curve{}, err
	}
	return s.curve(), nil
}

// curve is Fit for a series that was checked.
func (s Series) curve() Curve {
	if c, ok := s.through(); ok {
		return c
	}
	return s.squares()
}

// through is the closed form for three equidistant weighings whose loss slows down:
// limit = (W0·W2 − W1²)/(W0 + W2 − 2·W1), fade = −ln((W1−W2)/(W0−W1))/Δt.
func (s Series) through() (Curve, bool) {
	if len(s) != 3 || s[2].After-s[1].After != s[1].After-s[0].After {
		return Curve{}, false
	}
	first, second := float64(s[0].Weight-s[1].Weight), float64(s[1].Weight-s[2].Weight)
	q := second / first
	if !(first > 0 && q > 0 && q < 1) {
		return Curve{}, false
	}
	step := days(s[1].After - s[0].After)
	fade := -math.Log(q) / step
	return Curve{From: s[0].After, Start: s[0].Weight, Pace: GramDay(first * fade / (1 - q)), Fade: PerDay(fade)}, true
}

// At is the weight on the curve, from the first reading on.
func (c Curve) At(t time.Duration) cure.Gram {
	return c.Start - cure.Gram(float64(c.Pace)*gone(float64(c.Fade), days(t-c.From)))
}

// Limit is the weight that the curve falls to; false where it has none above nothing.
func (c Curve) Limit() (cure.Gram, bool) {
	if c.Fade <= 0 {
		return 0, false
	}
	limit := c.Start - cure.Gram(float64(c.Pace)/float64(c.Fade))
	return limit, limit > 0
}

// Reach is when the curve comes down to a weight: at once where it starts below, never where
// the weight is the limit or beyond.
func (c Curve) Reach(w cure.Gram) When {
	lack := float64(c.Start - w)
	switch {
	case lack <= 0:
		return When{After: c.From}
	case !(w > 0) || !(c.Pace > 0):
		return When{Never: true}
	}
	x := lack * float64(c.Fade) / float64(c.Pace) // share of the way to the limit
	t := lack / float64(c.Pace)
	switch {
	case x >= 1:
		return When{Never: true}
	case x > 1e-12:
		t = -math.Log1p(-x) / float64(c.Fade)
	}
	return after(days(c.From) + t)
}

// gone is (1 − e^(−k·t))/k, and t where k is zero.
func gone(k, t float64) float64 {
	if k == 0 {
		return t
	}
	return -math.Expm1(-k*t) / k
}

// bend is how gone changes with k, where gone is g: (t·e^(−k·t) − g)/k.
func bend(k, t, g float64) float64 {
	if x := k * t; x < 1e-3 { // the difference would be lost
		return -t * t * (0.5 - x/3 + x*x/8 - x*x*x/30)
	}
	return (t*(1-k*g) - g) / k
}
