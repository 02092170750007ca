package bot

import (
	"salthand/cure"
	"salthand/grammar"
)

// basisTellers answer what is asked about sums, bases and units.
var basisTellers = map[grammar.Situation]func(*telling){
	grammar.Basis:           (*telling).basis,
	grammar.StrengthOrDose:  (*telling).strengthOrDose,
	grammar.SaltInclusive:   (*telling).saltInclusive,
	grammar.PerCentSlip:     (*telling).perCentSlip,
	grammar.PerKiloSum:      (*telling).perKiloSum,
	grammar.LiquidInBag:     (*telling).liquidInBag,
	grammar.SpoonWeight:     (*telling).spoonWeight,
	grammar.CoarseScale:     (*telling).coarseScale,
	grammar.PoundsAndOunces: (*telling).poundsAndOunces,
	grammar.ThreeShares:     (*telling).threeShares,
	grammar.EachPiece:       (*telling).eachPiece,
}

// usualTarget is what the usual rate of a no. 1 comes to: 0.25 % of 6.25 %. Common practice, no
// source.
const usualTarget cure.Fraction = 0.0025 * 0.0625

// no1Anywhere is the no. 1 that is reckoned with where a region has no usual one and nobody said
// its strength: that of the US and Canada. Common practice, no source. The card names it.
const no1Anywhere cure.Fraction = 0.0625

// no1 is the strength of a no. 1: as it was said, else the usual one of the region.
func (t *telling) no1() cure.Fraction {
	if said := t.said.Strength(); said >= weakCure {
		return said
	}
	if usual, ok := cure.No1.Usual(t.s.Region.Value); ok {
		return usual.Nitrite
	}
	return no1Anywhere
}

// usualShare is the rate of a no. 1 that comes to the usual target.
func (t *telling) usualShare() cure.Fraction { return usualTarget / t.no1() }

// weakCure is a strength that no no. 1 has: below it a cure is a nitrited salt.
const weakCure cure.Fraction = 0.02

// usualNo1 names the cure that a sum in free words is about where nobody said its strength.
func (t *telling) usualNo1() {
	t.line(t.l.say("Reckoned with a no. 1 of %s nitrite: read the bag.", percent(t.no1(), 2)))
}

// basis answers whether a per cent is of the meat, or of meat and water.
func (t *telling) basis() {
	t.says("dose", t.l.say("For an evened-out brine: of meat and water together. For a dry rub: of the meat."))
	meat, water := t.said.Weight(), t.said.Liquid.Value
	if meat == 0 || water == 0 {
		t.line(t.l.say("In a brine the cure and the salt spread through meat and water; dosed on the meat alone they end up far too weak. Salt and sugar counted into the weight change it by 3 to 4 %: pick one basis and write it down."))
		t.asks(t.l.say("Brine or dry rub, how much meat, how much water?"))
		return
	}
	rate, salt := t.usualShare(), cure.Fraction(0.025) // the usual ones, see cure's rules
	for _, a := range t.said.Amounts {
		if a.Rate.Set() {
			rate = a.Rate.Value
		}
	}
	if t.said.SaltShare.Set() {
		salt = t.said.SaltShare.Value
	}
	t.usualNo1()
	both := meat + water
	t.fact(t.l.say("meat and water"),
		t.l.say("%s + %s water = %s", grams(meat, 1), grams(water, 1), grams(both, 1)),
		t.l.say("%s of it is %s no. 1, %s; salt at %s is %s in all", percent(rate, 2), grams(both*cure.Gram(rate), 0.01), ppm(cure.Concentration(both*cure.Gram(rate), t.no1(), both)), percent(salt, 2), grams(both*cure.Gram(salt), 0.1)))
	t.fact(t.l.say("on the meat alone"), t.l.say("%s would leave %s: too weak", grams(meat*cure.Gram(rate), 0.01), ppm(cure.Concentration(meat*cure.Gram(rate), t.no1(), both))))
	if t.said.Imperial.Set() {
		imperial := meat + t.said.Imperial.Value
		t.fact(t.l.say("imperial gallon"), t.l.say("with %s water: %s no. 1, %s salt in all", grams(t.said.Imperial.Value, 1), grams(imperial*cure.Gram(rate), 0.1), grams(imperial*cure.Gram(salt), 0.1)))
	}
	t.line(t.l.say("Salt and sugar counted into the weight would add 3 to 4 %: pick one basis and write it on the log. Bacon in a brine has a limit of its own in the US, 120 ppm."))
	if t.said.Imperial.Set() {
		t.asks(t.l.say("US or imperial gallon?"))
		return
	}
	t.asks(t.l.say("Is it left in until it is even, or taken out early?"))
}

