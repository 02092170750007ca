package cure

import (
	"math"
	"strings"
)

// aim settles the target of nitrite and of ascorbate.
func (w *work) aim() {
	r := &w.r
	a := r.Agent.Value
	if a.Kind == NoCure {
		return
	}
	if a.Kind.nitrateOnly() {
		if r.Rate.Set() {
			r.Nitrate = Given[PPM]{PPM(float64(r.Rate.Value)*float64(a.Nitrate)) * 1e6, r.Rate.Origin}
			r.Rate = Given[Fraction]{}
		}
		return
	}
	if r.Rate.Set() {
		r.Nitrite = Given[PPM]{PPM(float64(r.Rate.Value)*float64(a.Nitrite)) * 1e6, r.Rate.Origin}
		r.Rate = Given[Fraction]{}
	}
	asked := r.Nitrite.Set() && r.Nitrite.Origin != FromRule
	w.shedSkin(asked)
	w.aimAscorbate()
	if !asked {
		r.Nitrite = Given[PPM]{w.usualTarget(), FromRule}
	}
}

// shedSkin moves the basis to the meat less skin where the target is the legal figure
// itself; otherwise a piece is dosed as it lies on the scale.
func (w *work) shedSkin(asked bool) {
	if !w.skinCounts() || w.basis != GreenMeat {
		return
	}
	figure := w.figure()
	target := w.class.target
	if asked {
		target = w.r.Nitrite.Value
		if math.Abs(float64(target/figure-1)) > 1e-9 {
			return
		}
	}
	if target >= figure*(1-1e-9) {
		w.basis, w.mass = GreenMeatLessSkin, w.bare
	}
}

// skinCounts reports whether the skin is on and a limit takes it off.
func (w *work) skinCounts() bool {
	if !w.r.SkinOn.Value {
		return false
	}
	for _, r := range w.rules {
		if r.limit.lessSkin() {
			return true
		}
	}
	return false
}

func (l Limit) lessSkin() bool { return strings.Contains(l.Basis, "less skin") }

// caps reports whether a figure of nitrite or nitrate bounds what is proposed: a maximum or
// a required level, seen or from memory.
func (l Limit) caps() bool { return l.Kind == "ingoing max" || l.Kind == "ingoing required" }

// figure is the lowest figure for nitrite, as NaNO2, whatever its basis.
func (w *work) figure() PPM {
	low := PPM(math.Inf(1))
	for _, r := range w.rules {
		if r.limit.concerns("nitrite") && r.limit.caps() {
			low = min(low, r.limit.Value/PPM(r.limit.factor()))
		}
	}
	return low
}

// usualTarget is the kitchen rule, or the class's figure where that is lower, on the basis
// of the method and on the limit's own. What is compared depends a little on the cure
// itself where the limit is on the whole pickle, hence the rounds; they settle in a few.
func (w *work) usualTarget() PPM {
	top := min(w.class.target, w.figure())
	target := top
	for range 50 {
		next, m := top, w.mixed(target)
		for _, r := range w.rules {
			got := w.compare(r, m)
			if r.limit.Agent != "ascorbate" && r.limit.caps() && r.limit.Value > 0 && got > 0 {
				next = min(next, target*r.limit.Value/got)
			}
		}
		if math.Abs(float64(next/target-1)) < 1e-14 {
			return next
		}
		target = next
	}
	return target
}

// aimAscorbate fills in the ascorbate that a class requires.
func (w *work) aimAscorbate() {
	asc := &w.r.Ascorbate
	if asc.Set() && asc.Origin != FromRule {
		return
	}
	*asc = Given[PPM]{}
	for _, r := range w.rules {
		if r.limit.Agent == "ascorbate" && r.limit.Kind == "ingoing required" {
			one := w.compare(r, mix{ascorbate: 1, pickle: w.pickle}) // ppm that a gram makes
			*asc = Given[PPM]{ratio(Gram(r.limit.Value/one), w.mass), FromRule}
		}
	}
}
