package store

type (
	// NotTaken says that a step or a reading of a batch was missed, and why. Nothing was measured.
	NotTaken struct {
		What    string `json:"what"` // the kind of step
		Step    int    `json:"step"` // index in the batch's steps; -1: it was not on the list
		Of      Milli  `json:"of"`   // when it was to be
		DayOnly bool   `json:"day_only,omitempty"`
		Over    bool   `json:"over,omitempty"` // it can't be done any more: nobody is reminded
		Why     string `json:"why"`
	}
	// PlaceNotRead says that a temperature of a place was not read, and why.
	PlaceNotRead struct {
		Place   string `json:"place"`
		Of      Milli  `json:"of"`
		DayOnly bool   `json:"day_only,omitempty"`
		Why     string `json:"why"`
	}
)

func (NotTaken) kind() string     { return "not taken" }
func (PlaceNotRead) kind() string { return "place not read" }

func (n NotTaken) words() []string        { return WordsIn(n.Why) }
func (n PlaceNotRead) pointsTo() []string { return []string{PlaceSubject(n.Place)} }
func (NotTaken) undoable() bool           { return true }

func (n NotTaken) apply(b *Batch, e Event) error {
	switch {
	case !b.State.runs():
		return misfit(e, b.State, MisfitState)
	case e.Person == "":
		return misfit(e, b.State, MisfitPerson)
	case n.What == "" || n.Why == "":
		return misfit(e, b.State, MisfitReading)
	case n.Step == -1:
	case !b.hasStep(n.Step) || b.Steps[n.Step].Kind != n.What:
		return misfit(e, b.State, MisfitStep)
	default:
		s := &b.Steps[n.Step]
		s.MissedWhy = n.Why
		if n.Over {
			s.Over, s.DoneBy, s.DoneAt, s.Again = true, e.Person, e.Happened, 0
		}
	}
	b.joined(e.Person)
	b.findNext()
	return nil
}

func (n PlaceNotRead) fold(b records, _ *Kitchen, e Event) error {
	p, known, err := loadPlace(b, e.Kitchen, n.Place)
	switch {
	case err != nil:
		return err
	case !known || p.Name != n.Place:
		return misfit(e, "", MisfitPlace)
	case n.Why == "":
		return misfit(e, "", MisfitReading)
	}
	return nil
}
