package bot

import (
	"salthand/cure"
	"salthand/grammar"
)

// saltTellers answer what is told of which salt, of none, and of swaps.
var saltTellers = map[grammar.Situation]func(*telling){
	grammar.CureAsSalt:   (*telling).cureAsSalt,
	grammar.UnknownSalt:  (*telling).unknownSalt,
	grammar.OwnMix:       (*telling).ownMix,
	grammar.TableSalt:    (*telling).tableSalt,
	grammar.NitriteNamed: (*telling).nitriteNamed,
	grammar.OldRub:       (*telling).oldRub,
	grammar.Celery:       (*telling).celery,
	grammar.NoCureIn:     (*telling).noCureIn,
	grammar.WeakCure:     (*telling).weakCure,
	grammar.OtherCure:    (*telling).otherCure,
	grammar.RateClaimed:  (*telling).rateClaimed,
}

// cureAsSalt answers curing salt that was taken for table salt.
func (t *telling) cureAsSalt() {
	t.hold(t.l.say("STOP: curing salt is no seasoning. Take the food and the jar off the line now; nobody eats it."))
	n := emergencyNumbers[string(t.s.Region.Value)].call
	if n == "" {
		n = t.l.say("your emergency number")
	}
	t.line(t.l.say("If anybody ate it, or feels dizzy, or has blue or grey lips: call %s, say suspected nitrite poisoning, keep the food.", n))
	t.line(t.l.say("Don't taste it. Keep what was seasoned, with the jar, apart and labelled. Tell whoever is in charge."))
	t.asks(t.l.say("Did anybody eat of it, and which jar was it?"))
}

// unknownSalt answers a powder, tub or bag that nobody can name.
func (t *telling) unknownSalt() {
	t.hold(t.l.say("HOLD: don't use it, don't taste it, don't put it on the line."))
	t.line(t.l.say("Colour is no identity: a faded dye proves nothing, and a white powder may be nitrite, nitrate, salt or something else."))
	t.line(t.l.say("Close it, write DO NOT USE on it, lock it away, tell whoever is in charge, and dispose of it by the site's rule. Look at what was refilled from it."))
	t.line(t.l.say("Then open a new tub with its label: write down product, strength in per cent, lot and the day it was opened. Curing salt stays in its own tub, dyed, locked, away from the salts."))
	t.asks(t.l.say("Has any of it been used, in what, and since when? If anybody ate of that and feels unwell, call for help first."))
}

// tableSalt answers pink, rock or sea salt that was used for a cure.
func (t *telling) tableSalt() {
	t.hold(t.l.say("HOLD: that salt has no nitrite. The meat is salted, and not cured, whatever its colour."))
	t.line(t.l.say("No cold smoke, no hanging, no airless pack. It is raw meat, and its days count as raw."))
	t.line(t.l.say("The chef decides: the right cure now, weighed, with the clock starting anew, only if it was at or below 5 °C (41 °F) all the time; or cook it; or discard it."))
	if len(t.said.Meat.Pieces) > 0 {
		t.meatTold()
		if right, ok := t.usualDose(cure.No1); ok {
			t.fact(t.l.say("the right cure"), t.l.say("%s no. 1 of the usual strength for %s: read the bag", grams(right, 0.01), kilos(t.said.Weight())))
		}
	}
	t.line(t.l.say("The other way round, curing salt used as table salt, is an emergency: take it off the line."))
	t.asks(t.l.say("What did the fridge read since it was salted, and since when?"))
}

// ownMix answers what somebody mixed of undiluted nitrite and salt: the grams decide, and a per
// cent that was said beside them is held against them.
func (t *telling) ownMix() {
	m := grammar.Mix{Salt: t.said.Salt}
	for _, a := range t.said.Amounts {
		if a.Kind == cure.PureNitrite && a.Grams.Set() && !m.From.Grams.Set() {
			m.From = a
		}
	}
	if len(t.said.Shares) > 0 {
		m.Nitrite = cure.Typed(t.said.Shares[0])
	}
	t.figured = t.figured.mix(m, t.s)
	t.card.Kind, t.answer.Kind = HoldCard, "hold"
	if t.card.Title == "" {
		t.card.Title = t.held()
	}
	t.fact(t.l.say("read as"), t.l.say("%s undiluted nitrite in %s salt", grams(m.From.Grams.Value, 0.01), grams(m.Salt.Value, 1)))
	t.line(t.l.say("Undiluted nitrite is for the chef alone, weighed on a scale that reads it, mixed in step by step, and labelled NOT FOR SEASONING with its strength."))
	t.asks(t.l.say("What did the scale say, for the nitrite and for the salt, and has any of the mix been used?"))
}

