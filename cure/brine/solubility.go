package brine

import (
	"salthand/cure"
)

// point is a row of a table: x is in °C or in % salt.
type point struct{ x, y float64 }

// at interpolates in a straight line between the rows; x lies inside the table.
func at(table []point, x float64) float64 {
	i := 1
	for i < len(table)-1 && x > table[i].x {
		i++
	}
	a, b := table[i-1], table[i]
	return a.y + (b.y-a.y)*(x-a.x)/(b.x-a.x)
}

// solubility is °C and g of salt in 100 g of saturated brine. Below 0.1 °C the salt that
// falls out is the dihydrate; below the first row everything is solid.
// Source: Salt Institute, solubility of salt in water.
var solubility = []point{
	{-21.11, 23.31}, {-17.78, 23.83}, {-12.22, 24.70}, {-6.67, 25.53}, {-1.1, 26.16}, {0, 26.29},
	{0.1, 26.31}, {4.44, 26.33}, {10, 26.36}, {15.56, 26.395}, {21.11, 26.45}, {26.67, 26.52},
	{37.78, 26.68}, {51.67, 26.92}, {65.56, 27.21}, {79.44, 27.62}, {93.33, 27.91}, {100, 28.12},
}

// Saturated is the most salt that a g of brine holds, −21.11 to 100 °C. Good to 0.05 % salt.
// The error is an *OutOfRange.
func Saturated(t cure.Celsius) (cure.Fraction, error) {
	if err := within(Temperature, float64(t), solubility[0].x, solubility[len(solubility)-1].x); err != nil {
		return 0, err
	}
	return cure.Fraction(at(solubility, float64(t)) / 100), nil
}

// fall is % salt and how many °C below 0 a brine begins to freeze for each per cent of it.
// That ratio is nearly straight, so it is what is interpolated. The table's first row stands
// for what is weaker.
// Source: Lange's Handbook of Chemistry, 15th ed., table 5.13, divided by the per cent.
var fall = []point{
	{0, 0.58}, {1, 0.58}, {2, 1.13 / 2}, {3, 1.72 / 3}, {4, 2.35 / 4}, {5, 2.97 / 5}, {6, 3.63 / 6}, {7, 4.32 / 7},
	{8, 5.03 / 8}, {9, 5.77 / 9}, {15, 10.88 / 15}, {20, 16.46 / 20}, {22, 19.19 / 22}, {eutectic, 21.1 / eutectic},
}

// eutectic is the % salt of the brine that freezes last.
// Source: Lange's Handbook of Chemistry, 15th ed., table 5.13.
const eutectic = 23.3

// Freezing is where ice begins to form in a brine as it is cooled, up to 23.3 % salt, beyond
// which salt falls out first (Saturated says where). Good to 0.1 °C. The error is an
// *OutOfRange.
func Freezing(salt cure.Fraction) (cure.Celsius, error) {
	if err := within(SaltShare, float64(salt), 0, eutectic/100); err != nil {
		return 0, err
	}
	w := 100 * float64(salt)
	return cure.Celsius(-w * at(fall, w)), nil
}

// Undissolved is the error of a brine with more salt than it holds at a temperature.
type Undissolved struct {
	Got, Most cure.Fraction // g in a g of brine
	At        cure.Celsius
}

func (e *Undissolved) Error() string { return "brine: more salt than dissolves" }

// Frozen is the error of a brine at a temperature at which ice forms in it.
type Frozen struct{ At, From cure.Celsius }

func (e *Frozen) Error() string { return "brine: it freezes" }

// Keeps is nil where a brine stays a clear liquid at a temperature; else an *Undissolved, a
// *Frozen or an *OutOfRange.
func Keeps(salt cure.Fraction, t cure.Celsius) error {
	most, err := Saturated(t)
	if err != nil {
		return err
	}
	if err := within(SaltShare, float64(salt), 0, 1); err != nil {
		return err
	}
	const slack = 1e-9 // dust of binary fractions
	if salt > most*(1+slack) {
		return &Undissolved{Got: salt, Most: most, At: t}
	}
	if t >= 0 {
		return nil
	}
	from, err := Freezing(min(salt, eutectic/100))
	if err != nil {
		return err
	}
	if t < from {
		return &Frozen{At: t, From: from}
	}
	return nil
}