// strengthOrDose answers a strength that is taken for a dose.
func (t *telling) strengthOrDose() {
	strength, share := t.said.Strength(), t.usualShare()
	name := t.l.say("no. 1")
	if strength == 0 {
		strength = t.no1()
	}
	if strength < weakCure { // a nitrited salt: what comes to the same
		share, name = t.usualShare()*t.no1()/strength, t.l.say("nitrited salt")
	}
	meat := t.said.Weight()
	got := cure.Concentration(oneKilo*cure.Gram(share), strength, oneKilo)
	t.hold(t.l.say("HOLD: %s is the strength of the cure, and never the dose.", percent(strength, 2)))
	t.line(t.l.say("%s is how much nitrite is in %s. %s is how much of it goes on the meat. %s is what that comes to: one times the other.", percent(strength, 2), name, percent(share, 2), ppm(got)))
	if meat > 0 {
		t.fact(t.l.say("for your meat"), t.l.say("%s of it is %s %s", percent(share, 2), grams(meat*cure.Gram(share), 0.01), name))
		wrong := meat * cure.Gram(strength)
		if most := cure.Concentration(wrong, strength, meat); most > got {
			t.fact(t.l.say("the strength as a dose"), t.l.say("%s would be %s ppm: dangerous", grams(wrong, 0.1), grouped(trimmed(float64(most), 0))))
		} else {
			t.fact(t.l.say("the strength as a dose"), t.l.say("%s would be %s ppm: far too little", grams(wrong, 0.1), grouped(trimmed(float64(most), 0))))
		}
	}
	t.asks(t.l.say("Has any been weighed already, and how many grams?"))
}

// saltInclusive answers whether the cure is within the salt or on top.
func (t *telling) saltInclusive() {
	t.says("dose", t.l.say("Both exist: follow the recipe card, and write down which. The cure is the same either way."))
	meat, salt := t.said.Weight(), t.said.SaltShare.Value
	if meat == 0 {
		meat = oneKilo
		t.line(t.l.say("Nobody said how much meat: the figures are for 1 kg of it."))
	}
	if salt == 0 {
		salt = 0.025
	}
	t.usualNo1()
	dose := meat * cure.Gram(t.usualShare())
	brings := dose * cure.Gram(1-t.no1())
	t.fact(t.l.say("on top"), t.l.say("%s salt and %s no. 1", grams(meat*cure.Gram(salt), 0.1), grams(dose, 0.01)))
	t.fact(t.l.say("within"), t.l.say("the cure brings %s salt: %s salt and %s no. 1", grams(brings, 0.01), grams(meat*cure.Gram(salt)-brings, 0.1), grams(dose, 0.01)))
	t.line(t.l.say("Never change the cure to make it more or less salty."))
	t.asks(t.l.say("Which of the two does the recipe card mean?"))
}

// perCentSlip answers a per cent that was worked out by hand.
func (t *telling) perCentSlip() {
	share, meat := cure.Fraction(0), t.said.Weight()
	mix := t.said.Has("blend")
	for _, a := range t.said.Amounts {
		if a.Rate.Set() {
			share = a.Rate.Value
		}
	}
	if share == 0 && len(t.said.Shares) > 0 {
		share = t.said.Shares[0]
	}
	ofSalt := share == 0 && t.said.SaltShare.Set()
	if ofSalt {
		share = t.said.SaltShare.Value
	}
	if share == 0 || meat == 0 {
		t.judged(cure.Found{}, false)
		return
	}
	right := meat * cure.Gram(share)
	t.hold(t.l.say("HOLD: %s of %s is %s.", percent(share, 3), grams(meat, 0.1), grams(right, 0.1)))
	t.fact(t.l.say("the sum"), t.l.say("times %s, and not times %s: that would be %s", trimmed(float64(share), 5), trimmed(float64(share)*10, 4), grams(right*10, 1)))
	if mix {
		t.exampleMix(share)
	}
	if ofSalt {
		t.asks(t.l.say("How much cure goes with it, and which?"))
		return
	}
	t.asks(t.l.say("Which mix is it, and how many per cent of it is no. 1? The dose follows from the cure in it, never from the mix alone."))
}

// The commonest mix of forums and books, in parts of salt, sugar and no. 1. Common practice,
// no source.
var exampleParts = [3]cure.Gram{450, 425, 75}

