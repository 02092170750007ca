package bot

import (
	"time"

	"salthand/cure"
	"salthand/cure/brine"
	"salthand/cure/dry"
	"salthand/cure/ferment"
	"salthand/grammar"
)

// spoilageTellers answer what is about spoilage, drying, souring and salt.
var spoilageTellers = map[grammar.Situation]func(*telling){
	grammar.Slime:       (*telling).slime,
	grammar.OffSmell:    (*telling).offSmell,
	grammar.NoLiquid:    (*telling).noLiquid,
	grammar.Mould:       (*telling).mould,
	grammar.DryingSlow:  (*telling).dryingSlow,
	grammar.Souring:     (*telling).souring,
	grammar.TooSalty:    (*telling).tooSalty,
	grammar.NotRinsed:   (*telling).notRinsed,
	grammar.BoughtCured: (*telling).boughtCured,
}

// slime answers a brine or a piece that has turned ropy.
func (t *telling) slime() {
	l := t.l
	t.hold(t.held())
	t.line(l.say("Take it out of the brine. Never use that brine again, and never top it up."))
	t.line(l.say("Slime with a bad smell, foam, gas or a blue or green tint: discard it. No smell proves nothing."))
	t.line(l.say("Advice differs: old farm bulletins scrub the meat hot, scald the tub and put it in new cold brine, two thirds as strong past half of the time; others call it normal. Here a chef decides."))
	t.line(l.say("If it may go on: reckon the dose anew, since new brine brings new nitrite on top of what is in."))
	t.line(l.say("Look at the temperature log, the sugar and how the tub was cleaned."))
	t.asks(l.say("What does the temperature log say, and what was in the brine?"))
}

// offSmell answers a bad smell, and a bag that has swollen.
func (t *telling) offSmell() {
	l := t.l
	t.hold(t.held())
	t.line(l.say("A bad smell or a swollen bag in the cold is spoilage until shown otherwise: likely to be discarded. Don't taste it, and don't rinse and carry on."))
	t.line(l.say("Gas without air: botulism is the question. Keep the bag shut and apart, and wash hands and board."))
	t.line(l.say("A cured smell, salty and sweet, may be no fault, and no smell proves nothing: a chef decides, with the log."))
	t.asks(l.say("Since when, how warm was it, and what does the log say of dose and days?"))
}

// noLiquid answers a bag that stayed dry.
func (t *telling) noLiquid() {
	l := t.l
	t.says("answer", l.say("It can be normal: some pieces give little, or take it back. It holds only if the weights are in the log and the bag didn't leak."))
	t.line(l.say("Weigh the bag: it should weigh what it did at the start. Less: it leaked, so hold it."))
	t.line(l.say("No weights in the log, or salt and sugar may have been mixed up: hold it."))
	t.line(l.say("A tablespoon of water may go in, so that all of it stays wet. Turn it every day. Add no cure."))
	t.asks(l.say("What does the bag weigh now, and what did it weigh at the start?"))
}

// mould answers mould on a hung piece.
func (t *telling) mould() {
	l := t.l
	t.hold(t.held())
	t.lost()
	t.line(l.say("Powdery, even white may be let pass by the house rule. Green, black, red, furry, or in cracks: not. Nobody can tell from a line of text: send the chef a photo."))
	t.line(l.say("Coloured mould is no medicine: nobody tastes it. Keep it apart from the other pieces."))
	t.line(l.say("Only if the chef lets it go on: wipe with vinegar or brine, dry, bring the humidity of the room to %s to %s (common practice), and look again in 24 to 48 h.", percent(0.65, 0), percent(0.75, 0)))
	t.asks(l.say("What colour is it, powdery or furry, and does it go into cracks?"))
}

// lost adds what a piece has lost, and the weights at the usual targets; false where the
// line doesn't tell of two weights.
func (t *telling) lost() (cure.Fraction, bool) {
	first, last, ok := t.said.Falling()
	if !ok {
		if w := t.said.Meat.Pieces; len(w) == 1 {
			t.targets(dry.Series{{After: 0, Weight: w[0]}}, nil)
		}
		return 0, false
	}
	series := dry.Series{{After: 0, Weight: first}, {After: max(t.stay(), time.Hour), Weight: last}}
	loss, err := series.Loss()
	if err != nil {
		return 0, false
	}
	t.targets(series, []string{t.l.say("%s %% of %s, down to %s", fixed(100*float64(loss), 1), grams(first, 1), grams(last, 1))})
	return cure.Fraction(loss), true
}

// targets adds the weights at the usual losses behind what is known of the loss.
func (t *telling) targets(s dry.Series, lines []string) {
	all, err := s.Targets()
	if err != nil {
		return
	}
	for _, one := range all[1:] { // at 35 and 40 %
		lines = append(lines, t.l.say("target %s: %s", percent(one.Loss, 0), grams(one.Weight, 1)))
	}
	t.fact(t.l.say("lost"), lines...)
}