// oneKilo is what a rate is told for.
const oneKilo cure.Gram = 1000

// nitriteNamed answers a tub or a recipe that mixes up nitrite and nitrate.
func (t *telling) nitriteNamed() {
	t.hold(t.l.say("STOP: nitrite and nitrate are not the same. Don't weigh any of it."))
	if t.said.Has("undiluted") {
		t.hold(t.l.say("STOP: that is undiluted nitrite. Don't weigh any of it."))
	}
	t.line(t.l.say("Saltpetre is a loose word for nitrates (KNO3, NaNO3). NaNO2, E250, is nitrite, and far stronger in effect. The formula decides, never the name."))
	for _, a := range t.said.Amounts {
		if !a.Rate.Set() {
			continue
		}
		d := grammar.Dose{Cut: "ground pork", Pieces: []cure.Gram{oneKilo}, Kind: cure.No1}
		if dose, err := compute(d, t.s); err == nil {
			got := cure.PPM(float64(a.Rate.Value) * 1e6)
			t.fact(t.l.say("if it is nitrite"),
				t.l.say("%s a kilogram of pure nitrite is %s ppm, %s times the usual %s", grams(cure.Gram(a.Rate.Value)*oneKilo, 0.01), grouped(trimmed(float64(got), 0)), trimmed(float64(got/dose.Nitrite), 1), ppm(dose.Nitrite)),
				t.l.say("the usual dose of it would be a fraction of a gram a kilogram: no kitchen scale weighs that, which is why cure is bought diluted and dyed"))
		}
		break
	}
	t.line(t.l.say("Set the tub apart, with a label, locked. If any of it went into food: nobody eats it, watch for blue or grey lips and dizziness, call for help."))
	t.asks(t.l.say("What does the label say word for word, with the formula and the lot? Has any been used?"))
}

// oldRub answers a farmhouse rub with saltpetre.
func (t *telling) oldRub() {
	var in []grammar.Amount
	for _, a := range t.said.Amounts {
		if a.Grams.Set() && a.Kind == cure.Saltpetre {
			in = append(in, a)
		}
	}
	c := grammar.Rub{Amounts: in, Salt: t.said.Salt, Sugar: t.said.Sugar, Meat: t.said.Meat}
	if len(t.said.Shares) > 0 {
		c.Rate = cure.Typed(t.said.Shares[0])
	}
	t.hold(t.l.say("HOLD: saltpetre and curing salt are never swapped by weight."))
	if len(in) > 0 && c.Salt.Set() && len(c.Meat.Pieces) > 0 && c.Rate.Set() {
		t.meatTold()
		held := t.card
		t.figured = t.figured.rub(c, t.s)
		t.card.Kind, t.card.Title, t.card.Lines = held.Kind, held.Title, held.Lines
		mix := c.Salt.Value + c.Sugar.Value + in[0].Grams.Value
		same := in[0].Grams.Value / mix * cure.Gram(c.Rate.Value) * t.said.Weight()
		if right, ok := t.usualDose(cure.No1); ok {
			if found, err := examine(grammar.Check{Amounts: []grammar.Amount{{Kind: cure.No1, Grams: cure.Typed(same)}}, Meat: t.said.Meat}, t.s); err == nil {
				t.fact(t.l.say("by equal weight"), t.l.say("%s no. 1 in its place would be %s: no cure", grams(same, 0.01), ranged(t.l, found.Nitrite)))
			}
			t.fact(t.l.say("on the meat"), t.l.say("the dose of no. 1 is %s for %s", grams(right, 0.01), kilos(t.said.Weight())),
				t.l.say("salt at 2 to 2.5 %% would be %s to %s: the old rub is a heavy salting that is soaked out", grams(t.said.Weight()*0.02, 1), grams(t.said.Weight()*0.025, 1)))
		}
	}
	t.line(t.l.say("How much of the rub went on decides. Nitrate is not allowed in bacon in the US."))
	t.asks(t.l.say("What is to be made, how heavy is it, and which cure is in the jar, with its strength?"))
}

