package cure

// Concentration is the NaNO2 of an amount of a curing salt of a strength on a weight, evened
// out. 0 where there is no weight.
func Concentration(cure Gram, strength Fraction, on Gram) PPM {
	if on <= 0 {
		return 0
	}
	return PPM(float64(cure) * float64(strength) / float64(on) * 1e6)
}

// Dissolved is a curing salt in water, by what it is for each measure of it.
type Dissolved struct {
	Cure    Gram     // of the curing salt
	Nitrite Fraction // its strength
	Water   Gram
	Other   Gram // salt, sugar and whatever else is dissolved with it
}

// Concentration is the NaNO2 of the pickle itself, on all of it. 0 where nothing is in it.
func (d Dissolved) Concentration() PPM { return d.PickedUp(1, 0) }

// PickedUp is the NaNO2 of meat that took up a share of its weight of the pickle. With meat 0
// the share alone counts: what goes into a kilogram. With meat it is evened out over the meat
// and all of the pickle, whatever the share.
//
// Source: FSIS Directive 7620.3, 1995, pp. 15 and 22: ppm = nitrite x pick-up / pickle, and
// nitrite / (meat + pickle) at equilibrium (secondary).
func (d Dissolved) PickedUp(share Fraction, meat Gram) PPM {
	pickle := d.Cure + d.Water + d.Other
	if pickle <= 0 {
		return 0
	}
	nitrite := float64(d.Cure) * float64(d.Nitrite)
	if meat > 0 {
		return PPM(nitrite / float64(meat+pickle) * 1e6)
	}
	return PPM(nitrite * float64(share) / float64(pickle) * 1e6)
}
