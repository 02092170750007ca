package store

import (
	"context"
	"errors"
	"testing"
)

// An undone step is due and reminded of again, its event stays, and what the events make of
// the records anew is the same.
func TestUndone(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	appended(t, s,
		of(1, ana, 1*day, asked("belly", "c1", 2*day)),
		of(1, ben, 1*day+1, approved(1, 3*day)),
		of(1, ana, 1*day+2, started(step("turn", 3*day), step("take out", 8*day))),
		of(1, "", 3*day, Reminded{Step: 0}),
		of(1, ana, 3*day+1, StepDone{Step: 0, Kind: "turn", State: StateCuring}),
		of(1, ben, 3*day+2, StepDone{Step: -1, Kind: "weigh", State: StateCuring}),
		of(1, ana, 3*day+3, Held{Why: "bag leaks"}),
	)
	first := batchOf(t, s, 1).Events
	turned, weighed := first[4], first[5]
	for name, e := range map[string]Event{
		"another's":  of(1, ben, 4*day, Undone{Events: []uint64{turned}}),
		"nothing":    of(1, ana, 4*day, Undone{}),
		"acted on":   of(1, ben, 4*day, Undone{Events: []uint64{first[1]}}),
		"the start":  of(1, ana, 4*day, Undone{Events: []uint64{first[2]}}),
		"not its":    of(1, ana, 4*day, Undone{Events: []uint64{1}}),
		"of nobody":  of(1, "", 4*day, Undone{Events: []uint64{first[3]}}),
		"the asking": of(1, ana, 4*day, Undone{Events: []uint64{first[0]}}),
	} {
		err := s.Update(context.Background(), func(tx *Tx) error {
			_, err := tx.Append(e)
			return err
		})
		var misfit *FoldError
		if !errors.As(err, &misfit) {
			t.Errorf("%s: got %v, want a misfit", name, err)
		}
	}
	appended(t, s, of(1, ana, 4*day, Undone{Events: []uint64{turned}}), of(1, ben, 4*day+1, Undone{Events: []uint64{weighed}}))
	b := batchOf(t, s, 1)
	if b.Next != 0 || b.Steps[0].Done || b.Steps[0].Reminded || !b.Steps[2].Undone || !b.Held() || len(b.Events) != 9 || len(b.Undone) != 2 {
		t.Errorf("batch: %+v", b)
	}
	same(t, "due", dueUntil(t, s, 9*day, 0), DueEntry{3 * day, kitchen, 1, DueStep, 0, "turn"})
	sound(t, s)
}

// A corrected weight voids the approval and keeps what went in; it fits only a batch in the
// cure, beside the weight that it corrects, and is never undone.
func TestWeightCorrected(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	right := WeightCorrected{OldMg: 3_200_000, NewMg: 4_200_000, Phrase: "4.2 kg belly, dry rub, 7 days", NitriteMilliPPM: 119_048, Why: "typed wrong"}
	refused := func(name string, e Event) {
		t.Helper()
		err := s.Update(context.Background(), func(tx *Tx) error {
			_, err := tx.Append(e)
			return err
		})
		var misfit *FoldError
		if !errors.As(err, &misfit) {
			t.Errorf("%s: got %v, want a misfit", name, err)
		}
	}
	appended(t, s, of(1, ana, 1*day, asked("belly", "c1", 2*day)), of(1, ben, 1*day+1, approved(1, 3*day)))
	refused("before the start", of(1, ana, 1*day+2, right))
	appended(t, s, of(1, ana, 1*day+3, started(step("turn", 3*day))), of(1, ana, 2*day, right))
	refused("of the old weight once more", of(1, ana, 2*day+1, right))
	b := batchOf(t, s, 1)
	refused("undone", of(1, ana, 2*day+2, Undone{Events: []uint64{b.Events[3]}}))
	if b.Approval != nil || b.Card.WeightMg != right.NewMg || b.Card.CureMg != 8_000 || b.Card.Phrase != right.Phrase || b.Card.NitriteMilliPPM != right.NitriteMilliPPM {
		t.Errorf("batch: %+v", b)
	}
	sound(t, s)
}
