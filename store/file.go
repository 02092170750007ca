package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// create makes a new file with a first content, whole or not at all.
// A file that came to be there meanwhile is left as it is.
func create(path string, first func(buckets) error) (err error) {
	dir := filepath.Dir(path)
	f, err := os.CreateTemp(dir, filepath.Base(path)+".new-*")
	if err != nil {
		return err
	}
	temp := f.Name()
	defer func() {
		if e := os.Remove(temp); err == nil && e != nil && !errors.Is(e, fs.ErrNotExist) {
			err = e
		}
	}()
	if err := f.Close(); err != nil {
		return err
	}
	if err := makeBolt(temp, first); err != nil {
		return err
	}
	if err := syncFile(temp); err != nil {
		return err
	}
	// A link does not replace a file that another process has made and opened meanwhile.
	if err := os.Link(temp, path); err != nil && !errors.Is(err, fs.ErrExist) {
		if err := os.Rename(temp, path); err != nil { // a file system without links
			return err
		}
	}
	return syncFile(dir)
}

// nameless is an empty file that is gone once it is closed, near another where that can be.
func nameless(near string) (*engine, error) {
	f, err := os.CreateTemp(filepath.Dir(near), filepath.Base(near)+".anew-*")
	if err != nil {
		f, err = os.CreateTemp("", "")
	}
	if err != nil {
		return nil, err
	}
	e, err := newEngine(f.Name())
	return e, errors.Join(err, f.Close(), os.Remove(f.Name()))
}

// replaced tells whether another file has come to the path meanwhile: whoever held the lock has
// upgraded it, and kept this one under another name.
func (e *engine) replaced(path string) bool {
	ours, err := e.file.Stat()
	if err != nil {
		return false
	}
	there, err := os.Stat(path)
	return err == nil && !os.SameFile(ours, there)
}

func syncFile(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	err = f.Sync()
	if e := f.Close(); err == nil {
		err = e
	}
	return err
}
