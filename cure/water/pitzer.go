package water

import (
	"math"

	"salthand/cure"
)

// MostSalt is the molality of a brine that is saturated at 25 °C, the end of the equation's
// range.
// Source: May et al., J. Chem. Eng. Data 2011 (10.1021/je2009329).
const MostSalt Molality = 6.148 // mol/kg

// electrolyte holds the parameters of Pitzer's equation for a salt of two single ions.
type electrolyte struct{ beta0, beta1, c float64 }

// course is how a parameter runs with temperature T, in K, Tr = 298.15 K:
// a0 + a1(1/T − 1/Tr) + a2·ln(T/Tr) + a3(T − Tr) + a4(T² − Tr²) + a5(1/T² − 1/Tr²).
type course [6]float64

func (a *course) at(kelvin float64) float64 {
	const ref = 298.15
	return a[0] + a[1]*(1/kelvin-1/ref) + a[2]*math.Log(kelvin/ref) + a[3]*(kelvin-ref) +
		a[4]*(kelvin*kelvin-ref*ref) + a[5]*(1/(kelvin*kelvin)-1/(ref*ref))
}

// sodiumChloride is NaCl by temperature.
// Source: U.S. Geological Survey, pitzer.dat, Na+ with Cl−.
var sodiumChloride = struct{ beta0, beta1, c course }{
	course{7.534e-2, 9598.4, 35.48, -5.8731e-2, 1.798e-5, -5e5},
	course{0.2769, 1.377e4, 46.8, -6.9512e-2, 2e-5, -7.4823e5},
	course{1.48e-3, -120.5, -0.2081, 0, 1.166e-7, 11121},
}

// saltAt is NaCl at a temperature.
func saltAt(celsius float64) electrolyte {
	kelvin := celsius + zero
	return electrolyte{sodiumChloride.beta0.at(kelvin), sodiumChloride.beta1.at(kelvin), sodiumChloride.c.at(kelvin)}
}

// osmotic is the osmotic coefficient of a solution; slope is that of the Debye-Hückel law.
// Source: Pitzer, J. Phys. Chem. 77 (1973) 268, with alpha 2 and b 1.2 (from memory).
func (e electrolyte) osmotic(m, slope float64) float64 {
	s := math.Sqrt(m)
	return 1 - slope*s/(1+1.2*s) + m*(e.beta0+e.beta1*math.Exp(-2*s)) + m*m*e.c
}

// activity is that of water over the solution: two ions for each mol.
func (e electrolyte) activity(m, slope float64) float64 {
	return math.Exp(-waterMol * 2 * m * e.osmotic(m, slope))
}

// slope is the Debye-Hückel slope of the osmotic coefficient, (kg/mol)^½: a third of
// √(2π·N·ρ)·(e²/(4π·ε0·ε·k·T))^(3/2).
func slope(celsius float64) float64 {
	const (
		charge   = 1.602176634e-19  // C, CODATA 2018
		boltz    = 1.380649e-23     // J/K, CODATA 2018
		avogadro = 6.02214076e23    // 1/mol, CODATA 2018
		vacuum   = 8.8541878128e-12 // F/m, CODATA 2018
	)
	length := charge * charge / (4 * math.Pi * vacuum * dielectric(celsius+zero) * boltz * (celsius + zero))
	return math.Sqrt(2*math.Pi*avogadro*pure(celsius)*length) * length / 3
}

// dielectric is the relative permittivity of water at 1 bar.
// Source: Bradley and Pitzer, J. Phys. Chem. 83 (1979) 1599 (constants from memory; the
// slopes that come of it are checked).
func dielectric(kelvin float64) float64 {
	far := 342.79 * math.Exp(-5.0866e-3*kelvin+9.4690e-7*kelvin*kelvin)
	c := -2.0525 + 3115.9/(kelvin-182.89)
	b := -8032.5 + 4.2142e6/kelvin + 2.1417*kelvin
	return far + c*math.Log((b+1)/(b+1000))
}

// pure is the density of water, kg/m³.
// Source: the short equation of Kell's data, 1000·(1 − (t+288.9414)(t−3.9863)²/(508929.2
// (t+68.12963))) (from memory); good to 0.03 kg/m³ from 0 to 50 °C.
func pure(celsius float64) float64 {
	t := celsius
	return 1000 * (1 - (t+288.9414)*(t-3.9863)*(t-3.9863)/(508929.2*(t+68.12963)))
}

// Solution is salt in water and nothing else.
type Solution struct {
	Salt cure.Fraction // g in a g of solution
	At   cure.Celsius
}

// Activity is the water activity of the solution, 0 to 50 °C, up to 26.4 % salt. Good to
// 0.0003 below 22.6 % (5 mol/kg), to 0.001 above. The error is an *OutOfRange.
func (s Solution) Activity() (Activity, error) {
	if err := within(SaltShare, float64(s.Salt), 0, float64(MostSalt.Share())); err != nil {
		return 0, err
	}
	return min(Salt(s.Salt), MostSalt).Activity(s.At)
}

// The temperatures, °C, of the parameters' range that is used.
const coldest, warmest = 0, 50

// Activity is the water activity of so much salt in a kg of water, 0 to 50 °C, up to
// MostSalt; see Solution for its accuracy. The error is an *OutOfRange.
func (m Molality) Activity(at cure.Celsius) (Activity, error) {
	if err := within(Strength, float64(m), 0, float64(MostSalt)); err != nil {
		return 0, err
	}
	if err := within(Temperature, float64(at), coldest, warmest); err != nil {
		return 0, err
	}
	return Activity(saltAt(float64(at)).activity(float64(m), slope(float64(at)))), nil
}

// SaltFor is how much salt in a kg of water brings it to a water activity, which lies between
// that of MostSalt, about 0.75, and 1. Good to 0.02 mol/kg below 5 mol/kg. The error is an
// *OutOfRange.
func SaltFor(aw Activity, at cure.Celsius) (Molality, error) {
	if err := within(Temperature, float64(at), coldest, warmest); err != nil {
		return 0, err
	}
	salt, debye := saltAt(float64(at)), slope(float64(at))
	lowest := salt.activity(float64(MostSalt), debye)
	if err := within(Target, float64(aw), lowest, 1); err != nil {
		return 0, err
	}
	low, high := 0.0, float64(MostSalt)
	for range 60 { // activity only falls
		if mid := (low + high) / 2; salt.activity(mid, debye) > float64(aw) {
			low = mid
		} else {
			high = mid
		}
	}
	return Molality((low + high) / 2), nil
}
