package store

import (
	"bytes"
	"encoding/json"
	"slices"
)

type (
	// Corrected puts an entry of a batch right. The entry stays in the record as it was noted, and
	// counts from now on as New has it.
	Corrected struct {
		Entry uint64 `json:"entry"` // number of the event that was wrong
		Old   Noted  `json:"old"`
		New   Noted  `json:"new"`
		Void  bool   `json:"void,omitempty"` // it touched the dose: an approval is void
		// NitriteMilliPPM is what went in by it; -1: it can't be reckoned, 0: it does not touch that.
		NitriteMilliPPM int64  `json:"nitrite_milli_ppm,omitempty"`
		Why             string `json:"why"`
	}
	// PlaceCorrected puts a temperature of a place right.
	PlaceCorrected struct {
		Entry     uint64 `json:"entry"` // number of the event that was wrong
		Place     string `json:"place"`
		OldMilliC int64  `json:"old_milli_c"`
		NewMilliC int64  `json:"new_milli_c"`
		Unit      string `json:"unit"` // as it was typed: "c", "f"
		Why       string `json:"why"`
	}
)

func (Corrected) kind() string      { return "corrected" }
func (PlaceCorrected) kind() string { return "place corrected" }

// Noted is what an entry says, and when it happened.
type Noted struct {
	Body     Body
	Happened Milli
}

type storedNoted struct {
	Kind     string          `json:"kind"`
	Body     json.RawMessage `json:"body"`
	Happened Milli           `json:"happened"`
}

// MarshalJSON writes the kind beside the body, as an event does.
func (n Noted) MarshalJSON() ([]byte, error) {
	if n.Body == nil {
		return nil, ErrEvent
	}
	b, err := encodePlain(n.Body)
	if err != nil {
		return nil, err
	}
	return encodePlain(storedNoted{n.Body.kind(), b, n.Happened})
}

// UnmarshalJSON reads what MarshalJSON writes.
func (n *Noted) UnmarshalJSON(data []byte) error {
	var s storedNoted
	if err := json.Unmarshal(data, &s); err != nil {
		return err
	}
	b, err := body(s.Kind, s.Body)
	n.Body, n.Happened = b, s.Happened
	return err
}

// Correction is an entry that was put right, and the newest event that did so.
type Correction struct {
	Entry uint64 `json:"entry"`
	By    uint64 `json:"by"`
}

// correctable bodies can be put right. corrects tells whether one can stand for what was noted:
// of the same thing, with another value.
type correctable interface{ corrects(was Body) bool }

func (m Measured) corrects(was Body) bool {
	w, ok := was.(Measured)
	return ok && w.What == m.What
}

func (m MeatLot) corrects(was Body) bool {
	_, ok := was.(MeatLot)
	return ok && m.Lot != ""
}

func (s Served) corrects(was Body) bool {
	_, ok := was.(Served)
	return ok
}

func (w Weighed) corrects(was Body) bool {
	old, ok := was.(Weighed)
	return ok && old.Revision == w.Revision
}

func (d StepDone) corrects(was Body) bool {
	old, ok := was.(StepDone)
	old.CoreMilliC = d.CoreMilliC
	return ok && old == d
}

// CorrectedBy is the number of the newest event that put an entry right; 0: none did.
func (b *Batch) CorrectedBy(entry uint64) uint64 {
	for _, c := range b.Corrections {
		if c.Entry == entry {
			return c.By
		}
	}
	return 0
}

// correct folds a batch's events anew with one of them put right.
func correct(from reader, b Batch, e Event, c Corrected) (Batch, error) {
	no := func(why Misfit) (Batch, error) { return b, misfit(e, b.State, why) }
	right, ok := c.New.Body.(correctable)
	switch {
	case e.Person == "":
		return no(MisfitPerson)
	case !ok || c.Old.Body == nil || !right.corrects(c.Old.Body) || !slices.Contains(b.Events, c.Entry) || slices.Contains(b.Undone, c.Entry):
		return no(MisfitCorrected)
	}
	past, err := pastOf(from, b, e)
	if err != nil {
		return b, err
	}
	for i := range past {
		if past[i].Seq == c.Entry && !sameNoted(asCorrected(past[:len(past)-1], past[i]), c.Old) {
			return no(MisfitCorrected)
		}
	}
	return b.anew(from, past, b.Undone)
}

