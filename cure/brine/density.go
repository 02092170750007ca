package brine

import (
	"math"

	"salthand/cure"
)

// The range of DensityOf.
const (
	mostSalt = 0.265 // g in a g of brine: saturated at 25 °C
	coldest  = 0.0   // °C
	warmest  = 25.0  // °C
)

// isotherm is the density of a brine of w % salt at one temperature: water + a·w + b·w² +
// c·w³, in kg/m³. bow is how far water rises above the straight line half-way to the next.
type isotherm struct{ at, water, a, b, c, bow float64 }

// Source: 10 and 20 °C: fitted to Poradnik fizykochemiczny, 1974 (the column headed 15 °C is
// 10 °C: Rogers and Pitzer agree with that, and not with its heading); largest residual
// 0.06 kg/m³; the row of 2 % at 20 °C, a misprint, is left out. 0 and 25 °C: fitted to
// Rogers and Pitzer, J. Phys. Chem. Ref. Data 11 (1982), specific volumes to 5 mol/kg;
// largest residual 0.04 kg/m³. Water: ITS-90 density of water (from memory).
var isotherms = [...]isotherm{
	{0, 999.84, 7.647354, 0.00237687, 0.000376314, 0.194},
	{10, 999.70, 7.352132, 0.00519388, 0.000463877, 0.1458},
	{20, 998.21, 7.095810, 0.0115919, 0.000378939, 0.031},
	{25, 997.05, 7.016051, 0.0129008, 0.000359599, 0},
}

func (i isotherm) density(w float64) float64 { return i.water + w*(i.a+w*(i.b+w*i.c)) }

// DensityOf is the density of a brine, in vacuo. 0 to 25 °C, up to 26.5 % salt. Good to
// 0.2 kg/m³ from 10 to 20 °C, to 0.3 kg/m³ elsewhere; that is 0.15 °salometer. The error is
// an *OutOfRange.
//
// Between the temperatures of the fits it is a straight line, with the bow of pure water on
// it, which fades with salt as e^(−w/12 %).
func DensityOf(salt cure.Fraction, at cure.Celsius) (GramPerLitre, error) {
	if err := within(SaltShare, float64(salt), 0, mostSalt); err != nil {
		return 0, err
	}
	if err := within(Temperature, float64(at), coldest, warmest); err != nil {
		return 0, err
	}
	return GramPerLitre(density(100*float64(salt), float64(at))), nil
}

// density is that of a brine of w % salt, in kg/m³.
func density(w, at float64) float64 {
	i := 0
	for i < len(isotherms)-2 && at >= isotherms[i+1].at {
		i++
	}
	cold, warm := isotherms[i], isotherms[i+1]
	x := (at - cold.at) / (warm.at - cold.at)
	low := cold.density(w)
	return low + x*(warm.density(w)-low) + 4*x*(1-x)*cold.bow*math.Exp(-w/12)
}

// saltOf is the salt, in %, of a brine that is so dense at a temperature. Density rises
// nearly straight with salt, so that the secant's steps soon vanish.
func saltOf(rho, at float64) float64 {
	const most = 100 * mostSalt
	low, high := density(0, at), density(most, at)
	w, slope := most*(rho-low)/(high-low), (high-low)/most
	for range 60 {
		step := (rho - density(w, at)) / slope
		w += step
		if math.Abs(step) < 1e-11 {
			break
		}
	}
	return w
}

// water60 is the density of water at 60 °F, 999.016 kg/m³.
var water60 = density(0, float64(Reference))
