package bot

import (
	"slices"

	"salthand/cure"
	"salthand/grammar"
)

// amountTellers answer what is told of how much went in.
var amountTellers = map[grammar.Situation]func(*telling){
	grammar.WentIn:      (*telling).wentIn,
	grammar.Twice:       (*telling).twice,
	grammar.WrongWeight: (*telling).wrongWeight,
	grammar.WrongCure:   (*telling).wrongCure,
	grammar.Skinned:     (*telling).skinned,
	grammar.Folded:      (*telling).folded,
	grammar.MoreAdded:   (*telling).moreAdded,
	grammar.CureUnsure:  (*telling).cureUnsure,
	grammar.Leaked:      (*telling).leaked,
	grammar.DoseAsked:   (*telling).doseAsked,
}

// meatTold fills in what is needed to reckon with the meat: the cut of a product; ground pork,
// which has the strictest limit of what is rubbed or mixed, where nobody said what it is; one
// kilogram where nobody said how much. The card says so.
func (t *telling) meatTold() {
	m := &t.said.Meat
	if m.Cut == "" {
		m.Cut = cutOf[t.said.Product]
	}
	if m.Cut == "" && t.said.Has("game") { // strips of a muscle; the rows for ground game are the strictest of them
		m.Cut = "ground venison"
		if t.said.Liquid.Set() {
			m.Cut = "venison haunch"
		}
	}
	if m.Cut == "" && t.said.Liquid.Set() {
		m.Cut = "pork loin"
		t.line(t.l.say("Nobody said which cut: it is reckoned as a whole piece of pork."))
	}
	if m.Cut == "" || m.Cut == "mince" {
		m.Cut = "ground pork"
		t.line(t.l.say("Nobody said which cut: it is reckoned as ground pork."))
	}
	switch {
	case !t.said.Liquid.Set():
	case t.said.Has("marinade"):
		t.marinade = t.said.Liquid
	case !m.Method.Set():
		m.Method, m.Water = cure.Typed(cure.CoverBrine), t.said.Liquid
	case m.Method.Value == cure.CoverBrine && !m.Water.Set():
		m.Water = t.said.Liquid
	}
	if len(m.Pieces) == 0 {
		m.Pieces = []cure.Gram{1000}
		t.line(t.l.say("Nobody said how much meat: the figures are for 1 kg of it."))
	}
}

// usualDose is the dose of a kind of cure that would have been right for the meat; false where
// there is none.
func (t *telling) usualDose(kind cure.AgentKind) (cure.Gram, bool) {
	d := t.said.Meat
	d.Kind = kind
	dose, err := compute(d, t.s)
	if err != nil && !d.Method.Set() { // a cut for a brine whose water nobody told: as a check reckons it
		d.Method = cure.Typed(cure.DryRub)
		dose, err = compute(d, t.s)
	}
	if err != nil {
		return 0, false
	}
	for _, a := range dose.Add {
		if a.Item == cure.CureItem {
			return a.Exact, true
		}
	}
	return 0, false
}

// kindOf is the kind of cure that was told of: no. 1 where only "cure" was said.
func kindOf(a grammar.Amount) cure.AgentKind {
	if a.Kind == cure.NoAgent {
		return cure.No1
	}
	return a.Kind
}

// measured are the amounts of cure that have a quantity. One that was only named gets the
// small weight or the per cent of nothing that stands in the line beside it.
func (t *telling) measured() (out []grammar.Amount) {
	for _, a := range t.said.Amounts {
		if a.Grams.Set() || a.Spoons.Set() || a.Rate.Set() {
			out = append(out, a)
		}
	}
	if len(out) > 0 {
		return out
	}
	if t.said.Card.Set() { // "card said 7.5 g, i weighed 75 g"
		for _, g := range t.said.Loose {
			if g != t.said.Card.Value {
				return []grammar.Amount{{Grams: cure.Typed(g)}}
			}
		}
	}
	if len(t.said.Amounts) == 0 {
		return nil
	}
	a := t.said.Amounts[0]
	switch {
	case t.said.Small() > 0:
		a.Grams = cure.Typed(t.said.Small())
	case len(t.said.Shares) > 0 && t.said.Shares[0] < 0.05:
		a.Rate = cure.Typed(t.said.Shares[0])
	default:
		return nil
	}
	return []grammar.Amount{a}
}