// The example for a powder whose certificate is not at hand.
const (
	examplePowder cure.Fraction = 0.0115 // nitrite in a cultured powder that gives 100 to 200 ppm at 0.87 to 1.7 %: a supplier's page, secondary
	examplePPM    cure.PPM      = 120
)

// celery answers a vegetable powder in the place of a cure.
func (t *telling) celery() {
	t.hold(t.l.say("HOLD: a vegetable powder is dosed by the nitrite of its lot, from the certificate."))
	meat := t.said.Weight()
	if len(t.said.Amounts) > 0 && meat > 0 {
		for _, a := range t.said.Amounts {
			if !a.Rate.Set() {
				continue
			}
			powder := meat * cure.Gram(a.Rate.Value)
			t.fact(t.l.say("as powder"), t.l.say("%s of it on %s would be %s ppm: no cure. A figure that small is nitrite, and not powder", grams(powder, 0.01), kilos(meat),
				trimmed(float64(a.Rate.Value)*float64(examplePowder)*1e6, 1)))
		}
	}
	if meat > 0 {
		t.fact(t.l.say("for example"), t.l.say("with %s nitrite on the certificate, %s on %s take %s of powder", percent(examplePowder, 2), ppm(examplePPM), kilos(meat),
			grams(meat*cure.Gram(examplePPM)/1e6/cure.Gram(examplePowder), 1)))
	}
	t.line(t.l.say("Uncultured celery juice or powder is nitrate: it needs a culture to become nitrite. Celery is an allergen that has to be declared."))
	t.line(t.l.say("Whether it may be called uncured, and whether such a powder is allowed at all, is for the authority: many retail plans allow only a dyed no. 1."))
	t.asks(t.l.say("What does the certificate of this lot say, in per cent nitrite?"))
}

// noCureIn answers meat that was kept, smoked or dried without nitrite.
func (t *telling) noCureIn() {
	t.hold(t.l.say("HOLD: without nitrite this is raw meat with salt. A food business most likely has to discard it; the chef decides."))
	t.line(t.l.say("Hours between 5 and 57 °C (41 and 135 °F), without air and without nitrite, are how botulinum and staphylococci make their poisons. Cooking doesn't destroy them all, and smell and looks prove nothing."))
	t.line(t.l.say("Cure that is added now doesn't make the days before it good. No cold or slow smoke, no drying, no airless pack, not for staff or friends either."))
	if t.said.SaltShare.Set() {
		t.line(t.l.say("%s salt doesn't hold raw meat.", percent(t.said.SaltShare.Value, 2)))
	}
	if t.said.Product == "salami" || t.said.Has("no-starter") || t.said.Has("fermenting") {
		t.line(t.l.say("A fermented sausage wants no. 2 at 0.25 %, a culture with its lot, 2.5 to 3 % salt, pH 5.3 or lower within its degree-hours, and water activity at release."))
	}
	t.line(t.l.say("What hangs for weeks wants no. 2 at 0.25 %: 6.25 g on 2.5 kg. First salted cold, and only then at 12 to 15 °C."))
	t.line(t.l.say("Write down lot, quantity, the reason, and the lot of the blend. From now on ask of every mix: is cure in it, and how many per cent?"))
	t.asks(t.l.say("How much is it, how long was it above 5 °C (41 °F), and what of it is already out?"))
}

// The example for a cure that is weaker than no. 1: a bird in its brine.
const (
	exampleBird  cure.Gram     = 5000
	exampleWater cure.Gram     = 4000
	exampleKit   cure.Fraction = 0.0085 // nitrite of a kit's cure: labels of 0.75 to 0.85 %, secondary
)

