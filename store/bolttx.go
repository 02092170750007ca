package store

import (
	"bytes"
	"errors"

	"go.etcd.io/bbolt"
	bolterr "go.etcd.io/bbolt/errors"
)

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
