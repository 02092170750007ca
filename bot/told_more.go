package bot

import (
	"salthand/cure"
	"salthand/grammar"
)

// The worked example of a belly that was cured twice in one place: 3 g more on 4 kg.
const (
	exampleBelly cure.Gram = 4000
	exampleMore  cure.Gram = 3
)

// folded answers a piece that lay folded or covered.
func (t *telling) folded() {
	t.hold(t.held())
	t.line(t.l.say("Don't put more cure on the spot: the dose was for the whole piece."))
	t.line(t.l.say("Unfold it, spread its liquid over it, turn it every day, and give it as many days more as the part was covered."))
	if len(t.said.Spans) > 0 {
		t.line(t.l.say("That is %s more.", span(t.l, t.said.Spans[0])))
	}
	switch {
	case len(t.said.Meat.Pieces) > 0 && len(t.measured()) > 0:
		t.withMore()
	case t.said.Has("add-more"):
		t.said.Meat.Cut, t.said.Meat.Pieces = "pork belly", []cure.Gram{exampleBelly}
		if right, ok := t.usualDose(cure.No1); ok {
			c := t.checkOf([]grammar.Amount{{Kind: cure.No1, Grams: cure.Typed(right + exampleMore)}})
			if found, err := examine(c, t.s); err == nil {
				t.fact(t.l.say("for example"), t.l.say("%s more on a belly of %s that had its %s comes to %s", grams(exampleMore, 0.1), kilos(exampleBelly), grams(right, 0.1), ranged(t.l, found.Nitrite)))
			}
		}
		t.said.Meat.Pieces = nil
	}
	t.asks(t.l.say("How many grams of cure went on that spot, and what does the whole piece weigh?"))
}

// withMore adds the figures of what went on top of the dose: of all amounts that were told, or
// of the one and the usual dose.
func (t *telling) withMore() {
	t.meatTold()
	amounts := t.measured()
	if len(amounts) == 1 {
		kind := kindOf(amounts[0])
		right, ok := t.usualDose(kind)
		if !ok {
			return
		}
		t.fact(t.l.say("reckoned"), t.l.say("nobody said what was in it before: the usual dose, %s, is taken", grams(right, 0.01)))
		amounts = append(amounts, grammar.Amount{Kind: kind, Grams: cure.Typed(right)})
	}
	t.checked(t.checkOf(amounts))
}

// moreAdded answers cure on a spot, on top of the dose.
func (t *telling) moreAdded() {
	t.hold(t.held())
	t.keepCold()
	t.line(t.l.say("Don't put more cure on the spot: the dose was for the whole piece."))
	t.line(t.l.say("Cure on one spot doesn't spread evenly: that spot has far more than the figure for the whole piece says."))
	t.neverOut()
	if len(t.said.Meat.Pieces) > 0 && len(t.measured()) > 0 {
		t.withMore()
	}
	t.asks(t.l.say("How many grams of cure went on that spot, and what does the whole piece weigh?"))
}

// cureUnsure answers cure of which nobody knows whether it went in.
func (t *telling) cureUnsure() {
	t.hold(t.held())
	t.keepCold()
	t.line(t.l.say("Not known whether it went in: don't add it to be sure."))
	t.line(t.l.say("Ask whoever weighed it. What the jar weighed before and weighs now is evidence, if nothing else was weighed from it; the entry is then made late, and marked so, and the chef decides."))
	if len(t.said.Meat.Pieces) > 0 {
		t.meatTold()
		kind := cure.No1
		if len(t.said.Amounts) > 0 {
			kind = kindOf(t.said.Amounts[0])
		}
		if right, ok := t.usualDose(kind); ok {
			t.fact(t.l.say("the dose"), t.l.say("%s for %s: that is what the jar should have lost", grams(right, 0.01), kilos(t.said.Weight())))
			c := t.checkOf([]grammar.Amount{{Kind: kind, Grams: cure.Typed(2 * right)}})
			if found, err := examine(c, t.s); err == nil {
				t.fact(t.l.say("at worst"), t.l.say("the full dose of %s again would come to %s, if it was in already", grams(right, 0.01), ranged(t.l, found.Nitrite)))
			}
		}
	}
	t.asks(t.l.say("What did the jar weigh before, what does it weigh now, and was anything else weighed from it?"))
}

// severalTimes adds what an amount comes to if it went in as often as the line says; false: it
// doesn't say so. Whether the amount is that of once or of all is for the person to say.
func (t *telling) severalTimes(once grammar.Amount) bool {
	times, ok := t.said.Several()
	if !ok || !once.Grams.Set() {
		return false
	}
	all := once
	all.Grams = cure.Typed(once.Grams.Value * cure.Gram(times))
	if found, err := examine(t.checkOf([]grammar.Amount{all}), t.s); err == nil {
		t.fact(t.l.say("if it went in several times"), t.l.say("%s times %s is %s: %s", trimmed(float64(times), 3), grams(once.Grams.Value, 0.01), grams(all.Grams.Value, 0.01), ranged(t.l, found.Nitrite)))
	}
	return true
}

// multipleOfUsual says what a multiple of the usual dose comes to, where its grams can't be
// told: the strength or the water wasn't said.
func (t *telling) multipleOfUsual(times grammar.Part) {
	d := grammar.Dose{Cut: "ground pork", Pieces: []cure.Gram{oneKilo}, Kind: cure.No1}
	if dose, err := compute(d, t.s); err == nil {
		t.fact(t.l.say("reckoned"), t.l.say("%s times the usual %s would be %s", trimmed(float64(times), 3), ppm(dose.Nitrite), ppm(dose.Nitrite*cure.PPM(times))))
	}
}