// weakCure answers a kit's or a shop's mix where a recipe asks for no. 1.
func (t *telling) weakCure() {
	t.hold(t.l.say("HOLD: that cure's strength isn't known, and it is never swapped spoon for spoon."))
	t.line(t.l.say("Cures of kits and shops have been labelled from 0.5 to 0.85 % nitrite: seven to twelve times weaker than no. 1, with sugar, salt and sometimes nitrate in them."))
	if len(t.said.Shares) > 0 && t.said.Weight() > 0 {
		t.meatTold()
		t.weakFigures(t.said.Shares[0])
	} else {
		t.exampleOfWeak()
	}
	t.asks(t.l.say("What does its label say, in per cent nitrite and nitrate, and how much meat and water is it for?"))
}

// weakFigures are what spoons of a weak mix come to, and what would have been needed.
func (t *telling) weakFigures(strength cure.Fraction) {
	a := grammar.Amount{Kind: cure.HouseCure, Nitrite: cure.Typed(strength)}
	for _, one := range t.said.Amounts {
		if one.Spoons.Set() {
			a.Spoons = one.Spoons
			break
		}
	}
	if found, err := examine(grammar.Check{Amounts: []grammar.Amount{a}, Meat: t.said.Meat}, t.s); err == nil {
		t.fact(t.l.say("on the meat alone"), t.l.say("%s: no cure, and less still with the water counted", ranged(t.l, found.Nitrite)))
	}
	for _, water := range []cure.Gram{0, 2000} {
		d := t.said.Meat
		if water > 0 {
			d.Method, d.Water = cure.Typed(cure.CoverBrine), cure.Typed(water)
		}
		all := t.said.Weight() + water
		target := cure.Gram(150e-6)
		label := t.l.say("for 150 ppm")
		t.fact(label, t.l.say("on %s of meat and water: %s of this mix, or %s of no. 1 at %s", kilos(all), grams(all*target/cure.Gram(strength), 1), grams(all*cure.Gram(t.usualShare()), 0.1), percent(t.no1(), 2)))
	}
	t.line(t.l.say("The dose of so weak a mix is nearly all the salt: leave the other salt out. It can be put right on the first day only, and the clock starts again."))
}

// exampleOfWeak is a worked example of a weak cure.
func (t *telling) exampleOfWeak() {
	d := grammar.Dose{Cut: "turkey breast", Pieces: []cure.Gram{exampleBird}, Method: cure.Typed(cure.CoverBrine), Water: cure.Typed(exampleWater), Kind: cure.No1, Salt: cure.Typed(cure.Fraction(0.025))}
	strong, err := compute(d, t.s)
	if err != nil {
		return
	}
	no1 := doseGrams(strong)
	weak := no1 * 0.0625 / cure.Gram(exampleKit)
	t.fact(t.l.say("for example"), t.l.say("%s of meat in %s l of brine: %s of a cure with %s nitrite, or %s of no. 1", kilos(exampleBird), trimmed(float64(exampleWater)/1000, 1),
		grams(weak, 1), percent(exampleKit, 2), grams(no1, 0.1)))
}

// doseGrams is the cure of a dose.
func doseGrams(d cure.Dose) cure.Gram {
	for _, a := range d.Add {
		if a.Item == cure.CureItem {
			return a.Exact
		}
	}
	return 0
}

