package grammar

import (
	"time"

	"salthand/cure"
)

// The types below are phrases that ask for figures. None of them makes a batch. What was
// not said is left unset, and nothing here is worked out: the fields hold what was typed, in
// the units of package cure.

// Amount is a curing salt as it was said: what it is called, its strength, and one of Grams,
// Spoons and Rate, or none where only the salt was named.
type Amount struct {
	Kind    cure.AgentKind
	Nitrite cure.Given[cure.Fraction] // strength as said: "no 1 6.25%", "nitrite 99%"
	Nitrate cure.Given[cure.Fraction]
	Jar     string // "12 g jar A7"; then Kind is unset
	Grams   cure.Given[cure.Gram]
	Spoons  cure.Given[Spoons]
	Rate    cure.Given[cure.Fraction] // "20 g/kg", "0.25%": of the weight of the meat
}

// Spoons is a measure by volume, as it was typed. It is never turned into grams here.
type Spoons struct {
	Count float64 // 0.75 for "3/4 tsp"
	Unit  string  // "teaspoon", "tablespoon"
}

// The units of what is said about a brine and a sausage, and of nothing else.
type (
	Litre        float64 // of brine or of water
	Degree       float64 // of the salometer, 0 to 100, or of Baumé, 0 to 30
	GramPerLitre float64 // of salt in brine or in water, which is not said
	PH           float64 // 0 to 14
)

// Check asks what was done, or is about to be: "check 12 g no 1 + 80 g salt on 3.2 kg belly".
type Check struct {
	Amounts   []Amount // curing salts that went in, at least one, or Salt is set
	Salt      cure.Given[cure.Gram]
	Sugar     cure.Given[cure.Gram]
	Ascorbate cure.Given[cure.Gram] // or erythorbate
	Marinade  cure.Given[cure.Gram] // "in 1.6 l marinade": 1,000 g a litre
	About     bool                  // the marinade is about that much: "~1.6 l"
	Meat      Dose                  // the meat, the method, the water, the pump, the days …; no cure
}

// Swap asks how much of one cure does the work of another: "swap 6.5 g no 1 for nitrited
// salt 0.6% on 2.6 kg brisket".
type Swap struct {
	From Amount // has Grams or Rate
	To   Amount // has a kind or a jar, and no quantity
	Salt cure.Given[cure.Gram]
	Meat Dose // no cure
}

// Mix asks how a cure is made, or what was made: "mix 2 kg house cure, 150 ppm at 2.5%", or
// "mix 2 g nitrite in 1 kg salt".
type Mix struct {
	Make    cure.Given[cure.Gram] // how much of the mix; unset where From.Grams and Salt say it
	Kind    cure.AgentKind        // of the mix; NoAgent where it was not named
	Nitrite cure.Given[cure.Fraction]
	Nitrate cure.Given[cure.Fraction]
	Target  cure.Given[cure.PPM]      // "150 ppm": NaNO2 on the meat
	Rate    cure.Given[cure.Fraction] // "at 2.5%": of the mix on the meat
	From    Amount                    // what it is made of; Grams where they were said
	Salt    cure.Given[cure.Gram]     // "in 1 kg salt"
	Scale   cure.Given[cure.Gram]     // "scale 0.01 g": division of the scale
}

// HowLong asks for the days in the cure: "how long 6 cm ham, dry rub", "how long 6 cm ham,
// dry rub, 2 days at 9 c, 5 days at 3 c".
type HowLong struct {
	Meat Dose
	Log  []Spell // two or more temperatures in order, while it cures; one alone stands in Meat
}

// WhichCure asks which cure is used: "which cure for 9 month ham".
type WhichCure struct {
	Product string                    // "bacon", "salami"; "" where only a cut was said
	Hang    cure.Given[time.Duration] // a month is reckoned as 30 days, a year as 365
	Meat    Dose                      // cut, method, heated, second region
}

