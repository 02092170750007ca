package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
)

// upgrade brings a file of an older schema to this one: a new file is made beside it, in which
// the records are folded anew from the events, and takes its place in one step. The file as it
// was is kept, "salthand.db.schema1". Killed in the midst, the old file is as it was, and the
// next opening begins anew.
func (s *Store) upgrade() error {
	if s.schema == schema {
		return nil
	}
	path := s.path + ".upgrade"
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) { // of one that was killed
		return err
	}
	anew, err := newEngine(path)
	if err != nil {
		return err
	}
	if err := s.moveTo(anew, path); err != nil {
		return errors.Join(err, anew.close(), os.Remove(path))
	}
	old := s.engine
	s.engine, s.schema = anew, schema
	return old.close()
}

// moveTo fills the new file and puts it where the old one was.
func (s *Store) moveTo(anew *engine, path string) error {
	err := s.engine.view(func(b buckets) error {
		if err := copyBuckets(b, anew, notFolded()); err != nil {
			return err
		}
		if err := refold(&Tx{b}, anew); err != nil {
			return &CorruptError{Path: s.path, Err: err}
		}
		return nil
	})
	if err != nil {
		return err
	}
	c, err := anew.begin()
	if err != nil {
		return err
	}
	if err := writeMeta(c, s.scratch); err != nil {
		return errors.Join(err, c.rollback())
	}
	if err := errors.Join(c.commit(), anew.settle()); err != nil {
		return err
	}
	if err := s.keepOld(); err != nil {
		return err
	}
	if err := os.Rename(path, s.path); err != nil {
		return err
	}
	return syncFile(filepath.Dir(s.path))
}

// notFolded are the buckets that the fold does not make, in their order in the file.
func notFolded() []bucket {
	in := slices.Sorted(maps.Keys(names))
	return slices.DeleteFunc(in, func(b bucket) bool { return slices.Contains(foldedBuckets, b) })
}

// copyBuckets copies buckets as they are.
func copyBuckets(from buckets, into *engine, which []bucket) error {
	c, err := into.begin()
	if err != nil {
		return err
	}
	defer func() { _ = c.rollback() }() // does nothing after the last commit
	n := 0
	for _, in := range which {
		err := from.scan(in, nil, nil, func(k key, v []byte) (bool, error) {
			if n++; n%foldShare == 0 {
				if err := c.again(); err != nil {
					return false, err
				}
			}
			return true, c.put(in, k, v)
		})
		if err != nil {
			return err
		}
	}
	return c.commit()
}

// keepOld gives the file as it is a second name, under which it stays. A copy of another that
// is there is kept too.
func (s *Store) keepOld() error {
	now, err := os.Stat(s.path)
	if err != nil {
		return err
	}
	for n := 1; ; n++ {
		to := fmt.Sprintf("%s.schema%d", s.path, s.schema)
		if n > 1 {
			to = fmt.Sprint(to, "-", n)
		}
		switch was, err := os.Stat(to); {
		case err == nil && os.SameFile(was, now): // of an upgrade that was killed
			return nil
		case err == nil:
			continue
		case !errors.Is(err, fs.ErrNotExist):
			return err
		}
		if os.Link(s.path, to) != nil { // a file system without links
			return copyWhole(s.path, to)
		}
		return nil
	}
}

// copyWhole copies a file, whole or not at all.
func copyWhole(path, to string) (err error) {
	from, err := os.Open(path)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, from.Close()) }()
	f, err := os.CreateTemp(filepath.Dir(to), filepath.Base(to)+".new-*")
	if err != nil {
		return err
	}
	_, err = io.Copy(f, from)
	if err = errors.Join(err, f.Sync(), f.Close()); err == nil {
		err = os.Rename(f.Name(), to)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return nil
}
