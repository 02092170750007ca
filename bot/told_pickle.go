package bot

import (
	"slices"

	"salthand/cure"
	"salthand/grammar"
)

// pickleTellers answer what is asked about pickles.
var pickleTellers = map[grammar.Situation]func(*telling){
	grammar.PickleStrength: (*telling).pickleStrength,
	grammar.BrineRate:      (*telling).brineRate,
	grammar.RecipePasted:   (*telling).recipePasted,
}

// pickUp is how much of a pickle meat takes up in a short soak or a usual pump. Common
// practice, no source.
const pickUp cure.Fraction = 0.10

// dissolved is a rate per volume as a pickle; a spoon by its likely weight.
func (t *telling) dissolved(r grammar.PerVolume, water, other cure.Gram) cure.Dissolved {
	g := r.Of.Grams.Value
	if r.Of.Spoons.Set() {
		g = teaspoons(r.Of.Spoons.Value).Cure().Likely
	}
	return cure.Dissolved{Cure: g, Nitrite: t.no1(), Water: water, Other: other}
}

// teaspoons is a measure by volume in level teaspoons: a US cup is 48 of them, exactly. 0: it
// is no measure, as a pinch or a spoon of which nobody said the size.
func teaspoons(s grammar.Spoons) cure.Teaspoon {
	each := map[string]cure.Teaspoon{"teaspoon": 1, "tablespoon": cure.Tablespoon, "cup": 48}
	return cure.Teaspoon(s.Count) * each[s.Unit]
}

// brineLines are what a pickle of so much cure a measure comes to, by how it is used.
func (t *telling) brineLines(d cure.Dissolved, meat cure.Gram) []string {
	lines := []string{
		t.l.say("%s no. 1 in %s water: %s ppm in the pickle itself", grams(d.Cure, 0.1), grams(d.Water, 1), grouped(trimmed(float64(d.Concentration()), 0))),
		t.l.say("%s picked up or pumped: %s in the meat", percent(pickUp, 0), ppm(d.PickedUp(pickUp, 0))),
	}
	if meat > 0 {
		lines = append(lines, t.l.say("left in until even with %s of meat: %s ppm", kilos(meat), grouped(trimmed(float64(d.PickedUp(0, meat)), 0))))
	}
	return lines
}

// brineRate answers ounces, grams or spoons of cure in a gallon or a litre.
func (t *telling) brineRate() {
	r, meat := t.said.Rates[0], t.said.Weight()
	if r.Of.Spoons.Set() && teaspoons(r.Of.Spoons.Value) == 0 { // a pinch, a handful
		t.hold(t.l.say("HOLD: a spoon has no weight to rely on. Put the cure on a scale."))
		t.asks(t.l.say("What does your scale say, to 0.1 g?"))
		return
	}
	t.hold(t.l.say("HOLD: the same pickle is one thing for pumping and another for lying in it. How is it used?"))
	t.usualNo1()
	if r.Of.Spoons.Set() {
		t.line(t.l.say("A spoon is not a weight: reckoned with what it likely holds."))
	}
	t.fact(t.l.say("the pickle"), t.brineLines(t.dissolved(r, r.In, 0), meat)...)
	if r.Also > 0 {
		d := t.dissolved(r, r.Also, 0)
		t.fact(t.l.say("imperial gallon"), t.l.say("%s ppm in the pickle, %s at %s picked up", grouped(trimmed(float64(d.Concentration()), 0)), ppm(d.PickedUp(pickUp, 0)), percent(pickUp, 0)))
	}
	if meat > 0 {
		both := meat + r.In
		t.fact(t.l.say("left in until even"), t.l.say("%s of meat and water wants %s no. 1 at %s", grams(both, 1), grams(both*cure.Gram(t.usualShare()), 0.1), percent(t.usualShare(), 2)))
	}
	t.line(t.l.say("A pump's strength is far too strong for a piece that lies in it for days. Weigh the meat before and after: what it took up decides."))
	if t.said.Has("poultry") {
		t.line(t.l.say("Poultry: cook it to 74 °C (165 °F)."))
	}
	t.line(t.l.say("Never baste, mop or use a brine again that held raw meat: throw it away."))
	t.asks(t.l.say("Pumped, soaked for hours, or left in until even, and how much meat in how much water?"))
}

