package cure

import (
	"time"

	"salthand/cure/diffuse"
)

// Sized is a piece of which only the size is known, cured at one temperature. Its dose is
// taken as a weighed rub of 2.5 % salt on lean meat; in a Bath it lies in more brine than it
// can take up, which is slower.
type Sized struct {
	Thickness   Millimetre // at the thickest point
	OneFace     bool       // the skin is on: one face takes salt
	Round       bool       // a cylinder, as wide as it is thick; not with OneFace
	Bath        bool
	Temperature Celsius // −1 to 20 °C
}

// leanFill is the fill of a weighed rub of 2.5 % salt on meat of 70 % water: 0.025 over
// 0.358 · 0.70 g of salt at saturation. Both are common practice, no source.
const leanFill diffuse.Ratio = 0.1

// model is how salt gets into the piece, and the length that it has to go.
func (s Sized) model() (*diffuse.Model, diffuse.Metre, error) {
	length, shape := diffuse.Metre(s.Thickness)/2000, diffuse.Slab
	switch {
	case s.OneFace:
		length *= 2
	case s.Round:
		shape = diffuse.Cylinder
	}
	if !(length > 0) {
		return nil, 0, diffuse.ErrRange
	}
	if s.Bath {
		return diffuse.Constant(shape), length, nil
	}
	m, err := diffuse.Capped(shape, leanFill)
	return m, length, err
}

// Through is when the core has 95 % of equilibrium. The error is diffuse.ErrRange.
func (s Sized) Through() (to Band3[time.Duration], err error) {
	m, length, err := s.model()
	if err != nil {
		return to, err
	}
	tau, err := m.TimeTo(reached)
	if err != nil {
		return to, err
	}
	for i, speed := range speeds {
		rate, err := speed.At(diffuse.Celsius(s.Temperature))
		if err != nil {
			return to, err
		}
		*to.at(i) = rate.Time(tau, length)
	}
	return to, nil
}

// Core is the share of equilibrium at the core after a time. The error is diffuse.ErrRange.
func (s Sized) Core(after time.Duration) (core Band3[Fraction], err error) {
	m, length, err := s.model()
	if err != nil {
		return core, err
	}
	for i, speed := range speeds {
		rate, err := speed.At(diffuse.Celsius(s.Temperature))
		if err != nil {
			return core, err
		}
		*core.at(i) = Fraction(m.Centre(rate.Tau(after, length)))
	}
	return core, nil
}

// Thumb is a rule of thumb for the days in the cure. It is shown to be told apart from what
// is reckoned, and never used.
type Thumb struct {
	Rule  string // "1/4 inch", "7 an inch"
	After time.Duration
}

// The rules of thumb.
const (
	QuarterInch = "1/4 inch"  // a day for each 1/4 inch that salt has to go, and 2 days
	SevenAnInch = "7 an inch" // of thickness; of twice the thickness with the skin on
)

// Thumbs are the rules of thumb for the piece. Both are common practice, no source.
func (s Sized) Thumbs() []Thumb {
	deep := float64(s.Thickness) / inch / 2
	if s.OneFace {
		deep *= 2
	}
	return []Thumb{
		{QuarterInch, time.Duration((4*deep + 2) * float64(day))},
		{SevenAnInch, time.Duration(2 * deep * float64(perInch))},
	}
}
