package bot

import (
	"salthand/cure"
	"salthand/grammar"
)

// The cases that a check has figures for, as cure names them: said by those names.
var _ = []string{msg("pick-up"), msg("even"), msg("all of it"), msg("pump only")}

// check answers what was done, or is about to be.
func (f figured) check(c grammar.Check, s Settings) figured {
	found, err := examine(c, s)
	if err != nil {
		return f.refused(err, c.Meat)
	}
	f = f.found(c, s, found)
	if found.Held() {
		f.card.Next = f.l.say("Don't move, dose, smoke or serve it until a chef has decided. Nitrite that is in can't be taken out.")
	}
	return f
}

// checkedOf is what was done, for cure. The error is a *cure.Missing or a *notHere.
func checkedOf(c grammar.Check, s Settings) (cure.Checked, error) {
	meant := requestOf(c.Meat, s)
	done := cure.Checked{Meant: meant, Salt: c.Salt.Value, Sugar: c.Sugar.Value + c.Ascorbate.Value}
	if c.Marinade.Set() {
		done.Marinade = true
		done.Meant.Method = cure.Typed(cure.CoverBrine)
		done.Meant.Water = c.Marinade
	}
	for _, a := range c.Amounts {
		put, err := putIn(a, c.Meat, s)
		if err != nil {
			return done, err
		}
		done.Cures = append(done.Cures, put)
	}
	return done, nil
}

// examine reckons a check. The error is a *cure.Stop, a *cure.Missing or a *notHere.
func examine(c grammar.Check, s Settings) (cure.Found, error) {
	done, err := checkedOf(c, s)
	if err != nil {
		return cure.Found{}, err
	}
	return cure.Examine(done)
}

// found adds to the card and to the machine answer what a check found.
func (f figured) found(c grammar.Check, s Settings, found cure.Found) figured {
	f.answer.Cut, f.answer.Class, f.answer.Method = found.Request.Cut, found.Class, found.Request.Method.Value.String()
	f.answer.Basis, f.answer.BasisG = found.Basis.String(), some(float64(found.BasisMass))
	f.answer.Found = machineFound(found)
	f.answer.Assumed = append(f.answer.Assumed, assumed(f.l, cure.Dose{Request: found.Request})...)
	f.fact(f.l.say("found"), foundLines(f.l, found, c.Salt.Set())...)
	f.fact(f.l.say("limits"), findingLines(f.l, found)...)
	for _, l := range found.Limits {
		f.answer.Limits = append(f.answer.Limits, machineFinding(l))
	}
	for _, r := range otherRegions(c.Meat, s) {
		there := s
		there.Region = cure.Given[cure.Region]{Value: r, Origin: cure.Asked}
		if found, err := examine(c, there); err == nil {
			f.fact(f.l.say("in %s", string(r)), findingLines(f.l, found)...)
		}
	}
	f.fact(f.l.say("should be"), rightLines(f.l, found)...)
	f.fact(f.l.say("for the approver"), dilutionLines(f.l, found)...)
	f.fact(f.l.say("missing"), topUpLines(f.l, found, c.Salt.Set())...)
	f.fact(f.l.say("assumed"), assumedByOrigin(f.l, cure.Dose{Request: found.Request})...)
	if c.About {
		f.fact(f.l.say("measured"), f.l.say("the marinade is about that much, and the figures are no surer than it is"))
	}
	f.warn(cautionsIn(f.l, ofWhatWasSaid(found.Cautions, c), cure.Dose{Request: found.Request})...)
	f.card.Small = f.l.say(shortCaution)
	return f
}

