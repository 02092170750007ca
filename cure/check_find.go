package cure

import "math"

// usualPickUp is how much of a marinade or a dip meat takes up, of its weight, where nobody
// weighed it. Common practice, no source.
const usualPickUp Fraction = 0.10

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
	e.low = e.mix(func(r Range[Gram]) Gram { return r.Low })
	e.likely = e.mix(func(r Range[Gram]) Gram { return r.Likely })
	e.high = e.mix(func(r Range[Gram]) Gram { return r.High })
	e.aim()
	e.measure()
	e.bounds()
	for _, r := range w.rules {
		if r.applies(e.high) {
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
	low, likely, high mix
	share             Gram // of the pickle that was made, what is used
	spoons            bool
	lawful            bool // Right is
}

// work fills in what was meant, and refuses what can't be.
func (c *Checked) work() (*work, error) {
	r := c.Meant
	r.Pieces = append([]Gram(nil), r.Pieces...)
	r.Temperature, r.Thickness, r.Ascorbate, r.Sugar = Given[Celsius]{}, Given[Millimetre]{}, Given[PPM]{}, Given[Fraction]{}
	if !r.Method.Set() && !r.Water.Set() && !r.Pump.Set() && !r.Cover.Set() {
		r.Method = Given[Method]{DryRub, FromRule}
		if cut, ok := FindCut(r.Cut); ok && cut.Method == Ground {
			r.Method.Value = Ground
		}
	}
	c.settlePickle(&r)
	meant, target, rate := r.Agent, r.Nitrite, r.Rate
	if !meant.Set() && len(c.Cures) > 0 {
		meant = Given[Agent]{c.Cures[0].Agent, FromRule}
	}
	meant.Value = meant.Value.inRegion(r.Region.Value)
	if meant.Value.parts().nitrate > 0 && !r.Heated.Set() { // as for a dose with nitrate
		r.Heated = Given[bool]{false, FromRule}
	}
	r.Agent, r.Nitrite, r.Rate = Given[Agent]{Agent{Kind: NoCure}, FromRule}, Given[PPM]{}, Given[Fraction]{}
	cut, cl, err := fill(&r)
	if err != nil {
		return nil, err
	}
	r.Agent, r.Nitrite, r.Rate = meant, target, rate
	if err := c.sound(r); err != nil {
		return nil, err
	}
	w := newWork(r, cut, cl)
	if c.Pickle > 0 && w.injected() && c.Pickle < w.pickle*(1-1e-6) {
		return nil, &Stop{Rule: StopImplausible, What: "pickle", Got: float64(c.Pickle), Min: float64(w.pickle), Unit: "g", Request: r}
	}
	return w, nil
}

// settlePickle is the pickle that water and all that went in make, where it was injected.
func (c *Checked) settlePickle(r *Request) {
	injected := r.Pump.Set() || r.Cover.Set() || r.Method.Value == Injection || r.Method.Value == InjectionCover
	if !injected || !r.Water.Set() {
		return
	}
	if c.Pickle == 0 {
		c.Pickle = r.Water.Value + c.Salt + c.Sugar
		for _, p := range c.Cures {
			c.Pickle += p.Grams.Likely
		}
	}
	r.Water = Given[Gram]{}
}

// The plausible ranges of a check. Common practice, no source.
var (
	putSpan    = span{"cure", 1e-4, 1e7, "g"}
	addedSpan  = span{"salt", 0, 1e7, "g"}
	extraSpan  = span{"sugar", 0, 1e7, "g"}
	allPickle  = span{"pickle", 0, 1e8, "g"}
	pickUpSpan = span{"pick-up", 0.1, 60, "%"}
)

// sound refuses amounts, strengths and targets that can't be, and fills in the strengths of
// what went in.
func (c *Checked) sound(r Request) error {
	c.Cures = append([]Put(nil), c.Cures...)
	for i := range c.Cures {
		p := &c.Cures[i]
		if p.Agent = p.Agent.inRegion(r.Region.Value); p.Agent.parts().none() {
			return &Missing{What: "strength", Request: r}
		}
		if err := p.Agent.plausible(r); err != nil {
			return err
		}
		for _, g := range []Gram{p.Grams.Low, p.Grams.Likely, p.Grams.High} {
			if err := putSpan.check(float64(g), r); err != nil {
				return err
			}
		}
		if p.Grams.Low > p.Grams.Likely || p.Grams.Likely > p.Grams.High {
			return &Stop{Rule: StopImplausible, What: "cure", Got: float64(p.Grams.Low), Max: float64(p.Grams.High), Unit: "g", Request: r}
		}
		if a := p.Agent.Kind; p.Spoon && (a == PureNitrite || a == PureNitrate || a == Saltpetre) {
			return &Stop{Rule: StopNotMethod, What: "spoon", Request: r}
		}
	}
	if a := r.Agent.Value; a.Kind != NoCure && a.Kind != NoAgent {
		if a.parts().none() {
			return &Missing{What: "strength", Request: r}
		}
		if err := a.plausible(r); err != nil {
			return err
		}
	}
	if c.Marinade && r.Method.Value != CoverBrine {
		return &Stop{Rule: StopNotMethod, What: "marinade", Request: r}
	}
	if r.Nitrite.Set() && r.Rate.Set() {
		return &Stop{Rule: StopTwoTargets, Request: r}
	}
	c.PickUp = c.PickUp.Or(usualPickUp, FromRule)
	for _, one := range []struct {
		set  bool
		span span
		x    float64
	}{
		{true, addedSpan, float64(c.Salt)},
		{true, extraSpan, float64(c.Sugar)},
		{true, allPickle, float64(c.Pickle)},
		{true, pickUpSpan, 100 * float64(c.PickUp.Value)},
		{r.Nitrite.Set(), targetSpan, float64(r.Nitrite.Value)},
		{r.Rate.Set(), rateSpan, 100 * float64(r.Rate.Value)},
	} {
		if one.set {
			if err := one.span.check(one.x, r); err != nil {
				return err
			}
		}
	}
	return nil
}

func (c Checked) spoons() bool {
	for _, p := range c.Cures {
		if p.Spoon {
			return true
		}
	}
	return false
}

// mix is all that went in, at one end of the ranges.
func (e *exam) mix(at func(Range[Gram]) Gram) (m mix) {
	for _, p := range e.c.Cures {
		g, parts := at(p.Grams)*e.share, p.Agent.parts()
		m.cure += g
		m.nitrite += g * Gram(parts.nitrite)
		m.nitrate += g * Gram(parts.nitrate)
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
func (e *exam) taken(m mix) Gram { return min(1, Gram(e.c.PickUp.Value)*e.meat/m.pickle) }

// bounds lists the cases that what the meat holds depends on.
func (e *exam) bounds() {
	if e.high.nitrite == 0 {
		return
	}
	each := func(kind string, basis Basis, of func(mix) PPM) {
		e.f.Bounds = append(e.f.Bounds, Bound{kind, basis, Range[PPM]{of(e.low), of(e.likely), of(e.high)}})
	}
	even := func(m mix) PPM { return ratio(m.nitrite, e.meat+m.pickle) }
	switch e.r.Method.Value {
	case CoverBrine:
		each(BoundPickUp, GreenMeat, func(m mix) PPM { return ratio(m.nitrite*e.taken(m), e.meat) })
		each(BoundEven, MeatAndPickle, even)
		if e.c.Marinade {
			each(BoundAll, GreenMeat, func(m mix) PPM { return ratio(m.nitrite, e.meat) })
		}
	case InjectionCover:
		each(BoundPump, GreenMeat, func(m mix) PPM { return ratio(m.nitrite*e.pumped/e.pickle, e.meat) })
		each(BoundEven, GreenMeat, func(m mix) PPM { return even(m) * PPM((e.meat+e.pumped)/e.meat) })
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
		dipped := e.low
		dipped.nitrite, dipped.nitrate = dipped.nitrite*e.taken(e.low), dipped.nitrate*e.taken(e.low)
		f.Got = Range[PPM]{Low: e.compare(green, dipped), High: e.compare(green, e.high)}
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
	m := e.low
	m.nitrite, m.nitrate = m.nitrite*e.pumped/e.pickle, m.nitrate*e.pumped/e.pickle
	if r.on == "pickle" || r.on == "dose" {
		m.pickle = e.pumped
		return e.compare(rule{r.limit, "pickle"}, m)
	}
	return e.compare(rule{r.limit, "green"}, m)
}
