package bot

import (
	"errors"

	"salthand/cure"
	"salthand/grammar"
)

// undiluted reports whether a mix is made from undiluted nitrite: the weight of a mix that
// somebody made is looked at all the same.
func undiluted(c grammar.Mix) bool {
	asks := !c.From.Grams.Set() || !c.Salt.Set()
	return asks && c.Make.Set() && (c.From.Kind == cure.PureNitrite || c.From.Kind == cure.NoAgent && c.From.Jar == "")
}

// mix answers how a cure is made, or what somebody made.
func (f figured) mix(c grammar.Mix, s Settings) figured {
	if c.From.Grams.Set() && c.Salt.Set() {
		return f.made(c)
	}
	agent := cure.Agent{Kind: c.Kind, Nitrite: c.Nitrite.Value, Nitrate: c.Nitrate.Value}
	if c.Target.Set() && c.Rate.Set() {
		strength, err := cure.Rated{Nitrite: c.Target.Value, Rate: c.Rate.Value}.Strength()
		if err != nil {
			return f.refused(err, grammar.Dose{})
		}
		agent.Nitrite = strength
		f.fact(f.l.say("strength"), f.l.say("%s at %s of the meat is a mix of %s sodium nitrite", ppm(c.Target.Value), percent(c.Rate.Value, 2), percent(strength, 4)))
	}
	if agent.Nitrite == 0 && agent.Kind == cure.No1 && s.Region.Value == "us" {
		agent.Nitrite = 0.0625 // the usual no. 1 of the us; see strengthOf on the card
	}
	if agent.Nitrite == 0 {
		return f.refused(&cure.Missing{What: "strength"}, grammar.Dose{})
	}
	if !c.Make.Set() {
		f.answer.Add = append(f.answer.Add, MachineAmount{Item: "cure", NitritePct: some(100 * float64(agent.Nitrite))})
		return f
	}
	from, err := agentSaid(c.From, s)
	if err != nil {
		return f.refused(err, grammar.Dose{})
	}
	if from.Kind == cure.NoAgent {
		from = cure.Agent{Kind: cure.PureNitrite}
	}
	if from.Kind == cure.PureNitrite && from.Nitrite == 0 {
		from.Nitrite = 1
	}
	b := cure.Blending{Amount: c.Make.Value, Nitrite: agent.Nitrite, From: from, Jar: c.From.Jar, Scale: c.Scale.Value}
	if b.Scale == 0 {
		b.Scale = s.CureScale.Value
	}
	if c.Target.Set() {
		b.Use = cure.Use{Meat: 1000, Target: c.Target.Value}
	}
	d, err := cure.Blend(b)
	if err != nil {
		return f.refused(err, grammar.Dose{})
	}
	return f.blend(d, b, s)
}

// blend words a house cure to be made.
func (f figured) blend(d cure.Blended, b cure.Blending, s Settings) figured {
	scale := b.Scale
	if scale == 0 {
		scale = 0.1
	}
	f.card.Weigh = []Weigh{
		{Item: agentName(f.l, b.From), Amount: grams(d.From.Weigh, scale), Note: strengthOf(f.l, b.From)},
		{Item: f.l.say("plain salt"), Amount: grams(d.Salt.Weigh, scale)},
	}
	f.answer.Add = []MachineAmount{machineCure(b.From, d.From), {Item: "salt", Grams: float64(d.Salt.Exact), WeighG: float64(d.Salt.Weigh)}}
	f.fact(f.l.say("comes to"), f.l.say("%s of %s sodium nitrite (%s to %s by the weighing)", grams(b.Amount, 0), percent(d.Agent.Nitrite, 4), percent(d.Strength.Low, 4), percent(d.Strength.High, 4)))
	var steps []string
	for i, m := range d.Mixing {
		step := f.l.say("%d. to %s add %s plain salt, mix: %s", i+1, grams(m.Before, 0.1), grams(m.Add, 0.1), grams(m.After, 0.1))
		steps = append(steps, step)
	}
	f.fact(f.l.say("mixing"), steps...)
	f.answer.Steps = steps
	if d.Dose > 0 {
		f.fact(f.l.say("in use"), f.l.say("%s on 1 kg of meat: %s (%s to %s by weighing and grain)", grams(d.Dose, 0.1), ppm(d.DoseNitrite.Likely),
			trimmed(float64(d.DoseNitrite.Low), 0), trimmed(float64(d.DoseNitrite.High), 0)))
	}
	f.fact(f.l.say("label"), f.l.say("NOT FOR SEASONING. House cure, %s sodium nitrite, %s, made of %s, lot, date, made by, checked by", percent(d.Agent.Nitrite, 4), f.dyedMix(b, s), agentName(f.l, b.From)))
	if b.Jar != "" {
		f.card.Next = f.l.say("Made, type what the scale showed:  %s . Another person reads it again, a chef approves it.",
			grammar.Canonical(grammar.JarIs{Jar: "NAME", Label: grammar.JarLabel{Kind: cure.HouseCure}, Parts: []grammar.JarPart{{Jar: b.Jar, Mass: d.From.Weigh}}, Salt: cure.Typed(d.Salt.Weigh)}))
	}
	if !d.Sound {
		f.warn(Warning{Level: cure.Warn.String(), Code: "size", Text: f.l.say("weighing is off by up to %s of it; from %s on it is weighed to 0.1 %% (United States Pharmacopeia, chapter 41)", percent(d.Class, 2), grams(d.Smallest, 1))})
	}
	if b.From.Kind == cure.PureNitrite {
		f.warn(Warning{Level: cure.Warn.String(), Code: "undiluted", Text: f.l.say("undiluted nitrite is for the chef alone, where the kitchen allows its own mixes: locked away, gloves, never near the seasoning; buy a dyed no. 1 instead where you can")})
	}
	f.card.Small = f.l.say(shortCaution)
	return f
}

