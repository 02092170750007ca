package store

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"pgregory.net/rapid"
)

func (m *model) message(t *rapid.T, s *Store) {
	id := fmt.Sprint("m", rapid.IntRange(0, 8).Draw(t, "message"))
	i := slices.IndexFunc(m.inbox, func(e Entry) bool { return e.ID == id })
	if rapid.Bool().Draw(t, "receive") {
		err := s.Update(context.Background(), func(tx *Tx) error {
			fresh, err := tx.Receive(Entry{ID: id, Message: []byte(id)})
			if fresh != (i < 0) {
				return fmt.Errorf("fresh %v", fresh)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		if i < 0 {
			m.inbox = append(m.inbox, Entry{ID: id, Message: []byte(id)})
		}
		return
	}
	err := s.Update(context.Background(), func(tx *Tx) error { return tx.CloseEntry(id, "done", m.now) })
	if open := i >= 0 && m.inbox[i].Outcome == ""; open != (err == nil) || !open && !errors.Is(err, ErrClosed) {
		t.Fatalf("closing %s: %v", id, err)
	} else if open {
		m.inbox[i].Outcome = "done"
	}
}

func (m *model) post(t *rapid.T, s *Store) {
	k := rapid.SampledFrom([]string{"x", "y"}).Draw(t, "post")
	rev := uint32(rapid.IntRange(1, 6).Draw(t, "rev"))
	i := slices.IndexFunc(m.queue, func(p Post) bool { return p.Key == k })
	if rapid.Bool().Draw(t, "queue") {
		err := s.Update(context.Background(), func(tx *Tx) error { return tx.Queue(Post{Key: k, Revision: rev}) })
		stale := rev < m.shown[k] || i >= 0 && rev < m.queue[i].Revision
		switch {
		case stale != errors.Is(err, ErrStale) || !stale && err != nil:
			t.Fatalf("queue %s %d: %v", k, rev, err)
		case stale:
		case i >= 0:
			m.queue[i].Revision = rev
		default:
			m.nextSeq++
			m.queue = append(m.queue, Post{Key: k, Revision: rev, Seq: m.nextSeq})
		}
		return
	}
	if i < 0 || m.queue[i].Revision < rev { // only what was queued is sent
		return
	}
	if err := s.Update(context.Background(), func(tx *Tx) error { return tx.Sent(k, rev, "ts") }); err != nil {
		t.Fatal(err)
	}
	m.shown[k] = max(m.shown[k], rev)
	if m.queue[i].Revision == rev {
		m.queue = slices.Delete(m.queue, i, i+1)
	}
}
