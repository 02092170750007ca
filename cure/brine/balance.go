package brine

import "salthand/cure"

// Tub is meat in a cover brine, and one thing that is dissolved in it: salt, or nitrite.
type Tub struct {
	Meat   cure.Gram     // raw
	Wet    cure.Fraction // water in a g of the raw meat, 0.01 to 1
	Water  cure.Gram     // water of the brine
	Solute cure.Gram     // all that is dissolved of the one thing
	Pickle cure.Gram     // all of the brine: water, salt, sugar, cure. 0: water and solute only
	PickUp cure.Fraction // brine that a g of green meat takes, measured by weight; 0: not measured
}

// Balance is what the meat of a tub has in the end by each of the rules, in g of the solute
// for each g of raw meat (a million times that is ppm).
//
// ByWater never passes MeatAndWater, nor MethodTwo where the pickle is wetter than the meat:
// the mass rules may promise fat meat more than it gets, and hardly ever less.
type Balance struct {
	// MeatAndWater is the mass rule of recipes: solute over meat and water.
	MeatAndWater cure.Fraction
	// MethodTwo is the mass rule of the law: solute over green meat and all of the pickle. For
	// cures that are long enough for the two to balance.
	// Source: FSIS Processing Inspectors' Calculations Handbook, Directive 7620.3, p. 22.
	MethodTwo cure.Fraction
	// ByWater is the rule by the water of the meat: the solute is as strong in it as in the
	// water of the brine, and not in the fat.
	ByWater cure.Fraction
	// InWater is that strength: g of solute to a g of water. Times the water of the lean it is
	// what the lean of a fat cut has.
	InWater Ratio
	// MethodOne is the pick-up rule: the brine that was taken, at its first strength, on green
	// meat. For short cures. 0 where no pick-up was measured.
	// Source: FSIS Processing Inspectors' Calculations Handbook, Directive 7620.3.
	MethodOne cure.Fraction
}

// Balance is what the meat has by each rule. What else moves between meat and brine (the
// meat's own juices, weight taken up) is left out: expect a tenth. The error is an
// *OutOfRange.
func (t Tub) Balance() (Balance, error) {
	if err := t.check(); err != nil {
		return Balance{}, err
	}
	pickle := t.pickle()
	inWater := t.Solute / (t.Water + t.Meat*cure.Gram(t.Wet))
	return Balance{
		MeatAndWater: cure.Fraction(t.Solute / (t.Meat + t.Water)),
		MethodTwo:    cure.Fraction(t.Solute / (t.Meat + pickle)),
		ByWater:      cure.Fraction(inWater) * t.Wet,
		InWater:      Ratio(inWater),
		MethodOne:    cure.Fraction(t.Solute/pickle) * t.PickUp,
	}, nil
}

func (t Tub) pickle() cure.Gram {
	if t.Pickle == 0 {
		return t.Water + t.Solute
	}
	return t.Pickle
}

func (t Tub) check() error {
	if err := some(Meat, float64(t.Meat)); err != nil {
		return err
	}
	if err := within(MeatWater, float64(t.Wet), driest, 1); err != nil {
		return err
	}
	if err := some(Water, float64(t.Water)); err != nil {
		return err
	}
	if err := within(Solute, float64(t.Solute), 0, bound); err != nil {
		return err
	}
	if t.Pickle != 0 {
		if err := within(Pickle, float64(t.Pickle), float64(t.Water+t.Solute)*(1-1e-12), bound); err != nil {
			return err
		}
	}
	return within(PickUp, float64(t.PickUp), 0, 1)
}

// driest is the least water that there is in a g of meat or fat.
const driest = 0.01

// Rule is how a target is meant.
type Rule uint8

// The rules; see Balance.
const (
	ByMeatAndWater Rule = iota
	ByMethodTwo
	ByTheWater
	ByMethodOne
)

// Needs is how much of the solute must be in the tub for the meat to have target of it by a
// rule; what t.Solute says is not looked at. Where t.Pickle is 0 the solute itself is counted
// in the pickle. The error is an *OutOfRange; ByMethodOne without a pick-up is one.
func (t Tub) Needs(target cure.Fraction, by Rule) (cure.Gram, error) {
	t.Solute = 0
	if err := t.check(); err != nil {
		return 0, err
	}
	if err := within(Target, float64(target), 0, 0.5); err != nil {
		return 0, err
	}
	share := cure.Gram(target)
	switch by {
	case ByMeatAndWater:
		return share * (t.Meat + t.Water), nil
	case ByTheWater:
		return share / cure.Gram(t.Wet) * (t.Water + t.Meat*cure.Gram(t.Wet)), nil
	case ByMethodTwo:
		if t.Pickle == 0 {
			return share / (1 - share) * (t.Meat + t.Water), nil
		}
		return share * (t.Meat + t.Pickle), nil
	}
	strength := share / cure.Gram(t.PickUp) // g of solute in a g of pickle
	if err := within(PickUp, float64(t.PickUp), 0, 1); err != nil || !(strength < 1) {
		return 0, &OutOfRange{What: PickUp, Got: float64(t.PickUp), Low: float64(target), High: 1}
	}
	if t.Pickle == 0 {
		return strength / (1 - strength) * t.Water, nil
	}
	return strength * t.Pickle, nil
}

// LeastMeat is how much raw meat must go into the pickle so that by method two it has no more
// than target of the solute. 0 where the pickle alone is weaker. The error is an *OutOfRange.
// Source: FSIS Processing Inspectors' Calculations Handbook, Directive 7620.3, p. 22.
func (t Tub) LeastMeat(target cure.Fraction) (cure.Gram, error) {
	t.Meat = 1
	if err := t.check(); err != nil {
		return 0, err
	}
	if err := within(Target, float64(target), 1e-9, 1); err != nil {
		return 0, err
	}
	return max(0, t.Solute/cure.Gram(target)-t.pickle()), nil
}
