package cure

import (
	"time"

	"salthand/cure/diffuse"
)

// The salt box. The surface stays saturated, so what is aimed at is not the core but the
// mean: the meat comes out when it holds enough, and evens out afterwards.
const (
	boxSalt   Fraction = 0.05 // all salt in the meat when it comes out; dry-cured hams, common practice, no source
	boxDeep   Fraction = 0.8  // of what the meat's water holds at saturation: as far as the rules go; common practice
	boxDeeper Fraction = 0.95 // as far as a target may go: beyond it the days have no end
	boxOver            = 1.25 // of the target: worth a word; common practice, no source
	boxHigh   Fraction = 0.08 // salt of the meat that is worth a word after a salt box; common practice, no source
	boxBury            = 1.0  // g of box salt a g of meat, at least; common practice, no source
)

// holds is the salt in a gram of meat whose water is saturated.
func (w *work) holds() Fraction { return saturatedWater * w.cut.Water }

// usualSalt is the rule's salt for the method.
func (w *work) usualSalt() Fraction {
	if w.r.Method.Value == SaltBox {
		return boxSalt
	}
	return usualSalt
}

// judgeBox refuses a salt box that can't come to its target.
func (w *work) judgeBox(d *Dose, m mix) error {
	if w.r.Method.Value != SaltBox {
		return nil
	}
	if most := boxDeeper * w.holds(); d.Salt > most*(1+1e-9) {
		return &Stop{Rule: StopSaturated, Got: 100 * float64(d.Salt), Max: 100 * float64(most), Unit: "%", Salt: most,
			Source: "Salt Institute, solubility of salt in water, over the water of the cut", Request: d.Request}
	}
	if m.cure > 0 {
		d.caution(CodeBoxCure, Warn, float64(m.cure), 0)
	}
	return nil
}

// planBox picks the date that leads the card, and how long the meat takes to even out after
// it.
func (w *work) planBox(d *Dose) error {
	t, asked := &d.Time, w.r.Days
	t.PlanFor = max(day, wholeDays(t.To.Likely))
	switch {
	case !asked.Set():
	case t.Mean.Likely < likelyDone*d.Salt:
		d.caution(CodeBoxShort, w.unlessHeated(Warn), 100*float64(t.Mean.Likely), 100*float64(d.Salt))
	default:
		t.PlanFor = asked.Value
		if t.Mean.Likely > boxOver*d.Salt {
			d.caution(CodeBoxLong, Warn, 100*float64(t.Mean.Likely), 100*float64(d.Salt))
		}
	}
	shape, length := w.form()
	for i, speed := range speeds {
		rate, err := speed.At(diffuse.Celsius(w.r.Temperature.Value))
		if err != nil {
			return err
		}
		if *t.Equalise.at(i), err = evenOut(shape, rate, length, t.PlanFor); err != nil {
			return err
		}
	}
	return nil
}

// evenOut is how long a piece that lay in salt takes until its core has 95 % of the mean.
func evenOut(s diffuse.Shape, rate diffuse.Diffusivity, length diffuse.Metre, lay time.Duration) (time.Duration, error) {
	in := rate.Tau(lay, length)
	model, err := diffuse.Capped(s, diffuse.Constant(s).Uptake(in))
	if err != nil {
		return 0, err
	}
	all, err := model.TimeTo(reached)
	return rate.Time(max(0, all-in), length), err
}

// at is one of the three, slow, likely, fast.
func (b *Band3[T]) at(i int) *T { return [...]*T{&b.Slow, &b.Likely, &b.Fast}[i] }
