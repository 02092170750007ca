package brine

import "salthand/cure"

// Part is what a volume is of.
type Part uint8

// A litre of water gives more than a litre of brine.
const (
	OfWater Part = iota // so much water, the salt comes to it
	OfBrine             // so much brine when it is done
)

// Recipe is a brine to make. Either Volume or Weight says how much; the other is 0.
type Recipe struct {
	Salt    cure.Fraction // g in a g of brine: all sodium chloride, that in the curing salt included
	Volume  Litre         // at 60 °F
	Weight  cure.Gram
	Of      Part         // what Volume or Weight is of
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
	if r.Weight != 0 {
		if err := some(Weight, float64(r.Weight)); err != nil {
			return Mix{}, err
		}
		if err := within(Volume, float64(r.Volume), 0, 0); err != nil {
			return Mix{}, err
		}
	} else if err := some(Volume, float64(r.Volume)); err != nil {
		return Mix{}, err
	}
	swell, err := Swell(r.Salt)
	if err != nil {
		return Mix{}, err
	}
	if err := Keeps(r.Salt, r.Coldest); err != nil {
		return Mix{}, err
	}
	water := r.Weight
	switch {
	case r.Weight == 0 && r.Of == OfBrine:
		water = cure.Gram(r.Volume/Litre(swell)) * cure.Gram(water60)
	case r.Weight == 0:
		water = cure.Gram(r.Volume) * cure.Gram(water60)
	case r.Of == OfBrine:
		water = r.Weight * cure.Gram(1-r.Salt)
	}
	litres := Litre(water / cure.Gram(water60))
	return Mix{
		Salt: water * cure.Gram(r.Salt/(1-r.Salt)), Water: water,
		WaterVolume: litres, Volume: litres * Litre(swell),
	}, nil
}
