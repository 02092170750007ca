package cure

import (
	"math"
	"time"
)

// topUpWithin is until when what is missing can be worked in: the same day, before the outer
// layers have run ahead of the core. Common practice, no source.
const topUpWithin = 24 * time.Hour

// onTarget is how far off its target a figure still counts as on it: what a recipe's rounding
// makes. Common practice, no source.
const onTarget = 0.02

// right is the dose that would have been right, and the most pump.
func (e *exam) right() {
	if e.lawful {
		m := e.mixed(e.work.target())
		e.f.Right, e.f.RightSalt = m.cure, m.saltToWeigh
	}
	if e.r.Method.Value == Injection {
		e.f.MostPump = e.mostPump()
	}
}

// mostPump is the most pump of the pickle that keeps to every enforced maximum. On the green
// weight a figure grows with the pump; on meat and pickle it is the pickle's own, thinned by
// the meat. 0 where nothing in the pickle is bounded.
func (e *exam) mostPump() Fraction {
	most, pump := math.Inf(1), float64(e.r.Pump.Value)
	for _, r := range e.rules {
		if !r.limit.Enforced || !r.limit.caps() || !r.applies(e.likely.mix) {
			continue
		}
		share := float64(r.limit.Value / e.compare(r, e.likely))
		if r.on == "green" || r.on == "pumped" || r.on == "dose" && e.basis != MeatAndPickle {
			most = min(most, pump*share)
			continue
		}
		ofPickle := share * pump / (1 + pump) // the limit over what a gram of pickle has
		if ofPickle < 1 {
			most = min(most, ofPickle/(1-ofPickle))
		}
	}
	if math.IsInf(most, 0) {
		return 0
	}
	return Fraction(min(1, most))
}

// amend is what can be done about a figure that is off.
func (e *exam) amend() {
	e.wrongNumber()
	if e.c.Marinade {
		return
	}
	f, got := &e.f, e.f.Nitrite.Likely
	if f.Target == 0 || e.high.nitrite == 0 {
		if e.high.nitrite == 0 {
			e.topUp()
		}
		e.dilute()
		return
	}
	f.Slip = e.slip(float64(got / f.Target))
	division := onTarget * f.Target
	if e.likely.cure > 0 {
		division = max(division, got*PPM(e.r.CureScale.Value/e.likely.cure))
	}
	switch {
	case got > f.Target+division:
		f.caution(CodeAboveTarget, Warn, float64(got), float64(f.Target))
	case got < f.Target-division:
		f.caution(CodeBelowTarget, Warn, float64(got), float64(f.Target))
		e.topUp()
	}
	e.dilute()
}

// wrongNumber sees whether the wrong one of the two cures went in.
func (e *exam) wrongNumber() {
	meant := e.r.Agent.Value
	if len(e.c.Cures) == 0 || meant.Kind == NoCure || meant.Kind == NoAgent {
		return
	}
	wants, has := meant.parts().nitrate > 0, e.high.nitrate > 0
	switch {
	case has && !wants:
		e.f.caution(CodeNitrateIn, Hold, float64(e.f.Nitrate.High), 0)
	case wants && !has:
		e.f.caution(CodeNitrateLack, Hold, 0, 0)
	default:
		for _, p := range e.c.Cures {
			if p.Agent.Kind != meant.Kind {
				e.f.caution(CodeOtherCure, Note, 0, 0)
				break
			}
		}
		return
	}
	if e.f.Target > 0 {
		e.f.OnTop = max(e.f.Nitrite.Likely, e.f.Nitrite.High) + e.f.Target
		if !e.c.Marinade {
			e.f.OnTop = e.f.Nitrite.Likely + e.f.Target
		}
	}
}