// hungLoss is the loss from which a hung piece may be taken for dry enough to be weighed off.
const hungLoss cure.Fraction = 0.35 // common practice, no source

// dryingSlow answers how far a hung piece is.
func (t *telling) dryingSlow() {
	l := t.l
	t.says("drying", l.say("It is done by weight, not by the calendar: not yet to be said."))
	loss, ok := t.lost()
	switch {
	case ok && loss >= hungLoss:
		t.card.Title = l.say("It is at its weight. Weight lost is not yet proof that it keeps.")
	case ok:
		t.card.Title = l.say("Not done: it has lost %s %%. It is done by weight, not by the calendar.", fixed(100*float64(loss), 1))
	default:
		t.line(l.say("Usual: taken down when it has lost %s to %s of the weight when hung (common practice).", percent(hungLoss, 0), percent(0.40, 0)))
	}
	t.line(l.say("Slow at 5 °C (41 °F) is no harm by itself, if no. 2 and salt were right. Keep it cold: don't move it to a warm room to hurry it."))
	t.line(l.say("A hard rim shuts the wet core in: look at humidity with a hygrometer, give it air, take wrapping off."))
	t.line(l.say("Weigh it every week, with the same string and netting."))
	t.asks(l.say("What went in, no. 2 and how much salt, and what do the thermometer and hygrometer say?"))
	if !ok {
		t.asks(l.say("What did it weigh when it was hung, and what does it weigh now?"))
	}
}

// souring answers a pH that has not come down, by the time that the chamber allows.
func (t *telling) souring() {
	l := t.l
	spent := t.stay()
	acid := t.said.PH
	if len(t.said.Temperatures) == 0 || !acid.Set() || spent == 0 {
		t.hold(l.say("HOLD: don't dry, cook or serve it until the time and the pH are known."))
		t.line(l.say("pH has to be 5.3 or lower before the hours for its chamber are over; the warmer, the fewer."))
		t.asks(l.say("How warm is the chamber at its warmest, how many hours since the start, and which pH did a calibrated meter read?"))
		return
	}
	air := t.said.Temperatures[0]
	for _, c := range t.said.Temperatures {
		air = max(air, c)
	}
	log := ferment.Stays(ferment.Stay{For: spent, Air: air})
	t.fact(l.say("so far"), l.say("%s at %s, pH %s", hours(spent), bothDegrees(air), trimmed(float64(acid.Value), 2)))
	left, ok := t.leftToSour(log, air)
	left = left.Truncate(6 * time.Minute)
	switch {
	case ferment.PH(acid.Value) <= ferment.Sour && (!ok || left > 0):
		t.says("fermentation", l.say("pH 5.3 is reached within the hours. Log it: start, end, pH, meter calibration, initials."))
	case !ok:
		t.hold(l.say("HOLD: no rule at hand covers this chamber. The chef and the site's plan decide."))
		t.asks(l.say("Which limit does the site's plan set for this chamber?"))
	case left <= 0:
		t.hold(l.say("HOLD: the hours are over and pH 5.3 was not read in time. It doesn't go to drying."))
		t.line(l.say("It is a deviation: cook or discard, as the log form says, by the approver's word. More time doesn't mend it, and cooking takes no toxin out."))
		t.asks(l.say("Which pH was read when, and what does the site's plan say?"))
	default:
		t.says("fermentation", l.say("Not there yet: %s left to come to pH 5.3 or lower. Keep it fermenting; it doesn't go to drying.", hours(left)))
		t.line(l.say("Read the pH again with a calibrated meter in time: at hour %s at the latest. Exactly on the limit counts as over.", trimmed((spent+max(0, left-2*time.Hour)).Hours(), 1)))
		t.line(l.say("If it is not at 5.3 by then: a deviation. Cook or discard, as the form says, by the approver's word."))
		t.line(l.say("Log start, end, pH, meter calibration, initials."))
		t.asks(l.say("Was the chamber ever warmer than that, and when was the meter calibrated?"))
	}
}

