package store

// TopUp is cure that a batch lacks since its weight was corrected, and that is to be added.
type TopUp struct {
	AddMg int64 `json:"add_mg"`         // as the scale is to show it
	Hold  int   `json:"hold,omitempty"` // number of the hold that came with it
	// Added is what was added; nil: nothing yet. The clock starts again once it was read.
	Added   *Weighing `json:"added,omitempty"`
	Jar     string    `json:"jar,omitempty"` // that it was added from
	Filling uint32    `json:"filling,omitempty"`
}

type (
	// TopUpApproved binds the approver to what is to be added, and to what is then in it.
	TopUpApproved struct {
		WeightMg int64  `json:"weight_mg"`
		AddMg    int64  `json:"add_mg"`
		CureMg   int64  `json:"cure_mg"`  // in all
		Strength string `json:"strength"` // as printed
		Law      string `json:"law"`      // version of the law table
		Own      bool   `json:"own,omitempty"`
		Why      string `json:"why,omitempty"`
	}
	// Added is cure that was added to a batch in the cure, with its jar.
	Added struct {
		CureMg  int64  `json:"cure_mg"`
		Jar     string `json:"jar,omitempty"`
		Filling uint32 `json:"filling,omitempty"`
		Lot     string `json:"lot,omitempty"`
		Why     string `json:"why,omitempty"`
	}
	// Restarted starts the clock of a batch again, once what was added is in.
	Restarted struct {
		CureMg          int64 `json:"cure_mg"` // that was added, as it was read
		NitriteMilliPPM int64 `json:"nitrite_milli_ppm"`
		Read            bool  `json:"read,omitempty"` // a second reading of it
		Own             bool  `json:"own,omitempty"`  // by whoever added it
	}
)

func (TopUpApproved) kind() string { return "top-up approved" }
func (Added) kind() string         { return "added" }
func (Restarted) kind() string     { return "restarted" }

func (a TopUpApproved) words() []string { return WordsIn(a.Why) }
func (a Added) words() []string         { return WordsIn(a.Why) }

func (a TopUpApproved) apply(b *Batch, e Event) error {
	switch {
	case !b.State.runs():
		return misfit(e, b.State, MisfitState)
	case e.Person == "":
		return misfit(e, b.State, MisfitPerson)
	case b.TopUp == nil || b.Approval != nil || b.TopUp.Added != nil || a.AddMg != b.TopUp.AddMg || a.WeightMg != b.Card.WeightMg:
		return misfit(e, b.State, MisfitCard)
	case e.Person == b.AskedBy && !a.Own:
		return misfit(e, b.State, MisfitOwn)
	}
	b.Approval = &Approval{
		By: e.Person, Account: e.Account, Via: e.Via, At: e.Happened, Revision: b.Revision, WeightMg: a.WeightMg, CureMg: a.CureMg,
		Jar: b.Card.Jar, Filling: b.Card.Filling, Strength: a.Strength, Law: a.Law, Own: a.Own, Why: a.Why,
	}
	b.joined(e.Person)
	return nil
}

func (a Added) apply(b *Batch, e Event) error {
	switch {
	case b.State != StateCuring:
		return misfit(e, b.State, MisfitState)
	case e.Person == "":
		return misfit(e, b.State, MisfitPerson)
	case b.TopUp == nil || b.Approval == nil || a.CureMg <= 0 || (a.Jar == "") != (a.Filling == 0):
		return misfit(e, b.State, MisfitCard)
	}
	now := *b.TopUp
	now.Added = &Weighing{By: e.Person, Account: e.Account, Via: e.Via, At: e.Happened, CureMg: a.CureMg, Why: a.Why, Late: e.Late}
	now.Jar, now.Filling = a.Jar, a.Filling
	b.TopUp = &now
	b.joined(e.Person)
	return nil
}

func (r Restarted) apply(b *Batch, e Event) error {
	switch {
	case b.State != StateCuring:
		return misfit(e, b.State, MisfitState)
	case e.Person == "":
		return misfit(e, b.State, MisfitPerson)
	case b.Held():
		return misfit(e, b.State, MisfitHold)
	case b.TopUp == nil || b.TopUp.Added == nil || r.CureMg != b.TopUp.Added.CureMg:
		return misfit(e, b.State, MisfitCard)
	case r.Read && e.Person == b.TopUp.Added.By && !r.Own:
		return misfit(e, b.State, MisfitOwn)
	}
	if b.Weighing != nil {
		w := *b.Weighing
		w.CureMg += r.CureMg
		b.Weighing = &w
	}
	b.Card.CureMg += r.CureMg
	b.Card.NitriteMilliPPM = r.NitriteMilliPPM
	b.StartedAt, b.TopUp = b.TopUp.Added.At, nil
	b.joined(e.Person)
	return nil
}

func (a Added) pointsTo() []string {
	return Weighed{Jar: a.Jar, Lot: a.Lot}.pointsTo()
}
