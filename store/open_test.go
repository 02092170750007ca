package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"
)

func TestNewFile(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "data", "salthand")
	path := filepath.Join(dir, "kitchen.db")
	s, err := Open(path, Options{Scratch: true})
	if err != nil {
		t.Fatal(err)
	}
	if !s.Scratch() {
		t.Error("not marked as scratch")
	}
	for name, want := range map[string]fs.FileMode{dir: 0o700, path: 0o600, path + ".pid": 0o600} {
		info, err := os.Stat(name)
		if err != nil {
			t.Fatal(err)
		}
		if got := info.Mode().Perm(); got != want {
			t.Errorf("%s: %v, want %v", filepath.Base(name), got, want)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "*")); len(left) != 1 {
		t.Errorf("left behind: %v, want the store alone", left)
	}
	s = openedAt(t, path)
	if !s.Scratch() {
		t.Error("the mark is lost")
	}
}

func TestEmptyFileIsNew(t *testing.T) {
	path := filepath.Join(t.TempDir(), "empty")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	openedAt(t, path)
}

func TestReadOnly(t *testing.T) {
	path := filepath.Join(t.TempDir(), "kitchen.db")
	if _, err := Open(path, Options{ReadOnly: true}); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no file: %v, want it not to exist", err)
	}
	s := openedAt(t, path)
	peopled(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Open(path, Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	sound(t, r)
	if err := r.Update(t.Context(), receive("a")); !errors.Is(err, ErrReadOnly) {
		t.Errorf("got %v, want ErrReadOnly", err)
	}
	if err := r.Close(); err != nil {
		t.Error(err)
	}
	after, err := os.ReadFile(path)
	if err != nil || !bytes.Equal(before, after) {
		t.Errorf("the file changed (%v)", err)
	}
}

func TestLocked(t *testing.T) {
	s := opened(t)
	for _, o := range []Options{{}, {ReadOnly: true}} {
		begun := time.Now()
		_, err := Open(s.path, o)
		var locked *LockedError
		if !errors.As(err, &locked) || locked.PID != os.Getpid() || locked.Path != s.path {
			t.Errorf("%+v: got %v, want it locked by process %d", o, err, os.Getpid())
		}
		if took := time.Since(begun); took > time.Second {
			t.Errorf("%+v: took %v, want less than a second", o, took)
		}
	}
}

// TestStalePID: what a killed process left beside the store names nobody, and is replaced.
func TestStalePID(t *testing.T) {
	path := filepath.Join(t.TempDir(), "kitchen.db")
	for _, left := range []string{"", "nonsense", "-1", "0", "99999999"} {
		if err := os.WriteFile(path+".pid", []byte(left), 0o600); err != nil {
			t.Fatal(err)
		}
		if got := readPID(path); got != 0 {
			t.Errorf("%q names process %d", left, got)
		}
	}
	openedAt(t, path)
	if got := readPID(path); got != os.Getpid() {
		t.Errorf("got process %d, want %d", got, os.Getpid())
	}
}

func TestNewerSchema(t *testing.T) {
	s := opened(t)
	write := func(n uint32) {
		t.Helper()
		do(t, s, func(tx *Tx) error { return tx.put(bucketMeta, metaSchema, binary.BigEndian.AppendUint32(nil, n)) })
	}
	write(schema + 1)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	_, err := Open(s.path, Options{})
	var newer *SchemaError
	if !errors.As(err, &newer) || newer.Got != schema+1 || newer.Known != schema {
		t.Errorf("got %v, want a refusal of schema %d", err, schema+1)
	}
	if s, err = openUnchecked(s.path); err != nil {
		t.Fatal(err)
	}
	write(schema)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// openUnchecked opens a file whatever schema it has.
func openUnchecked(path string) (*Store, error) {
	e, err := openEngine(path, false)
	if err != nil {
		return nil, err
	}
	return &Store{path: path, engine: e, writer: newWriter(e)}, nil
}

// TestDamaged damages files in many ways: each is an error, or the store opens and Verify
// says what it finds. Nothing panics.
func TestDamaged(t *testing.T) {
	source := opened(t)
	peopled(t, source)
	for i := range uint64(60) {
		appended(t, source, of(i+1, ana, Milli(i), asked("belly", fmt.Sprint("c", i), day)))
	}
	if err := source.Close(); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(source.path)
	if err != nil {
		t.Fatal(err)
	}
	page := os.Getpagesize()
	random := rand.New(rand.NewPCG(1, 2))
	garbage := func(b []byte) {
		for i := range b {
			b[i] = byte(random.Uint32())
		}
	}
	const mustFail, mayOpen = true, false
	tests := []struct {
		name   string
		fails  bool
		damage func(b []byte) []byte
	}{
		{"text", mustFail, func([]byte) []byte { return []byte("not a store\n") }},
		{"zeros", mustFail, func(b []byte) []byte { return make([]byte, len(b)) }},
		{"both heads", mustFail, func(b []byte) []byte { garbage(b[:2*page]); return b }},
		{"one head", mayOpen, func(b []byte) []byte { garbage(b[:page]); return b }},
		{"cut to the heads", mustFail, func(b []byte) []byte { return b[:2*page] }},
		{"cut to a quarter", mustFail, func(b []byte) []byte { return b[:lastPage(b, page)/4*page] }},
		{"cut by a page", mustFail, func(b []byte) []byte { return b[:(lastPage(b, page)-1)*page] }},
		{"all pages", mustFail, func(b []byte) []byte { garbage(b[2*page:]); return b }},
		{"the list of free pages", mustFail, func(b []byte) []byte { garbage(freelist(b, page)[:page]); return b }},
		{"a page that is not there is free", mustFail, func(b []byte) []byte {
			binary.NativeEndian.PutUint64(freelist(b, page)[16:], 1<<40)
			return b
		}},
		{"a page is free twice", mustFail, func(b []byte) []byte {
			list := freelist(b, page)
			copy(list[24:], list[16:24])
			return b
		}},
		{"more free pages than there is room for", mustFail, func(b []byte) []byte {
			binary.NativeEndian.PutUint16(freelist(b, page)[10:], 60_000)
			return b
		}},
	}
	for i := range 40 {
		tests = append(tests, struct {
			name   string
			fails  bool
			damage func(b []byte) []byte
		}{fmt.Sprint("page ", i), mayOpen, func(b []byte) []byte {
			n := 2 + random.IntN(lastPage(b, page)-2)
			if i%2 == 0 {
				garbage(b[n*page : (n+1)*page])
			} else {
				garbage(b[n*page : n*page+16+random.IntN(64)])
			}
			return b
		}})
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "damaged.db")
			if err := os.WriteFile(path, test.damage(bytes.Clone(whole)), 0o600); err != nil {
				t.Fatal(err)
			}
			s, err := Open(path, Options{})
			if err != nil {
				var corrupt *CorruptError
				if !errors.As(err, &corrupt) {
					t.Errorf("got %v, want a *CorruptError", err)
				}
				return
			}
			if test.fails {
				t.Error("opened")
			}
			_, _ = s.Verify()
			_ = s.Close()
		})
	}
}

