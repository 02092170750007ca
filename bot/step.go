package bot

import (
	"slices"
	"time"

	"salthand/grammar"
	"salthand/store"
)

// stateAfter is the state that a batch is in once a step is done. A step that is not
// listed leaves the state as it is.
var stateAfter = map[string]store.State{
	"take out": store.StateResting,
	"ferment":  store.StateFermenting,
	"hang":     store.StateDrying,
	"smoke":    store.StateSmoking,
	"cook":     store.StateCooking,
	"chill":    store.StateChilled,
}

// outOfCure are the steps that only a piece takes that is out of the cure.
var outOfCure = []string{"rinse", "soak", "rest", "pellicle"}

// cooling are the steps whose core is a reading of how the piece cools.
var cooling = []string{"chill check", "chill"}

// did takes a step that was done.
func (t *turn) did(b store.Batch, c grammar.Did) error {
	if b.Ended != 0 || b.StartedAt == 0 {
		return t.notNow(b, stepName(t.theirs, c.Step))
	}
	if b.Paused() {
		return t.note(t.theirs.say("Batch %d is paused since %s.", b.Number, moment(t.theirs, timeOf(b.Pauses[len(b.Pauses)-1].From), t.zone)), t.theirs.say("When it is out of the freezer, type  resume  or  back in the walk-in mon ."))
	}
	happened := t.m.At
	if c.When != nil {
		happened = before(*c.When, t.m.At, t.zone)
		if happened.After(t.m.At) {
			return t.note(t.theirs.say("That time has not come yet."), t.theirs.say("For later, type  remind rinse fri 9:00 ."))
		}
		if milli(happened) < b.StartedAt {
			return t.note(t.theirs.say("Batch %d went into the cure only on %s.", b.Number, moment(t.theirs, timeOf(b.StartedAt), t.zone)))
		}
	}
	i, kind := stepDone(b, c.Step, milli(happened))
	if kind == "" {
		return t.note(t.theirs.say("Nothing of batch %d is due now.", b.Number), t.theirs.say("Say what was done:  turned ,  rinsed ,  out of the cure ."))
	}
	if b.Held() && slices.Contains(notWhileHeld, kind) {
		return t.note(t.theirs.say("Batch %d is on HOLD: %s. No %s until it is released.", b.Number, holdReasons(b), stepName(t.theirs, kind)),
			t.theirs.say("A chef decides:  release: reason  or  discard: reason ."))
	}
	state, ok := stateAfter[kind]
	if !ok {
		state = b.State
	}
	if state == store.StateCuring && slices.Contains(outOfCure, kind) {
		state = store.StateResting // nobody noted the taking out
	}
	body := store.StepDone{Step: i, Kind: kind, State: state, Evidence: c.Evidence}
	if c.Core.Set() {
		body.CoreMilliC = int64(float64(c.Core.Value)*1000 + 0.5)
	}
	if err := t.appendAt(b.Number, body, milli(happened)); err != nil {
		return err
	}
	if c.Core.Set() && slices.Contains(cooling, kind) {
		if err := t.appendAt(b.Number, store.Measured{What: store.CoreReading, Value: body.CoreMilliC, Unit: "c"}, milli(happened)); err != nil {
			return err
		}
	}
	if i >= 0 {
		if err := t.shift(b, i, happened); err != nil {
			return err
		}
		if err := t.repeat(b, i, happened); err != nil {
			return err
		}
	}
	if c.Core.Set() && kind == "ferment" {
		if err := t.retest(b, i, happened, c.Core.Value); err != nil {
			return err
		}
	}
	if err := t.ring(b.Number); err != nil {
		return err
	}
	return t.stepNote(b.Number, kind, happened, c.Evidence)
}

// stepNote says what is done and what comes next.
func (t *turn) stepNote(n uint64, kind string, happened time.Time, evidence string) error {
	b, _, err := t.tx.Batch(t.kitchen.ID, n)
	if err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		words := l.say("Batch %d: %s, noted for %s.", n, doneWords(l, kind), t.person.Name)
		if t.at().Sub(happened) > lateAfter {
			words = l.say("Batch %d: %s on %s, a late entry of %s.", n, doneWords(l, kind), moment(l, happened, t.zone), t.person.Name)
		}
		next := l.say("No step is left. When it is all done, type  finished .")
		if s := nextStep(b, t.now); s != nil {
			next = nextWords(l, s, t.zone)
		}
		card := noteCard(words, next)
		card.Lines = evidenceLines(l, evidence)
		if f, ok := t.coolingOf(l, b); ok && slices.Contains(cooling, kind) {
			card.Facts, card.Warnings = f.card.Facts, f.card.Warnings
		}
		return card
	})
}

// nextWords say which step comes next.
func nextWords(l tongue, s *store.StepState, zone *time.Location) string {
	return l.say("Next: %s, %s.", stepName(l, s.Kind), moment(l, timeOf(s.Due), zone))
}

// nextStep is the first step that is still to come and waits for no other; what was missed stays
// missed, unless others wait for it.
func nextStep(b store.Batch, now store.Milli) (next *store.StepState) {
	if b.Paused() {
		return nil
	}
	for i, s := range b.Steps {
		missed := s.Reminded && s.Due <= now && !waitedFor(b, i)
		if !s.Closed() && !missed && b.Ready(i) && !moot(b, i) && (next == nil || s.Due < next.Due) {
			next = &b.Steps[i]
		}
	}
	return next
}

