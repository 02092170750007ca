package bot

import (
	"cmp"
	"slices"
	"strings"

	"salthand/store"
)

// longLate is how long after its time a reminder may be told in a card of its own. Later, and of
// two batches or more of one person, it is told in one card: after the bot was away for a week,
// or when the kitchen opens.
const longLate = store.Milli(60 * 60 * 1000)

// gatheredLines is how many lines such a card has; the rest stands in the due list.
const gatheredLines = 12

// byWhatIsTold puts due entries together that may be told in one card: the reminders of a
// kitchen, and what nobody acted on. All else comes one by one.
func byWhatIsTold(a, b store.DueEntry) int {
	return cmp.Or(strings.Compare(a.Kitchen, b.Kitchen), cmp.Compare(toldAs(a), toldAs(b)))
}

func toldAs(d store.DueEntry) int {
	switch {
	case d.Batch == 0:
		return 0
	case d.What == store.DueStep:
		return 2
	case d.What == store.DueAgain:
		return 3
	}
	return 1
}

// toldTogether is how many of the first due entries are told together.
func toldTogether(due []store.DueEntry) int {
	n := 1
	for toldAs(due[0]) >= 2 && n < len(due) && byWhatIsTold(due[0], due[n]) == 0 {
		n++
	}
	return n
}

// toldSteps are steps of one batch that are told of, the last of them why.
type toldSteps struct {
	batch store.Batch
	steps []store.StepState
}