// otherCure answers one cure where a recipe has another.
func (t *telling) otherCure() {
	var from, to grammar.Amount
	for _, a := range t.said.Amounts {
		switch {
		case a.Kind == cure.NitritedSalt && (to.Kind == cure.NoAgent || a.Nitrite.Set()):
			to = a
		case a.Kind != cure.NitritedSalt && from.Kind == cure.NoAgent:
			from = a
		}
	}
	if from.Kind == cure.NoAgent && len(t.said.Meant) > 0 { // "instead of no. 1"
		from = t.said.Meant[0]
	}
	if !to.Nitrite.Set() {
		to.Nitrite = cure.Typed(exampleNitrited)
		t.line(t.l.say("Reckoned with a nitrited salt of %s: read the bag, they have 0.4 to 0.9 %%.", percent(exampleNitrited, 1)))
	}
	if to.Rate.Set() && float64(to.Rate.Value) == float64(to.Nitrite.Value) {
		to.Rate = cure.Given[cure.Fraction]{}
	}
	t.says("swap", t.l.say("Never gram for gram: a cure is swapped by its nitrite."))
	known := len(t.said.Meat.Pieces) > 0
	if !known {
		t.said.Meat.Pieces = []cure.Gram{oneKilo}
	}
	if t.said.Meat.Cut == "" {
		t.said.Meat.Cut = "pork belly"
	}
	right, ok := t.usualDose(cure.No1)
	if from.Rate.Set() {
		right, ok = cure.Gram(from.Rate.Value)*t.said.Weight(), true
	}
	if !ok {
		t.judged(cure.Found{}, false)
		return
	}
	from.Rate, from.Spoons, from.Grams = cure.Given[cure.Fraction]{}, cure.Given[grammar.Spoons]{}, cure.Typed(right)
	c := grammar.Swap{From: from, To: grammar.Amount{Kind: to.Kind, Nitrite: to.Nitrite}, Meat: t.said.Meat}
	if t.said.SaltShare.Set() {
		c.Salt = cure.Typed(cure.Gram(t.said.SaltShare.Value) * t.said.Weight())
	}
	title, lines := t.card.Title, t.card.Lines
	t.figured = t.figured.swap(c, t.s)
	if t.card.Kind == QuestionCard || t.card.Kind == StopCard {
		return
	}
	t.card.Title, t.card.Lines = title, lines
	t.swapEnds(to, right)
	t.line(t.l.say("It takes the place of the cure and of most of the salt: don't add the recipe's salt beside it."))
	if !known {
		t.line(t.l.say("Nobody said how much meat: the figures are for 1 kg of it."))
	}
	t.asks(t.l.say("How many per cent nitrite does your bag say, and how much salt is wanted in all?"))
}

// exampleNitrited is the strength that an example takes: the commonest European one.
const exampleNitrited cure.Fraction = 0.006

// swapEnds are the figures of the two swaps gram for gram, and of a milder salting.
func (t *telling) swapEnds(to grammar.Amount, no1 cure.Gram) {
	meat := t.said.Weight()
	needed := no1 * 0.0625 / cure.Gram(to.Nitrite.Value)
	perKilo := grams(needed/meat*oneKilo, 1)
	back := float64(int(float64(needed/meat*oneKilo)+0.5)) / 1000 * 0.0625 * 1e6
	lines := []string{
		t.l.say("salt from it alone: %s", percent(cure.Fraction(needed*(1-cure.Gram(to.Nitrite.Value))/meat), 2)),
		t.l.say("no. 1 at its rate, %s a kilogram, would be %s ppm: dangerous", perKilo, grouped(trimmed(back, 0))),
	}
	if t.said.Weight() != oneKilo {
		mild := meat * 0.02
		lines = append(lines, t.l.say("for 2 %% salt, %s of it gives %s", grams(mild, 0.1), ppm(cure.PPM(float64(mild)*float64(to.Nitrite.Value)/float64(meat)*1e6))))
	}
	t.fact(t.l.say("beside it"), lines...)
}

// rateClaimed answers a spoon for so many pounds, out of a page or a book.
func (t *telling) rateClaimed() {
	t.meatTold()
	t.says("check", t.l.say("A spoon is no rule: the house rule is grams on the scale."))
	for _, a := range t.said.Amounts {
		if !a.Spoons.Set() {
			continue
		}
		found, err := examine(t.checkOf([]grammar.Amount{a}), t.s)
		if err != nil {
			continue
		}
		words := t.l.say("%s %s on %s: %s to %s ppm, by what such spoons have weighed", trimmed(a.Spoons.Value.Count, 2), t.l.say(a.Spoons.Value.Unit), kilos(t.said.Weight()),
			trimmed(float64(found.Nitrite.Low), 0), trimmed(float64(found.Nitrite.High), 0))
		if found.Nitrite.High < 120 {
			words += t.l.say(": too little to rely on")
		}
		t.fact(t.l.say("by the spoon"), words)
	}
	if right, ok := t.usualDose(cure.No1); ok {
		t.fact(t.l.say("by weight"), t.l.say("%s no. 1 of the usual strength, for the usual target: 0.25 %% of the meat", grams(right, 0.01)))
	}
	t.line(t.l.say("A page that disagrees with the limit of the law is not adopted, however sure it sounds. These figures alone don't say that anybody was harmed; if somebody feels unwell after eating, call for help first."))
	t.asks(t.l.say("What did your spoon weigh, on a scale that reads to 0.1 g?"))
}
