package cure

import "math"

// twoReadings is the standard uncertainty of a weight read against a tare, in divisions: two
// readings, each uniform over one division, 1/√12 of it each.
// Source: JCGM 100:2008, Guide to the expression of uncertainty in measurement, 4.3.7 and
// F.2.2.1 (from memory).
const twoReadings = 0.408248290463863 // 1/√6

// Weighing is an amount of cure on an amount of meat, and the scales.
type Weighing struct {
	Cure      Gram
	Meat      Gram     // or whatever the ppm is reckoned on
	Agent     Agent    // its nitrite counts
	CureScale Gram     // division
	MeatScale Gram     // division; 0: as CureScale
	Tolerance Fraction // standard uncertainty of the strength, of the mix; 0: not known
}

// Band is what scales and strength leave open of a ppm.
type Band struct {
	Nitrite  PPM      // NaNO2
	Expanded PPM      // ±, k = 2
	Relative Fraction // standard uncertainty over the value; over 1 where the scale is blind
	Half     Fraction // half a division of the cure scale over the cure
	Fine     bool     // Half is 5 % at most
	Stop     bool     // the band is as wide as the value: the scale can't see the dose
	Remedy   Remedy   // where it isn't Fine
}

// Remedy is what would make it fine, each alone: half a division at 5 % of the cure.
type Remedy struct {
	Scale  Gram     // the coarsest usual division; 0: none is fine enough
	Meat   Gram     // the smallest batch on this scale
	Weaker Fraction // the strongest cure, made down, for this meat on this scale; 0: it would be over 3 % of the meat, mostly salt, or weaker than a mix that Blend makes
}

// WeighingBand is the nitrite of a weighing with its expanded uncertainty, k = 2: u² of the
// ppm, relative, is the sum of those of cure, meat and strength. 0.15 g of a 6.25 % cure on
// 60 g of meat is 156 ± 85 ppm on a 0.1 g scale, ± 850 on a 1 g one. A scale that drifts, or
// has no class, is worse. The error is a *Stop for what is not plausible, a *Missing for a
// strength.
//
// Source: JCGM 100:2008, 5.1.6, product of powers (from memory).
func WeighingBand(w Weighing) (Band, error) {
	p := w.Agent.parts().nitrite
	if p == 0 {
		return Band{}, &Missing{What: "strength"}
	}
	if err := w.Agent.plausible(Request{}); err != nil {
		return Band{}, err
	}
	if w.MeatScale == 0 {
		w.MeatScale = w.CureScale
	}
	for _, one := range []struct {
		span span
		x    float64
	}{
		{putSpan, float64(w.Cure)}, {meatSpan, float64(w.Meat)},
		{scaleSpan, float64(w.CureScale)}, {scaleSpan, float64(w.MeatScale)},
		{span{"tolerance", 0, 100, "%"}, 100 * float64(w.Tolerance)},
	} {
		if err := one.span.check(one.x, Request{}); err != nil {
			return Band{}, err
		}
	}
	cure, meat := float64(twoReadings*w.CureScale/w.Cure), float64(twoReadings*w.MeatScale/w.Meat)
	u := math.Hypot(math.Hypot(cure, meat), float64(w.Tolerance/p))
	b := Band{Nitrite: ratio(w.Cure*Gram(p), w.Meat), Relative: Fraction(u), Half: Fraction(w.CureScale / 2 / w.Cure)}
	b.Expanded = 2 * PPM(u) * b.Nitrite
	b.Fine = float64(b.Half) <= coarse*(1+1e-9)
	b.Stop = b.Expanded >= b.Nitrite
	if !b.Fine {
		b.Remedy = w.remedy(p)
	}
	return b, nil
}

func (w Weighing) remedy(p Fraction) (r Remedy) {
	short := float64(w.CureScale/2/w.Cure) / coarse // how many times too little cure there is
	r.Meat = w.Meat * Gram(short)
	if weaker := p / Fraction(short); 100*float64(weaker) >= blendSpan.min && Fraction(w.Cure*Gram(short)/w.Meat) <= floatingSalt {
		r.Weaker = weaker
	}
	for _, one := range divisions {
		if float64(one/2/w.Cure) <= coarse*(1+1e-9) {
			r.Scale = one
			break
		}
	}
	return r
}
