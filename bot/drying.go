package bot

import (
	"errors"
	"time"

	"salthand/cure"
	"salthand/cure/dry"
	"salthand/cure/ferment"
	"salthand/cure/water"
	"salthand/grammar"
)

// hangScale is the division of the scale that hung pieces are weighed on, where nobody said.
const hangScale cure.Gram = 1 // g

// dry answers how far a piece has dried, and when it comes down to its target.
func (f figured) dry(c grammar.Dry, s Settings) figured {
	var series dry.Series
	for _, w := range c.Weights {
		series = append(series, dry.Reading{After: w.After, Weight: w.Gram})
	}
	loss, err := series.Loss()
	if err != nil {
		return f.refused(err, grammar.Dose{})
	}
	first := c.Weights[0].Gram
	f.answer.Drying = &MachineDrying{LossPct: 100 * float64(loss)}
	f.fact(f.l.say("lost"), f.l.say("%s %% of %s", trimmed(100*float64(loss), 1), grams(first, 0)))
	targets, err := series.Targets()
	if err != nil {
		return f.refused(err, grammar.Dose{})
	}
	var lines []string
	for _, t := range targets {
		lines = append(lines, f.l.say("%s: %s", percent(t.Loss, 0), grams(t.Weight, 0)))
	}
	f.fact(f.l.say("weights"), lines...)
	target, ok := wanted(c, first)
	if ok {
		f = f.finish(series, target, c)
	}
	f = f.composition(c.Cut, cure.Fraction(loss))
	f.warn(Warning{Level: cure.Warn.String(), Code: "weight alone", Text: f.l.say("weight lost is not shelf stability: water activity decides, and for ground goods pH and degree-hours too")})
	return f
}

// usualSalt is the salt that a hung piece is taken to hold where nobody said: 2.5 % of the
// raw meat. Common practice, no source.
const usualSalt cure.Fraction = 0.025

// composition adds what the cut's composition makes of a loss: an estimate with its band.
func (f figured) composition(name string, loss cure.Fraction) figured {
	cut, ok := cure.FindCut(name)
	if !ok || loss <= 0 {
		return f
	}
	meat := dry.Meat{Water: cut.Water, Protein: cut.Protein, Salt: usualSalt}
	ratio, err := meat.PerProtein(loss)
	if err != nil {
		return f // more was lost than there was water
	}
	lines := []string{f.l.say("moisture to protein %s to 1, by the composition of %s (%s)", fixed(float64(ratio), 2), cutName(f.l, name), cut.Table)}
	raw := water.Raw{Water: cut.Water, Protein: cut.Protein, Salt: usualSalt, Loss: loss, At: meterAt}
	if dried, err := raw.Dried(); err == nil {
		if band, err := dried.Activity(); err == nil {
			lines = append(lines, f.l.say("water activity likely %s, between %s and %s, with %s salt: an estimate, a meter decides",
				fixed(float64(band.Likely), 3), fixed(float64(band.Low), 3), fixed(float64(band.High), 3), percent(usualSalt, 1)))
			f.answer.Activity = &MachineActivity{float64(band.Low), float64(band.Likely), float64(band.High)}
		}
	}
	f.fact(f.l.say("estimated"), lines...)
	return f
}

// wanted is the weight that a piece is to come down to.
func wanted(c grammar.Dry, first cure.Gram) (cure.Gram, bool) {
	switch {
	case c.Want.Set():
		return c.Want.Value, true
	case c.Loss.Set():
		return first * cure.Gram(1-c.Loss.Value), true
	}
	return 0, false
}

