package store

import (
	"context"
	"errors"
	"testing"
)

// What is put right counts as it should have been from the beginning, the entry stays, and what
// the events make of the records anew is the same.
func TestCorrected(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	ph := func(v int64) Measured { return Measured{What: PHReading, Value: v} }
	turned := StepDone{Step: 0, Kind: "turn", State: StateCuring}
	appended(t, s,
		of(1, ana, 1*day, asked("belly", "c1", 2*day)),
		of(1, ben, 1*day+1, approved(1, 3*day)),
		of(1, ana, 1*day+2, started(step("turn", 3*day), step("take out", 8*day))),
		of(1, ana, 3*day, turned),
		of(1, ana, 4*day, ph(5_400)),
		of(1, ana, 5*day, ph(5_200)),
		of(1, ana, 5*day, MeatLot{Lot: "1123"}),
	)
	first := batchOf(t, s, 1).Events
	done, early, late, lot := first[3], first[4], first[5], first[6]
	wrong := func(entry uint64, was, now Noted) Corrected {
		return Corrected{Entry: entry, Old: was, New: now, Why: "misread"}
	}
	for name, e := range map[string]Event{
		"not its":            of(1, ana, 6*day, wrong(1, Noted{ph(5_400), 4 * day}, Noted{ph(5_100), 4 * day})),
		"not as it was":      of(1, ana, 6*day, wrong(early, Noted{ph(5_300), 4 * day}, Noted{ph(5_100), 4 * day})),
		"of another kind":    of(1, ana, 6*day, wrong(early, Noted{ph(5_400), 4 * day}, Noted{MeatLot{Lot: "9"}, 4 * day})),
		"of another reading": of(1, ana, 6*day, wrong(early, Noted{ph(5_400), 4 * day}, Noted{Measured{What: AwReading, Value: 900}, 4 * day})),
		"of nobody":          of(1, "", 6*day, wrong(early, Noted{ph(5_400), 4 * day}, Noted{ph(5_100), 4 * day})),
		"the start":          of(1, ana, 6*day, wrong(first[2], Noted{started(), 1*day + 2}, Noted{started(), 1 * day})),
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
	appended(t, s,
		of(1, ben, 6*day, wrong(early, Noted{ph(5_400), 4 * day}, Noted{ph(5_100), 4 * day})),
		of(1, ben, 6*day, wrong(early, Noted{ph(5_100), 4 * day}, Noted{ph(5_000), 4 * day})),
		of(1, ben, 6*day, wrong(done, Noted{turned, 3 * day}, Noted{turned, 2 * day})),
		of(1, ben, 6*day, wrong(lot, Noted{MeatLot{Lot: "1123"}, 5 * day}, Noted{MeatLot{Lot: "1124"}, 5 * day})),
		of(1, ana, 6*day, Undone{Events: []uint64{late}}),
	)
	b := batchOf(t, s, 1)
	readings := b.ReadingsOf(PHReading)
	if len(readings) != 1 || readings[0].Value != 5_000 || readings[0].Event != early || readings[0].By != ana {
		t.Errorf("readings: %+v", readings)
	}
	if b.Steps[0].DoneAt != 2*day || b.Meat[0].Lot != "1124" || len(b.Events) != 12 || b.CorrectedBy(early) != b.Events[8] || b.CorrectedBy(late) != 0 {
		t.Errorf("batch: %+v", b)
	}
	see(t, s, func(tx *Tx) error {
		events, err := tx.Events(kitchen, 1)
		if err != nil {
			return err
		}
		if m, ok := events[4].Body.(Measured); !ok || m.Value != 5_400 {
			t.Errorf("the entry itself changed: %+v", events[4])
		}
		now, err := tx.Valid(b, events[4])
		if m, ok := now.Body.(Measured); !ok || m.Value != 5_000 {
			t.Errorf("counts as %+v", now)
		}
		return err
	})
	sound(t, s)
}

// A second reading of a weighing that was corrected counts no more, and an approval that the
// correction touched is void.
func TestWeighingCorrected(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	appended(t, s, of(0, ana, hour, JarFilled{Jar: "A7", Filling: 1}))
	w := Weighed{Revision: 1, CureMg: 8_000, Jar: "A7", Filling: 1}
	less := w
	less.CureMg = 6_000
	appended(t, s,
		of(1, ana, 1*day, asked("belly", "c1", 2*day)),
		of(1, ben, 1*day+1, approved(1, 3*day)),
		of(1, ana, 1*day+2, w),
		of(1, ben, 1*day+3, Checked{CureMg: 8_000, Jar: "A7", Filling: 1}),
		of(1, ana, 1*day+4, started()),
	)
	entry := batchOf(t, s, 1).Events[2]
	appended(t, s, of(1, ana, 2*day, Corrected{Entry: entry, Old: Noted{w, 1*day + 2}, New: Noted{less, 1*day + 2}, Void: true, NitriteMilliPPM: 117_188, Why: "typed wrong"}))
	b := batchOf(t, s, 1)
	if b.State != StateCuring || b.Weighing.CureMg != 6_000 || b.Check != nil || b.Approval != nil || b.Card.NitriteMilliPPM != 117_188 {
		t.Errorf("batch: %+v", b)
	}
	sound(t, s)
}

// A corrected temperature of a place is its last one, where the one that was wrong was.
func TestPlaceCorrected(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	appended(t, s,
		of(0, ana, 1*day, PlaceNamed{Name: "walk-in 2"}),
		of(0, ana, 2*day, PlaceRead{Place: "walk-in 2", MilliC: 31_000, Unit: "c"}),
	)
	entry := uint64(0)
	see(t, s, func(tx *Tx) error {
		e, _, err := tx.LastEvent()
		entry = e.Seq
		return err
	})
	err := s.Update(context.Background(), func(tx *Tx) error {
		_, err := tx.Append(of(0, ana, 2*day, PlaceCorrected{Entry: entry - 1, Place: "walk-in 2", OldMilliC: 31_000, NewMilliC: 3_100, Unit: "c", Why: "w"}))
		return err
	})
	var misfit *FoldError
	if !errors.As(err, &misfit) {
		t.Errorf("of no reading: got %v, want a misfit", err)
	}
	appended(t, s, of(0, ben, 2*day+1, PlaceCorrected{Entry: entry, Place: "walk-in 2", OldMilliC: 31_000, NewMilliC: 3_100, Unit: "c", Why: "missed the dot"}))
	see(t, s, func(tx *Tx) error {
		p, _, err := tx.Place(kitchen, "walk-in 2")
		if p.Last == nil || p.Last.MilliC != 3_100 || p.Last.By != ana {
			t.Errorf("place: %+v", p.Last)
		}
		return err
	})
	sound(t, s)
}
