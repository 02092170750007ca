package bot

import (
	"fmt"
	"time"

	"salthand/cure"
	"salthand/cure/ferment"
	"salthand/grammar"
	"salthand/store"
)

// chamber is how warm a fermenting chamber is taken to be until somebody measures. Common
// practice, no source.
const chamber cure.Celsius = 24

// retestBefore is how long before the degree-hours run out the pH is tested once more.
const retestBefore = 2 * time.Hour

// plannedSteps are the steps of a dose as the store keeps them. Those that come after the
// chamber have a last test of pH, shortly before its degree-hours run out.
func plannedSteps(d cure.Dose) (steps []store.PlannedStep) {
	for i, s := range cure.Steps(d) {
		steps = append(steps, store.PlannedStep{Kind: s.Kind, AfterSeconds: int64(s.After / time.Second), On: s.On, EverySeconds: int64(s.Every / time.Second)})
		if s.Kind == "ferment" {
			defer func(on int, from time.Duration) {
				last := from + retestAfter(string(d.Request.Region.Value), chamber)
				steps = append(steps, store.PlannedStep{Kind: "ph test", AfterSeconds: int64(last / time.Second), On: on})
			}(i+1, s.After)
		}
	}
	return steps
}

// retestAfter is how long after a piece went into a chamber of some warmth its pH is to be
// tested at the latest. A region without a rule of its own is tested by that of us.
func retestAfter(region string, at cure.Celsius) time.Duration {
	set, ok := ferment.SetOf(region)
	if !ok {
		set, _ = ferment.SetOf("us")
	}
	allowed, ends := set.Allowed(at)
	if !ends {
		return 0
	}
	return max(0, allowed-retestBefore).Truncate(time.Minute)
}

// stepsFrom are the planned steps of a dose card, counted from the start.
func stepsFrom(planned []store.PlannedStep, start time.Time, zone *time.Location) (steps []store.Step) {
	for _, p := range planned {
		s := stepAt(p.Kind, start.Add(time.Duration(p.AfterSeconds)*time.Second), zone)
		s.On, s.Every = p.On, store.Milli(p.EverySeconds*1000)
		if p.On > 0 {
			s.Gap = store.Milli((p.AfterSeconds - planned[p.On-1].AfterSeconds) * 1000)
		}
		steps = append(steps, s)
	}
	return steps
}

// firstSteps are the steps that are told of at the start: those that come at most two steps
// after another. What is further off is shown on demand.
func firstSteps(steps []store.Step) (first []store.Step) {
	for _, s := range steps {
		behind := 0
		for on := s.On; on > 0 && behind <= 2; on = steps[on-1].On {
			behind++
		}
		if behind <= 2 {
			first = append(first, s)
		}
	}
	return first
}

// linesAtMost is how many lines a list of steps shows.
const linesAtMost = 24

// listSteps answers "steps": all of them with their numbers, what became of each, and where
// its time is from.
func (t *turn) listSteps(b store.Batch) error {
	l := t.theirs
	c := Card{Kind: ListCard, Batch: b.Number, Title: l.say("Steps of batch %d", b.Number)}
	steps := b.Steps
	if b.StartedAt == 0 {
		c.Title = l.say("Steps of batch %d, if it is started now", b.Number)
		for _, s := range stepsFrom(b.Card.Steps, t.at(), t.zone) {
			steps = append(steps, store.StepState{Step: s})
		}
	}
	var rows []row
	for i := 0; i < len(steps); {
		last := i
		for same := t.stepEnd(l, b, i, steps); last+1 < len(steps) && steps[last+1].Kind == steps[i].Kind && same == "" && t.stepEnd(l, b, last+1, steps) == ""; {
			last++
		}
		if !steps[i].Undone {
			rows = append(rows, row{fmt.Sprint(i), t.stepLine(l, b, steps, i, last)})
		}
		i = last + 1
	}
	sources := Fact{Label: l.say("times")}
	seen := map[string]bool{}
	for _, s := range steps {
		if from := cure.StepSource(s.Kind); from != "" && !seen[s.Kind] {
			seen[s.Kind] = true
			sources.Lines = append(sources.Lines, stepName(l, s.Kind)+": "+from)
		}
	}
	sources.Lines = append(sources.Lines, l.say("all else: common practice, no source"))
	c.Facts = append(c.Facts, sources)
	c.Next = l.say("A chef can type  move rinse to fri 9:00  or  drop rinse: reason .")
	return t.paged(c, rows, linesAtMost)
}

