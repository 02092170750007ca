package bot

import (
	"fmt"
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
	zone := t.zone
	events, err := t.tx.Events(t.kitchen.ID, b.Number)
	if err != nil {
		return err
	}
	c := Card{Kind: ListCard, Batch: b.Number, Title: fmt.Sprintf("Batch %d: %s", b.Number, stateWords(t.theirs, b)), Lines: []string{b.Card.Phrase}}
	c.Facts = append(c.Facts, Fact{Label: "dose", Lines: []string{
		fmt.Sprintf("%s of %s on %s, %s salt beside it", weighed(b.Card.CureMg), b.Card.Agent, kilos(cure.Gram(b.Card.WeightMg)/1000), weighed(b.Card.SaltMg)),
		fmt.Sprintf("%s sodium nitrite; region %s, %s", ppm(cure.PPM(b.Card.NitriteMilliPPM)/1000), b.Card.Region, b.Card.Class)}})
	log := Fact{Label: "record"}
	for _, e := range events {
		line, err := t.eventLine(e, zone)
		if err != nil {
			return err
		}
		if line != "" {
			log.Lines = append(log.Lines, line)
		}
	}
	c.Facts = append(c.Facts, log)
	if s := nextStep(b, t.now); s != nil && b.Ended == 0 {
		c.Next = "Next: " + s.Kind + ", " + moment(t.theirs, timeOf(s.Due), zone) + "."
	}
	if missed := missedSteps(t.theirs, b, t.now, zone); len(missed) > 0 {
		c.Facts = append(c.Facts, Fact{Label: "not noted", Lines: missed})
	}
	return t.post(c)
}

// missedSteps are the steps that were due and that nobody noted.
func missedSteps(l tongue, b store.Batch, now store.Milli, zone *time.Location) (lines []string) {
	for _, s := range b.Steps {
		if !s.Done && s.Reminded && s.Due <= now {
			lines = append(lines, s.Kind+" "+moment(l, timeOf(s.Due), zone))
		}
	}
	return lines
}

// eventLine is one event of a batch as the record shows it; "" for what it leaves out.
func (t *turn) eventLine(e store.Event, zone *time.Location) (string, error) {
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
		what = "asked: " + b.Card.Phrase
	case store.Revised:
		what = fmt.Sprintf("revision %d: %s", b.Card.Revision, b.Card.Phrase)
	case store.Approved:
		what = fmt.Sprintf("approved revision %d: %s of %s on %s", b.Revision, weighed(b.CureMg), b.Strength, kilos(cure.Gram(b.WeightMg)/1000))
		if b.Own {
			what = "approved own, " + what[len("approved "):]
		}
		if b.Why != "" {
			what += ": " + b.Why
		}
	case store.Declined:
		what = "declined" + because(b.Why)
	case store.Lapsed:
		what = "lapsed" + because(b.Why)
	case store.Started:
		what = "into the cure"
	case store.StepDone:
		what = doneWords(t.theirs, b.Kind)
		if b.CoreMilliC != 0 {
			what += fmt.Sprintf(", core %s °C", trimmed(float64(b.CoreMilliC)/1000, 1))
		}
	case store.StepMoved:
		if b.Why == "shift" {
			return "", nil
		}
		what = b.Why + ": " + b.To.Kind + " " + moment(t.theirs, timeOf(b.To.Due), zone)
	case store.Held:
		what = "HOLD" + because(b.Why)
	case store.Released:
		what = "released" + because(b.Why)
	case store.Discarded:
		what = "discarded" + because(b.Why)
	case store.Undone:
		what = t.theirs.say("undid their entry before")
	case store.Finished:
		what = "finished"
	default:
		return "", nil
	}
	line := moment(t.theirs, timeOf(e.Happened), zone) + "  " + who + ": " + what
	if e.Via != "" {
		line += " (" + e.Via + ")"
	}
	if e.Late {
		line += " (late entry, noted " + moment(t.theirs, timeOf(e.Noted), zone) + ")"
	}
	return line, nil
}

func because(why string) string {
	if why == "" {
		return ""
	}
	return ": " + why
}

