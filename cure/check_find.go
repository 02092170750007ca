package cure

import "math"

// Examine looks at what was done: nitrite, nitrate and salt on the bases of the class,
// verdicts against all limits in force, the dose that would have been right, and what can
// still be done. Where it depends on how much went into the meat it gives bounds. What is
// over is found and held, never refused. The error is a *Missing where a value has to be
// asked for, or a *Stop where a value can't be.
//
// Source: FSIS Directive 7620.3, 1995, pp. 15, 19, 22 and 24, formulas (secondary).
func Examine(c Checked) (Found, error) {
	w, err := c.work()
	if err != nil {
		return Found{}, err
	}
	e := &exam{work: w, c: c, spoons: c.spoons(), share: 1}
	if w.injected() && c.Pickle > 0 {
		e.share = min(1, w.pickle/c.Pickle)
	}
	plain := *w
	plain.r.Agent = Given[Agent]{}
	e.plain = &plain
	e.low = e.mix(func(r Range[Gram]) Gram { return r.Low })
	e.likely = e.mix(func(r Range[Gram]) Gram { return r.Likely })
	e.high = e.mix(func(r Range[Gram]) Gram { return r.High })
	e.aim()
	e.measure()
	e.bounds()
	for _, r := range w.rules {
		if r.applies(e.high.mix) {
			e.f.Limits = append(e.f.Limits, e.finding(r))
		}
	}
	e.right()
	e.amend()
	e.remarks()
	return e.f, nil
}

// exam is a check on its way to what it finds.
type exam struct {
	*work
	c                 Checked
	f                 Found
	low, likely, high gone
	plain             *work // as work, with no cure: what went in may not be what was meant
	share             Gram  // of the pickle that was made, what is used
	spoons            bool
	lawful            bool // Right is
}

// gone is all that went in, at one end of the ranges.
type gone struct {
	mix
	asWeighed Gram // nitrate by the weight of the salts themselves
}

// compare is what went in, in a rule's own terms.
func (e *exam) compare(r rule, m gone) PPM {
	if r.limit.As == "weight of salts" {
		m.nitrate = m.asWeighed
	}
	return e.plain.compare(r, m.mix)
}

// part is a share of the nitrite and nitrate.
func (m gone) part(share Gram) gone {
	m.nitrite, m.nitrate, m.asWeighed = m.nitrite*share, m.nitrate*share, m.asWeighed*share
	return m
}

// mix is all that went in, at one end of the ranges.
func (e *exam) mix(at func(Range[Gram]) Gram) (m gone) {
	for _, p := range e.c.Cures {
		g, parts := at(p.Grams)*e.share, p.Agent.parts()
		m.cure += g
		m.nitrite += g * Gram(parts.nitrite)
		m.nitrate += g * Gram(parts.nitrate)
		m.asWeighed += g * Gram(p.Agent.nitrateAsWeighed())
		m.inCure += g * Gram(parts.salt)
	}
	m.saltToWeigh = e.c.Salt * e.share
	m.salt = m.inCure + m.saltToWeigh
	switch {
	case e.injected():
		m.pickle = e.pickle
	case e.r.Method.Value == CoverBrine:
		m.water = e.r.Water.Value
		m.pickle = m.water + m.cure + m.saltToWeigh + e.c.Sugar
	}
	return m
}

// aim settles the target: what was asked where that is lawful, else the usual one.
func (e *exam) aim() {
	parts := e.r.Agent.Value.parts()
	if parts.nitrite == 0 {
		if parts.nitrate > 0 && (e.r.Nitrate.Set() || e.r.Rate.Set()) {
			e.r.Agent.Value.Nitrate = parts.nitrate
			e.work.aim()
			e.lawful = e.work.lawful(e.mixed(e.r.Nitrate.Value))
		}
		return
	}
	e.r.Agent.Value.Nitrite = parts.nitrite // an undiluted salt may come without its strength
	e.work.aim()
	if !bounded(e.rules, "nitrite") && e.r.Nitrite.Value > e.ceiling("nitrite").limit.sodium()*(1+1e-9) {
		return // above the law of every region
	}
	for range 2 {
		if t := float64(e.r.Nitrite.Value); !(t > 0) || math.IsInf(t, 0) {
			e.r.Nitrite = Given[PPM]{}
			return
		}
		if e.lawful = e.work.lawful(e.mixed(e.r.Nitrite.Value)); e.lawful {
			break
		}
		e.r.Nitrite = Given[PPM]{e.usualTarget(), FromRule}
	}
	e.f.Target = e.r.Nitrite.Value
}

