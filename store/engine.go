package store

import (
	"bytes"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"runtime/debug"
	"sync/atomic"
	"syscall"
	"time"

	"go.etcd.io/bbolt"
	bolterr "go.etcd.io/bbolt/errors"
)

// Everything of bbolt is in this file and in bolttx.go. Above them there are buckets of ordered
// keys, and closures over them; another ordered engine could stand here.
const (
	lockWait = 500 * time.Millisecond
	// mapSize is address space, not memory: 64 GiB, or 1 GiB where an address has 32 bits. The
	// file may not outgrow what was mapped, so that it is never mapped anew, which would wait
	// for every reader.
	mapSize = 1 << 30 << (6 * (^uint(0) >> 63))
	// leastMap is tried last, where a process may not have as much.
	leastMap = 1 << 26
	// growBy is how much the file grows at a time; each growth costs one more sync.
	growBy = 1 << 20
	// ahead is how much of the file is kept ready behind the pages in use.
	ahead = growBy / 4
)

// tree is the one bucket of bbolt: all of ours are in it, each behind its byte.
var tree = []byte("salthand")

type engine struct {
	db       *bbolt.DB
	file     *os.File // db's
	size     int64    // of the file, as far as it was made ready
	most     int64    // that the file may grow to
	views    atomic.Int64
	unlisted bool // the file does not say which pages are free
	broken   bool // a commit failed
}

// openEngine opens a file that exists. A damaged one is an error that is neither of
// errLocked nor of package os.
func openEngine(path string, readOnly bool) (*engine, error) {
	listed, err := readHead(path)
	if err != nil {
		return nil, err
	}
	if !readOnly && !listed {
		if err := walkFirst(path); err != nil {
			return nil, err
		}
	}
	e, err := mapBolt(path, readOnly)
	if err != nil {
		return nil, err
	}
	if e.replaced(path) {
		if err := e.db.Close(); err != nil {
			return nil, err
		}
		return openEngine(path, readOnly)
	}
	e.unlisted = !readOnly && !listed
	return e, nil
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

// walkFirst reads what bbolt is about to: it walks all pages where the file has no list of
// the free ones, in a goroutine of its own whose panic nobody can catch.
func walkFirst(path string) error {
	e, err := mapBolt(path, true)
	if err != nil {
		return err
	}
	return errors.Join(e.walk(), e.close())
}

// mapBolt opens a file with as much room to grow as the process may map.
func mapBolt(path string, readOnly bool) (e *engine, err error) {
	for size := mapSize; ; size /= 4 {
		e, err = openBolt(path, readOnly, size)
		if size <= leastMap || !errors.Is(err, syscall.ENOMEM) {
			return e, err
		}
	}
}

func openBolt(path string, readOnly bool, size int) (e *engine, err error) {
	var file *os.File
	defer func() {
		if err != nil && file != nil {
			_ = file.Close() // a panic leaves it open, and locked
		}
	}()
	defer caught(&err)()
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{
		Timeout:         lockWait,
		ReadOnly:        readOnly,
		NoFreelistSync:  true,
		FreelistType:    bbolt.FreelistMapType,
		InitialMmapSize: size,
		MaxSize:         size,
		NoStatistics:    true,
		OpenFile: func(name string, flag int, perm fs.FileMode) (*os.File, error) {
			f, err := os.OpenFile(name, flag, perm)
			file = f
			return f, err
		},
	})
	if errors.Is(err, bolterr.ErrTimeout) {
		return nil, errLocked
	}
	if err != nil {
		return nil, err
	}
	db.AllocSize = growBy
	return &engine{db: db, file: file, most: int64(size)}, nil
}

var errLocked = errors.New("locked")

