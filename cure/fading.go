package cure

import (
	"math"
	"time"

	"salthand/cure/diffuse"
)

// PH is an acidity.
type PH float64

// Fading is nitrite that is spent in the meat, of first order. It is for telling what
// waiting does, and for nothing else: it never justifies a higher dose, an ingoing amount is
// never what is left, and little left is not "safe".
type Fading struct {
	HalfLife Band3[time.Duration] // at the last spell's temperature; Slow is the longest
	Left     Band3[Fraction]      // of what went in
}

// The plausible range of Nordin's rule, which comes from cooked and canned ham.
var (
	fadingWarmth = span{"temperature", -60, 80, "°C"}
	fadingPH     = span{"pH", 4.5, 7, "pH"}
)

// fadingBand is the half-life at the slow and the fast end over the likely one. A judgement:
// ascorbate, bacteria and blood make it faster, nitrate slower, and none is in the rule.
const fadingBand = 2

// halfLife is the likely half-life of nitrite in meat.
// Source: Nordin, The depletion of added sodium nitrite in ham, 1969 (from memory):
// log10 h = 0.65 − 0.025 T + 0.35 pH, in hours and °C.
func halfLife(at Celsius, ph PH) time.Duration {
	hours := math.Pow(10, 0.65-0.025*float64(max(at, coldest))+0.35*float64(ph))
	return time.Duration(hours * float64(time.Hour))
}

// Fade is how much nitrite is left after spells, one after the other. Below 0 °C the figure
// of 0 °C is taken: more is left than that. The band is a factor of two in the half-life
// either way. The error is a *Stop for a figure that can't be: −60 to 80 °C, pH 4.5 to 7.
func Fade(spells []Spell, ph PH) (Fading, error) {
	if err := fadingPH.check(float64(ph), Request{}); err != nil {
		return Fading{}, err
	}
	halvings, total := 0.0, 0.0
	var f Fading
	for _, s := range spells {
		if err := fadingWarmth.check(float64(s.At), Request{}); err != nil {
			return Fading{}, err
		}
		if total += s.For.Hours() / 24; s.For < 0 {
			total = math.Inf(-1)
		}
		if err := courseSpan.check(total, Request{}); err != nil {
			return Fading{}, err
		}
		likely := halfLife(s.At, ph)
		f.HalfLife = Band3[time.Duration]{fadingBand * likely, likely, likely / fadingBand}
		halvings += float64(s.For) / float64(likely)
	}
	f.Left = Band3[Fraction]{
		Slow: Fraction(math.Exp2(-halvings / fadingBand)), Likely: Fraction(math.Exp2(-halvings)), Fast: Fraction(math.Exp2(-halvings * fadingBand)),
	}
	return f, nil
}

// Arrival is the most nitrite that the core of a piece ever holds, since it is spent while
// it spreads: to leave the meat longer brings no more.
type Arrival struct {
	Peak Band3[Fraction]      // of the dose evened out
	At   Band3[time.Duration] // when that is
}

// measuredNitrite is the diffusivity of nitrite in pork as it was measured while it was
// being spent, salted with nitrite alone: some 40 times slower than salt. Others have it
// within a factor of two of salt (Fox 1980, from memory). The literature doesn't agree.
// Source: Gómez et al., Journal of Food Engineering 149, 2015, p. 188, abstract.
func measuredNitrite(at Celsius) diffuse.Diffusivity {
	const (
		at2    = 4.58e-12    // m²/s at 2 °C
		energy = 60320       // J/mol
		gas    = 8.314462618 // J/(mol·K), CODATA 2018
		zero   = 273.15      // K
	)
	return diffuse.Diffusivity(at2 * math.Exp(-energy/gas*(1/(float64(at)+zero)-1/(2+zero))))
}

// Arrive is how much nitrite reaches the core by the method of the request, with Nordin's
// half-life at its temperature. Slow takes the diffusivity measured for nitrite, Likely and
// Fast that of salt, so the band is wide. A method whose core is not what is aimed at
// (ground, confit, fish, salt box), and a needle, which brings it there, are refused with a
// *Stop. It never justifies a higher dose; a thick piece wants the needle.
func Arrive(r Request, ph PH) (Arrival, error) {
	if err := fadingPH.check(float64(ph), r); err != nil {
		return Arrival{}, err
	}
	w, m, d, err := reckon(r)
	if err != nil {
		return Arrival{}, err
	}
	if method := w.r.Method.Value; !w.criterion() || method != DryRub && method != CoverBrine {
		return Arrival{}, &Stop{Rule: StopNotMethod, What: "core", Request: w.r}
	}
	p, err := w.path(&d, m)
	if err != nil {
		return Arrival{}, err
	}
	var a Arrival
	at := w.r.Temperature.Value
	for i, speed := range speeds {
		rate := measuredNitrite(at)
		if speed != diffuse.Slow {
			if rate, err = speed.At(diffuse.Celsius(at)); err != nil {
				return Arrival{}, err
			}
		}
		when, peak, err := p.model.Peak(diffuse.Loss{HalfLife: halfLife(at, ph), Rate: rate, Length: p.length})
		if err != nil {
			return Arrival{}, err
		}
		*a.At.at(i), *a.Peak.at(i) = when, Fraction(peak)
	}
	return a, nil
}
