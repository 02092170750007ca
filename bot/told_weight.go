package bot

import (
	"salthand/cure"
	"salthand/grammar"
)

// mixTold is what was taken of a mix holds of cure, where the line tells what the mix is made
// of: "45 g of the 450/425/75 mix", whose parts are read as salt, sugar, cure, the usual order,
// or "5% of a mix of 1 kg salt, 500 g sugar and 60 g cure". false: it doesn't, or it doesn't
// say how much was taken.
func (t *telling) mixTold() (grammar.Amount, bool) {
	a := grammar.Amount{Kind: cure.No1}
	salt, sugar, in := t.said.Salt.Value, t.said.Sugar.Value, cure.Gram(0)
	switch p := t.said.Parts; {
	case len(p) > 2:
		salt, sugar, in = cure.Gram(p[0]), cure.Gram(p[1]), cure.Gram(p[len(p)-1])
		for _, more := range p[2 : len(p)-1] {
			sugar += cure.Gram(more)
		}
	case t.said.Has("blend") && t.said.Salt.Set() && len(t.said.Amounts) > 0 && t.said.Amounts[0].Grams.Set():
		a = t.said.Amounts[0]
		a.Kind, in = kindOf(a), a.Grams.Value
	default:
		return a, false
	}
	all := salt + sugar + in
	taken := t.said.Small()
	if taken == 0 && len(t.said.Shares) > 0 {
		taken = cure.Gram(t.said.Shares[0]) * t.said.Weight()
	}
	if taken == 0 || all == 0 {
		return a, false
	}
	share := in / all
	t.said.Salt, t.said.Sugar = cure.Typed(taken*salt/all), cure.Typed(taken*sugar/all)
	t.fact(t.l.say("the mix"), t.l.say("read as %s salt, %s sugar, %s cure: %s of it is cure, %s in %s", trimmed(float64(salt), 1), trimmed(float64(sugar), 1),
		trimmed(float64(in), 1), percent(cure.Fraction(share), 2), grams(taken*share, 0.01), grams(taken, 0.1)))
	a.Grams = cure.Typed(taken * share)
	return a, true
}

// wrongWeight answers cure for one weight of meat that went on another.
func (t *telling) wrongWeight() {
	meant := t.said.For.Value
	amounts := t.measured()
	if t.said.Logged.Set() { // "tag says 4,2 but log 2,4kg, 6 g went in"
		meant = t.said.Logged.Value
	}
	if small := t.said.Small(); len(amounts) == 0 && small > 0 {
		amounts = []grammar.Amount{{Kind: cure.No1, Grams: cure.Typed(small)}}
	}
	t.meatTold()
	if len(amounts) == 0 || amounts[0].Rate.Set() {
		kind := cure.No1
		if len(t.said.Amounts) > 0 {
			kind = kindOf(t.said.Amounts[0])
		}
		right, ok := t.usualDose(kind)
		if !ok || meant == 0 {
			t.judged(cure.Found{}, false)
			return
		}
		amounts = []grammar.Amount{{Kind: kind, Grams: cure.Typed(right / t.said.Weight() * meant)}}
		t.fact(t.l.say("reckoned"), t.l.say("the usual dose for %s: %s", kilos(meant), grams(amounts[0].Grams.Value, 0.01)))
	}
	found, ok := t.checked(t.checkOf(amounts[:1]))
	t.judged(found, ok)
	t.ifRecordIsRight(amounts[:1])
	t.hold(t.held())
	t.line(t.l.say("Keep the old weight in the record and write the new one beside it, with who, when and why: an approval of the old one is void."))
	t.asks(t.l.say("Is it still to be mixed, or already stuffed or in the cure? The chef decides, and signs what is added."))
}

// ifRecordIsRight says what the same cure comes to on the weight of the record: which of the
// two weights is right, a scale has to say.
func (t *telling) ifRecordIsRight(amounts []grammar.Amount) {
	logged := t.said.Logged.Value
	if logged == 0 {
		if all := t.said.Weights(); t.said.Has("wrong-log") && len(all) > 1 {
			logged = all[1]
		}
	}
	if logged == 0 {
		return
	}
	c := t.checkOf(amounts)
	c.Meat.Pieces = []cure.Gram{logged}
	if found, err := examine(c, t.s); err == nil {
		t.fact(t.l.say("if it is the other weight"), t.l.say("on %s it would be %s", kilos(logged), ranged(t.l, found.Nitrite)))
	}
	t.line(t.l.say("Weigh the meat again before anything is added: one of the two weights is wrong."))
}

// skinned answers a weight that changed after the cure was weighed.
func (t *telling) skinned() {
	if t.said.Meat.Cut == "" {
		t.said.Meat.Cut = "pork belly"
		t.line(t.l.say("Nobody said which cut: it is reckoned as pork belly."))
	}
	old := t.said.For.Value
	all := t.said.Weights()
	switch off := t.said.Off.Value; {
	case off > 0 && old == 0 && len(all) > 0: // "trimmed 600 g off the 4.2 kg belly"
		old, t.said.Meat.Pieces = all[0], []cure.Gram{all[0] - off}
	case off > 0:
		t.said.Meat.Pieces = []cure.Gram{old - off}
	case old == 0 && len(all) > 1:
		old, t.said.Meat.Pieces = all[0], all[1:2]
	}
	if t.said.Weight() <= 0 {
		t.judged(cure.Found{}, false)
		return
	}
	right, ok := t.usualDose(cure.No1)
	if !ok || old == 0 {
		t.judged(cure.Found{}, false)
		return
	}
	now := t.said.Weight()
	was := right / now * old
	if a := t.measured(); len(a) > 0 && a[0].Grams.Set() {
		was = a[0].Grams.Value
	}
	found, ok := t.checked(t.checkOf([]grammar.Amount{{Kind: cure.No1, Grams: cure.Typed(was)}}))
	t.judged(found, ok)
	t.hold(t.held())
	t.fact(t.l.say("reckoned"),
		t.l.say("%s was right for %s; for %s it is %s", grams(right/now*old, 0.01), kilos(old), kilos(now), grams(right, 0.01)),
		t.l.say("take %s of the whole mix, or weigh it anew", trimmed(float64(now/old), 3)))
	t.line(t.l.say("Dose on the weight that goes into the cure. A changed weight makes an approval void."))
	t.asks(t.l.say("Is the mix on the meat already? If not, weigh it anew for the weight of now."))
}
