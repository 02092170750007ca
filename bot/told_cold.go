package bot

import (
	"time"

	"salthand/cure"
	"salthand/cure/heat"
	"salthand/grammar"
)

// coldTellers answer what is about cold, heat, and what is kept.
var coldTellers = map[grammar.Situation]func(*telling){
	grammar.WarmPlace:  (*telling).warmPlace,
	grammar.WarmMeat:   (*telling).warmMeat,
	grammar.ConfitKept: (*telling).confitKept,
	grammar.FishPacked: (*telling).fishPacked,
	grammar.WildMeat:   (*telling).wildMeat,
	grammar.FishWorms:  (*telling).fishWorms,
}

// bothDegrees prints a temperature in both units.
func bothDegrees(c cure.Celsius) string {
	return trimmed(float64(c), 1) + " °C (" + trimmed(float64(c)*9/5+32, 0) + " °F)"
}

// warm adds the temperatures of the line and how far above the cold limit they are; of a place
// for how long at most too, and how far along the meat in it was.
func (t *telling) warm(place bool) {
	l := t.l
	var lines []string
	for _, c := range t.said.Temperatures {
		line := bothDegrees(c)
		if over := c - heat.StopAbove; over > 0.05 {
			line = l.say("%s: %s °C over the limit of %s", line, trimmed(float64(over), 1), bothDegrees(heat.StopAbove))
		}
		lines = append(lines, line)
	}
	if place && len(t.said.Spans) > 0 {
		lines = append(lines, l.say("%s was named: how long it really was warm, only a log tells", span(l, t.said.Spans[0])))
	}
	if place && t.said.Age.Set() {
		lines = append(lines, l.say("day %s in the cure", trimmed(daysOf(t.said.Age.Value), 1)))
	}
	t.fact(l.say("temperature"), lines...)
}

// warmPlace answers a fridge or a room that was warm with meat in the cure.
func (t *telling) warmPlace() {
	l := t.l
	t.hold(t.held())
	t.warm(true)
	t.line(l.say("Count the time above %s from the last good reading until now, all of it: over 4 h is usually discarded (FDA Food Code, from memory), unless the site's plan says otherwise.", bothDegrees(heat.StopAbove)))
	t.line(l.say("Measure the core of each piece now. List each batch with its day, method and place."))
	t.line(l.say("First days: raw inside, so discard it unless its core is at or below %s. Later days: less at risk, and still a hold: being cured is no answer by itself.", bothDegrees(heat.StopAbove)))
	t.line(l.say("In a vacuum bag there is no air: botulism is the question. Smell is no test."))
	t.line(l.say("Chill it at once: move it to a cold place. One record for it all; mend the fridge and log its temperature every hour."))
	t.asks(l.say("When was the last good reading, and what is each core now?"))
	if len(t.said.Temperatures) == 0 {
		t.asks(l.say("How warm is it, in °C or °F, when was the last good reading, and what is each core now?"))
	}
}

// warmMeat answers cooked or smoked meat that was not chilled in time.
func (t *telling) warmMeat() {
	l := t.l
	t.hold(t.held())
	t.warm(false)
	if rule, ok := heat.CoolingOf("us retail"); ok {
		var lines []string
		for _, leg := range rule.Legs {
			lines = append(lines, l.say("%s to %s within %s", bothDegrees(leg.From), bothDegrees(leg.To), span(l, leg.Within)))
		}
		t.fact(l.say("cooling rule"), append(lines, rule.Source+", "+seenWords(l, rule.Seen))...)
	}
	t.line(l.say("It was not chilled in time: likely to be discarded. Being cured doesn't settle it, and cooking it now takes no toxin out."))
	t.line(l.say("A plan may have a longer limit for cured meat: only the site's plan counts."))
	t.line(l.say("Next time chill it unbagged, on racks, and log the temperatures."))
	t.asks(l.say("What was the core when the heat ended, and when was it last known to be at or below %s? How many ppm nitrite, and was it cured through?", bothDegrees(heat.StopAbove)))
}

// confitCold is what meat under fat is kept at or below. Source: growth of non-proteolytic
// C. botulinum from 3.3 °C (FDA Bad Bug Book).
const confitCold cure.Celsius = 3

// confitKept answers meat under fat outside of the cold.
func (t *telling) confitKept() {
	l := t.l
	t.says("refusal", l.say("NO: not in a cellar or at room temperature. Under fat it keeps only cold, at or below %s, with a date, or frozen.", bothDegrees(confitCold)))
	t.line(l.say("Spores live through cooking at 100 °C (212 °F), and there is no air under fat: that is what botulism wants. Curing salt doesn't change it."))
	t.line(l.say("Nitrite in confit is a choice, for colour and taste: with or without it, the cold is what keeps it."))
	if len(t.said.Meat.Pieces) > 0 {
		t.confitDose()
	}
	t.line(l.say("Log the cooling after cooking. A jar or bag without air is a special process: the authority may want a plan."))
	t.asks(l.say("Where is the cold space for them, and how were they cooled after cooking?"))
	if t.said.Has(":above-cold") {
		t.warm(false)
	}
	if t.said.Has("started") || t.said.Has("months") {
		t.line(l.say("If some has already stood warm: hold it, and nobody tastes it."))
	}
}

