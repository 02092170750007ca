package diffuse

import (
	"math"
	"time"
)

// Celsius is a temperature in degrees Celsius.
type Celsius float64

// Metre is a length in metres.
type Metre float64

// Diffusivity is in m²/s.
type Diffusivity float64

// Speed picks one of three published diffusivities of salt in lean meat.
type Speed uint8

// The slow, the likely and the fast end.
const (
	Slow Speed = iota
	Likely
	Fast
)

// At is the diffusivity at a temperature. The error is ErrRange below −1 °C, where meat
// freezes, and above 20 °C.
//
// Source: pork loin slices 1.9e-10 m²/s at 5 °C (Food Engineering Series, Springer 2015,
// ch. 47, abstract); MRI of pork 3 to 7e-10 (Hansen et al., Meat Science 80, 2008, abstract);
// the band is a judgement on these.
func (s Speed) At(t Celsius) (Diffusivity, error) {
	if !(t >= -1 && t <= 20) {
		return 0, ErrRange
	}
	at3 := [...]float64{1.0e-10, 2.2e-10, 4.0e-10}[s] // m²/s at 3 °C
	const (
		energy = 21000       // J/mol, activation energy of diffusion in water, 3 to 25 °C (computed from Robinson and Stokes)
		gas    = 8.314462618 // J/(mol·K), CODATA 2018
		zero   = 273.15      // K
	)
	return Diffusivity(at3 * math.Exp(-energy/gas*(1/(float64(t)+zero)-1/(3+zero)))), nil
}

// Time is how long t takes over the length l.
func (d Diffusivity) Time(t Tau, l Metre) time.Duration {
	seconds := float64(t) * float64(l) * float64(l) / float64(d)
	if seconds >= math.MaxInt64/float64(time.Second) {
		return math.MaxInt64
	}
	return time.Duration(seconds * float64(time.Second))
}

// Tau is how far diffusion over the length l has come after a time.
func (d Diffusivity) Tau(after time.Duration, l Metre) Tau {
	return Tau(float64(d) * after.Seconds() / (float64(l) * float64(l)))
}
