package cure

import "time"

// Checked is what was done to meat, beside the dose as it should have been.
type Checked struct {
	// Meant is the dose as it should have been: region, day, cut, pieces, method, water, pump,
	// cover, skin, heated and scale count; Agent is the cure that should have gone in (unset:
	// the first of Cures, else what a dose would be proposed), Nitrite, Nitrate or Rate, and Salt are the targets (unset: the usual ones).
	// Without a method the meat was rubbed, or mixed where it is ground. Its sugar,
	// ascorbate, thickness and temperature are not looked at.
	Meant    Request
	Cures    []Put                // what went in; none: no cure at all
	Salt     Gram                 // plain salt that went in
	Sugar    Gram                 // and whatever else was dissolved in the liquid; it counts as weight alone
	Pickle   Gram                 // injection: all of the pickle that was made; 0: Meant.Water with all that went in, or, without it, just what the method takes
	Marinade bool                 // cover brine: the meat came out of Water before it was even, as from a marinade or a dip
	PickUp   Given[Fraction]      // of the weight of the meat, of the liquid; unset: 10 %, common practice, no source
	Age      Given[time.Duration] // since it went in
	Finished bool                 // stuffed and smoked, cooked, dried: nothing can be mixed in any more
}

// Put is an amount of one curing salt that went in.
type Put struct {
	Agent Agent // strength 0 with kind No1, No2: the region's usual mix
	Grams Range[Gram]
	Spoon bool // measured by volume; Grams is then a range at best
}

// Range is a value of which the ends are known. In a result a Likely of 0 between other ends
// says that there is no likely value.
type Range[T any] struct{ Low, Likely, High T }

// Exactly is a range of no width.
func Exactly[T any](v T) Range[T] { return Range[T]{v, v, v} }

// Found is what a check found.
type Found struct {
	Request   Request // Checked.Meant, filled in
	Class     string
	Basis     Basis // of Nitrite and Nitrate
	BasisMass Gram
	Nitrite   Range[PPM] // NaNO2. Pump and cover: of the pumped meat, from the pump alone to even with the cover
	Nitrate   Range[PPM] // NaNO3
	SaltBasis Basis
	SaltMass  Gram
	Salt      Range[Fraction] // all NaCl; salt box: from the cure's own to what the meat can hold
	SaltTotal Range[Gram]     // all NaCl in the meat and in what it lies in
	Bounds    []Bound         // where it depends on how much goes into the meat
	Limits    []Finding       // every limit in force that has to do with what went in

	Target    PPM       // NaNO2 that would have been right, on the basis of the dose
	Right     Gram      // of the meant cure for Target, of a nitrate alone for the nitrate asked; 0 where there is no such dose
	RightSalt Gram      // plain salt beside it
	Slip      Slip      // what the figure looks like, beside Target
	Dilution  *Dilution // where it is over
	TopUp     *TopUp    // where it is under and can be made good by weight
	OnTop     PPM       // the wrong one of two cures went in: NaNO2 if the right dose of the meant one came on top; else 0
	MostPump  Fraction  // injection: the most pump of this pickle that keeps to the enforced limits; else 0
	Cautions  []Caution
}

// Held reports whether nothing may be done with the meat until an approver decides.
func (f Found) Held() bool {
	for _, c := range f.Cautions {
		if c.Level >= Hold {
			return true
		}
	}
	return false
}

// Finding is what was found beside one limit, in the limit's own terms.
type Finding struct {
	Limit     Limit
	Got       Range[PPM]
	Verdict   Verdict // of Got.Likely; 0 where there is no likely value
	Low, High Verdict // of the two ends
}

// The kinds of Bound.
const (
	BoundPickUp = "pick-up"   // as much of the liquid as the meat takes up in a dip; handbook method one
	BoundEven   = "even"      // meat and liquid balanced; handbook method two
	BoundAll    = "all of it" // everything stays in the meat
	BoundPump   = "pump only" // nothing comes from the cover
)

// Bound is the nitrite that the meat holds in one case.
// Source: FSIS Directive 7620.3, 1995, pp. 19 to 22, pick-up and equilibrium (secondary).
type Bound struct {
	Kind    string
	Basis   Basis
	Nitrite Range[PPM] // NaNO2
}

// Slip is the mistake that a figure looks like, from its ratio to the target.
type Slip uint8

// The slips, each within 5 %.
const (
	NoSlip      Slip = iota
	Twice            // dosed two times
	Half             // half of the dose
	Thrice           // a tablespoon for a teaspoon
	Tenfold          // a decimal mark
	Tenth            // a decimal mark
	PerKilo          // the amount for one kilogram on all of the meat
	Strength100      // the strength of the cure taken for its dose: 6.25 % of the meat
)

// String is the slip as a machine answer names it; "" for none.
func (s Slip) String() string {
	return name(int(s), "", "twice", "half", "three times", "ten times", "a tenth", "for one kilogram", "strength as dose")
}

// Dilution is how much more uncured meat would have to be mixed in evenly. It is a figure
// for the approver, and no advice.
type Dilution struct {
	Target  Range[Gram] // to come down to the target
	Limit   Range[Gram] // to come down to every enforced maximum
	Never   bool        // no amount does: the law wants none of it
	Mixable bool        // false: whole pieces, or finished goods: mixing in makes no sense
}

// TopUp is what is missing of the meant cure and of salt, weighed and worked in evenly; the
// clock of the cure then starts again.
type TopUp struct {
	Agent       Agent
	Cure, Salt  Amount        // Salt.Exact 0 where no salt is missing
	Until       time.Duration // after it went in; common practice, no source
	Open        bool          // neither finished nor too late
	NitriteThen PPM           // on the basis, with Cure.Weigh added
}

// The codes of a check's cautions, beside those of a dose.
const (
	CodeOver        = "over limit"           // hold; Got, Bound: ppm in the limit's terms
	CodeMayBeOver   = "may be over limit"    // hold; Got: ppm at the high end, Bound: the limit
	CodeMayBeUnder  = "may be below minimum" // hold; Got: ppm at the low end, Bound: the minimum
	CodeForbidden   = "nitrate not allowed"  // hold; Got: ppm in the limit's terms
	CodeSpoon       = "measured by volume"   // hold; Got, Bound: ppm at the low and at the high end
	CodeMarinade    = "bounds alone"         // hold; Got, Bound: ppm at the low and at the high end
	CodePumpAndSoak = "pump and soak"        // warn; Got, Bound: ppm from the pump alone, and even with the cover
	CodeNoNitrite   = "no nitrite"           // hold
	CodeNitrateIn   = "nitrate for no. 1"    // hold; a cure with nitrate where one without was meant. Got: ppm nitrate
	CodeNitrateLack = "no nitrate for no. 2" // hold; a cure without nitrate where one with it was meant
	CodeOtherCure   = "another cure"         // note; not the kind that was meant
	CodeAboveTarget = "above target"         // warn; Got: ppm, Bound: the target
	CodeBelowTarget = "below target"         // warn; Got: ppm, Bound: the target
	CodeTopUpLate   = "too late to top up"   // hold; Got: hours since, Bound: hours
	CodeNoTopUp     = "can't be topped up"   // hold; pumped or finished
)
