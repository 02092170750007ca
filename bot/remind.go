package bot

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"salthand/store"
)

// notWhileHeld are the steps that a held batch loses. It is turned, measured and kept cold.
var notWhileHeld = []string{"ferment", "pellicle", "smoke", "cook", "hang"}

// Why a reminder was kept back.
const (
	keptHeld = "held"
	keptMoot = "moot" // a later step was done
)

// takeDue notes of every step of a batch that is due by now that it is reminded of, and gives
// those that are to be said: what guards a temperature or an acidity last, behind what was missed
// before of their kinds. The others are kept back or put off.
func (t *turn) takeDue(b store.Batch) ([]store.StepState, error) {
	if b.Paused() {
		return nil, nil
	}
	here := shutTimesOf(t.kitchen, t.zone)
	var due []int
	for i, s := range b.Steps {
		if s.Closed() || s.Reminded || s.RingAt() > t.now || !b.Ready(i) {
			continue
		}
		var body store.Body
		switch {
		case moot(b, i):
			body = store.Reminded{Step: i, Kept: keptMoot}
		case b.Held() && slices.Contains(notWhileHeld, s.Kind):
			body = store.Reminded{Step: i, Kept: keptHeld}
		case here.shut(t.at()) && !slices.Contains(always, s.Kind) && here.opens(t.at()).After(t.at()):
			body = store.ReminderMoved{Step: i, To: milli(here.opens(t.at())), Why: "shut"}
		default:
			due = append(due, i)
			continue
		}
		if err := t.appendOwn(b.Number, body); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(due, func(i, j int) int { // the last is what the card is called by
		return cmp.Or(cmp.Compare(urgency(b.Steps[i].Kind), urgency(b.Steps[j].Kind)), cmp.Compare(b.Steps[i].Due, b.Steps[j].Due))
	})
	steps := make([]store.StepState, len(due))
	for n, i := range due {
		body := store.Reminded{Step: i}
		if n == len(due)-1 || slices.Contains(always, b.Steps[i].Kind) {
			body.Again = t.again(b.Steps[i].Kind)
		}
		if err := t.appendOwn(b.Number, body); err != nil {
			return nil, err
		}
		if err := t.repeat(b, i, timeOf(b.Steps[i].Due)); err != nil {
			return nil, err
		}
		steps[n] = b.Steps[i]
	}
	return append(missedBefore(b, steps), steps...), nil
}

// missedBefore are the steps of the kinds of some others that were reminded of before, and that
// nobody noted.
func missedBefore(b store.Batch, steps []store.StepState) (missed []store.StepState) {
	for i, s := range b.Steps {
		same := func(o store.StepState) bool { return o.Kind == s.Kind && o.Due > s.Due }
		if !s.Closed() && s.Reminded && s.Kept == "" && !moot(b, i) && slices.ContainsFunc(steps, same) {
			missed = append(missed, s)
		}
	}
	return missed
}

// repeat puts a step that comes again and again on the list once more, counted from an
// instant, where it isn't there yet. Times that are past by now are left out.
func (t *turn) repeat(b store.Batch, i int, from time.Time) error {
	s := b.Steps[i].Step
	if s.Every <= 0 {
		return nil
	}
	for j, other := range b.Steps {
		if j != i && other.Kind == s.Kind && !other.Closed() && !other.Reminded {
			return nil
		}
	}
	next := from.Add(s.Every.Duration())
	for !next.After(t.at()) {
		next = next.Add(s.Every.Duration())
	}
	to := stepAt(s.Kind, next, t.zone)
	to.Every = s.Every
	return t.appendOwn(b.Number, store.StepMoved{Step: -1, To: to, Why: "again"})
}

// moot reports whether a step no longer matters: a turn that was missed, once the piece is out
// of the cure, a test of pH once it has come down, or a step that another one which comes after
// it, or the next of its kind, has overtaken. The record still shows it.
func moot(b store.Batch, i int) bool {
	switch b.Steps[i].Kind {
	case "turn", "overhaul", "top up":
		if b.State != store.StateCuring {
			return true
		}
	case "chill check":
		if slices.ContainsFunc(b.Steps, func(s store.StepState) bool { return s.Kind == "chill" && s.Done && !s.Undone && s.On == b.Steps[i].On }) {
			return true
		}
	case "ph test":
		if b.Steps[i].On > 0 && sour(b) { // one that a person asked for stays
			return true
		}
	}
	for j, s := range b.Steps {
		if s.Done && !s.Undone && (restsOn(b, j, i) || overtakes(s, b.Steps[i])) {
			return true
		}
	}
	return false
}

// overtakes tells whether a step that was done makes an earlier one of its kind needless: who
// turned on Thursday can't turn on Wednesday any more.
func overtakes(done, missed store.StepState) bool {
	return done.Kind == missed.Kind && done.DoneAt >= missed.Due && (done.Unlisted || done.Due > missed.Due)
}

// restsOn tells whether a step comes after another one, or after one that does.
func restsOn(b store.Batch, step, other int) bool {
	for range b.Steps {
		step = b.Steps[step].On - 1
		switch {
		case step < 0 || step >= len(b.Steps):
			return false
		case step == other:
			return true
		}
	}
	return false
}

// reminderCard words the steps of a batch that are due. Those before the last are due as well, or
// earlier ones that nobody noted.
func reminderCard(l tongue, b store.Batch, due []store.StepState, who whom, now time.Time, zone *time.Location) Card {
	last := due[len(due)-1]
	c := Card{Kind: ReminderCard, Batch: b.Number,
		Title: l.say("Batch %d: %s is due (%s).", b.Number, stepName(l, last.Kind), moment(l, timeOf(last.Due), zone)),
		Lines: []string{phraseIn(l, b.Card.Phrase), who.words(l)},
		Next:  l.say("Type  done  when it is,  on it  if you will, or  snooze 2 h ."),
		Buttons: []Button{
			{l.say("done"), Press{Action: DoDone, Batch: b.Number, Revision: b.Revision}},
			{l.say("on it"), Press{Action: DoTake, Batch: b.Number, Revision: b.Revision}},
			{l.say("later"), Press{Action: DoSnooze, Batch: b.Number, Revision: b.Revision}},
		}}
	if b.Held() {
		c.Title = l.say("HOLD. %s", c.Title)
		c.Lines = append(c.Lines, l.say("held: %s", holdReasons(b)))
	}
	switch late := now.Sub(timeOf(last.Due)); {
	case late > lateAfter:
		c.Lines = append(c.Lines, l.say("this reminder is %s late", span(l, late)))
	case late < -lateAfter:
		c.Lines = append(c.Lines, l.say("said now: the kitchen is closed when it is due"))
	}
	var missed, also []store.StepState
	for _, s := range due[:len(due)-1] {
		if s.Kind != last.Kind && now.Sub(timeOf(s.Due)) <= lateAfter {
			also = append(also, s)
		} else {
			missed = append(missed, s)
		}
	}
	if len(also) > 0 {
		c.Lines = append(c.Lines, l.say("also due: %s", strings.Join(missedKinds(l, also, zone), ", ")))
	}
	if len(missed) > 0 {
		c.Lines = append(c.Lines, l.say("not noted: %s", strings.Join(missedKinds(l, missed, zone), ", ")))
	}
	return c
}

// backAgain reminds of what was passed over and matters again: a reading or a step that had
// made it needless was taken back.
func (t *turn) backAgain(n uint64) error {
	b, ok, err := t.tx.Batch(t.kitchen.ID, n)
	if err != nil || !ok || !b.Open() || b.Paused() {
		return err
	}
	var due []store.StepState
	for i, s := range b.Steps {
		if s.Closed() || !s.Reminded || s.Kept != keptMoot || moot(b, i) || !b.Ready(i) {
			continue
		}
		if err := t.appendOwn(n, store.Reminded{Step: i, Again: t.again(s.Kind)}); err != nil {
			return err
		}
		due = append(due, s)
	}
	if len(due) == 0 {
		return nil
	}
	who, err := t.forWhom(b)
	if err != nil {
		return err
	}
	return t.announce(func(l tongue) Card { return reminderCard(l, b, due, who, t.at(), t.zone) })
}

// ring gives the reminders of a batch the times at which somebody is there, where that matters
// before they fall due. It comes after whatever gives steps a time.
func (t *turn) ring(n uint64) error {
	b, ok, err := t.tx.Batch(t.kitchen.ID, n)
	if err != nil || !ok || !b.Open() || b.Paused() {
		return err
	}
	here := shutTimesOf(t.kitchen, t.zone)
	for i, s := range b.Steps {
		if s.Closed() || s.Reminded {
			continue
		}
		at := here.ringFor(s.Step, t.at())
		if at > s.Due && s.Ring == 0 || at == s.Ring {
			continue // a reminder is put off when it falls due: the hours may be others by then
		}
		if err := t.appendOwn(n, store.ReminderMoved{Step: i, To: at, Why: "shut"}); err != nil {
			return err
		}
	}
	return nil
}

// released says what fell due while a batch was held, and reminds of what was kept back.
func (t *turn) released(n uint64, since store.Milli) error {
	b, _, err := t.tx.Batch(t.kitchen.ID, n)
	if err != nil || b.Held() {
		return err
	}
	var due []store.StepState
	for i, s := range b.Steps {
		if s.Closed() || !s.Reminded || s.Due < since && s.Kept == "" || moot(b, i) {
			continue
		}
		if s.Kept == keptHeld {
			if err := t.appendOwn(n, store.Reminded{Step: i, Again: t.again(s.Kind)}); err != nil {
				return err
			}
		}
		due = append(due, s)
	}
	if len(due) == 0 {
		return nil
	}
	return t.announce(func(l tongue) Card {
		c := Card{Kind: ReminderCard, Batch: n, Title: l.say("Batch %d: fell due while it was held, and is not noted.", n)}
		for _, s := range due {
			c.Lines = append(c.Lines, stepName(l, s.Kind)+" "+moment(l, timeOf(s.Due), t.zone))
		}
		c.Next = l.say("Type what was done, or  steps  to see them all.")
		return c
	})
}
