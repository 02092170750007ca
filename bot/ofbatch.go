package bot

import (
	"fmt"
	"strings"

	"salthand/grammar"
	"salthand/store"
)

// batch takes a command of one batch.
func (t *turn) batch(p grammar.Phrase) error {
	b, ok, err := t.meant(p)
	if err != nil || !ok {
		return err
	}
	// What is said in the channel about a batch is answered there; the record is the batch's.
	switch c := p.Command.(type) {
	case grammar.Amend:
		return t.amend(b, c)
	case grammar.CorrectWeight:
		return t.correctWeight(b, c)
	case grammar.Added:
		return t.added(b, c)
	case grammar.Correct:
		return t.correctEntry(b, c)
	case grammar.WeighedIn:
		return t.weighedIn(b, c)
	case grammar.Seen:
		return t.seen(b, c)
	case grammar.ShowBatch:
		return t.show(b)
	case grammar.Print:
		return t.print(b, c.What)
	case grammar.Approve:
		return t.approve(b, c)
	case grammar.Decline:
		return t.decline(b, c.Why)
	case grammar.Undo:
		return t.undo(b)
	case grammar.NeverMind:
		return t.neverMind(b)
	case grammar.Start:
		return t.start(b)
	case grammar.Did:
		return t.did(b, c)
	case grammar.NotTaken:
		return t.notTaken(b, c)
	case grammar.Snooze:
		return t.snooze(b, c.For)
	case grammar.Remind:
		return t.remind(b, c)
	case grammar.ShowSteps:
		return t.listSteps(b)
	case grammar.MoveStep:
		return t.moveStep(b, c)
	case grammar.DropStep:
		return t.dropStep(b, c)
	case grammar.Soak:
		return t.soak(b, c)
	case grammar.Pause:
		return t.pause(b, c)
	case grammar.Resume:
		return t.resume(b, c)
	case grammar.OnIt:
		return t.onIt(b)
	case grammar.SetOwner:
		return t.setOwner(b, c)
	case grammar.SetBackup:
		return t.setBackup(b, c)
	case grammar.Finish:
		return t.finish(b)
	case grammar.HoldIt:
		return t.hold(b, c)
	case grammar.ReleaseIt:
		return t.release(b, c)
	case grammar.PutIn:
		return t.putIn(b, c)
	case grammar.WhereIs:
		return t.whereIs(b)
	case grammar.WeighsNow:
		return t.weighsNow(b, c)
	case grammar.Measured:
		return t.measured(b, c)
	case grammar.ServedIt:
		return t.served(b, c)
	case grammar.MeatFrom:
		return t.meatFrom(b, c)
	case grammar.AddIngredient:
		return t.addIngredient(b, c)
	case grammar.AskAllergens:
		return t.askAllergens(b)
	case grammar.Discard:
		return t.discard(b, c.Why)
	}
	return fmt.Errorf("bot: no turn for %T", p.Command)
}

// meant is the batch that a command is about: the one it names, or the one open in this
// conversation. Where that is not one batch, it asks back and ok is false.
func (t *turn) meant(p grammar.Phrase) (b store.Batch, ok bool, err error) {
	n := p.Batch
	switch {
	case n != 0:
	case len(t.reading.open) == 1:
		n = t.reading.open[0]
	case len(t.reading.open) > 1:
		return b, false, t.whichBatch(p.Command, t.reading.open)
	case len(t.reading.batches) > 0:
		n = t.reading.batches[len(t.reading.batches)-1]
	default:
		return b, false, t.note(t.theirs.say("Which batch?"), t.theirs.say("Name it, like  batch 3: %s , or type in its thread.", grammar.Canonical(p.Command)))
	}
	b, ok, err = t.tx.Batch(t.kitchen.ID, n)
	if err == nil && !ok {
		return b, false, t.note(t.theirs.say("There is no batch %d.", n), t.theirs.say("Type  who cured what  to see what there is."))
	}
	return b, ok, err
}

// whichBatch asks which of several open batches is meant.
func (t *turn) whichBatch(c grammar.Command, open []uint64) error {
	var choices []grammar.Choice
	var labels []string
	for _, n := range open {
		label := fmt.Sprintf("batch %d", n)
		choices = append(choices, grammar.Choice{Label: label, Phrase: label + ": " + grammar.Canonical(c)})
		labels = append(labels, label)
	}
	card := Card{Kind: QuestionCard, Title: strings.Join(labels, t.theirs.say(" or ")) + "?", Choices: labels, Next: answerWith(t.theirs, labels, "")}
	return t.ask(card, choices, "")
}