// over reports whether what went in passes a limit that is enforced.
func over(found cure.Found) bool {
	for _, l := range found.Limits {
		if l.Limit.Enforced && l.High == cure.Over {
			return true
		}
	}
	return false
}

// aboveTarget reports whether more went in than the usual dose, be it under a limit or not.
func aboveTarget(found cure.Found) bool {
	for _, c := range found.Cautions {
		if c.Code == cure.CodeAboveTarget {
			return true
		}
	}
	return false
}

// plainSalt says what the plain salt is of the meat, without that of the cure: many recipe
// cards count so.
func (t *telling) plainSalt(found cure.Found) {
	salt, meat := t.said.Salt, t.said.Weight()
	if !salt.Set() || meat == 0 {
		return
	}
	lines := []string{t.l.say("%s plain salt is %s of the meat, the cure's own not counted", grams(salt.Value, 0.1), percent(cure.Fraction(salt.Value/meat), 2))}
	if want := cure.Gram(found.Request.Salt.Value) * meat; want > salt.Value {
		lines = append(lines, t.l.say("a card that counts plain salt alone has %s at %s: %s more", grams(want, 0.1), percent(found.Request.Salt.Value, 1), grams(want-salt.Value, 0.1)))
	}
	t.fact(t.l.say("plain salt"), lines...)
}

// judged ends an answer by what a check found: a hold where it found something, else the
// figures alone.
func (t *telling) judged(found cure.Found, ok bool) {
	switch {
	case !ok:
		t.hold(t.held())
		t.keepCold()
		t.asks(t.l.say("How many grams of which cure went on how much meat?"))
	case found.Held() || aboveTarget(found) || t.said.Has(":spoon"):
		t.hold(t.held())
		t.keepCold()
		if over(found) {
			t.line(t.l.say("Heat and smoke change nothing of what went in: the limit is on that."))
		}
	default:
		t.says("check", t.l.say("%s sodium nitrite by what was told", ranged(t.l, found.Nitrite)))
	}
}

// wentIn answers an amount that went in, or is meant to.
func (t *telling) wentIn() {
	amounts := t.measured()
	if mix, ok := t.mixTold(); ok {
		amounts = []grammar.Amount{mix}
	}
	if len(amounts) == 0 || len(t.said.Meat.Pieces) == 0 && !amounts[0].Rate.Set() {
		t.judged(cure.Found{}, false)
		return
	}
	t.meatTold()
	amounts = t.together(amounts)
	more := t.again(amounts)
	if thought := t.said.Loose; t.said.Has("thinking") && len(thought) > 0 { // "recipe says 5 tsp, im thinking 12 g"
		other := amounts[0]
		other.Spoons, other.Rate, other.Grams = cure.Given[grammar.Spoons]{}, cure.Given[cure.Fraction]{}, cure.Typed(thought[0])
		if found, err := examine(t.checkOf([]grammar.Amount{other}), t.s); err == nil {
			t.fact(t.l.say("your figure"), t.l.say("%s comes to %s", grams(thought[0], 0.1), ranged(t.l, found.Nitrite)))
		}
	}
	if t.said.Imperial.Set() && t.said.Meat.Water.Set() {
		t.imperial()
	}
	several := t.severalTimes(amounts[0])
	found, ok := t.checked(t.checkOf(amounts))
	t.plainSalt(found)
	t.judged(found, ok)
	t.whichSalt(amounts)
	if several || more {
		t.hold(t.held())
	}
	if t.marinade.Set() {
		t.line(t.l.say("What is in the marinade counts for the label: soy sauce brings wheat and soy, both allergens."))
	}
	switch {
	case t.said.Has(":spoon"):
		t.asks(t.l.say("Weigh what such a spoon holds of this cure: what does the scale say?"))
	case found.TopUp != nil:
		t.asks(t.l.say("When did it go in? The chef decides whether the missing part is added today, weighed, and the clock starts again."))
	case found.Held():
		t.asks(t.l.say("Was that weighed, and on which scale? The chef decides what becomes of it."))
	}
}

