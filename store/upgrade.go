package store

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
)

// upgrade brings a file of an older schema to this one, in one commit: the records are folded
// anew from the events. The file as it was is kept beside it, "salthand.db.schema1".
func (s *Store) upgrade() error {
	if s.schema == schema {
		return nil
	}
	if err := s.keepCopy(fmt.Sprintf("%s.schema%d", s.path, s.schema)); err != nil {
		return err
	}
	c, err := s.engine.begin()
	if err != nil {
		return err
	}
	defer c.rollback() // does nothing after the commit
	want, err := refold(&Tx{c})
	if err != nil {
		return &CorruptError{Path: s.path, Err: err}
	}
	if err := replaceFolded(c, want); err != nil {
		return err
	}
	if err := writeMeta(c, s.scratch); err != nil {
		return err
	}
	if err := c.commit(); err != nil {
		return err
	}
	s.schema = schema
	return nil
}

// keepCopy copies the whole file, unless such a copy is there.
func (s *Store) keepCopy(to string) error {
	return create(to, func(copied buckets) error {
		return s.engine.view(func(b buckets) error {
			for in := range names {
				err := b.scan(in, nil, nil, func(k key, v []byte) (bool, error) { return true, copied.put(in, k, bytes.Clone(v)) })
				if err != nil {
					return err
				}
			}
			return nil
		})
	})
}

// replaceFolded writes records that were folded anew in place of those that are there.
func replaceFolded(b buckets, want memory) error {
	for _, in := range foldedBuckets {
		var gone []key
		err := b.scan(in, nil, nil, func(k key, _ []byte) (bool, error) {
			if _, stays := want[in][string(k)]; !stays {
				gone = append(gone, slices.Clone(k))
			}
			return true, nil
		})
		if err != nil {
			return err
		}
		for _, k := range gone {
			if err := b.del(in, k); err != nil {
				return err
			}
		}
		for _, k := range slices.Sorted(maps.Keys(want[in])) {
			if err := b.put(in, key(k), want[in][k]); err != nil {
				return err
			}
		}
	}
	return nil
}
