package bot

import (
	"errors"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// topUpWithin is how long after the first dose what is missing can still be added: cure's own.
const topUpWithin = 24 * time.Hour

// tooLate answers that nothing is added any more, where it is so.
func (t *turn) tooLate(b store.Batch) (bool, error) {
	since := (t.now - b.StartedAt).Duration()
	if since <= topUpWithin && b.State == store.StateCuring {
		return false, nil
	}
	l := t.theirs
	return true, t.post(Card{Kind: HoldCard, Batch: b.Number, Title: l.say("HOLD: it is too late to add cure to batch %d.", b.Number),
		Lines: []string{l.say("It has been in the cure for %s; what is added more than %s after the first dose does not get in evenly.", span(l, since.Truncate(time.Minute)), span(l, topUpWithin))},
		Next:  l.say("A chef decides:  release: reason  or  discard: reason .")})
}

// approveTopUp binds a chef's approval to what a batch lacks since its weight was corrected, and
// lifts the hold that came with it.
func (t *turn) approveTopUp(b store.Batch, c grammar.Approve) error {
	l := t.theirs
	if late, err := t.tooLate(b); late || err != nil {
		return err
	}
	own, err := t.isOwn(b)
	if err != nil {
		return err
	}
	if no, err := t.mayNotApprove(b); no || err != nil {
		return err
	}
	add := weighed(b.TopUp.AddMg)
	switch {
	case own && t.kitchen.Settings[setOwnApproval] != "on":
		return t.note(l.say("%s asked for batch %d and can't approve it: a second person does.", t.person.Name, b.Number), ownNext(l, t.m.Via))
	case !c.Grams.Set():
		return t.note(l.say("What is approved is what is added: %s of %s.", add, agentOfCard(l, b.Card)), l.say("Type  approve %s .", add))
	case mg(c.Grams.Value) != b.TopUp.AddMg:
		return t.note(l.say("You typed %s, and %s is what is missing: nothing is approved.", grams(c.Grams.Value, 0), add), l.say("Type  approve %s .", add))
	}
	body := store.TopUpApproved{WeightMg: b.Card.WeightMg, AddMg: b.TopUp.AddMg, CureMg: cureIn(b) + b.TopUp.AddMg, Strength: b.Card.Agent, Law: cure.LawVersion, Own: own, Why: c.Why}
	if err := t.append(b.Number, body); err != nil {
		return err
	}
	for _, h := range b.Holds {
		if h.Number == b.TopUp.Hold {
			if err := t.append(b.Number, store.Released{Why: t.ours.say("%s to be added, approved", add), Number: h.Number}); err != nil {
				return err
			}
		}
	}
	return t.announce(func(l tongue) Card {
		words := l.say("Batch %d: %s approves adding %s of %s, %s in all on %s.", b.Number, t.person.Name, add, agentOfCard(l, b.Card), weighed(body.CureMg), milligrams(b.Card.WeightMg))
		if own {
			words += " " + l.say("Approved own.")
		}
		return Card{Kind: NoteCard, Batch: b.Number, Title: words,
			Next: l.say("Weigh it, work it in evenly, and type  added %s cure, jar NAME  by %s.", add, moment(l, timeOf(b.StartedAt).Add(topUpWithin), t.zone))}
	})
}

// added notes cure that was added to a batch that got too little. The clock starts again with
// it, after a second reading where the kitchen wants one.
func (t *turn) added(b store.Batch, c grammar.Added) error {
	l := t.theirs
	got := mg(c.Cure.Value)
	switch {
	case b.Ended != 0 || b.StartedAt == 0:
		return t.notNow(b, "added")
	case b.TopUp == nil || b.Approval == nil:
		return t.addedUnasked(b, c)
	case b.TopUp.Added != nil:
		return t.note(l.say("What was added to batch %d waits for the second reading.", b.Number), l.say("Another person types  seen , the grams on the scale, and the name on the jar."))
	case len(b.Holds) > 0:
		return t.note(l.say("Batch %d is on HOLD: %s. Nothing is weighed in for it.", b.Number, holdReasons(b)), l.say("A chef can  release: reason ."))
	}
	if late, err := t.tooLate(b); late || err != nil {
		return err
	}
	if max(got-b.TopUp.AddMg, b.TopUp.AddMg-got) > mg(t.division()) {
		return t.post(Card{Kind: QuestionCard, Batch: b.Number, Title: l.say("That is not what was approved. Nothing was noted."),
			Lines: []string{l.say("cure: %s on the scale, %s approved", weighed(got), weighed(b.TopUp.AddMg))},
			Next:  l.say("Weigh it again and type what the scale shows. If it is in already:  hold: what happened .")})
	}
	body := store.Added{CureMg: got, Why: c.Why}
	if c.Jar != "" || t.weighingOn() || b.Card.Jar != "" {
		ok, err := t.addedFrom(b, c, &body)
		if !ok || err != nil {
			return err
		}
	}
	if err := t.append(b.Number, body); err != nil {
		return err
	}
	b, _, err := t.tx.Batch(t.kitchen.ID, b.Number)
	if err != nil {
		return err
	}
	check, err := t.mustCheck(store.FillingOf{Jar: body.Jar, Number: body.Filling})
	if err != nil {
		return err
	}
	if !t.weighingOn() || !check || body.Jar == "" {
		return t.restart(b, store.Restarted{CureMg: got})
	}
	return t.announce(func(l tongue) Card {
		return Card{Kind: NoteCard, Batch: b.Number, Title: l.say("Batch %d: %s, noted for %s.", b.Number, topUpWords(l, body), t.person.Name),
			Next: l.say("Before it goes in, another person types what the scale and the jar show:  seen , the grams, the jar's name.")}
	})
}

// addedFrom is the jar that was added from: it must hold the cure that is in already. What is
// not so has been answered.
func (t *turn) addedFrom(b store.Batch, c grammar.Added, body *store.Added) (bool, error) {
	l := t.theirs
	name := c.Jar
	if name == "" {
		return false, t.note(l.say("From which jar was it weighed?"), l.say("Type it all:  %s", "added "+weighed(body.CureMg)+" cure, jar NAME"))
	}
	jar, f, err := t.jar(name)
	var refused *jarRefused
	if errors.As(err, &refused) {
		return false, t.post(jarRefusedCard(l, refused))
	}
	if err != nil {
		return false, err
	}
	if a := agentOfLabel(f.Label); a != agentKept(b.Card) || c.Kind != cure.NoAgent && c.Kind != a.Kind {
		return false, t.post(Card{Kind: StopCard, Batch: b.Number, Title: l.say("That is another cure than the approved one: don't put it in."),
			Facts: []Fact{{Label: l.say("changed"), Lines: []string{agentOfCard(l, b.Card) + " → " + fillingWords(l, jar)}}},
			Next:  l.say("Put it back and weigh from a jar that holds the approved one.")})
	}
	body.Jar, body.Filling, body.Lot = jar.Name, f.Number, f.Label.Lot
	return true, nil
}

// addedUnasked holds a batch that cure was added to without an approval.
func (t *turn) addedUnasked(b store.Batch, c grammar.Added) error {
	why := t.ours.say("%s cure added without an approval", weighed(mg(c.Cure.Value)))
	if err := t.append(b.Number, store.Held{Why: why, Number: b.LastHold + 1}); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		card := Card{Kind: HoldCard, Batch: b.Number, Title: l.say("HOLD on batch %d: %s", b.Number, why),
			Lines: []string{l.say("No approval says that anything is added. If it is not in yet, leave it out.")},
			Next:  l.say("A chef decides:  release: reason  or  discard: reason .")}
		if b.TopUp != nil {
			card.Lines = append(card.Lines, l.say("%s is missing, and not approved yet.", weighed(b.TopUp.AddMg)))
		}
		return card
	})
}

