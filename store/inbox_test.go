package store

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestInbox(t *testing.T) {
	s := opened(t)
	for i, id := range []string{"m1", "m2", "m1", "m3"} {
		do(t, s, func(tx *Tx) error {
			fresh, err := tx.Receive(Entry{ID: id, Conversation: "c", Received: Milli(i), Message: []byte{byte(i), 0, 0xff}})
			if want := i != 2; fresh != want {
				t.Errorf("%s: fresh %v, want %v", id, fresh, want)
			}
			return err
		})
	}
	wait := func(limit int, want ...Entry) {
		t.Helper()
		see(t, s, func(tx *Tx) error {
			got, err := tx.Waiting(limit)
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("waiting (-want +got):\n%s", d)
			}
			return err
		})
	}
	m1 := Entry{ID: "m1", Seq: 1, Conversation: "c", Received: 0, Message: []byte{0, 0, 0xff}}
	m2 := Entry{ID: "m2", Seq: 2, Conversation: "c", Received: 1, Message: []byte{1, 0, 0xff}}
	m3 := Entry{ID: "m3", Seq: 3, Conversation: "c", Received: 3, Message: []byte{3, 0, 0xff}}
	wait(0, m1, m2, m3)
	wait(2, m1, m2)

	for want := 1; want <= 3; want++ {
		do(t, s, func(tx *Tx) error {
			got, err := tx.Tried("m2")
			if got != want {
				t.Errorf("%d tries, want %d", got, want)
			}
			return err
		})
	}
	do(t, s, func(tx *Tx) error {
		return errors.Join(tx.CloseEntry("m2", "failed", 10*day), tx.CloseEntry("m1", "done", 11*day))
	})
	wait(0, m3)
	see(t, s, func(tx *Tx) error {
		failed, _, err := tx.Entry("m2")
		want := m2
		want.Tries, want.Outcome, want.Closed = 3, "failed", 10*day
		if d := cmp.Diff(want, failed); d != "" {
			t.Errorf("failed (-want +got):\n%s", d)
		}
		done, _, err2 := tx.Entry("m1")
		if d := cmp.Diff(Entry{ID: "m1", Seq: 1, Conversation: "c", Outcome: "done", Closed: 11 * day}, done); d != "" {
			t.Errorf("done (-want +got):\n%s", d)
		}
		return errors.Join(err, err2)
	})
	for name, fn := range map[string]func(*Tx) error{
		"closed twice":  func(tx *Tx) error { return tx.CloseEntry("m1", "done", 12*day) },
		"never there":   func(tx *Tx) error { return tx.CloseEntry("m9", "done", 12*day) },
		"tried, closed": func(tx *Tx) error { _, err := tx.Tried("m2"); return err },
	} {
		if err := s.Update(context.Background(), fn); !errors.Is(err, ErrClosed) {
			t.Errorf("%s: got %v, want ErrClosed", name, err)
		}
	}
	do(t, s, func(tx *Tx) error {
		fresh, err := tx.Receive(Entry{ID: "m1"})
		if fresh {
			t.Error("fresh again once closed")
		}
		return err
	})
	if err := s.Update(context.Background(), func(tx *Tx) error { _, err := tx.Receive(Entry{}); return err }); !errors.Is(err, ErrKey) {
		t.Errorf("no id: got %v, want ErrKey", err)
	}
}

func TestForget(t *testing.T) {
	s := opened(t)
	do(t, s, func(tx *Tx) error {
		for i := range 10 {
			id := fmt.Sprint("m", i)
			if _, err := tx.Receive(Entry{ID: id}); err != nil {
				return err
			}
			outcome := "done"
			if i == 3 {
				outcome = OutcomeFailed
			}
			if i < 8 {
				if err := tx.CloseEntry(id, outcome, Milli(i)*day); err != nil {
					return err
				}
			}
		}
		return nil
	})
	forget := func(before Milli, limit, want int) {
		t.Helper()
		do(t, s, func(tx *Tx) error {
			n, err := tx.Forget(before, limit)
			if n != want {
				t.Errorf("forgot %d before %d, want %d", n, before, want)
			}
			return err
		})
	}
	forget(0, 0, 0)
	forget(5*day, 3, 3) // 0, 1, 2
	forget(5*day, 0, 1) // 4; 3 failed, 5 was closed at that instant
	see(t, s, func(tx *Tx) error {
		for i, want := range []bool{false, false, false, true, false, true, true, true, true, true} {
			_, got, err := tx.Entry(fmt.Sprint("m", i))
			if got != want || err != nil {
				t.Errorf("m%d: known %v (%v), want %v", i, got, err, want)
			}
		}
		return nil
	})
}