// putIn is an amount as it went in. A spoon stays a range.
func putIn(a grammar.Amount, meat grammar.Dose, s Settings) (cure.Put, error) {
	agent, err := agentSaid(a, s)
	if err != nil {
		return cure.Put{}, err
	}
	p := cure.Put{Agent: agent}
	switch {
	case a.Spoons.Set():
		n := cure.Teaspoon(a.Spoons.Value.Count)
		switch a.Spoons.Value.Unit {
		case "teaspoon":
		case "tablespoon":
			n *= cure.Tablespoon
		default: // a cup, a pinch, a spoon of no size
			return p, &cure.Missing{What: "cure"}
		}
		p.Spoon, p.Grams = true, n.Cure()
	case a.Rate.Set():
		var weight cure.Gram
		for _, piece := range meat.Pieces {
			weight += piece
		}
		if weight == 0 {
			return p, &cure.Missing{What: "pieces"}
		}
		p.Grams = cure.Exactly(weight * cure.Gram(a.Rate.Value))
	default:
		p.Grams = cure.Exactly(a.Grams.Value)
	}
	return p, nil
}

// ranged prints a range of ppm: the likely value, and the ends where they differ.
func ranged(l tongue, r cure.Range[cure.PPM]) string {
	switch {
	case r.Low == r.High:
		return ppm(r.Likely)
	case r.Likely == 0:
		return l.say("between %s and %s ppm", trimmed(float64(r.Low), 0), trimmed(float64(r.High), 0))
	}
	return l.say("about %s ppm (%s to %s)", trimmed(float64(r.Likely), 0), trimmed(float64(r.Low), 0), trimmed(float64(r.High), 0))
}

// ofWhatWasSaid leaves out what depends on plain salt that nobody named.
func ofWhatWasSaid(all []cure.Caution, c grammar.Check) (kept []cure.Caution) {
	for _, one := range all {
		if c.Salt.Set() || one.Code != cure.CodeSaltLow {
			kept = append(kept, one)
		}
	}
	return kept
}

func foundLines(l tongue, found cure.Found, saltSaid bool) (lines []string) {
	lines = append(lines, l.say("%s sodium nitrite on %s (%s)", ranged(l, found.Nitrite), l.say(found.Basis.String()), grams(found.BasisMass, 1)))
	for _, b := range found.Bounds {
		lines = append(lines, l.say("%s: %s on %s", l.say(b.Kind), ranged(l, b.Nitrite), l.say(b.Basis.String())))
	}
	if found.Nitrate.High > 0 {
		lines = append(lines, l.say("%s sodium nitrate", ranged(l, found.Nitrate)))
	}
	salt := percent(found.Salt.Likely, 2)
	if found.Salt.Low != found.Salt.High {
		salt = l.say("%s to %s", percent(found.Salt.Low, 2), percent(found.Salt.High, 2))
	}
	if !saltSaid {
		return append(lines, l.say("%s salt from the cure; no plain salt was named", salt))
	}
	return append(lines, l.say("%s salt in all on %s (%s)", salt, l.say(found.SaltBasis.String()), grams(found.SaltMass, 1)))
}

func findingLines(l tongue, found cure.Found) []string {
	lines := []string{l.say("region %s, %s", found.Request.Region.Value, l.say(found.Class))}
	for _, f := range found.Limits {
		line := limitLine(l, cure.Check{Limit: f.Limit, Got: f.Got.Likely, Verdict: f.Verdict})
		if f.Low != f.High {
			line = l.say("%s: %s, limit %s: %s to %s (%s)", agentOfLimit(l, f.Limit), ranged(l, f.Got), fixed(float64(f.Limit.Value), f.Limit.Digits),
				verdictWords(l, f.Low), verdictWords(l, f.High), f.Limit.Source+", "+seenWords(l, f.Limit.Seen))
		}
		lines = append(lines, line)
	}
	return lines
}

