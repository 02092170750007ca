package bot

import (
	"slices"
	"strings"
	"time"

	"salthand/grammar"
	"salthand/store"
)

// passing are the steps that can't be made good once their day is over.
var passing = []string{"turn", "overhaul", "top up", "change water", "weigh", "mould look", "chill check", "ph test"}

// checks are the steps that look at how a batch does.
var checks = []string{"weigh", "mould look", "chill check", "chill", "ph test"}

// notTaken notes that a step or a reading of a batch was missed. It carries no value: a gap stays
// a gap, with its reason.
func (t *turn) notTaken(b store.Batch, c grammar.NotTaken) error {
	l := t.theirs
	switch {
	case b.StartedAt == 0 || b.Ended != 0:
		return t.notNow(b, grammar.Canonical(c))
	case c.Why == "":
		return t.whyMissed(c)
	}
	days, ok, err := t.missedDays(c)
	if err != nil || !ok {
		return err
	}
	var noted []store.NotTaken
	for _, day := range days {
		body := store.NotTaken{What: c.Step, Step: stepMissed(b, c.Step, day, t.now, t.zone), Of: milli(day.at), DayOnly: day.whole, Why: c.Why}
		switch {
		case body.Step >= 0:
			body.Of, body.DayOnly = b.Steps[body.Step].Due, false
			body.Over = slices.Contains(passing, c.Step)
		case !slices.Contains(checks, c.Step):
			title := l.say("No %s of batch %d was due then and is open: nothing was noted.", stepName(l, c.Step), b.Number)
			if slices.ContainsFunc(b.Steps, func(s store.StepState) bool { return s.Kind == c.Step && s.Over }) {
				title = l.say("That %s of batch %d is noted as not done already, or was not due: nothing more was noted.", stepName(l, c.Step), b.Number)
			}
			return t.note(title, l.say("Type  steps  to see them."))
		}
		if slices.ContainsFunc(noted, func(n store.NotTaken) bool { return n.Step == body.Step && n.Of == body.Of }) {
			continue
		}
		noted = append(noted, body)
	}
	for _, body := range noted {
		if err := t.append(b.Number, body); err != nil {
			return err
		}
	}
	if err := t.ring(b.Number); err != nil {
		return err
	}
	b, _, err = t.tx.Batch(t.kitchen.ID, b.Number)
	if err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		var missed []string
		for _, n := range noted {
			missed = append(missed, t.missedWords(l, n.What, n.Of, n.DayOnly))
		}
		card := noteCard(l.say("Batch %d: %s: %s. Noted for %s.", b.Number, strings.Join(missed, "; "), c.Why, t.person.Name))
		card.Batch = b.Number
		if s := nextStep(b, t.now); s != nil {
			card.Lines = []string{nextWords(l, s, t.zone)}
		}
		switch {
		case slices.Contains(checks, c.Step):
			card.Next = l.say("A check was missed: look at the batch now, measure, and note what was done about it. Not sure:  hold: what is not known .")
		case !slices.Contains(passing, c.Step):
			card.Next = l.say("It is still to be done, and stays due. A chef can  drop %s: reason .", c.Step)
		}
		return card
	})
}

// placeNotRead notes that a temperature of a place was not read.
func (t *turn) placeNotRead(c grammar.NotTaken) error {
	l := t.theirs
	if c.Why == "" {
		return t.whyMissed(c)
	}
	p, ok, err := t.known(c.Place, func(name string) grammar.Command {
		c.Place = name
		return c
	})
	if err != nil || !ok {
		return err
	}
	days, ok, err := t.missedDays(c)
	if err != nil || !ok {
		return err
	}
	var when []string
	for _, day := range days {
		if err := t.append(0, store.PlaceNotRead{Place: p.Name, Of: milli(day.at), DayOnly: day.whole, Why: c.Why}); err != nil {
			return err
		}
		when = append(when, t.ofTime(l, milli(day.at), day.whole))
	}
	card := noteCard(l.say("%s, %s: not taken: %s. Noted for %s.", p.Name, strings.Join(when, "; "), c.Why, t.person.Name),
		l.say("A check was missed: read it now, and the core of what lies there if it is warm, and note what was done about it. If a probe logged it:  %s 3.1 c sat 7:00 by probe log .", p.Name))
	in, err := t.inPlace(p.Name)
	if err != nil {
		return err
	}
	for _, b := range in {
		card.Lines = append(card.Lines, t.placeLine(l, b))
	}
	return t.post(card)
}

