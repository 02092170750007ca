package diffuse

import (
	"math"
	"time"
)

// Brick is a rectangular piece, by the full lengths of its sides, whose surface stays at
// one concentration. What it lacks is the product of what the three slabs lack. That rule
// holds under this boundary only: for a bath or a weighed rub take the thinnest side as a
// slab, which is slower and so the careful choice.
// Source: Newman's product rule; Crank 1975, §2.9 (from memory); checked against finite
// volumes in three dimensions.
type Brick struct{ A, B, C Metre }

// Centre is the share of equilibrium at the centre after a time. The error is ErrRange where
// a side or the diffusivity is not above zero.
func (b Brick) Centre(d Diffusivity, after time.Duration) (Ratio, error) {
	return b.share(d, after, (*Model).Centre)
}

// Uptake is what the brick has taken after a time, as a share of what it takes in the end.
// The error is as for Centre.
func (b Brick) Uptake(d Diffusivity, after time.Duration) (Ratio, error) {
	return b.share(d, after, (*Model).Uptake)
}

func (b Brick) share(d Diffusivity, after time.Duration, of func(*Model, Tau) Ratio) (Ratio, error) {
	if !b.sound() || !(d > 0) || math.IsInf(float64(d), 0) {
		return 0, ErrRange
	}
	slab, lack := Constant(Slab), Ratio(1)
	for _, side := range [...]Metre{b.A, b.B, b.C} {
		lack *= 1 - of(slab, d.Tau(after, side/2))
	}
	return 1 - lack, nil
}

func (b Brick) sound() bool {
	for _, side := range [...]Metre{b.A, b.B, b.C} {
		if !(side > 0) || math.IsInf(float64(side), 0) {
			return false
		}
	}
	return true
}

// TimeTo is when the centre reaches a share of equilibrium, 0 < share < 1. It is never later
// than for a slab of the thinnest side.
func (b Brick) TimeTo(d Diffusivity, share Ratio) (time.Duration, error) {
	return b.when(d, share, (*Model).Centre, (*Model).TimeTo)
}

// TimeToUptake is when the brick has taken a share of what it takes in the end,
// 0 < share < 1.
func (b Brick) TimeToUptake(d Diffusivity, share Ratio) (time.Duration, error) {
	return b.when(d, share, (*Model).Uptake, (*Model).TimeToUptake)
}

func (b Brick) when(d Diffusivity, share Ratio, of func(*Model, Tau) Ratio, slabTo func(*Model, Ratio) (Tau, error)) (time.Duration, error) {
	if !b.sound() || !(d > 0) || math.IsInf(float64(d), 0) {
		return 0, ErrRange
	}
	slab := Constant(Slab)
	thin := min(b.A, b.B, b.C) / 2
	hi, err := slabTo(slab, share)
	if err != nil {
		return 0, err
	}
	lack := func(t float64) float64 {
		rest := 1.0
		for _, side := range [...]Metre{b.A, b.B, b.C} {
			ratio := float64(2 * thin / side)
			rest *= 1 - float64(of(slab, Tau(t*ratio*ratio)))
		}
		return 1 - rest - float64(share)
	}
	return d.Time(Tau(root(lack, 1e-6*float64(hi), float64(hi))), thin), nil
}