// stepEnd says what became of a step; "": it is still to be done.
func (t *turn) stepEnd(l tongue, b store.Batch, i int, steps []store.StepState) string {
	s := steps[i]
	switch {
	case s.Dropped:
		return l.say("dropped") + because(s.DropWhy)
	case s.Over:
		return l.say("not done") + because(s.MissedWhy)
	case s.Done:
		return l.say("done %s", moment(l, timeOf(s.DoneAt), t.zone))
	case s.Kind == "ph test" && b.StartedAt != 0 && moot(b, i) && sour(b):
		return l.say("not needed: pH 5.3 is reached")
	case s.Reminded && s.Kept == keptHeld:
		return l.say("kept back: HOLD")
	case s.Reminded && s.Due <= t.now:
		return l.say("not noted")
	}
	return ""
}

// stepLine is one step in the list, or a run of the same.
func (t *turn) stepLine(l tongue, b store.Batch, steps []store.StepState, first, last int) string {
	s := steps[first]
	number := fmt.Sprintf("%2d", first+1)
	when := ""
	if !s.Unlisted {
		when = "  " + moment(l, timeOf(s.Due), t.zone)
	}
	if last > first {
		number = fmt.Sprintf("%2d-%d", first+1, last+1)
		when += " " + l.say("to %s", moment(l, timeOf(steps[last].Due), t.zone))
	}
	line := number + "  " + stepName(l, s.Kind) + when
	if end := t.stepEnd(l, b, first, steps); end != "" {
		return line + "  (" + end + ")"
	}
	if s.On > 0 && !steps[s.On-1].Closed() {
		line += "  " + l.say("after: %s", stepName(l, steps[s.On-1].Kind))
	}
	if s.Every > 0 {
		line += "  " + l.say("every %s", span(l, s.Every.Duration()))
	}
	return line
}

// numbered is the step of a batch that a command names, by its number or as the next of its
// kind; where there is none it says so, and ok is false.
func (t *turn) numbered(b store.Batch, kind string, n int) (i int, ok bool, err error) {
	l := t.theirs
	if b.Ended != 0 || b.StartedAt == 0 {
		return 0, false, t.notNow(b, l.say("changing its steps"))
	}
	if n > 0 {
		if i = n - 1; i < len(b.Steps) && !b.Steps[i].Closed() {
			return i, true, nil
		}
		return 0, false, t.note(l.say("Batch %d has no open step %d.", b.Number, n), l.say("Type  steps  to see them."))
	}
	i = -1
	for j, s := range b.Steps {
		if s.Kind == kind && !s.Closed() && !(s.Reminded && s.Due+overdueAfter < t.now) && (i < 0 || s.Due < b.Steps[i].Due) {
			i = j
		}
	}
	for j, s := range b.Steps { // else the last that was missed
		if i < 0 && s.Kind == kind && !s.Closed() {
			i = j
		}
	}
	if i < 0 {
		return 0, false, t.note(l.say("No %s of batch %d is open.", stepName(l, kind), b.Number), l.say("Type  steps  to see them."))
	}
	return i, true, nil
}

// moveStep gives a step another time. What rests on it follows when it is done.
func (t *turn) moveStep(b store.Batch, c grammar.MoveStep) error {
	i, ok, err := t.numbered(b, c.Step, c.Nth)
	if err != nil || !ok {
		return err
	}
	at := after(c.When, t.m.At, t.zone)
	if !at.After(t.m.At) {
		return t.note(t.theirs.say("That time is past."), t.theirs.say("Type one to come, like  move rinse to fri 9:00 ."))
	}
	old := b.Steps[i].Step
	to := stepAt(old.Kind, at, t.zone)
	to.On, to.Gap, to.Every, to.Fixed = old.On, old.Gap, old.Every, true
	if err := t.append(b.Number, store.StepMoved{Step: i, To: to, Why: "move"}); err != nil {
		return err
	}
	if err := t.follow(b.Number, i, at); err != nil {
		return err
	}
	if err := t.ring(b.Number); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		return noteCard(l.say("Batch %d: %s moved from %s to %s by %s.", b.Number, stepName(l, old.Kind), moment(l, timeOf(old.Due), t.zone), moment(l, at, t.zone), t.person.Name))
	})
}

