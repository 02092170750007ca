package grammar

import (
	"time"

	"salthand/cure"
)

// Command is what a phrase asks for: one of the types below.
type Command interface{ command() }

// Phrase is a command with the batch that was named before it ("batch 42: approve").
type Phrase struct {
	Batch    uint64 // 0: none named
	Command  Command
	Language string // "en", "es", "fr": what it was typed in; "" where nothing tells
}

// Dose is a dose phrase. What was not said is left unset.
type Dose struct {
	JustAsking    bool   // "how much for …": answered, makes no batch
	Cut           string // cure.Cut.Name
	Pieces        []cure.Gram
	Method        cure.Given[cure.Method]
	Days          cure.Given[time.Duration]
	Kind          cure.AgentKind
	Nitrite       cure.Given[cure.Fraction] // strength of the cure as said: "no 1 6.25%"
	Nitrate       cure.Given[cure.Fraction] // "no 2 6.25% + 4%"
	Rate          cure.Given[cure.Fraction] // "0.25% no 1": cure by weight of the basis; where the strength is said too, Target is set instead
	Jar           string
	Recipe        string                    // as the kitchen writes its name
	RecipeVersion uint32                    // 0: the newest that is in use
	Target        cure.Given[cure.PPM]      // "120 ppm"
	Salt          cure.Given[cure.Fraction] // "2.5% salt"
	SaltOnTop     bool
	Sugar         cure.Given[cure.Fraction]
	Ascorbate     cure.Given[cure.PPM] // "erythorbate 500 ppm"
	Thickness     cure.Given[cure.Millimetre]
	Sides         [2]cure.Millimetre // "30 x 20 x 12 cm": beside the Thickness, which is the least
	Thicknesses   []cure.Millimetre  // "4 cm + 6 cm thick": of each of the Pieces
	SkinOn        cure.Given[bool]
	Heated        cure.Given[bool]
	Temperature   cure.Given[cure.Celsius]
	Water         cure.Given[cure.Gram] // "brine 1 us gal": 1,000 g a litre
	Pump          cure.Given[cure.Fraction]
	Cover         cure.Given[cure.Gram] // "cover 4 l": 4,000 g of pickle
	Region        cure.Region           // "us and eu": the first of two; a phrase never changes the kitchen's
	Against       cure.Region           // "us and eu", "against eu", "eu": to be compared with as well
}

// The commands of a batch.
type (
	Approve struct { // "approve", "approve 23.8 g", "approve: reason"
		Why      string
		Grams    cure.Given[cure.Gram] // of cure, where they were typed
		Revision uint32                // of the dose card, where a button says it; 0: the newest
	}
	Decline   struct{ Why string }
	NeverMind struct{}
	Undo      struct{} // takes back one's own last entry
	Start     struct{}
	Did       struct { // a step that was done: "turned", "rinsed", "out of the cure", "done"
		Step string                   // "turn", "overhaul", "top up", "take out", "rinse", "soak", "rest", "pellicle", "smoke", "cook", "chill", "hang", "weigh"; "" for "done": whatever is due
		Core cure.Given[cure.Celsius] // "cooked 71 c"
		When *When                    // a late entry: "turned yesterday 15:00"
		// Evidence is what a late one rests on: "camera"; "": not said
		Evidence string
	}
	Snooze struct{ For time.Duration }
	Remind struct { // "remind rinse fri 9:00"
		Step string
		When When
	}
	Finish struct{} // "finished"
	HoldIt struct { // "hold: bag leaks"
		Why       string
		Authority string // "inspector": they placed it
	}
	ReleaseIt struct { // "release: probe log checked", "release 2: letter read"
		Hold      int    // its number; 0: not said
		Reference string // of a paper; "": not said
		Why       string
	}
	Discard struct{ Why string }
)

// The commands that look back.
type (
	ShowBatch struct{} // "batch 42": the number stands in Phrase.Batch
	Due       struct { // "due", "due tomorrow", "due until thursday"
		Day   *When
		Until bool // Day is the last of the days
	}
	Who struct { // "who cured belly last month", "who cured what this week", "hanging", "held"
		Cut    string // cure.Cut.Name; "" for any
		Person string
		State  string // a batch state, "held"; "" for any
		Span   *Span  // nil for all time
	}
)

// The commands of the kitchen.
type (
	SetRegion struct{ Region cure.Region }
	Weighing  struct{ On bool }            // "weighing on"
	OwnOK     struct{ On bool }            // "own approval on": a one-person kitchen
	OwnMixes  struct{ On bool }            // "own mixes on": chefs may mix cures from undiluted nitrite
	CureScale struct{ Division cure.Gram } // "cure scale 0.1 g"
	Zone      struct{ Name string }        // "zone Europe/Paris"
	// SetDateOrder: "date order day first".
	SetDateOrder struct{ Order DateOrder }
	Language     struct {
		Code    string // "en", "es", "fr"
		Kitchen bool   // "kitchen language fr": of the kitchen, else of who types it
	}
	Help struct{ Topic string }
)

// What is not a request but must be answered.
type (
	// Emergency is a message with words of poisoning.
	Emergency struct{}
	// Chatter is everything else: left alone.
	Chatter struct{}
)

func (Dose) command()         {}
func (Approve) command()      {}
func (Decline) command()      {}
func (NeverMind) command()    {}
func (Undo) command()         {}
func (Start) command()        {}
func (Did) command()          {}
func (Snooze) command()       {}
func (Remind) command()       {}
func (Finish) command()       {}
func (HoldIt) command()       {}
func (ReleaseIt) command()    {}
func (Discard) command()      {}
func (ShowBatch) command()    {}
func (Due) command()          {}
func (Who) command()          {}
func (SetRegion) command()    {}
func (Weighing) command()     {}
func (OwnOK) command()        {}
func (OwnMixes) command()     {}
func (CureScale) command()    {}
func (Zone) command()         {}
func (SetDateOrder) command() {}
func (Language) command()     {}
func (Help) command()         {}
func (Emergency) command()    {}
func (Chatter) command()      {}

// When is a moment as it was typed, not yet tied to a clock: bot resolves it in the
// kitchen's zone.
type When struct {
	In      time.Duration // "in 2 h"; then the rest is unset
	Days    int           // days from today: -1 "yesterday", 1 "tomorrow"
	Weekday *time.Weekday // "fri": the next one, or for what was done the last one
	Last    bool          // "last fri": before today
	Date    *Date         // "2 nov"
	Clock   *Clock        // "9:00"; nil: not said
}

// Date is a day of the calendar that exists. Year is 0 where none was said: the next such day,
// or for what was done the last one.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// DateOrder is which of the two numbers of "4/1" is the day.
type DateOrder uint8

// The orders of a date.
const (
	OrderUnset DateOrder = iota // asked back where it matters
	DayFirst
	MonthFirst
)

// Clock is a time of day.
type Clock struct{ Hour, Minute int }

// Span is a stretch of days as it was typed: "last month", "this week", "october", "today".
type Span struct {
	Unit   string     // "day", "week", "month", "year"
	Back   int        // how many units back: 0 this, 1 last
	Month  time.Month // a named month: the latest one that has begun; then Unit and Back are unset
	Onward bool       // "since last month": up to now
	Year   int        // of the Month, or of the unit "year", where it was said; else 0
	Since  *When      // "since sat": from then on; then the rest is unset
	On     *When      // "on sat", "2 nov": that day; then the rest is unset
}
