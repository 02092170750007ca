package store

import (
	"encoding/json"
	"time"
)

// Milli is an instant in milliseconds since 1970 UTC, or the difference of two.
type Milli int64

// Duration is a difference of two instants as elapsed time.
func (m Milli) Duration() time.Duration { return time.Duration(m) * time.Millisecond }

// Event is one thing that happened. Events are appended, never changed; every record is
// folded from them.
type Event struct {
	Seq      uint64 `json:"-"` // given by Append, from 1, in order, no gap
	Kitchen  string `json:"kitchen"`
	Batch    uint64 `json:"batch,omitempty"`  // 0: not of a batch
	Person   string `json:"person,omitempty"` // person id; "" for the bot itself
	Account  string `json:"account,omitempty"`
	Via      string `json:"via,omitempty"`   // "at the terminal of LOGIN"
	Entry    string `json:"entry,omitempty"` // inbox entry that it came from
	Happened Milli  `json:"happened"`
	Noted    Milli  `json:"noted"`
	Late     bool   `json:"late,omitempty"`
	Body     Body   `json:"-"` // stored under "kind" and "body"
}

// Body is what happened: a batchBody or a kitchenBody. Masses are milligrams, concentrations
// thousandths of mg/kg, temperatures thousandths of a degree.
type Body interface{ kind() string }

// batchBody is what happened to a batch. apply changes the record or refuses; it is pure: what
// it gives depends on the record and the event alone.
type batchBody interface {
	Body
	apply(b *Batch, e Event) error
}

// kitchenBody is what happened to a kitchen, or to something of it that is no batch. The fold
// saves k itself afterwards.
type kitchenBody interface {
	Body
	fold(b records, k *Kitchen, e Event) error
}

// pointer is a body that is also about something else of the kitchen, so that its trail leads
// here: "jar A7", "place walk-in 2".
type pointer interface{ pointsTo() []string }

// Of the kitchen.
type (
	// KitchenOpened is the first event of a kitchen.
	KitchenOpened struct {
		Name    string `json:"name"`
		Region  string `json:"region"`
		Zone    string `json:"zone"`
		Scratch bool   `json:"scratch,omitempty"`
	}
	// Setting is one setting changed; Old is what it was.
	Setting struct {
		Key string `json:"key"` // "region", "zone", "cure scale", "weighing", "own approval", "language"
		Old string `json:"old"`
		New string `json:"new"`
	}
	// PersonJoined makes a person known, with one account.
	PersonJoined struct {
		ID      string `json:"id"`
		Name    string `json:"name"`
		Account string `json:"account"`
	}
	// RoleGiven gives a person a role: "chef".
	RoleGiven struct {
		ID   string `json:"id"`
		Role string `json:"role"`
		By   string `json:"by,omitempty"` // the group of the platform that gives it; "": it was given by name
	}
	// LanguageChosen is the language that a person wants to be answered in; Old is what it was.
	LanguageChosen struct {
		ID  string `json:"id"`
		Old string `json:"old,omitempty"` // "": none was chosen
		New string `json:"new"`           // "en", "es", "fr"
	}
)

// Of a batch.
type (
	// Asked makes a batch, in state asked.
	Asked struct {
		Card         Card            `json:"card"`
		Conversation string          `json:"conversation"`
		Place        json.RawMessage `json:"place,omitempty"` // where it is talked about: the caller's
		Lapse        Milli           `json:"lapse"`           // 0: never
	}
	// Revised replaces the dose card; an approval is void.
	Revised struct {
		Card  Card   `json:"card"`
		Lapse Milli  `json:"lapse"`
		Why   string `json:"why,omitempty"`
	}
	// WeightCorrected is what the meat that is in the cure really weighs. What went in stays as
	// it is; an approval of the old weight is void.
	WeightCorrected struct {
		OldMg           int64  `json:"old_mg"`
		NewMg           int64  `json:"new_mg"`
		Phrase          string `json:"phrase"`            // the card's, with the new weight
		NitriteMilliPPM int64  `json:"nitrite_milli_ppm"` // what went in, on the new weight; -1: it can't be reckoned
		AddMg           int64  `json:"add_mg,omitempty"`  // of the same cure, that can still be added; 0: none
		Hold            int    `json:"hold,omitempty"`    // number of the hold that comes with it
		Why             string `json:"why"`
	}
	// Approved binds the approver to what stood on one revision of the dose card.
	Approved struct {
		Revision uint32 `json:"revision"`
		WeightMg int64  `json:"weight_mg"`
		CureMg   int64  `json:"cure_mg"`
		Jar      string `json:"jar,omitempty"`
		Filling  uint32 `json:"filling,omitempty"` // of the jar
		Strength string `json:"strength"`          // the strength on the card, as printed
		Law      string `json:"law"`               // version of the law table
		Own      bool   `json:"own,omitempty"`
		Why      string `json:"why,omitempty"` // the reason where the card asked for one
		Lapse    Milli  `json:"lapse"`
	}
	// Declined ends a batch that was asked.
	Declined struct {
		Why string `json:"why"`
	}
	// Lapsed ends a batch that nobody approved or started in time, or that the asker took back.
	Lapsed struct {
		Why string `json:"why"`
	} // "never mind", "not approved", "not started"
	// Started starts the clock; Steps is the whole of its steps in order.
	Started struct {
		Steps []Step `json:"steps"`
	}
	// StepDone is a step done; State is the state that the batch is in afterwards.
	StepDone struct {
		Step       int    `json:"step"` // index in the batch's steps; -1: one that was not on the list
		Kind       string `json:"kind"`
		State      State  `json:"state"`
		CoreMilliC int64  `json:"core_milli_c,omitempty"`
		Evidence   string `json:"evidence,omitempty"` // what a late entry rests on: "camera"
	}
	// StepMoved is a step put off, or a new one ("remind rinse fri 9:00").
	StepMoved struct {
		Step int    `json:"step"` // -1: a new one
		To   Step   `json:"to"`
		Why  string `json:"why"` // "snooze", "remind", "move", "shift", "weekly", "soak"
	}
	// Discarded and Finished end a batch. Place is where it was then.
	Discarded struct {
		Why   string `json:"why"`
		Place string `json:"place,omitempty"`
	}
	Finished struct {
		Place string `json:"place,omitempty"`
	}
	// Undone takes back events of one's own. They stay in the record, and count no more.
	Undone struct {
		Events []uint64 `json:"events"` // their numbers
	}
)

