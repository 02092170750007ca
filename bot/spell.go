package bot

import (
	"salthand/cure"
	"salthand/grammar"
)

// howLong answers for the days in the cure.
func (f figured) howLong(c grammar.HowLong, s Settings) figured {
	d := c.Meat
	if len(d.Pieces) == 0 && !d.Water.Set() && d.Method.Value != cure.CoverBrine {
		d.Pieces = []cure.Gram{1000} // the days of a weighed rub don't depend on the weight
	}
	dose, err := compute(d, s)
	if err != nil {
		return f.refused(err, c.Meat)
	}
	m := machineDose(f.l, dose, f.answer.Phrase)
	f.answer.Cut, f.answer.Method, f.answer.Class = m.Cut, m.Method, m.Class
	f.answer.Days, f.answer.Core, f.answer.Steps, f.answer.Assumed = m.Days, m.Core, m.Steps, m.Assumed
	if dose.Time.Criterion {
		fact := timeFact(f.l, dose)
		f.fact(fact.Label, fact.Lines...)
	} else {
		f.fact(f.l.say("days"), f.l.say("plan for %s", days(f.l, dose.Time.PlanFor)), f.l.say("there is no core to reach by this method"))
	}
	if len(dose.Each) > 0 {
		for i := range dose.Each {
			dose.Each[i].Add = nil // asked is how long, not how much
		}
		f.answer.Each = machinePieces(dose)
		f.fact(f.l.say("each piece"), pieceLines(f.l, dose)...)
	}
	if len(c.Log) > 0 {
		f = f.course(dose.Request, c)
	}
	f.fact(f.l.say("nitrite at the core"), arrivalLines(f.l, dose.Request)...)
	f.fact(f.l.say("assumed"), assumedByOrigin(f.l, dose)...)
	var about []cure.Caution
	for _, c := range dose.Cautions {
		switch c.Code {
		case cure.CodeCoreBehind, cure.CodeCoreUnlikely, cure.CodeNeedles, cure.CodeWarm, cure.CodeLongHanging, cure.CodePoultry, cure.CodeGame:
			about = append(about, c)
		}
	}
	f.warn(cautionsIn(f.l, about, dose)...)
	f.card.Small = f.l.say("Days are a range: diffusivities differ by a factor of four between studies, and grow with the square of the thickness.")
	return f
}

// course answers how far a cure has come after spells at several temperatures.
func (f figured) course(r cure.Request, c grammar.HowLong) figured {
	var all []cure.Spell
	for _, s := range c.Log {
		all = append(all, cure.Spell{For: s.For, At: s.Temperature})
	}
	got, err := cure.Progress(r, all)
	if err != nil {
		return f.refused(err, c.Meat)
	}
	lines := []string{f.l.say("after %s in all", days(f.l, got.Elapsed))}
	if got.Criterion {
		f.answer.Core = &MachineBand{Fast: float64(got.Core.Fast), Likely: float64(got.Core.Likely), Slow: float64(got.Core.Slow)}
		f.answer.LeftDays = &MachineBand{Fast: daysOf(got.Left.Fast), Likely: daysOf(got.Left.Likely), Slow: daysOf(got.Left.Slow)}
		lines = append(lines, f.l.say("core: likely %s of what it will get (slow %s, fast %s)", percent(got.Core.Likely, 0), percent(got.Core.Slow, 0), percent(got.Core.Fast, 0)),
			f.l.say("left at %s °C: likely %s (%s to %s)", trimmed(float64(r.Temperature.Value), 1), days(f.l, got.Left.Likely), days(f.l, got.Left.Fast), days(f.l, got.Left.Slow)))
	}
	if got.Frozen > 0 {
		lines = append(lines, f.l.say("%s of it frozen: that doesn't count", days(f.l, got.Frozen)))
	}
	f.fact(f.l.say("so far"), lines...)
	if got.TooWarm > 0 {
		f.warn(Warning{Level: cure.Hold.String(), Code: "too warm", Text: f.l.say("%s of it above 5 °C: whatever the core says, the approver decides", span(f.l, got.TooWarm))})
	} else if got.Warm > 0 {
		f.warn(Warning{Level: cure.Warn.String(), Code: "warm", Text: f.l.say("%s of it above 4.4 °C (40 °F)", span(f.l, got.Warm))})
	}
	return f
}

