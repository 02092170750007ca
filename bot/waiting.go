package bot

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"

	"salthand/store"
)

// What the alarms of a batch that waits for approval are for.
const (
	alarmApproval = "approval"
	alarmPassedOn = "approval passed on"
)

// waiting lists what waits for approval, oldest first, each with its age and who may approve it.
func (t *turn) waiting() error {
	l := t.theirs
	all, err := t.all(store.Query{State: store.StateAsked})
	if err != nil {
		return err
	}
	slices.SortStableFunc(all, func(a, b store.Batch) int { return cmp.Compare(a.AskedAt, b.AskedAt) })
	card := Card{Kind: ListCard, Title: l.say("Waits for approval, oldest first")}
	if len(all) == 0 {
		card.Title = l.say("Nothing waits for approval.")
	}
	var rows []row
	for _, b := range all {
		line, who, err := t.waitingLine(l, b)
		if err != nil {
			return err
		}
		if len(who) == 0 {
			line += "; " + l.say("nobody else here may approve it")
		} else {
			line += "; " + l.say("may approve it: %s", names(who))
		}
		rows = append(rows, rowOf(b, line))
	}
	return t.paged(card, rows, pageOf)
}

// waitingLine is a batch that waits for approval: what, for how long, asked by whom; and who
// may approve it.
func (t *turn) waitingLine(l tongue, b store.Batch) (string, []store.Person, error) {
	asker, err := t.nameOf(b.AskedBy)
	if err != nil {
		return "", nil, err
	}
	who, err := t.mayApprove(b)
	age := (t.now - b.AskedAt).Duration().Truncate(time.Minute)
	return l.say("batch %d  %s %s, %s, asked by %s, waits for %s", b.Number, kilos(gramsOf(b.Card.WeightMg)), cutName(l, b.Card.Cut), methodName(l, b.Card.Method), asker, span(l, age)), who, err
}

// setApprovalAlarms sets when the kitchen is reminded of a batch that waits for approval, and
// when it is passed on.
func (t *turn) setApprovalAlarms(n uint64) error {
	for _, a := range []struct{ what, setting string }{{alarmApproval, setApprovalRemind}, {alarmPassedOn, setApprovalPass}} {
		minutes, err := strconv.Atoi(t.kitchen.Settings[a.setting])
		if err != nil || minutes <= 0 {
			continue // never set, or off
		}
		at := t.now + store.Milli((time.Duration(minutes) * time.Minute).Milliseconds())
		if err := t.appendOwn(n, store.AlarmSet{What: a.what, At: at}); err != nil {
			return err
		}
	}
	return nil
}

// voidApproval takes back the approval of a batch that has not begun. It waits for approval
// again, and is reminded of again.
func (t *turn) voidApproval(n uint64, why string) error {
	if err := t.append(n, store.ApprovalVoided{Why: why, Lapse: t.endOfDay()}); err != nil {
		return err
	}
	return t.setApprovalAlarms(n)
}

// approvalDue reminds the first of those who may approve a batch.
func (t *turn) approvalDue(b store.Batch) error {
	return t.remindApproval(b, setApprovalRemind, func(l tongue, who []store.Person) string {
		return l.say("To approve it: %s.", who[0].Name)
	})
}

// approvalPassedOn passes a batch that still waits on to the others who may approve it.
func (t *turn) approvalPassedOn(b store.Batch) error {
	return t.remindApproval(b, setApprovalPass, func(l tongue, who []store.Person) string {
		if len(who) == 1 {
			return l.say("Nobody but %s may approve it: it can't be passed on.", who[0].Name)
		}
		return l.say("Passed on to: %s.", names(who[1:]))
	})
}

// remindApproval posts in the home channel that a batch waits, where it still does.
func (t *turn) remindApproval(b store.Batch, setting string, whose func(l tongue, who []store.Person) string) error {
	if on := t.kitchen.Settings[setting]; b.State != store.StateAsked || on == "" || on == "0" {
		return nil
	}
	l := t.ours
	line, who, err := t.waitingLine(l, b)
	if err != nil {
		return err
	}
	card := Card{Kind: ReminderCard, Batch: b.Number, Title: l.say("Waits for approval: %s", line), Next: l.say("Look at its dose card and type  approve  in its thread.")}
	if len(who) == 0 {
		card.Lines = []string{l.say("Nobody else here may approve it yet: a chef can name one with  chef @ana  or  second @luis .")}
	} else {
		card.Lines = []string{whose(l, who)}
	}
	card.in(l)
	return t.postAt(t.home(), card)
}

// home is the home channel of the team where a batch is talked about; its own thread where the
// kitchen has none there.
func (t *turn) home() Place {
	p := strings.SplitN(t.kitchen.Settings[setHome+t.place.team()], "/", 4)
	if len(p) < 4 {
		return t.place
	}
	return Place{Platform: p[0], Team: p[1], Channel: p[2], Thread: p[3]}
}
