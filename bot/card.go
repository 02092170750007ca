package bot

// Action is what a button does.
type Action string

// The actions.
const (
	DoApprove Action = "approve"
	DoDecline Action = "decline"
	DoDone    Action = "done"
	DoSnooze  Action = "snooze"
	DoTake    Action = "take"
	DoAccept  Action = "accept"
	DoStart   Action = "start"
	DoPick    Action = "pick"   // one of a question's choices
	DoChange  Action = "change" // opens a form
	DoHold    Action = "hold"   // opens a form
	DoWeigh   Action = "weigh"  // opens a form
)

// Button is offered under a card. It stays valid for years: what it does is judged by the
// state of the batch and the role of who presses it.
type Button struct {
	Label string `json:"label"`
	Press Press  `json:"press"`
}

// Kind is what a card is, so that an adapter can give it its look.
type Kind string

// The kinds of card.
const (
	DoseCard      Kind = "dose"
	StopCard      Kind = "stop"      // a refused dose
	QuestionCard  Kind = "question"  // a question back
	ErrorCard     Kind = "error"     // not understood
	NoteCard      Kind = "note"      // something done, or refused
	ReminderCard  Kind = "reminder"  // a step is due
	HoldCard      Kind = "hold"      // nothing moves
	EmergencyCard Kind = "emergency" // somebody may be poisoned
	ListCard      Kind = "list"      // a look back
	HelpCard      Kind = "help"
	FigureCard    Kind = "figure"  // figures that were asked for
	RequestCard   Kind = "request" // a dose card once more, for who approves it from the home channel
)

// Card is what the bot posts: plain text in named parts, no markup. An adapter lays it out
// and escapes it.
type Card struct {
	Language string    `json:"language,omitempty"` // one of Tongues; "" is English
	Key      string    `json:"key"`                // names the card; a newer Revision replaces it in place where the platform can
	Revision uint32    `json:"revision"`           // from 1
	Op       string    `json:"op"`                 // operation id of this revision, for looking up a doubtful send
	Kind     Kind      `json:"kind"`
	Batch    uint64    `json:"batch,omitempty"`
	Title    string    `json:"title,omitempty"`
	Status   []string  `json:"status,omitempty"` // what became of it since it was posted: who did what, and when
	Lines    []string  `json:"lines,omitempty"`
	Weigh    []Weigh   `json:"weigh,omitempty"` // the grams: big
	Facts    []Fact    `json:"facts,omitempty"`
	Warnings []Warning `json:"warnings,omitempty"`
	Caret    *Caret    `json:"caret,omitempty"`
	Choices  []string  `json:"choices,omitempty"` // what to type in answer to a question
	Small    string    `json:"small,omitempty"`   // the short caution at the foot
	Next     string    `json:"next,omitempty"`    // what to do now
	Buttons  []Button  `json:"buttons,omitempty"`
	// Papers go with the card as files. Files are they as drawn, filled in when it is sent.
	Papers []Paper `json:"papers,omitempty"`
	Files  []File  `json:"-"`
	// Code is the seed of a one-time code that the sender puts into the words: it is not kept.
	Code string `json:"code,omitempty"`
	// Also is the same card in the language of who asked, to stand beneath where that is not
	// the kitchen's. It has no key and no buttons of its own.
	Also *Card `json:"also,omitempty"`
	done bool  // nothing more will come of its batch
}

// in marks a card as worded in a tongue.
func (c *Card) in(l tongue) {
	if c.Language = string(l); l == english {
		c.Language = ""
	}
}

// headings are what a card of a kind is called at its head.
var headings = map[Kind]string{
	DoseCard: msg("DOSE CARD"), StopCard: msg("NO DOSE"), ReminderCard: msg("DUE"), HoldCard: msg("HOLD"), ListCard: msg("LOOK BACK"), HelpCard: msg("HELP"), RequestCard: msg("TO APPROVE"),
}

// Heading is what a card is called at its head; "" where a sign is enough.
func (c Card) Heading() string {
	if h := headings[c.Kind]; h != "" {
		return tongue(c.Language).say(h)
	}
	return ""
}

// levelNames are what stands before a warning.
var levelNames = map[string]string{"stop": msg("STOP"), "hold": msg("HOLD"), "warn": msg("WARN"), "note": msg("NOTE")}

// LevelName is what stands before a warning of the card.
func (c Card) LevelName(w Warning) string { return tongue(c.Language).say(levelNames[w.Level]) }

// Weigh is one thing to put on the scale.
type Weigh struct {
	Item   string `json:"item"`   // "no. 1 cure"
	Amount string `json:"amount"` // "8.0 g"
	Note   string `json:"note,omitempty"`
}

// Fact is a labelled part of a card.
type Fact struct {
	Label string   `json:"label"`
	Lines []string `json:"lines"`
}

// Warning is a caution as a card shows it.
type Warning struct {
	Level string `json:"level"` // "stop", "hold", "warn", "note"
	Code  string `json:"code"`
	Text  string `json:"text"`
}

// Caret points at a place in what was typed. Column is in runes from 1; Width 0 is nowhere.
type Caret struct {
	Text   string `json:"text"`
	Column int    `json:"column"`
	Width  int    `json:"width"`
}