// seenAdded takes the second reading of what was added.
func (t *turn) seenAdded(b store.Batch, c grammar.Seen) error {
	l := t.theirs
	a := b.TopUp.Added
	own := a.By == t.person.ID || a.Via != "" && a.Via == t.m.Via
	switch {
	case len(b.Holds) > 0:
		return t.note(l.say("Batch %d is on HOLD: %s. It doesn't start.", b.Number, holdReasons(b)), l.say("A chef can  release: reason ."))
	case own && t.kitchen.Settings[setOwnApproval] != "on":
		return t.note(l.say("%s weighed it for batch %d: another person reads scale and jar.", t.person.Name, b.Number), l.say("Let somebody else look and type what they see."))
	}
	jar, known, err := t.tx.Jar(t.kitchen.ID, c.Jar)
	if err != nil {
		return err
	}
	if !known || jar.Name != b.TopUp.Jar || mg(c.Cure.Value) != a.CureMg {
		why := t.ours.say("the second reading is another: weighed %s, seen %s", weighed(a.CureMg)+", "+b.TopUp.Jar, grams(c.Cure.Value, 0.1)+", "+c.Jar)
		if err := t.append(b.Number, store.Held{Why: why, Number: b.LastHold + 1}); err != nil {
			return err
		}
		return t.announce(func(l tongue) Card {
			return Card{Kind: HoldCard, Batch: b.Number, Title: l.say("HOLD on batch %d: %s", b.Number, why),
				Lines: []string{l.say("Nothing goes on the meat. Leave scale and jar as they are, and look at both together.")}, Next: l.say("A chef decides:  release: reason  or  discard: reason .")}
		})
	}
	return t.restart(b, store.Restarted{CureMg: a.CureMg, Read: true, Own: own})
}