// whichSalt says what the figures rest on where nobody said which curing salt it was: "pink salt"
// may be none.
func (t *telling) whichSalt(amounts []grammar.Amount) {
	if slices.ContainsFunc(amounts, func(a grammar.Amount) bool { return a.Kind == cure.NoAgent && a.Jar == "" }) {
		t.line(t.l.say("Which salt it was is not said: the figures hold only if its bag says no. 1. Read the bag; table, rock or sea salt that is pink is no cure."))
	}
}

// again adds what went in on top of the first amount, "then another 8 g", and says so.
func (t *telling) again(amounts []grammar.Amount) bool {
	more, first := t.said.Again, amounts[0].Grams
	if !more.Set() || !first.Set() {
		return false
	}
	amounts[0].Grams = cure.Typed(first.Value + more.Value)
	t.fact(t.l.say("reckoned"), t.l.say("%s and another %s: %s in all", grams(first.Value, 0.01), grams(more.Value, 0.01), grams(amounts[0].Grams.Value, 0.01)))
	return true
}

// together are the amounts that are reckoned as being in the meat: of each kind of cure one, the
// greatest, since two figures may be two words for one dose; all of them where the line says so.
func (t *telling) together(amounts []grammar.Amount) (in []grammar.Amount) {
	if t.said.Has("both") {
		return amounts
	}
	for _, a := range amounts {
		i := slices.IndexFunc(in, func(b grammar.Amount) bool { return kindOf(a) == kindOf(b) })
		switch {
		case i < 0:
			in = append(in, a)
		case in[i].Grams.Set() && a.Grams.Value > in[i].Grams.Value, in[i].Spoons.Set() && a.Spoons.Value.Count > in[i].Spoons.Value.Count:
			in[i] = a
		}
	}
	return in
}

// doseAsked answers how much cure a piece wants, asked in half a sentence: with the dose card.
func (t *telling) doseAsked() {
	d := t.said.Meat
	d.JustAsking = true
	if len(t.said.Amounts) > 0 {
		a := t.said.Amounts[0]
		d.Kind, d.Nitrite, d.Nitrate, d.Rate = a.Kind, a.Nitrite, a.Nitrate, a.Rate
		if d.Rate.Set() {
			d.Kind = kindOf(a)
		}
	}
	d.Salt, d.Sugar = t.said.SaltShare, t.said.SugarShare
	if t.said.Liquid.Set() && !d.Method.Set() {
		d.Method, d.Water = cure.Typed(cure.CoverBrine), t.said.Liquid
	}
	if t.said.Imperial.Set() {
		t.asks(t.l.say("US or imperial gallons? Type it as a phrase, like  brine 1 us gal ."))
		t.says("unclear", t.l.say("A US gallon is 3.785 l, an imperial one 4.546 l."))
		return
	}
	t.figured = asked(t.l, "dose", d, t.s).dose(d, t.s)
	if t.card.Kind == DoseCard {
		t.card.Next = t.l.say("No batch was made. Type it without \"how much for\" to make one.")
	}
}

// imperial says what the dose would be if the gallon was the imperial one.
func (t *telling) imperial() {
	d := t.said.Meat
	d.Water = t.said.Imperial
	d.Kind = cure.No1
	dose, err := compute(d, t.s)
	if err != nil {
		return
	}
	for _, a := range dose.Add {
		if a.Item == cure.CureItem {
			t.fact(t.l.say("imperial gallon"), t.l.say("reckoned with US gallons; with imperial ones the dose is %s", grams(a.Exact, 0.1)))
		}
	}
}

