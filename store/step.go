package store

// StepDropped is a step that is not to be done. It stays on show.
type StepDropped struct {
	Step int    `json:"step"`
	Why  string `json:"why"`
}

func (StepDropped) kind() string   { return "step dropped" }
func (StepDropped) undoable() bool { return true }

// Closed tells whether nothing is to be done about a step any more.
func (s StepState) Closed() bool { return s.Done || s.Dropped || s.Over }

// RingAt is when somebody is to be reminded of the step.
func (s StepState) RingAt() Milli {
	if s.Ring != 0 {
		return s.Ring
	}
	return s.Due
}

// Ready tells whether a step waits for no other: the one that it comes after is done or dropped.
func (b *Batch) Ready(i int) bool {
	on := b.Steps[i].On
	return on <= 0 || on > len(b.Steps) || b.Steps[on-1].Closed()
}

func (d StepDropped) apply(b *Batch, e Event) error {
	if !b.hasStep(d.Step) {
		return misfit(e, b.State, MisfitStep)
	}
	s := &b.Steps[d.Step]
	s.Dropped, s.DoneBy, s.DoneAt, s.DropWhy = true, e.Person, e.Happened, d.Why
	b.findNext()
	return nil
}

// move gives a step another time, and lets it be reminded of again.
func (b *Batch) move(i int, to Step) {
	s := &b.Steps[i]
	s.Step, s.Reminded, s.Kept, s.Again, s.Told, s.TakenBy, s.Ring = to, false, "", 0, "", "", 0
}

// hasStep tells whether there is such a step still to be done.
func (b *Batch) hasStep(i int) bool { return i >= 0 && i < len(b.Steps) && !b.Steps[i].Closed() }
