package store

import "slices"

// newBatch is the record of a batch just asked for.
func newBatch(e Event, a Asked) (Batch, error) {
	switch {
	case e.Person == "":
		return Batch{}, misfit(e, "", MisfitPerson)
	case a.Card.Revision != 1:
		return Batch{}, misfit(e, "", MisfitRevision)
	}
	if err := texts(a.Conversation, a.Card.Cut, e.Person); err != nil {
		return Batch{}, err
	}
	b := Batch{
		Kitchen: e.Kitchen, Number: e.Batch, State: StateAsked, Revision: 1, Card: a.Card, CardEvent: e.Seq,
		Conversation: a.Conversation, Place: a.Place, AskedBy: e.Person, AskedAccount: e.Account, AskedVia: e.Via, AskedAt: e.Happened,
		Revisions: []Made{{By: e.Person, At: e.Noted}}, Next: -1, Lapse: a.Lapse,
	}
	b.joined(e.Person)
	return b, nil
}

// apply changes the record by one event, or refuses it.
func (b *Batch) apply(e Event) error {
	body, ok := e.Body.(batchBody)
	switch {
	case !ok:
		return ErrEvent
	case !b.Open():
		return misfit(e, b.State, MisfitState)
	}
	return body.apply(b, e)
}

func (d Declined) apply(b *Batch, e Event) error { return b.endWaiting(e, StateDeclined, d.Why) }

func (l Lapsed) apply(b *Batch, e Event) error { return b.endWaiting(e, StateLapsed, l.Why) }

// endWaiting ends a batch that nothing was put into the cure for.
func (b *Batch) endWaiting(e Event, s State, why string) error {
	if !b.State.waits() {
		return misfit(e, b.State, MisfitState)
	}
	b.end(e, s, why)
	return nil
}

func (d Discarded) apply(b *Batch, e Event) error {
	b.end(e, StateDiscarded, d.Why)
	return nil
}

func (Finished) apply(b *Batch, e Event) error {
	switch {
	case !b.State.runs():
		return misfit(e, b.State, MisfitState)
	case b.Held():
		return misfit(e, b.State, MisfitHold)
	}
	b.end(e, StateFinished, "")
	return nil
}

func (r Revised) apply(b *Batch, e Event) error {
	switch {
	case !b.State.waits():
		return misfit(e, b.State, MisfitState)
	case r.Card.Revision != b.Revision+1:
		return misfit(e, b.State, MisfitRevision)
	}
	if err := texts(r.Card.Cut); err != nil {
		return err
	}
	b.State, b.Approval = StateAsked, nil
	b.Card, b.CardEvent, b.Revision, b.Lapse = r.Card, e.Seq, r.Card.Revision, r.Lapse
	b.Revisions = append(slices.Clip(b.Revisions), Made{By: e.Person, At: e.Noted})
	return nil
}

func (c WeightCorrected) apply(b *Batch, e Event) error {
	switch {
	case !b.State.runs():
		return misfit(e, b.State, MisfitState)
	case e.Person == "":
		return misfit(e, b.State, MisfitPerson)
	case c.OldMg != b.Card.WeightMg || c.NewMg == c.OldMg || c.NewMg <= 0:
		return misfit(e, b.State, MisfitCard)
	}
	b.Approval, b.TopUp = nil, nil
	if c.AddMg > 0 {
		b.TopUp = &TopUp{AddMg: c.AddMg, Hold: c.Hold}
	}
	b.Card.WeightMg, b.Card.Phrase, b.Card.NitriteMilliPPM = c.NewMg, c.Phrase, c.NitriteMilliPPM
	return nil
}

func (a Approved) apply(b *Batch, e Event) error {
	switch {
	case b.State != StateAsked:
		return misfit(e, b.State, MisfitState)
	case e.Person == "":
		return misfit(e, b.State, MisfitPerson)
	case a.Revision != b.Revision:
		return misfit(e, b.State, MisfitRevision)
	case a.WeightMg != b.Card.WeightMg || a.CureMg != b.Card.CureMg || a.Jar != b.Card.Jar || a.Filling != b.Card.Filling:
		return misfit(e, b.State, MisfitCard)
	case e.Person == b.AskedBy && !a.Own:
		return misfit(e, b.State, MisfitOwn)
	}
	b.State, b.Lapse = StateApproved, a.Lapse
	b.Approval = &Approval{
		By: e.Person, Account: e.Account, Via: e.Via, At: e.Happened,
		Revision: a.Revision, WeightMg: a.WeightMg, CureMg: a.CureMg, Jar: a.Jar, Filling: a.Filling,
		Strength: a.Strength, Law: a.Law, Own: a.Own, Why: a.Why,
	}
	b.joined(e.Person)
	return nil
}

func (s Started) apply(b *Batch, e Event) error {
	switch {
	case !b.State.ready():
		return misfit(e, b.State, MisfitState)
	case e.Person == "":
		return misfit(e, b.State, MisfitPerson)
	case b.Held():
		return misfit(e, b.State, MisfitHold)
	}
	b.Steps = make([]StepState, len(s.Steps))
	for i, step := range s.Steps {
		if step.Kind == "" {
			return misfit(e, b.State, MisfitStep)
		}
		b.Steps[i].Step = step
	}
	b.State, b.StartedAt, b.StartedBy, b.Lapse = StateCuring, e.Happened, e.Person, 0
	b.joined(e.Person)
	b.findNext()
	return nil
}

func (d StepDone) apply(b *Batch, e Event) error {
	switch {
	case !b.State.runs() || !d.State.runs():
		return misfit(e, b.State, MisfitState)
	case d.Step == -1 && d.Kind != "":
		b.Steps = append(b.Steps, StepState{Step: Step{Kind: d.Kind}, Unlisted: true})
		d.Step = len(b.Steps) - 1
	case !b.hasStep(d.Step) || b.Steps[d.Step].Kind != d.Kind:
		return misfit(e, b.State, MisfitStep)
	}
	s := &b.Steps[d.Step]
	s.Done, s.DoneBy, s.DoneAt, s.CoreMilliC = true, e.Person, e.Happened, d.CoreMilliC
	b.State = d.State
	b.joined(e.Person)
	b.findNext()
	return nil
}

func (m StepMoved) apply(b *Batch, e Event) error {
	switch {
	case !b.State.runs():
		return misfit(e, b.State, MisfitState)
	case m.To.Kind == "":
		return misfit(e, b.State, MisfitStep)
	case m.Step == -1:
		b.Steps = append(b.Steps, StepState{Step: m.To})
	case !b.hasStep(m.Step) || b.Steps[m.Step].Kind != m.To.Kind:
		return misfit(e, b.State, MisfitStep)
	default:
		b.move(m.Step, m.To)
	}
	b.findNext()
	return nil
}

func (b *Batch) end(e Event, s State, why string) {
	b.State, b.Ended, b.EndedBy, b.EndWhy = s, e.Happened, e.Person, why
	b.Lapse, b.Next = 0, -1
}
