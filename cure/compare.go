package cure

import (
	"cmp"
	"math"
	"slices"
)

// Molar masses, g/mol, from IUPAC standard atomic weights.
const (
	molarNaNO2 = 68.9945
	molarNO2   = 46.0047
	molarNaNO3 = 84.9935
	molarNO3   = 62.0037
)

// factor turns a mass of the sodium salt into what the limit is expressed as.
func (l Limit) factor() float64 {
	switch l.As {
	case "NO2 ion":
		return molarNO2 / molarNaNO2
	case "NO3 ion":
		return molarNO3 / molarNaNO3
	}
	return 1
}

// weighs is what a gram of nitrate, as NaNO3, counts for where the law takes each salt by its
// own weight: saltpetre weighs more.
// Source: FSIS Directive 7620.3: the sodium limit is applied to the potassium salt as it is.
func (l Limit) weighs(a Agent) Gram {
	if l.As == "weight of salts" && a.Kind == Saltpetre {
		return molarKNO3 / molarNaNO3
	}
	return 1
}

// compare is what a mix comes to in a rule's own terms: its agent, basis and expression.
func (w *work) compare(r rule, m mix) PPM {
	part := m.nitrite
	switch r.limit.Agent {
	case "nitrate":
		part = m.nitrate * r.limit.weighs(w.r.Agent.Value)
	case "nitrite+nitrate":
		part = m.nitrite + m.nitrate*r.limit.weighs(w.r.Agent.Value)
	case "ascorbate":
		part = m.ascorbate
	}
	return w.onBasis(r, part, m.pickle)
}

// onBasis is a mass of a rule's agent on the rule's basis.
func (w *work) onBasis(r rule, part, pickle Gram) PPM {
	meat := w.meat
	if r.limit.lessSkin() {
		meat = w.bare
	}
	part *= Gram(r.limit.factor())
	switch r.on {
	case "green":
		return ratio(part, meat)
	case "pickle":
		return ratio(part, meat+pickle)
	case "pumped": // the pumped meat holds its share of the even mix, reckoned on the green meat
		return ratio(part, meat+pickle) * PPM((meat+w.pumped)/meat)
	}
	return ratio(part, w.mass)
}

// verdict compares got with a limit. division is what one division of the cure scale makes,
// in the same terms.
func (l Limit) verdict(got, division PPM) Verdict {
	if l.Kind == "residual max" {
		return NotCheckable
	}
	digit := math.Pow10(l.Digits)
	printed := PPM(math.Round(float64(got)*digit) / digit)
	const slack = 1e-9 // ppm, of binary fractions
	near := math.Abs(float64(got-l.Value)) <= float64(division)+slack || math.Abs(float64(printed-l.Value)) < slack
	switch {
	case l.caps() && printed > l.Value+slack:
		return Over
	case near:
		return At
	case l.Kind == "ingoing max":
		return Under
	case got < l.Value:
		return BelowMin
	}
	return Met
}

// applies reports whether a rule has anything to say of a mix.
func (r rule) applies(m mix) bool {
	switch r.limit.Agent {
	case "nitrate":
		return m.nitrate > 0
	case "nitrite+nitrate":
		return m.nitrite+m.nitrate > 0
	case "ascorbate":
		return m.ascorbate > 0
	}
	return m.nitrite > 0
}

// check is a mix beside one rule.
func (w *work) check(r rule, m mix) Check {
	c := Check{Limit: r.limit}
	step := w.r.CureScale.Value
	switch r.limit.Agent {
	case "nitrite":
		step *= Gram(w.r.Agent.Value.Nitrite)
	case "nitrate":
		step *= Gram(w.r.Agent.Value.Nitrate) * r.limit.weighs(w.r.Agent.Value)
	case "nitrite+nitrate":
		step *= Gram(w.r.Agent.Value.Nitrite) + Gram(w.r.Agent.Value.Nitrate)*r.limit.weighs(w.r.Agent.Value)
	}
	if r.limit.Kind != "residual max" {
		c.Got = w.compare(r, m)
	}
	c.Verdict = r.limit.verdict(c.Got, w.onBasis(r, step, m.pickle))
	return c
}

// judge compares a mix with all rules in force. Passing an enforced one is a stop.
func (w *work) judge(d *Dose, m mix) error {
	var passed []Check
	for _, r := range w.rules {
		if !r.applies(m) {
			continue
		}
		c := w.check(r, m)
		d.Limits = append(d.Limits, c)
		if c.Verdict == Over && r.limit.Enforced {
			passed = append(passed, c)
		}
	}
	if len(passed) == 0 {
		return nil
	}
	worst := slices.MinFunc(passed, func(a, b Check) int { return cmp.Compare(a.Limit.Value/a.Got, b.Limit.Value/b.Got) })
	return w.overStop(*d, m, worst)
}

// overStop is the stop for a passed limit, with the most cure that would keep to all of the
// enforced ones.
func (w *work) overStop(d Dose, m mix, c Check) *Stop {
	stop := &Stop{Rule: StopOver, Got: float64(c.Got), Max: float64(c.Limit.Value), Unit: "ppm",
		Source: c.Limit.Source, Limit: &c.Limit, Request: d.Request}
	switch {
	case c.Limit.Agent == "nitrate" && c.Limit.Value == 0:
		stop.Rule = StopNitrate
		return stop
	case c.Limit.Agent == "ascorbate":
		stop.What = "ascorbate"
		return stop
	}
	step := w.r.CureScale.Value
	n := math.Floor(float64(m.cure/step) * float64(c.Limit.Value/c.Got) * (1 + 1e-12))
	for ; n > 0; n-- {
		if stop.Allowed = onScale(n, step); w.lawful(w.with(stop.Allowed)) {
			return stop
		}
	}
	stop.Allowed = 0
	return stop
}

// lawful reports whether a mix is at or below every enforced maximum, unrounded.
func (w *work) lawful(m mix) bool {
	for _, r := range w.rules {
		if r.limit.Enforced && r.limit.caps() && r.limit.Agent != "ascorbate" && r.applies(m) &&
			w.compare(r, m) > r.limit.Value*(1+1e-12) {
			return false
		}
	}
	return true
}
