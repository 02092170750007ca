package store

import "fmt"

// Entry is a message that was taken, and is to be answered. The inbox is not folded from
// events: it is what has not become events yet.
type Entry struct {
	ID           string `json:"id"` // made of the message; the same message has the same
	Seq          uint64 `json:"seq"`
	Conversation string `json:"conversation"`
	Received     Milli  `json:"received"`
	Message      []byte `json:"message,omitempty"` // the caller's; dropped on closing, unless failed
	Tries        int    `json:"tries,omitempty"`
	Outcome      string `json:"outcome,omitempty"` // "": open
	Closed       Milli  `json:"closed,omitempty"`
}

// OutcomeFailed is the outcome of an entry that is kept whole, and never forgotten.
const OutcomeFailed = "failed"

// Receive keeps a message until it is closed, and gives it its number in the order of
// arrival. It is not fresh where its id is known, open or closed: nothing is changed then.
func (tx *Tx) Receive(e Entry) (fresh bool, err error) {
	if err := texts(e.ID); err != nil {
		return false, err
	}
	if tx.get(bucketInbox, key(e.ID)) != nil {
		return false, nil
	}
	if e.Seq, err = tx.next(bucketInbox); err != nil {
		return false, err
	}
	e.Tries, e.Outcome, e.Closed = 0, "", 0
	if err := save(tx, bucketInbox, key(e.ID), e); err != nil {
		return false, err
	}
	return true, tx.put(bucketWaiting, key(nil).num(e.Seq), []byte(e.ID))
}

// Waiting gives the open entries in the order of arrival; limit 0 means all.
func (tx *Tx) Waiting(limit int) ([]Entry, error) {
	var entries []Entry
	err := tx.scan(bucketWaiting, nil, nil, func(_ key, id []byte) (bool, error) {
		e, ok, err := load[Entry](tx, bucketInbox, key(id))
		if err == nil && !ok {
			err = fmt.Errorf("%w: waiting entry %q", errRecord, id)
		}
		entries = append(entries, e)
		return len(entries) != limit, err
	})
	return entries, err
}

// Entry gives an entry by its id, open or closed; false: never received, or forgotten.
func (tx *Tx) Entry(id string) (Entry, bool, error) { return load[Entry](tx, bucketInbox, key(id)) }

// Tried counts a turn that failed, and gives how many have. ErrClosed: there is no such open
// entry.
func (tx *Tx) Tried(id string) (tries int, err error) {
	e, err := tx.openEntry(id)
	if err != nil {
		return 0, err
	}
	e.Tries++
	return e.Tries, save(tx, bucketInbox, key(id), e)
}

// CloseEntry ends an entry: "done", or "failed". Its id is remembered. ErrClosed: there is no
// such open entry, so this turn was run already.
func (tx *Tx) CloseEntry(id, outcome string, at Milli) error {
	e, err := tx.openEntry(id)
	if err != nil {
		return err
	}
	if err := texts(outcome); err != nil {
		return err
	}
	e.Outcome, e.Closed = outcome, at
	if outcome != OutcomeFailed {
		e.Message = nil
		if err := tx.put(bucketDone, key(nil).time(at).num(e.Seq), []byte(id)); err != nil {
			return err
		}
	}
	if err := tx.del(bucketWaiting, key(nil).num(e.Seq)); err != nil {
		return err
	}
	return save(tx, bucketInbox, key(id), e)
}

// Forget drops the ids of at most limit entries that were closed before an instant, the
// oldest first, and gives how many; limit 0 means all. A platform may deliver a message again
// for days: keep at least seven. Failed entries stay.
func (tx *Tx) Forget(before Milli, limit int) (int, error) {
	var keys, ids []key
	err := tx.scan(bucketDone, nil, nil, func(k key, id []byte) (bool, error) {
		r := keyReader{rest: k}
		if r.time() >= before {
			return false, nil
		}
		keys, ids = append(keys, key(nil).join(k)), append(ids, key(nil).join(key(id)))
		return len(keys) != limit, nil
	})
	for i := 0; err == nil && i < len(keys); i++ {
		if err = tx.del(bucketInbox, ids[i]); err == nil {
			err = tx.del(bucketDone, keys[i])
		}
	}
	if err != nil {
		return 0, err
	}
	return len(keys), nil
}

func (tx *Tx) openEntry(id string) (Entry, error) {
	e, ok, err := load[Entry](tx, bucketInbox, key(id))
	if err == nil && (!ok || e.Outcome != "") {
		err = ErrClosed
	}
	return e, err
}
