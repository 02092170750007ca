package cure

import "math"

// onScale is n divisions, without the dust of binary fractions.
func onScale(n float64, division Gram) Gram {
	return Gram(math.Round(n*float64(division)*1e9) / 1e9)
}

// nearest is a mass on the scale.
func nearest(x, division Gram) Gram { return onScale(math.Round(float64(x/division)), division) }

// The bounds of half a division over the dose.
const (
	coarse  = 0.05 // above it the card says what the scale can't see
	tooMuch = 0.25 // above it nothing moves until an approver decides; of ascorbate there is no dose
)

// weigh puts the amounts on the scale, or refuses a dose that it can't see.
func (w *work) weigh(d *Dose, m mix) error {
	step := w.r.CureScale.Value
	if m.cure > 0 {
		off := 2 * twoReadings * step // k = 2
		d.Band = ratio(off*Gram(w.r.Agent.Value.lead()), w.mass)
		share := float64(step / 2 / m.cure)
		switch {
		case off >= m.cure: // the band is as wide as the dose
			return w.scaleStop(*d, "cure", m.cure)
		case share > tooMuch*(1+1e-9):
			d.caution(CodeScaleBand, Hold, float64(d.Band), 100*share)
		case share > coarse*(1+1e-9):
			d.caution(CodeScaleBand, Warn, float64(d.Band), 100*share)
		}
	}
	if m.ascorbate > 0 {
		share := float64(step / 2 / m.ascorbate)
		if share > tooMuch*(1+1e-9) {
			return w.scaleStop(*d, "ascorbate", m.ascorbate)
		}
		if share > coarse*(1+1e-9) {
			d.caution(CodeAscorbate, Warn, float64(m.ascorbate), float64(step))
		}
	}
	add := func(item Item, exact Gram, with func(Gram) mix) {
		if !(exact > 1e-9*m.salt) { // dust of binary fractions
			return
		}
		d.Add = append(d.Add, Amount{Item: item, Exact: exact, Weigh: w.keptUnder(m, nearest(exact, step), with)})
		if w.injected() {
			kilo := exact / w.pickle * 1000
			all := func(x Gram) mix { return with(x * w.pickle / 1000) }
			d.PerKilo = append(d.PerKilo, Amount{Item: item, Exact: kilo, Weigh: w.keptUnder(m, nearest(kilo, step), all)})
		}
	}
	same := func(Gram) mix { return m } // no limit depends on it
	add(CureItem, m.cure, w.with)
	if len(d.Add) > 0 {
		d.OnScale = ratio(d.Add[0].Weigh*Gram(w.r.Agent.Value.Nitrite), w.mass)
	}
	if w.r.Method.Value == SaltBox {
		add(BoxSaltItem, boxBury*w.meat, same)
	} else {
		add(SaltItem, m.saltToWeigh, same)
	}
	add(SugarItem, m.sugar, same)
	add(AscorbateItem, m.ascorbate, func(x Gram) mix {
		changed := m
		changed.ascorbate = x
		return changed
	})
	add(WaterItem, m.water, same)
	return nil
}

// keptUnder takes a division off where rounding carried a dose over a limit that it was not
// over.
func (w *work) keptUnder(exact mix, weigh Gram, with func(Gram) mix) Gram {
	rounded := with(weigh)
	for _, r := range w.rules {
		if r.applies(exact) && w.check(r, rounded).Verdict == Over && w.check(r, exact).Verdict != Over {
			return max(0, onScale(math.Round(float64(weigh/w.r.CureScale.Value))-1, w.r.CureScale.Value))
		}
	}
	return weigh
}

// divisions are what scales are sold with, coarsest first, in g.
var divisions = [...]Gram{500, 200, 100, 50, 20, 10, 5, 2, 1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001}

// scaleStop says for which meat or on which scale an amount could be weighed.
func (w *work) scaleStop(d Dose, what string, amount Gram) *Stop {
	share := float64(w.r.CureScale.Value / 2 / amount)
	stop := &Stop{Rule: StopScale, What: what, Got: 100 * share, Max: 100 * tooMuch, Unit: "%", Request: d.Request}
	stop.Meat = Gram(math.Ceil(float64(w.meat) * share / tooMuch * (1 - 1e-12)))
	for _, one := range divisions {
		if float64(one/2/amount) <= tooMuch {
			stop.Scale = one
			break
		}
	}
	return stop
}
