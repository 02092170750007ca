package store

import (
	"bytes"
	"compress/flate"
	"fmt"
	"io"
	"sync"
)

// formatDeflated is a record as encode makes it, all behind its format byte deflated. Only
// events are written so, which are the bulk of the file and seldom read: a dose card's answer
// says much the same each time, and the steps of a batch are alike.
const formatDeflated = 'D'

// deflateFrom is how long a record is that is worth it.
const deflateFrom = 512

// An engine of either kind is large; nothing is kept in it from one record to the next.
var (
	deflaters = sync.Pool{New: func() any {
		w, err := flate.NewWriter(nil, flate.BestSpeed)
		if err != nil {
			panic(err) // the level is one of package flate's own
		}
		return w
	}}
	inflaters = sync.Pool{New: func() any { return flate.NewReader(nil) }}
)

// deflated makes a long record shorter.
func deflated(record []byte) []byte {
	if len(record) < deflateFrom {
		return record
	}
	w := deflaters.Get().(*flate.Writer)
	defer deflaters.Put(w)
	var out bytes.Buffer
	out.Grow(len(record) / 2)
	out.WriteByte(formatDeflated)
	w.Reset(&out)
	_, err := w.Write(record[1:])
	if err == nil {
		err = w.Close()
	}
	if err != nil { // a buffer takes all
		return record
	}
	return out.Bytes()
}

// inflated gives the object of a deflated record.
func inflated(data []byte) ([]byte, error) {
	r := inflaters.Get().(io.ReadCloser)
	defer inflaters.Put(r)
	if err := r.(flate.Resetter).Reset(bytes.NewReader(data), nil); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	out.Grow(4 * len(data))
	if _, err := out.ReadFrom(r); err != nil {
		return nil, fmt.Errorf("%w: %w", errRecord, err)
	}
	return out.Bytes(), nil
}