// coreAcidity is the pH that nitrite at a core is reckoned with: fresh pork's. Common
// practice, from memory.
const coreAcidity cure.PH = 5.8

// arrivalLines say that leaving it longer brings no more nitrite to the core.
func arrivalLines(l tongue, r cure.Request) []string {
	if r.Agent.Value.Nitrite == 0 {
		return nil
	}
	got, err := cure.Arrive(r, coreAcidity)
	if err != nil {
		return nil // a method that has no such core
	}
	return []string{
		l.say("most of it about day %s: likely %s of the dose, by the slow reckoning %s (nitrite is spent while it spreads; rule of Nordin, from memory)",
			fixed(daysOf(got.At.Likely), 0), percent(got.Peak.Likely, 0), percent(got.Peak.Slow, 0)),
		l.say("longer brings no more: a thick piece wants the needle"),
	}
}

// swap answers how much of one cure does the work of another.
func (f figured) swap(c grammar.Swap, s Settings) figured {
	from, err := agentSaid(c.From, s)
	if err != nil {
		return f.refused(err, c.Meat)
	}
	to, err := agentSaid(c.To, s)
	if err != nil {
		return f.refused(err, c.Meat)
	}
	mass := c.Meat.Water.Value
	for _, p := range c.Meat.Pieces {
		mass += p
	}
	if mass == 0 {
		return f.refused(&cure.Missing{What: "pieces"}, c.Meat)
	}
	put, err := putIn(c.From, c.Meat, s)
	if err != nil {
		return f.refused(err, c.Meat)
	}
	if put.Spoon {
		return f.refused(&cure.Missing{What: "grams"}, c.Meat)
	}
	d, err := cure.Swap(cure.Swapping{From: from, Grams: put.Grams.Likely, Salt: c.Salt, To: to, Mass: mass, Target: c.Meat.Target,
		Region: s.Region.Value, Scale: s.CureScale.Value})
	if err != nil {
		return f.refused(err, c.Meat)
	}
	f.answer.NitritePPM, f.answer.NitratePPM = some(float64(d.Nitrite)), some(float64(d.Nitrate))
	f.answer.BasisG = some(float64(mass))
	if d.Cure.Exact > 0 {
		f.card.Weigh = append(f.card.Weigh, Weigh{Item: agentName(f.l, d.To), Amount: grams(d.Cure.Weigh, 0.1), Note: strengthOf(f.l, d.To)})
		f.answer.Add = append(f.answer.Add, machineCure(d.To, d.Cure))
	}
	if c.Salt.Set() {
		f.card.Weigh = append(f.card.Weigh, Weigh{Item: f.l.say("salt"), Amount: grams(d.Salt.Weigh, 0.1), Note: f.l.say("instead of %s", grams(c.Salt.Value, 0.1))})
		f.answer.Add = append(f.answer.Add, MachineAmount{Item: "salt", Grams: float64(d.Salt.Exact), WeighG: float64(d.Salt.Weigh)})
		f.answer.SaltPct = some(100 * float64(d.SaltTotal))
	} else if d.SaltChange != 0 {
		words := f.l.say("add %s salt to the recipe's", grams(d.SaltChange, 0.1))
		if d.SaltChange < 0 {
			words = f.l.say("take %s salt off the recipe's", grams(-d.SaltChange, 0.1))
		}
		f.fact(f.l.say("salt"), words)
	}
	f.fact(f.l.say("comes to"), f.l.say("%s sodium nitrite, %s sodium nitrate on %s; before: %s, %s", ppm(d.Nitrite), ppm(d.Nitrate), kilos(mass), ppm(d.Was), ppm(d.WasNitrate)))
	if d.Cure.Exact > 0 {
		f.fact(f.l.say("by equal weight"), f.l.say("the same grams of it would give %s: never swap by weight", ppm(d.SameGrams)))
	}
	for _, no := range d.Impossible {
		f.warn(Warning{Level: cure.Hold.String(), Code: no.Code, Text: impossibleWords(f.l, no)})
	}
	f.warn(cautionsIn(f.l, d.Cautions, cure.Dose{})...)
	f.card.Small = f.l.say(shortCaution)
	return f
}

