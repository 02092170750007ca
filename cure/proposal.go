package cure

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// propose settles on no cure where nobody named one, gave a target or an amount, and the
// salting is for taste, or the law is silent: no figure in force says how much may go in.
func propose(r *Request, cut Cut) {
	if r.Agent.Value.Kind != NoAgent || r.Nitrite.Set() || r.Nitrate.Set() || r.Rate.Set() {
		return
	}
	heated := r.Heated.Or(cut.Heated || r.Method.Value == Confit, FromCut).Value
	c, ok := findClass(r.Region.Value, cut.Group, r.Method.Value, heated)
	if r.forTaste(cut) || ok && !bounded(c.inForce(r.On), "nitrite") {
		r.Agent = Given[Agent]{Agent{Kind: NoCure}, FromRule}
	}
}

// bounded reports whether a figure says how much of an agent may go in.
func bounded(rules []rule, agent string) bool {
	return slices.ContainsFunc(rules, func(r rule) bool { return r.limit.caps() && r.limit.concerns(agent) })
}

// concerns reports whether a limit speaks of an agent, alone or in total with another.
func (l Limit) concerns(agent string) bool {
	return slices.Contains(strings.Split(l.Agent, "+"), agent)
}

// residual is the figure for what is left of an agent in the finished food, as the sodium
// salt; 0 where there is none.
func residual(rules []rule, agent string) (low PPM) {
	for _, r := range rules {
		if r.limit.Kind == "residual max" && r.limit.concerns(agent) {
			low = r.limit.sodium()
		}
	}
	return low
}

// ceiling is the rule with the highest figure that any region has for an agent, in such a
// piece by such a method: where a region's own law is silent, nothing goes above it. Where
// no region says what may go in, it is the highest figure for what may be left.
func (w *work) ceiling(agent string) (top rule) {
	highest, left := PPM(-1), PPM(-1)
	for _, region := range Regions() {
		c, ok := findClass(region, w.cut.Group, w.r.Method.Value, w.r.Heated.Value)
		if !ok {
			continue
		}
		rules := c.inForce(w.r.On)
		if bounded(rules, agent) {
			if r := strictest(rules, agent); r.limit.sodium() > highest {
				top, highest = r, r.limit.sodium()
			}
			continue
		}
		for _, r := range rules {
			if highest < 0 && r.limit.Kind == "residual max" && r.limit.concerns(agent) && r.limit.sodium() > left {
				top, left = r, r.limit.sodium()
			}
		}
	}
	return top
}

// strictest is the rule with the lowest figure of those that bound an agent.
func strictest(rules []rule, agent string) rule {
	var all []rule
	for _, r := range rules {
		if r.limit.caps() && r.limit.concerns(agent) {
			all = append(all, r)
		}
	}
	return slices.MinFunc(all, func(a, b rule) int { return cmp.Compare(a.limit.sodium(), b.limit.sodium()) })
}

// sodium is the figure of a limit as the sodium salt.
func (l Limit) sodium() PPM { return l.Value / PPM(l.factor()) }

// judgeSilence holds a dose that no figure of the region's law bounds, and refuses one that
// would be above the law of every region.
func (w *work) judgeSilence(d *Dose, m mix) error {
	for _, one := range []struct {
		agent string
		got   PPM
	}{{"nitrite", d.Nitrite}, {"nitrate", d.Nitrate}} {
		if one.got == 0 || bounded(w.rules, one.agent) {
			continue
		}
		left := residual(w.rules, one.agent)
		top := w.ceiling(one.agent)
		if max := top.limit.sodium(); one.got > max*(1+1e-9) {
			stop := &Stop{Rule: StopSilent, What: one.agent, Got: float64(one.got), Max: float64(max), Unit: "ppm",
				Source: top.limit.Source, Request: d.Request}
			step := w.r.CureScale.Value
			stop.Allowed = onScale(math.Floor(float64(m.cure/step*Gram(max/one.got))*(1+1e-12)), step)
			return stop
		}
		d.caution(CodeSilent, Hold, float64(one.got), float64(left))
	}
	if w.r.Agent.Value.Kind == NoCure && w.r.Agent.Origin == FromRule && !bounded(w.rules, "nitrite") {
		d.caution(CodeSilent, Note, 0, float64(residual(w.rules, "nitrite")))
	}
	return nil
}
