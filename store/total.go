package store

import "encoding/binary"

// Totals are the sums over batches that went into the cure in a stretch of time. Masses are
// milligrams.
type Totals struct {
	Batches   int
	ByCut     map[string]CutTotal
	ByJar     map[string]int64 // cure; "": no jar was noted
	Held      int              // of these batches, those on hold now
	Discarded int
}

// CutTotal are the batches of one cut.
type CutTotal struct {
	Batches  int
	WeightMg int64
}

const (
	rowHeld = 1 << iota
	rowDiscarded
)

// row is what totals are made of: a batch in a few bytes.
type row struct {
	weightMg, cureMg int64
	flags            byte
	cut, jar         string
}

func (b *Batch) row() []byte {
	flags := byte(0)
	if b.Held() && b.Open() {
		flags |= rowHeld
	}
	if b.State == StateDiscarded {
		flags |= rowDiscarded
	}
	cure := b.Card.CureMg
	if b.Weighing != nil {
		cure = b.Weighing.CureMg
	}
	from, _ := b.source()
	out := append(make([]byte, 0, 48), flags)
	out = binary.AppendVarint(out, b.Card.WeightMg)
	out = binary.AppendVarint(out, cure)
	return key(out).text(b.Card.Cut).text(from.Jar)
}

func readRow(data []byte) (r row, ok bool) {
	if len(data) == 0 {
		return r, false
	}
	r.flags = data[0]
	data = data[1:]
	for _, into := range []*int64{&r.weightMg, &r.cureMg} {
		v, n := binary.Varint(data)
		if n <= 0 {
			return r, false
		}
		*into, data = v, data[n:]
	}
	rest := keyReader{rest: data}
	r.cut, r.jar = rest.text(), rest.text()
	return r, !rest.bad
}

// Totals sums the batches of a kitchen whose clock was started from one instant on and before
// another.
func (tx *Tx) Totals(kitchen string, from, to Milli) (Totals, error) {
	t := Totals{ByCut: map[string]CutTotal{}, ByJar: map[string]int64{}}
	prefix := lookPrefix(lookStarted, kitchen, "")
	err := tx.scan(bucketLook, prefix.join(tail(from, 0)), prefix, func(k key, v []byte) (bool, error) {
		end := keyReader{rest: k[len(prefix):]}
		if end.time() >= to {
			return false, nil
		}
		r, ok := readRow(v)
		if !ok {
			return false, errRecord
		}
		t.add(r)
		return true, nil
	})
	return t, err
}

func (t *Totals) add(r row) {
	t.Batches++
	cut := t.ByCut[r.cut]
	cut.Batches++
	cut.WeightMg += r.weightMg
	t.ByCut[r.cut] = cut
	t.ByJar[r.jar] += r.cureMg
	if r.flags&rowHeld != 0 {
		t.Held++
	}
	if r.flags&rowDiscarded != 0 {
		t.Discarded++
	}
}
