package bot

import (
	"cmp"
	"slices"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// overdueAfter is how long after its time a step counts as overdue.
const overdueAfter = store.Milli(60_000)

// pageOf is how many batches a look back shows at once.
const pageOf = 10

// show answers "batch 42": the record, with everything that was done, late entries marked.
func (t *turn) show(b store.Batch) error {
	l := t.theirs
	zone := t.zone
	events, err := t.tx.Events(t.kitchen.ID, b.Number)
	if err != nil {
		return err
	}
	c := Card{Kind: ListCard, Batch: b.Number, Title: l.say("Batch %d: %s", b.Number, stateWords(l, b)), Lines: []string{phraseIn(l, b.Card.Phrase)}}
	c.Facts = append(c.Facts, Fact{Label: l.say("dose"), Lines: []string{
		l.say("%s of %s on %s, %s salt beside it", weighed(b.Card.CureMg), agentOfCard(l, b.Card), kilos(cure.Gram(b.Card.WeightMg)/1000), weighed(b.Card.SaltMg)),
		l.say("%s sodium nitrite; region %s, %s", nitriteOf(l, b.Card.NitriteMilliPPM), b.Card.Region, l.say(b.Card.Class))}})
	if at := t.standsLines(l, b); len(at) > 0 {
		c.Facts = append(c.Facts, Fact{Label: l.say("now"), Lines: at})
	}
	log := Fact{Label: l.say("record")}
	for _, e := range events {
		line, err := t.eventLine(e, zone)
		if err != nil {
			return err
		}
		if line = struck(l, b, e.Seq, line); line != "" {
			log.Lines = append(log.Lines, line)
		}
	}
	c.Facts = append(c.Facts, log)
	if s := nextStep(b, t.now); s != nil && b.Ended == 0 {
		c.Next = nextWords(l, s, zone)
	}
	if missed := missedSteps(l, b, t.now, zone); len(missed) > 0 {
		c.Facts = append(c.Facts, Fact{Label: l.say("not noted"), Lines: missed})
	}
	return t.post(c)
}

// missedSteps are the steps that were due and that nobody noted, each kind once.
func missedSteps(l tongue, b store.Batch, now store.Milli, zone *time.Location) (lines []string) {
	var missed []store.StepState
	for _, s := range b.Steps {
		if !s.Closed() && s.Reminded && s.Kept != keptHeld && s.Due <= now {
			missed = append(missed, s)
		}
	}
	return missedKinds(l, missed, zone)
}

// eventLine is one event of a batch as the record shows it; "" for what it leaves out.
func (t *turn) eventLine(e store.Event, zone *time.Location) (string, error) {
	words, err := t.eventWords(t.theirs, e, zone)
	if words == "" || err != nil {
		return "", err
	}
	return moment(t.theirs, timeOf(e.Happened), zone) + "  " + words, nil
}

// eventWords are one event of a batch without the moment: who did what, in a tongue.
func (t *turn) eventWords(l tongue, e store.Event, zone *time.Location) (string, error) {
	who := "salthand"
	if e.Person != "" {
		p, ok, err := t.tx.Person(t.kitchen.ID, e.Person)
		if err != nil {
			return "", err
		}
		if ok {
			who = p.Name
		}
	}
	var what string
	switch b := e.Body.(type) {
	case store.Asked:
		what = l.say("asked: %s", phraseIn(l, b.Card.Phrase))
	case store.Revised:
		what = l.say("revision %d: %s", b.Card.Revision, phraseIn(l, b.Card.Phrase)) + because(b.Why)
	case store.WeightCorrected:
		what = l.say("weight corrected, %s → %s, %s nitrite", milligrams(b.OldMg), milligrams(b.NewMg), nitriteOf(l, b.NitriteMilliPPM)) + because(b.Why)
	case store.Approved:
		words := msg("approved revision %d: %s of %s on %s")
		if b.Own {
			words = msg("approved own, revision %d: %s of %s on %s")
		}
		cured, err := t.approvedCure(l, e.Batch, b)
		if err != nil {
			return "", err
		}
		what = l.say(words, b.Revision, weighed(b.CureMg), cured, kilos(cure.Gram(b.WeightMg)/1000)) + because(b.Why)
	case store.Declined:
		what = l.say("declined") + because(b.Why)
	case store.Lapsed:
		what = l.say("lapsed") + because(lapseName(l, b.Why))
	case store.Weighed:
		what = weighedWords(l, b) + because(b.Why)
	case store.Checked:
		words := msg("read again: %s cure, jar %s")
		if b.Own {
			words = msg("read again by whoever weighed it: %s cure, jar %s")
		}
		what = l.say(words, weighed(b.CureMg), b.Jar)
	case store.Started:
		what = l.say("into the cure")
	case store.StepDone:
		what = doneWords(l, b.Kind)
		if b.CoreMilliC != 0 {
			what += l.say(", core %s °C", trimmed(float64(b.CoreMilliC)/1000, 1))
		}
		what += restsWords(l, b.Evidence)
	case store.NotTaken:
		what = t.missedWords(l, b.What, b.Of, b.DayOnly) + because(b.Why)
	case store.StepMoved:
		if b.Why == "shift" || b.Why == "again" {
			return "", nil
		}
		what = moveName(l, b.Why) + ": " + stepName(l, b.To.Kind) + " " + moment(l, timeOf(b.To.Due), zone)
	case store.StepDropped:
		kind, err := t.stepOf(e, b.Step)
		if err != nil {
			return "", err
		}
		what = l.say("dropped %s", stepName(l, kind)) + because(b.Why)
	case store.Acknowledged:
		kind, err := t.stepOf(e, b.Step)
		if err != nil {
			return "", err
		}
		what = l.say("takes on %s", stepName(l, kind))
	case store.Escalated:
		switch b.To {
		case toldBackup:
			what = l.say("nobody acted: told the backup")
		case toldChefs:
			what = l.say("nobody acted: told the chefs")
		}
	case store.Paused:
		what = l.say("paused: the clock stands") + because(b.Why)
	case store.Resumed:
		what = l.say("out of the freezer; the clock runs again from %s", moment(l, timeOf(b.Clock), zone))
	case store.Thawed:
		what = l.say("thawed; the clock ran again from %s", moment(l, timeOf(b.Clock), zone))
	case store.OwnerSet:
		p, _, err := t.tx.Person(t.kitchen.ID, b.ID)
		if err != nil {
			return "", err
		}
		what = l.say("reminders go to %s", p.Name)
	case store.BackupSet:
		p, _, err := t.tx.Person(t.kitchen.ID, b.ID)
		if err != nil {
			return "", err
		}
		what = l.say("backup is %s", p.Name)
	case store.Held:
		what = l.say("HOLD") + because(b.Why)
	case store.Released:
		what = l.say("released") + because(b.Why)
	case store.Discarded:
		what = l.say("discarded") + because(b.Why)
	case store.ApprovalVoided:
		what = l.say("approval void") + because(b.Why)
	case store.TopUpApproved, store.Added, store.Restarted:
		what = topUpWords(l, b)
	case store.Corrected:
		what = t.correctedWords(l, b)
	case store.Undone:
		what = l.say("undid their entry before")
	case store.Finished:
		what = l.say("finished")
	default:
		what = alongWords(l, b)
	}
	if what == "" {
		return "", nil
	}
	line := who + ": " + what
	if e.Via != "" {
		line += " (" + e.Via + ")"
	}
	if e.Late {
		line += l.say(" (late entry, noted %s)", moment(l, timeOf(e.Noted), zone))
	}
	return line, nil
}

func because(why string) string {
	if why == "" {
		return ""
	}
	return ": " + why
}

// stepOf is the kind of a step that an event of a batch is about.
func (t *turn) stepOf(e store.Event, i int) (string, error) {
	b, _, err := t.tx.Batch(t.kitchen.ID, e.Batch)
	if err != nil || i < 0 || i >= len(b.Steps) {
		return "", err
	}
	return b.Steps[i].Kind, nil
}

// due answers "due": what is due by the end of a day, overdue first.
func (t *turn) due(c grammar.Due) error {
	l := t.theirs
	zone := t.zone
	from, to := store.Milli(0), t.endOfDay()
	title := l.say("Due today")
	if c.Day != nil {
		w := *c.Day
		if w.Clock == nil {
			w.Clock = &endOfDay // today counts
		}
		on := after(w, t.at(), zone)
		start := startOf(on, zone)
		to = milli(start.AddDate(0, 0, 1))
		title = l.say("Due until %s", day(l, on, zone))
		if !c.Until {
			from = milli(start)
			title = l.say("Due on %s", day(l, on, zone))
		}
	}
	entries, err := t.tx.DueIn(t.kitchen.ID, from, to, 0)
	if err != nil {
		return err
	}
	groups, err := t.dueGroups(l, entries, func(store.Batch) bool { return true })
	if err != nil {
		return err
	}
	card := Card{Kind: ListCard, Title: title}
	var rows []row
	for _, g := range groups {
		rows = append(rows, g.row(l, t.now, zone))
	}
	if len(rows) == 0 {
		card.Title = l.say("Nothing is due today.")
		if c.Day != nil {
			card.Title = l.say("Nothing is due then.")
		}
	}
	return t.paged(card, rows, pageOf)
}

// who answers "who cured belly last month": newest first.
func (t *turn) who(c grammar.Who) error {
	if c == (grammar.Who{State: string(store.StateAsked)}) {
		return t.waiting()
	}
	l := t.theirs
	zone := t.zone
	q := store.Query{Cut: c.Cut, State: store.State(c.State)}
	if c.State == "held" {
		q.State, q.Held = "", true
	}
	if c.State == "paused" {
		q.State, q.Paused = "", true
	}
	title := l.say("Batches, newest first")
	if c.Span != nil {
		from, to := between(*c.Span, t.at(), zone)
		q.From, q.To = milli(from), milli(to)
		title = l.say("Batches from %s to %s, newest first", day(l, from, zone), day(l, to.Add(-time.Second), zone))
	}
	if c.Person != "" {
		found, err := t.tx.PersonNamed(t.kitchen.ID, c.Person)
		if err != nil {
			return err
		}
		if len(found) != 1 {
			return t.note(l.say("Nobody here is known as %s.", c.Person), l.say("Type  who cured what  to see who is."))
		}
		q.Person = found[0].ID
		if also := found[0].Also; len(also) > 0 {
			return t.whoAll(title, q, append(also[:len(also):len(also)], q.Person))
		}
	}
	return t.listed(title, q)
}

// whoAll lists the batches of a person of whom there once were several.
func (t *turn) whoAll(title string, q store.Query, ids []string) error {
	var all []store.Batch
	for _, q.Person = range ids {
		of, err := t.all(q)
		if err != nil {
			return err
		}
		all = append(all, of...)
	}
	slices.SortFunc(all, func(a, b store.Batch) int {
		return cmp.Or(cmp.Compare(b.AskedAt, a.AskedAt), cmp.Compare(b.Number, a.Number))
	})
	all = slices.CompactFunc(all, func(a, b store.Batch) bool { return a.Number == b.Number })
	var rows []row
	for _, b := range all {
		line, err := t.batchLine(b, t.zone)
		if err != nil {
			return err
		}
		rows = append(rows, rowOf(b, line))
	}
	c := Card{Kind: ListCard, Title: title}
	if len(rows) == 0 {
		c.Title = t.theirs.say("No batch like that.")
	}
	return t.paged(c, rows, pageOf)
}

// batchLine is a batch in a list: what, how many ppm, who asked, approved and started it.
func (t *turn) batchLine(b store.Batch, zone *time.Location) (string, error) {
	l := t.theirs
	line := l.say("batch %d  %s  %s %s, %s, %s nitrite, %s", b.Number, day(l, timeOf(b.AskedAt), zone), kilos(cure.Gram(b.Card.WeightMg)/1000), cutName(l, b.Card.Cut),
		methodName(l, b.Card.Method), nitriteOf(l, b.Card.NitriteMilliPPM), stateWords(l, b))
	roles := []struct{ words, id string }{{msg("asked by %s"), b.AskedBy}}
	if b.Approval != nil {
		roles = append(roles, struct{ words, id string }{msg("approved by %s"), b.Approval.By})
	}
	if b.StartedBy != "" {
		roles = append(roles, struct{ words, id string }{msg("cured by %s"), b.StartedBy})
	}
	for _, r := range roles {
		p, ok, err := t.tx.Person(t.kitchen.ID, r.id)
		if err != nil {
			return "", err
		}
		if ok {
			line += ", " + l.say(r.words, p.Name)
		}
	}
	return line, nil
}

// stateWords are the state of a batch, HOLD first.
func stateWords(l tongue, b store.Batch) string {
	words := stateName(l, b.State)
	if b.Paused() && b.Ended == 0 {
		words = l.say("PAUSED") + ", " + words
	}
	if b.Held() && b.Ended == 0 {
		words = l.say("HOLD") + ", " + words
	}
	return words
}
