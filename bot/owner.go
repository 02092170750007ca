package bot

import (
	"slices"
	"strconv"
	"time"

	"salthand/grammar"
	"salthand/store"
)

// The settings of who is told of a step that nobody acted on.
const (
	setBackup   = "backup"         // person id: of every batch that has none of its own
	setEscalate = "escalate after" // seconds; "0": nobody else is told
)

// escalateAfter is how long a reminder waits for somebody to act on it before the next is
// told, and soonAfter the same of what guards a temperature or an acidity.
const (
	escalateAfter = time.Hour
	soonAfter     = 15 * time.Minute
	quarter       = 15 * time.Minute
)

// Who is told beside the owner, in this order.
const (
	toldBackup = "backup"
	toldChefs  = "chefs"
)

// whom is who a reminder is for.
type whom struct {
	name string // "": nobody in particular
	away string // the owner, where somebody else stands in
}

func (w whom) words(l tongue) string {
	switch {
	case w.name == "" && w.away == "":
		return l.say("for the chefs")
	case w.name == "":
		return l.say("for the chefs: %s is away", w.away)
	case w.away != "":
		return l.say("for %s: %s is away", w.name, w.away)
	}
	return l.say("for %s", w.name)
}

// ownerOf is the id of who looks after a batch.
func ownerOf(b store.Batch) string {
	for _, id := range []string{b.Owner, b.StartedBy} {
		if id != "" {
			return id
		}
	}
	return b.AskedBy
}

// backupOf is the id of who is told next; "": nobody.
func (t *turn) backupOf(b store.Batch) string {
	if b.Backup != "" {
		return b.Backup
	}
	return t.kitchen.Settings[setBackup]
}

// here gives a person, and whether they are there now.
func (t *turn) here(id string) (p store.Person, here bool, err error) {
	if id == "" {
		return p, false, nil
	}
	p, ok, err := t.tx.Person(t.kitchen.ID, id)
	here = ok && (p.Away == nil || t.now < p.Away.From || t.now >= p.Away.To)
	return p, here, err
}

// forWhom is who a reminder of a batch is for: its owner, or who stands in.
func (t *turn) forWhom(b store.Batch) (whom, error) {
	owner, here, err := t.here(ownerOf(b))
	if err != nil || here {
		return whom{name: owner.Name}, err
	}
	backup, here, err := t.here(t.backupOf(b))
	if !here {
		backup.Name = ""
	}
	return whom{name: backup.Name, away: owner.Name}, err
}

// again is when the next is told of a step that is reminded of now; 0: nobody is. It comes at a
// full quarter of an hour, so that batches started one after another are told of together, and
// waits for the kitchen to open; but for what guards a temperature or an acidity.
func (t *turn) again(kind string) store.Milli {
	after := escalateAfter
	if s, err := strconv.Atoi(t.kitchen.Settings[setEscalate]); err == nil {
		after = time.Duration(s) * time.Second
	}
	switch {
	case after == 0:
		return 0
	case slices.Contains(always, kind):
		return milli(t.at().Add(min(after, soonAfter)))
	}
	return milli(shutTimesOf(t.kitchen, t.zone).opens(t.at().Add(after + quarter - 1).Truncate(quarter)))
}

// escalate notes of the steps of a batch that nobody acted on that the next is told of them, its
// backup and then the chefs, and gives them by who that is.
func (t *turn) escalate(b store.Batch) (told map[string][]store.StepState, err error) {
	told = map[string][]store.StepState{}
	here := shutTimesOf(t.kitchen, t.zone)
	_, backupHere, err := t.here(t.backupOf(b))
	if err != nil {
		return nil, err
	}
	for i, s := range b.Steps {
		if s.Closed() || s.Again == 0 || s.Again > t.now {
			continue
		}
		body := store.Escalated{Step: i, To: toldChefs}
		switch {
		case moot(b, i):
			body.To = s.Told
		case here.shut(t.at()) && !slices.Contains(always, s.Kind) && here.opens(t.at()).After(t.at()):
			body.To, body.Again = s.Told, milli(here.opens(t.at()))
		case s.Told == "" && backupHere && t.backupOf(b) != ownerOf(b):
			body.To, body.Again = toldBackup, t.again(s.Kind)
			told[toldBackup] = append(told[toldBackup], s)
		default:
			told[toldChefs] = append(told[toldChefs], s)
		}
		if err := t.appendOwn(b.Number, body); err != nil {
			return nil, err
		}
	}
	return told, nil
}

// onIt takes on what a batch was reminded of: nobody else is told.
func (t *turn) onIt(b store.Batch) error {
	n := 0
	for i, s := range b.Steps {
		if s.Closed() || !s.Reminded || s.Kept != "" || s.TakenBy == t.person.ID {
			continue
		}
		if err := t.append(b.Number, store.Acknowledged{Step: i}); err != nil {
			return err
		}
		n++
	}
	if n == 0 {
		return t.note(t.theirs.say("Nothing of batch %d waits for somebody to take it on.", b.Number))
	}
	return t.announce(func(l tongue) Card {
		return noteCard(l.say("Batch %d: %s takes it on. Nobody else is told.", b.Number, t.person.Name), l.say("Type  done  when it is."))
	})
}

