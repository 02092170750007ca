package cure

import "slices"

// Compute answers a request: what to weigh, what it comes to, beside which limits, and how
// long it takes. Values nobody gave are filled in from the cut and from the rules; the
// Request in the answer holds them with their origin. The error is a *Missing where a value
// has to be asked for, or a *Stop where there is no dose.
func Compute(r Request) (Dose, error) {
	w, m, d, err := reckon(r)
	if err != nil {
		return Dose{}, err
	}
	w.remark(&d)
	if err := w.time(&d, m); err != nil {
		return Dose{}, err
	}
	if err := w.each(&d, m); err != nil {
		return Dose{}, err
	}
	return d, nil
}

// reckon is a request filled in, judged and weighed; what is left is the time.
func reckon(r Request) (*work, mix, Dose, error) {
	r.Pieces = slices.Clone(r.Pieces)
	cut, c, err := fill(&r)
	if err != nil {
		return nil, mix{}, Dose{}, err
	}
	w := newWork(r, cut, c)
	w.aim()
	m := w.mixed(w.target())
	d := w.dose(m)
	for _, step := range []func(*Dose, mix) error{w.judge, w.judgeSilence, w.judgeBox, w.judgeSalt, w.weigh} {
		if err := step(&d, m); err != nil {
			return nil, mix{}, Dose{}, err
		}
	}
	return w, m, d, nil
}

// work is a request on its way to a dose.
type work struct {
	r     Request
	cut   Cut
	rules []rule
	class class

	meat   Gram // as it lies on the scale
	bare   Gram // less the skin, for limits that say so
	pumped Gram // pickle that goes in by the needle
	pickle Gram // injection: all pickle to make

	basis, saltBasis Basis
	mass, saltMass   Gram // of the two bases
}

// mix is what goes in for one amount of cure.
type mix struct {
	cure, nitrite, nitrate          Gram
	salt, inCure, saltToWeigh       Gram // all NaCl, of it from the cure, the rest
	sugar, ascorbate, water, pickle Gram // pickle: all that is not meat
}

func newWork(r Request, cut Cut, c class) *work {
	w := &work{r: r, cut: cut, class: c, rules: c.inForce(r.On), meat: r.meat()}
	w.bare = w.meat
	if r.SkinOn.Value {
		w.bare = lessSkin * w.meat
	}
	w.pumped = Gram(r.Pump.Value) * w.meat
	if w.injected() {
		w.pickle = w.pumped + r.Cover.Value
	}
	w.basis, w.mass = w.on(c.nitrite)
	w.saltBasis, w.saltMass = w.on(c.salt)
	return w
}

func (w *work) injected() bool {
	return w.r.Method.Value == Injection || w.r.Method.Value == InjectionCover
}

// on is a basis of classes.csv and its mass.
func (w *work) on(name string) (Basis, Gram) {
	switch name {
	case "water":
		return MeatAndWater, w.meat + w.r.Water.Value
	case "pickle":
		return MeatAndPickle, w.meat + w.pickle
	}
	return GreenMeat, w.meat
}

// target is the NaNO2 that is aimed at, on the basis; of a nitrate alone the NaNO3.
func (w *work) target() PPM {
	if w.r.Agent.Value.Kind.nitrateOnly() {
		return w.r.Nitrate.Value
	}
	return w.r.Nitrite.Value
}

// mixed is what goes in for a target of NaNO2 on the basis; of a nitrate alone, of NaNO3.
func (w *work) mixed(target PPM) mix {
	if w.r.Agent.Value.Kind == NoCure {
		return w.with(0)
	}
	return w.with(Gram(float64(target)*1e-6/float64(w.r.Agent.Value.lead())) * w.mass)
}

// with is what goes in together with an amount of cure.
func (w *work) with(cure Gram) mix {
	a := w.r.Agent.Value
	m := mix{cure: cure, nitrite: cure * Gram(a.Nitrite), nitrate: cure * Gram(a.Nitrate)}
	m.inCure = cure * Gram(a.Salt())
	m.sugar = Gram(w.r.Sugar.Value) * w.saltMass
	m.ascorbate = Gram(w.r.Ascorbate.Value) * 1e-6 * w.mass
	want := Gram(w.r.Salt.Value) * w.saltMass
	if w.r.Salt.Origin == FromRule {
		want = min(Gram(w.usualSalt())*w.saltMass, w.brineHolds(m, workableBrine*saturated))
	}
	m.saltToWeigh = want
	if !w.r.SaltOnTop {
		m.saltToWeigh = max(0, want-m.inCure)
	}
	m.salt = m.inCure + m.saltToWeigh
	solids := m.cure + m.saltToWeigh + m.sugar + m.ascorbate
	switch {
	case w.injected():
		m.pickle, m.water = w.pickle, w.pickle-solids
	case w.r.Method.Value == CoverBrine:
		m.water = w.r.Water.Value
		m.pickle = m.water + solids
	}
	return m
}

// brineHolds is the salt in a brine of the given strength, salt over salt and water. In a
// salt box it is what the meat can take; for another dry method it has no bound.
func (w *work) brineHolds(m mix, strength Fraction) Gram {
	switch {
	case w.injected():
		return Gram(strength) * (w.pickle - m.nitrite - m.nitrate - m.sugar - m.ascorbate)
	case w.r.Method.Value == SaltBox:
		return Gram(boxDeep*w.holds()) * w.saltMass
	case w.r.Method.Value == CoverBrine:
		return w.r.Water.Value * Gram(strength/(1-strength))
	}
	return w.saltMass
}

// dose puts a mix in the form of an answer, before it is judged and weighed.
func (w *work) dose(m mix) Dose {
	d := Dose{
		Request: w.r, Class: w.class.name,
		Basis: w.basis, BasisMass: w.mass, SaltBasis: w.saltBasis, SaltMass: w.saltMass,
		Nitrite: ratio(m.nitrite, w.mass), Nitrate: ratio(m.nitrate, w.mass),
		Salt: Fraction(m.salt / w.saltMass), SaltTotal: m.salt, SaltInCure: m.inCure,
		Pickle: w.pickle,
	}
	if w.r.Salt.Origin == FromRule {
		d.Request.Salt.Value = d.Salt
	}
	if w.skinCounts() {
		switch w.basis {
		case GreenMeatLessSkin:
			d.AsWeighed = ratio(m.nitrite, w.meat)
		case GreenMeat:
			d.AsWeighed = ratio(m.nitrite, w.bare)
		}
	}
	return d
}

// ratio is a mass over a mass in ppm.
func ratio(part, whole Gram) PPM { return PPM(part / whole * 1e6) }