// restart starts the clock of a batch again with what was added, and plans its steps anew.
// Turns that were missed stay missed.
func (t *turn) restart(b store.Batch, body store.Restarted) error {
	body.NitriteMilliPPM = -1
	if was := cureIn(b); was > 0 && b.Card.NitriteMilliPPM > 0 {
		const hundredth = 10 // of ppm: what is kept is rounded already
		body.NitriteMilliPPM = hundredth * int64(float64(b.Card.NitriteMilliPPM)*float64(was+body.CureMg)/float64(was)/hundredth+0.5)
	}
	since := timeOf(b.TopUp.Added.At)
	if err := t.append(b.Number, body); err != nil {
		return err
	}
	steps := stepsFrom(b.Card.Steps, since, t.zone)
	for i, to := range steps {
		at := i
		if i >= len(b.Steps) || b.Steps[i].Closed() || b.Steps[i].Reminded && b.Steps[i].Kind == "turn" || b.Steps[i].Kind != to.Kind {
			at, to.On, to.Gap = -1, 0, 0
		}
		if err := t.append(b.Number, store.StepMoved{Step: at, To: to, Why: "shift"}); err != nil {
			return err
		}
	}
	if err := t.ring(b.Number); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		lines := []string{l.say("%s added: %s on %s", weighed(body.CureMg), nitriteOf(l, body.NitriteMilliPPM), milligrams(b.Card.WeightMg))}
		if body.Read && !body.Own {
			lines = append(lines, l.say("read again by another person: the figures agree"))
		}
		return Card{Kind: NoteCard, Batch: b.Number, Title: l.say("Batch %d: the clock starts again, from %s.", b.Number, moment(l, since, t.zone)), Lines: lines,
			Facts: []Fact{{Label: l.say("due"), Lines: stepLines(l, firstSteps(steps), t.zone)}}, Next: l.say("Type  steps  to see what comes after.")}
	})
}

// topUpWords are an event of a top-up as the record shows it; "" for any other.
func topUpWords(l tongue, body store.Body) string {
	switch b := body.(type) {
	case store.TopUpApproved:
		return l.say("approved adding %s of %s, %s in all on %s", weighed(b.AddMg), b.Strength, weighed(b.CureMg), milligrams(b.WeightMg)) + because(b.Why)
	case store.Added:
		if b.Jar == "" {
			return l.say("added %s cure", weighed(b.CureMg)) + because(b.Why)
		}
		return l.say("added %s cure from jar %s, filling %d", weighed(b.CureMg), b.Jar, b.Filling) + because(b.Why)
	case store.Restarted:
		if b.Read {
			return l.say("read again what was added; the clock starts again")
		}
		return l.say("the clock starts again with what was added")
	}
	return ""
}
