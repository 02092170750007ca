package store

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

// shows tells whether an entry stands in a kitchen's list; rings, whether it is taken up when
// its time comes. Each stands in a bucket of its own, so that neither has to be read past.
func shows(how byte) bool { return how <= dueLater }
func rings(how byte) bool { return how != dueReminded && how != dueLater }

// DueUntil gives what is due at or before t in any kitchen, the earliest first; limit 0 means
// all. Beside its alarms there is of each batch one entry at most: while it is asked or
// approved its lapse, then the earliest step that is neither done nor reminded of and
// waits for no other; while it is paused, none. Once reminded, a step is off this list until
// it is moved, and the one after it takes its place, or until somebody else is to be told.
func (tx *Tx) DueUntil(t Milli, limit int) ([]DueEntry, error) {
	var due []DueEntry
	err := tx.scan(bucketRings, nil, nil, func(k key, v []byte) (bool, error) {
		r := keyReader{rest: k}
		e := DueEntry{At: r.time(), Kitchen: r.text(), Batch: r.num()}
		if e.At > t {
			return false, nil
		}
		e.is(r.num(), v)
		due = append(due, e)
		return len(due) != limit, nil
	})
	return due, err
}

// DueIn gives what falls due in a kitchen from one instant until just before another, the
// earliest first; limit 0 means all. It has the lapses, and every step that is not done; no
// alarm, which is between the bot and itself.
func (tx *Tx) DueIn(kitchen string, from, to Milli, limit int) ([]DueEntry, error) {
	var due []DueEntry
	prefix := key(nil).text(kitchen)
	err := tx.scan(bucketDue, prefix.join(key(nil).time(from)), prefix, func(k key, v []byte) (bool, error) {
		r := keyReader{rest: k[len(prefix):]}
		e := DueEntry{At: r.time(), Kitchen: kitchen, Batch: r.num()}
		if e.At >= to {
			return false, nil
		}
		e.is(r.num(), v)
		due = append(due, e)
		return len(due) != limit, nil
	})
	return due, err
}

// is reads what falls due from the number of a step and the value of a key.
func (e *DueEntry) is(step uint64, v []byte) {
	e.What, e.Step, e.Kind = DueStep, int(step), string(v[1:])
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
}

// dueKeys are the keys of what falls due; of is what tells it from others of its batch.
func dueKeys(kitchen string, batch uint64, at Milli, of key, how byte, kind string) []derived {
	var d []derived
	v := append([]byte{how}, kind...)
	if shows(how) {
		d = append(d, derived{bucketDue, key(nil).text(kitchen).time(at).num(batch).join(of), v})
	}
	if rings(how) {
		d = append(d, derived{bucketRings, key(nil).time(at).text(kitchen).num(batch).join(of), v})
	}
	return d
}

// dueKeys are the entries of a batch in the due list.
func (b *Batch) dueKeys() []derived {
	var d []derived
	add := func(at Milli, step int, how byte, kind string) {
		d = append(d, dueKeys(b.Kitchen, b.Number, at, key(nil).num(uint64(step)), how, kind)...)
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
