package bot

import (
	"salthand/cure"
	"salthand/store"
)

// voidForJar takes back the approvals that rest on what was in a jar, as it was before the
// event just appended. Each batch's thread is told what changed. It gives their numbers.
func (t *turn) voidForJar(before store.Jar, why string) (voided []uint64, err error) {
	now, _, err := t.tx.Jar(t.kitchen.ID, before.Name)
	if err != nil {
		return nil, err
	}
	was := before.Current()
	if unusable(now.Current()) == "" && sameAgent(was, now.Current()) {
		return nil, nil
	}
	// Those asked first: what is voided becomes one of them.
	for _, state := range []store.State{store.StateAsked, store.StateApproved} {
		q := store.Query{Jar: before.Name, Filling: was.Number, State: state, Limit: 100}
		for {
			page, more, err := t.tx.Batches(t.kitchen.ID, q)
			if err != nil {
				return nil, err
			}
			for _, b := range page {
				if err := t.voidOne(b, now, why); err != nil {
					return nil, err
				}
				if state == store.StateApproved {
					voided = append(voided, b.Number)
				}
			}
			if q.After = more; more == "" {
				break
			}
		}
	}
	return voided, nil
}

// sameAgent reports whether two fillings are one and the same for a dose card.
func sameAgent(a, b store.Filling) bool {
	x, y := a.Label, b.Label
	x.Known, y.Known = "", ""
	return a.Number == b.Number && x == y
}

// voidOne tells a waiting batch that its jar is not what its dose card says.
func (t *turn) voidOne(b store.Batch, now store.Jar, why string) error {
	if b.State == store.StateApproved {
		if err := t.voidApproval(b.Number, why); err != nil {
			return err
		}
	}
	at, err := placeOfBatch(b)
	if err != nil {
		return err
	}
	return t.postAt(at, t.both(func(l tongue) Card {
		c := Card{Kind: NoteCard, Batch: b.Number, Title: l.say("Batch %d: %s. Its dose card no longer holds.", b.Number, why)}
		if b.State == store.StateApproved {
			c.Lines = []string{l.say("the approval is void: it has to be approved anew")}
		}
		c.Facts = []Fact{{Label: l.say("changed"), Lines: []string{jarOfCard(l, b.Card) + " → " + fillingWords(l, now)}}}
		c.Next = l.say("Nothing is weighed. Type  use jar %s , or another jar, to have the dose reckoned anew.", now.Name)
		return c
	}))
}

// fillingWords are a jar with what is in it now.
func fillingWords(l tongue, jar store.Jar) string {
	f := jar.Current()
	words := l.say("jar %s, filling %d: %s", jar.Name, f.Number, labelWords(l, f.Label))
	if why := unusable(f); why != "" {
		words += " (" + l.say(unusableNames[why]) + ")"
	}
	return words
}

// jarOfCard is the jar that a dose card was reckoned with; "" where there was none.
func jarOfCard(l tongue, c store.Card) string {
	if c.Jar == "" {
		return ""
	}
	label := store.Label{AgentKind: c.AgentKind, NitriteMilliPPM: c.AgentNitriteMilliPPM, NitrateMilliPPM: c.AgentNitrateMilliPPM, Lot: c.Lot}
	if c.Undyed {
		label.Dyed = "undyed"
	}
	return l.say("jar %s, filling %d: %s", c.Jar, c.Filling, labelWords(l, label))
}

// jarStands reports whether the jar of a dose card is still what the card says; where it is
// not, it has been answered.
func (t *turn) jarStands(b store.Batch) (bool, error) {
	if b.Card.Jar == "" {
		return true, nil
	}
	jar, ok, err := t.tx.Jar(t.kitchen.ID, b.Card.Jar)
	if err != nil {
		return false, err
	}
	if ok && jar.Current().Number == b.Card.Filling && unusable(jar.Current()) == "" && holdsCure(jar.Current().Label, b.Card) {
		return true, nil
	}
	l := t.theirs
	return false, t.note(l.say("Jar %s is no longer what dose card %d says: %s.", b.Card.Jar, b.Number, fillingWords(l, jar)),
		l.say("Nothing is weighed. Type  use jar %s , or another jar, to have the dose reckoned anew.", b.Card.Jar))
}

// holdsCure reports whether a label is of the curing salt that a card was reckoned with, and of
// the card's lot and colour.
func holdsCure(label store.Label, c store.Card) bool {
	return label.AgentKind == c.AgentKind && label.NitriteMilliPPM == c.AgentNitriteMilliPPM && label.NitrateMilliPPM == c.AgentNitrateMilliPPM &&
		label.Lot == c.Lot && (label.Dyed == "undyed") == c.Undyed
}

// agentKept is the curing salt that a dose card was reckoned with.
func agentKept(c store.Card) cure.Agent {
	return agentOfLabel(store.Label{AgentKind: c.AgentKind, NitriteMilliPPM: c.AgentNitriteMilliPPM, NitrateMilliPPM: c.AgentNitrateMilliPPM})
}

// bindJar binds a dose card to what is in its jar now.
func (t *turn) bindJar(c *store.Card) error {
	if c.Jar == "" {
		return nil
	}
	jar, f, err := t.jar(c.Jar)
	if err != nil {
		return err
	}
	c.Jar, c.Filling, c.Lot, c.Undyed = jar.Name, f.Number, f.Label.Lot, f.Label.Dyed == "undyed"
	c.AgentKind, c.AgentNitriteMilliPPM, c.AgentNitrateMilliPPM = f.Label.AgentKind, f.Label.NitriteMilliPPM, f.Label.NitrateMilliPPM
	return nil
}

// withJar names the jar, its lot and its colour on a dose card, and a scale that is not right.
func (t *turn) withJar(l tongue, c Card, rec store.Card) Card {
	c.Warnings = append(t.scaleWarnings(l, rec.CureMg > 0), c.Warnings...)
	if rec.Jar == "" {
		return c
	}
	c.Facts = append([]Fact{{Label: l.say("jar"), Lines: []string{jarOfCard(l, rec)}}}, c.Facts...)
	if rec.Undyed {
		c.Warnings = append([]Warning{undyedWarning(l)}, c.Warnings...)
	}
	return c
}
