package water

import (
	"math"

	"salthand/cure"
)

// Solute is something sweet that binds water.
type Solute uint8

// The solutes. Dextrose is reckoned dry: the bag's is often the monohydrate, 9 % of it water.
const (
	Sucrose Solute = iota
	Dextrose
	Fructose
	Lactose
	Maltose
	Glycerol
	Erythritol
	Xylitol
	Sorbitol
	Mannitol
	solutes
)

// Source: K of Norrish's equation: sucrose to maltose Chirife et al. 1980 (from memory; the
// last three of them roughly); glycerol to mannitol Int. J. Dent. 2010, table 3. g/mol from
// the formulas.
var sweet = [solutes]struct{ mass, k float64 }{
	Sucrose:    {342.30, 6.47},
	Dextrose:   {180.16, 2.25},
	Fructose:   {180.16, 2.25},
	Lactose:    {342.30, 10.2},
	Maltose:    {342.30, 4.5},
	Glycerol:   {92.09, 1.16},
	Erythritol: {122.12, 1.34},
	Xylitol:    {152.15, 1.66},
	Sorbitol:   {182.17, 1.65},
	Mannitol:   {182.17, 0.906},
}

// mostSweet is how far the equation goes, mol/kg.
const mostSweet = 6

// Activity is the water activity of the solute alone in water, up to 6 mol/kg, near 25 °C.
// Good to 0.005. The error is an *OutOfRange.
//
// Source: Norrish 1966, aw = x_water·exp(−K·x_solute²), as read in Baeza et al. 2010.
func (s Solute) Activity(m Molality) (Activity, error) {
	if s >= solutes {
		return 0, &OutOfRange{What: Kind, Got: float64(s), High: float64(solutes) - 1}
	}
	if err := within(Strength, float64(m), 0, mostSweet); err != nil {
		return 0, err
	}
	return Activity(s.activity(float64(m))), nil
}

func (s Solute) activity(m float64) float64 {
	x := m * waterMol / (1 + m*waterMol)
	return (1 - x) * math.Exp(-sweet[s].k*x*x)
}

// Molality is that of so many g of the solute in a g of solution. A solute that there isn't
// has none.
func (s Solute) Molality(share cure.Fraction) Molality {
	if s >= solutes {
		return Molality(math.NaN())
	}
	return Molality(inKilo * float64(share) / (1 - float64(share)) / sweet[s].mass)
}

// Ross is the water activity of several things in the same water: the product of those that
// each has alone in all of it. Good to 0.01 above 0.8 where each part is.
//
// Source: Ross, Food Technology 29 (1975) 26 (from memory).
func Ross(parts ...Activity) Activity {
	product := Activity(1)
	for _, part := range parts {
		product *= part
	}
	return product
}