// remindAll reminds of the steps of batches that are due by now: each batch in its thread, but
// those that are long late in one card a person.
func (t *turn) remindAll(due []store.DueEntry) error {
	var order []whom
	late := map[whom][]toldSteps{}
	for _, d := range due {
		b, ok, err := t.tx.Batch(t.kitchen.ID, d.Batch)
		if err != nil {
			return err
		}
		if !ok {
			continue
		}
		steps, err := t.takeDue(b)
		if err != nil {
			return err
		}
		if len(steps) == 0 {
			continue
		}
		who, err := t.forWhom(b)
		if err != nil {
			return err
		}
		told := toldSteps{b, steps}
		if t.now-steps[len(steps)-1].Due <= longLate {
			if err := t.remindOf(told, who); err != nil {
				return err
			}
			continue
		}
		if late[who] == nil {
			order = append(order, who)
		}
		late[who] = append(late[who], told)
	}
	for _, who := range order {
		all := late[who]
		if len(all) == 1 {
			if err := t.remindOf(all[0], who); err != nil {
				return err
			}
			continue
		}
		err := t.postHome(all, func(l tongue) Card {
			groups := gathered(all)
			return t.gatheredCard(l, groups, l.say("Fell due since %s, %s.", moment(l, timeOf(earliest(groups)), t.zone), who.words(l)))
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// remindOf reminds of the steps of one batch in its thread.
func (t *turn) remindOf(told toldSteps, who whom) error {
	if err := t.toBatch(told.batch); err != nil {
		return err
	}
	return t.post(t.both(func(l tongue) Card { return reminderCard(l, told.batch, told.steps, who, t.at(), t.zone) }))
}

// nextTold is who is told of what nobody acted on.
type nextTold struct {
	to string // toldBackup, toldChefs
	id string // of the backup
}

// escalateAll tells the next of the steps of batches that nobody acted on, in one card each.
func (t *turn) escalateAll(due []store.DueEntry) error {
	var order []nextTold
	open := map[nextTold][]toldSteps{}
	seen := map[uint64]bool{} // a batch has an entry for each of its steps
	for _, d := range due {
		if seen[d.Batch] {
			continue
		}
		seen[d.Batch] = true
		b, ok, err := t.tx.Batch(t.kitchen.ID, d.Batch)
		if err != nil {
			return err
		}
		if !ok {
			continue
		}
		told, err := t.escalate(b)
		if err != nil {
			return err
		}
		for _, to := range []string{toldBackup, toldChefs} {
			if len(told[to]) == 0 {
				continue
			}
			next := nextTold{to: to}
			if to == toldBackup {
				next.id = t.backupOf(b)
			}
			if open[next] == nil {
				order = append(order, next)
			}
			open[next] = append(open[next], toldSteps{b, append(missedBefore(b, told[to]), told[to]...)})
		}
	}
	for _, next := range order {
		backup, _, err := t.tx.Person(t.kitchen.ID, next.id)
		if err != nil {
			return err
		}
		if err := t.postHome(open[next], t.unanswered(open[next], backup.Name)); err != nil {
			return err
		}
	}
	return nil
}

// unanswered words steps that nobody acted on, for the backup of that name, or for the chefs.
func (t *turn) unanswered(all []toldSteps, backup string) func(l tongue) Card {
	return func(l tongue) Card {
		who := l.say("for the chefs")
		if backup != "" {
			who = l.say("for %s", backup)
		}
		if len(all) > 1 {
			return t.gatheredCard(l, gathered(all), l.say("Nobody has taken these on, %s.", who))
		}
		b, steps := all[0].batch, all[0].steps
		last := steps[len(steps)-1]
		c := Card{Kind: ReminderCard, Batch: b.Number,
			Title: l.say("Nobody has taken on batch %d: %s, due %s, %s.", b.Number, stepName(l, last.Kind), moment(l, timeOf(last.Due), t.zone), who),
			Next:  l.say("Type  batch %d: done  when it is, or  batch %d: on it  if you will.", b.Number, b.Number),
			Buttons: []Button{
				{l.say("done"), Press{Action: DoDone, Batch: b.Number, Revision: b.Revision}},
				{l.say("on it"), Press{Action: DoTake, Batch: b.Number, Revision: b.Revision}},
			}}
		if missed := missedKinds(l, steps[:len(steps)-1], t.zone); len(missed) > 0 {
			c.Lines = append(c.Lines, l.say("not noted: %s", strings.Join(missed, ", ")))
		}
		if b.Held() {
			c.Title = l.say("HOLD. %s", c.Title)
		}
		return c
	}
}

// postHome posts what is told of batches once: in the thread of a batch that is alone and stands
// in a home channel, else in the home channels.
func (t *turn) postHome(all []toldSteps, word func(l tongue) Card) error {
	if err := t.toBatch(all[0].batch); err != nil {
		return err
	}
	homes := homesOf(t.kitchen)
	if len(homes) == 0 || slices.Contains(homes, t.place.channel()) {
		homes = []Place{t.place}
		if len(all) > 1 {
			homes[0] = t.place.channel()
		}
	}
	for _, home := range homes {
		if err := t.postAt(home, t.both(word)); err != nil {
			return err
		}
	}
	return nil
}

// gathered are the due groups of steps that are told of: what guards a temperature or an acidity
// first.
func gathered(all []toldSteps) []dueGroup {
	var groups []dueGroup
	for _, told := range all {
		at := map[string]int{}
		for _, s := range told.steps {
			if i, again := at[s.Kind]; again {
				groups[i].last, groups[i].times = s.Due, groups[i].times+1
				continue
			}
			at[s.Kind] = len(groups)
			groups = append(groups, dueGroup{kind: s.Kind, cut: told.batch.Card.Cut, first: s.Due, last: s.Due, times: 1,
				held: told.batch.Held(), batches: []uint64{told.batch.Number}})
		}
	}
	groups = alike(groups)
	slices.SortStableFunc(groups, byUrgency)
	return groups
}

// byUrgency puts what guards a temperature or an acidity first.
func byUrgency(a, b dueGroup) int { return cmp.Compare(urgency(b.kind), urgency(a.kind)) }

// urgency is greater for what guards a temperature or an acidity.
func urgency(kind string) int {
	if slices.Contains(always, kind) {
		return 1
	}
	return 0
}

// gatheredCard words due groups of several batches under a title.
func (t *turn) gatheredCard(l tongue, groups []dueGroup, title string) Card {
	c := Card{Kind: ReminderCard, Title: title, Next: l.say("Type  due  or  held  for all of them,  batch 3: done  for one.")}
	for _, g := range groups {
		c.Lines = append(c.Lines, g.line(l, t.now, t.zone))
	}
	if more := len(c.Lines) - gatheredLines; more > 0 {
		c.Lines = append(c.Lines[:gatheredLines], l.say("and %d more", more))
	}
	return c
}

// earliest is the first time of due groups.
func earliest(groups []dueGroup) store.Milli {
	return slices.MinFunc(groups, func(a, b dueGroup) int { return cmp.Compare(a.first, b.first) }).first
}
