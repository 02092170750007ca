package bot

import (
	"fmt"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// startWithin is how long an approval waits for the start.
const startWithin = 24 * time.Hour

// snoozeButton is what the button "later" puts a step off by.
const snoozeButton = 2 * time.Hour

// approve binds a chef's approval to what stands on the newest dose card that was posted
// before it was typed, or on the one whose button was pressed.
func (t *turn) approve(b store.Batch, c grammar.Approve) error {
	l := t.theirs
	if b.TopUp != nil && b.Approval == nil && b.Ended == 0 {
		return t.approveTopUp(b, c)
	}
	if b.State != store.StateAsked {
		return t.notNow(b, "approve")
	}
	seen := c.Revision
	if seen == 0 {
		seen = revisionAt(b, milli(t.m.At))
	}
	if seen < b.Revision {
		return t.staleApproval(b, seen)
	}
	if seen > b.Revision {
		return t.note(l.say("Batch %d has no revision %d.", b.Number, seen), l.say("Type  approve  for the newest one."))
	}
	if gone, err := t.withdrawn(b); gone || err != nil {
		if err == nil {
			err = t.note(l.say("Batch %d is made by recipe %s, version %d, which is withdrawn.", b.Number, b.Card.Recipe, b.Card.RecipeVersion), l.say("Type the whole dose here, without the recipe, or  make it recipe %s  once a new version is approved, or  never mind .", b.Card.Recipe))
		}
		return err
	}
	own, err := t.isOwn(b)
	if err != nil {
		return err
	}
	if no, err := t.mayNotApprove(b); no || err != nil {
		return err
	}
	if own && t.kitchen.Settings[setOwnApproval] != "on" {
		return t.ownRefused(b)
	}
	if c.Grams.Set() && mg(c.Grams.Value) != b.Card.CureMg {
		return t.otherGrams(b, c.Grams.Value)
	}
	if ok, err := t.jarStands(b); !ok || err != nil {
		return err
	}
	if b.Card.Hold && c.Why == "" {
		return t.note(l.say("Dose card %d carries a HOLD.", b.Number), l.say("To approve it all the same, say why:  approve: reason ."))
	}
	err = t.append(b.Number, store.Approved{
		Revision: b.Revision, WeightMg: b.Card.WeightMg, CureMg: b.Card.CureMg, Jar: b.Card.Jar, Filling: b.Card.Filling,
		Strength: b.Card.Agent, Law: cure.LawVersion, Own: own, Why: c.Why, Lapse: t.now + store.Milli(startWithin.Milliseconds()),
	})
	if err != nil {
		return err
	}
	return t.announce(func(l tongue) Card { return t.approvedCard(l, b, own) })
}

// approvedCard says what may be weighed now.
func (t *turn) approvedCard(l tongue, b store.Batch, own bool) Card {
	words := l.say("Batch %d is approved by %s: %s of %s on %s.", b.Number, t.person.Name,
		weighed(b.Card.CureMg), agentOfCard(l, b.Card), kilos(cure.Gram(b.Card.WeightMg)/1000))
	if own {
		words += " " + l.say("Approved own.")
	}
	card := Card{Kind: NoteCard, Batch: b.Number, Title: words, Next: t.approvedNext(l)}
	if b.Card.Undyed {
		card.Warnings = []Warning{undyedWarning(l)}
	}
	return card
}

// isOwn reports whether the approver is somebody who asked for or changed the dose or weighed
// it in, or sits at the terminal that did.
func (t *turn) isOwn(b store.Batch) (bool, error) {
	events, err := t.tx.Events(t.kitchen.ID, b.Number)
	if err != nil {
		return false, err
	}
	for _, e := range events {
		if ofDose(e.Body) {
			if mine, err := t.same(e.Person); mine || err != nil {
				return mine, err
			}
			if e.Via != "" && e.Via == t.m.Via {
				return true, nil
			}
		}
	}
	return false, nil
}

func ownNext(l tongue, via string) string {
	if via == "" {
		return l.say("Another chef types  approve  here.")
	}
	return l.say("Another chef types  approve  from a terminal or an account of their own: on a kept store one terminal is one person.")
}

// staleApproval answers an approval of a dose card that has been replaced.
func (t *turn) staleApproval(b store.Batch, seen uint32) error {
	changes, err := t.changesSince(b, seen)
	if err != nil {
		return err
	}
	phrase := fmt.Sprintf("batch %d: approve", b.Number)
	card := Card{Kind: QuestionCard, Batch: b.Number,
		Title:   t.theirs.say("That was revision %d; revision %d is the newest. Approve this one?", seen, b.Revision),
		Facts:   []Fact{{Label: t.theirs.say("changed"), Lines: changes}},
		Choices: []string{"approve"}, Next: t.theirs.say("Type  approve  to approve the newest."),
		Buttons: []Button{{t.theirs.say("approve"), Press{Action: DoApprove, Batch: b.Number, Revision: b.Revision}}}}
	return t.ask(card, []grammar.Choice{{Label: "approve", Phrase: phrase}}, "")
}

// changesSince are the differences between a revision and the newest.
func (t *turn) changesSince(b store.Batch, seen uint32) ([]string, error) {
	events, err := t.tx.Events(t.kitchen.ID, b.Number)
	if err != nil {
		return nil, err
	}
	for _, e := range events {
		switch body := e.Body.(type) {
		case store.Asked:
			if body.Card.Revision == seen {
				return differences(t.theirs, body.Card, b.Card), nil
			}
		case store.Revised:
			if body.Card.Revision == seen {
				return differences(t.theirs, body.Card, b.Card), nil
			}
		}
	}
	return nil, fmt.Errorf("bot: batch %d has no revision %d", b.Number, seen)
}

// revisionAt is the newest revision that had been posted at an instant.
func revisionAt(b store.Batch, at store.Milli) uint32 {
	for i := len(b.Revisions) - 1; i >= 0; i-- {
		if b.Revisions[i].At <= at {
			return uint32(i + 1)
		}
	}
	return 1
}

func (t *turn) decline(b store.Batch, why string) error {
	if b.State != store.StateAsked {
		return t.notNow(b, "decline")
	}
	if why == "" {
		return t.note(t.theirs.say("Why is batch %d declined?", b.Number), t.theirs.say("Type  decline: reason . It waits until then."))
	}
	if err := t.append(b.Number, store.Declined{Why: why}); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		return noteCard(l.say("Batch %d is declined by %s: %s.", b.Number, t.person.Name, why))
	})
}

