package brine

import (
	"math"

	"salthand/cure"
)

// Soak is salt meat in fresh water, to take salt out of it. It is about salt and nothing
// else: nothing that cures is counted as taken out by water.
type Soak struct {
	Meat  cure.Gram
	Salt  cure.Fraction // g in a g of the meat before the soak
	Water cure.Gram     // fresh, for each change
}

// mostChanges is the most changes of water that are reckoned with.
const mostChanges = 1000

// Floor is the salt of the meat after so many changes of water, each left until meat and
// water are balanced: the salt that is there, over meat and water. No soak gets below it by
// this reckoning, and a short one stays far above. For waters of several sizes take one
// change at a time. The error is an *OutOfRange.
func (s Soak) Floor(changes int) (cure.Fraction, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if err := within(Changes, float64(changes), 0, mostChanges); err != nil {
		return 0, err
	}
	return s.Salt * cure.Fraction(math.Pow(s.left(), float64(changes))), nil
}

// Changes is the fewest changes of water after which the floor is no higher than target. The
// error is an *OutOfRange, also where a thousand would not do.
func (s Soak) Changes(target cure.Fraction) (int, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if err := some(Target, float64(target)); err != nil {
		return 0, err
	}
	if s.Salt <= target {
		return 0, nil
	}
	n := math.Ceil(math.Log(float64(target/s.Salt))/math.Log(s.left()) - 1e-9)
	if err := within(Changes, n, 1, mostChanges); err != nil {
		return 0, err
	}
	return int(n), nil
}

// left is the share of the salt that stays in the meat in each change.
func (s Soak) left() float64 { return float64(s.Meat / (s.Meat + s.Water)) }

func (s Soak) check() error {
	if err := some(Meat, float64(s.Meat)); err != nil {
		return err
	}
	if err := within(SaltShare, float64(s.Salt), 0, 1); err != nil {
		return err
	}
	return some(Water, float64(s.Water))
}
