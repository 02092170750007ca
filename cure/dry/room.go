package dry

import (
	"math"

	"salthand/cure"
)

// Pascal is a pressure.
type Pascal float64

// Room is the air of a drying room; Humidity is relative, 0 to 1.
type Room struct {
	Air      cure.Celsius
	Humidity cure.Fraction
}

// Saturation is the vapour pressure of water at a temperature. Range: 0 to 60 °C; accuracy
// about 0.4 %. The error is ErrRange.
//
// Source: Magnus formula with the constants of Sonntag 1990, as in WMO no. 8 (from memory).
func Saturation(t cure.Celsius) (Pascal, error) {
	if !(t >= 0 && t <= 60) {
		return 0, ErrRange
	}
	const (
		zero  = 611.2  // Pa at 0 °C, WMO no. 8 (from memory)
		slope = 17.62  // dimensionless, WMO no. 8 (from memory)
		shift = 243.12 // °C, WMO no. 8 (from memory)
	)
	return Pascal(zero * math.Exp(slope*float64(t)/(shift+float64(t)))), nil
}

// Driving is the pressure that drives water out of a surface of a water activity: what the
// surface has over the air, both at the temperature of the room. Of two rooms the one with
// twice the pressure dries about twice as fast, as long as the core keeps up. Below zero the
// piece takes water up. Range: activity and humidity 0 to 1. The error is ErrRange.
func (r Room) Driving(activity cure.Fraction) (Pascal, error) {
	full, err := Saturation(r.Air)
	if err != nil || !(activity >= 0 && activity <= 1) || !(r.Humidity >= 0 && r.Humidity <= 1) {
		return 0, ErrRange
	}
	return Pascal(activity-r.Humidity) * full, nil
}

// Beside is how fast a room dries a surface of a water activity as a multiple of how fast
// another does, by their driving pressures. The error is ErrRange, also where one of them
// doesn't dry.
func (r Room) Beside(other Room, activity cure.Fraction) (Ratio, error) {
	here, err := r.Driving(activity)
	if err != nil {
		return 0, err
	}
	there, err := other.Driving(activity)
	if err != nil {
		return 0, err
	}
	if here <= 0 || there <= 0 {
		return 0, ErrRange
	}
	return Ratio(here / there), nil
}

// Harsh reports whether a room is so dry that a rim may harden: humidity more than 0.2 below
// the water activity of the surface. Common practice, from memory.
func (r Room) Harsh(activity cure.Fraction) bool {
	const most = 0.2
	return float64(activity-r.Humidity) > most+1e-9
}
