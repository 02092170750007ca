package store

// Weighing is what was weighed out for a batch.
type Weighing struct {
	By      string `json:"by"`
	Account string `json:"account,omitempty"`
	Via     string `json:"via,omitempty"`
	At      Milli  `json:"at"`
	CureMg  int64  `json:"cure_mg"` // as the scale showed it
	SaltMg  int64  `json:"salt_mg,omitempty"`
	Why     string `json:"why,omitempty"` // it differs from the dose card
	Late    bool   `json:"late,omitempty"`
	// Disputed is set where a second reading was another: nothing rests on this one any more.
	Disputed bool `json:"disputed,omitempty"`
}

// Check is a second reading of what scale and jar show.
type Check struct {
	By  string `json:"by"`
	Via string `json:"via,omitempty"`
	At  Milli  `json:"at"`
	Own bool   `json:"own,omitempty"` // by whoever weighed
}

// Of the weighing-in of a batch.
type (
	// Weighed is what was weighed out, and the filling that the cure came from. Weighed again, it
	// takes the place of what was weighed before.
	Weighed struct {
		Revision uint32 `json:"revision"`
		CureMg   int64  `json:"cure_mg"`
		SaltMg   int64  `json:"salt_mg,omitempty"` // 0: not said
		Jar      string `json:"jar,omitempty"`     // "": no cure goes in
		Filling  uint32 `json:"filling,omitempty"`
		Lot      string `json:"lot,omitempty"`
		Why      string `json:"why,omitempty"`
	}
	// Checked is a second reading that agrees with the first.
	Checked struct {
		CureMg  int64  `json:"cure_mg"`
		Jar     string `json:"jar,omitempty"`
		Filling uint32 `json:"filling,omitempty"`
		Own     bool   `json:"own,omitempty"`
	}
)

func (w Weighed) apply(b *Batch, e Event) error {
	switch {
	case b.State != StateApproved && b.State != StateWeighed:
		return misfit(e, b.State, MisfitState)
	case e.Person == "":
		return misfit(e, b.State, MisfitPerson)
	case b.Held():
		return misfit(e, b.State, MisfitHold)
	case w.Revision != b.Revision:
		return misfit(e, b.State, MisfitRevision)
	case w.CureMg < 0 || w.SaltMg < 0 || (w.Jar == "") != (w.Filling == 0):
		return misfit(e, b.State, MisfitCard)
	}
	if w.Jar != "" {
		if err := texts(w.Jar); err != nil {
			return err
		}
	}
	b.State, b.Lapse = StateWeighed, 0
	b.Jar, b.Filling, b.Lot = w.Jar, w.Filling, w.Lot
	b.Weighing = &Weighing{By: e.Person, Account: e.Account, Via: e.Via, At: e.Happened, CureMg: w.CureMg, SaltMg: w.SaltMg, Why: w.Why, Late: e.Late}
	b.joined(e.Person)
	return nil
}

func (c Checked) apply(b *Batch, e Event) error {
	switch {
	case b.State != StateWeighed:
		return misfit(e, b.State, MisfitState)
	case e.Person == "":
		return misfit(e, b.State, MisfitPerson)
	case b.Held():
		return misfit(e, b.State, MisfitHold)
	case b.Weighing.Disputed, c.CureMg != b.Weighing.CureMg || c.Jar != b.Jar || c.Filling != b.Filling:
		return misfit(e, b.State, MisfitCard)
	case e.Person == b.Weighing.By && !c.Own:
		return misfit(e, b.State, MisfitOwn)
	}
	b.State = StateChecked
	b.Check = &Check{By: e.Person, Via: e.Via, At: e.Happened, Own: c.Own}
	b.joined(e.Person)
	return nil
}

func (w Weighed) pointsTo() []string {
	if w.Jar == "" {
		return nil
	}
	to := []string{JarSubject(w.Jar)}
	if w.Lot != "" {
		to = append(to, lotSubject(w.Lot))
	}
	return to
}

// source is the filling and lot that the cure of a batch came from, or is to come from.
func (b *Batch) source() (FillingOf, string) {
	if b.Jar != "" {
		return FillingOf{b.Jar, b.Filling}, b.Lot
	}
	return FillingOf{b.Card.Jar, b.Card.Filling}, b.Card.Lot
}
