package store

import (
	"cmp"
	"math"
	"slices"
)

// DueEntry is something that falls due.
type DueEntry struct {
	At      Milli
	Kitchen string
	Batch   uint64 // 0: an alarm of the kitchen
	What    string // "step", "lapse", or what an alarm is for
	Step    int    // index in the batch's steps; -1 for what is no step
	Kind    string // of the step; "" for what is none
}

// What falls due.
const (
	DueStep  = "step"
	DueLapse = "lapse"
	DueAgain = "again" // a step that was reminded of, and that nobody acted on
)

// How an entry stands in the list; a step's kind follows.
const (
	dueLapse    = 1
	dueNext     = 2
	dueReminded = 3
	dueLater    = 4 // comes after the batch's next
	dueAlarm    = 5 // what it is for follows
	dueAgain    = 6 // the next to be told of a step that nobody acted on
	dueRing     = 7 // the batch's next, where its reminder comes at another time than it is due
)

// Where a step has two entries, the second stands under its index and one of these.
const (
	againStep = 1 << 32
	ringStep  = 2 << 32
)

// noStep stands in a key where the index of a step would.
const noStep = ^uint64(0)

// rings tells whether an entry is to be taken up when its time comes; the others are for show.
func rings(how byte) bool { return how != dueReminded && how != dueLater }

// DueUntil gives what is due at or before t in any kitchen, the earliest first; limit 0 means
// all. Beside its alarms there is of each batch one entry at most: while it is asked or
// approved its lapse, then the earliest step that is neither done nor reminded of and
// waits for no other; while it is paused, none. Once reminded, a step is off this list until
// it is moved, and the one after it takes its place, or until somebody else is to be told.
func (tx *Tx) DueUntil(t Milli, limit int) ([]DueEntry, error) {
	var kitchens []string
	err := tx.scan(bucketKitchens, nil, nil, func(k key, _ []byte) (bool, error) {
		r := keyReader{rest: k}
		kitchens = append(kitchens, r.text())
		return true, nil
	})
	if err != nil {
		return nil, err
	}
	var due []DueEntry
	for _, kitchen := range kitchens {
		mine := 0
		err := tx.due(kitchen, math.MinInt64, func(e DueEntry, how byte) bool {
			if e.At > t {
				return false
			}
			if rings(how) {
				due = append(due, e)
				mine++
			}
			return limit == 0 || mine < limit
		})
		if err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(due, func(a, b DueEntry) int { return cmp.Compare(a.At, b.At) })
	if limit > 0 && len(due) > limit {
		due = due[:limit]
	}
	return due, nil
}

// DueIn gives what falls due in a kitchen from one instant until just before another, the
// earliest first; limit 0 means all. It has the lapses, and every step that is not done; no
// alarm, which is between the bot and itself.
func (tx *Tx) DueIn(kitchen string, from, to Milli, limit int) ([]DueEntry, error) {
	var due []DueEntry
	err := tx.due(kitchen, from, func(e DueEntry, how byte) bool {
		if e.At >= to {
			return false
		}
		if how <= dueLater {
			due = append(due, e)
		}
		return limit == 0 || len(due) < limit
	})
	return due, err
}

// due walks the entries of a kitchen from an instant on, as long as fn wants more.
func (tx *Tx) due(kitchen string, from Milli, fn func(e DueEntry, how byte) bool) error {
	prefix := key(nil).text(kitchen)
	return tx.scan(bucketDue, prefix.join(key(nil).time(from)), prefix, func(k key, v []byte) (bool, error) {
		r := keyReader{rest: k[len(prefix):]}
		e := DueEntry{At: r.time(), Kitchen: kitchen, Batch: r.num(), What: DueStep, Step: int(r.num()), Kind: string(v[1:])}
		switch v[0] {
		case dueLapse:
			e.What, e.Step = DueLapse, -1
		case dueAlarm:
			e.What, e.Kind = e.Kind, ""
		case dueAgain:
			e.What, e.Step = DueAgain, e.Step-againStep
		case dueRing:
			e.Step -= ringStep
		}
		return fn(e, v[0]), nil
	})
}

// dueKeys are the entries of a batch in the due list.
func (b *Batch) dueKeys() []derived {
	var d []derived
	add := func(at Milli, step int, how byte, kind string) {
		k := key(nil).text(b.Kitchen).time(at).num(b.Number).num(uint64(step))
		d = append(d, derived{bucketDue, k, append([]byte{how}, kind...)})
	}
	switch {
	case !b.Open():
	case b.State.waits():
		if b.Lapse != 0 {
			add(b.Lapse, 0, dueLapse, "")
		}
	case b.Paused(): // silent
	default:
		next := b.nextToRing()
		for i, s := range b.Steps {
			switch {
			case s.Closed():
				continue
			case i == next && s.Ring == 0:
				add(s.Due, i, dueNext, s.Kind)
			case s.Reminded:
				add(s.Due, i, dueReminded, s.Kind)
			default:
				add(s.Due, i, dueLater, s.Kind)
			}
			if s.Again != 0 {
				add(s.Again, i+againStep, dueAgain, s.Kind)
			}
		}
		if next >= 0 && b.Steps[next].Ring != 0 {
			add(b.Steps[next].Ring, next+ringStep, dueRing, b.Steps[next].Kind)
		}
	}
	if b.Open() {
		d = append(d, b.Alarms.keys(b.Kitchen, b.Number)...)
	}
	return d
}

// nextToRing is the index of the step that is to be reminded of first; -1: none. One that
// comes after a step that is not done waits for it.
func (b *Batch) nextToRing() int {
	first := -1
	for i, s := range b.Steps {
		if !s.Closed() && !s.Reminded && b.Ready(i) && (first < 0 || s.RingAt() < b.Steps[first].RingAt()) {
			first = i
		}
	}
	return first
}

// findNext finds the step that is to be done first.
func (b *Batch) findNext() {
	b.Next = -1
	for i, s := range b.Steps {
		if !s.Closed() && (b.Next < 0 || s.Due < b.Steps[b.Next].Due) {
			b.Next = i
		}
	}
}
