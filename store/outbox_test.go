package store

import (
	"context"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func unsent(t *testing.T, s *Store, limit int, want ...Post) {
	t.Helper()
	see(t, s, func(tx *Tx) error {
		got, err := tx.Unsent(limit)
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("unsent (-want +got):\n%s", d)
		}
		return err
	})
}

func shown(t *testing.T, s *Store, key, id string, rev uint32, sent bool) {
	t.Helper()
	see(t, s, func(tx *Tx) error {
		gotID, gotRev, gotSent, err := tx.PostedAs(key)
		if gotID != id || gotRev != rev || gotSent != sent {
			t.Errorf("%s on show: %q %d %v, want %q %d %v", key, gotID, gotRev, gotSent, id, rev, sent)
		}
		return err
	})
}

func TestOutbox(t *testing.T) {
	s := opened(t)
	queue := func(p Post) { t.Helper(); do(t, s, func(tx *Tx) error { return tx.Queue(p) }) }
	post := func(key string, rev uint32, op string) Post {
		return Post{Key: key, Revision: rev, Channel: "c", Place: []byte("there"), Card: []byte(op), Op: op, Queued: Milli(rev)}
	}
	at := func(p Post, seq uint64, tries int) Post { p.Seq, p.Tries = seq, tries; return p }
	a1, b1, a2, a3 := post("a", 1, "op1"), post("b", 1, "op2"), post("a", 2, "op3"), post("a", 3, "op4")
	queue(a1)
	queue(b1)
	unsent(t, s, 0, at(a1, 1, 0), at(b1, 2, 0))
	unsent(t, s, 1, at(a1, 1, 0))
	do(t, s, func(tx *Tx) error { return tx.PostTried("a", 1) })
	unsent(t, s, 0, at(a1, 1, 1), at(b1, 2, 0))

	// A newer revision takes the place of the unsent one, with no tries.
	queue(a2)
	unsent(t, s, 0, at(a2, 1, 0), at(b1, 2, 0))
	do(t, s, func(tx *Tx) error {
		// The sender comes back with what it held: the newer one stays.
		return errors.Join(tx.PostTried("a", 1), tx.Refused("a", 1, "gone"))
	})
	unsent(t, s, 0, at(a2, 1, 0), at(b1, 2, 0))
	do(t, s, func(tx *Tx) error { return tx.Sent("a", 1, "ts1") })
	unsent(t, s, 0, at(a2, 1, 0), at(b1, 2, 0))
	shown(t, s, "a", "ts1", 1, true)
	shown(t, s, "b", "", 0, false)

	do(t, s, func(tx *Tx) error { return tx.Sent("a", 2, "ts1") })
	unsent(t, s, 0, at(b1, 2, 0))
	shown(t, s, "a", "ts1", 2, true)

	if err := s.Update(context.Background(), func(tx *Tx) error { return tx.Queue(a1) }); !errors.Is(err, ErrStale) {
		t.Errorf("older than the sent one: got %v, want ErrStale", err)
	}
	queue(a3)
	unsent(t, s, 0, at(b1, 2, 0), at(a3, 3, 0))
	if err := s.Update(context.Background(), func(tx *Tx) error { return tx.Queue(a2) }); !errors.Is(err, ErrStale) {
		t.Errorf("older than the waiting one: got %v, want ErrStale", err)
	}

	do(t, s, func(tx *Tx) error { return tx.Refused("a", 3, "channel gone") })
	unsent(t, s, 0, at(b1, 2, 0))
	shown(t, s, "a", "ts1", 2, true)
	see(t, s, func(tx *Tx) error {
		got, err := tx.RefusedPosts(0)
		if d := cmp.Diff([]RefusedPost{{at(a3, 3, 0), "channel gone"}}, got); d != "" {
			t.Errorf("refused (-want +got):\n%s", d)
		}
		return err
	})
	// A late answer about an old revision changes nothing on show.
	do(t, s, func(tx *Tx) error { return tx.Sent("a", 1, "ts0") })
	shown(t, s, "a", "ts1", 2, true)
}

func TestQuestions(t *testing.T) {
	s := opened(t)
	ask := func(c, p string, q []byte) {
		t.Helper()
		do(t, s, func(tx *Tx) error { return tx.AskQuestion(c, p, q) })
	}
	open := func(c, p string, want []byte, ok bool) {
		t.Helper()
		see(t, s, func(tx *Tx) error {
			got, there, err := tx.OpenQuestion(c, p)
			if string(got) != string(want) || there != ok {
				t.Errorf("%s, %s: %q %v, want %q %v", c, p, got, there, want, ok)
			}
			return err
		})
	}
	open("c", ana, nil, false)
	ask("c", ana, []byte("us or imp?"))
	ask("c", "", []byte("which?"))
	ask("c", ben, nil) // none was open
	open("c", ana, []byte("us or imp?"), true)
	open("c", "", []byte("which?"), true)
	open("c", ben, nil, false)
	ask("c", ana, []byte{})
	open("c", ana, nil, true)
	ask("c", ana, nil)
	open("c", ana, nil, false)
	open("c", "", []byte("which?"), true)
}