// rightLines say what the dose should have been, and what the figure looks like.
func rightLines(l tongue, found cure.Found) (lines []string) {
	if found.Right > 0 {
		agent := found.Request.Agent.Value
		lines = append(lines, l.say("%s of %s, %s, for %s", grams(found.Right, 0.01), agentName(l, agent), strengthOf(l, agent), ppm(found.Target)))
	}
	slips := map[cure.Slip]string{
		cure.Twice: l.say("it looks like the dose put in twice"), cure.Half: l.say("it looks like half of the dose"), cure.Thrice: l.say("it looks like a tablespoon for a teaspoon"),
		cure.Tenfold: l.say("it looks like a slip of the decimal mark: ten times"), cure.Tenth: l.say("it looks like a slip of the decimal mark: a tenth"),
		cure.PerKilo: l.say("it looks like the amount for one kilogram on all of the meat"), cure.Strength100: l.say("it looks like the strength of the cure taken for its dose"),
	}
	if words, ok := slips[found.Slip]; ok {
		lines = append(lines, words)
	}
	if found.OnTop > 0 {
		lines = append(lines, l.say("never add the right one on top: that would come to %s", ppm(found.OnTop)))
	}
	if found.MostPump > 0 {
		lines = append(lines, l.say("the most that may be pumped of this pickle: %s", percent(found.MostPump, 2)))
	}
	return lines
}

// dilutionLines are the figure for the approver, and no advice.
func dilutionLines(l tongue, found cure.Found) (lines []string) {
	d := found.Dilution
	if d == nil {
		return nil
	}
	if d.Never {
		return []string{l.say("no amount of meat brings it under the limit: the law wants none of it")}
	}
	more := func(r cure.Range[cure.Gram]) string {
		if r.Low == r.High || r.Likely == 0 {
			return kilos(r.High)
		}
		return l.say("about %s kg", trimmed(float64(r.Likely)/1000, 1))
	}
	lines = append(lines, l.say("to the target it would take %s more uncured meat, to the limit %s, mixed in evenly", more(d.Target), more(d.Limit)))
	if !d.Mixable {
		lines = append(lines, l.say("it can't be mixed in any more: the figure only shows how far over it is"))
	}
	return lines
}

func topUpLines(l tongue, found cure.Found, saltSaid bool) (lines []string) {
	t := found.TopUp
	if t == nil {
		return nil
	}
	line := l.say("%s of %s, %s", grams(t.Cure.Weigh, found.Request.CureScale.Value), agentName(l, t.Agent), strengthOf(l, t.Agent))
	if t.Salt.Exact > 0 && saltSaid {
		line += l.say(", and %s salt", grams(t.Salt.Weigh, found.Request.CureScale.Value))
	}
	lines = append(lines, l.say("%s: it would then have %s", line, ppm(t.NitriteThen)))
	if t.Open {
		return append(lines, l.say("only within %s of the first dose, weighed and worked in evenly, approved; the clock starts again", span(l, t.Until)))
	}
	return append(lines, l.say("it is too late to add it: the figure only shows how far under it is"))
}

func machineFound(found cure.Found) *MachineFound {
	m := &MachineFound{Low: float64(found.Nitrite.Low), High: float64(found.Nitrite.High), SaltPct: 100 * float64(found.Salt.Likely), RightG: float64(found.Right)}
	if found.Nitrite.Likely > 0 || found.Nitrite.High == 0 {
		m.NitritePPM = some(float64(found.Nitrite.Likely))
	}
	if found.Nitrate.High > 0 {
		m.NitratePPM = some(float64(found.Nitrate.Likely))
	}
	if d := found.Dilution; d != nil && !d.Never {
		m.DiluteG = some(float64(d.Target.Likely))
	}
	if t := found.TopUp; t != nil {
		m.TopUpG = some(float64(t.Cure.Exact))
	}
	return m
}

func machineFinding(l cure.Finding) MachineLimit {
	m := machineLimit(cure.Check{Limit: l.Limit, Got: l.Got.Likely, Verdict: l.Verdict})
	if l.Low != l.High || l.Got.Likely == 0 {
		m.Got = some(float64(l.Got.High))
		m.Verdict = machineVerdict(cure.Check{Limit: l.Limit, Verdict: l.High})
	}
	return m
}
