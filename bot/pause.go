package bot

import (
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// pause stops the clock of a batch that was frozen.
func (t *turn) pause(b store.Batch, c grammar.Pause) error {
	l := t.theirs
	switch {
	case b.Ended != 0 || b.StartedAt == 0:
		return t.notNow(b, "pause")
	case b.Paused():
		return t.note(l.say("Batch %d stands since %s.", b.Number, moment(l, timeOf(b.Pauses[len(b.Pauses)-1].From), t.zone)), l.say("When it is out of the freezer, type  resume  or  back in the walk-in mon ."))
	}
	from := t.m.At
	if c.When != nil {
		from = t.onDay(*c.When, b)
	}
	last := b.StartedAt
	if n := len(b.Pauses); n > 0 {
		last = b.Pauses[n-1].To
	}
	if milli(from) < last {
		return t.note(l.say("Its clock ran again only on %s.", moment(l, timeOf(last), t.zone)), l.say("Type a later time, like  frozen since fri 18:00 ."))
	}
	if err := t.appendAt(b.Number, store.Paused{Why: c.Why}, milli(from)); err != nil {
		return err
	}
	done := curedFor(b, milli(from))
	return t.announce(func(l tongue) Card {
		card := Card{Kind: NoteCard, Batch: b.Number, Title: l.say("Batch %d is paused since %s: its clock stands.", b.Number, moment(l, from, t.zone)),
			Lines: []string{l.say("%s done; the dose stays as it is, and nothing falls due meanwhile", span(l, done))},
			Next:  l.say("When it is out of the freezer, type  resume  or  back in the walk-in mon . Thaw it in the fridge, never on the counter.")}
		if plan := time.Duration(b.Card.PlanSeconds) * time.Second; b.State == store.StateCuring && plan > done {
			card.Lines[0] = l.say("%s of %s done, %s left; the dose stays as it is, and nothing falls due meanwhile", span(l, done), span(l, plan), span(l, plan-done))
		}
		return card
	})
}

// onDay is when something of a batch happened. A day without a time is reckoned in whole days
// from the start: at the time of day at which the batch was started.
func (t *turn) onDay(w grammar.When, b store.Batch) time.Time {
	if w.In == 0 && w.Clock == nil {
		start := timeOf(b.StartedAt).In(t.zone)
		w.Clock = &grammar.Clock{Hour: start.Hour(), Minute: start.Minute()}
	}
	if at := before(w, t.m.At, t.zone); !at.After(t.m.At) {
		return at
	}
	return t.m.At
}

// curedFor is how long the clock of a batch has run up to an instant.
func curedFor(b store.Batch, at store.Milli) time.Duration {
	run := at - b.StartedAt
	for _, p := range b.Pauses {
		if p.To != 0 {
			run -= p.To - p.From
		}
	}
	return run.Duration()
}

// resume lets the clock run again. Where nobody said when it was thawed, a day in the fridge is
// assumed, by name.
func (t *turn) resume(b store.Batch, c grammar.Resume) error {
	if !b.Paused() {
		if c.Thawed && len(b.Pauses) > 0 && b.Open() {
			return t.thawed(b, c)
		}
		return t.note(t.theirs.say("The clock of batch %d runs.", b.Number), t.theirs.say("If it was frozen, type  frozen since fri ."))
	}
	p := b.Pauses[len(b.Pauses)-1]
	back := t.m.At
	if c.When != nil {
		back = t.onDay(*c.When, b)
	}
	if milli(back) < p.From {
		return t.note(t.theirs.say("Batch %d was frozen only on %s.", b.Number, moment(t.theirs, timeOf(p.From), t.zone)))
	}
	clock := back
	if !c.Thawed {
		clock = back.Add(cure.Thaw)
	}
	body := store.Resumed{Clock: milli(clock), Moves: t.putOff(b, p.From, milli(back)-p.From, milli(clock)-p.From)}
	if err := t.appendAt(b.Number, body, milli(back)); err != nil {
		return err
	}
	if err := t.ring(b.Number); err != nil {
		return err
	}
	return t.running(b.Number, clock, !c.Thawed)
}

// putOff are the open steps that fell due while the clock stood or come after, put off by as
// long as it stood. A date mark is put off by the days in the freezer alone: thawing counts,
// and the days before are not given back.
func (t *turn) putOff(b store.Batch, from, frozen, stood store.Milli) (moves []store.Move) {
	for i, s := range b.Steps {
		if s.Closed() || s.Due < from {
			continue
		}
		by := stood
		if s.Kind == "use by" {
			by = frozen
		}
		moves = append(moves, store.Move{Step: i, To: t.later(s.Step, by.Duration())})
	}
	return moves
}

// later is a step put off by so long.
func (t *turn) later(s store.Step, by time.Duration) store.Step {
	to := stepAt(s.Kind, timeOf(s.Due).Add(by), t.zone)
	to.On, to.Gap, to.Every, to.Fixed = s.On, s.Gap, s.Every, s.Fixed
	return to
}

// thawed corrects when the clock ran again after the last pause.
func (t *turn) thawed(b store.Batch, c grammar.Resume) error {
	p := b.Pauses[len(b.Pauses)-1]
	clock := t.m.At
	if c.When != nil {
		clock = t.onDay(*c.When, b)
	}
	if milli(clock) < p.Back {
		return t.note(t.theirs.say("Batch %d came out of the freezer only on %s.", b.Number, moment(t.theirs, timeOf(p.Back), t.zone)))
	}
	by := milli(clock) - p.To
	body := store.Thawed{Clock: milli(clock), Moves: t.putOff(b, p.From, 0, by)}
	if err := t.append(b.Number, body); err != nil {
		return err
	}
	if err := t.ring(b.Number); err != nil {
		return err
	}
	return t.running(b.Number, clock, false)
}

// running says from when on the clock of a batch runs again, and what comes next.
func (t *turn) running(n uint64, clock time.Time, assumed bool) error {
	b, _, err := t.tx.Batch(t.kitchen.ID, n)
	if err != nil {
		return err
	}
	p := b.Pauses[len(b.Pauses)-1]
	return t.announce(func(l tongue) Card {
		c := Card{Kind: NoteCard, Batch: n, Title: l.say("The clock of batch %d runs again from %s.", n, moment(l, clock, t.zone)),
			Lines: []string{l.say("frozen %s to %s, %s not counted; the dose stays as it is", moment(l, timeOf(p.From), t.zone), moment(l, timeOf(p.Back), t.zone), span(l, (p.To-p.From).Duration()))}}
		if assumed {
			c.Lines = append(c.Lines, l.say("assumed: a day in the fridge to thaw (common practice, no source). If it was thawed at another time, type  thawed tue 12:00 ."))
		}
		c.Lines = append(c.Lines, l.say("days used before the freezing are not given back"))
		if out := openStep(b, "take out"); out != nil {
			c.Lines = append(c.Lines, l.say("out of the cure %s", moment(l, timeOf(out.Due), t.zone)))
		}
		if s := nextStep(b, t.now); s != nil {
			c.Next = nextWords(l, s, t.zone)
		}
		return c
	})
}

// openStep is the first step of a kind that is still to be done; nil: none.
func openStep(b store.Batch, kind string) *store.StepState {
	for i, s := range b.Steps {
		if s.Kind == kind && !s.Closed() {
			return &b.Steps[i]
		}
	}
	return nil
}