// leftToSour adds the rules for a chamber to the card, and is what the stricter one leaves;
// false: none of them covers it.
func (t *telling) leftToSour(log ferment.Log, air cure.Celsius) (left time.Duration, ok bool) {
	l := t.l
	var lines []string
	set, ours := ferment.SetOf(string(t.s.Region.Value))
	if !ours {
		set, _ = ferment.SetOf("us") // it says so by its source
	}
	if row, has := ferment.Printed(air); has && set.ID == "us" { // the sheet is of the us set
		left, _, _ = ferment.PrintedLeft(log) // no error: Judge below reads the same log
		ok = true
		lines = append(lines, l.say("log sheet: within %s, by the row of %s (University of Wisconsin 2012, read in the text)", hours(row.Within), bothDegrees(row.At)))
	}
	unit := map[ferment.Unit]string{ferment.CelsiusHour: "°C·h", ferment.FahrenheitHour: "°F·h"}[set.Unit]
	if r, err := set.Judge(log, nil); err == nil && !r.Endless {
		lines = append(lines, l.say("degree-hours: %s of %s %s, %s left (%s, %s)", trimmed(float64(r.Sum), 0), trimmed(float64(r.Limit), 0), unit, hours(r.Left.Truncate(6*time.Minute)), r.Source, seenWords(l, r.Seen)))
		if !ok || r.Left < left {
			left, ok = r.Left, true
		}
	}
	t.fact(l.say("limit"), lines...)
	return left, ok
}

// measuredSalty is the salt that a piece is taken to have that is too salty to eat, where
// nobody measured it.
const measuredSalty cure.Fraction = 0.05 // common practice, no source

// tooSalty answers a piece to be soaked: what a soak can't get below.
func (t *telling) tooSalty() {
	l := t.l
	t.says("soak", l.say("Soak it cold, at or below %s, change the water, and fry a test slice at each change. No exact time can be told: hours to a day.", bothDegrees(5)))
	salt := t.said.SaltShare.Or(measuredSalty, cure.FromRule)
	meat, water := t.said.Weight(), t.said.Liquid.Value
	if meat > 0 && water > 0 {
		s := brine.Soak{Meat: meat, Salt: salt.Value, Water: water}
		lines := []string{l.say("%s meat in %s water", kilos(meat), kilos(water))}
		if one, err := s.Floor(1); err == nil {
			lines = append(lines, l.say("if it holds %s salt (%s): no lower than %s in this water, once balanced", percent(salt.Value, 1), grams(meat*cure.Gram(salt.Value), 1), percent(one, 1)))
		}
		if two, err := s.Floor(2); err == nil {
			lines = append(lines, l.say("after a second fresh water: no lower than %s", percent(two, 1)))
		}
		t.fact(l.say("the least a soak leaves"), lines...)
	}
	t.line(l.say("It takes out salt, and smoke and flavour with it. It makes nothing else better: nitrite that is in counts as in."))
	t.line(l.say("Or blanch slices before frying. Next time weigh the salt, %s to %s, and don't go by eye.", percent(0.02, 1), percent(usualSalt, 1)))
	t.asks(l.say("Was the cure in it weighed, how many grams on how much meat?"))
	if meat == 0 || water == 0 {
		t.asks(l.say("How heavy is it, how much water is there, and was the cure weighed?"))
	}
}

// notRinsed answers a piece that was smoked with its rub on.
func (t *telling) notRinsed() {
	l := t.l
	t.says("answer", l.say("If the rub was a weighed dose, it is only saltier: the dose is what was planned."))
	t.line(l.say("Weighed dose: go on, or pull it, rinse, dry and put it back at once. Keep the time between %s and %s short, and log it.", bothDegrees(5), bothDegrees(57.2)))
	t.line(l.say("Salt by eye or in excess: pull it, rinse it, fry a test slice. If nobody weighed the cure, hold it."))
	t.line(l.say("Don't leave it out to dry. Add nothing. Log the missed step; without a dry skin the smoke takes worse."))
	t.warmNow()
	t.asks(l.say("Was the rub weighed for this piece, or was there more than it could take?"))
}

// warmNow adds how warm it is, where it was said.
func (t *telling) warmNow() {
	var lines []string
	for _, c := range t.said.Temperatures {
		lines = append(lines, bothDegrees(c))
	}
	t.fact(t.l.say("temperature"), lines...)
}

// boughtCured answers cured goods that somebody wants to cure again.
func (t *telling) boughtCured() {
	l := t.l
	t.says("answer", l.say("Add no cure: it is cured already. More would be a double dose."))
	if meat := t.said.Weight(); meat > 0 {
		all, change := brine.SoakRule(meat)
		lines := []string{l.say("thumb rule, 2 h a pound: %s in cold water in the fridge; others 4 to 8 h, or overnight", hours(all))}
		if all > change {
			lines = append(lines, l.say("fresh water every %s, out after %s", hours(change), hours(all)))
		}
		t.fact(l.say("soak"), lines...)
	} else {
		t.line(l.say("Soak it in cold water in the fridge, 2 h a pound by thumb rule, fresh water every 2 h; others 4 to 8 h, or overnight."))
	}
	t.line(l.say("Then fry or boil a test piece: if it is still too salty, soak on. Dry it, rub it without salt and cure, smoke it."))
	t.asks(l.say("What does the label say: nitrite or not, how much salt, and how heavy is it?"))
}