// dyedMix says whether a mix is dyed: as what it is made of, where that is known.
func (f figured) dyedMix(b cure.Blending, s Settings) string {
	dyed := ""
	if b.Jar != "" && s.dyed != nil {
		dyed = s.dyed(b.Jar)
	}
	switch {
	case dyed == "dyed":
		return f.l.say("its colour is thinned: it can be taken for salt")
	case dyed == "undyed", b.From.Kind == cure.PureNitrite:
		return f.l.say("undyed: it looks like salt")
	}
	return f.l.say("dyed or undyed: say which")
}

// made answers what a mix comes to that somebody made.
func (f figured) made(c grammar.Mix) figured {
	m := cure.Made{Nitrite: c.From.Grams.Value, Salt: c.Salt.Value, Said: c.Nitrite, Rate: c.Rate, Want: c.Target}
	if !m.Rate.Set() {
		m.Rate = cure.Given[cure.Fraction]{Value: 0.025, Origin: cure.FromRule}
	}
	d, err := m.Reckon()
	var slip *cure.Disagreement
	if errors.As(err, &slip) {
		return f.disagreement(slip)
	}
	if err != nil {
		return f.refused(err, grammar.Dose{})
	}
	f.answer.NitritePPM = some(float64(d.Nitrite))
	f.answer.Add = []MachineAmount{{Item: "cure", Name: "house cure", NitritePct: some(100 * float64(d.Agent.Nitrite)), Grams: float64(m.Nitrite + m.Salt), WeighG: float64(m.Nitrite + m.Salt)}}
	f.fact(f.l.say("strength"), f.l.say("%s sodium nitrite of the mix (%s of the salt alone is not the strength)", percent(d.Agent.Nitrite, 4), percent(d.OfSalt, 4)))
	f.fact(f.l.say("in use"), f.l.say("at %s of the meat: %s", percent(m.Rate.Value, 2), ppm(d.Nitrite)))
	if d.Needed > 0 && d.Needed <= 0.1 {
		f.fact(f.l.say("for the target"), f.l.say("%s of it on the meat", percent(d.Needed, 2)))
	}
	if d.Weak {
		f.warn(Warning{Level: cure.Hold.String(), Code: "weak", Text: f.l.say("weak for that use: below %s (%s)", ppm(d.Min), d.Source)})
	}
	if d.Strong {
		f.warn(Warning{Level: cure.Hold.String(), Code: "strong", Text: f.l.say("stronger than the usual target at that rate")})
	}
	f.warn(Warning{Level: cure.Warn.String(), Code: "label", Text: f.l.say("label it NOT FOR SEASONING, with its strength; undyed it looks like salt")})
	return f
}

// disagreement answers a strength that was said beside grams that come to another.
func (f figured) disagreement(d *cure.Disagreement) figured {
	words := f.l.say("%s was said; the grams come to %s of the mix.", percent(d.Said, 4), percent(d.ByGrams, 4))
	if d.Slip > 0 {
		by := float64(d.Slip)
		if by < 1 {
			by = 1 / by
		}
		words += f.l.say(" That is a slip of the decimal mark, by %s.", trimmed(by, 0))
	}
	if d.FromSalt {
		words += f.l.say(" It was reckoned on the salt, not on the mix.")
	}
	f.card.Kind, f.card.Title = QuestionCard, words
	f.card.Lines = []string{f.l.say("Nothing is to be weighed until both say the same.")}
	f.card.Next = f.l.say("Type it once more with the grams or the per cent put right.")
	return f.unclear("")
}