func (t *turn) neverMind(b store.Batch) error {
	if b.State != store.StateAsked {
		return t.notNow(b, "never mind")
	}
	if err := t.append(b.Number, store.Lapsed{Why: "never mind"}); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card { return noteCard(l.say("Batch %d is off. Nothing was weighed.", b.Number)) })
}

// start starts the clock of an approved batch.
func (t *turn) start(b store.Batch) error {
	if len(b.Holds) > 0 {
		return t.note(t.theirs.say("Batch %d is on HOLD: %s. It doesn't start.", b.Number, holdReasons(b)), t.theirs.say("A chef can  release: reason ."))
	}
	if b.State != store.StateApproved && b.State != store.StateWeighed && b.State != store.StateChecked {
		return t.notNow(b, "start")
	}
	if ok, err := t.notWeighed(b); !ok || err != nil {
		return err
	}
	if b.State == store.StateApproved {
		if ok, err := t.jarStands(b); !ok || err != nil {
			return err
		}
	}
	return t.startClock(b)
}

// startClock puts a batch into the cure, with its steps from now on; from when it was weighed,
// where that was noted late.
func (t *turn) startClock(b store.Batch) error {
	zone, since := t.zone, t.m.At
	if b.Weighing != nil && b.Weighing.Late {
		since = timeOf(b.Weighing.At)
	}
	steps := stepsFrom(b.Card.Steps, since, zone)
	if err := t.appendAt(b.Number, store.Started{Steps: steps}, milli(since)); err != nil {
		return err
	}
	if err := t.ring(b.Number); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		first := firstSteps(steps)
		c := Card{Kind: NoteCard, Batch: b.Number, Title: l.say("Batch %d is in the cure since %s.", b.Number, moment(l, since, zone)) + t.lateWords(l, since),
			Facts: []Fact{{Label: l.say("due"), Lines: stepLines(l, first, zone)}}}
		if len(first) < len(steps) {
			c.Next = l.say("Type  steps  to see what comes after.")
		}
		return t.withWeighing(l, c, b)
	})
}

// stepLines list steps; a run of the same kind is one line.
func stepLines(l tongue, steps []store.Step, zone *time.Location) (lines []string) {
	for i := 0; i < len(steps); {
		j := i
		for j+1 < len(steps) && steps[j+1].Kind == steps[i].Kind {
			j++
		}
		line := stepName(l, steps[i].Kind) + " " + moment(l, timeOf(steps[i].Due), zone)
		if j > i {
			line = l.say("%s %d times, %s to %s", stepName(l, steps[i].Kind), j-i+1, moment(l, timeOf(steps[i].Due), zone), moment(l, timeOf(steps[j].Due), zone))
		}
		lines = append(lines, line)
		i = j + 1
	}
	return lines
}

func timeOf(m store.Milli) time.Time { return time.UnixMilli(int64(m)) }

// stepAt is a step due at an instant, promised as local time.
func stepAt(kind string, at time.Time, zone *time.Location) store.Step {
	return store.Step{Kind: kind, Local: at.In(zone).Format(localForm), Zone: zone.String(), Due: milli(at)}
}

// localForm is how a step's promised local time is kept.
const localForm = "2006-01-02T15:04"

// notNow answers a command that doesn't fit the state of a batch.
func (t *turn) notNow(b store.Batch, verb string) error {
	return t.note(t.theirs.say("Batch %d is %s: %s doesn't fit.", b.Number, stateWords(t.theirs, b), verb), nextFor(t.theirs, b))
}

// nextFor says what a batch waits for.
func nextFor(l tongue, b store.Batch) string {
	switch b.State {
	case store.StateAsked:
		return l.say("It waits for a second person's  approve .")
	case store.StateApproved:
		return l.say("It waits for what was weighed, or where nothing is weighed in for  start .")
	case store.StateWeighed:
		return l.say("It waits for the second reading:  seen , the grams on the scale, and the name on the jar.")
	case store.StateDeclined, store.StateLapsed, store.StateDiscarded, store.StateFinished:
		return l.say("Type the dose phrase in the channel to begin a new batch.")
	}
	return l.say("Type  batch %d  to see what is due.", b.Number)
}
