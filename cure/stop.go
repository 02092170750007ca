package cure

import "math"

// The rules of a Stop.
const (
	StopOver        = "over limit"             // Limit, Allowed
	StopNitrate     = "nitrate not allowed"    // Limit: its value is 0
	StopSilent      = "above every law"        // no figure for What, "nitrite" or "nitrate", in this region; Max: the highest of any region, Source, Allowed
	StopUndiluted   = "undiluted nitrite"      // never dosed onto meat: it goes into a house cure first, by weight
	StopNotNitrite  = "nitrate is not nitrite" // a target of nitrite, and a salt that has none
	StopNoNitrate   = "no figure for nitrate"  // the class has no limit to dose nitrate alone by
	StopCoupled     = "salt and nitrite"       // Got: % salt at the target, Max: % asked; PPM: what the asked salt gives
	StopScale       = "scale too coarse"       // Got: half a division as % of What, "cure" or "ascorbate", Max: 25; Meat, Scale: what would do
	StopBrine       = "brine too strong"       // Got: % salt in the brine, Max: % at saturation; Salt: the most on the salt basis; PPM
	StopSaturated   = "more than it holds"     // salt box: Got: % salt asked, Max: % that the water of the meat can hold; Salt
	StopCold        = "too warm or too cold"   // Got, Max or Min: °C
	StopStrength    = "strength not plausible" // Got, Max or Min: %
	StopAscorbate   = "ascorbate without nitrite"
	StopTwoTargets  = "two targets"         // a ppm and an amount of cure, or a ppm and no cure
	StopNotMethod   = "not for this method" // What names the value that was asked and has no place in the method
	StopNotCut      = "not for this cut"    // ground meat by any method but ground
	StopImplausible = "not plausible"       // What names the value; Got, Max or Min, Unit
)

// Stop is a refused dose: there is nothing to weigh.
type Stop struct {
	Rule     string  // one of the Stop constants
	What     string  // the value that is at fault, where the rule doesn't say: "pieces", "salt", "water", …
	Got, Max float64 // in Unit; Max 0: see Min
	Min      float64 // in Unit, where the figure has to be at least this
	Unit     string  // "ppm", "°C", "g", "%", "mm", "d"
	Source   string
	Allowed  Gram     // the most cure that would be allowed; 0 where that is not the point
	PPM      PPM      // NaNO2 that could be met: StopCoupled, with the asked salt; StopBrine, where the cure alone is too much salt
	Salt     Fraction // StopBrine: the most salt that could be met, on the salt basis
	Meat     Gram     // StopScale: the smallest weight of meat that this scale will do for
	Scale    Gram     // StopScale: the coarsest usual division that will do for this meat
	Limit    *Limit   // where a limit was passed
	Request  Request  // filled in as far as it came
}

func (s *Stop) Error() string {
	if s.What != "" {
		return "cure: " + s.Rule + ": " + s.What
	}
	return "cure: " + s.Rule
}

// Missing is a Request that can't be answered until somebody says something.
type Missing struct {
	What    string  // "region", "cut", "pieces", "method", "strength", "water", "cover", "ppm" (no law to take a target from), "cure", "nitrate" (how much of it)
	Request Request // filled in as far as it came
}

func (m *Missing) Error() string { return "cure: not said: " + m.What }

// span is a plausible range of a value, both ends in.
type span struct {
	what     string
	min, max float64
	unit     string
}

// The plausible ranges. They catch a slipped decimal mark or unit; they are no advice.
// Common practice, no source.
var (
	pieceSpan     = span{"pieces", 1, 1e6, "g"}
	meatSpan      = span{"pieces", 1, 1e8, "g"}
	targetSpan    = span{"nitrite", 1, 10000, "ppm"}
	nitrateSpan   = span{"nitrate", 1, 10000, "ppm"}
	rateSpan      = span{"rate", 1e-6, 50, "%"}
	saltSpan      = span{"salt", 0.1, 15, "%"}
	sugarSpan     = span{"sugar", 0, 15, "%"}
	ascorbateSpan = span{"ascorbate", 1, 5000, "ppm"}
	thickSpan     = span{"thickness", 1, 500, "mm"}
	sideSpan      = span{"sides", 1, 2000, "mm"}
	waterSpan     = span{"water", 1, 1e8, "g"}
	coverSpan     = span{"cover", 1, 1e8, "g"}
	pumpSpan      = span{"pump", 1, 60, "%"}
	daysSpan      = span{"days", 1.0 / 24, 1000, "d"}
	scaleSpan     = span{"scale", 1e-4, 1000, "g"}
)

// check is nil where x is a plausible number, else a Stop that says what it may be.
func (s span) check(x float64, r Request) error {
	const slack = 1e-9 // of binary fractions: 0.15 × 100 is not exactly 15
	if x >= s.min*(1-slack) && x <= s.max*(1+slack) {
		return nil
	}
	stop := &Stop{Rule: StopImplausible, What: s.what, Got: x, Unit: s.unit, Request: r}
	if x < s.min {
		stop.Min = s.min
	} else {
		stop.Max = s.max
	}
	if math.IsNaN(x) || math.IsInf(x, 0) {
		stop.Got = 0
	}
	return stop
}
