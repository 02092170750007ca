package dry

import (
	"math"

	"salthand/cure"
)

// squares is the curve of least squares. For each fade the start and the pace are a straight
// regression; the fade is searched on a grid and then where the derivative is zero.
func (s Series) squares() Curve {
	span := days(s[len(s)-1].After - s[0].After)
	f := newFit(s)
	// From 1/50 to about 60 fades over the span: less can't be told from a line, more is a
	// drop between two readings.
	const cells, first, ratio = 10, 0.02, 2.45
	line := f.at(0)
	best, at, lo := line, 0.0, 0.0
	for i := range cells {
		x := first / span * math.Pow(ratio, float64(i))
		if e := f.at(x); e < best-1e-9*line {
			best, at, lo = e, x, x/ratio
			if i == 0 {
				lo = x / 1000
			}
		}
	}
	if at > 0 {
		at = f.level(lo, at*ratio)
	}
	e := f.at(at)
	scatter := 0.0
	if len(s) > 3 {
		scatter = math.Sqrt(e / float64(len(s)-3))
	}
	return Curve{From: s[0].After, Start: cure.Gram(f.start), Pace: GramDay(f.pace), Fade: PerDay(at), Scatter: cure.Gram(scatter)}
}

// fit is the regression at one fade.
type fit struct {
	t, w, gone  []float64 // days since the first reading, grams, what would be gone at a pace of 1
	start, pace float64
	slope       float64 // of the sum of squares, by the fade; half of it
}

func newFit(s Series) *fit {
	room := make([]float64, 3*len(s))
	f := &fit{t: room[:len(s)], w: room[len(s) : 2*len(s)], gone: room[2*len(s):]}
	for i, r := range s {
		f.t[i], f.w[i] = days(r.After-s[0].After), float64(r.Weight)
	}
	return f
}

// at sets the fit for a fade and returns its sum of squares.
func (f *fit) at(fade float64) (sum float64) {
	n := float64(len(f.t))
	var meanGone, meanW float64
	for i, t := range f.t {
		f.gone[i] = gone(fade, t)
		meanGone += f.gone[i] / n
		meanW += f.w[i] / n
	}
	var gg, gw float64
	for i, g := range f.gone {
		gg, gw = gg+(g-meanGone)*(g-meanGone), gw+(g-meanGone)*(f.w[i]-meanW)
	}
	f.pace = -gw / gg
	f.start = meanW + f.pace*meanGone
	f.slope = 0
	for i, g := range f.gone {
		off := f.w[i] - f.start + f.pace*g
		sum += off * off
		f.slope += off * f.pace * bend(fade, f.t[i], g)
	}
	return sum
}

// level is the fade between lo and hi at which the sum of squares is level, or the end with
// the smaller sum where it is so nowhere. Regula falsi of the Illinois kind, with a
// bisection now and then.
func (f *fit) level(lo, hi float64) float64 {
	atLo := f.at(lo)
	slopeLo := f.slope
	atHi := f.at(hi)
	slopeHi := f.slope
	if slopeLo*slopeHi >= 0 {
		if atLo < atHi {
			return lo
		}
		return hi
	}
	for i := range 60 {
		x := (lo*slopeHi - hi*slopeLo) / (slopeHi - slopeLo)
		if i%4 == 3 || !(x > min(lo, hi) && x < max(lo, hi)) {
			x = lo + (hi-lo)/2
		}
		f.at(x)
		if f.slope == 0 || math.Abs(hi-lo) <= 1e-12*x {
			return x
		}
		if math.Signbit(f.slope) == math.Signbit(slopeHi) {
			slopeLo /= 2
		} else {
			lo, slopeLo = hi, slopeHi
		}
		hi, slopeHi = x, f.slope
	}
	return hi
}
