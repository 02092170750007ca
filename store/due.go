package store

// DueEntry is something that falls due.
type DueEntry struct {
	At      Milli
	Kitchen string
	Batch   uint64
	What    string // "step" or "lapse"
	Step    int    // index in the batch's steps; -1 for a lapse
	Kind    string // of the step; "" for a lapse
}

// What falls due.
const (
	DueStep  = "step"
	DueLapse = "lapse"
)

// How it stands in a key.
const (
	whatLapse = 0
	whatStep  = 1
)

// DueUntil gives what is due at or before t, the earliest first; limit 0 means all. Of each
// batch there is one entry at most: while it is asked or approved its lapse, then the
// earliest step that is neither done nor reminded of. Once reminded, a step is off this list
// until it is moved, and the one after it takes its place.
func (tx *Tx) DueUntil(t Milli, limit int) ([]DueEntry, error) {
	var due []DueEntry
	err := tx.scan(bucketDue, nil, nil, func(k key, v []byte) (bool, error) {
		r := keyReader{rest: k}
		e := DueEntry{At: r.time()}
		if e.At > t {
			return false, nil
		}
		e.Kitchen, e.Batch = r.text(), r.num()
		e.what(&r, v)
		due = append(due, e)
		return len(due) != limit, nil
	})
	return due, err
}

// DueIn gives what falls due in a kitchen from one instant until just before another, the
// earliest first; limit 0 means all. It has the lapses, each running batch's next step, and
// every step that was reminded of and is not done.
func (tx *Tx) DueIn(kitchen string, from, to Milli, limit int) ([]DueEntry, error) {
	var due []DueEntry
	prefix := key(nil).text(kitchen)
	err := tx.scan(bucketDueIn, prefix.join(key(nil).time(from)), prefix, func(k key, v []byte) (bool, error) {
		r := keyReader{rest: k[len(prefix):]}
		e := DueEntry{Kitchen: kitchen, At: r.time()}
		if e.At >= to {
			return false, nil
		}
		e.Batch = r.num()
		e.what(&r, v)
		due = append(due, e)
		return len(due) != limit, nil
	})
	return due, err
}

func (e *DueEntry) what(r *keyReader, kind []byte) {
	if r.kind() == whatLapse {
		e.What, e.Step = DueLapse, -1
		return
	}
	e.What, e.Step, e.Kind = DueStep, int(r.num()), string(kind)
}

// dueKeys are the entries of a batch in both lists.
func (b *Batch) dueKeys() []derived {
	var d []derived
	tail := func(what byte, step int) key {
		return key(nil).num(b.Number).kind(what).num(uint64(step))
	}
	both := func(at Milli, what byte, step int, v []byte, listed bool) {
		if listed {
			d = append(d, derived{bucketDue, key(nil).time(at).text(b.Kitchen).join(tail(what, step)), v})
		}
		d = append(d, derived{bucketDueIn, key(nil).text(b.Kitchen).time(at).join(tail(what, step)), v})
	}
	switch {
	case !b.Open():
	case b.State.waits():
		if b.Lapse != 0 {
			both(b.Lapse, whatLapse, 0, present, true)
		}
	default:
		next := b.earliest(func(s StepState) bool { return !s.Reminded })
		for i, s := range b.Steps {
			if !s.Done && (s.Reminded || i == next) {
				both(s.Due, whatStep, i, []byte(s.Kind), i == next)
			}
		}
	}
	return d
}

// earliest is the index of the step due first among those not done that pass; -1: none.
func (b *Batch) earliest(pass func(StepState) bool) int {
	first := -1
	for i, s := range b.Steps {
		if !s.Done && pass(s) && (first < 0 || s.Due < b.Steps[first].Due) {
			first = i
		}
	}
	return first
}

func (b *Batch) findNext() { b.Next = b.earliest(func(StepState) bool { return true }) }
