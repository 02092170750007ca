package dry

import (
	"errors"
	"math"
	"time"

	"salthand/cure"
)

// Reading is a weighing, counted from when the piece was hung. Range: up to ten years and
// 1000 kg, above nothing.
type Reading struct {
	After  time.Duration
	Weight cure.Gram
}

// Series is the weighings of one piece, in order of time, each with the same string and
// netting. The first one is the weight that losses are counted from.
type Series []Reading

// Errors of a series.
var (
	ErrSeries = errors.New("dry: not a series of weighings") // empty, out of order, out of range
	ErrFew    = errors.New("dry: too few weighings")         // a curve needs three
	ErrCoarse = errors.New("dry: the scale is too coarse for what was lost")
	ErrRange  = errors.New("dry: out of range")
)

const (
	day     = 24 * time.Hour
	horizon = 3650 * day // as far as anything here looks ahead: ten years
)

func (s Series) check(least int) error {
	for i, r := range s {
		if !(r.Weight > 0 && r.Weight <= 1e6) || r.After < 0 || r.After > horizon || i > 0 && r.After <= s[i-1].After {
			return ErrSeries
		}
	}
	switch {
	case len(s) == 0:
		return ErrSeries
	case len(s) < least:
		return ErrFew
	}
	return nil
}

// Loss is the share of the first weight that is gone at the last; below zero where the piece
// gained. The error is ErrSeries.
func (s Series) Loss() (Ratio, error) {
	if err := s.check(1); err != nil {
		return 0, err
	}
	return Ratio(1 - s[len(s)-1].Weight/s[0].Weight), nil
}

// Rate is how fast a piece lost weight between two weighings.
type Rate struct {
	From, To time.Duration
	Daily    PerDay // share of the first weight lost a day; below zero where it gained
}

// PerDay is a rate, 1/d.
type PerDay float64

// Ratio is a dimensionless ratio.
type Ratio float64

// Rates are the rates from each weighing to the next: none of a single one. The error is
// ErrSeries.
func (s Series) Rates() (rates []Rate, err error) {
	if err := s.check(1); err != nil {
		return nil, err
	}
	for i := 1; i < len(s); i++ {
		a, b := s[i-1], s[i]
		rates = append(rates, Rate{a.After, b.After, PerDay(float64((a.Weight-b.Weight)/s[0].Weight) / days(b.After-a.After))})
	}
	return rates, nil
}

func days(d time.Duration) float64 { return float64(d) / float64(day) }

// Target is a weight to hang down to.
type Target struct {
	Loss   cure.Fraction // of the weight hung
	Weight cure.Gram
}

// Targets are the weights at 30, 35 and 40 % of loss, the usual ones for whole muscle and
// salami. Common practice, no source. The error is ErrSeries.
func (s Series) Targets() (targets [3]Target, err error) {
	for i, loss := range [3]cure.Fraction{0.30, 0.35, 0.40} {
		if targets[i], err = s.Target(loss); err != nil {
			return targets, err
		}
	}
	return targets, nil
}

// Target is the weight at a loss from 0 to below 1. The errors are ErrSeries and ErrRange.
func (s Series) Target(loss cure.Fraction) (Target, error) {
	if err := s.check(1); err != nil {
		return Target{}, err
	}
	if !(loss >= 0 && loss < 1) {
		return Target{}, ErrRange
	}
	return Target{loss, s[0].Weight * (1 - cure.Gram(loss))}, nil
}

// after is a time in days as a duration; beyond the horizon it is never.
func after(d float64) When {
	if !(d <= days(horizon)) {
		return When{Never: true}
	}
	return When{After: time.Duration(math.Round(d * float64(day)))}
}
