package store

import (
	"encoding/binary"
	"fmt"
	"strings"
)

// key is an ordered key. Numbers and instants in it are fixed-width big-endian, a text is
// preceded by its length, so that no text is the beginning of another.
type key []byte

func (k key) num(n uint64) key { return binary.BigEndian.AppendUint64(k, n) }

// time appends an instant so that bytes order as instants do, those before 1970 first.
func (k key) time(m Milli) key { return k.num(uint64(m) ^ 1<<63) }

func (k key) text(s string) key {
	k = binary.BigEndian.AppendUint16(k, uint16(len(s)))
	return append(k, s...)
}

func (k key) kind(c byte) key { return append(k, c) }

// join appends a key to a copy of this one.
func (k key) join(tail key) key { return append(append(make(key, 0, len(k)+len(tail)), k...), tail...) }

// maxText is the most bytes that a text in a key may have.
const maxText = 1024

// texts refuses an empty text where one is needed, and one too long for a key.
func texts(ss ...string) error {
	for _, s := range ss {
		if s == "" || len(s) > maxText {
			return fmt.Errorf("%w: text of %d bytes", ErrKey, len(s))
		}
	}
	return nil
}

// folded is how a name is compared: without regard to case or outer space.
func folded(name string) string { return strings.ToLower(strings.TrimSpace(name)) }

// keyReader takes a key apart again.
type keyReader struct {
	rest []byte
	bad  bool
}

func (r *keyReader) num() uint64 {
	if len(r.rest) < 8 {
		r.bad = true
		return 0
	}
	n := binary.BigEndian.Uint64(r.rest)
	r.rest = r.rest[8:]
	return n
}

func (r *keyReader) time() Milli { return Milli(r.num() ^ 1<<63) }

func (r *keyReader) text() string {
	if len(r.rest) < 2 {
		r.bad = true
		return ""
	}
	n := int(binary.BigEndian.Uint16(r.rest))
	if len(r.rest) < 2+n {
		r.bad = true
		return ""
	}
	s := string(r.rest[2 : 2+n])
	r.rest = r.rest[2+n:]
	return s
}
