package store

import (
	"fmt"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"
)

// TestOperations runs many random operations in one store after the other, a million in all
// where it is long, then compares all that can be asked for with the model, before and after it
// is opened anew, and the records with the events.
func TestOperations(t *testing.T) {
	each := 100 // of a hundred stores
	if *long {
		each = 10_000
	}
	runs, took := 0, map[string]int{}
	rapid.Check(t, func(r *rapid.T) {
		runs++
		path := filepath.Join(t.TempDir(), fmt.Sprint(runs, ".db"))
		s, err := Open(path, Options{})
		if err != nil {
			r.Fatal(err)
		}
		defer func() { _ = s.Close() }()
		s.engine.db.NoSync = *long
		peopled(t, s)
		m := newModel()
		for range each {
			switch rapid.IntRange(0, 11).Draw(r, "operation") {
			case 0:
				m.undo(r, s)
			case 1:
				m.person(r, s)
			case 2:
				m.jar(r, s)
			case 3:
				m.recipe(r, s)
			case 4:
				m.message(r, s)
			case 5:
				m.post(r, s)
			case 6:
				m.code(r, s)
			default:
				m.happen(r, s)
			}
		}
		m.compare(r, s)
		if err := s.Close(); err != nil {
			r.Fatal(err)
		}
		if s, err = Open(path, Options{}); err != nil {
			r.Fatal(err)
		}
		m.compare(r, s)
		if d, err := s.Verify(); err != nil || len(d) > 0 {
			r.Fatalf("verify: %v %v", d, err)
		}
		see(t, s, func(tx *Tx) error {
			return tx.scan(bucketEvents, nil, nil, func(_ key, v []byte) (bool, error) {
				e, err := decodeEvent(1, v)
				took[e.Kind()]++
				return true, err
			})
		})
	})
	t.Logf("%d operations in each of %d stores; events that were taken: %v", each, runs, took)
}