func (e *exam) slip(ratio float64) Slip {
	near := func(x float64) bool { return math.Abs(ratio/x-1) <= 0.05 }
	strength := float64(e.r.Agent.Value.Nitrite)
	switch {
	case near(2):
		return Twice
	case near(0.5):
		return Half
	case near(3):
		return Thrice
	case near(10):
		return Tenfold
	case near(0.1):
		return Tenth
	case near(1000/float64(e.mass)) && !near(1):
		return PerKilo
	case near(strength * strength * 1e6 / float64(e.f.Target)):
		return Strength100
	}
	return NoSlip
}

// dilute reckons how much more uncured meat would bring down what is over.
func (e *exam) dilute() {
	d := Dilution{Mixable: e.r.Method.Value == Ground && !e.c.Finished}
	add := func(to *Gram, whole Gram, ratio float64) {
		*to = max(*to, whole*Gram(ratio-1))
	}
	whole := e.meat // that a limit is reckoned on
	if m := e.r.Method.Value; m == CoverBrine || m == InjectionCover {
		whole += e.high.pickle
	}
	if t := float64(e.f.Target); t > 0 && !e.c.Marinade {
		for _, one := range []struct {
			to  *Gram
			got PPM
		}{{&d.Target.Low, e.f.Nitrite.Low}, {&d.Target.Likely, e.f.Nitrite.Likely}, {&d.Target.High, e.f.Nitrite.High}} {
			add(one.to, e.mass, float64(one.got)/t)
		}
	}
	for _, f := range e.f.Limits {
		if !f.Limit.Enforced || !f.Limit.caps() || f.High != Over {
			continue
		}
		if f.Limit.Value == 0 {
			d.Never = true
			continue
		}
		value := float64(f.Limit.Value)
		add(&d.Limit.Low, whole, float64(f.Got.Low)/value)
		add(&d.Limit.Likely, whole, float64(f.Got.Likely)/value)
		add(&d.Limit.High, whole, float64(f.Got.High)/value)
	}
	const trifle = 1e-6
	if d.Never || d.Limit.High > 0 || d.Target.High > trifle*e.meat && e.f.level(CodeAboveTarget) > 0 {
		e.f.Dilution = &d
	}
}

// topUp reckons what is missing. What was pumped, measured by volume, or is the wrong one of
// two cures gets none.
func (e *exam) topUp() {
	f := &e.f
	switch {
	case !e.lawful || e.spoons || f.OnTop > 0 || f.Target == 0:
		return
	case e.injected() || e.c.Finished:
		f.caution(CodeNoTopUp, Hold, 0, 0)
		return
	}
	parts, step := e.r.Agent.Value.parts(), e.r.CureScale.Value
	missing := func(x Gram) Amount { // never above what is missing
		return Amount{Exact: x, Weigh: onScale(math.Floor(float64(x/step)*(1+1e-12)+1e-9), step)}
	}
	t := &TopUp{Agent: e.r.Agent.Value, Until: topUpWithin, Open: true}
	short := e.keptTo(Gram(float64(f.Target-f.Nitrite.Likely)*1e-6/float64(parts.nitrite))*e.mass, parts)
	if !(short > 0) {
		return
	}
	t.Cure = missing(short)
	t.Cure.Item = CureItem
	if salt := e.mixed(f.Target).salt - e.likely.salt - t.Cure.Exact*Gram(parts.salt); salt > step/2 && e.r.Method.Value != SaltBox {
		t.Salt = missing(salt)
		t.Salt.Item = SaltItem
	}
	t.NitriteThen = f.Nitrite.Likely + ratio(t.Cure.Weigh*Gram(parts.nitrite), e.mass)
	if age := e.c.Age; age.Set() && age.Value > t.Until {
		t.Open = false
		f.caution(CodeTopUpLate, Hold, age.Value.Hours(), t.Until.Hours())
	}
	f.TopUp = t
}