// finish answers when a target is reached: an interval, never one date.
func (f figured) finish(series dry.Series, target cure.Gram, c grammar.Dry) figured {
	got, err := series.Finish(dry.Aim{Target: target, Division: hangScale})
	switch {
	case errors.Is(err, dry.ErrFew):
		f.fact(f.l.say("finish"), f.l.say("weigh it once more: a finish needs three weighings"))
		return f
	case errors.Is(err, dry.ErrCoarse):
		f.fact(f.l.say("finish"), f.l.say("too little was lost yet for this scale to say when"))
		return f
	case err != nil:
		return f.refused(err, grammar.Dose{})
	}
	lines := []string{f.l.say("%s: likely %s, between %s and %s", grams(target, 0), whenWords(f.l, got.Likely), whenWords(f.l, got.Early), whenWords(f.l, got.Late))}
	switch {
	case got.Reached:
		lines = []string{f.l.say("%s was reached by %s", grams(target, 0), whenWords(f.l, got.Likely))}
	default:
		lines = append(lines, f.l.say("one division on weighing %d alone moves it to %s or %s", got.Single.Reading+1, whenWords(f.l, got.Single.Early), whenWords(f.l, got.Single.Late)))
	}
	if limit, ok := got.Curve.Limit(); ok && !got.Reached {
		lines = append(lines, f.l.say("as it goes it dries down to %s and no further", grams(limit, 1)))
	}
	f.fact(f.l.say("finish"), lines...)
	f.answer.Drying.Never = got.Likely.Never
	if !got.Likely.Never {
		f.answer.Drying.LikelyDays = some(daysOf(got.Likely.After))
	}
	if !got.Early.Never {
		f.answer.Drying.EarlyDays = some(daysOf(got.Early.After))
	}
	if !got.Late.Never {
		f.answer.Drying.LateDays = some(daysOf(got.Late.After))
	}
	if drop, hard, err := series.Hardened(dry.Aim{Target: target, Division: hangScale}); err == nil && hard {
		f.warn(Warning{Level: cure.Warn.String(), Code: "hard rim", Text: f.l.say("the loss a day fell from %s to %s while far from the target: a sign of a hard rim over a wet core; damper air",
			percent(cure.Fraction(drop.Before.Daily), 2), percent(cure.Fraction(drop.After.Daily), 2))})
	}
	return f
}

// whenWords are a moment counted from the hanging.
func whenWords(l tongue, w dry.When) string {
	if w.Never {
		return l.say("never")
	}
	return l.say("day %s", trimmed(daysOf(w.After), 1))
}

// ferment answers how many degree-hours a fermentation has had, and what is left.
func (f figured) ferment(c grammar.Ferment, s Settings) figured {
	var stays []ferment.Stay
	var total time.Duration
	for _, spell := range c.Log {
		stays = append(stays, ferment.Stay{For: spell.For, Air: spell.Temperature})
		total += spell.For
	}
	region := string(s.Region.Value)
	if c.Against != "" {
		region = string(c.Against)
	}
	set, ok := ferment.SetOf(region)
	if !ok {
		set, _ = ferment.SetOf("us")
		f.answer.Assumed = append(f.answer.Assumed, f.l.say("the us degree-hours: region %s has no rule here", region))
		f.fact(f.l.say("rule"), f.l.say("region %s has no degree-hours here: the us rule is shown", region))
	}
	var acid []ferment.Acidity
	if c.PH.Set() {
		acid = append(acid, ferment.Acidity{After: total, PH: ferment.PH(c.PH.Value)})
	}
	r, err := set.Judge(ferment.Stays(stays...), acid)
	if err != nil {
		return f.refused(err, grammar.Dose{})
	}
	unit := map[ferment.Unit]string{ferment.CelsiusHour: "°C·h", ferment.FahrenheitHour: "°F·h"}[set.Unit]
	f.answer.Fermentation = &MachineFermentation{DegreeHours: float64(r.Sum), Limit: float64(r.Limit), Unit: unit, State: fermentState(r.State)}
	f.fact(f.l.say("degree-hours"), f.l.say("%s %s above %s °C; the sum has to stay under %s", trimmed(float64(r.Sum), 1), unit, trimmed(float64(set.Base), 1), trimmed(float64(r.Limit), 1)),
		f.l.say("limit by the highest temperature, %s °C (%s, %s)", trimmed(float64(r.Highest), 1), r.Source, seenWords(f.l, r.Seen)))
	switch r.State {
	case ferment.Soured:
		f.fact(f.l.say("reached"), f.l.say("pH %s while the sum was under its limit", trimmed(float64(c.PH.Value), 2)))
	case ferment.Running:
		left := f.l.say("at this temperature nothing adds up")
		if !r.Endless {
			left = f.l.say("%s left at the present temperature, to be at pH 5.3 or lower", span(f.l, r.Left))
			f.answer.Fermentation.LeftH = some(r.Left.Hours())
		}
		f.fact(f.l.say("left"), left, f.l.say("read the pH again with a calibrated meter before that"))
	case ferment.Hold:
		f.warn(Warning{Level: cure.Hold.String(), Code: "degree-hours", Text: f.l.say("past the limit before pH 5.3: hold it; it is never just left longer, and cooking takes no toxin out. The approver and the site's plan decide")})
		f.card.Next = f.l.say("Don't dry, cook or serve it until a chef has decided.")
	}
	return f
}

func fermentState(s ferment.State) string {
	return map[ferment.State]string{ferment.Running: "running", ferment.Soured: "soured", ferment.Hold: "hold"}[s]
}
