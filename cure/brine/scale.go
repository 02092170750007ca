package brine

import "salthand/cure"

// Scale is a way to say how strong a brine is. All volumes are those at 60 °F.
type Scale uint8

// The scales.
const (
	PercentOfBrine            Scale = iota // g of salt in 100 g of brine
	PercentOfWater                         // g of salt to 100 g of water
	Salometer                              // °salometer, 100° = 26.395 %
	Salometer25                            // °salometer of the special glass, 100° = 25 %
	Baume                                  // °Baumé, heavy: 145 − 145/SG
	Gravity                                // specific gravity, 60/60 °F
	GramsPerLitreOfBrine                   // g of salt in a litre of brine
	GramsPerLitreOfWater                   // g of salt to a litre of water
	PoundsPerUSGallonOfBrine               // lb of salt in a US gallon of brine
	PoundsPerUSGallonOfWater               // lb of salt to a US gallon of water
	PoundsPerImpGallonOfBrine              // lb of salt in an imperial gallon of brine
	PoundsPerImpGallonOfWater              // lb of salt to an imperial gallon of water
	scales
)

// Reading is a strength on a scale, as it was typed or read off.
type Reading struct {
	Number float64
	Scale  Scale
}

// special25 is 100° on the special salometer.
// Source: industrial note "The Salometer and How to Use It".
const special25 = 0.25

// baume is the modulus of the heavy, United States, scale at 60 °F.
// Source: Bé = 145 − 145/SG, U.S. Bureau of Standards (from memory).
const baume = 145

// On is a brine's strength on a scale. salt is g in a g of brine, 0 to 26.5 %; good to 0.02 %
// of the figure where no density is in it, to 0.05 % elsewhere. The error is an *OutOfRange.
func On(s Scale, salt cure.Fraction) (Reading, error) {
	if err := within(SaltShare, float64(salt), 0, mostSalt); err != nil {
		return Reading{}, err
	}
	if s >= scales {
		return Reading{}, &OutOfRange{What: Strength}
	}
	return Reading{s.of(float64(salt)), s}, nil
}

// Salt is how much salt is in a gram of the brine, by a reading. The error is an *OutOfRange
// for a reading below 0 or of a brine above 26.5 %; its High is the highest reading.
func (r Reading) Salt() (cure.Fraction, error) {
	if r.Scale >= scales {
		return 0, &OutOfRange{What: Strength, Got: r.Number}
	}
	if err := within(Strength, r.Number, r.Scale.of(0), r.Scale.of(mostSalt)); err != nil {
		return 0, err
	}
	return cure.Fraction(min(mostSalt, max(0, r.Scale.salt(r.Number)))), nil
}

// pounds is how many g/L a pound in a gallon is, and the gallon's part.
func (s Scale) pounds() (unit float64, ofBrine, ok bool) {
	switch s {
	case PoundsPerUSGallonOfBrine, PoundsPerUSGallonOfWater:
		return float64(pound) / float64(USGallon), s == PoundsPerUSGallonOfBrine, true
	case PoundsPerImpGallonOfBrine, PoundsPerImpGallonOfWater:
		return float64(pound) / float64(ImperialGallon), s == PoundsPerImpGallonOfBrine, true
	case GramsPerLitreOfBrine, GramsPerLitreOfWater:
		return 1, s == GramsPerLitreOfBrine, true
	}
	return 0, false, false
}

// of is the reading of a brine with x g of salt in a g.
func (s Scale) of(x float64) float64 {
	const at = float64(Reference)
	if unit, ofBrine, ok := s.pounds(); ok && ofBrine {
		return x * density(100*x, at) / unit
	} else if ok {
		return x / (1 - x) * water60 / unit
	}
	switch s {
	case PercentOfWater:
		return 100 * x / (1 - x)
	case Salometer:
		return 100 * x / float64(FullSalometer)
	case Salometer25:
		return 100 * x / special25
	case Baume:
		return baume - baume*water60/density(100*x, at)
	case Gravity:
		return density(100*x, at) / water60
	}
	return 100 * x
}

// salt is the other way.
func (s Scale) salt(n float64) float64 {
	const at = float64(Reference)
	if unit, ofBrine, ok := s.pounds(); ok && ofBrine {
		return saltIn(n * unit)
	} else if ok {
		return n * unit / (water60 + n*unit)
	}
	switch s {
	case PercentOfWater:
		return n / (100 + n)
	case Salometer:
		return n / 100 * float64(FullSalometer)
	case Salometer25:
		return n / 100 * special25
	case Baume:
		return saltOf(baume*water60/(baume-n), at) / 100
	case Gravity:
		return saltOf(n*water60, at) / 100
	}
	return n / 100
}

// saltIn is the salt of a g of a brine that holds so many g of it in a litre: each round
// divides by the density that the last one gave, and leaves a fifth of its error.
func saltIn(perLitre float64) float64 {
	x := perLitre / water60
	for range 60 {
		next := perLitre / density(100*x, float64(Reference))
		if d := next - x; d < 1e-14 && d > -1e-14 {
			return next
		}
		x = next
	}
	return x
}

// Swell is how many litres of brine a litre of water gives once the salt is in, both at
// 60 °F. salt is g in a g of brine, 0 to 26.5 %. The error is an *OutOfRange.
func Swell(salt cure.Fraction) (Ratio, error) {
	rho, err := DensityOf(salt, Reference)
	if err != nil {
		return 0, err
	}
	return Ratio(water60 / ((1 - float64(salt)) * float64(rho))), nil
}
