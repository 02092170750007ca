package store

// What became of the reminders of a step.
type (
	// Reminded is a reminder put into the outbox, or kept back.
	Reminded struct {
		Step  int    `json:"step"`
		Kept  string `json:"kept,omitempty"`  // why it was not said: "held", "moot"; "" where it was
		Again Milli  `json:"again,omitempty"` // when the next to be told is told, if nobody acts; 0: never
	}
	// ReminderMoved is a reminder given at another time than the step is due.
	ReminderMoved struct {
		Step int    `json:"step"`
		To   Milli  `json:"to"`
		Why  string `json:"why"` // "quiet", "closed", "away"
	}
	// Acknowledged is somebody who takes a step on: nobody else is told of it.
	Acknowledged struct {
		Step int `json:"step"`
	}
	// Escalated is a step that nobody acted on, told to somebody else.
	Escalated struct {
		Step  int    `json:"step"`
		To    string `json:"to"`              // "backup", "chefs"
		Again Milli  `json:"again,omitempty"` // as in Reminded
	}
)

func (Reminded) kind() string      { return "reminded" }
func (ReminderMoved) kind() string { return "reminder moved" }
func (Acknowledged) kind() string  { return "acknowledged" }
func (Escalated) kind() string     { return "escalated" }

func (Acknowledged) undoable() bool { return true }

// apply allows a reminder that was kept back to be given later.
func (r Reminded) apply(b *Batch, e Event) error {
	if !b.hasStep(r.Step) || b.Steps[r.Step].Reminded && b.Steps[r.Step].Kept == "" {
		return misfit(e, b.State, MisfitStep)
	}
	s := &b.Steps[r.Step]
	s.Reminded, s.Kept, s.Again = true, r.Kept, r.Again
	return nil
}

func (m ReminderMoved) apply(b *Batch, e Event) error {
	if !b.hasStep(m.Step) || b.Steps[m.Step].Reminded {
		return misfit(e, b.State, MisfitStep)
	}
	b.Steps[m.Step].Ring = m.To
	return nil
}

func (a Acknowledged) apply(b *Batch, e Event) error {
	if !b.hasStep(a.Step) || !b.Steps[a.Step].Reminded {
		return misfit(e, b.State, MisfitStep)
	}
	b.Steps[a.Step].Again, b.Steps[a.Step].TakenBy = 0, e.Person
	b.joined(e.Person)
	return nil
}

func (x Escalated) apply(b *Batch, e Event) error {
	if !b.hasStep(x.Step) || !b.Steps[x.Step].Reminded {
		return misfit(e, b.State, MisfitStep)
	}
	b.Steps[x.Step].Again, b.Steps[x.Step].Told = x.Again, x.To
	return nil
}
