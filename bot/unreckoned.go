package bot

import (
	"errors"

	"salthand/cure"
	"salthand/cure/brine"
	"salthand/cure/dry"
	"salthand/cure/ferment"
	"salthand/cure/heat"
	"salthand/cure/water"
)

// unreckoned words an error of a subject of cure: what can't be, and what can.
func unreckoned(l tongue, err error) Card {
	c := Card{Kind: ErrorCard, Title: l.say("That can't be reckoned."), Next: l.say("Check the figures and their units.")}
	var thick *brine.Undissolved
	var ice *brine.Frozen
	var ofBrine *brine.OutOfRange
	var ofWater *water.OutOfRange
	switch {
	case errors.As(err, &thick):
		c.Title = l.say("So much salt doesn't dissolve: at %s °C a brine holds %s at most.", trimmed(float64(thick.At), 1), percent(thick.Most, 1))
	case errors.As(err, &ice):
		c.Title = l.say("That brine freezes: ice forms from %s °C on.", trimmed(float64(ice.From), 1))
	case errors.As(err, &ofBrine):
		c.Title = rangeWords(l, string(ofBrine.What), ofBrine.Low, ofBrine.High)
	case errors.As(err, &ofWater) && ofWater.What == water.Whole:
		c.Title = l.say("Those parts come to more than the whole piece.")
	case errors.As(err, &ofWater):
		c.Title = rangeWords(l, string(ofWater.What), ofWater.Low, ofWater.High)
	case errors.Is(err, dry.ErrSeries), errors.Is(err, dry.ErrRange):
		c.Title = l.say("Those can't be the weights of one piece, one after another, and a target below the first.")
	case errors.Is(err, ferment.ErrLog), errors.Is(err, heat.ErrLog):
		c.Title = l.say("That is no temperature log: a temperature and how long it was held, one after another.")
	case errors.Is(err, ferment.ErrPH):
		c.Title = l.say("A pH of meat lies between 3 and 8.")
	case errors.Is(err, heat.ErrThick):
		c.Title = l.say("There is no freezing table for a piece so thick.")
	}
	return c
}

// What has a range, as brine and water name it: said by those names.
var _ = []string{
	msg("salt"), msg("water"), msg("sugar"), msg("protein"), msg("temperature"), msg("strength"), msg("volume"), msg("weight"), msg("meat"), msg("pickle"),
	msg("solute"), msg("meat water"), msg("pick-up"), msg("target"), msg("changes"), msg("freezing"), msg("loss"),
}

// rangeWords words a range that a value has to lie in; shares are per cent.
func rangeWords(l tongue, what string, low, high float64) string {
	unit := ""
	switch what {
	case string(brine.SaltShare), string(water.Protein), string(water.Sugar), string(brine.Target), string(brine.MeatWater), string(brine.PickUp):
		return l.say("The %s has to be between %s and %s.", l.say(what), percent(cure.Fraction(low), 1), percent(cure.Fraction(high), 1))
	case string(brine.Temperature):
		unit = " °C"
	case string(brine.Meat), string(brine.Water), string(brine.Weight), string(brine.Pickle), string(brine.Solute):
		unit = " g"
	case string(brine.Volume):
		unit = " l"
	}
	return l.say("The %s has to be between %s and %s%s.", l.say(what), trimmed(low, 2), trimmed(high, 2), unit)
}
