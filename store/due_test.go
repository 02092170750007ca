package store

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func dueUntil(t *testing.T, s *Store, at Milli, limit int) (due []DueEntry) {
	t.Helper()
	see(t, s, func(tx *Tx) (err error) { due, err = tx.DueUntil(at, limit); return err })
	return due
}

func dueIn(t *testing.T, s *Store, from, to Milli) (due []DueEntry) {
	t.Helper()
	see(t, s, func(tx *Tx) (err error) { due, err = tx.DueIn(kitchen, from, to, 0); return err })
	return due
}

func same(t *testing.T, what string, got []DueEntry, want ...DueEntry) {
	t.Helper()
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("%s (-want +got):\n%s", what, d)
	}
}

func TestDue(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	lapse := func(batch uint64, at Milli) DueEntry { return DueEntry{at, kitchen, batch, DueLapse, -1, ""} }
	stepDue := func(batch uint64, at Milli, i int, kind string) DueEntry {
		return DueEntry{at, kitchen, batch, DueStep, i, kind}
	}
	for n, at := range []Milli{3 * day, day, 2 * day, 0} {
		appended(t, s, of(uint64(n+1), ana, 10, asked("belly", "c", at)))
	}
	same(t, "lapses, the earliest first", dueUntil(t, s, 9*day, 0), lapse(2, day), lapse(3, 2*day), lapse(1, 3*day))
	same(t, "until an instant, itself included", dueUntil(t, s, 2*day, 0), lapse(2, day), lapse(3, 2*day))
	same(t, "the first", dueUntil(t, s, 9*day, 1), lapse(2, day))
	same(t, "in a span, its end not included", dueIn(t, s, day, 3*day), lapse(2, day), lapse(3, 2*day))

	appended(t, s, of(2, ben, 20, approved(1, 5*day)), of(3, ben, 20, Lapsed{Why: "never mind"}))
	same(t, "approved and ended", dueUntil(t, s, 9*day, 0), lapse(1, 3*day), lapse(2, 5*day))

	appended(t, s, of(2, ana, 30, started(step("turn", 2*day), step("turn", 4*day), step("take out", 7*day))))
	same(t, "the next step alone", dueUntil(t, s, 9*day, 0), stepDue(2, 2*day, 0, "turn"), lapse(1, 3*day))

	appended(t, s, of(2, "", 2*day, Reminded{Step: 0}))
	same(t, "reminded: the one after it", dueUntil(t, s, 9*day, 0), lapse(1, 3*day), stepDue(2, 4*day, 1, "turn"))
	same(t, "reminded: still on show, and what is to come", dueIn(t, s, 0, 9*day),
		stepDue(2, 2*day, 0, "turn"), lapse(1, 3*day), stepDue(2, 4*day, 1, "turn"), stepDue(2, 7*day, 2, "take out"))

	appended(t, s, of(2, ana, 2*day+1, StepMoved{Step: 0, To: step("turn", 2*day+2*hour), Why: "snooze"}))
	same(t, "put off: due again", dueUntil(t, s, 9*day, 0), stepDue(2, 2*day+2*hour, 0, "turn"), lapse(1, 3*day))

	appended(t, s, of(2, ana, 2*day+3*hour, StepDone{Step: 0, Kind: "turn", State: StateCuring}))
	same(t, "done: the next", dueUntil(t, s, 9*day, 0), lapse(1, 3*day), stepDue(2, 4*day, 1, "turn"))

	appended(t, s, of(2, ana, 3*day, StepMoved{Step: -1, To: step("rinse", 3*day+hour), Why: "remind"}))
	same(t, "a new one before the others", dueUntil(t, s, 9*day, 0), lapse(1, 3*day), stepDue(2, 3*day+hour, 3, "rinse"))
	if b := batchOf(t, s, 2); b.Next != 3 {
		t.Errorf("next is step %d, want 3", b.Next)
	}
	appended(t, s, of(2, ben, 3*day, Held{Why: "smells"}))
	same(t, "held: turned and kept cold meanwhile", dueUntil(t, s, 9*day, 0), lapse(1, 3*day), stepDue(2, 3*day+hour, 3, "rinse"))
	appended(t, s, of(2, ben, 3*day+2*hour, Discarded{Why: "smells"}), of(1, "", 3*day, Lapsed{Why: "not approved"}))
	same(t, "ended", dueUntil(t, s, 9*day, 0))
	same(t, "ended", dueIn(t, s, 0, 9*day))
}

func TestBatchesIn(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	for n, c := range []string{"c", "c/1", "c", "c"} {
		appended(t, s, of(uint64(n+1), ana, 10, asked("belly", c, 0)))
	}
	appended(t, s, of(3, ana, 20, Lapsed{Why: "never mind"}))
	see(t, s, func(tx *Tx) error {
		open, all, err := tx.BatchesIn("c")
		if d := cmp.Diff([][]uint64{{1, 4}, {1, 3, 4}}, [][]uint64{open, all}); d != "" {
			t.Errorf("open, all (-want +got):\n%s", d)
		}
		e, ok, err2 := tx.LastEvent()
		if !ok || e.Batch != 3 || e.Kind() != "lapsed" {
			t.Errorf("last event: %v %+v (%v)", ok, e, err2)
		}
		return err
	})
}

func TestAlarms(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	appended(t, s, of(1, ana, 10, asked("belly", "c", 5*day)))
	appended(t, s, of(1, "", 20, AlarmSet{"approval", day}), of(1, "", 20, AlarmSet{"weighing", 5 * day}))
	ofKitchen := func(at Milli) Event { e := of(0, "", 20, KitchenAlarmSet{"digest", at}); return e }
	appended(t, s, ofKitchen(2*day))
	approval, weighing, lapse := DueEntry{day, kitchen, 1, "approval", -1, ""}, DueEntry{5 * day, kitchen, 1, "weighing", -1, ""}, DueEntry{5 * day, kitchen, 1, DueLapse, -1, ""}
	digest := func(at Milli) DueEntry { return DueEntry{at, kitchen, 0, "digest", -1, ""} }
	same(t, "set, beside the lapse", dueUntil(t, s, 9*day, 0), approval, digest(2*day), lapse, weighing)
	same(t, "not for show", dueIn(t, s, 0, 9*day), lapse)
	appended(t, s, of(1, "", day, AlarmSet{What: "approval"}), ofKitchen(3*day))
	same(t, "cleared, and moved", dueUntil(t, s, 9*day, 0), digest(3*day), lapse, weighing)
	appended(t, s, ofKitchen(0), of(1, ana, day, Lapsed{Why: "never mind"}))
	same(t, "gone with the batch", dueUntil(t, s, 9*day, 0))
}
