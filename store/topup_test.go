package store

import (
	"context"
	"errors"
	"testing"
)

// What is missing since the weight was corrected is approved, added and read, and starts the
// clock again; nothing of that fits before what comes first.
func TestTopUp(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	appended(t, s, of(0, ana, hour, JarFilled{Jar: "A7", Filling: 1}))
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
	yes := TopUpApproved{WeightMg: 4_200_000, AddMg: 2_500, CureMg: 10_500}
	more := Added{CureMg: 2_500, Jar: "A7", Filling: 1}
	again := Restarted{CureMg: 2_500, NitriteMilliPPM: 156_250, Read: true}
	appended(t, s,
		of(1, ana, 1*day, asked("belly", "c1", 2*day)),
		of(1, ben, 1*day+1, approved(1, 3*day)),
		of(1, ana, 1*day+2, started()),
	)
	refused("nothing is missing", of(1, ben, 1*day+3, yes))
	appended(t, s, of(1, ana, 1*day+4, WeightCorrected{OldMg: 3_200_000, NewMg: 4_200_000, Phrase: "p", NitriteMilliPPM: 119_048, AddMg: 2_500, Why: "w"}))
	refused("added before the approval", of(1, ana, 1*day+5, more))
	refused("another amount", of(1, ben, 1*day+5, TopUpApproved{WeightMg: 4_200_000, AddMg: 9_000}))
	refused("by whoever asked", of(1, ana, 1*day+5, yes))
	appended(t, s, of(1, ben, 1*day+6, yes))
	refused("restarted with nothing added", of(1, ben, 1*day+7, again))
	appended(t, s, of(1, ana, 1*day+8, more))
	refused("read by whoever added it", of(1, ana, 1*day+9, again))
	appended(t, s, of(1, ben, 1*day+9, again))
	b := batchOf(t, s, 1)
	if b.TopUp != nil || b.Card.CureMg != 10_500 || b.Card.NitriteMilliPPM != 156_250 || b.StartedAt != 1*day+8 || b.Approval == nil || b.Approval.CureMg != 10_500 {
		t.Errorf("batch: %+v", b)
	}
	sound(t, s)
}