// due answers "due": what is due by the end of a day, overdue first.
func (t *turn) due(c grammar.Due) error {
	zone := t.zone
	from, to := store.Milli(0), t.endOfDay()
	title := "Due today"
	if c.Day != nil {
		w := *c.Day
		if w.Clock == nil {
			w.Clock = &endOfDay // today counts
		}
		on := after(w, t.at(), zone)
		start := time.Date(on.Year(), on.Month(), on.Day(), 0, 0, 0, 0, zone)
		to = milli(start.AddDate(0, 0, 1))
		title = t.theirs.say("Due until %s", day(t.theirs, on, zone))
		if !c.Until {
			from = milli(start)
			title = "Due on " + on.Format("Mon 2 Jan")
		}
	}
	entries, err := t.tx.DueIn(t.kitchen.ID, from, to, 5*pageOf)
	if err != nil {
		return err
	}
	card := Card{Kind: ListCard, Title: title}
	for _, d := range entries {
		b, ok, err := t.tx.Batch(t.kitchen.ID, d.Batch)
		if err != nil {
			return err
		}
		if ok && !moot(b, d) {
			card.Lines = append(card.Lines, dueLine(t.theirs, b, d, t.now, zone))
		}
	}
	if len(card.Lines) == 0 {
		card.Title = "Nothing is due" + map[bool]string{true: " today.", false: " then."}[c.Day == nil]
	}
	return t.post(card)
}

// moot reports whether what was due no longer matters: a turn that was missed, once the
// piece is out of the cure. The record still shows it.
func moot(b store.Batch, d store.DueEntry) bool {
	if d.What != store.DueStep || b.State == store.StateCuring {
		return false
	}
	kind := b.Steps[d.Step].Kind
	return kind == "turn" || kind == "overhaul"
}

func dueLine(l tongue, b store.Batch, d store.DueEntry, now store.Milli, zone *time.Location) string {
	what := ""
	if d.What == store.DueStep {
		what = b.Steps[d.Step].Kind
	}
	if d.What == store.DueLapse {
		what = "waits for approval until then"
		if b.State == store.StateApproved {
			what = "waits for start until then"
		}
	}
	line := fmt.Sprintf("%s  batch %d, %s: %s", moment(l, timeOf(d.At), zone), b.Number, b.Card.Cut, what)
	if d.What == store.DueStep && now-d.At >= overdueAfter {
		line += " (overdue by " + span(l, timeOf(now).Sub(timeOf(d.At))) + ")"
	}
	if len(b.Holds) > 0 {
		line += " HOLD"
	}
	return line
}

// who answers "who cured belly last month": newest first.
func (t *turn) who(c grammar.Who) error {
	zone := t.zone
	q := store.Query{Cut: c.Cut, State: store.State(c.State), Limit: pageOf}
	if c.State == "held" {
		q.State, q.Held = "", true
	}
	title := "Batches, newest first"
	if c.Span != nil {
		from, to := between(*c.Span, t.at(), zone)
		q.From, q.To = milli(from), milli(to)
		title = fmt.Sprintf("Batches from %s to %s, newest first", day(t.theirs, from, zone), day(t.theirs, to.Add(-time.Second), zone))
	}
	if c.Person != "" {
		found, err := t.tx.PersonNamed(t.kitchen.ID, c.Person)
		if err != nil {
			return err
		}
		if len(found) != 1 {
			return t.note("Nobody here is known as "+c.Person+".", "Type  who cured what  to see who is.")
		}
		q.Person = found[0].ID
	}
	page, more, err := t.tx.Batches(t.kitchen.ID, q)
	if err != nil {
		return err
	}
	card := Card{Kind: ListCard, Title: title}
	for _, b := range page {
		line, err := t.batchLine(b, zone)
		if err != nil {
			return err
		}
		card.Lines = append(card.Lines, line)
	}
	if len(page) == 0 {
		card.Title = "No batch like that."
	}
	if more != "" {
		card.Next = fmt.Sprintf("These are the newest %d. Name a cut, a person or a month for the older ones.", len(page))
	}
	return t.post(card)
}

// batchLine is a batch in a list: what, how many ppm, who asked, approved and started it.
func (t *turn) batchLine(b store.Batch, zone *time.Location) (string, error) {
	line := fmt.Sprintf("batch %d  %s  %s %s, %s, %s nitrite, %s", b.Number, day(t.theirs, timeOf(b.AskedAt), zone), kilos(cure.Gram(b.Card.WeightMg)/1000), b.Card.Cut,
		b.Card.Method, ppm(cure.PPM(b.Card.NitriteMilliPPM)/1000), stateWords(t.theirs, b))
	roles := []struct{ word, id string }{{"asked by ", b.AskedBy}}
	if b.Approval != nil {
		roles = append(roles, struct{ word, id string }{"approved by ", b.Approval.By})
	}
	if b.StartedBy != "" {
		roles = append(roles, struct{ word, id string }{"cured by ", b.StartedBy})
	}
	for _, r := range roles {
		p, ok, err := t.tx.Person(t.kitchen.ID, r.id)
		if err != nil {
			return "", err
		}
		if ok {
			line += ", " + r.word + p.Name
		}
	}
	return line, nil
}

// stateWords are the state of a batch, HOLD first.
func stateWords(l tongue, b store.Batch) string {
	if len(b.Holds) > 0 && b.Ended == 0 {
		return "HOLD, " + string(b.State)
	}
	return string(b.State)
}
