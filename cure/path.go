package cure

import (
	"time"

	"salthand/cure/diffuse"
)

var speeds = [...]diffuse.Speed{diffuse.Slow, diffuse.Likely, diffuse.Fast}

// path is the way of the salt to where a method wants it.
type path struct {
	model  *diffuse.Model
	block  *diffuse.Brick // salt box with all sides said: takes the model's place
	length diffuse.Metre
	start  diffuse.Ratio // share of equilibrium at the core before anything has spread
	to     diffuse.Tau   // when the criterion is reached

	holds, target Fraction // salt box: salt of the meat at saturation, and what is aimed at; else 0
}

// criterion reports whether there is a core to reach.
func (w *work) criterion() bool { return w.r.Method.Value != Ground && !w.r.forTaste(w.cut) }

// path is the way by the method of the request.
func (w *work) path(d *Dose, m mix) (p path, err error) {
	if w.r.Method.Value == SaltBox {
		shape, length := w.form()
		p = path{model: diffuse.Constant(shape), length: length, holds: w.holds(), target: d.Salt}
		if w.r.Sides == [2]Millimetre{} {
			p.to, err = p.model.TimeToUptake(diffuse.Ratio(p.target / p.holds))
			return p, err
		}
		p.block = &diffuse.Brick{A: 2 * length, B: diffuse.Metre(w.r.Sides[0]) / 1000, C: diffuse.Metre(w.r.Sides[1]) / 1000}
		const any diffuse.Diffusivity = 1e-10 // m²/s: a Tau is the same by each
		lay, err := p.block.TimeToUptake(any, diffuse.Ratio(p.target/p.holds))
		p.to = any.Tau(lay, length)
		return p, err
	}
	if p.model, p.length, err = w.spread(m); err != nil {
		return p, err
	}
	if p.start = w.headStart(); p.start < reached {
		p.to, err = p.model.TimeTo((reached - p.start) / (1 - p.start))
	}
	return p, err
}

// after is the share at the core, of the target in a salt box, and there the mean salt too.
func (p path) after(tau diffuse.Tau) (core, mean Fraction) {
	switch {
	case p.block != nil && tau > 0:
		aSecond := diffuse.Diffusivity(tau) * diffuse.Diffusivity(p.length*p.length) // m²/s that comes to tau in one
		at, _ := p.block.Centre(aSecond, time.Second)                                // no error: the sides were checked
		in, _ := p.block.Uptake(aSecond, time.Second)
		return min(1, p.holds/p.target*Fraction(at)), p.holds * Fraction(in)
	case p.target > 0:
		return min(1, p.holds/p.target*Fraction(p.model.Centre(tau))), p.holds * Fraction(p.model.Uptake(tau))
	}
	return Fraction(p.start + (1-p.start)*p.model.Centre(tau)), 0
}
