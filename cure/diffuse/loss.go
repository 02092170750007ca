package diffuse

import (
	"math"
	"time"
)

// Loss is a solute that is spent where it is while it spreads: half of it in the half-life,
// at the same rate everywhere. Then the answer is that without loss, times what is left.
type Loss struct {
	HalfLife time.Duration
	Rate     Diffusivity
	Length   Metre
}

// Left is the share that is left after a time.
func (l Loss) Left(after time.Duration) Ratio {
	return Ratio(math.Exp2(-float64(after) / float64(l.HalfLife)))
}

// Peak is when the centre of a piece holds the most of a solute that is spent on the way,
// and how much: a share of the equilibrium that there would be without loss. Later it only
// falls. The error is ErrRange where a figure is not above zero.
func (m *Model) Peak(l Loss) (time.Duration, Ratio, error) {
	if !(l.HalfLife > 0 && l.Rate > 0 && l.Length > 0) || math.IsInf(float64(l.Rate), 0) || math.IsInf(float64(l.Length), 0) {
		return 0, 0, ErrRange
	}
	full, err := m.TimeTo(0.9999)
	if err != nil {
		return 0, 0, err
	}
	// Tau of a half-life; the product rises to one peak and falls.
	half := float64(l.Rate.Tau(l.HalfLife, l.Length))
	at := func(x float64) float64 { return float64(m.Centre(Tau(x))) * math.Exp2(-x/half) }
	lo, hi := float64(never), float64(full)
	const golden = 0.6180339887498949
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	fa, fb := at(a), at(b)
	for hi-lo > 1e-7*hi {
		if fa >= fb && fa > 0 {
			hi, b, fb = b, a, fa
			a = hi - golden*(hi-lo)
			fa = at(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + golden*(hi-lo)
			fb = at(b)
		}
	}
	x := (lo + hi) / 2
	return l.Rate.Time(Tau(x), l.Length), Ratio(at(x)), nil
}
