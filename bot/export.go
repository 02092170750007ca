package bot

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"

	"salthand/grammar"
	"salthand/store"
)

// exportAtMost is how many batches a file holds.
const exportAtMost = 2000

// export answers "export october": a line for each batch that was asked for then, oldest first,
// as a file for a spreadsheet.
func (t *turn) export(s grammar.Span) error {
	l := t.theirs
	from, to := between(s, t.at(), t.zone)
	days := l.say("from %s to %s", dateOf(from), dateOf(to.Add(-time.Second)))
	batches, whole, err := t.batchesBetween(from, to)
	if err != nil {
		return err
	}
	if len(batches) == 0 {
		return t.note(l.say("No batch was asked for %s.", days))
	}
	p := t.paper("batches-" + dateOf(from) + "-" + dateOf(to.Add(-time.Second)))
	p.Table = &Table{}
	for _, column := range t.columns() {
		p.Table.Head = append(p.Table.Head, column.name)
	}
	for _, b := range batches {
		b, _, err := t.tx.Batch(t.kitchen.ID, b.Number) // a page leaves the answer of its dose card out
		if err != nil {
			return err
		}
		events, err := t.tx.Events(t.kitchen.ID, b.Number)
		if err != nil {
			return err
		}
		row := make([]string, 0, len(p.Table.Head))
		for _, column := range t.columns() {
			cell, err := column.of(b, events)
			if err != nil {
				return err
			}
			row = append(row, cell)
		}
		p.Table.Rows = append(p.Table.Rows, row)
	}
	c := Card{Kind: ListCard, Title: l.say("%d batches, asked for %s", len(batches), days), Papers: []Paper{p},
		Small: l.say("A comma stands between cells, a point before decimals, the text is UTF-8. Cells that a spreadsheet would take for a formula begin with an apostrophe. To change a record, type it here: the file is a copy.")}
	if len(batches) == 1 {
		c.Title = l.say("1 batch, asked for %s", days)
	}
	if !whole {
		c.Warnings = []Warning{{Level: "warn", Code: "not all", Text: l.say("These are the newest %d; there are older ones in that time.", exportAtMost)}}
		c.Next = l.say("Ask for a shorter time, like  export last month .")
	}
	return t.post(c)
}

// batchesBetween are the batches that were asked for in a stretch of time, oldest first; whole
// is false where there are more than go into a file.
func (t *turn) batchesBetween(from, to time.Time) (all []store.Batch, whole bool, err error) {
	q := store.Query{From: milli(from), To: milli(to), Limit: exportAtMost}
	page, more, err := t.tx.Batches(t.kitchen.ID, q)
	for i := len(page) - 1; i >= 0; i-- {
		all = append(all, page[i])
	}
	return all, more == "", err
}

// dateOf is a day as spreadsheets read it.
func dateOf(t time.Time) string { return t.Format("2006-01-02") }

// column is one of an export.
type column struct {
	name string
	of   func(b store.Batch, events []store.Event) (string, error)
}

