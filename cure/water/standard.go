package water

import (
	"math"

	"salthand/cure"
)

// Standard is a salt whose saturated solution, with crystals left in it, holds the air over it
// at a known humidity: a test of a hygrometer in a closed jar.
type Standard uint8

// The standards.
const (
	TableSalt         Standard = iota // NaCl
	PotassiumChloride                 // KCl
	SodiumNitrate                     // NaNO3
	standards
)

// Source: Labuza's fit, ln aw = k1/T − k2, T in K (read; Labuza, Kaanane, Chen, J. Food
// Science 50 (1985) 385, from memory).
var labuza = [standards]struct{ k1, k2 float64 }{
	TableSalt:         {23.1092, 0.3607},
	PotassiumChloride: {157.059, 0.6967},
	SodiumNitrate:     {253.38, 1.1493},
}

// Activity is the water activity over the saturated salt, and the relative humidity in the jar
// as a share, 5 to 50 °C. Good to 0.01. The error is an *OutOfRange.
func (s Standard) Activity(at cure.Celsius) (Activity, error) {
	if s >= standards {
		return 0, &OutOfRange{What: Kind, Got: float64(s), High: float64(standards) - 1}
	}
	if err := within(Temperature, float64(at), 5, 50); err != nil {
		return 0, err
	}
	return Activity(math.Exp(labuza[s].k1/(float64(at)+zero) - labuza[s].k2)), nil
}

// Frozen is the water activity of something that begins to freeze at a temperature, 0 to
// −20 °C, at that temperature. Fresh meat, −0.8 to −1.1 °C, has 0.992 to 0.989. Good to 0.001
// where the temperature is good to 0.1 °C. The error is an *OutOfRange.
//
// Source: ice and water in balance, heat of melting 6010 J/mol at 0 °C and its fall with
// temperature: ln aw = −0.009693·ΔT − 4.76e-6·ΔT² (worked out, no print).
func Frozen(from cure.Celsius) (Activity, error) {
	if err := within(Freezing, float64(from), -20, 0); err != nil {
		return 0, err
	}
	d := -float64(from)
	return Activity(math.Exp(-0.009693*d - 4.76e-6*d*d)), nil
}
