package store

import (
	"bytes"
	"errors"
	"fmt"
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

// mostDifferences is where Verify stops looking for more.
const mostDifferences = 1000

// Verify checks the file for damage, folds every event anew into empty records, and compares
// them with those that are there, bucket by bucket. No difference and no error: all is well.
// An error: damage, an event that can't be read, or one that does not fit, a gap in their
// numbers. The records folded anew are in a file without a name, beside the store where that
// can be written, for as long as it runs: it needs room for them on the disk, and little memory.
func (s *Store) Verify() ([]Difference, error) {
	if err := s.engine.check(); errors.Is(err, ErrStopped) {
		return nil, err
	} else if err != nil {
		return nil, &CorruptError{Path: s.path, Err: err}
	}
	anew, err := nameless(s.path)
	if err != nil {
		return nil, fmt.Errorf("store: room to fold the events anew: %w", err)
	}
	var differences []Difference
	err = s.View(func(tx *Tx) error {
		if err := refold(tx, anew); err != nil {
			return err
		}
		return anew.view(func(want buckets) error {
			differences = compare(tx, want)
			return nil
		})
	})
	return differences, errors.Join(err, anew.close())
}

// foldShare is how many events, or keys, a commit of a file made anew has: what is not written
// yet is in memory.
const foldShare = 1000

// refold folds all events into the records of another file.
func refold(tx *Tx, into *engine) error {
	c, err := into.begin()
	if err != nil {
		return err
	}
	defer func() { _ = c.rollback() }() // does nothing after the last commit
	last := uint64(0)
	err = tx.scan(bucketEvents, nil, nil, func(k key, v []byte) (bool, error) {
		r := keyReader{rest: k}
		seq := r.num()
		if last++; r.bad || seq != last {
			return false, fmt.Errorf("%w: event %d is followed by %d", errRecord, last-1, seq)
		}
		e, err := decodeEvent(seq, v)
		if err != nil {
			return false, fmt.Errorf("event %d: %w", seq, err)
		}
		if err := fold(refolded{c, tx}, e); err != nil {
			return false, fmt.Errorf("event %d: %w", seq, err)
		}
		if seq%foldShare == 0 {
			err = c.again()
		}
		return true, err
	})
	if err != nil {
		return err
	}
	return c.commit()
}

// refolded is records folded anew from events that are elsewhere.
type refolded struct {
	records
	events reader
}

func (r refolded) get(in bucket, k key) []byte {
	if in == bucketEvents { // an undo reads them
		return r.events.get(in, k)
	}
	return r.records.get(in, k)
}

// compare walks both through each bucket that is folded, side by side.
func compare(have, want buckets) (differences []Difference) {
	for _, in := range foldedBuckets {
		h, w := have.cursor(in), want.cursor(in)
		hk, hv := h.seek(nil)
		wk, wv := w.seek(nil)
		for (hk != nil || wk != nil) && len(differences) < mostDifferences {
			order := bytes.Compare(hk, wk)
			if wk == nil {
				order = -1
			} else if hk == nil {
				order = 1
			}
			switch {
			case order < 0:
				differences = append(differences, Difference{in.String(), bytes.Clone(hk), bytes.Clone(hv), nil})
			case order > 0:
				differences = append(differences, Difference{in.String(), bytes.Clone(wk), nil, bytes.Clone(wv)})
			case !bytes.Equal(hv, wv):
				differences = append(differences, Difference{in.String(), bytes.Clone(hk), bytes.Clone(hv), bytes.Clone(wv)})
			}
			if order <= 0 {
				hk, hv = h.next()
			}
			if order >= 0 {
				wk, wv = w.next()
			}
		}
	}
	return differences
}
