package store

import (
	"bytes"
	"encoding/json"
	"slices"
)

// Batch is where a batch stands, folded from its events.
type Batch struct {
	Kitchen      string          `json:"kitchen"`
	Number       uint64          `json:"number"` // from 1 in each kitchen
	State        State           `json:"state"`
	Revision     uint32          `json:"revision"` // of Card, from 1
	Card         Card            `json:"card"`     // the newest; Batches leaves out its Answer and Steps
	CardEvent    uint64          `json:"card_event"`
	Conversation string          `json:"conversation"`
	Place        json.RawMessage `json:"place,omitempty"` // where it is talked about: the caller's
	AskedBy      string          `json:"asked_by"`        // person id, as in all fields named …By
	AskedAccount string          `json:"asked_account,omitempty"`
	AskedVia     string          `json:"asked_via,omitempty"`
	AskedAt      Milli           `json:"asked_at"`           // when that was said; never changes
	Revisions    []Made          `json:"revisions"`          // Revisions[i] is of revision i+1
	Approval     *Approval       `json:"approval,omitempty"` // nil: none, or void
	Jar          string          `json:"jar,omitempty"`      // that it was weighed from, with the filling and its lot
	Filling      uint32          `json:"filling,omitempty"`
	Lot          string          `json:"lot,omitempty"`
	Weighing     *Weighing       `json:"weighing,omitempty"` // nil: not weighed yet, or void
	Check        *Check          `json:"check,omitempty"`    // nil: no second reading
	TopUp        *TopUp          `json:"top_up,omitempty"`   // nil: nothing is to be added
	StartedAt    Milli           `json:"started_at,omitempty"`
	StartedBy    string          `json:"started_by,omitempty"`
	Steps        []StepState     `json:"steps,omitempty"`     // an index once given is kept
	Next         int             `json:"next"`                // index of the step to be done first, by when it is due; -1: none
	Holds        []Hold          `json:"holds,omitempty"`     // those in force, oldest first
	Pauses       []Pause         `json:"pauses,omitempty"`    // in order; the last may still stand
	Owner        string          `json:"owner,omitempty"`     // who is reminded; "": who started it, or else who asked
	Backup       string          `json:"backup,omitempty"`    // who is told next; "": the kitchen's
	LastHold     int             `json:"last_hold,omitempty"` // the greatest number of a hold so far
	Where        string          `json:"where,omitempty"`     // name of the place of the kitchen that it is in; "": not known
	WhereSince   Milli           `json:"where_since,omitempty"`
	Readings     []Reading       `json:"readings,omitempty"` // by when they were taken
	Meat         []MeatLot       `json:"meat,omitempty"`
	Ingredients  []Ingredient    `json:"ingredients,omitempty"` // beside meat, salt and cure
	Served       []Serving       `json:"served,omitempty"`
	Lapse        Milli           `json:"lapse,omitempty"`  // when it lapses, while asked or approved; 0: never
	Alarms       alarms          `json:"alarms,omitempty"` // instants by what they are for
	Ended        Milli           `json:"ended,omitempty"`  // 0: open
	EndedBy      string          `json:"ended_by,omitempty"`
	EndWhy       string          `json:"end_why,omitempty"`
	People       []string        `json:"people"`           // who asked, approved, started or did a step, in that order
	Events       []uint64        `json:"events"`           // their numbers, in order
	Undone       []uint64        `json:"undone,omitempty"` // those of Events that were taken back
	Corrections  []Correction    `json:"corrections,omitempty"`
}

// Made is when a revision of a dose card was made, and by whom.
type Made struct {
	By string `json:"by"`
	At Milli  `json:"at"` // when it was noted: it was not on show before
}

// Approval is what an approver was bound to. Units as in Approved.
type Approval struct {
	By       string `json:"by"`
	Account  string `json:"account,omitempty"`
	Via      string `json:"via,omitempty"`
	At       Milli  `json:"at"`
	Revision uint32 `json:"revision"`
	WeightMg int64  `json:"weight_mg"`
	CureMg   int64  `json:"cure_mg"`
	Jar      string `json:"jar,omitempty"`
	Filling  uint32 `json:"filling,omitempty"`
	Strength string `json:"strength"`
	Law      string `json:"law"`
	Own      bool   `json:"own,omitempty"`
	Why      string `json:"why,omitempty"`
}

// StepState is a step and what became of it.
type StepState struct {
	Step
	Reminded   bool   `json:"reminded,omitempty"` // since it was last moved; so all down to TakenBy
	Kept       string `json:"kept,omitempty"`     // why the reminder was not said: "held", "moot"
	Ring       Milli  `json:"ring,omitempty"`     // when to remind; 0: when it is due
	Again      Milli  `json:"again,omitempty"`    // when the next to be told is told; 0: nobody is
	Told       string `json:"told,omitempty"`     // who was told beside the owner: "backup", "chefs"
	TakenBy    string `json:"taken_by,omitempty"` // who acknowledged it
	Dropped    bool   `json:"dropped,omitempty"`  // not to be done: DoneBy and DoneAt say who said so and when
	DropWhy    string `json:"drop_why,omitempty"`
	MissedWhy  string `json:"missed_why,omitempty"` // why it was not done; "": nobody said
	Over       bool   `json:"over,omitempty"`       // it was missed, and can't be done any more: DoneBy and DoneAt as for Dropped
	Done       bool   `json:"done,omitempty"`
	DoneBy     string `json:"done_by,omitempty"`
	DoneAt     Milli  `json:"done_at,omitempty"`
	CoreMilliC int64  `json:"core_milli_c,omitempty"` // thousandths of a degree Celsius; 0: not measured
	Undone     bool   `json:"undone,omitempty"`       // was never to be done: only its index is kept
	Unlisted   bool   `json:"unlisted,omitempty"`     // done without having been due: Local, Zone and Due are empty
}

