package brine

import "salthand/cure"

// Instrument is a salometer, the glass. Which one it is stands on its paper; if nobody looked,
// a brine made with the 25 % glass taken for the usual one ends up a twentieth weak.
type Instrument uint8

// The glasses that there are.
//
// Source: industrial note "The Salometer and How to Use It". What 100° means on the cold one
// is not printed; the salt of 100° at 60 °F is taken.
const (
	Usual   Instrument = iota // 100° = 26.395 % salt, true at 60 °F
	Special                   // 100° = 25 % salt, true at 60 °F
	Cold                      // true at 38 °F
)

// full is the % salt of 100°, and true the temperature, °C, at which the glass reads true.
func (i Instrument) full() float64 {
	if i == Special {
		return 100 * special25
	}
	return 100 * float64(FullSalometer)
}

func (i Instrument) true() float64 {
	if i == Cold {
		return (38 - 32) / 1.8
	}
	return float64(Reference)
}

// Salt is the salt in a g of a brine in which the glass reads so many degrees, at a
// temperature of the brine from 0 to 25 °C. Good to 0.2 °salometer: the glass's own
// expansion, 0.07° for 10 °F, is left out. The error is an *OutOfRange. A glass in °Baumé or
// specific gravity is read through the usual one: On(Salometer, …) of the brine that its
// number stands for at 60 °F.
//
// A rule of the trade adds 1° for each 10 °F above 60 °F and takes 1° off below; it is right
// near 40°, and 0.3° off at 20 and at 80°.
// Source: fish-safety note "Preparing a Saltbrine" (the rule).
func (i Instrument) Salt(reading Degree, at cure.Celsius) (cure.Fraction, error) {
	if err := within(Temperature, float64(at), coldest, warmest); err != nil {
		return 0, err
	}
	if err := within(Strength, float64(reading), i.reads(0, at), i.reads(mostSalt, at)); err != nil {
		return 0, err
	}
	rho := density(float64(reading)/100*i.full(), i.true())
	return cure.Fraction(min(mostSalt, max(0, saltOf(rho, float64(at))/100))), nil
}

// Reads is what the glass reads in a brine with so much salt in a g, at a temperature from 0
// to 25 °C; below 0 in warm water. Good to 0.2°. The error is an *OutOfRange.
func (i Instrument) Reads(salt cure.Fraction, at cure.Celsius) (Degree, error) {
	if err := within(SaltShare, float64(salt), 0, mostSalt); err != nil {
		return 0, err
	}
	if err := within(Temperature, float64(at), coldest, warmest); err != nil {
		return 0, err
	}
	return Degree(i.reads(float64(salt), at)), nil
}

func (i Instrument) reads(salt float64, at cure.Celsius) float64 {
	return 100 * saltOf(density(100*salt, float64(at)), i.true()) / i.full()
}
