package grammar

import "slices"

// The situations. What each is answered with stands in package bot, in a file of the same
// subject.
const (
	MadeUpRecord    Situation = "made-up record"       // readings to be written down that nobody took
	CureAsSalt      Situation = "cure as table salt"   // curing salt that went on food as seasoning
	UnknownSalt     Situation = "unknown salt"         // a white powder, a jar without a label
	TableSalt       Situation = "table salt for cure"  // pink, rock or sea salt in the place of a cure
	NitriteNamed    Situation = "nitrite for nitrate"  // a tub whose name and formula disagree
	OwnMix          Situation = "own mix"              // grams of undiluted nitrite in grams of salt
	OldRub          Situation = "old rub"              // a farmhouse recipe with saltpetre
	Celery          Situation = "vegetable powder"     // a powder instead of a cure
	WeakCure        Situation = "weak cure"            // a kit's or a shop's mix where no. 1 is asked for
	OtherCure       Situation = "other cure"           // one cure where a recipe has another
	WrongCure       Situation = "wrong cure"           // no. 2 for no. 1, or the other way, and it is in
	NoCureIn        Situation = "no cure in it"        // raw meat that was kept, smoked or dried without
	Twice           Situation = "twice the cure"       // the dose went in twice, or a share too much
	WrongWeight     Situation = "wrong weight"         // cure for one weight went on another
	SpoonWeight     Situation = "weight of a spoon"    // how many grams a teaspoon is, or no scale to weigh with
	CoarseScale     Situation = "coarse scale"         // a scale that can't see the dose
	RateClaimed     Situation = "rate on a page"       // a spoon for so many pounds, by a page or a book
	Basis           Situation = "basis"                // of the meat, or of meat and water
	StrengthOrDose  Situation = "strength or dose"     // 6.25, 0.25 and 156 mixed up
	SaltInclusive   Situation = "salt inclusive"       // is the cure within the salt or on top
	PerCentSlip     Situation = "per cent"             // 5 % of a weight worked out by hand
	PerKiloSum      Situation = "per kilo"             // multiply or divide
	LiquidInBag     Situation = "liquid in the bag"    // sauce, wine, syrup beside the meat
	Skinned         Situation = "weight changed"       // trimmed after the cure was weighed
	PickleStrength  Situation = "strength of a pickle" // water, salt, cure: what a pump brings
	BrineRate       Situation = "cure per gallon"      // ounces or spoons per gallon
	RecipePasted    Situation = "pasted recipe"        // a recipe to be scaled as it stands
	PoundsAndOunces Situation = "pounds and ounces"    // 3 lb 5 oz typed as 3.5
	ThreeShares     Situation = "three per cents"      // cure, salt and sugar in per cent
	EachPiece       Situation = "each piece"           // pieces dosed one by one
	GreyCore        Situation = "grey core"            // cut open, not cured through
	MoreAdded       Situation = "more cure added"      // cure on a spot, on top of the dose
	CureUnsure      Situation = "cure unsure"          // nobody knows whether it went in
	Folded          Situation = "folded"               // a part that the cure didn't reach
	ThickPiece      Situation = "thick piece"          // how many days for what thickness
	ThinSlices      Situation = "thin slices"          // sliced before it was cured
	WarmPlace       Situation = "warm place"           // a fridge that was warm
	WarmMeat        Situation = "warm meat"            // cooked or smoked and not chilled
	Slime           Situation = "slime"                // a brine that has turned
	Leaked          Situation = "leaked"               // liquid lost from a bag
	NoLiquid        Situation = "no liquid"            // a dry bag
	Mould           Situation = "mould"
	ConfitKept      Situation = "confit kept"        // under fat, in a cellar
	FishPacked      Situation = "fish packed"        // cured fish without air
	WildMeat        Situation = "wild meat"          // boar, bear, uninspected game
	Souring         Situation = "souring"            // a pH that has not come down
	DryingSlow      Situation = "drying"             // a piece that hangs: how far, how long
	LawAsked        Situation = "law asked"          // does it keep to the limit
	FrozenInCure    Situation = "frozen in the cure" // frozen for a while before it was through
	OutEarly        Situation = "out early"          // taken out before its days were over
	LeftLong        Situation = "left long"          // in the cure for longer than planned
	OffSmell        Situation = "off smell"          // a smell, a swollen bag
	FishWorms       Situation = "fish worms"         // fish frozen against parasites
	NotTurned       Situation = "not turned"         // bags that nobody turned
	Inspection      Situation = "inspection"         // a plan, a variance
	Allergens       Situation = "allergens"          // what is in it
	TooSalty        Situation = "too salty"          // salt to be soaked out
	NotRinsed       Situation = "not rinsed"         // smoked with the rub on
	BoughtCured     Situation = "bought cured"       // cured goods to be cured again
	WentIn          Situation = "went in"            // an amount of cure that went in, or is meant to
	Greened         Situation = "greened"            // green meat, "nitrite burn"
	BrineAgain      Situation = "brine again"        // a brine to be used for another piece
	GuestAtRisk     Situation = "guest at risk"      // a guest who is pregnant, very young, old or ill
	AirlessSale     Situation = "airless for sale"   // vacuum packs for sale
	DoseAsked       Situation = "dose asked"         // how much cure, in half a sentence
	MayServe        Situation = "may it go out"      // whether a batch is ready, or may be served
	HeldAsked       Situation = "hold asked about"   // may something held go out
	TagUnread       Situation = "tag unread"         // a label that nobody can read
	SomethingWrong  Situation = "something wrong"
)

// situations are told apart by the cues of a line: the first row whose needs are met is the
// one. What is dangerous stands before what is only asked.
var situations = slices.Concat(saltSituations, holdingSituations, servingSituations, keepingSituations, basisSituations, amountSituations)
