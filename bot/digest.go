package bot

import (
	"slices"
	"strings"
	"time"

	"salthand/grammar"
	"salthand/store"
)

// setDigest is the setting of when the day's digest is posted, "7:00"; "": never.
const setDigest = "digest"

// alarmDigest is the alarm of the kitchen at which it is.
const alarmDigest = "digest"

// linesOf is how many lines of a group a digest shows.
const linesOf = 6

// homeChannels are the home channels of a kitchen, one a platform at most.
func homeChannels(k store.Kitchen) (homes []Place) {
	for key, value := range k.Settings {
		if strings.HasPrefix(key, setHome) && value != "" {
			homes = append(homes, placeNamed(value))
		}
	}
	slices.SortFunc(homes, func(a, b Place) int { return strings.Compare(a.String(), b.String()) })
	return homes
}

// homesOf are the places where the digest is posted: the home channels, or else the first cure
// channel.
func homesOf(k store.Kitchen) []Place {
	homes := homeChannels(k)
	if first, _, _ := strings.Cut(k.Settings[setCureChannel], ","); len(homes) == 0 && first != "" {
		homes = []Place{placeNamed(first)}
	}
	return homes
}

// placeNamed reads a Place.String again.
func placeNamed(s string) Place {
	part := strings.Split(s, "/")
	if len(part) < 4 {
		return Place{Channel: s}
	}
	n := len(part) - 1
	return Place{Platform: part[0], Team: part[1], Channel: strings.Join(part[2:n], "/"), Thread: part[n]}
}

// setDigestAt sets when the digest is posted.
func (t *turn) setDigestAt(c grammar.SetDigest) error {
	l, old := t.theirs, t.kitchen.Settings[setDigest]
	if c.At == nil {
		if err := t.append(0, store.KitchenAlarmSet{What: alarmDigest}); err != nil {
			return err
		}
		return t.set(setDigest, old, "", l.say("No digest is posted by itself. Type  digest  to see it."))
	}
	clock := clockWords(*c.At)
	if err := t.set(setDigest, old, clock, l.say("The digest is posted at %s on days that the kitchen is open.", clock)); err != nil {
		return err
	}
	return t.nextDigest()
}

// nextDigest sets the alarm of the next digest by the settings of this moment.
func (t *turn) nextDigest() error {
	k, _, err := t.tx.Kitchen(t.kitchen.ID)
	if err != nil || k.Settings[setDigest] == "" {
		return err
	}
	zone := t.zones.of(k)
	here, clock := shutTimesOf(k, zone), clockOf(k.Settings[setDigest])
	day := t.at().In(zone)
	for range looksAhead {
		if at := clockOn(day, &clock); at.After(t.at()) && !here.shutOn(at) {
			return t.appendOwn(0, store.KitchenAlarmSet{What: alarmDigest, At: milli(at)})
		}
		day = day.AddDate(0, 0, 1)
	}
	return nil // never open
}

// morning posts the digest and sets the next. What was missed while the bot was away is in it
// once.
func (t *turn) morning() error {
	if err := t.nextDigest(); err != nil {
		return err
	}
	c, err := t.digest(t.ours)
	if err != nil {
		return err
	}
	for _, home := range homesOf(t.kitchen) {
		if err := t.postAt(home, c); err != nil {
			return err
		}
	}
	return nil
}

// ofShift does a command of who looks after what, and of when the kitchen is there; false: it
// is none.
func (t *turn) ofShift(c grammar.Command) (bool, error) {
	switch c := c.(type) {
	case grammar.Away:
		return true, t.away(c)
	case grammar.HandOver:
		return true, t.handOver(c)
	case grammar.Accept:
		return true, t.accept()
	case grammar.Digest:
		card, err := t.digest(t.theirs)
		if err != nil {
			return true, err
		}
		return true, t.post(card)
	case grammar.SetDigest:
		return true, t.setDigestAt(c)
	case grammar.Quiet:
		return true, t.setQuietHours(c)
	case grammar.Closed:
		return true, t.setClosedDays(c)
	case grammar.Escalate:
		return true, t.escalateLater(c)
	case grammar.SetBackup:
		return true, t.kitchenBackup(c)
	}
	return false, nil
}

