package grammar

import (
	"math"
	"testing"

	library "github.com/bcicen/go-units"

	"salthand/cure"
)

// The factors beside those of a units library: go-units 1.0.5.
func TestFactorsAgreeWithAUnitsLibrary(t *testing.T) {
	theirs := map[string]struct{ from, to library.Unit }{
		"kg": {library.KiloGram, library.Gram}, "lb": {library.Pound, library.Gram}, "oz": {library.Ounce, library.Gram}, "oz weight": {library.Ounce, library.Gram},
		"l": {library.Liter, library.MilliLiter}, "cl": {library.CentiLiter, library.MilliLiter},
		"us gal": {library.FluidGallon, library.MilliLiter}, "imp gal": {library.Gallon, library.MilliLiter},
		"us qt": {library.FluidQuart, library.MilliLiter}, "imp qt": {library.Quart, library.MilliLiter},
		"us pt": {library.FluidPint, library.MilliLiter}, "imp pt": {library.Pint, library.MilliLiter}, "dl": {library.DeciLiter, library.MilliLiter},
		"us fl oz": {library.CustomaryFluidOunce, library.MilliLiter}, "imp fl oz": {library.FluidOunce, library.MilliLiter},
		"cm": {library.CentiMeter, library.MilliMeter}, "in": {library.Inch, library.MilliMeter},
	}
	same := map[string]bool{"g": true, "ml": true, "mm": true}
	for unit, factor := range factors {
		if same[unit] {
			if factor != 1 {
				t.Errorf("%s is %v, want 1", unit, factor)
			}
			continue
		}
		pair, ok := theirs[unit]
		if !ok {
			t.Errorf("%s is compared with nothing", unit)
			continue
		}
		want := library.MustConvertFloat(1, pair.from, pair.to).Float()
		if math.Abs(factor/want-1) > 1e-12 {
			t.Errorf("%s is %v, want %v", unit, factor, want)
		}
	}
}

// Temperatures in °F beside the same library.
func TestFahrenheitAgreesWithAUnitsLibrary(t *testing.T) {
	for _, f := range []string{"33", "36.5", "38", "40"} {
		p, err := Parse("3 kg belly, dry rub, at "+f+" F", Setting{})
		d, ok := p.Command.(Dose)
		if err != nil || !ok {
			t.Fatalf("%s F: %v", f, err)
		}
		n, ok := readNumber(f)
		if !ok {
			t.Fatal(f)
		}
		want := library.MustConvertFloat(n.times(1), library.Fahrenheit, library.Celsius).Float()
		if math.Abs(float64(d.Temperature.Value-cure.Celsius(want))) > 1e-9 {
			t.Errorf("%s F is %v °C, want %v", f, d.Temperature.Value, want)
		}
	}
}
