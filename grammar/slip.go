package grammar

import (
	"math"
	"slices"

	"salthand/cure"
)

// Excess is how many times the right amount a line tells of: "1/3 too much" is 4/3, "50% too
// much" is 1.5. ok is false where it tells of none.
func (f Facts) Excess() (times Part, ok bool) {
	for _, n := range f.Numbers {
		if n > 0 && n < 1 {
			return 1 + n, true
		}
	}
	for _, s := range f.Shares {
		if s >= 0.05 {
			return 1 + Part(s), true
		}
	}
	return 0, false
}

// figures reports whether the line has a number that is the strength of a usual cure, and one
// that is a usual dose of it or what the dose comes to: 6.25, 0.25 and 156 get mixed up.
// Common practice, no source.
func (f Facts) figures() (strength, dose bool) {
	for _, n := range f.percents() {
		strength = strength || usualStrength(n)
		switch n {
		case 0.25, 0.27, 156, 156.25, 150, 120, 2.5:
			dose = true
		}
	}
	return strength, dose
}

// percents are the numbers of the line that may be a per cent, a share or a level.
func (f Facts) percents() []Part {
	all := slices.Clone(f.Numbers)
	for _, s := range f.Shares {
		all = append(all, Part(clean(100*float64(s))))
	}
	for _, a := range f.Amounts {
		if a.Rate.Set() {
			all = append(all, Part(clean(100*float64(a.Rate.Value))))
		}
	}
	for _, t := range f.Targets {
		all = append(all, Part(t))
	}
	return all
}

// Strength is the number of the line that is the strength of a usual cure, as a fraction; 0
// where there is none.
func (f Facts) Strength() cure.Fraction {
	for _, n := range f.percents() {
		if usualStrength(n) {
			return cure.Fraction(clean(float64(n) / 100))
		}
	}
	return 0
}

// usualStrength reports whether a number is the per cent of nitrite of a usual cure. Common
// practice, no source.
func usualStrength(n Part) bool { return n == 6.25 || n == 5.88 || n == 0.6 || n == 6 }

// ouncesAsTenths reports whether a number is a weight of the line with its ounces written
// behind a decimal mark: "3.5" beside 3 lb 5 oz, "9.11" beside 9 lb 11 oz.
func (f Facts) ouncesAsTenths() bool {
	for _, g := range f.Meat.Pieces {
		ounces := math.Round(float64(g) / factors["oz"])
		if math.Abs(ounces*factors["oz"]-float64(g)) > 0.01 {
			continue
		}
		pounds, rest := math.Floor(ounces/16), math.Mod(ounces, 16)
		tenths := rest / 10
		if rest > 9 {
			tenths = rest / 100
		}
		for _, n := range f.Numbers {
			if rest > 0 && math.Abs(float64(n)-pounds-tenths) < 1e-9 {
				return true
			}
		}
	}
	return false
}