// confitDose adds the usual dose of no. 1 on the legs, should it be wanted.
func (t *telling) confitDose() {
	d := t.said.Meat
	if d.Cut == "" {
		d.Cut = "duck leg"
	}
	d.Method, d.Kind = cure.Typed(cure.Confit), cure.No1
	dose, err := compute(d, t.s)
	if err != nil {
		return
	}
	for _, a := range dose.Add {
		if a.Item == cure.CureItem {
			t.fact(t.l.say("if wanted"), t.l.say("%s no. 1 for %s on the weight of the legs, bone in", grams(a.Exact, 0.01), ppm(dose.Nitrite)))
		}
	}
}

// fishPacked answers cured fish that is to be kept, in a bag without air.
func (t *telling) fishPacked() {
	l := t.l
	t.says("answer", l.say("Not weeks: at most 10 days (UK advice, second-hand), or what the site's plan allows, at or below 3 °C (38 °F)."))
	t.line(l.say("Chilled fish in a bag without air is a special process: it wants a plan, and the authority may want to see it."))
	t.line(l.say("Listeria grows in the cold. Salt in the water of the fish is what holds it: at least %s without nitrite, %s with (a retail form, second-hand). Have it measured.", percent(0.035, 1), percent(0.03, 1)))
	t.line(l.say("Nitrite is not the answer: add no curing salt to make it keep."))
	t.line(l.say("Against worms freeze it before curing: -20 °C for 7 days, or as the rule says for -35 °C (FDA guidance, second-hand)."))
	t.line(l.say("On the label: lot, freezing record, day packed, use by."))
	t.asks(l.say("Was the fish frozen first, and is there a plan for packing it?"))
}

// fishWorms answers fish that is eaten raw or cured, and its parasites.
func (t *telling) fishWorms() {
	l := t.l
	t.says("answer", l.say("Freeze it before curing: salt, smoke and acid do not reliably kill the worms."))
	t.fact(l.say("freeze"), l.say("at or below -20 °C for 7 days, or at -35 °C until solid and then 15 h at -35 °C (FDA guidance on fish, from memory)"),
		l.say("eu and gb: at or below -20 °C for 24 h, or -35 °C for 15 h, at the core (Regulation 853/2004, from memory)"))
	t.line(l.say("A home freezer is often too warm. Some farmed fish is exempt: its supplier has to say so in writing."))
	t.line(l.say("Keep the freezing record with the lot. Freezing does nothing against Listeria."))
	t.asks(l.say("Which fish, how cold was the freezer and for how long, and is there a record?"))
}

// wildMeat answers meat of wild animals, and worms.
func (t *telling) wildMeat() {
	l := t.l
	wild := t.said.Has("wormy") || t.said.Has("hunted")
	t.hold(l.say("HOLD: not as ready to eat."))
	t.line(l.say("Curing, drying and smoking do not reliably kill trichinae."))
	if wild {
		t.line(l.say("Freezing doesn't either, in bear, boar and other wild animals: some of their worms stand it."))
	} else {
		t.porkFrozen()
	}
	for _, c := range heat.Cores() {
		if c.Meat == "game" {
			t.fact(l.say("cook"), l.say("to %s at the core (%s, %s)", bothDegrees(c.At), c.Source, seenWords(l, c.Seen)))
		}
	}
	if wild {
		t.line(l.say("Game that nobody inspected can't be served in most licensed kitchens: ask the authority before anything."))
	}
	t.line(l.say("The dose of cure stays that of pork, by weight: it does nothing against worms. Keep it apart from other meat, and clean up after it."))
	t.asks(l.say("Was it inspected, and can it be cooked?"))
	if !wild {
		t.asks(l.say("How cold was the freezer, for how many days, and how thick was the piece?"))
	}
}

// porkFrozen adds the table by which freezing counts for domestic pork.
func (t *telling) porkFrozen() {
	const usual cure.Millimetre = 150 // the thicker end of the first table
	table, err := heat.Freezing(heat.Pork, usual)
	if err != nil {
		return
	}
	l := t.l
	var lines []string
	for _, r := range table.Rows {
		lines = append(lines, l.say("%s for %s", bothDegrees(r.At), days(l, r.Hold)))
	}
	lines = append(lines, table.Source+", "+seenWords(l, table.Seen), l.say("guidance now, no longer law: the site's plan counts"))
	t.fact(l.say("domestic pork up to 15 cm"), lines...)
	t.line(l.say("Freezing counts for domestic pork alone, by this table, from when the piece has that temperature. It does nothing against bacteria."))
}

// hours prints a whole number of hours.
func hours(d time.Duration) string { return trimmed(d.Hours(), 1) + " h" }
