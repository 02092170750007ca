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

// usualShare is the usual rate of a no. 1 of 6.25 %: 0.25 % of the weight, which comes to
// 156.25 ppm. Common practice, no source.
const usualShare cure.Fraction = 0.0025

// no1Strength is the usual no. 1 of the US and Canada. Common practice, no source.
const no1Strength cure.Fraction = 0.0625

// usualNo1 names the cure that a sum in free words is about where nobody said its strength.
func (t *telling) usualNo1() {
	t.line(t.l.say("Reckoned with a no. 1 of 6.25 % nitrite: read the bag."))
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
	rate, salt := usualShare, cure.Fraction(0.025) // the usual ones, see cure's rules
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
		t.l.say("%s of it is %s no. 1, %s; salt at %s is %s in all", percent(rate, 2), grams(both*cure.Gram(rate), 0.01), ppm(cure.Concentration(both*cure.Gram(rate), no1Strength, both)), percent(salt, 2), grams(both*cure.Gram(salt), 0.1)))
	t.fact(t.l.say("on the meat alone"), t.l.say("%s would leave %s: too weak", grams(meat*cure.Gram(rate), 0.01), ppm(cure.Concentration(meat*cure.Gram(rate), no1Strength, both))))
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
	t.hold(t.l.say("HOLD: 6.25 % is the strength of the cure, and never the dose."))
	t.line(t.l.say("6.25 % is how much nitrite is in no. 1. 0.25 % is how much no. 1 goes on the meat. 156 ppm is what that comes to: 0.25 % of 6.25 %."))
	if meat := t.said.Weight(); meat > 0 {
		t.fact(t.l.say("for your meat"), t.l.say("%s of it is %s no. 1", percent(usualShare, 2), grams(meat*cure.Gram(usualShare), 0.01)))
		wrong := meat * cure.Gram(no1Strength)
		t.fact(t.l.say("the strength as a dose"), t.l.say("%s would be %s ppm: dangerous", grams(wrong, 0.1), grouped(trimmed(float64(cure.Concentration(wrong, no1Strength, meat)), 0))))
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
	dose := meat * cure.Gram(usualShare)
	brings := dose * cure.Gram(1-no1Strength)
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
	got := cure.Concentration(no1, no1Strength, meat)
	t.fact(t.l.say("for example"),
		t.l.say("a mix of 450 salt, 425 sugar, 75 no. 1 is %s no. 1: %s of it brings %s no. 1, %s", percent(strength, 2), grams(meat*cure.Gram(share), 0.1), grams(no1, 0.1), ppm(got)),
		t.l.say("0.25 %% no. 1 on the meat is %s of that mix: %s", percent(usualShare/strength, 2), grams(meat*cure.Gram(usualShare/strength), 0.1)),
		t.l.say("ten times the share would be %s ppm", grouped(trimmed(float64(got)*10, 0))))
	d := t.said.Meat
	if d.Cut == "" {
		d.Cut = "pork belly"
	}
	if found, err := examine(grammar.Check{Amounts: []grammar.Amount{{Kind: cure.No1, Nitrite: cure.Typed(no1Strength), Grams: cure.Typed(no1)}}, Meat: d}, t.s); err == nil {
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
	got := cure.Concentration(right, no1Strength, meat)
	t.fact(t.l.say("comes to"), t.l.say("%s at 6.25 %%; the house rate of %s would be %s", ppm(got), percent(usualShare, 2), grams(meat*cure.Gram(usualShare), 0.01)))
	big := meat * 5
	perKilo := float64(cure.Gram(rate) * oneKilo)
	t.fact(t.l.say("why"), t.l.say("near 1 kg both look alike; on %s multiplying gives %s, dividing %s", kilos(big), grams(big*cure.Gram(rate), 0.1), grams(cure.Gram(perKilo/(float64(big)/1000)), 0.01)))
	if t.said.Meat.Cut == "" {
		t.said.Meat.Cut = "ground pork"
	}
	if found, err := examine(grammar.Check{Amounts: []grammar.Amount{{Kind: cure.No1, Nitrite: cure.Typed(no1Strength), Grams: cure.Typed(right)}}, Meat: t.said.Meat}, t.s); err == nil {
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
		t.fact(t.l.say("meat and liquid"), t.l.say("%s of %s is %s no. 1; on the meat alone it would be %s", percent(usualShare, 2), grams(both, 1), grams(both*cure.Gram(usualShare), 0.01), grams(meat*cure.Gram(usualShare), 0.01)))
		t.fact(t.l.say("if the plan calls a wet bag immersed bacon"), t.l.say("the limit is %s: at most %s", ppm(immersedBacon), grams(both*cure.Gram(immersedBacon)/1e6/cure.Gram(no1Strength), 0.01)))
	}
	if t.said.Has("acid") {
		t.hold(t.l.say("HOLD: on meat and liquid together, and no acid with the cure."))
		t.line(t.l.say("Vinegar, wine, citrus and hot sauce use up nitrite at the surface before it gets inside: cure first, glaze afterwards. Where it is mixed already, never add cure to make up for the acid: the chef decides."))
	}
	t.line(t.l.say("Write the liquid and its allergens on the log."))
	t.asks(t.l.say("Is it mixed already, and what is in the liquid?"))
}

// spoonWeight answers how many grams a spoon is, and a kitchen without a scale.
func (t *telling) spoonWeight() {
	if t.said.Has("scale-gone") || t.said.Has("broken") {
		t.hold(t.l.say("HOLD: no scale, no cure today."))
		t.line(t.l.say("A spoon swings by two fifths: level teaspoons of no. 1 have weighed anything from 5.0 to 7.1 g. The log wants a reading to 0.1 g."))
		t.line(t.l.say("Keep the meat cold and uncured, at or below 4 °C (40 °F), or freeze it, until a scale is there."))
		t.asks(t.l.say("Can another scale be had, checked with a test weight?"))
		return
	}
	t.hold(t.l.say("HOLD: a spoon has no weight to rely on. Put the cure on a scale."))
	t.line(t.l.say("Level teaspoons of no. 1 have weighed anything from 5.0 to 7.1 g: weigh yours."))
	if meat := t.said.Weight(); meat > 0 {
		t.meatTold()
		t.usualNo1()
		spoon := cure.Teaspoon(1).Cure()
		right := meat * cure.Gram(usualShare)
		t.fact(t.l.say("by weight"), t.l.say("%s of %s is %s", percent(usualShare, 2), grams(meat, 1), grams(right, 0.01)))
		t.fact(t.l.say("by the spoon"), t.l.say("one teaspoon on that would be %s to %s ppm", trimmed(float64(cure.Concentration(spoon.Low, no1Strength, meat)), 0), trimmed(float64(cure.Concentration(spoon.High, no1Strength, meat)), 0)))
	}
	t.asks(t.l.say("What does your scale say, to 0.1 g?"))
}

// coarseScale answers a scale that can't see the dose.
func (t *telling) coarseScale() {
	small := append([]cure.Gram{}, t.said.Loose...)
	for _, n := range t.said.Numbers {
		if n > 0 {
			small = append(small, cure.Gram(n))
		}
	}
	if len(small) < 2 {
		t.hold(t.l.say("HOLD: the scale must read much finer than the dose."))
		t.asks(t.l.say("What is one step of the scale, and how many grams are needed?"))
		return
	}
	step, need := small[0], small[1]
	t.hold(t.l.say("HOLD: not on that scale: its step is %s, and %s is needed.", grams(step, 0), grams(need, 0)))
	if half := step / 2; half < need {
		target := cure.PPM(float64(usualShare) * float64(no1Strength) * 1e6)
		at := func(g cure.Gram) string { return trimmed(float64(target)*float64(g/need), 0) }
		shown := cure.Gram(int(float64(need/step)+0.5)) * step
		t.fact(t.l.say("what it may be"), t.l.say("shown as %s it is %s to %s: %s to %s ppm where %s is meant", grams(shown, 0), grams(shown-half, 0), grams(shown+half, 0), at(shown-half), at(shown+half), ppm(target)))
	} else {
		t.fact(t.l.say("what it may be"), t.l.say("half a step is as much as the dose: the reading means nothing"))
	}
	t.line(t.l.say("No pinches, no half spoons. Use a scale that reads to 0.1 g or finer (0.01 g below 1 kg of meat), checked with a test weight today, or cure so much at once that a step is less than 2 % of the dose."))
	t.line(t.l.say("Write the scale and its check on the log."))
	t.asks(t.l.say("Is there a finer scale, or more meat to cure at once?"))
}

// poundsAndOunces answers ounces that are typed as decimals.
func (t *telling) poundsAndOunces() {
	meat := t.said.Weight()
	pounds := float64(meat) / 453.59237 // NIST Handbook 44: 1 lb = 453.59237 g
	t.hold(t.l.say("No: 16 ounces make a pound. That weight is %s lb, %s.", trimmed(pounds, 4), grams(meat, 0.1)))
	t.usualNo1()
	t.fact(t.l.say("the dose"), t.l.say("%s of it is %s no. 1", percent(usualShare, 2), grams(meat*cure.Gram(usualShare), 0.01)))
	if len(t.said.Numbers) > 0 {
		typed := cure.Gram(t.said.Numbers[0]) * 453.59237
		t.fact(t.l.say("as typed"), t.l.say("%s lb would be %s and %s no. 1", trimmed(float64(t.said.Numbers[0]), 3), grams(typed, 0.1), grams(typed*cure.Gram(usualShare), 0.01)))
	}
	t.asks(t.l.say("Type it as the scale says it, like  3 lb 5 oz : I read it so. Which cut is it?"))
}

// threeShares answers cure, salt and sugar in per cent behind a weight.
func (t *telling) threeShares() {
	meat, p := t.said.Weight(), t.said.Parts
	of := func(i int) cure.Gram { return meat * cure.Gram(p[i]) / 100 }
	t.said.Salt, t.said.Sugar = cure.Typed(of(1)), cure.Typed(of(2))
	t.meatTold()
	found, ok := t.checked(t.checkOf([]grammar.Amount{{Kind: cure.No1, Grams: cure.Typed(of(0))}}))
	t.judged(found, ok)
	if !found.Held() && ok {
		t.says("check", t.l.say("%s no. 1, %s salt, %s sugar on %s", grams(of(0), 0.01), grams(of(1), 0.1), grams(of(2), 0.1), grams(meat, 1)))
	}
	t.fact(t.l.say("three figures"), t.l.say("read as %s cure, %s salt, %s sugar, each of the meat: %s no. 1, %s salt, %s sugar", percent(cure.Fraction(p[0]/100), 3), percent(cure.Fraction(p[1]/100), 2), percent(cure.Fraction(p[2]/100), 2),
		grams(of(0), 0.01), grams(of(1), 0.1), grams(of(2), 0.1)))
	t.asks(t.l.say("Is that the order, and is the cure a no. 1 of 6.25 %?"))
}

// eachPiece answers pieces that are dosed one by one.
func (t *telling) eachPiece() {
	pieces := append([]cure.Gram{}, t.said.Meat.Pieces...)
	for _, g := range t.said.Loose {
		if g >= 200 {
			pieces = append([]cure.Gram{g}, pieces...)
		}
	}
	share := usualShare
	if len(t.said.Shares) > 0 {
		share = t.said.Shares[0]
	}
	for _, a := range t.said.Amounts {
		if a.Rate.Set() {
			share = a.Rate.Value
		}
	}
	t.says("dose", t.l.say("Each piece by its own weight, on a scale that reads to 0.01 g."))
	t.usualNo1()
	for _, g := range pieces {
		dose := g * cure.Gram(share)
		t.fact(t.l.say("each piece"), t.l.say("%s: %s no. 1, %s", grams(g, 0.1), grams(dose, 0.01), ppm(cure.Concentration(dose, no1Strength, g))))
	}
	t.asks(t.l.say("Which cut is it, and what strength does the bag say? Then type it as a dose."))
}
