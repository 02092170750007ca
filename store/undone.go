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

// undo folds a batch's events anew without those that an Undone names.
func undo(from reader, b Batch, e Event, u Undone) (Batch, error) {
	no := func(why Misfit) (Batch, error) { return b, misfit(e, b.State, why) }
	if e.Person == "" {
		return no(MisfitPerson)
	}
	if len(u.Events) == 0 {
		return no(MisfitUndone)
	}
	for _, seq := range u.Events {
		if !slices.Contains(b.Events, seq) || slices.Contains(b.Undone, seq) {
			return no(MisfitUndone)
		}
	}
	past, err := pastOf(from, b, e)
	if err != nil {
		return b, err
	}
	for _, one := range past {
		if slices.Contains(u.Events, one.Seq) && (one.Person != e.Person || !canUndo(one.Body)) {
			return no(MisfitUndone)
		}
	}
	return b.anew(from, past, append(slices.Clip(b.Undone), u.Events...))
}

// anew folds a batch from its events, of which the last is the one that is folded now: without
// those that are gone, and each as its corrections have it. What was appended to its steps leaves
// its place behind, so that an index once given is kept; a step that is to be done again is
// reminded of again. It refuses where something that came after does not fit any more.
func (b Batch) anew(from reader, past []Event, gone []uint64) (Batch, error) {
	e := past[len(past)-1]
	refused := MisfitUndone
	if _, ok := e.Body.(Corrected); ok {
		refused = MisfitCorrected
	}
	var now Batch
	for i, one := range past {
		is := asCorrected(past, one)
		one.Body, one.Happened = is.Body, is.Happened
		var err error
		switch body := one.Body.(type) {
		case Asked:
			if now, err = newBatch(one, body); err != nil {
				return b, err
			}
		case Undone:
			now.remindAgain(from, body)
		case Corrected:
			now.corrected(one, body)
		default:
			if slices.Contains(gone, one.Seq) {
				now.passOver(one.Body)
			} else if now.apply(one) != nil && !aside(one) && !now.outdated(one) {
				return b, misfit(e, b.State, refused)
			}
		}
		if i < len(past)-1 {
			now.Events = append(now.Events, one.Seq)
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

// outdated tells whether an event is the second reading of a weighing that reads otherwise since
// it was corrected: it counts no more.
func (b *Batch) outdated(e Event) bool {
	c, ok := e.Body.(Checked)
	return ok && b.State == StateWeighed && (c.CureMg != b.Weighing.CureMg || c.Jar != b.Jar || c.Filling != b.Filling)
}