// Open tells whether the batch has not ended.
func (b *Batch) Open() bool { return b.Ended == 0 && !b.State.ends() }

// waits: nothing has begun yet, the card can still be revised.
func (s State) waits() bool { return s == StateAsked || s == StateApproved }

// ready: approved, and the clock has not started. How much of the weighing-in has to come
// first is the caller's to decide.
func (s State) ready() bool { return s == StateApproved || s == StateWeighed || s == StateChecked }

// OpenStates are the states of batches that have not ended.
func OpenStates() []State {
	return []State{StateAsked, StateApproved, StateWeighed, StateChecked, StateCuring, StateResting, StateFermenting,
		StateDrying, StateSmoking, StateCooking, StateChilled}
}

// ends: nothing comes after it.
func (s State) ends() bool {
	switch s {
	case StateFinished, StateDeclined, StateLapsed, StateDiscarded:
		return true
	}
	return false
}

// runs: the clock has started.
func (s State) runs() bool {
	switch s {
	case StateCuring, StateResting, StateFermenting, StateDrying, StateSmoking, StateCooking, StateChilled:
		return true
	}
	return false
}

// NextBatch is the number that the next batch of a kitchen must carry.
func (tx *Tx) NextBatch(kitchen string) (uint64, error) {
	k, ok, err := loadKitchen(tx, kitchen)
	if err == nil && !ok {
		err = &FoldError{Kind: Asked{}.kind(), Kitchen: kitchen, Why: MisfitKitchen}
	}
	return k.Batches + 1, err
}

// Batch gives a batch by its number; false: there is none.
func (tx *Tx) Batch(kitchen string, n uint64) (Batch, bool, error) {
	b, ok, err := loadBatch(tx, kitchen, n)
	if err != nil || !ok {
		return b, ok, err
	}
	e, err := tx.event(b.CardEvent)
	if err != nil {
		return b, ok, err
	}
	switch body := e.Body.(type) {
	case Asked:
		b.Card.Answer, b.Card.Steps = body.Card.Answer, body.Card.Steps
	case Revised:
		b.Card.Answer, b.Card.Steps = body.Card.Answer, body.Card.Steps
	}
	return b, ok, nil
}

// How a batch stands in its conversation.
var (
	threadOpen  = []byte{1}
	threadEnded = []byte{2}
)

// BatchesIn gives the numbers of the batches whose conversation this is, oldest first: the
// open ones, and all.
func (tx *Tx) BatchesIn(conversation string) (stillOpen, all []uint64, err error) {
	prefix := key(nil).text(conversation)
	err = tx.scan(bucketThreads, prefix, prefix, func(k key, v []byte) (bool, error) {
		r := keyReader{rest: k[len(prefix):]}
		_ = r.text() // kitchen: a conversation is of one
		n := r.num()
		all = append(all, n)
		if bytes.Equal(v, threadOpen) {
			stillOpen = append(stillOpen, n)
		}
		return true, nil
	})
	return stillOpen, all, err
}

// LastEvent gives the newest event of all; false: there is none.
func (tx *Tx) LastEvent() (Event, bool, error) {
	seq := tx.last(bucketEvents)
	if seq == 0 {
		return Event{}, false, nil
	}
	e, err := decodeEvent(seq, tx.get(bucketEvents, key(nil).num(seq)))
	return e, true, err
}

// Events gives what happened to a batch, in order.
func (tx *Tx) Events(kitchen string, batch uint64) ([]Event, error) {
	b, _, err := loadBatch(tx, kitchen, batch)
	if err != nil {
		return nil, err
	}
	events := make([]Event, 0, len(b.Events))
	for _, seq := range b.Events {
		e, err := tx.event(seq)
		if err != nil {
			return nil, err
		}
		events = append(events, e)
	}
	return events, nil
}

func (tx *Tx) event(seq uint64) (Event, error) {
	return decodeEvent(seq, tx.get(bucketEvents, key(nil).num(seq)))
}

func batchKey(kitchen string, n uint64) key { return key(nil).text(kitchen).num(n) }

// loadBatch gives a batch as it is stored: what is long on its card stands in the card's event
// alone, since the record is written anew with each of its events.
func loadBatch(b reader, kitchen string, n uint64) (Batch, bool, error) {
	return load[Batch](b, bucketBatches, batchKey(kitchen, n))
}

func storeBatch(b records, now Batch) error {
	now.Card.Answer, now.Card.Steps = nil, nil
	return save(b, bucketBatches, batchKey(now.Kitchen, now.Number), now)
}

// joined adds a person to those who had a hand in a batch.
func (b *Batch) joined(person string) {
	if person != "" && !slices.Contains(b.People, person) {
		b.People = append(b.People, person)
	}
}
