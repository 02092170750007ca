package store

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
)

// Append gives an event its number, writes it, and folds it into the records. An event that
// can't have happened is refused: *FoldError, or ErrEvent. The caller has decided that it may.
func (tx *Tx) Append(e Event) (uint64, error) {
	if e.Body == nil || e.Kitchen == "" || reflect.TypeOf(e.Body).Kind() == reflect.Pointer { // it would be read back as a value
		return 0, ErrEvent
	}
	if err := texts(e.Kitchen); err != nil {
		return 0, err
	}
	e.Seq = tx.last(bucketEvents) + 1
	plan := &planned{reader: tx}
	if err := fold(plan, e); err != nil {
		return 0, err // nothing was written
	}
	data, err := encodeEvent(e)
	if err != nil {
		return 0, err
	}
	if _, err := tx.next(bucketEvents); err != nil {
		return 0, err
	}
	if err := tx.put(bucketEvents, key(nil).num(e.Seq), data); err != nil {
		return 0, err
	}
	return e.Seq, plan.write(tx)
}

// fold is the one way from an event to records. Append and Verify both go through it.
func fold(b records, e Event) error {
	k, known, err := loadKitchen(b, e.Kitchen)
	if err != nil {
		return err
	}
	if _, opens := e.Body.(KitchenOpened); opens == known {
		return misfit(e, "", MisfitKitchen)
	}
	subjects := []string{}
	switch body := e.Body.(type) {
	case kitchenBody:
		if e.Batch != 0 {
			return misfit(e, "", MisfitBatch)
		}
		before := k.Alarms
		if err := body.fold(b, &k, e); err != nil {
			return err
		}
		if err := saveKitchen(b, k); err != nil {
			return err
		}
		if err := replace(b, before.keys(k.ID, 0), k.Alarms.keys(k.ID, 0)); err != nil {
			return err
		}
		subjects = append(subjects, ofKitchen)
	case batchBody, Asked, Undone, Corrected:
		if err := foldBatch(b, k, e); err != nil {
			return err
		}
	default:
		return ErrEvent
	}
	if also, ok := e.Body.(pointer); ok {
		subjects = append(subjects, also.pointsTo()...)
	}
	return leaveTrail(b, e, subjects)
}

// foldBatch folds an event of a batch: the record first, then what is derived from it.
func foldBatch(b records, k Kitchen, e Event) error {
	old, known, err := loadBatch(b, e.Kitchen, e.Batch)
	if err != nil {
		return err
	}
	now := old
	if asked, ok := e.Body.(Asked); ok {
		if e.Batch != k.Batches+1 {
			return misfit(e, old.State, MisfitBatch)
		}
		if now, err = newBatch(e, asked); err != nil {
			return err
		}
		k.Batches++
		if err := saveKitchen(b, k); err != nil {
			return err
		}
	} else {
		if !known {
			return misfit(e, "", MisfitBatch)
		}
		now.Steps = slices.Clone(old.Steps)
		switch body := e.Body.(type) {
		case Undone:
			now, err = undo(b, old, e, body)
		case Corrected:
			now, err = correct(b, old, e, body)
		default:
			err = now.apply(e)
		}
		if err != nil {
			return err
		}
	}
	var before []derived
	if known {
		before = old.derived()
	}
	return saveBatch(b, before, now, e)
}

// foldInto folds an event of the kitchen into a batch that it is about too.
func foldInto(b records, e Event, batch uint64) error {
	old, known, err := loadBatch(b, e.Kitchen, batch)
	if err != nil {
		return err
	}
	if !known {
		return misfit(e, "", MisfitBatch)
	}
	now := old
	if err := now.apply(e); err != nil {
		return err
	}
	return saveBatch(b, old.derived(), now, e)
}

// saveBatch saves a record that an event has changed, with what is derived from it.
func saveBatch(b records, before []derived, now Batch, e Event) error {
	now.Events = append(slices.Clip(now.Events), e.Seq)
	if err := storeBatch(b, now); err != nil {
		return err
	}
	if err := indexWords(b, e, tail(now.AskedAt, now.Number)); err != nil {
		return err
	}
	return replace(b, before, now.derived())
}

// derived is a key that follows from a batch record.
type derived struct {
	bucket bucket
	key    key
	value  []byte
}

// derived gives all keys that follow from a record. Nothing else makes or removes one.
func (b *Batch) derived() []derived {
	thread := derived{bucketThreads, key(nil).text(b.Conversation).text(b.Kitchen).num(b.Number), threadEnded}
	if b.Open() {
		thread.value = threadOpen
	}
	return append(append(b.lookKeys(), thread), b.dueKeys()...)
}

func replace(b records, before, after []derived) error {
	same := func(x derived) func(derived) bool {
		return func(y derived) bool {
			return x.bucket == y.bucket && bytes.Equal(x.key, y.key) && bytes.Equal(x.value, y.value)
		}
	}
	for _, d := range before {
		if !slices.ContainsFunc(after, same(d)) {
			if err := b.del(d.bucket, d.key); err != nil {
				return err
			}
		}
	}
	for _, d := range after {
		if !slices.ContainsFunc(before, same(d)) {
			if err := b.put(d.bucket, d.key, d.value); err != nil {
				return err
			}
		}
	}
	return nil
}

func misfit(e Event, s State, why Misfit) error {
	return &FoldError{Kind: e.Kind(), Kitchen: e.Kitchen, Batch: e.Batch, State: s, Why: why}
}

// planned collects what a fold writes, so that one that is refused has written nothing.
type planned struct {
	reader
	puts []derived // value nil: delete
}

func (p *planned) get(in bucket, k key) []byte {
	for _, d := range slices.Backward(p.puts) {
		if d.bucket == in && bytes.Equal(d.key, k) {
			return d.value
		}
	}
	return p.reader.get(in, k)
}

func (p *planned) put(in bucket, k key, v []byte) error {
	p.puts = append(p.puts, derived{in, k, v})
	return nil
}

func (p *planned) del(in bucket, k key) error {
	p.puts = append(p.puts, derived{in, k, nil})
	return nil
}

func (p *planned) write(b records) error {
	for _, d := range p.puts {
		var err error
		if d.value == nil {
			err = b.del(d.bucket, d.key)
		} else {
			err = b.put(d.bucket, d.key, d.value)
		}
		if err != nil {
			return fmt.Errorf("%v: %w", d.bucket, err)
		}
	}
	return nil
}
