package cure

import "math"

// Grains is how many grains carry the nitrite of a dose, and what chance makes of that.
type Grains struct {
	Count int
	CV    Fraction // relative standard deviation of their share in a random mixture
}

const (
	usualGrain   Millimetre = 0.3     // edge of a fine grain, from memory
	gramPerCubic Gram       = 2.17e-3 // a cubic millimetre of sodium nitrite, 2.17 g/cm³, from memory
)

// grains is the random mixture limit: n cubes of the given edge in a dose, of which a share p
// of its mass they are. CV = √((1−p)/n). A real mixture is worse, since grains settle by size.
//
// Source: Lacey, J. Appl. Chem. 4 (1954), and Stange, Chem. Ing. Tech. 26 (1954), random
// mixture of two components (from memory).
func grains(part Gram, p float64, edge Millimetre) Grains {
	n := float64(part / (gramPerCubic * Gram(edge*edge*edge)))
	return Grains{Count: int(math.Round(min(n, math.MaxInt32))), CV: Fraction(math.Sqrt((1 - p) / n))}
}

// GrainLimit is the random mixture limit of a dose of a mix: how many grains of its nitrite
// there are in it, of the given edge, and how far their number strays by chance alone. The
// error is a *Stop for what is not plausible.
// Source: as for Grains.CV, Lacey 1954 and Stange 1954 (from memory).
func GrainLimit(mix Agent, dose Gram, edge Millimetre) (Grains, error) {
	if err := mix.plausible(Request{}); err != nil {
		return Grains{}, err
	}
	p := mix.parts()
	if p.nitrite == 0 {
		return Grains{}, &Missing{What: "strength"}
	}
	if err := putSpan.check(float64(dose), Request{}); err != nil {
		return Grains{}, err
	}
	if err := grainSpan.check(float64(edge), Request{}); err != nil {
		return Grains{}, err
	}
	return grains(dose*Gram(p.nitrite), float64(p.nitrite), edge), nil
}
