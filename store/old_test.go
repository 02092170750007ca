package store

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// oldFile is a file of one schema. It is written once, with -update, when that schema is new,
// and from then on it must open.
func oldFile(n int) string {
	return filepath.Join("..", "testdata", "store", fmt.Sprintf("schema%d.db", n))
}

// fill writes what the file of schema 1 holds.
func fill(t *testing.T, s *Store) {
	t.Helper()
	peopled(t, s)
	withSteps := card(1, "belly")
	withSteps.Steps = []PlannedStep{{Kind: "turn", AfterSeconds: 172_800}, {Kind: "take out", AfterSeconds: 604_800}}
	appended(t, s,
		of(1, ana, 1*day, Asked{Card: withSteps, Conversation: "c1", Place: []byte(`"there"`), Lapse: 2 * day}),
		of(1, ben, 1*day+1, approved(1, 3*day)),
		of(1, ana, 1*day+2, started(step("turn", 3*day), step("take out", 8*day))),
		of(1, "", 3*day, Reminded{Step: 0}),
		of(1, ana, 3*day+1, StepDone{Step: 0, Kind: "turn", State: StateCuring}),
		of(1, ana, 3*day+2, Held{Why: "bag leaks"}),
		of(2, ben, 4*day, asked("loin", "c2", 5*day)),
		of(2, ben, 4*day+1, Revised{Card: card(2, "ham"), Lapse: 5 * day}),
		of(3, ben, 4*day+2, asked("loin", "c2", 5*day)),
		of(3, "", 5*day, Lapsed{Why: "not approved"}),
	)
	do(t, s, func(tx *Tx) error {
		for _, id := range []string{"m1", "m2"} {
			if _, err := tx.Receive(Entry{ID: id, Conversation: "c1", Received: 1, Message: []byte("turned")}); err != nil {
				return err
			}
		}
		if err := tx.CloseEntry("m1", "done", 2); err != nil {
			return err
		}
		for _, p := range []Post{{Key: "a", Revision: 1, Card: []byte("x")}, {Key: "b", Revision: 1}} {
			if err := tx.Queue(p); err != nil {
				return err
			}
		}
		if err := tx.Sent("b", 1, "ts1"); err != nil {
			return err
		}
		return tx.AskQuestion("c1", ana, []byte("us or imp?"))
	})
}

func TestOldFile(t *testing.T) {
	if *update {
		writeOldFile(t, oldFile(schema))
	}
	for n := 1; n <= schema; n++ {
		t.Run(fmt.Sprint("schema ", n), func(t *testing.T) { oldFileOpens(t, n) })
	}
}

func oldFileOpens(t *testing.T, n int) {
	path := filepath.Join(t.TempDir(), "old.db")
	copyFile(t, oldFile(n), path)
	if n < schema {
		var old *SchemaError
		if _, err := Open(path, Options{ReadOnly: true}); !errors.As(err, &old) {
			t.Errorf("read-only: got %v, want a *SchemaError", err)
		}
	}
	s := openedAt(t, path)
	if n < schema {
		kept, err := openUnchecked(fmt.Sprintf("%s.schema%d", path, n))
		if err != nil {
			t.Fatalf("no copy was kept: %v", err)
		}
		if err := kept.Close(); err != nil {
			t.Error(err)
		}
	}
	if s.Scratch() {
		t.Error("marked as scratch")
	}
	b := batchOf(t, s, 1)
	if b.State != StateCuring || b.Card.CureMg != 8_000 || b.Card.Steps[1].AfterSeconds != 604_800 || b.Approval.By != ben || b.Next != 1 ||
		!b.Held() || string(b.Place) != `"there"` || !b.Steps[0].Done || len(b.Events) != 6 {
		t.Errorf("batch 1: %+v", b)
	}
	if b := batchOf(t, s, 2); b.State != StateAsked || b.Revision != 2 || b.Card.Cut != "ham" || len(b.Revisions) != 2 {
		t.Errorf("batch 2: %+v", b)
	}
	if b := batchOf(t, s, 3); b.State != StateLapsed || b.EndWhy != "not approved" || b.Ended != 5*day {
		t.Errorf("batch 3: %+v", b)
	}
	same(t, "due", dueUntil(t, s, 9*day, 0),
		DueEntry{5 * day, kitchen, 2, DueLapse, -1, ""}, DueEntry{8 * day, kitchen, 1, DueStep, 1, "take out"})
	if d := cmp.Diff([]uint64{2}, looked(t, s, Query{Cut: "ham", Person: ben})); d != "" {
		t.Errorf("look (-want +got):\n%s", d)
	}
	if d := cmp.Diff([]string{"m2"}, waitingIDs(t, s)); d != "" {
		t.Errorf("waiting (-want +got):\n%s", d)
	}
	unsent(t, s, 0, Post{Key: "a", Revision: 1, Card: []byte("x"), Seq: 1})
	shown(t, s, "b", "ts1", 1, true)
	see(t, s, func(tx *Tx) error {
		p, ok, err := tx.PersonOf(kitchen, "term/ben")
		if !ok || p.ID != ben || !p.Has("chef") {
			t.Errorf("person: %v %+v", ok, p)
		}
		q, ok, err2 := tx.OpenQuestion("c1", ana)
		if !ok || string(q) != "us or imp?" || err2 != nil {
			t.Errorf("question: %v %q (%v)", ok, q, err2)
		}
		return err
	})
	// It goes on from there.
	appended(t, s, of(4, ana, 6*day, asked("belly", "c1", 7*day)))
}

// writeOldFile writes the file anew, as small as it can be.
func writeOldFile(t *testing.T, path string) {
	t.Helper()
	s := opened(t)
	s.engine.db.AllocSize = 4096
	s.engine.size = 1 << 40 // so that none is kept ready
	fill(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	copyFile(t, s.path, path)
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	src, err := os.Open(from)
	if err != nil {
		t.Fatal(err)
	}
	defer src.Close()
	dst, err := os.Create(to)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.Copy(dst, src); err != nil {
		t.Fatal(err)
	}
	if err := dst.Close(); err != nil {
		t.Fatal(err)
	}
}
