package store

import "slices"

// ofKitchen is the subject of all that is not of a batch.
const ofKitchen = "kitchen"

// leaveTrail makes an event findable by what it is about.
func leaveTrail(b records, e Event, subjects []string) error {
	for _, s := range subjects {
		if err := texts(s); err != nil {
			return err
		}
		if err := b.put(bucketTrail, key(nil).text(e.Kitchen).text(s).num(^e.Seq), present); err != nil {
			return err
		}
	}
	return nil
}

// Trail gives the events of a subject of the kitchen ("jar A7", "place walk-in 2"; "kitchen"
// for all that are not of a batch), newest first: those with a number below before, or all
// where that is 0; limit 0 means no limit.
func (tx *Tx) Trail(kitchen, subject string, before uint64, limit int) ([]Event, error) {
	prefix := key(nil).text(kitchen).text(subject)
	from := prefix
	if before > 0 {
		from = prefix.join(key(nil).num(^(before - 1)))
	}
	var events []Event
	err := tx.scan(bucketTrail, from, prefix, func(k key, _ []byte) (bool, error) {
		r := keyReader{rest: k[len(prefix):]}
		e, err := tx.event(^r.num())
		if err != nil {
			return false, err
		}
		events = append(events, e)
		return len(events) != limit, nil
	})
	return events, err
}

// KitchenEvents gives what happened to a kitchen and is not of a batch, in order.
func (tx *Tx) KitchenEvents(kitchen string) ([]Event, error) {
	events, err := tx.Trail(kitchen, ofKitchen, 0, 0)
	slices.Reverse(events)
	return events, err
}
