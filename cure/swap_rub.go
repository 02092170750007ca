package cure

// Rub is a mix as old recipes give it: so much of each, so much of the mix on the meat.
type Rub struct {
	Cures  []Put      // by weight; Grams.Likely counts
	Salt   Gram       // plain salt
	Other  Gram       // sugar, spice: what else weighs something
	Rate   Fraction   // of the mix on the meat: 1.5 oz a lb is 1.5/16
	Meat   Gram       // 0: not said, figures a kilogram alone
	Target Given[PPM] // NaNO2 on the meat for RateForTarget; unset: the usual 156.25
	Region Region     // for usual strengths; "" for none
}

// Rubbed is what a rub comes to on the meat.
type Rubbed struct {
	Mix           Gram     // on Meat; 0 without it
	Salt          Fraction // all NaCl over the meat
	SaltPerKilo   Gram     // g of all NaCl for 1 kg of meat
	Nitrite       PPM      // NaNO2 on the meat
	Nitrate       PPM      // as NaNO3
	NitrateAsUsed PPM      // of the salts themselves, as potassium nitrate is when saltpetre went in
	Cures         []Share  // in the order of Rub.Cures
	RateForTarget Fraction // of the mix on the meat, for Target; 0 where there is no nitrite in it
}

// Share is what a rub holds of one curing salt.
type Share struct {
	Agent   Agent
	OfMix   Fraction // of the mix
	Gram    Gram     // on Rub.Meat; 0 without it
	PerKilo Gram     // for 1 kg of meat
}

// Analyse is a rub worked out on the meat. The error is a *Missing for a strength, a *Stop
// for what is not plausible.
//
// Source: FSIS Directive 7620.3, 1995, p. 24, dry cure: agent in the mix x mix applied / mix
// (secondary).
func (r Rub) Analyse() (Rubbed, error) {
	mix := r.Salt + r.Other
	for _, one := range []struct {
		span span
		x    float64
	}{{addedSpan, float64(r.Salt)}, {extraSpan, float64(r.Other)}, {rateSpan, 100 * float64(r.Rate)}} {
		if err := one.span.check(one.x, Request{}); err != nil {
			return Rubbed{}, err
		}
	}
	if r.Meat != 0 {
		if err := meatSpan.check(float64(r.Meat), Request{}); err != nil {
			return Rubbed{}, err
		}
	}
	r.Cures = append([]Put(nil), r.Cures...)
	for i := range r.Cures {
		p := &r.Cures[i]
		if p.Agent = p.Agent.inRegion(r.Region); p.Agent.parts().none() {
			return Rubbed{}, &Missing{What: "strength"}
		}
		if err := p.Agent.plausible(Request{}); err != nil {
			return Rubbed{}, err
		}
		if err := putSpan.check(float64(p.Grams.Likely), Request{}); err != nil {
			return Rubbed{}, err
		}
		mix += p.Grams.Likely
	}
	if mix == 0 {
		return Rubbed{}, &Missing{What: "cure"}
	}
	return r.shared(mix)
}

func (r Rub) shared(mix Gram) (Rubbed, error) {
	d := Rubbed{Mix: r.Meat * Gram(r.Rate)}
	salt := r.Salt
	var nitrite Fraction // of the mix
	for _, p := range r.Cures {
		parts, share := p.Agent.parts(), Fraction(p.Grams.Likely/mix)
		on := PPM(float64(share)*float64(r.Rate)) * 1e6
		nitrite += share * parts.nitrite
		salt += p.Grams.Likely * Gram(parts.salt)
		d.Nitrite += on * PPM(parts.nitrite)
		d.Nitrate += on * PPM(parts.nitrate)
		d.NitrateAsUsed += on * PPM(p.Agent.nitrateAsWeighed())
		d.Cures = append(d.Cures, Share{p.Agent, share, d.Mix * Gram(share), 1000 * Gram(share*r.Rate)})
	}
	d.Salt = Fraction(salt/mix) * r.Rate
	d.SaltPerKilo = 1000 * Gram(d.Salt)
	target := r.Target.Or(usualNitrite, FromRule).Value
	if err := targetSpan.check(float64(target), Request{}); err != nil {
		return Rubbed{}, err
	}
	if nitrite > 0 {
		d.RateForTarget = Fraction(float64(target) * 1e-6 / float64(nitrite))
	}
	return d, nil
}