// dropStep takes a step off the list. It stays on show.
func (t *turn) dropStep(b store.Batch, c grammar.DropStep) error {
	i, ok, err := t.numbered(b, c.Step, c.Nth)
	if err != nil || !ok {
		return err
	}
	kind := b.Steps[i].Kind
	if c.Why == "" {
		return t.note(t.theirs.say("Why is it dropped?"), t.theirs.say("Type  drop %s: reason .", kind))
	}
	if err := t.append(b.Number, store.StepDropped{Step: i, Why: c.Why}); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		return noteCard(l.say("Batch %d: %s dropped by %s: %s. It stays in the record.", b.Number, stepName(l, kind), t.person.Name, c.Why))
	})
}

// soak puts a soak that begins now on the list, with its changes of water.
func (t *turn) soak(b store.Batch, c grammar.Soak) error {
	if b.Ended != 0 || b.StartedAt == 0 || b.Paused() {
		return t.notNow(b, "soak")
	}
	var steps []store.Step
	for _, s := range cure.Soaking(c.For) {
		to := stepAt(s.Kind, t.m.At.Add(s.After), t.zone)
		to.Fixed = true
		if err := t.append(b.Number, store.StepMoved{Step: -1, To: to, Why: "soak"}); err != nil {
			return err
		}
		steps = append(steps, to)
	}
	if err := t.ring(b.Number); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		return Card{Kind: NoteCard, Batch: b.Number, Title: l.say("Batch %d soaks for %s: cold water, in the fridge.", b.Number, span(l, c.For)),
			Facts: []Fact{{Label: l.say("due"), Lines: stepLines(l, steps, t.zone)}},
			Next:  l.say("Fry and taste a slice at each change. A soak takes out salt, nothing else.")}
	})
}

// follow gives the steps that come after one its time: done, or moved.
func (t *turn) follow(n uint64, from int, at time.Time) error {
	b, _, err := t.tx.Batch(t.kitchen.ID, n)
	if err != nil {
		return err
	}
	moved := map[int]time.Time{from: at}
	for i, s := range b.Steps {
		base, ok := moved[s.On-1]
		if !ok || s.On == 0 || s.Closed() {
			continue
		}
		due := base.Add(s.Gap.Duration())
		if s.Fixed {
			continue
		}
		moved[i] = due
		if due.Sub(timeOf(s.Due)).Abs() <= lateAfter {
			continue
		}
		to := stepAt(s.Kind, due, t.zone)
		to.On, to.Gap, to.Every = s.On, s.Gap, s.Every
		if err := t.append(n, store.StepMoved{Step: i, To: to, Why: "shift"}); err != nil {
			return err
		}
	}
	return nil
}

// retest moves the tests of pH that come after the chamber to its real warmth: the last is
// shortly before its degree-hours run out, and none is later.
func (t *turn) retest(b store.Batch, chamberStep int, from time.Time, at cure.Celsius) error {
	last := from.Add(retestAfter(b.Card.Region, at))
	latest := -1
	for i, s := range b.Steps {
		if s.Kind == "ph test" && !s.Closed() && s.On == chamberStep+1 && (latest < 0 || s.Due >= b.Steps[latest].Due) {
			latest = i
		}
	}
	if latest < 0 || !last.After(from) {
		return nil
	}
	to := stepAt("ph test", last, t.zone)
	to.On, to.Gap = b.Steps[latest].On, milli(last)-milli(from)
	return t.append(b.Number, store.StepMoved{Step: latest, To: to, Why: "shift"})
}
