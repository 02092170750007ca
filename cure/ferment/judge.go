package ferment

import (
	"errors"
	"time"

	"salthand/cure"
)

// PH is an acidity.
type PH float64

// Sour is the pH at which degree-hours end.
//
// Source: AMI good manufacturing practices 1997; CFIA Meat Hygiene Manual ch. 4 (secondary).
const Sour PH = 5.3 // pH

// Acidity is a reading of pH in the sausage. Range: pH 3 to 8.
type Acidity struct {
	After time.Duration
	PH    PH
}

// ErrPH is the error of a pH reading that is out of range or out of order.
var ErrPH = errors.New("ferment: not a series of pH readings")

// State is how a fermentation stands.
type State uint8

// The states.
const (
	Running State = iota // under the limit, not yet at pH 5.3
	Soured               // pH 5.3 was read while the sum was under the limit
	Hold                 // the limit was reached first
)

// Result is a fermentation beside one rule set.
type Result struct {
	Set     string
	State   State
	Sum     DegreeHour    // until pH 5.3 was read, or until now
	Limit   DegreeHour    // of the band of Highest
	Highest cure.Celsius  // until then
	Left    time.Duration // Running: until the limit is reached at the present temperature, rounded down to a millisecond
	Endless bool          // Running: at or below the base nothing adds up, and Left means nothing
	Source  string        // of the limit
	Seen    string
}

// Judge adds up a fermentation. It ends at the first reading of pH 5.3 or less, which counts
// from when it was read, not from when it may have come; without one it goes on to the last
// reading of the log. A pH that was read after the log's last reading counts as read at that
// temperature. The errors are ErrLog and ErrPH.
func (s Set) Judge(log Log, acid []Acidity) (Result, error) {
	if err := log.check(); err != nil {
		return Result{}, err
	}
	sour, end, err := soured(acid)
	if err != nil {
		return Result{}, err
	}
	if sour {
		if log = log.Until(end); len(log) == 0 {
			return Result{}, ErrLog // the pH was read before the chamber
		}
	}
	area, highest, now := log.area(s.Base), log.highest(), log[len(log)-1].Air
	band := s.Band(highest)
	limit := s.area(band.Limit)
	r := Result{
		Set: s.ID, Highest: highest, Limit: band.Limit, Source: band.Source, Seen: band.Seen,
		Sum: DegreeHour(float64(area) / float64(2*msPerHour*s.Unit.grains())),
	}
	switch {
	case area >= limit:
		r.State = Hold
	case sour:
		r.State = Soured
	default:
		left, ends := s.last(limit-area, now)
		r.Left, r.Endless = left, !ends
	}
	return r, nil
}

// soured is whether and when pH 5.3 was read.
func soured(acid []Acidity) (yes bool, at time.Duration, err error) {
	before := time.Duration(0)
	for _, a := range acid {
		if !(a.PH >= 3 && a.PH <= 8) || a.After < before || a.After > year {
			return false, 0, ErrPH
		}
		before = a.After
		if !yes && a.PH <= Sour {
			yes, at = true, a.After
		}
	}
	return yes, at, nil
}

// Stricter is the result to go by, of two on the same log: a Hold before anything, then the
// one with less time left, then the one that is nearer to its limit.
func Stricter(a, b Result) Result {
	switch {
	case (a.State == Hold) != (b.State == Hold):
		if b.State == Hold {
			return b
		}
	case a.State == Running && b.State == Running && a.Endless != b.Endless:
		if a.Endless {
			return b
		}
	case a.State == Running && b.State == Running && !a.Endless && a.Left != b.Left:
		if b.Left < a.Left {
			return b
		}
	case b.Sum/b.Limit > a.Sum/a.Limit:
		return b
	}
	return a
}
