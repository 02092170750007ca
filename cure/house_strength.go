package cure

import (
	"fmt"
	"math"
)

// Rated is a use of a mix by its share of the meat.
type Rated struct {
	Nitrite PPM      // NaNO2 on the meat
	Rate    Fraction // of the mix on the meat, 0.025 for 25 g a kilogram
}

// weakBelow is the least NaNO2 that makes a mix fit for use at its rate.
const weakBelow PPM = 120 // FSIS Directive 7620.3 p. 12, ingoing minimum of what is kept refrigerated (secondary)

// Strength is the NaNO2 that a mix must have for a use: ppm over rate. 150 ppm at 2.5 % take
// 0.6 %. The error is a *Stop for a value that is not plausible: a ppm, a rate, or a strength
// outside 0.05 to 10 %.
func (u Rated) Strength() (Fraction, error) {
	if err := targetSpan.check(float64(u.Nitrite), Request{}); err != nil {
		return 0, err
	}
	if err := rateSpan.check(100*float64(u.Rate), Request{}); err != nil {
		return 0, err
	}
	s := Fraction(float64(u.Nitrite) * 1e-6 / float64(u.Rate))
	if err := blendSpan.check(100*float64(s), Request{}); err != nil {
		stop := err.(*Stop)
		stop.Rule = StopStrength
		return 0, stop
	}
	return s, nil
}

// Made is a mix as somebody made it, or means to.
type Made struct {
	Nitrite Gram            // undiluted NaNO2
	Salt    Gram            // plain salt
	Said    Given[Fraction] // the strength that is said of it
	Rate    Given[Fraction] // of the mix on the meat
	Want    Given[PPM]      // NaNO2 on the meat; unset: the usual 156.25
}

// Mixed is what a Made comes to.
type Mixed struct {
	Agent   Agent    // HouseCure
	OfSalt  Fraction // nitrite over the plain salt alone, which is not the strength
	Nitrite PPM      // NaNO2 on the meat at Rate; 0 without one
	Weak    bool     // below the 120 ppm asked for what is kept refrigerated
	Strong  bool     // above Want by more than 5 %
	Needed  Fraction // rate that gives Want; over 1 where the mix can't
	Min     PPM      // that Weak compares with
	Source  string   // of Min
}

// Times is a ratio of two like quantities.
type Times float64

// Disagreement is a strength that was said beside grams that come to another.
type Disagreement struct {
	Said     Fraction
	ByGrams  Fraction // of the mix
	OfSalt   Fraction // of the plain salt alone
	Slip     Times    // 10, 100, 1000, 0.1, … where Said is off by about that; else 0
	FromSalt bool     // Said fits OfSalt: reckoned on the salt and not on the mix
}

func (d *Disagreement) Error() string {
	return fmt.Sprintf("cure: %v said, %v by the grams", d.Said, d.ByGrams)
}

const agreeing = 0.05 // relative; a strength is said in one or two digits

// Reckon is what a mix of nitrite and salt comes to: 2 g in 1 kg of salt are 2/1002 of the
// mix. The error is a *Stop for what is not plausible, a *Disagreement where grams and the
// strength that was said differ by more than 5 %.
func (m Made) Reckon() (Mixed, error) {
	for _, one := range []struct {
		set  bool
		span span
		x    float64
	}{
		{true, putSpan, float64(m.Nitrite)},
		{true, span{"salt", 1e-3, 1e7, "g"}, float64(m.Salt)},
		{m.Rate.Set(), rateSpan, 100 * float64(m.Rate.Value)},
		{m.Want.Set(), targetSpan, float64(m.Want.Value)},
		{m.Said.Set(), span{"nitrite", 1e-6, 100, "%"}, 100 * float64(m.Said.Value)},
	} {
		if one.set {
			if err := one.span.check(one.x, Request{}); err != nil {
				return Mixed{}, err
			}
		}
	}
	s, ofSalt := Fraction(m.Nitrite/(m.Nitrite+m.Salt)), Fraction(m.Nitrite/m.Salt)
	if m.Said.Set() && math.Abs(float64(m.Said.Value/s-1)) > agreeing {
		return Mixed{}, disagree(m.Said.Value, s, ofSalt)
	}
	d := Mixed{Agent: Agent{Kind: HouseCure, Nitrite: s}, OfSalt: ofSalt, Min: weakBelow,
		Source: "FSIS Directive 7620.3 p. 12, policy for \"keep refrigerated\""}
	want := m.Want.Or(usualNitrite, FromRule).Value
	d.Needed = Fraction(float64(want) * 1e-6 / float64(s))
	if m.Rate.Set() {
		d.Nitrite = PPM(float64(s)*float64(m.Rate.Value)) * 1e6
		d.Weak, d.Strong = d.Nitrite < weakBelow*(1-1e-9), d.Nitrite > want*(1+agreeing)
	}
	return d, nil
}

// usualNitrite is 0.25 % of a 6.25 % no. 1, the usual kitchen rule (common practice).
const usualNitrite PPM = 156.25

func disagree(said, s, ofSalt Fraction) *Disagreement {
	d := &Disagreement{Said: said, ByGrams: s, OfSalt: ofSalt, FromSalt: math.Abs(float64(said/ofSalt-1)) < 1e-3}
	power := math.Round(math.Log10(float64(said / s)))
	if slip := math.Pow(10, power); power != 0 && math.Abs(float64(said/s)/slip-1) <= agreeing {
		d.Slip = Times(slip)
	}
	return d
}
