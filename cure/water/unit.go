package water

import (
	"math"

	"salthand/cure"
)

// Activity is water activity, 0 to 1.
type Activity float64

// Molality is how many mol are dissolved in a kg of water.
type Molality float64

// Ratio is a dimensionless ratio that may pass 1.
type Ratio float64

const (
	saltMass  = 58.4428            // g/mol, NaCl; Salt Institute
	waterMass = 18.0153            // g/mol, H2O; IUPAC 2011 (from memory)
	inKilo    = 1000.0             // g
	zero      = 273.15             // K, 0 °C
	waterMol  = waterMass / inKilo // kg/mol
)

// Salt is the molality of salt of which there are so many g in a g of solution, 0 to below 1.
// It refuses nothing: Activity does.
func Salt(share cure.Fraction) Molality {
	return Molality(inKilo * float64(share) / (1 - float64(share)) / saltMass)
}

// Share is how many g of salt are in a g of the solution.
func (m Molality) Share() cure.Fraction {
	per := float64(m.PerWater())
	return cure.Fraction(per / (1 + per))
}

// PerWater is how many g of salt there are to a g of water.
func (m Molality) PerWater() Ratio { return Ratio(float64(m) * saltMass / inKilo) }

// OutOfRange is the error of a value that the equations don't cover, or that can't be.
type OutOfRange struct {
	What           What
	Got, Low, High float64 // in the unit of What
}

// What names a value in an error.
type What string

// The values that can be out of range.
const (
	Strength    What = "strength"    // mol in a kg of water
	Temperature What = "temperature" // °C
	Freezing    What = "freezing"    // °C, a freezing point
	Target      What = "target"      // water activity
	SaltShare   What = "salt"        // g in a g
	WaterShare  What = "water"       // g in a g
	Protein     What = "protein"     // g in a g
	Sugar       What = "sugar"       // g in a g
	Loss        What = "loss"        // of the raw weight
	Whole       What = "whole"       // all parts together, g in a g
	Kind        What = "kind"        // a Solute or a Standard that there isn't
)

func (e *OutOfRange) Error() string { return "water: out of range: " + string(e.What) }

// within is an *OutOfRange unless x lies between low and high, both included; NaN never does.
func within(what What, x, low, high float64) error {
	if x >= low && x <= high && !math.IsInf(x, 0) {
		return nil
	}
	return &OutOfRange{What: what, Got: x, Low: low, High: high}
}
