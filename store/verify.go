package store

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"slices"
)

// Difference is a key at which the records are not what the events make of them.
type Difference struct {
	Bucket     string
	Key        []byte
	Have, Want []byte // nil: not there
}

func (d Difference) String() string {
	return fmt.Sprintf("%s %x: have %q, want %q", d.Bucket, d.Key, d.Have, d.Want)
}

// Verify checks the file for damage, folds every event anew into empty records, and compares
// them with those that are there, bucket by bucket. No difference and no error: all is well.
// An error: damage, an event that can't be read, or one that does not fit, a gap in their
// numbers. It needs memory for all records at once.
func (s *Store) Verify() ([]Difference, error) {
	if err := s.engine.check(); errors.Is(err, ErrStopped) {
		return nil, err
	} else if err != nil {
		return nil, &CorruptError{Path: s.path, Err: err}
	}
	var differences []Difference
	err := s.View(func(tx *Tx) error {
		want, err := refold(tx)
		if err != nil {
			return err
		}
		differences, err = compare(tx, want)
		return err
	})
	return differences, err
}

// refold folds all events into records in memory.
func refold(tx *Tx) (memory, error) {
	m := memory{}
	last := uint64(0)
	err := tx.scan(bucketEvents, nil, nil, func(k key, v []byte) (bool, error) {
		r := keyReader{rest: k}
		seq := r.num()
		if last++; r.bad || seq != last {
			return false, fmt.Errorf("%w: event %d is followed by %d", errRecord, last-1, seq)
		}
		e, err := decodeEvent(seq, v)
		if err != nil {
			return false, fmt.Errorf("event %d: %w", seq, err)
		}
		if err := m.put(bucketEvents, bytes.Clone(k), bytes.Clone(v)); err != nil { // an undo reads them
			return false, err
		}
		if err := fold(m, e); err != nil {
			return false, fmt.Errorf("event %d: %w", seq, err)
		}
		return true, nil
	})
	return m, err
}

func compare(tx *Tx, want memory) ([]Difference, error) {
	var differences []Difference
	for _, in := range foldedBuckets {
		left := maps.Clone(want[in])
		err := tx.scan(in, nil, nil, func(k key, v []byte) (bool, error) {
			w, ok := left[string(k)]
			if !ok || !bytes.Equal(v, w) {
				differences = append(differences, Difference{in.String(), bytes.Clone(k), bytes.Clone(v), w})
			}
			delete(left, string(k))
			return true, nil
		})
		if err != nil {
			return nil, err
		}
		for _, k := range slices.Sorted(maps.Keys(left)) {
			differences = append(differences, Difference{in.String(), []byte(k), nil, left[k]})
		}
	}
	return differences, nil
}

// memory is records in memory, by bucket and key.
type memory map[bucket]map[string][]byte

func (m memory) get(in bucket, k key) []byte { return m[in][string(k)] }

func (m memory) put(in bucket, k key, v []byte) error {
	if m[in] == nil {
		m[in] = map[string][]byte{}
	}
	m[in][string(k)] = v
	return nil
}

func (m memory) del(in bucket, k key) error {
	delete(m[in], string(k))
	return nil
}