// walk reads all keys and the head of every page.
func (e *engine) walk() error {
	return e.view(func(b buckets) error {
		tree := b.(boltTx).tree
		if tree == nil {
			return errors.New("no records")
		}
		var last []byte
		return tree.ForEach(func(k, _ []byte) error {
			if last != nil && bytes.Compare(last, k) >= 0 {
				return errors.New("keys out of order")
			}
			last = k
			return nil
		})
	})
}

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
	db, err := bbolt.Open(temp, 0o600, &bbolt.Options{Timeout: lockWait, FreelistType: bbolt.FreelistMapType})
	if err != nil {
		return err
	}
	err = db.Update(func(tx *bbolt.Tx) error {
		if _, err := tx.CreateBucket(tree); err != nil {
			return err
		}
		return first(inBolt(tx))
	})
	if e := db.Close(); err == nil {
		err = e
	}
	if err != nil {
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

// newEngine makes a file to be filled in many commits that are not synced: until settle nothing
// of it is sure to be on the disk.
func newEngine(path string) (*engine, error) {
	e, err := mapBolt(path, false)
	if err != nil {
		return nil, err
	}
	e.db.NoSync, e.db.AllocSize, e.size = true, 1<<22, math.MaxInt64 // and nothing is kept ready in it
	err = e.db.Update(func(tx *bbolt.Tx) error {
		_, err := tx.CreateBucket(tree)
		return err
	})
	if err != nil {
		return nil, errors.Join(err, e.db.Close())
	}
	return e, nil
}

// settle brings a file made with newEngine to the disk, and makes it one like any other.
func (e *engine) settle() error {
	e.db.NoSync, e.db.AllocSize, e.size = false, growBy, 0
	return e.db.Sync()
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

func (e *engine) close() error {
	var err error
	if e.unlisted && !e.broken {
		err = e.list()
	}
	return errors.Join(err, e.db.Close())
}

// list writes down which pages are free, so that the next opening need not walk them all.
func (e *engine) list() error {
	c, err := e.begin()
	if errors.Is(err, bolterr.ErrDatabaseNotOpen) {
		return nil // closed before
	}
	if err != nil {
		return err
	}
	return c.commit()
}

// view runs fn over one state of the file. A panic comes back as *PanicError.
func (e *engine) view(fn func(buckets) error) error {
	e.views.Add(1)
	defer e.views.Add(-1)
	err := e.db.View(func(tx *bbolt.Tx) error { return guarded(func() error { return fn(inBolt(tx)) }) })
	if errors.Is(err, bolterr.ErrDatabaseNotOpen) {
		return ErrStopped
	}
	return err
}

// begin starts the one change that may be under way.
func (e *engine) begin() (change, error) {
	tx, err := e.db.Begin(true)
	if err != nil {
		return change{}, err
	}
	if e.size-tx.Size() < ahead {
		if err := e.extend(tx.Size()); err != nil {
			return change{}, errors.Join(err, tx.Rollback())
		}
	}
	return change{inBolt(tx), e}, nil
}

// extend writes zeros behind the end of the file. Where a page lies on blocks that were
// written before, a sync has less to do in the file system's journal: a turn's two commits
// took 1.8 times the bare syncs instead of 2.2 (BenchmarkTurn).
func (e *engine) extend(used int64) error {
	info, err := e.file.Stat()
	if err != nil {
		return err
	}
	e.size = info.Size()
	if e.size-used >= ahead || e.size+growBy > e.most {
		return nil
	}
	if _, err := e.file.WriteAt(make([]byte, growBy), e.size); err != nil {
		return err
	}
	e.size += growBy
	return e.file.Sync()
}

type change struct {
	boltTx
	engine *engine
}

func (c change) rollback() error { return c.tx.Rollback() }

// again commits and begins the next.
func (c *change) again() error {
	if err := c.commit(); err != nil {
		return err
	}
	next, err := c.engine.begin()
	if err == nil {
		*c = next
	}
	return err
}

// commit writes and syncs. After ErrFull the file is as it was before; after any other error
// what is on the disk is not known.
//
// Each commit lists the free pages, except beside a view: while one is open no page is used
// again, and neither are those of the lists, so that the file would grow by more and more.
func (c change) commit() error {
	e := c.engine
	e.unlisted = e.views.Load() > 0
	e.db.NoFreelistSync = e.unlisted
	err := guarded(c.tx.Commit)
	if errors.Is(err, bolterr.ErrMaxSizeReached) {
		return ErrFull
	}
	e.broken = err != nil
	return err
}

// check looks for damage: pages that are used twice or lost, keys out of order.
func (e *engine) check() error {
	if err := e.walk(); err != nil { // bbolt's own check does it in a goroutine whose panic nobody can catch
		return err
	}
	return e.view(func(b buckets) error {
		var errs []error
		for err := range b.(boltTx).tx.Check() {
			errs = append(errs, err)
		}
		return errors.Join(errs...)
	})
}

// guarded turns a panic into a *PanicError; a fault of the mapped file (a page that the disk
// can't give) is one too.
func guarded(fn func() error) (err error) {
	defer caught(&err)()
	return fn()
}

func caught(err *error) func() {
	old := debug.SetPanicOnFault(true)
	return func() {
		debug.SetPanicOnFault(old)
		if v := recover(); v != nil {
			*err = &PanicError{Value: v, Stack: debug.Stack()}
		}
	}
}
