package store

import (
	"bytes"
	"errors"
	"io/fs"
	"math"
	"os"
	"sync/atomic"
	"syscall"
	"time"

	"go.etcd.io/bbolt"
	bolterr "go.etcd.io/bbolt/errors"
)

// Everything of bbolt is in this file. Above it there are buckets of ordered keys, and
// closures over them; another ordered engine could stand here.
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

// makeBolt makes a file with a first content.
func makeBolt(path string, first func(buckets) error) error {
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{Timeout: lockWait, FreelistType: bbolt.FreelistMapType})
	if err != nil {
		return err
	}
	err = db.Update(func(tx *bbolt.Tx) error {
		if _, err := tx.CreateBucket(tree); err != nil {
			return err
		}
		return first(inBolt(tx))
	})
	return errors.Join(err, db.Close())
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

// boltTx is buckets in a transaction of bbolt.
type boltTx struct {
	tx   *bbolt.Tx
	tree *bbolt.Bucket // nil: the file has none
}

// fillTo is how full a page is left when it is split. Keys are appended far more often than put
// in between, so that the page left behind stays as it is.
const fillTo = 0.9

func inBolt(tx *bbolt.Tx) boltTx {
	b := tx.Bucket(tree)
	if b != nil {
		b.FillPercent = fillTo
	}
	return boltTx{tx, b}
}

func (t boltTx) get(in bucket, k key) []byte { return t.tree.Get(in.key(k)) }

func (t boltTx) put(in bucket, k key, v []byte) error { return readOnly(t.tree.Put(in.key(k), v)) }

func (t boltTx) del(in bucket, k key) error { return readOnly(t.tree.Delete(in.key(k))) }

func (t boltTx) next(in bucket) (uint64, error) {
	n := t.last(in) + 1
	return n, t.put(bucketSequence, key{byte(in)}, key(nil).num(n))
}

func (t boltTx) last(in bucket) uint64 {
	r := keyReader{rest: t.get(bucketSequence, key{byte(in)})}
	return r.num()
}

func (t boltTx) seek(in bucket, from key) (k key, v []byte) { return t.cursor(in).seek(from) }

func (t boltTx) cursor(in bucket) cursor { return &boltCursor{c: t.tree.Cursor(), in: in} }

func (t boltTx) scan(in bucket, from, prefix key, fn func(k key, v []byte) (bool, error)) error {
	c := t.cursor(in)
	for k, v := c.seek(from); k != nil && bytes.HasPrefix(k, prefix); k, v = c.next() {
		if more, err := fn(k, v); err != nil || !more {
			return err
		}
	}
	return nil
}

type boltCursor struct {
	c    *bbolt.Cursor
	in   bucket
	from []byte
}

func (c *boltCursor) at(k key) []byte {
	c.from = append(append(c.from[:0], byte(c.in)), k...)
	return c.from
}

func (c *boltCursor) seek(from key) (key, []byte) { return c.within(c.c.Seek(c.at(from))) }

func (c *boltCursor) seekBack(from key) (key, []byte) {
	at := c.at(from)
	switch k, v := c.c.Seek(at); {
	case k == nil:
		return c.within(c.c.Last())
	case bytes.Equal(k, at):
		return c.within(k, v)
	}
	return c.prev()
}

func (c *boltCursor) next() (key, []byte) { return c.within(c.c.Next()) }

func (c *boltCursor) prev() (key, []byte) { return c.within(c.c.Prev()) }

// within takes the bucket's byte off; nil: the key is another bucket's.
func (c *boltCursor) within(k, v []byte) (key, []byte) {
	if len(k) == 0 || k[0] != byte(c.in) {
		return nil, nil
	}
	return k[1:], v
}

func (b bucket) key(k key) key { return key{byte(b)}.join(k) }

func readOnly(err error) error {
	if errors.Is(err, bolterr.ErrTxNotWritable) || errors.Is(err, bolterr.ErrDatabaseReadOnly) {
		return ErrReadOnly
	}
	return err
}
