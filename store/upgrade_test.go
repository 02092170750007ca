package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// openOnce is the child of TestUpgradeKilled.
func openOnce(path string) {
	s, err := Open(path, Options{})
	if err == nil {
		err = s.Close()
	}
	if err != nil {
		fmt.Println("error", err)
	}
}

// older gives a file the number of the schema before, so that it is folded anew when it is
// opened.
func older(t *testing.T, path string) {
	t.Helper()
	s, err := Open(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	do(t, s, func(tx *Tx) error {
		return tx.put(bucketMeta, metaSchema, binary.BigEndian.AppendUint32(nil, schema-1))
	})
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// TestUpgradeKilled kills a process that upgrades a file, earlier and later: the file is the old
// one or the new one, whole, and nothing that was noted is gone.
func TestUpgradeKilled(t *testing.T) {
	rounds := 4
	if *long {
		rounds = 60
	}
	path := filepath.Join(t.TempDir(), "kitchen.db")
	s, err := Open(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	fillYears(t, s, 800)
	do(t, s, func(tx *Tx) error {
		_, err := tx.Receive(Entry{ID: "m1", Conversation: "c1", Message: []byte("turned")})
		return err
	})
	want := uint64(0)
	see(t, s, func(tx *Tx) error { want = tx.last(bucketEvents); return nil })
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	older(t, path)
	old, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	killed := 0
	for round := range rounds {
		child := exec.Command(os.Args[0])
		child.Env = append(os.Environ(), childEnv+"="+path, childEnv+"_DOES=upgrade")
		if err := child.Start(); err != nil {
			t.Fatal(err)
		}
		ended := make(chan struct{})
		go func() { _ = child.Wait(); close(ended) }() // killed, or through with it
		for watching := true; watching; {
			select {
			case <-ended:
				watching = false
			default:
				if made, err := os.Stat(path + ".upgrade"); err == nil && made.Size() >= old.Size()*int64(round)/int64(rounds) {
					if err := child.Process.Kill(); err != nil && !errors.Is(err, os.ErrProcessDone) {
						t.Fatal(err)
					}
					<-ended
					watching = false
				}
			}
		}
		kept, err := openUnchecked(path)
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		see(t, kept, func(tx *Tx) error {
			if n := binary.BigEndian.Uint32(tx.get(bucketMeta, metaSchema)); n < schema {
				killed++
			}
			if n := tx.last(bucketEvents); n != want {
				t.Errorf("round %d: %d events, want %d", round, n, want)
			}
			return nil
		})
		if err := kept.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if killed == 0 {
		t.Error("no child was killed before it was through")
	}
	again := openedAt(t, path) // and is compared with its events at the end
	see(t, again, func(tx *Tx) error {
		if n := tx.last(bucketEvents); n != want {
			t.Errorf("%d events, want %d", n, want)
		}
		if _, ok, err := tx.Entry("m1"); !ok || err != nil {
			t.Errorf("the message that waits: %v %v", ok, err)
		}
		return nil
	})
	if _, err := os.Stat(path + ".upgrade"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("left behind: %v", err)
	}
	kept, err := openUnchecked(fmt.Sprintf("%s.schema%d", path, schema-1))
	if err != nil {
		t.Fatalf("no copy was kept: %v", err)
	}
	see(t, kept, func(tx *Tx) error {
		if n := tx.last(bucketEvents); n != want {
			t.Errorf("the copy has %d events, want %d", n, want)
		}
		return nil
	})
	if err := kept.Close(); err != nil {
		t.Error(err)
	}
}

// TestUpgradeKeepsEachCopy: a file of an older schema that was put back is kept under a name of
// its own when it is upgraded once more.
func TestUpgradeKeepsEachCopy(t *testing.T) {
	path := filepath.Join(t.TempDir(), "kitchen.db")
	for n := uint64(1); n <= 2; n++ {
		s, err := Open(path, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if n == 1 {
			peopled(t, s)
		}
		appended(t, s, of(n, ana, Milli(n)*day, asked("belly", "c1", 0)))
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		older(t, path)
	}
	// As if one was killed once the old file had its second name.
	if err := os.Link(path, fmt.Sprintf("%s.schema%d-2", path, schema-1)); err != nil {
		t.Fatal(err)
	}
	openedAt(t, path)
	if _, err := os.Stat(fmt.Sprintf("%s.schema%d-3", path, schema-1)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("kept once more: %v", err)
	}
	for name, want := range map[string]uint64{"": 5, "-2": 6} {
		kept, err := openUnchecked(fmt.Sprintf("%s.schema%d%s", path, schema-1, name))
		if err != nil {
			t.Fatal(err)
		}
		see(t, kept, func(tx *Tx) error {
			if n := tx.last(bucketEvents); n != want {
				t.Errorf("copy %q has %d events, want %d", name, n, want)
			}
			return nil
		})
		if err := kept.Close(); err != nil {
			t.Error(err)
		}
	}
}

// TestReplacedMeanwhile: a file that was put in the place of the one that was opened is the one
// that counts.
func TestReplacedMeanwhile(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	if s.engine.replaced(s.path) {
		t.Error("replaced by itself")
	}
	other := filepath.Join(t.TempDir(), "other.db")
	if err := os.WriteFile(other, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	if !s.engine.replaced(other) {
		t.Error("another file is there, and was not seen")
	}
}