// columns are those of an export. Times are local, as ISO 8601 without a zone; masses are grams.
func (t *turn) columns() []column {
	l := t.ours
	plain := func(name string, of func(b store.Batch) string) column {
		return column{name, func(b store.Batch, _ []store.Event) (string, error) { return of(b), nil }}
	}
	person := func(name string, of func(b store.Batch) string) column {
		return column{name, func(b store.Batch, _ []store.Event) (string, error) { return t.called(of(b)) }}
	}
	at := func(m store.Milli) string {
		if m == 0 {
			return ""
		}
		return timeOf(m).In(t.zone).Format("2006-01-02 15:04")
	}
	inGrams := func(milligrams int64) string { return trimmed(float64(milligrams)/1000, 3) }
	inPPM := func(milli int64) string {
		if milli < 0 {
			return l.say("not known")
		}
		return trimmed(float64(milli)/1000, 2)
	}
	return []column{
		plain(l.say("batch"), func(b store.Batch) string { return strconv.FormatUint(b.Number, 10) }),
		plain(l.say("asked"), func(b store.Batch) string { return at(b.AskedAt) }),
		plain(l.say("state"), func(b store.Batch) string { return stateWords(l, b) }),
		plain(l.say("held for"), func(b store.Batch) string { return holdsOf(b) }),
		plain(l.say("product"), func(b store.Batch) string { return cutName(l, b.Card.Cut) }),
		plain(l.say("method"), func(b store.Batch) string { return methodName(l, b.Card.Method) }),
		plain(l.say("region"), func(b store.Batch) string { return b.Card.Region }),
		plain(l.say("rule"), func(b store.Batch) string { return l.say(b.Card.Class) }),
		plain(l.say("green weight g"), func(b store.Batch) string { return inGrams(b.Card.WeightMg) }),
		plain(l.say("curing salt"), func(b store.Batch) string { return agentOfCard(l, b.Card) }),
		plain(l.say("jar"), func(b store.Batch) string { return cmp.Or(b.Jar, b.Card.Jar) }),
		plain(l.say("lot of the curing salt"), func(b store.Batch) string { return cmp.Or(b.Lot, b.Card.Lot) }),
		plain(l.say("recipe"), func(b store.Batch) string { return recipeOf(l, b) }),
		plain(l.say("meat"), func(b store.Batch) string { return meatOf(l, b) }),
		plain(l.say("place"), func(b store.Batch) string { return b.Where }),
		plain(l.say("curing salt g"), func(b store.Batch) string { return inGrams(b.Card.CureMg) }),
		plain(l.say("salt beside it g"), func(b store.Batch) string { return inGrams(b.Card.SaltMg) }),
		plain(l.say("nitrite ppm as sodium nitrite"), func(b store.Batch) string { return inPPM(b.Card.NitriteMilliPPM) }),
		plain(l.say("weighed in"), func(b store.Batch) string {
			if b.Weighing == nil {
				return ""
			}
			words := l.say("%s curing salt, %s salt", weighed(b.Weighing.CureMg), weighed(b.Weighing.SaltMg))
			if b.Check != nil {
				words += ", " + l.say("read again")
			}
			return words
		}),
		{l.say("allergens"), func(b store.Batch, _ []store.Event) (string, error) { return t.allergensLine(b) }},
		person(l.say("asked by"), func(b store.Batch) string { return b.AskedBy }),
		{l.say("approved by"), func(b store.Batch, _ []store.Event) (string, error) {
			if b.Approval == nil {
				return "", nil
			}
			return t.approvedBy(b)
		}},
		plain(l.say("approved"), func(b store.Batch) string {
			if b.Approval == nil {
				return ""
			}
			return at(b.Approval.At)
		}),
		person(l.say("into the cure by"), func(b store.Batch) string { return b.StartedBy }),
		plain(l.say("into the cure"), func(b store.Batch) string { return at(b.StartedAt) }),
		plain(l.say("steps done"), func(b store.Batch) string { return t.stepsOf(b, true) }),
		{l.say("steps not noted"), func(b store.Batch, events []store.Event) (string, error) {
			lines := []string{t.stepsOf(b, false)}
			for _, e := range events {
				if missed, ok := e.Body.(store.NotTaken); ok && missed.Step < 0 && !slices.Contains(b.Undone, e.Seq) {
					lines = append(lines, t.missedWords(l, missed.What, missed.Of, missed.DayOnly)+because(missed.Why))
				}
			}
			return strings.TrimPrefix(strings.Join(lines, "; "), "; "), nil
		}},
		plain(l.say("readings and servings"), func(b store.Batch) string {
			var lines []string
			for _, r := range b.Readings {
				lines = append(lines, at(r.At)+" "+measuredWords(l, r.What, r.Value, r.TareMg, r.AtC))
			}
			for _, s := range b.Served {
				lines = append(lines, at(s.At)+" "+servedWords(l, s.Served))
			}
			return strings.Join(lines, "; ")
		}),
		plain(l.say("ended"), func(b store.Batch) string { return at(b.Ended) }),
		plain(l.say("why"), func(b store.Batch) string {
			if b.State == store.StateLapsed {
				return lapseName(l, b.EndWhy)
			}
			return b.EndWhy
		}),
		{l.say("corrections"), func(b store.Batch, events []store.Event) (string, error) {
			changes, err := t.corrections(b, events)
			var lines []string
			for _, c := range changes {
				lines = append(lines, at(c.at)+" "+c.who+": "+c.words())
			}
			return strings.Join(lines, "; "), err
		}},
		{l.say("late entries"), func(_ store.Batch, events []store.Event) (string, error) {
			var lines []string
			for _, e := range events {
				if !e.Late {
					continue
				}
				words, err := t.eventWords(l, e, t.zone)
				if err != nil {
					return "", err
				}
				lines = append(lines, at(e.Happened)+" "+words)
			}
			return strings.Join(lines, "; "), nil
		}},
	}
}

// holdsOf are the reasons of the holds in force.
func holdsOf(b store.Batch) string {
	var reasons []string
	for _, h := range b.Holds {
		reasons = append(reasons, h.Why)
	}
	return strings.Join(reasons, "; ")
}

// stepsOf are the steps that were done, or those that were due by now and that nobody noted.
func (t *turn) stepsOf(b store.Batch, done bool) string {
	var lines []string
	for _, s := range b.Steps {
		switch {
		case done && s.Done && !s.Undone:
			lines = append(lines, stepName(t.ours, s.Kind)+" "+timeOf(s.DoneAt).In(t.zone).Format("2006-01-02 15:04"))
		case !done && !s.Done && !s.Undone && !s.Dropped && s.Due <= t.now && s.Due != 0:
			lines = append(lines, stepName(t.ours, s.Kind)+" "+timeOf(s.Due).In(t.zone).Format("2006-01-02 15:04")+because(s.MissedWhy))
		}
	}
	return strings.Join(lines, "; ")
}
