package bot

import (
	"slices"

	"salthand/cure"
	"salthand/grammar"
)

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
		right := meat * cure.Gram(t.usualShare())
		t.fact(t.l.say("by weight"), t.l.say("%s of %s is %s", percent(t.usualShare(), 2), grams(meat, 1), grams(right, 0.01)))
		t.fact(t.l.say("by the spoon"), t.l.say("one teaspoon on that would be %s to %s ppm", trimmed(float64(cure.Concentration(spoon.Low, t.no1(), meat)), 0), trimmed(float64(cure.Concentration(spoon.High, t.no1(), meat)), 0)))
	}
	t.asks(t.l.say("What does your scale say, to 0.1 g?"))
}

// coarseScale answers a scale that can't see the dose.
func (t *telling) coarseScale() {
	small := slices.Clone(t.said.Loose)
	for _, a := range t.said.Amounts {
		if a.Grams.Set() {
			small = append(small, a.Grams.Value)
		}
	}
	if len(small) == 1 && t.said.Has("coarse") && small[0] != 1 { // "scale shows whole grams"
		small = append([]cure.Gram{1}, small...)
	}
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
	if need == cure.Gram(int(need)) && step != cure.Gram(int(step)) { // "need 4.5 g, scale goes 5 g at a time"
		step, need = need, step
	}
	t.hold(t.l.say("HOLD: not on that scale: its step is %s, and %s is needed.", grams(step, 0), grams(need, 0)))
	if half := step / 2; half < need {
		target := cure.PPM(float64(t.usualShare()) * float64(t.no1()) * 1e6)
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
	t.fact(t.l.say("the dose"), t.l.say("%s of it is %s no. 1", percent(t.usualShare(), 2), grams(meat*cure.Gram(t.usualShare()), 0.01)))
	if len(t.said.Numbers) > 0 {
		typed := cure.Gram(t.said.Numbers[0]) * 453.59237
		t.fact(t.l.say("as typed"), t.l.say("%s lb would be %s and %s no. 1", trimmed(float64(t.said.Numbers[0]), 3), grams(typed, 0.1), grams(typed*cure.Gram(t.usualShare()), 0.01)))
	}
	t.asks(t.l.say("Type it as the scale says it, like  3 lb 5 oz : I read it so. Which cut is it?"))
}

// mostCure is the most per cent that is taken for a no. 1 on meat where three figures are
// told apart: nobody salts with so little. Common practice, no source.
const mostCure grammar.Part = 0.5

// threeShares answers cure, salt and sugar in per cent behind a weight.
func (t *telling) threeShares() {
	meat, p := t.said.Weight(), slices.Clone(t.said.Parts)
	if p[0] > mostCure && p[len(p)-1] <= mostCure { // "2.5 / 1 / .25": the cure stands last
		p = append(p[len(p)-1:], p[:len(p)-1]...)
	}
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
	t.asks(t.l.say("Is that the order, and is the cure a no. 1 of %s?", percent(t.no1(), 2)))
}

// eachPiece answers pieces that are dosed one by one.
func (t *telling) eachPiece() {
	pieces := append([]cure.Gram{}, t.said.Meat.Pieces...)
	for _, g := range t.said.Loose {
		if g >= 200 {
			pieces = append([]cure.Gram{g}, pieces...)
		}
	}
	share := t.usualShare()
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
		t.fact(t.l.say("each piece"), t.l.say("%s: %s no. 1, %s", grams(g, 0.1), grams(dose, 0.01), ppm(cure.Concentration(dose, t.no1(), g))))
	}
	t.asks(t.l.say("Which cut is it, and what strength does the bag say? Then type it as a dose."))
}