// State is where a batch stands. Held and paused are beside it, not in it.
type State string

// The states of a batch, in order, and the three that end it early.
const (
	StateAsked      State = "asked"
	StateApproved   State = "approved"
	StateWeighed    State = "weighed"
	StateChecked    State = "checked"
	StateCuring     State = "curing"
	StateResting    State = "resting"
	StateFermenting State = "fermenting"
	StateDrying     State = "drying"
	StateSmoking    State = "smoking"
	StateCooking    State = "cooking"
	StateChilled    State = "chilled"
	StateFinished   State = "finished"
	StateDeclined   State = "declined"
	StateLapsed     State = "lapsed"
	StateDiscarded  State = "discarded"
)

// Card is one revision of a batch's dose card: the figures that records are asked for, and
// the whole answer as bytes of the bot's.
type Card struct {
	Revision             uint32          `json:"revision"` // from 1
	Phrase               string          `json:"phrase"`   // canonical
	Cut                  string          `json:"cut"`
	Class                string          `json:"class"`
	Method               string          `json:"method"`
	Region               string          `json:"region"`
	WeightMg             int64           `json:"weight_mg"`
	CureMg               int64           `json:"cure_mg"` // on the scale
	SaltMg               int64           `json:"salt_mg"` // on the scale
	Agent                string          `json:"agent"`   // as printed: "no. 1, 6.25 % nitrite"
	AgentKind            string          `json:"agent_kind,omitempty"`
	AgentNitriteMilliPPM int64           `json:"agent_nitrite_milli_ppm,omitempty"` // nitrite and nitrate in the agent itself
	AgentNitrateMilliPPM int64           `json:"agent_nitrate_milli_ppm,omitempty"`
	NitriteMilliPPM      int64           `json:"nitrite_milli_ppm"` // -1: not known since the weight was corrected
	Jar                  string          `json:"jar,omitempty"`
	Filling              uint32          `json:"filling,omitempty"` // of the jar that the dose was reckoned with
	Lot                  string          `json:"lot,omitempty"`
	Undyed               bool            `json:"undyed,omitempty"`         // it looks like table salt
	Recipe               string          `json:"recipe,omitempty"`         // name; "": it was made by none
	RecipeVersion        uint32          `json:"recipe_version,omitempty"` // of Recipe, from 1
	Hold                 bool            `json:"hold,omitempty"`           // a caution of level hold stands on it: the approver is asked for the reason
	PlanSeconds          int64           `json:"plan_seconds"`
	Steps                []PlannedStep   `json:"steps,omitempty"` // what falls due once it is started
	Answer               json.RawMessage `json:"answer,omitempty"`
}

// Step is something due. Local and Zone are what was promised, Due is derived from them.
type Step struct {
	Kind  string `json:"kind"`  // "turn", "take out", "rinse", "rest", …
	Local string `json:"local"` // "2026-11-26T09:00"
	Zone  string `json:"zone"`
	Due   Milli  `json:"due"`
	// On is one more than the index of the step that it comes after, and Gap how long after
	// that one is done; 0: it comes after none.
	On    int   `json:"on,omitempty"`
	Gap   Milli `json:"gap,omitempty"`
	Every Milli `json:"every,omitempty"` // it comes again after as long; 0: it does not
	Fixed bool  `json:"fixed,omitempty"` // somebody named its time: it stays there whatever is done early or late
}

// PlannedStep is a step of a dose card, counted from the start.
type PlannedStep struct {
	Kind         string `json:"kind"`
	AfterSeconds int64  `json:"after_seconds"`
	On           int    `json:"on,omitempty"` // as in Step
	EverySeconds int64  `json:"every_seconds,omitempty"`
}
