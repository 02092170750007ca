package bot

import (
	"salthand/grammar"
	"salthand/store"
)

// amend lays what was said over the dose phrase of a batch: a new revision of its dose card.
func (t *turn) amend(b store.Batch, c grammar.Amend) error {
	if b.State != store.StateAsked && b.State != store.StateApproved {
		return t.standing(b)
	}
	d, err := doseOf(b)
	if err != nil {
		return err
	}
	phrase := grammar.Canonical(d.With(c))
	now, err := grammar.Parse(phrase, grammar.Setting{}) // clauses may not go together
	if err != nil {
		t.reading.text = phrase
		return t.notUnderstood(err)
	}
	d, _ = now.Command.(grammar.Dose) // With makes no other
	return t.dose(d, b.Number)
}

// standing answers a change of a dose that can't be changed any more.
func (t *turn) standing(b store.Batch) error {
	l := t.theirs
	if b.Ended != 0 {
		return t.note(l.say("Batch %d has ended: its dose stands.", b.Number), l.say("A new batch begins in the channel, not in this thread."))
	}
	return t.note(l.say("Batch %d is in the cure: its dose stands as it was approved.", b.Number),
		l.say("For a wrong weight, type  correct weight 4.2 kg: reason ."))
}
