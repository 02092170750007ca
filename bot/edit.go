package bot

import (
	"errors"

	"salthand/grammar"
	"salthand/store"
)

// changed is a message that was edited or deleted after the bot had taken it.
type changed struct {
	ask      *store.Batch // the batch that it asked for; nil: it asked for none
	question bool         // the question that it led to is still open
}

// changeOf tells what became of a message that is edited or deleted now; nil: the bot never
// took it, or it is neither.
func changeOf(tx *store.Tx, kitchen string, m Message, batches []uint64) (*changed, error) {
	if m.What != Edited && m.What != Deleted {
		return nil, nil
	}
	_, taken, err := tx.Entry(m.saidID())
	if err != nil {
		return nil, err
	}
	for i, n := range batches {
		b, ok, err := tx.Batch(kitchen, n)
		if err != nil || !ok {
			return nil, err
		}
		// The first batch of a thread was asked for by the message that began it, even where
		// a question came between.
		if i == 0 && m.Place.Thread == m.Said {
			return &changed{ask: &b}, nil
		}
		events, err := tx.Events(kitchen, n)
		if err != nil {
			return nil, err
		}
		if len(events) > 0 && events[0].Entry == m.saidID() {
			return &changed{ask: &b}, nil
		}
	}
	if !taken {
		return nil, nil
	}
	q, err := openQuestion(tx, m, "")
	return &changed{question: q != nil && q.Entry == m.saidID()}, err
}

// saidID is the inbox id of the message that an edit or a deletion is of.
func (m Message) saidID() string { return m.Place.channel().String() + m.Said }

// change answers an edit or a deletion.
func (t *turn) change() error {
	c := t.reading.changed
	switch {
	case c.question:
		t.reading.asked = &openNote{Asker: t.person.ID}
		if err := t.closeQuestion(); err != nil {
			return err
		}
		if t.m.What == Deleted {
			return nil
		}
		t.reading.asked = nil
		if t.reading.err != nil {
			return t.notUnderstood(t.reading.err)
		}
		return t.answer(t.reading.phrase)
	case c.ask == nil:
		return t.note(t.theirs.say("That line was taken when it was typed: to edit or delete it changes nothing."), t.theirs.say("Type what you mean as a new line."))
	case t.m.What == Deleted:
		return t.deletedAsk(*c.ask)
	}
	return t.editedAsk(*c.ask)
}

// editedAsk takes the new text of an ask as the whole of it.
func (t *turn) editedAsk(b store.Batch) error {
	d, ok := t.reading.phrase.Command.(grammar.Dose)
	ok = ok && !d.JustAsking && t.reading.err == nil && t.reading.phrase.Batch == 0
	if d.Recipe == b.Card.Recipe && d.RecipeVersion == 0 {
		d.RecipeVersion = b.Card.RecipeVersion // it was asked by that one
	}
	var question *grammar.Question
	switch {
	case ok && grammar.Canonical(d) == b.Card.Phrase:
		return nil // nothing that is read has changed
	case b.State != store.StateAsked && b.State != store.StateApproved:
		return t.standing(b)
	case ok:
		return t.dose(d, b.Number)
	case errors.As(t.reading.err, &question):
		return t.notUnderstood(t.reading.err)
	}
	return t.note(t.theirs.say("The edited line is no dose phrase: batch %d stands as it was asked.", b.Number), t.theirs.say("To end it, type  never mind  in its thread."))
}

// deletedAsk ends a batch whose ask was deleted before it was approved.
func (t *turn) deletedAsk(b store.Batch) error {
	switch {
	case b.Ended != 0:
		return nil
	case b.State != store.StateAsked:
		return t.note(t.theirs.say("Batch %d stands, though its ask was deleted.", b.Number), t.theirs.say("To end it, type  discard: reason ."))
	}
	if err := t.append(b.Number, store.Lapsed{Why: "deleted"}); err != nil {
		return err
	}
	return t.note(t.theirs.say("Batch %d is off: its ask was deleted before it was approved.", b.Number))
}
