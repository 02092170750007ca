package store

import "slices"

// A batch that is frozen stands still: nothing of it falls due until its clock runs again.
type (
	// Paused stops the clock of a batch, from when it happened on.
	Paused struct {
		Why string `json:"why"`
	}
	// Resumed lets it run again, from Clock on. Moves are the open steps, put off by as long
	// as it stood.
	Resumed struct {
		Clock Milli  `json:"clock"` // when the piece was thawed; not before it happened
		Why   string `json:"why,omitempty"`
		Moves []Move `json:"moves,omitempty"`
	}
)

// Move is a step that is due at another time.
type Move struct {
	Step int  `json:"step"`
	To   Step `json:"to"`
}

// Pause is a stretch in which the clock of a batch stood.
type Pause struct {
	By   string `json:"by"`
	From Milli  `json:"from"`
	Why  string `json:"why"`
	Back Milli  `json:"back,omitempty"` // when it came out of the cold; 0: it stands
	To   Milli  `json:"to,omitempty"`   // when the clock ran again
	Till string `json:"till,omitempty"` // who said so
}

func (Paused) kind() string  { return "paused" }
func (Resumed) kind() string { return "resumed" }

func (Paused) undoable() bool  { return true }
func (Resumed) undoable() bool { return true }

// Paused tells whether the clock of the batch stands.
func (b *Batch) Paused() bool { return len(b.Pauses) > 0 && b.Pauses[len(b.Pauses)-1].Back == 0 }

func (p Paused) apply(b *Batch, e Event) error {
	switch {
	case !b.State.runs(), b.Paused(), e.Happened < b.StartedAt:
		return misfit(e, b.State, MisfitState)
	case len(b.Pauses) > 0 && e.Happened < b.Pauses[len(b.Pauses)-1].To:
		return misfit(e, b.State, MisfitState)
	}
	b.Pauses = append(slices.Clip(b.Pauses), Pause{By: e.Person, From: e.Happened, Why: p.Why})
	return nil
}

func (r Resumed) apply(b *Batch, e Event) error {
	if !b.Paused() || e.Happened < b.Pauses[len(b.Pauses)-1].From || r.Clock < e.Happened {
		return misfit(e, b.State, MisfitState)
	}
	if err := b.moveAll(e, r.Moves); err != nil {
		return err
	}
	b.Pauses = slices.Clone(b.Pauses)
	last := &b.Pauses[len(b.Pauses)-1]
	last.Back, last.To, last.Till = e.Happened, r.Clock, e.Person
	return nil
}

// Thawed corrects from when on the clock of a batch ran again after its last pause.
type Thawed struct {
	Clock Milli  `json:"clock"`
	Moves []Move `json:"moves,omitempty"`
}

func (Thawed) kind() string   { return "thawed" }
func (Thawed) undoable() bool { return true }

func (h Thawed) apply(b *Batch, e Event) error {
	if b.Paused() || len(b.Pauses) == 0 || h.Clock < b.Pauses[len(b.Pauses)-1].Back {
		return misfit(e, b.State, MisfitState)
	}
	if err := b.moveAll(e, h.Moves); err != nil {
		return err
	}
	b.Pauses = slices.Clone(b.Pauses)
	b.Pauses[len(b.Pauses)-1].To = h.Clock
	return nil
}

// moveAll moves steps, each of its own kind.
func (b *Batch) moveAll(e Event, moves []Move) error {
	for _, m := range moves {
		if !b.hasStep(m.Step) || b.Steps[m.Step].Kind != m.To.Kind {
			return misfit(e, b.State, MisfitStep)
		}
		b.move(m.Step, m.To)
	}
	b.findNext()
	return nil
}
