package bot

import (
	"context"
	"fmt"
	"slices"
	"time"

	"salthand/store"
)

// lookAtLeast is how often the due list is looked at when nothing wakes the watch: a clock
// that is set, or a computer that slept, is noticed within it.
const lookAtLeast = 30 * time.Second

// dueAtOnce is how many due entries one tick takes up before it looks again.
const dueAtOnce = 1000

// watch ticks whenever something falls due, until ctx ends.
func (b *Bot) watch(ctx context.Context) error {
	for {
		if err := b.Tick(ctx); err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			return fmt.Errorf("the due list: %w", err)
		}
		wait := lookAtLeast
		if next, ok, err := b.NextDue(); err != nil {
			return err
		} else if ok {
			wait = max(0, min(wait, next.Sub(b.Now())))
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-b.wake:
		case <-time.After(wait):
		}
	}
}

// NextDue is when the next step, lapse or alarm falls due.
func (b *Bot) NextDue() (at time.Time, ok bool, err error) {
	err = b.Store.View(func(tx *store.Tx) error {
		due, err := tx.DueUntil(endOfTime, 1)
		if len(due) > 0 {
			at, ok = timeOf(due[0].At), true
		}
		return err
	})
	return at, ok, err
}

// endOfTime is after everything: the last instant that fits.
const endOfTime = store.Milli(1<<63 - 1)

// Tick does what is due by now: lapses what nobody approved or started in time, and puts
// reminders into the outbox. What fell due while the bot was away is sent once.
func (b *Bot) Tick(ctx context.Context) error {
	for {
		now := milli(b.Now())
		var due []store.DueEntry
		err := b.Store.View(func(tx *store.Tx) error {
			var err error
			due, err = tx.DueUntil(now, dueAtOnce)
			return err
		})
		if err != nil {
			return err
		}
		if len(due) == 0 {
			b.send()
			return nil
		}
		slices.SortStableFunc(due, byWhatIsTold)
		for len(due) > 0 {
			n := toldTogether(due)
			err := b.Store.Update(ctx, func(tx *store.Tx) error { return b.fallDue(tx, due[:n], now) })
			if err != nil {
				return fmt.Errorf("batch %d: %w", due[0].Batch, err)
			}
			due = due[n:]
		}
	}
}

// fallDue does what due entries say that are told together, if they still stand.
func (b *Bot) fallDue(tx *store.Tx, due []store.DueEntry, now store.Milli) error {
	d := due[0]
	kitchen, ok, err := tx.Kitchen(d.Kitchen)
	if err != nil || !ok {
		return err
	}
	t := &turn{tx: tx, zones: b.zones, id: fmt.Sprintf("due/%s/%d/%s/%d", d.Kitchen, d.Batch, d.What, d.At), now: now}
	t.in(kitchen)
	switch {
	case d.Batch == 0:
		return t.kitchenAlarm(d)
	case d.What == store.DueStep:
		err = t.remindAll(due)
	case d.What == store.DueAgain:
		err = t.escalateAll(due)
	default:
		err = t.oneDue(d)
	}
	if err != nil {
		return err
	}
	return t.finishUp()
}

// oneDue does what a due entry of a batch says that is told by itself.
func (t *turn) oneDue(d store.DueEntry) error {
	b, ok, err := t.tx.Batch(d.Kitchen, d.Batch)
	if err != nil || !ok {
		return err
	}
	if err := t.toBatch(b); err != nil {
		return err
	}
	if d.What == store.DueLapse {
		return t.lapse(b)
	}
	return t.alarm(b, d)
}

// toBatch makes the turn speak in the thread of a batch, and in the tongue of who asked for it.
func (t *turn) toBatch(b store.Batch) error {
	var err error
	if t.place, err = placeOfBatch(b); err != nil {
		return err
	}
	asker, _, err := t.tx.Person(t.kitchen.ID, b.AskedBy)
	t.theirs = tongueNamed(asker.Language, t.ours)
	return err
}

// appendOwn writes an event of the bot's own.
func (t *turn) appendOwn(batch uint64, body store.Body) error {
	t.touch(batch, body)
	_, err := t.tx.Append(store.Event{Kitchen: t.kitchen.ID, Batch: batch, Entry: t.id, Happened: t.now, Noted: t.now, Body: body})
	return err
}

func (t *turn) lapse(b store.Batch) error {
	if b.Lapse == 0 || b.Lapse > t.now {
		return nil
	}
	why, words := "not approved", msg("Batch %d has lapsed: nobody approved it the same day.")
	if b.State == store.StateApproved {
		why, words = "not started", msg("Batch %d has lapsed: it was approved and not started within 24 h.")
		if t.weighingOn() {
			why, words = "not weighed", msg("Batch %d has lapsed: it was approved and not weighed within 24 h.")
		}
	}
	if err := t.appendOwn(b.Number, store.Lapsed{Why: why}); err != nil {
		return err
	}
	return t.post(t.both(func(l tongue) Card {
		return Card{Kind: NoteCard, Title: l.say(words, b.Number), Next: l.say("Type the phrase in the channel once more if it is still wanted.")}
	}))
}