// pickleStrength answers a pickle that is told by its parts, and what a pump of it brings.
func (t *telling) pickleStrength() {
	amounts := t.measured()
	if len(amounts) == 0 || !amounts[0].Grams.Set() || !t.said.Liquid.Set() {
		t.says("unclear", t.l.say("A pump says how much pickle goes in; the pickle says how much nitrite. What is in it?"))
		t.line(t.l.say("Nitrite in the meat = nitrite in the pickle, times the pump, over the weight of all the pickle: water, salt, sugar and cure."))
		t.card.Kind = QuestionCard
		t.asks(t.l.say("How many grams of water, salt, sugar and cure, and what strength is the cure?"))
		return
	}
	t.usualNo1()
	d := cure.Dissolved{Cure: amounts[0].Grams.Value, Nitrite: t.no1(), Water: t.said.Liquid.Value, Other: t.said.Salt.Value + t.said.Sugar.Value}
	all := d.Cure + d.Water + d.Other
	t.says("check", t.l.say("All the pickle weighs %s, with %s nitrite in it.", grams(all, 1), grams(d.Cure*cure.Gram(d.Nitrite), 0.01)))
	pumps := append([]cure.Fraction{}, t.said.Pumps...)
	for _, n := range t.said.Numbers { // "pump 10% = ppm? and if 15?"
		if n >= 3 && n <= 50 {
			pumps = append(pumps, cure.Fraction(n/100))
		}
	}
	cuts := []struct{ cut, label string }{{"boneless ham", t.l.say("ham")}, {"pork belly", t.l.say("bacon")}}
	for _, c := range cuts {
		var lines []string
		for _, pump := range pumps {
			meat := grammar.Dose{Cut: c.cut, Pieces: []cure.Gram{oneKilo}, Method: cure.Typed(cure.Injection), Pump: cure.Typed(pump)}
			found, err := examine(grammar.Check{Amounts: []grammar.Amount{{Kind: cure.No1, Nitrite: cure.Typed(t.no1()), Grams: cure.Typed(d.Cure / all * cure.Gram(pump) * oneKilo)}}, Meat: meat}, t.s)
			if err != nil {
				continue
			}
			line := t.l.say("pumped %s: %s", percent(pump, 1), ppm(d.PickedUp(pump, 0)))
			if over(found) {
				line += t.l.say(", over the limit")
				t.hold(t.l.say("HOLD: not every one of these pumps is within the limit."))
			}
			lines = append(lines, line)
			if most := found.MostPump; most > 0 && pump == pumps[len(pumps)-1] {
				lines = append(lines, t.l.say("the most of this pickle: %s", percent(most, 2)))
			}
		}
		t.fact(c.label, lines...)
	}
	t.line(t.l.say("Weigh before and after: the true pump goes on the log, and water is weighed, litres too."))
	t.asks(t.l.say("What did the pieces weigh before and after the pump?"))
}

// recipePasted answers a recipe that is to be scaled as it stands.
func (t *telling) recipePasted() {
	t.hold(t.l.say("HOLD: I scale no recipe as it stands."))
	t.usualNo1()
	other, said := t.said.Salt.Value, []cure.Gram{}
	for _, r := range t.said.Rates {
		if !r.Of.Grams.Set() {
			continue
		}
		said = append(said, r.Of.Grams.Value)
		t.fact(t.l.say("by the text"), t.brineLines(t.dissolved(r, r.In, other), 0)...)
	}
	if amounts := t.measured(); len(amounts) > 0 && amounts[0].Grams.Set() && len(t.said.Rates) > 0 {
		r := t.said.Rates[0]
		r.Of.Grams = amounts[0].Grams
		said = append(said, r.Of.Grams.Value)
		t.fact(t.l.say("by the list"), t.brineLines(t.dissolved(r, r.In, other), 0)...)
	}
	if len(said) > 1 && slices.Max(said) > slices.Min(said) {
		t.hold(t.l.say("HOLD: I scale no recipe as it stands, and this one says two things."))
		t.line(t.l.say("Neither is taken, and neither is corrected by guess."))
	}
	t.line(t.l.say("A pump's strength in a brine that is left to even out would be far too strong."))
	t.asks(t.l.say("Which method, how much meat, how much water? Then the dose comes from per cent."))
}