// measure is what the meat holds, on the bases of the class.
func (e *exam) measure() {
	f := &e.f
	f.Request, f.Class, f.Basis, f.BasisMass, f.SaltBasis, f.SaltMass = e.r, e.class.name, e.basis, e.mass, e.saltBasis, e.saltMass
	f.SaltTotal = Range[Gram]{e.low.salt, e.likely.salt, e.high.salt}
	if e.c.Marinade {
		f.Basis, f.BasisMass, f.SaltBasis, f.SaltMass = GreenMeat, e.meat, GreenMeat, e.meat
	}
	f.Nitrite = e.across(e.low.nitrite, e.likely.nitrite, e.high.nitrite, f.BasisMass)
	f.Nitrate = e.across(e.low.nitrate, e.likely.nitrate, e.high.nitrate, f.BasisMass)
	salt := e.across(e.low.salt, e.likely.salt, e.high.salt, f.SaltMass)
	if e.r.Method.Value == SaltBox { // the meat takes what it takes
		salt = Range[PPM]{Low: ratio(e.low.inCure, e.meat), High: min(salt.High, PPM(e.holds())*1e6)}
	}
	f.Salt = Range[Fraction]{Fraction(salt.Low / 1e6), Fraction(salt.Likely / 1e6), Fraction(salt.High / 1e6)}
}

// across is a part in the meat from its low to its high end, on a mass.
func (e *exam) across(low, likely, high, mass Gram) Range[PPM] {
	r := Range[PPM]{ratio(low, mass), ratio(likely, mass), ratio(high, mass)}
	switch {
	case e.c.Marinade:
		r.Low, r.Likely = ratio(low*e.taken(e.low), mass), 0
	case e.r.Method.Value == InjectionCover:
		r.Low = ratio(low*e.pumped/e.pickle, e.meat+e.pumped)
	}
	return r
}

// taken is the share of the liquid that the meat takes up in a dip.
func (e *exam) taken(m gone) Gram { return min(1, Gram(e.c.PickUp.Value)*e.meat/m.pickle) }

// bounds lists the cases that what the meat holds depends on.
func (e *exam) bounds() {
	if e.high.nitrite == 0 {
		return
	}
	each := func(kind string, basis Basis, of func(gone) PPM) {
		e.f.Bounds = append(e.f.Bounds, Bound{kind, basis, Range[PPM]{of(e.low), of(e.likely), of(e.high)}})
	}
	even := func(m gone) PPM { return ratio(m.nitrite, e.meat+m.pickle) }
	switch e.r.Method.Value {
	case CoverBrine:
		each(BoundPickUp, GreenMeat, func(m gone) PPM { return ratio(m.nitrite*e.taken(m), e.meat) })
		each(BoundEven, MeatAndPickle, even)
		if e.c.Marinade {
			each(BoundAll, GreenMeat, func(m gone) PPM { return ratio(m.nitrite, e.meat) })
		}
	case InjectionCover:
		each(BoundPump, GreenMeat, func(m gone) PPM { return ratio(m.nitrite*e.pumped/e.pickle, e.meat) })
		each(BoundEven, GreenMeat, func(m gone) PPM { return even(m) * PPM((e.meat+e.pumped)/e.meat) })
		each(BoundEven, MeatAndPickle, even)
	}
}

// finding is what went in beside one rule.
func (e *exam) finding(r rule) Finding {
	f := Finding{Limit: r.limit, Verdict: NotCheckable, Low: NotCheckable, High: NotCheckable}
	if r.limit.Kind == "residual max" {
		return f
	}
	f.Got = Range[PPM]{e.compare(r, e.low), e.compare(r, e.likely), e.compare(r, e.high)}
	switch {
	case e.c.Marinade:
		green := rule{r.limit, "green"}
		f.Got = Range[PPM]{Low: e.compare(green, e.low.part(e.taken(e.low))), High: e.compare(green, e.high)}
	case e.r.Method.Value == InjectionCover:
		f.Got.Low = min(f.Got.Low, e.pumpOnly(r))
	}
	step := PPM(e.r.CureScale.Value)
	if e.likely.cure > 0 {
		step *= f.Got.High / PPM(e.high.cure)
	}
	f.Verdict, f.Low, f.High = r.limit.verdict(f.Got.Likely, step), r.limit.verdict(f.Got.Low, step), r.limit.verdict(f.Got.High, step)
	if e.c.Marinade {
		f.Verdict = 0
	}
	return f
}

// pumpOnly is the low end beside a rule where nothing came from the cover.
func (e *exam) pumpOnly(r rule) PPM {
	m := e.low.part(e.pumped / e.pickle)
	if r.on == "pickle" || r.on == "dose" {
		m.pickle = e.pumped
		return e.compare(rule{r.limit, "pickle"}, m)
	}
	return e.compare(rule{r.limit, "green"}, m)
}