// digest is what a shift has to know when it begins.
func (t *turn) digest(l tongue) (Card, error) {
	facts, err := t.groups(l, func(store.Batch) bool { return true })
	c := Card{Kind: ListCard, Title: l.say("Digest of %s", day(l, t.at(), t.zone)), Facts: facts,
		Next: l.say("Type  due  or  held  for all of them,  batch 3: done  for one.")}
	if len(facts) == 0 {
		c.Title, c.Next = l.say("Digest of %s: nothing is due, held or waiting.", day(l, t.at(), t.zone)), ""
	}
	return c, err
}

// groups are the batches that pass by how they stand: overdue, due today, held, paused,
// cure not yet confirmed, waiting for approval.
func (t *turn) groups(l tongue, pass func(store.Batch) bool) (facts []Fact, err error) {
	overdue, today, err := t.dueToday(l, pass)
	if err != nil {
		return nil, err
	}
	add := func(label string, rows []row) {
		f := Fact{Label: label}
		var rest []string // by number alone: none is left out
		for i, r := range rows {
			if i < linesOf {
				f.Lines = append(f.Lines, r.line)
			} else {
				rest = append(rest, r.key)
			}
		}
		if len(rest) > 0 {
			f.Lines = append(f.Lines, l.say("and %d more: batch %s", len(rest), strings.Join(rest, ", ")))
		}
		if len(rows) > 0 {
			facts = append(facts, f)
		}
	}
	add(l.say("overdue"), overdue)
	add(l.say("due today"), today)
	groups := []struct {
		label string
		query []store.Query
		line  func(b store.Batch) string
	}{
		{l.say("held"), []store.Query{{Held: true}}, func(b store.Batch) string {
			h := b.Holds[0]
			return l.say("for %s: %s", span(l, t.at().Sub(timeOf(h.At))), h.Why)
		}},
		{l.say("paused"), []store.Query{{Paused: true}}, func(b store.Batch) string {
			p := b.Pauses[len(b.Pauses)-1]
			return l.say("its clock stands since %s", moment(l, timeOf(p.From), t.zone)) + because(p.Why)
		}},
		{l.say("cure not confirmed"), []store.Query{{State: store.StateApproved}, {State: store.StateWeighed}, {State: store.StateChecked}}, func(b store.Batch) string {
			return stateWords(l, b)
		}},
		{l.say("to approve"), []store.Query{{State: store.StateAsked}}, func(b store.Batch) string {
			return l.say("asked %s", moment(l, timeOf(b.AskedAt), t.zone))
		}},
	}
	for _, g := range groups {
		var rows []row
		for _, q := range g.query {
			err := t.eachBatch(q, func(b store.Batch) error {
				if pass(b) {
					rows = append(rows, rowOf(b, l.say("batch %d, %s: %s", b.Number, cutName(l, b.Card.Cut), g.line(b))))
				}
				return nil
			})
			if err != nil {
				return nil, err
			}
		}
		add(g.label, rows)
	}
	return facts, nil
}

// dueToday are the steps that are overdue, and those that fall due by the end of the day, what
// guards a temperature or an acidity first.
func (t *turn) dueToday(l tongue, pass func(store.Batch) bool) (overdue, today []row, err error) {
	entries, err := t.tx.DueIn(t.kitchen.ID, 0, t.endOfDay(), 0)
	if err != nil {
		return nil, nil, err
	}
	groups, err := t.dueGroups(l, entries, pass)
	if err != nil {
		return nil, nil, err
	}
	slices.SortStableFunc(groups, byUrgency)
	for _, g := range groups {
		line := row{numbersShort(g.batches), g.line(l, t.now, t.zone)}
		if g.overdue(t.now) {
			overdue = append(overdue, line)
		} else if g.kind != "" {
			today = append(today, line)
		}
	}
	return overdue, today, nil
}

// listedAsDue tells whether a step is one to do: not overtaken, not waiting for another, and
// not one that a hold keeps back.
func listedAsDue(b store.Batch, i int) bool {
	return b.Ready(i) && !moot(b, i) && !(b.Held() && slices.Contains(notWhileHeld, b.Steps[i].Kind))
}

