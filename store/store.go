package store

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// schema is the number of the layout of buckets and keys. It rises when an older program
// would read or write the file wrongly.
const schema = 3

// Options of Open. The zero value opens for reading and writing.
type Options struct {
	Scratch  bool // mark a file that Open makes as a throw-away one; an existing file keeps its mark
	ReadOnly bool // never write; the file must exist
}

// Store is one file of records. Its methods may be called by many goroutines at once.
type Store struct {
	path     string
	engine   *engine
	writer   *writer // nil: read-only
	pid      *pidFile
	scratch  bool
	readOnly bool
	schema   uint32 // of the file
}

// Open opens the store at path, and makes it, with its folder, where there is none. Only one
// process at a time may have it open for writing; Open waits half a second for another to
// let go. Errors: *LockedError, *SchemaError, *CorruptError, or one of package os.
func Open(path string, o Options) (*Store, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	info, err := os.Stat(path)
	if err == nil && info.Mode().IsRegular() && info.Size() == 0 && !o.ReadOnly {
		err = errors.Join(os.Remove(path), fs.ErrNotExist) // an empty file is no store yet
	}
	if errors.Is(err, fs.ErrNotExist) && !o.ReadOnly {
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			return nil, err
		}
		if err := create(path, func(b buckets) error { return writeMeta(b, o.Scratch) }); err != nil {
			return nil, fmt.Errorf("store: make %s: %w", path, err)
		}
	}
	e, err := openEngine(path, o.ReadOnly)
	if err != nil {
		return nil, openError(path, err)
	}
	s := &Store{path: path, engine: e, readOnly: o.ReadOnly}
	if err := s.readMeta(); err != nil {
		return nil, errors.Join(err, e.close())
	}
	if !o.ReadOnly {
		if s.pid, err = writePID(path); err != nil {
			return nil, errors.Join(err, e.close())
		}
		if err := s.upgrade(); err != nil {
			return nil, errors.Join(err, s.pid.remove(), s.engine.close())
		}
		s.writer = newWriter(s.engine)
	}
	return s, nil
}

func openError(path string, err error) error {
	var pathErr *fs.PathError
	var refused syscall.Errno
	switch {
	case errors.Is(err, errLocked):
		return &LockedError{Path: path, PID: readPID(path)}
	case errors.As(err, &pathErr):
		return fmt.Errorf("store: %w", err)
	case errors.As(err, &refused): // no memory, say
		return fmt.Errorf("store: %s: %w", path, err)
	}
	return &CorruptError{Path: path, Err: err}
}

// Close refuses new closures, waits for those under way, and closes the file.
func (s *Store) Close() error {
	if s.writer != nil {
		if s.writer.inside() {
			return ErrNested
		}
		s.writer.stop()
	}
	return errors.Join(s.pid.remove(), s.engine.close())
}

// Update runs fn over the records and keeps what it wrote, when it returns, for good: after
// nil it is on the disk. Closures run one after another, in the order in which they came;
// those that wait together share a commit. fn may run several times, and must have no effect
// outside tx. Its error, or its panic as *PanicError, undoes it alone. Once ctx is done a
// closure that has not begun is not run, and the error is the context's; one that has begun
// is waited for. Other errors: ErrStopped, ErrFull, ErrBroken, ErrReadOnly, ErrNested.
//
// Don't call Update inside View: what it writes can't be seen there.
func (s *Store) Update(ctx context.Context, fn func(*Tx) error) error {
	if s.writer == nil {
		return ErrReadOnly
	}
	return s.writer.update(ctx, fn)
}

// View runs fn over the records as they are now; they don't change under it. Keep it short:
// while it runs no space of the file is used again.
func (s *Store) View(fn func(*Tx) error) error {
	return s.engine.view(func(b buckets) error { return fn(&Tx{b}) })
}

// Scratch tells whether this is a throw-away store, marked so when it was made.
func (s *Store) Scratch() bool { return s.scratch }

// Path is where the file is.
func (s *Store) Path() string { return s.path }

// Tx is one look at the records, or one change of them. It ends with the closure that it was
// given to, and belongs to that closure's goroutine.
type Tx struct {
	buckets
}

// load decodes a record, if it is there.
func load[T any](b reader, in bucket, k key) (v T, ok bool, err error) {
	data := b.get(in, k)
	if data == nil {
		return v, false, nil
	}
	if err := decode(data, &v); err != nil {
		return v, false, fmt.Errorf("%v: %w", in, err)
	}
	return v, true, nil
}

// save encodes a record.
func save(b records, in bucket, k key, v any) error {
	data, err := encode(v)
	if err != nil {
		return err
	}
	return b.put(in, k, data)
}

var (
	metaSchema  = key("schema")
	metaScratch = key("scratch")
)

func writeMeta(b buckets, scratch bool) error {
	if err := b.put(bucketMeta, metaSchema, binary.BigEndian.AppendUint32(nil, schema)); err != nil {
		return err
	}
	mark := byte(0)
	if scratch {
		mark = 1
	}
	return b.put(bucketMeta, metaScratch, []byte{mark})
}

func (s *Store) readMeta() error {
	err := s.engine.view(func(b buckets) error {
		got := b.get(bucketMeta, metaSchema)
		if len(got) != 4 {
			return errors.New("no schema number")
		}
		s.schema = binary.BigEndian.Uint32(got)
		if s.schema > schema || s.readOnly && s.schema < schema {
			return &SchemaError{Path: s.path, Got: s.schema, Known: schema}
		}
		s.scratch = string(b.get(bucketMeta, metaScratch)) == "\x01"
		return nil
	})
	var other *SchemaError
	if err == nil || errors.As(err, &other) {
		return err
	}
	return &CorruptError{Path: s.path, Err: err}
}