// newerHead is the part of a file that describes it.
func newerHead(b []byte, page int) []byte {
	first, second := b[16:], b[page+16:]
	if binary.NativeEndian.Uint64(first[48:]) > binary.NativeEndian.Uint64(second[48:]) {
		return first
	}
	return second
}

// lastPage is the number of pages in use, as the newer head says.
func lastPage(b []byte, page int) int {
	return int(binary.NativeEndian.Uint64(newerHead(b, page)[40:]))
}

// freelist is a file from its list of free pages on.
func freelist(b []byte, page int) []byte {
	return b[int(binary.NativeEndian.Uint64(newerHead(b, page)[32:]))*page:]
}

// TestFreePagesListed: a file says which pages are free after each commit, unless somebody
// looked on; then once it is closed. Either way one that was not closed opens.
func TestFreePagesListed(t *testing.T) {
	s := opened(t)
	listed := func(when string, want bool) {
		t.Helper()
		got, err := readHead(s.path)
		if err != nil || got != want {
			t.Errorf("%s: listed %v (%v), want %v", when, got, err, want)
		}
		left := filepath.Join(t.TempDir(), "left.db") // as a process that was killed leaves it
		copyFile(t, s.path, left)
		openedAt(t, left)
	}
	listed("new", true)
	do(t, s, receive("a"))
	listed("a commit", true)
	see(t, s, func(*Tx) error {
		do(t, s, receive("b"))
		return nil
	})
	listed("a commit beside a view", false)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	listed("closed", true)
}

// TestVerifyFinds changes records behind the fold's back.
func TestVerifyFinds(t *testing.T) {
	s := opened(t)
	peopled(t, s)
	appended(t, s, of(1, ana, 10, asked("belly", "c", day)))
	tests := []struct {
		name   string
		bucket bucket
		key    key
		value  []byte // nil: delete
	}{
		{"a record lost", bucketBatches, batchKey(kitchen, 1), nil},
		{"a record changed", bucketPeople, pair(kitchen, ana), []byte(`J{"v":1}`)},
		{"a key too many", bucketLook, cross{cut: "loin"}.prefix(kitchen).join(tail(10, 1)), present},
		{"a due entry lost", bucketDue, key(nil).text(kitchen).time(day).num(1).num(0), nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var was []byte
			set := func(v []byte) {
				do(t, s, func(tx *Tx) error {
					was = bytes.Clone(tx.get(test.bucket, test.key))
					if v == nil {
						return tx.del(test.bucket, test.key)
					}
					return tx.put(test.bucket, test.key, v)
				})
			}
			set(test.value)
			before := was
			found, err := s.Verify()
			if err != nil || len(found) != 1 || found[0].Bucket != test.bucket.String() || !bytes.Equal(found[0].Key, test.key) ||
				!bytes.Equal(found[0].Have, test.value) || !bytes.Equal(found[0].Want, before) {
				t.Errorf("found %v (%v)", found, err)
			}
			set(before)
		})
	}
}