// somebody is the one person of that name; where there is none or are more it says so, and ok
// is false.
func (t *turn) somebody(name string) (p store.Person, ok bool, err error) {
	found, err := t.tx.PersonNamed(t.kitchen.ID, name)
	switch {
	case err != nil:
		return p, false, err
	case len(found) == 0:
		return p, false, t.note(t.theirs.say("Nobody here is known as %s yet.", name), t.theirs.say("Let them type one phrase first."))
	case len(found) > 1:
		return p, false, t.note(t.theirs.say("More than one person here goes by %s.", name), t.theirs.say("Name them with a mention."))
	}
	return found[0], true, nil
}

// setOwner names who is reminded of a batch.
func (t *turn) setOwner(b store.Batch, c grammar.SetOwner) error {
	p, ok, err := t.somebody(c.Who)
	if err != nil || !ok {
		return err
	}
	if b.Ended != 0 {
		return t.notNow(b, "owner")
	}
	if err := t.append(b.Number, store.OwnerSet{ID: p.ID, Old: b.Owner}); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		return noteCard(l.say("Batch %d: reminders go to %s from now on.", b.Number, p.Name))
	})
}

// setBackup names who is told of a batch where its owner does not act.
func (t *turn) setBackup(b store.Batch, c grammar.SetBackup) error {
	p, ok, err := t.somebody(c.Who)
	if err != nil || !ok {
		return err
	}
	if b.Ended != 0 {
		return t.notNow(b, "backup")
	}
	if err := t.append(b.Number, store.BackupSet{ID: p.ID, Old: b.Backup}); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		return noteCard(l.say("Batch %d: %s is told where nobody acts.", b.Number, p.Name))
	})
}

// kitchenBackup names who is told of every batch that has no backup of its own.
func (t *turn) kitchenBackup(c grammar.SetBackup) error {
	p, ok, err := t.somebody(c.Who)
	if err != nil || !ok {
		return err
	}
	return t.set(setBackup, t.kitchen.Settings[setBackup], p.ID, t.theirs.say("%s is told where the owner of a batch does not act.", p.Name))
}

// escalateLater sets how long a reminder waits.
func (t *turn) escalateLater(c grammar.Escalate) error {
	words := t.theirs.say("Nobody else is told of a reminder that nobody acts on.")
	if c.After > 0 {
		words = t.theirs.say("A reminder that nobody acts on within %s goes to the backup, then to the chefs.", span(t.theirs, c.After))
	}
	return t.set(setEscalate, t.kitchen.Settings[setEscalate], strconv.Itoa(int(c.After/time.Second)), words)
}

// away notes when a person is not reminded of anything.
func (t *turn) away(c grammar.Away) error {
	p := t.person
	if c.Who != "" {
		var ok bool
		var err error
		if p, ok, err = t.somebody(c.Who); err != nil || !ok {
			return err
		}
	}
	l := t.theirs
	if c.Off {
		if err := t.append(0, store.AwayNoted{ID: p.ID}); err != nil {
			return err
		}
		return t.note(l.say("%s is back: reminders go to them again.", p.Name))
	}
	from, to := t.m.At, t.m.At.AddDate(1, 0, 0)
	if c.From != nil {
		from = startOf(after(dayOf(*c.From, endOfDay), t.m.At, t.zone), t.zone)
	}
	if c.To != nil {
		base := from
		if c.To.Days != 0 || c.To.In != 0 {
			base = t.m.At // "tomorrow" is the day after today, not after the first day away
		}
		to = startOf(after(dayOf(*c.To, endOfDay), base, t.zone), t.zone).AddDate(0, 0, 1)
	}
	if err := t.append(0, store.AwayNoted{ID: p.ID, From: milli(from), To: milli(to)}); err != nil {
		return err
	}
	if c.To != nil && !to.AddDate(0, 0, -1).After(from) {
		return t.awayNoted(p, l.say("%s is away on %s: reminders go to the backup.", p.Name, day(l, from, t.zone)))
	}
	words := l.say("%s is away until further notice: reminders go to the backup.", p.Name)
	if c.To != nil {
		words = l.say("%s is away from %s to %s: reminders go to the backup.", p.Name, day(l, from, t.zone), day(l, to.Add(-time.Second), t.zone))
	}
	return t.awayNoted(p, words)
}

// awayNoted says that somebody is away, and how their batches are given to another.
func (t *turn) awayNoted(p store.Person, words string) error {
	l := t.theirs
	people, err := t.tx.People(t.kitchen.ID)
	if err != nil {
		return err
	}
	other := slices.IndexFunc(people, func(o store.Person) bool { return o.ID != p.ID })
	if other < 0 {
		return t.note(words)
	}
	return t.note(words, l.say("To give the batches to somebody, type one like  give %s's batches to %s .", p.Name, people[other].Name))
}

// dayOf is a moment with a time of day where none was said.
func dayOf(w grammar.When, c grammar.Clock) grammar.When {
	if w.In == 0 && w.Clock == nil {
		w.Clock = &c
	}
	return w
}

// startOf is the first instant of the day that an instant falls on.
func startOf(at time.Time, zone *time.Location) time.Time {
	y, m, d := at.In(zone).Date()
	return local(y, m, d, startOfDay, zone)
}