// eachBatch walks the batches of a query, newest first.
func (t *turn) eachBatch(q store.Query, fn func(b store.Batch) error) error {
	for {
		page, more, err := t.tx.Batches(t.kitchen.ID, q)
		if err != nil {
			return err
		}
		for _, b := range page {
			if err := fn(b); err != nil {
				return err
			}
		}
		if q.After = more; more == "" {
			return nil
		}
	}
}

// openStates are the states of a batch that has not ended.
var openStates = []store.State{
	store.StateAsked, store.StateApproved, store.StateWeighed, store.StateChecked, store.StateCuring, store.StateResting,
	store.StateFermenting, store.StateDrying, store.StateSmoking, store.StateCooking, store.StateChilled,
}

// eachOpen walks all batches that have not ended.
func (t *turn) eachOpen(fn func(b store.Batch) error) error {
	for _, s := range openStates {
		if err := t.eachBatch(store.Query{State: s}, fn); err != nil {
			return err
		}
	}
	return nil
}

// setQuietHours sets when nobody is reminded.
func (t *turn) setQuietHours(c grammar.Quiet) error {
	value, words := "", t.theirs.say("There are no quiet hours.")
	if !c.Off {
		value = clockWords(c.From) + "-" + clockWords(c.To)
		words = t.theirs.say("Quiet from %s to %s: reminders wait, but never one of a temperature, a chilling or a pH, nor a hold.", clockWords(c.From), clockWords(c.To))
	}
	if err := t.set(setQuiet, t.kitchen.Settings[setQuiet], value, words); err != nil {
		return err
	}
	return t.hoursChanged()
}

// setClosedDays sets on which days nobody is there. Weekdays replace those that were set, dates
// are added to them.
func (t *turn) setClosedDays(c grammar.Closed) error {
	old := t.kitchen.Settings[setClosed]
	var days []string
	for _, d := range c.Days {
		days = append(days, weekdayWords[d])
	}
	for _, word := range strings.Fields(old) {
		weekday := slices.Contains(weekdayWords, word)
		if weekday && len(c.Days) == 0 && len(c.Dates) > 0 || !weekday && len(c.Days)+len(c.Dates) > 0 {
			days = append(days, word)
		}
	}
	for _, d := range c.Dates {
		from, to := t.dateAhead(d.From), t.dateAhead(d.To)
		for n := 0; !from.After(to) && n < looksAhead; n++ {
			days = append(days, from.Format(dateForm))
			from = from.AddDate(0, 0, 1)
		}
	}
	slices.Sort(days)
	days = slices.Compact(days)
	words := t.theirs.say("The kitchen is open every day.")
	if len(days) > 0 {
		words = t.theirs.say("Closed on %s: reminders wait until it opens, what must not lie longer is said before.", t.closedWords(days))
	}
	if err := t.set(setClosed, old, strings.Join(days, " "), words); err != nil {
		return err
	}
	return t.hoursChanged()
}

// closedWords are closed days for people, weekdays first.
func (t *turn) closedWords(days []string) string {
	var weekdays, dates []string
	for _, word := range days {
		if i := slices.Index(weekdayWords, word); i >= 0 {
			weekdays = append(weekdays, weekdayName(t.theirs, time.Weekday(i)))
		} else if at, err := time.ParseInLocation(dateForm, word, t.zone); err == nil {
			dates = append(dates, day(t.theirs, at, t.zone))
		}
	}
	return strings.Join(append(weekdays, dates...), ", ")
}

// dateAhead is the next day of the calendar that a date can mean, today included, at noon.
func (t *turn) dateAhead(d grammar.Date) time.Time {
	at := after(dayOf(grammar.When{Date: &d}, endOfDay), t.m.At, t.zone).In(t.zone)
	return time.Date(at.Year(), at.Month(), at.Day(), 12, 0, 0, 0, t.zone)
}

// hoursChanged fits the reminders of every open batch, and the digest, to hours that changed.
func (t *turn) hoursChanged() error {
	k, _, err := t.tx.Kitchen(t.kitchen.ID)
	if err != nil {
		return err
	}
	t.kitchen, t.zone = k, t.zones.of(k)
	var open []uint64
	err = t.eachOpen(func(b store.Batch) error {
		if b.StartedAt != 0 {
			open = append(open, b.Number)
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, n := range open {
		if err := t.ring(n); err != nil {
			return err
		}
	}
	return t.nextDigest()
}