// whyMissed asks for the reason.
func (t *turn) whyMissed(c grammar.NotTaken) error {
	l := t.theirs
	return t.note(l.say("Why was it missed? The reason is what the record wants."), l.say("Type  %s: reason .", grammar.Canonical(c)))
}

// missedDay is when something was to be: a moment, or some time of a whole day.
type missedDay struct {
	at    time.Time
	whole bool
	said  bool
}

// missedDays are the days that a line names; where it names none, today. One to come has been
// answered.
func (t *turn) missedDays(c grammar.NotTaken) (days []missedDay, ok bool, err error) {
	if len(c.When) == 0 {
		return []missedDay{{at: t.m.At}}, true, nil
	}
	for _, w := range c.When {
		whole := w.Clock == nil && w.In == 0
		at := t.m.At
		if today := whole && w.Weekday == nil && w.Date == nil && w.Days == 0; !today {
			at = before(*w, t.m.At, t.zone)
		}
		if at.After(t.m.At) || w.In > 0 {
			return nil, false, t.note(t.theirs.say("That time has not come yet."), t.theirs.say("Type it when it is so."))
		}
		days = append(days, missedDay{at, whole, true})
	}
	return days, true, nil
}

// stepMissed is the open step of a kind that was due on a day by now, or half a day around a
// moment; where no day was said, the last that was due. -1: there is none.
func stepMissed(b store.Batch, kind string, day missedDay, now store.Milli, zone *time.Location) int {
	found := -1
	for i, s := range b.Steps {
		due := timeOf(s.Due)
		fits := !day.said
		switch {
		case s.Kind != kind || s.Closed() || s.Due > now || !b.Ready(i):
			continue
		case day.whole:
			fits = due.In(zone).Format(time.DateOnly) == day.at.In(zone).Format(time.DateOnly)
		case day.said:
			fits = due.Sub(day.at).Abs() <= early.Duration()
		}
		if fits && (found < 0 || s.Due > b.Steps[found].Due) {
			found = i
		}
	}
	return found
}

// missedWords say what was missed and when it was to be.
func (t *turn) missedWords(l tongue, what string, of store.Milli, dayOnly bool) string {
	return l.say("%s of %s not done", stepName(l, what), t.ofTime(l, of, dayOnly))
}

// ofTime is a moment, or the day alone where no more is known.
func (t *turn) ofTime(l tongue, of store.Milli, dayOnly bool) string {
	if dayOnly {
		return day(l, timeOf(of), t.zone)
	}
	return moment(l, timeOf(of), t.zone)
}

// gapsOf are the temperatures of a place that were not read, the latest first.
func (t *turn) gapsOf(l tongue, place string) (lines []string, err error) {
	events, err := t.tx.Trail(t.kitchen.ID, store.PlaceSubject(place), 0, wholePage)
	for _, e := range events {
		gap, ok := e.Body.(store.PlaceNotRead)
		if !ok || len(lines) == shownReadings {
			continue
		}
		by, err := t.nameOf(e.Person)
		if err != nil {
			return nil, err
		}
		lines = append(lines, l.say("%s: %s (noted by %s, %s)", t.ofTime(l, gap.Of, gap.DayOnly), gap.Why, by, moment(l, timeOf(e.Noted), t.zone)))
	}
	return lines, err
}

// evidenceLines say on a card what an entry rests on.
func evidenceLines(l tongue, evidence string) []string {
	if evidence == "" {
		return nil
	}
	return []string{l.say("evidence: %s", evidence)}
}

// restsWords say in the record what a late entry rests on.
func restsWords(l tongue, evidence string) string {
	if evidence == "" {
		return ""
	}
	return l.say(", by %s", evidence)
}