func machineCure(a cure.Agent, amount cure.Amount) MachineAmount {
	return MachineAmount{Item: "cure", Name: a.Kind.String(), NitritePct: some(100 * float64(a.Nitrite)), NitratePct: some(100 * float64(a.Nitrate)),
		Grams: float64(amount.Exact), WeighG: float64(amount.Weigh)}
}

func impossibleWords(l tongue, no cure.Impossible) string {
	switch no.Code {
	case cure.CantSalt:
		return l.say("it brings %s g more salt than the recipe has; its salt allows %s", trimmed(no.Got, 1), ppm(no.PPM))
	case cure.CantNitrite:
		return l.say("a nitrate never becomes nitrite by weight: there is no amount of it that does this work")
	case cure.CantWeak:
		return l.say("it is too weak: %s g would be needed; %s g give %s", trimmed(no.Got, 0), trimmed(no.Bound, 0), ppm(no.PPM))
	case cure.CantWeigh:
		return l.say("it is too little to weigh: make a house cure of it first")
	}
	return no.Code
}

// rub answers what an old recipe comes to on the meat.
func (f figured) rub(c grammar.Rub, s Settings) figured {
	r := cure.Rub{Salt: c.Salt.Value, Other: c.Sugar.Value + c.Spice.Value, Rate: c.Rate.Value, Target: c.Meat.Target, Region: s.Region.Value}
	for _, p := range c.Meat.Pieces {
		r.Meat += p
	}
	for _, a := range c.Amounts {
		put, err := putIn(a, c.Meat, s)
		if err != nil {
			return f.refused(err, c.Meat)
		}
		r.Cures = append(r.Cures, put)
	}
	d, err := r.Analyse()
	if err != nil {
		return f.refused(err, c.Meat)
	}
	f.answer.NitritePPM, f.answer.NitratePPM, f.answer.SaltPct = some(float64(d.Nitrite)), some(float64(d.Nitrate)), some(100*float64(d.Salt))
	lines := []string{f.l.say("%s salt in all, %s for 1 kg of meat", percent(d.Salt, 2), grams(d.SaltPerKilo, 0.1))}
	if d.Nitrite > 0 {
		lines = append(lines, f.l.say("%s sodium nitrite", ppm(d.Nitrite)))
	}
	if d.Nitrate > 0 {
		line := f.l.say("%s nitrate as sodium nitrate", ppm(d.Nitrate))
		if d.NitrateAsUsed != d.Nitrate {
			line += f.l.say(" (%s of the salt itself)", ppm(d.NitrateAsUsed))
		}
		lines = append(lines, line)
	}
	f.fact(f.l.say("on the meat"), lines...)
	if d.Mix > 0 {
		f.fact(f.l.say("mix"), f.l.say("%s of the mix on %s", grams(d.Mix, 0.1), kilos(r.Meat)))
	}
	for _, share := range d.Cures {
		line := f.l.say("%s: %s of the mix, %s a kilogram of meat", agentName(f.l, share.Agent), percent(share.OfMix, 2), grams(share.PerKilo, 0.01))
		if share.Gram > 0 {
			line += f.l.say(", %s here", grams(share.Gram, 0.01))
		}
		f.fact(f.l.say("cure"), line)
	}
	if d.RateForTarget > 0 {
		f.fact(f.l.say("for the target"), f.l.say("%s of this mix on the meat gives the usual target", percent(d.RateForTarget, 2)))
	}
	f.card.Next = f.l.say("Never swap a cure in it by equal weight: ask for the dose on the meat, like  12 lb belly, dry rub .")
	f.card.Small = f.l.say(shortCaution)
	return f
}