// waitedFor tells whether an open step comes after this one.
func waitedFor(b store.Batch, i int) bool {
	return slices.ContainsFunc(b.Steps, func(s store.StepState) bool { return s.On == i+1 && !s.Closed() })
}

// early is how long before it is due a step counts as done for that time. The project's own
// choice.
const early = store.Milli(12 * 60 * 60 * 1000)

// stepDone is the step that "done" or a verb tells of: of that kind, the latest that is due
// within half a day, else the next to come. Earlier ones stay missed. The index is -1 for a
// step that was not on the list or was noted as missed; kind is "" where "done" finds nothing.
func stepDone(b store.Batch, kind string, at store.Milli) (int, string) {
	found := -1
	for i, s := range b.Steps {
		if s.Over && s.Kind == kind && s.Due <= at+early && s.Due > at-early {
			return -1, kind // noted as missed before: the next one is still to be done
		}
		if s.Closed() || kind != "" && s.Kind != kind {
			continue
		}
		if s.Due <= at+early && (kind != "" || s.Reminded && s.Kept == "") || found < 0 && kind != "" {
			found = i
		}
	}
	if found < 0 {
		return -1, kind
	}
	return found, b.Steps[found].Kind
}

// shift moves the steps after one that was done early or late by as much, so that a rest
// stays a rest. Turns stay where they are. Older records don't say which step comes after
// which: there it is their order.
func (t *turn) shift(b store.Batch, done int, happened time.Time) error {
	if b.Steps[done].Kind == "turn" || b.Steps[done].Kind == "overhaul" {
		return nil
	}
	for _, s := range b.Steps {
		if s.On > 0 {
			return t.follow(b.Number, done, happened)
		}
	}
	by := happened.Sub(timeOf(b.Steps[done].Due))
	if by.Abs() <= lateAfter {
		return nil
	}
	for i := done + 1; i < len(b.Steps); i++ {
		if b.Steps[i].Closed() {
			continue
		}
		to := stepAt(b.Steps[i].Kind, timeOf(b.Steps[i].Due).Add(by), t.zone)
		if err := t.append(b.Number, store.StepMoved{Step: i, To: to, Why: "shift"}); err != nil {
			return err
		}
	}
	return nil
}

// stepRead are the steps that a reading does.
var stepRead = map[string]string{store.PHReading: "ph test", store.WeightReading: "weigh"}

// readFor notes the step that a reading does, where one is due.
func (t *turn) readFor(b store.Batch, kind string, happened time.Time) error {
	i, _ := stepDone(b, kind, milli(happened))
	if kind == "" || i < 0 || b.Steps[i].Due > milli(happened)+early || b.Paused() || !b.Ready(i) {
		return nil
	}
	if err := t.appendAt(b.Number, store.StepDone{Step: i, Kind: kind, State: b.State}, milli(happened)); err != nil {
		return err
	}
	if err := t.repeat(b, i, happened); err != nil {
		return err
	}
	return t.ring(b.Number)
}

// snooze puts off the step that is due.
func (t *turn) snooze(b store.Batch, by time.Duration) error {
	i := -1
	for j, s := range b.Steps {
		if !s.Closed() && s.Reminded && s.Kept == "" {
			i = j
		}
	}
	if b.Ended != 0 || i < 0 {
		return t.note(t.theirs.say("No step of batch %d waits to be put off.", b.Number), t.theirs.say("Type  batch %d  to see what is due.", b.Number))
	}
	if by <= 0 {
		return t.note(t.theirs.say("For how long?"), t.theirs.say("Type  snooze 2 h ."))
	}
	old := b.Steps[i].Step
	to := stepAt(old.Kind, t.m.At.Add(by), t.zone)
	to.On, to.Gap, to.Every, to.Fixed = old.On, old.Gap, old.Every, true
	if err := t.append(b.Number, store.StepMoved{Step: i, To: to, Why: "snooze"}); err != nil {
		return err
	}
	if err := t.ring(b.Number); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		return noteCard(l.say("Batch %d: %s again %s.", b.Number, stepName(l, to.Kind), moment(l, timeOf(to.Due), t.zone)))
	})
}

// remind adds a step.
func (t *turn) remind(b store.Batch, c grammar.Remind) error {
	if b.Ended != 0 || b.StartedAt == 0 {
		return t.notNow(b, "remind")
	}
	at := after(c.When, t.m.At, t.zone)
	if !at.After(t.m.At) {
		return t.note(t.theirs.say("That time is past."), t.theirs.say("Type one to come, like  remind %s fri 9:00 .", c.Step))
	}
	to := stepAt(c.Step, at, t.zone)
	to.Fixed = true
	if err := t.append(b.Number, store.StepMoved{Step: -1, To: to, Why: "remind"}); err != nil {
		return err
	}
	if err := t.ring(b.Number); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		return noteCard(l.say("Batch %d: %s, %s.", b.Number, stepName(l, c.Step), moment(l, at, t.zone)))
	})
}