// pastOf are the events of a batch, in order, with the one that is folded now at their end.
func pastOf(from reader, b Batch, e Event) (past []Event, err error) {
	for _, seq := range b.Events {
		one, err := decodeEvent(seq, from.get(bucketEvents, key(nil).num(seq)))
		if err != nil {
			return nil, err
		}
		past = append(past, one)
	}
	return append(past, e), nil
}

// asCorrected is what an event says by the newest of the corrections among some events.
func asCorrected(past []Event, e Event) Noted {
	now := Noted{e.Body, e.Happened}
	for _, one := range past {
		if c, ok := one.Body.(Corrected); ok && c.Entry == e.Seq {
			now = c.New
		}
	}
	return now
}

func sameNoted(a, b Noted) bool {
	x, errX := a.MarshalJSON()
	y, errY := b.MarshalJSON()
	return errX == nil && errY == nil && bytes.Equal(x, y)
}

// corrected notes that an entry was put right; what follows from it was folded anew.
func (b *Batch) corrected(e Event, c Corrected) {
	kept := slices.DeleteFunc(slices.Clone(b.Corrections), func(old Correction) bool { return old.Entry == c.Entry })
	b.Corrections = append(kept, Correction{Entry: c.Entry, By: e.Seq})
	if c.Void {
		b.Approval = nil
	}
	if c.NitriteMilliPPM != 0 {
		b.Card.NitriteMilliPPM = c.NitriteMilliPPM
	}
	b.joined(e.Person)
}

func (c Corrected) words() []string {
	words := WordsIn(c.Why)
	if w, ok := c.New.Body.(worded); ok {
		words = append(words, w.words()...)
	}
	return words
}

func (c Corrected) pointsTo() (to []string) {
	for _, n := range []Noted{c.Old, c.New} {
		if p, ok := n.Body.(pointer); ok {
			to = append(to, p.pointsTo()...)
		}
	}
	slices.Sort(to)
	return slices.Compact(to)
}

// Valid gives an event of a batch as it counts: with what it says by its newest correction.
func (tx *Tx) Valid(b Batch, e Event) (Event, error) {
	by := b.CorrectedBy(e.Seq)
	if by == 0 {
		return e, nil
	}
	one, err := tx.event(by)
	if err != nil {
		return e, err
	}
	if c, ok := one.Body.(Corrected); ok {
		e.Body, e.Happened = c.New.Body, c.New.Happened
	}
	return e, nil
}

func (c PlaceCorrected) pointsTo() []string { return []string{PlaceSubject(c.Place)} }

func (c PlaceCorrected) fold(b records, _ *Kitchen, e Event) error {
	p, known, err := loadPlace(b, e.Kitchen, c.Place)
	if err != nil {
		return err
	}
	data := b.get(bucketEvents, key(nil).num(c.Entry))
	if !known || e.Person == "" || data == nil {
		return misfit(e, "", MisfitCorrected)
	}
	was, err := decodeEvent(c.Entry, data)
	if err != nil {
		return err
	}
	read, ok := was.Body.(PlaceRead)
	if !ok || was.Kitchen != e.Kitchen || folded(read.Place) != folded(c.Place) {
		return misfit(e, "", MisfitCorrected)
	}
	if p.Last != nil && p.Last.At == was.Happened && p.Last.MilliC == c.OldMilliC {
		last := *p.Last
		last.MilliC = c.NewMilliC
		p.Last = &last
	}
	return savePlace(b, e.Kitchen, p)
}