// keptTo lowers an amount of the meant cure that would come on top until every enforced limit
// is kept: a brine that holds less salt than was meant is lighter.
func (e *exam) keptTo(cure Gram, parts parts) Gram {
	for range 3 {
		m := e.likely
		m.nitrite, m.nitrate = m.nitrite+cure*Gram(parts.nitrite), m.nitrate+cure*Gram(parts.nitrate)
		m.asWeighed += cure * Gram(e.r.Agent.Value.nitrateAsWeighed())
		if e.r.Method.Value == CoverBrine {
			m.pickle += cure
		}
		keep := 1.0
		for _, r := range e.rules {
			if r.limit.Enforced && r.limit.caps() && r.applies(m.mix) {
				keep = min(keep, float64(r.limit.Value/e.compare(r, m)))
			}
		}
		if keep >= 1-1e-12 {
			return cure
		}
		cure -= m.nitrite * Gram((1-keep)/float64(parts.nitrite))
	}
	return cure
}

// remarks adds the cautions that follow from the verdicts.
func (e *exam) remarks() {
	f := &e.f
	low, high := float64(f.Nitrite.Low), float64(f.Nitrite.High)
	switch {
	case e.high.nitrite == 0 && e.r.Agent.Value.Kind == NoCure:
		f.caution(CodeNoCure, Warn, 0, 0)
	case e.high.nitrite == 0 && e.high.nitrate > 0:
		f.caution(CodeNitrateOnly, Hold, e.r.Days.Value.Hours()/24, longHanging.Hours()/24)
	case e.high.nitrite == 0:
		f.caution(CodeNoNitrite, Hold, 0, 0)
	case e.c.Marinade:
		f.caution(CodeMarinade, Hold, low, high)
	case e.r.Method.Value == InjectionCover:
		f.caution(CodePumpAndSoak, Warn, low, high)
	}
	if e.high.nitrite > 0 && !bounded(e.rules, "nitrite") {
		f.caution(CodeSilent, Hold, high, float64(residual(e.rules, "nitrite")))
	}
	if e.high.nitrate > 0 && !bounded(e.rules, "nitrate") {
		f.caution(CodeSilent, Hold, float64(f.Nitrate.High), float64(residual(e.rules, "nitrate")))
	}
	if e.spoons {
		f.caution(CodeSpoon, Hold, low, high)
	}
	for _, one := range f.Limits {
		one.remark(f)
	}
	switch {
	case e.r.Method.Value == SaltBox: // what the meat took isn't known
	case f.Salt.High > 0.04*(1+1e-9):
		f.caution(CodeSaltHigh, Warn, 100*float64(f.Salt.High), 4)
	case f.Salt.High < 0.015*(1-1e-9):
		f.caution(CodeSaltLow, Warn, 100*float64(f.Salt.High), 1.5)
	}
}

func (one Finding) remark(f *Found) {
	bound := float64(one.Limit.Value)
	switch {
	case one.Limit.Kind == "residual max":
		f.caution(CodeResidual, Note, 0, bound)
	case one.High == Over && !one.Limit.Enforced:
		f.caution(CodeUnverified, Hold, float64(one.Got.High), bound)
	case one.High == Over && bound == 0:
		f.caution(CodeForbidden, Hold, float64(one.Got.High), 0)
	case one.Verdict == Over || one.Low == Over:
		f.caution(CodeOver, Hold, float64(max(one.Got.Low, one.Got.Likely)), bound)
	case one.High == Over:
		f.caution(CodeMayBeOver, Hold, float64(one.Got.High), bound)
	case one.Verdict == BelowMin || one.High == BelowMin:
		f.caution(CodeBelowMin, Hold, float64(one.Got.Likely), bound)
	case one.Low == BelowMin:
		f.caution(CodeMayBeUnder, Hold, float64(one.Got.Low), bound)
	case one.Verdict == At || one.High == At:
		f.caution(CodeAtLimit, Note, float64(one.Got.High), bound)
	}
}

// caution appends one.
func (f *Found) caution(code string, level Level, got, bound float64) {
	f.Cautions = append(f.Cautions, Caution{Code: code, Level: level, Got: got, Bound: bound})
}

// level is the level of a caution, 0 where there is none.
func (f Found) level(code string) Level {
	for _, c := range f.Cautions {
		if c.Code == code {
			return c.Level
		}
	}
	return 0
}
