package brine

import "salthand/cure"

// Litre is a volume in litres, at 60 °F where it is a brine's or a water's.
type Litre float64

// GramPerLitre is a mass in a litre: of salt, or of all of a brine (its density; kg/m³ is the
// same number).
type GramPerLitre float64

// Degree is a reading in °salometer: 0 in water, 100 in what the Instrument says.
type Degree float64

// Ratio is a dimensionless ratio that may pass 1.
type Ratio float64

// Exact volumes and masses.
// Source: NIST Handbook 44, appendix C.
const (
	USGallon       Litre     = 3.785411784
	ImperialGallon Litre     = 4.54609
	pound          cure.Gram = 453.59237 // g
)

// Reference is 60 °F, the temperature that salometers, °Baumé and specific gravity refer to.
const Reference cure.Celsius = (60 - 32) / 1.8

// FullSalometer is the salt of a brine that reads 100 °salometer: saturated at 60 °F.
// Source: Salt Institute, solubility of salt in water, 60 °F; industrial note "The Salometer
// and How to Use It". Training texts round it to 26.3 or 26.4 %.
const FullSalometer cure.Fraction = 0.26395

// OutOfRange is the error of a value that the tables don't cover, or that can't be.
type OutOfRange struct {
	What           What
	Got, Low, High float64 // in the unit of What
}

// What names a value in an error.
type What string

// The values that can be out of range.
const (
	SaltShare   What = "salt"        // g in a g of brine
	Temperature What = "temperature" // °C
	Strength    What = "strength"    // a Reading, in its own scale
	Volume      What = "volume"      // litres
	Weight      What = "weight"      // g
	Meat        What = "meat"        // g
	Water       What = "water"       // g
	Pickle      What = "pickle"      // g
	Solute      What = "solute"      // g
	MeatWater   What = "meat water"  // g in a g of raw meat
	PickUp      What = "pick-up"     // g in a g of green meat
	Target      What = "target"      // g in a g of raw meat
	Changes     What = "changes"     // of water
)

func (e *OutOfRange) Error() string { return "brine: out of range: " + string(e.What) }

// within is an *OutOfRange unless x lies between low and high, both included; NaN never does.
func within(what What, x, low, high float64) error {
	if x >= low && x <= high {
		return nil
	}
	return &OutOfRange{What: what, Got: x, Low: low, High: high}
}

// bound is one on masses, g, and volumes that keeps every sum finite.
const bound = 1e12

// some is an *OutOfRange unless there is some of x, and no more than can be.
func some(what What, x float64) error {
	if x > 0 && x <= bound {
		return nil
	}
	return &OutOfRange{What: what, Got: x, Low: 0, High: bound}
}
