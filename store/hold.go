package store

import (
	"slices"
	"strconv"
)

type (
	// Held stops a batch.
	Held struct {
		Why string `json:"why"`
		// Number tells it from the batch's other holds: above all before it; 0: it was not numbered.
		Number int `json:"number,omitempty"`
		// Reading is set where the second reading was another than the first: released, the batch
		// is weighed anew.
		Reading bool `json:"reading,omitempty"`
	}
	// Released lifts one hold of a batch.
	Released struct {
		Why       string `json:"why"`
		Reference string `json:"reference,omitempty"` // of a paper, where an authority had held it
		Number    int    `json:"number,omitempty"`    // of the hold; 0: the newest that was not numbered
	}
	// Incident holds several batches at once, for one thing that concerns them all.
	Incident struct {
		Number    uint64      `json:"number"`              // from 1 in each kitchen
		Subject   string      `json:"subject"`             // "place walk-in 2", "jar A7", "inspector"
		Authority string      `json:"authority,omitempty"` // "inspector": only a reference of theirs lifts it
		Why       string      `json:"why"`
		Since     Milli       `json:"since,omitempty"`   // 0: not said
		MilliC    *int64      `json:"milli_c,omitempty"` // how warm a place was; nil: not said
		Held      []HeldBatch `json:"held"`              // by number
		Gone      []uint64    `json:"gone,omitempty"`    // concerned, and ended before
	}
	// HeldBatch is a batch that an incident holds.
	HeldBatch struct {
		Batch uint64 `json:"batch"`
		Hold  int    `json:"hold"` // as Held.Number
	}
)

func (Incident) kind() string { return "incident" }

// Hold is one reason for which a batch is held.
type Hold struct {
	By        string `json:"by"`
	At        Milli  `json:"at"`
	Why       string `json:"why"`
	Number    int    `json:"number,omitempty"` // as Held.Number
	Incident  uint64 `json:"incident,omitempty"`
	Subject   string `json:"subject,omitempty"` // of the incident
	Authority string `json:"authority,omitempty"`
}

// Held tells whether a hold is in force.
func (b *Batch) Held() bool { return len(b.Holds) > 0 }

func (Held) undoable() bool { return true }

func (h Held) apply(b *Batch, e Event) error {
	if h.Reading && b.Weighing != nil {
		w := *b.Weighing
		w.Disputed = true
		b.Weighing = &w
	}
	return b.hold(e, Hold{By: e.Person, At: e.Happened, Why: h.Why, Number: h.Number})
}

// hold adds a hold, whose number is none or above all before it.
func (b *Batch) hold(e Event, h Hold) error {
	if h.Number != 0 && h.Number <= b.LastHold {
		return misfit(e, b.State, MisfitHold)
	}
	b.Holds = append(slices.Clip(b.Holds), h)
	b.LastHold = max(b.LastHold, h.Number)
	return nil
}

func (r Released) apply(b *Batch, e Event) error {
	for i, h := range slices.Backward(b.Holds) {
		if h.Number != r.Number {
			continue
		}
		if h.Authority != "" && r.Reference == "" {
			return misfit(e, b.State, MisfitHold)
		}
		b.Holds = slices.Delete(slices.Clone(b.Holds), i, i+1)
		return nil
	}
	return misfit(e, b.State, MisfitHold)
}

func (i Incident) words() []string { return WordsIn(i.Why + " " + i.Subject) }

func (i Incident) pointsTo() []string { return []string{i.Subject, incident(i.Number)} }

// fold numbers the incident and holds its batches.
func (i Incident) fold(b records, k *Kitchen, e Event) error {
	if i.Number != k.Incidents+1 || len(i.Held) == 0 {
		return misfit(e, "", MisfitHold)
	}
	k.Incidents++
	for _, h := range i.Held {
		if err := foldInto(b, e, h.Batch); err != nil {
			return err
		}
	}
	return nil
}

// apply holds one of the batches.
func (i Incident) apply(b *Batch, e Event) error {
	at := slices.IndexFunc(i.Held, func(h HeldBatch) bool { return h.Batch == b.Number })
	if at < 0 {
		return misfit(e, b.State, MisfitBatch)
	}
	return b.hold(e, Hold{By: e.Person, At: e.Happened, Why: i.Why, Number: i.Held[at].Hold, Incident: i.Number, Subject: i.Subject, Authority: i.Authority})
}

// Incident gives an incident of a kitchen by its number, as it was noted; false: there is none.
func (tx *Tx) Incident(kitchen string, n uint64) (Event, bool, error) {
	events, err := tx.Trail(kitchen, incident(n), 0, 1)
	if err != nil || len(events) == 0 {
		return Event{}, false, err
	}
	return events[0], true, nil
}

func incident(n uint64) string { return "incident " + strconv.FormatUint(n, 10) }
