package cure

import "time"

// Basis is what a concentration is reckoned on.
type Basis uint8

// The bases. A limit is compared on its own basis only.
const (
	NoBasis           Basis = iota
	GreenMeat               // meat as it lies on the scale
	GreenMeatLessSkin       // 0.9 of the weight of a piece with the skin on
	MeatAndWater            // meat and the water of a cover brine
	MeatAndPickle           // meat and all of the pickle
)

// Item is something to weigh.
type Item uint8

// The items, in the order in which a card shows them.
const (
	CureItem Item = iota + 1
	SaltItem
	SugarItem
	AscorbateItem
	WaterItem
	BoxSaltItem // salt box: plain salt to bury the meat in, at least; nothing else goes into it
)

// Amount is one thing to weigh: exact, and on the scale.
type Amount struct {
	Item  Item
	Exact Gram // unrounded
	Weigh Gram // to the nearest division of the cure scale; never over a limit
}

// Dose is an answered Request.
type Dose struct {
	Request    Request // with every value filled in, and its origin
	Class      string  // "bacon", "dry cured", … : the row of classes.csv that decided
	Basis      Basis   // of Nitrite, Nitrate
	BasisMass  Gram
	SaltBasis  Basis    // of Salt
	SaltMass   Gram     // mass of the salt basis
	Add        []Amount // all there is to weigh
	PerKilo    []Amount // injection: the recipe for 1,000 g of pickle
	Pickle     Gram     // injection: pickle to make
	Nitrite    PPM      // NaNO2, of the exact dose
	Nitrate    PPM      // NaNO3, of the exact dose
	AsWeighed  PPM      // NaNO2 on the meat as it lies on the scale where Basis is GreenMeatLessSkin, or on the meat less skin where Basis is GreenMeat and the skin is on; else 0
	Salt       Fraction // all NaCl over SaltMass
	SaltTotal  Gram     // all NaCl
	SaltInCure Gram     // the part of SaltTotal that comes with the cure
	OnScale    PPM      // NaNO2 that the cure comes to as it is weighed, on Basis; 0 where none is
	Band       PPM      // ± on Nitrite that weighing the cure leaves, k = 2; of a nitrate alone, on Nitrate
	Limits     []Check
	Time       Timing
	Each       []Piece // where the request has Thicknesses: one for each of its Pieces
	Cautions   []Caution
}

// Timing is how long the cure takes and how far it has come. Durations are elapsed time.
type Timing struct {
	Criterion  bool                 // false: there is no core to reach (ground, confit, fish)
	To         Band3[time.Duration] // until the core has 95 % of equilibrium; salt box: until the mean salt is the target
	Core       Band3[Fraction]      // share of equilibrium at the core after the days asked; zero where none were asked. Salt box: of the target
	Mean       Band3[Fraction]      // salt box: salt of the meat after the days asked, by mean; zero where none were asked
	Equalise   Band3[time.Duration] // salt box: after it, until the core has 95 % of the mean, at the same temperature
	PlanFor    time.Duration        // the date that leads the card
	Rule       time.Duration        // the usual rule of thumb, 7 days an inch; 0 where none applies
	RuleUnsafe bool                 // the rule of thumb is shorter than the likely time: shown, never used
}

// Band3 is a value at the slow, the likely and the fast end of published diffusivities.
type Band3[T any] struct{ Slow, Likely, Fast T }

// Verdict is what comparing a dose with a limit found.
type Verdict uint8

// The verdicts. "Under" is never called safe.
const (
	Under Verdict = iota + 1
	At            // not over, and within one division of the cure scale
	Over          // above the limit, rounded to the last digit that the law prints
	BelowMin
	NotCheckable // a residual limit: a recipe can't tell
	Met          // a minimum or a required level is reached, by more than a division
)

// Check is a dose beside one limit.
type Check struct {
	Limit   Limit
	Got     PPM // in the limit's own terms: its basis, its agent, as salt or as ion
	Verdict Verdict
}

// Level is how serious a caution is.
type Level uint8

// The levels, in rising order.
const (
	Note Level = iota + 1
	Warn
	Hold // nothing moves until an approver decides
)
