package brine

import "salthand/cure"

// Part is what a volume is of.
type Part uint8

// A litre of water gives more than a litre of brine.
const (
	OfWater Part = iota // so much water, the salt comes to it
	OfBrine             // so much brine when it is done
)

// Recipe is a brine to make.
type Recipe struct {
	Salt    cure.Fraction // g in a g of brine: all sodium chloride, that in the curing salt included
	Volume  Litre         // at 60 °F
	Of      Part
	Coldest cure.Celsius // where it will stand, −21 to 100 °C; all must stay dissolved there
}

// Mix is what a brine is made of, and what it comes to.
type Mix struct {
	Salt, Water cure.Gram
	WaterVolume Litre
	Volume      Litre // of brine
}

// Mix is what to weigh for the recipe. Good to 0.1 % of the water and 0.05 % of the salt.
// The error is an *Undissolved, a *Frozen or an *OutOfRange.
func (r Recipe) Mix() (Mix, error) {
	if err := above(Volume, float64(r.Volume), 0); err != nil {
		return Mix{}, err
	}
	swell, err := Swell(r.Salt)
	if err != nil {
		return Mix{}, err
	}
	if err := Keeps(r.Salt, r.Coldest); err != nil {
		return Mix{}, err
	}
	m := Mix{WaterVolume: r.Volume, Volume: r.Volume * Litre(swell)}
	if r.Of == OfBrine {
		m = Mix{WaterVolume: r.Volume / Litre(swell), Volume: r.Volume}
	}
	m.Water = cure.Gram(m.WaterVolume) * cure.Gram(water60)
	m.Salt = m.Water * cure.Gram(r.Salt/(1-r.Salt))
	return m, nil
}