// Brine asks about a strength of brine: "4 l brine at 60 sal", "brine 188 g/l". One strength
// is set.
type Brine struct {
	Volume      cure.Given[Litre]
	Weight      cure.Given[cure.Gram]
	OfWater     bool // Volume or Weight is the water's, not the brine's
	Salometer   cure.Given[Degree]
	Baume       cure.Given[Degree]
	Salt        cure.Given[cure.Fraction] // "at 15%": of the solution
	PerLitre    cure.Given[GramPerLitre]
	Temperature cure.Given[cure.Celsius] // of a hydrometer's reading: "60 sal at 38 f"
}

// Desalt asks what a soak takes out: "soak 3 kg at 5% salt in 6 l".
type Desalt struct {
	Product string                    // "bacon"; "" where none was said
	Meat    Dose                      // pieces, cut
	Salt    cure.Given[cure.Fraction] // in the meat now
	Want    cure.Given[cure.Fraction] // "to 2.5%"
	Water   cure.Given[cure.Gram]     // 1,000 g a litre
}

// Rub asks what an old recipe comes to on the meat: "rub 6 lb salt + 1.5 lb sugar + 1.5 oz
// saltpetre at 1.5 oz/lb on 12 lb belly".
type Rub struct {
	Amounts []Amount // curing salts in the mix, with Grams
	Salt    cure.Given[cure.Gram]
	Sugar   cure.Given[cure.Gram]
	Spice   cure.Given[cure.Gram]     // whatever else weighs something
	Rate    cure.Given[cure.Fraction] // of the mix on the meat
	Meat    Dose
}

// Dry asks when a piece has dried enough: "dry 1000 g, 900 g day 7, 830 g day 14, to 35%".
type Dry struct {
	Cut     string
	Weights []Weight                  // in order of time, at least one
	Loss    cure.Given[cure.Fraction] // "to 35%": of the first weight
	Want    cure.Given[cure.Gram]     // "to 650 g"
}

// Weight is a weight and when it was read: "day 7" is seven days after day 0; a first weight
// without a day was read on day 0.
type Weight struct {
	After time.Duration
	Gram  cure.Gram
}

// The phrases that bring a log.
type (
	// Ferment: "ferment 24 c 10 h, 30 c 10 h, ph 5.3".
	Ferment struct {
		Log     []Spell
		PH      cure.Given[PH] // as it was read last
		Against cure.Region    // "" not said
	}
	// Cook: "cook log 58 c 20 min, 60 c 12 min", temperatures of the core.
	Cook struct{ Log []Spell }
	// Cold: "cold log 3 c 12 h, 9 c 2 h", temperatures of a place.
	Cold struct{ Log []Spell }
	// Cooling: "cooling 54 c to 27 c in 4 h, to 7 c in 9 h".
	Cooling struct {
		Legs    []Leg
		Against cure.Region
	}
)

// Spell is a time at one temperature.
type Spell struct {
	Temperature cure.Celsius
	For         time.Duration
}

// Leg is a fall of temperature. From is that of the leg before where it was not said.
type Leg struct {
	From, To cure.Celsius
	In       time.Duration // of this leg, as it was said
}

// Freeze asks whether a freezing counts against trichinae: "freeze -20 c 10 days, 12 cm pork".
type Freeze struct {
	Temperature cure.Given[cure.Celsius]
	For         cure.Given[time.Duration]
	Thickness   cure.Given[cure.Millimetre]
	Cut         string
	Product     string // "pork", "wild boar"
}

// WaterActivity asks for it: "aw 3.5% salt 60% water", "aw 10% salt solution at 5 c".
type WaterActivity struct {
	Salt        cure.Given[cure.Fraction] // of the whole
	Sugar       cure.Given[cure.Fraction]
	Water       cure.Given[cure.Fraction]
	Solution    bool // salt and water, nothing else
	Temperature cure.Given[cure.Celsius]
}

func (Check) command()         {}
func (Swap) command()          {}
func (Mix) command()           {}
func (HowLong) command()       {}
func (WhichCure) command()     {}
func (Brine) command()         {}
func (Desalt) command()        {}
func (Rub) command()           {}
func (Dry) command()           {}
func (Ferment) command()       {}
func (Cook) command()          {}
func (Cold) command()          {}
func (Cooling) command()       {}
func (Freeze) command()        {}
func (WaterActivity) command() {}
