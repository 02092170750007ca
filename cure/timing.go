package cure

import (
	"math"
	"time"

	"salthand/cure/diffuse"
)

// The criterion of time, and what is enough of it after the days asked.
const (
	reached    diffuse.Ratio = 0.95
	likelyDone Fraction      = 0.80
	slowDone   Fraction      = 0.50
)

const (
	saturatedWater = 0.358 // g NaCl a g of water at 10 to 15 °C; Salt Institute solubility table
	needleSpacing  = 0.025 // m between needle tracks, common practice, no source
	inch           = 25.4  // mm
	perInch        = 7 * day
	day            = 24 * time.Hour
)

// spread is the model of how the salt gets to the core by the method, and the length that
// it spreads over.
//
// A weighed rub: a capped source, filled by the salt of the dose over what the water of the
// meat holds at saturation. A brine: a bath of limited volume. A needle: from the track to
// the edge of the round cell that it feeds, which takes as long as from the edge to the
// middle.
func (w *work) spread(m mix) (*diffuse.Model, diffuse.Metre, error) {
	shape, length := w.form()
	inMeat := w.meat * Gram(w.cut.Water)
	var model *diffuse.Model
	var err error
	switch w.r.Method.Value {
	case Injection:
		length = needleSpacing / diffuse.Metre(math.Sqrt(math.Pi))
		model, err = diffuse.Capped(diffuse.Cylinder, 0)
	case CoverBrine:
		model, err = diffuse.Limited(shape, diffuse.Ratio(m.water/inMeat))
	case InjectionCover:
		wet := m.water / w.pickle // water in a gram of pickle
		model, err = diffuse.Limited(shape, diffuse.Ratio(wet*w.r.Cover.Value/(inMeat+wet*w.pumped)))
	default:
		fill := m.salt / (w.saltMass * saturatedWater * Gram(w.cut.Water))
		model, err = diffuse.Capped(shape, diffuse.Ratio(fill))
	}
	return model, length, err
}

// form is the shape of a piece and the length that salt has to go.
func (w *work) form() (diffuse.Shape, diffuse.Metre) {
	half := diffuse.Metre(w.r.Thickness.Value) / 2000
	switch {
	case w.r.SkinOn.Value:
		return diffuse.Slab, 2 * half // one face takes salt
	case w.cut.Shape == "cylinder" && w.r.Sides == [2]Millimetre{}:
		return diffuse.Cylinder, half
	}
	return diffuse.Slab, half
}

// headStart is the share of equilibrium that the core has from the needles, before anything
// comes from the cover: 0 where nothing was pumped. What is still missing spreads as if the
// core began empty, since diffusion is linear.
func (w *work) headStart() diffuse.Ratio {
	if w.r.Method.Value != InjectionCover {
		return 0
	}
	pumped := w.pumped / (w.meat + w.pumped)
	even := w.pickle / (w.meat + w.pickle)
	return diffuse.Ratio(pumped / even)
}

// time fills in how long the cure takes and how far it will have come.
func (w *work) time(d *Dose, m mix) error {
	asked := w.r.Days
	if !w.criterion() {
		d.Time.PlanFor = asked.Or(restAfterMixed, FromRule).Value
		if w.r.Method.Value != Ground {
			d.Time.PlanFor = asked.Or(tasteTime, FromRule).Value
		}
		return nil
	}
	p, err := w.path(d, m)
	if err != nil {
		return err
	}
	t := &d.Time
	t.Criterion = true
	for i, speed := range speeds {
		rate, err := speed.At(diffuse.Celsius(w.r.Temperature.Value))
		if err != nil {
			return err
		}
		*t.To.at(i) = rate.Time(p.to, p.length)
		if asked.Set() {
			*t.Core.at(i), *t.Mean.at(i) = p.after(rate.Tau(asked.Value, p.length))
		}
	}
	if w.r.Method.Value == SaltBox {
		return w.planBox(d)
	}
	w.plan(d)
	return nil
}

// plan picks the date that leads the card, and sets the rule of thumb beside it.
func (w *work) plan(d *Dose) {
	t := &d.Time
	asked := w.r.Days
	t.PlanFor = max(day, wholeDays(t.To.Likely))
	switch {
	case asked.Set() && t.Core.Likely >= likelyDone && t.Core.Slow >= slowDone:
		t.PlanFor = asked.Value
	case asked.Set():
		d.caution(CodeCoreBehind, w.unlessHeated(Warn), float64(t.Core.Likely), float64(likelyDone))
	}
	const year = 365 * day
	if t.To.Likely > year {
		d.caution(CodeCoreUnlikely, Hold, t.To.Likely.Hours()/24, year.Hours()/24)
	}
	if w.r.Method.Value == Injection {
		d.caution(CodeNeedles, Note, 1000*needleSpacing, 0)
		return
	}
	if w.r.Method.Value == DryRub || w.r.Method.Value == CoverBrine {
		t.Rule = time.Duration(float64(w.r.Thickness.Value) / inch * float64(perInch))
		t.RuleUnsafe = t.Rule < t.To.Likely
	}
}

// wholeDays rounds up to whole days.
func wholeDays(t time.Duration) time.Duration {
	if t > math.MaxInt64-day {
		return t
	}
	return (t + day - 1) / day * day
}