// twice answers a dose that went in several times, or a share too much of it.
func (t *telling) twice() {
	times, ok := t.said.Multiple()
	if !ok {
		times = 2
	}
	t.meatTold()
	a := t.said.Amounts[0]
	right, ok := t.usualDose(kindOf(a))
	if !ok {
		t.judged(cure.Found{}, false)
		t.multipleOfUsual(times)
		return
	}
	a.Kind = kindOf(a)
	a.Grams = cure.Typed(right * cure.Gram(times))
	t.fact(t.l.say("reckoned"), t.l.say("%s times the usual dose of %s is %s", trimmed(float64(times), 3), grams(right, 0.01), grams(a.Grams.Value, 0.01)))
	t.said.Amounts[0] = a
	c := t.checkOf(t.said.Amounts[:1])
	found, ok := t.checked(c)
	t.judged(found, ok)
	t.hold(t.held())
	t.asks(t.l.say("What did the scale say, for the cure and for the meat? Write down what happened and why."))
}

// wrongCure answers no. 2 in the place of no. 1, or the other way.
func (t *telling) wrongCure() {
	t.meatTold()
	is, meant := t.said.Amounts[0], t.said.Meant[0].Kind
	amounts := t.measured()
	if len(amounts) == 0 {
		right, ok := t.usualDose(meant)
		if !ok {
			right, ok = t.usualDose(cure.No1)
		}
		if ok {
			is.Grams = cure.Typed(right)
			amounts = []grammar.Amount{is}
			t.fact(t.l.say("reckoned"), t.l.say("nobody said how much: the usual dose, %s, is taken", grams(right, 0.01)))
		}
	}
	if len(amounts) == 0 {
		t.judged(cure.Found{}, false)
		return
	}
	c := t.checkOf(amounts[:1])
	c.Meat.Kind = meant
	found, ok := t.checked(c)
	t.judged(found, ok)
	t.hold(t.held())
	t.line(t.l.say("Don't add the right cure on top: nitrite would count twice. Rinsing doesn't undo it."))
	if is.Kind == cure.No2 {
		t.line(t.l.say("No. 2 has nitrate. Where the law lets none into such a product, it can't be sold as it: the chef or whoever keeps the plan decides."))
		t.asks(t.l.say("What does the label of that no. 2 say, in per cent nitrite and nitrate? Set the jar apart."))
		return
	}
	t.line(t.l.say("Nitrite alone is spent before months of drying are over: that is what no. 2 is for. It may become a cooked or smoked product now, or dry for a short time under the written plan, with pH and water activity checked."))
	t.asks(t.l.say("Which of these does the chef decide? Nothing goes on as if it were right."))
}

// leaked answers liquid that was lost from a bag.
func (t *telling) leaked() {
	t.hold(t.held())
	t.keepCold()
	t.line(t.l.say("How much of the cure is gone can't be told from the liquid: the first of it is very strong."))
	t.line(t.l.say("Don't top it up by guess, don't give the full dose again, don't pour back what ran over a shelf, and don't share another bag's liquid."))
	t.line(t.l.say("Only what was caught in a clean tray goes back, and into a new bag. Else it counts as uncured: cooked soon and hot, or discarded, as the chef decides. Another bag that is whole goes on, under its own number."))
	t.line(t.l.say("Clean the shelf as raw meat and nitrite, and look at what stood below."))
	if len(t.said.Meat.Pieces) > 0 {
		t.meatTold()
		if right, ok := t.usualDose(cure.No1); ok {
			c := t.checkOf([]grammar.Amount{{Kind: cure.No1, Grams: cure.Typed(2 * right)}})
			if found, err := examine(c, t.s); err == nil {
				t.fact(t.l.say("at worst"), t.l.say("the full dose of %s again would come to %s, if nothing was lost", grams(right, 0.1), ranged(t.l, found.Nitrite)))
			}
		}
	}
	t.asks(t.l.say("Which batch is it, on which day, and was anything caught in a clean tray?"))
}
