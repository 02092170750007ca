package cure

// Caution is something that the card must say. Code names it; Got and Bound are its
// numbers, in the unit that the code's comment gives. Words are the bot's.
type Caution struct {
	Code       string
	Level      Level
	Got, Bound float64
}

// The codes of cautions, with their numbers.
const (
	CodeStrength     = "strength assumed"        // note; Got: % nitrite, Bound: % nitrate
	CodeFloated      = "salt floated"            // note; the cure brings more salt than the rule. Got: % salt, Bound: % by the rule
	CodeSaltLowered  = "salt lowered"            // note; the pickle can't hold the rule's salt. Got: % salt, Bound: % by the rule
	CodeStrongBrine  = "strong brine"            // warn; near saturation. Got: % salt in the brine, Bound: % at saturation
	CodeSaltHigh     = "salt high"               // warn; Got: % salt, Bound: 4, after a salt box 8
	CodeSaltLow      = "salt low"                // warn; Got: % salt, Bound: 1.5
	CodeScaleBand    = "scale band"              // warn, hold where half a division is over 25 % of the dose; Got: ± ppm of the weighing, k = 2, Bound: half a division as % of the dose
	CodeAscorbate    = "ascorbate scale"         // warn; Got: grams to weigh, Bound: the division in g
	CodeAtLimit      = "at limit"                // note; Got, Bound: ppm in the limit's terms
	CodeBelowMin     = "below minimum"           // hold; Got, Bound: ppm in the limit's terms
	CodeUnverified   = "unverified limit passed" // hold; Got, Bound: ppm in the limit's terms
	CodeResidual     = "not checkable residual"  // note; Bound: ppm in the limit's terms
	CodeCoreBehind   = "core behind"             // warn, hold where it is not heated; Got: likely share at the days asked, Bound: 0.8
	CodeCoreUnlikely = "core out of reach"       // hold; even the likely time is over a year. Got: likely days, Bound: 365
	CodeNoCure       = "no cure"                 // warn where it is heated or fish, else hold
	CodePoultry      = "poultry"                 // note
	CodeGame         = "game"                    // warn
	CodeBoar         = "wild boar: worms"        // warn where it is heated, else hold: its Trichinella stand freezing, and curing doesn't kill them; it has to be cooked (CFIA, control recommendations for Trichinella; freezing: 9 CFR 318.10 has tables for pork only, from memory)
	CodeFish         = "fish"                    // warn; parasites live through salt, and Clostridium botulinum type E grows from 3.3 °C (FDA Bad Bug Book)
	CodeBoxCure      = "cure before the box"     // warn; salt box: Got: g of cure, rubbed on first and never mixed into the box salt
	CodeBoxShort     = "too short in the box"    // warn, hold where it is not heated; Got: likely mean % salt at the days asked, Bound: the target
	CodeBoxLong      = "too long in the box"     // warn; Got: likely mean % salt at the days asked, Bound: the target
	CodeTaste        = "salted for taste"        // note; confit and fish: the days are no measure of curing
	CodeConfit       = "confit keeps cold"       // warn, hold where it is not heated; it is no cure: under fat there is no air. Got: °C from which botulinum grows
	CodeNitrateOnly  = "nitrate alone"           // warn; hold where it is heated or out of the cure within 30 days: it does nothing until bacteria have turned it into nitrite, slowly and not in the cold. Got: days, Bound: 30
	CodeSaltpetre    = "saltpetre"               // note; Got: g of sodium nitrate that a gram of it counts for
	CodePowder       = "vegetable powder"        // warn; the strength is that of one lot; what is not cultured is nitrate, and celery is an allergen. Got: % nitrite
	CodeNeedles      = "needle spacing"          // note; Got: mm assumed, common practice, no source
	CodeWarm         = "warm"                    // warn; Got, Bound: °C
	CodeSilent       = "no ingoing limit"        // the law says nothing of what may go in. Note where none was proposed for that, hold where it was asked for; Got: ppm of the sodium salt, Bound: the figure for what is left in the finished food, as the sodium salt, 0 where there is none
	CodeLongHanging  = "no. 1 for long hanging"  // note; Got: days, Bound: 30
)

// caution appends one.
func (d *Dose) caution(code string, level Level, got, bound float64) {
	d.Cautions = append(d.Cautions, Caution{Code: code, Level: level, Got: got, Bound: bound})
}
