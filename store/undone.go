package store

import "slices"

// undoable bodies can be taken back by whoever they are of. A dose that was read twice or is in
// the meat and an approval that was acted on are corrected instead; of an end, only one of a
// batch that nothing was weighed for.
type undoable interface{ undoable() bool }

func (StepDone) undoable() bool  { return true }
func (StepMoved) undoable() bool { return true }
func (Declined) undoable() bool  { return true }
func (Approved) undoable() bool  { return true }
func (Weighed) undoable() bool   { return true }
func (l Lapsed) undoable() bool  { return l.Why == "never mind" }

func canUndo(b Body) bool {
	u, ok := b.(undoable)
	return ok && u.undoable()
}

// undo folds a batch's events anew without those that an Undone names. What was appended to
// its steps leaves its place behind, so that an index once given is kept; a step that is to
// be done again is reminded of again.
func undo(from reader, b Batch, e Event, u Undone) (Batch, error) {
	no := func(why Misfit) (Batch, error) { return b, misfit(e, b.State, why) }
	if e.Person == "" {
		return no(MisfitPerson)
	}
	if len(u.Events) == 0 {
		return no(MisfitUndone)
	}
	gone := append(slices.Clip(b.Undone), u.Events...)
	for _, seq := range u.Events {
		if !slices.Contains(b.Events, seq) || slices.Contains(b.Undone, seq) {
			return no(MisfitUndone)
		}
	}
	var now Batch
	for i, seq := range append(slices.Clip(b.Events), e.Seq) {
		past := e
		if seq != e.Seq {
			var err error
			if past, err = decodeEvent(seq, from.get(bucketEvents, key(nil).num(seq))); err != nil {
				return b, err
			}
		}
		if slices.Contains(u.Events, seq) && (past.Person != e.Person || !canUndo(past.Body)) {
			return no(MisfitUndone)
		}
		var err error
		switch body := past.Body.(type) {
		case Asked:
			if now, err = newBatch(past, body); err != nil {
				return b, err
			}
		case Undone:
			now.remindAgain(from, body)
		default:
			if slices.Contains(gone, seq) {
				now.passOver(past.Body)
			} else if now.apply(past) != nil && !aside(past) {
				return no(MisfitUndone) // something that came after it rests on it
			}
		}
		if i < len(b.Events) {
			now.Events = append(now.Events, seq)
		}
	}
	now.Undone = gone
	return now, nil
}

// passOver keeps the place of a step that an undone event appended.
func (b *Batch) passOver(body Body) {
	var kind string
	switch body := body.(type) {
	case StepDone:
		if body.Step == -1 {
			kind = body.Kind
		}
	case StepMoved:
		if body.Step == -1 {
			kind = body.To.Kind
		}
	}
	if kind != "" {
		b.Steps = append(b.Steps, StepState{Step: Step{Kind: kind}, Done: true, Unlisted: true, Undone: true})
	}
}

// remindAgain puts the steps that undone events had closed or moved back on the due list.
func (b *Batch) remindAgain(from reader, u Undone) {
	for _, seq := range u.Events {
		e, err := decodeEvent(seq, from.get(bucketEvents, key(nil).num(seq)))
		if err != nil {
			continue // it was read just before
		}
		step := -1
		switch body := e.Body.(type) {
		case StepDone:
			step = body.Step
		case StepMoved:
			step = body.Step
		case StepDropped:
			step = body.Step
		}
		if b.hasStep(step) {
			b.move(step, b.Steps[step].Step)
		}
	}
	b.findNext()
}

// aside tells whether an event is one of the bot's own reminders: it goes with the step that
// it was about.
func aside(e Event) bool {
	switch e.Body.(type) {
	case Reminded, ReminderMoved, Escalated:
		return e.Person == ""
	}
	return false
}
