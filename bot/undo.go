package bot

import (
	"errors"
	"slices"

	"salthand/store"
)

// undoWithin is how long one's own entry can be taken back.
const undoWithin = lateAfter

// undo takes back the person's own last entry in a batch: all events of one message.
func (t *turn) undo(b store.Batch) error {
	l := t.theirs
	events, err := t.tx.Events(t.kitchen.ID, b.Number)
	if err != nil {
		return err
	}
	var last *store.Event
	for i := range events {
		e := &events[i]
		if _, undone := e.Body.(store.Undone); e.Person == t.person.ID && !undone && !slices.Contains(b.Undone, e.Seq) && (last == nil || last.Entry != e.Entry) {
			last = e
		}
	}
	instead := l.say("If it is wrong, type  hold: what is wrong : a chef decides.")
	switch {
	case last == nil:
		return t.note(l.say("You have no entry in batch %d to take back.", b.Number), instead)
	case (t.now - last.Noted).Duration() > undoWithin:
		return t.note(l.say("Your last entry in batch %d is more than 15 minutes old: it stays.", b.Number), instead)
	}
	var body store.Undone
	for _, e := range events {
		if e.Entry == last.Entry && e.Person == last.Person {
			body.Events = append(body.Events, e.Seq)
		}
	}
	what, err := t.eventLine(*last, t.zone)
	if err != nil {
		return err
	}
	err = t.append(b.Number, body)
	var misfit *store.FoldError
	switch {
	case errors.As(err, &misfit):
		return t.note(l.say("Your last entry in batch %d can't be undone.", b.Number), instead)
	case err != nil:
		return err
	}
	if err := t.note(l.say("Undone in batch %d: %s. Both stay in the record.", b.Number, what)); err != nil {
		return err
	}
	return t.backAgain(b.Number)
}