// exampleMix is what a share of the commonest mix comes to on the meat.
func (t *telling) exampleMix(share cure.Fraction) {
	all := exampleParts[0] + exampleParts[1] + exampleParts[2]
	strength := cure.Fraction(exampleParts[2] / all)
	meat := t.said.Weight()
	no1 := meat * cure.Gram(share) * cure.Gram(strength)
	got := cure.Concentration(no1, t.no1(), meat)
	t.fact(t.l.say("for example"),
		t.l.say("a mix of 450 salt, 425 sugar, 75 no. 1 is %s no. 1: %s of it brings %s no. 1, %s", percent(strength, 2), grams(meat*cure.Gram(share), 0.1), grams(no1, 0.1), ppm(got)),
		t.l.say("%s no. 1 on the meat is %s of that mix: %s", percent(t.usualShare(), 2), percent(t.usualShare()/strength, 2), grams(meat*cure.Gram(t.usualShare()/strength), 0.1)),
		t.l.say("ten times the share would be %s ppm", grouped(trimmed(float64(got)*10, 0))))
	d := t.said.Meat
	if d.Cut == "" {
		d.Cut = "pork belly"
	}
	if found, err := examine(grammar.Check{Amounts: []grammar.Amount{{Kind: cure.No1, Nitrite: cure.Typed(t.no1()), Grams: cure.Typed(no1)}}, Meat: d}, t.s); err == nil {
		t.fact(t.l.say("limits"), findingLines(t.l, found)...)
		if over(found) {
			t.warn(Warning{Level: cure.Hold.String(), Code: "mix", Text: t.l.say("so much of that mix would be over the limit")})
		}
	}
}

// perKiloSum answers a rate a kilogram that was multiplied or divided.
func (t *telling) perKiloSum() {
	var rate cure.Fraction
	for _, a := range t.said.Amounts {
		if a.Rate.Set() {
			rate = a.Rate.Value
		}
	}
	meat := t.said.Weight()
	right := meat * cure.Gram(rate)
	t.hold(t.l.say("HOLD: multiply. %s a kilogram on %s is %s.", grams(cure.Gram(rate)*oneKilo, 0.01), kilos(meat), grams(right, 0.01)))
	t.usualNo1()
	got := cure.Concentration(right, t.no1(), meat)
	t.fact(t.l.say("comes to"), t.l.say("%s at %s; the house rate of %s would be %s", ppm(got), percent(t.no1(), 2), percent(t.usualShare(), 2), grams(meat*cure.Gram(t.usualShare()), 0.01)))
	big := meat * 5
	perKilo := float64(cure.Gram(rate) * oneKilo)
	t.fact(t.l.say("why"), t.l.say("near 1 kg both look alike; on %s multiplying gives %s, dividing %s", kilos(big), grams(big*cure.Gram(rate), 0.1), grams(cure.Gram(perKilo/(float64(big)/1000)), 0.01)))
	if t.said.Meat.Cut == "" {
		t.said.Meat.Cut = "ground pork"
	}
	if found, err := examine(grammar.Check{Amounts: []grammar.Amount{{Kind: cure.No1, Nitrite: cure.Typed(t.no1()), Grams: cure.Typed(right)}}, Meat: t.said.Meat}, t.s); err == nil {
		t.fact(t.l.say("limits"), findingLines(t.l, found)...)
	}
	t.asks(t.l.say("Where is that rate from, and what strength does the bag say?"))
}

// immersedBacon is the us limit for bacon in a pickle. Source: 9 CFR 424.22(b)(1), 120 ppm,
// secondary.
const immersedBacon cure.PPM = 120

// liquidInBag answers sauce, wine or syrup beside the meat.
func (t *telling) liquidInBag() {
	meat, liquid := t.said.Weight(), t.said.Liquid.Value
	t.says("dose", t.l.say("On meat and liquid together: the cure spreads through both."))
	if meat > 0 && liquid > 0 {
		t.usualNo1()
		both := meat + liquid
		t.fact(t.l.say("meat and liquid"), t.l.say("%s of %s is %s no. 1; on the meat alone it would be %s", percent(t.usualShare(), 2), grams(both, 1), grams(both*cure.Gram(t.usualShare()), 0.01), grams(meat*cure.Gram(t.usualShare()), 0.01)))
		t.fact(t.l.say("if the plan calls a wet bag immersed bacon"), t.l.say("the limit is %s: at most %s", ppm(immersedBacon), grams(both*cure.Gram(immersedBacon)/1e6/cure.Gram(t.no1()), 0.01)))
	}
	if t.said.Has("acid") {
		t.hold(t.l.say("HOLD: on meat and liquid together, and no acid with the cure."))
		t.line(t.l.say("Vinegar, wine, citrus and hot sauce use up nitrite at the surface before it gets inside: cure first, glaze afterwards. Where it is mixed already, never add cure to make up for the acid: the chef decides."))
	}
	t.line(t.l.say("Write the liquid and its allergens on the log."))
	t.asks(t.l.say("Is it mixed already, and what is in the liquid?"))
}
