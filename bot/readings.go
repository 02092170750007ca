package bot

import (
	"strconv"

	"salthand/cure"
	"salthand/store"
)

// weighingPart is what was weighed in, and the second reading, with those that were taken back.
func (t *turn) weighingPart(b store.Batch, events []store.Event) (SheetPart, error) {
	l := t.ours
	p := SheetPart{Heading: l.say("weighed in"), Half: true, Grid: &Grid{Widths: []float64{19, 15, 57}, Head: []string{l.say("when"), l.say("who"), l.say("what")}}}
	for _, e := range events {
		what := ""
		switch body := e.Body.(type) {
		case store.Weighed:
			what = l.say("%s curing salt, %s salt, jar %s, lot %s", weighed(body.CureMg), weighed(body.SaltMg), noted(l, body.Jar), noted(l, body.Lot)) + because(body.Why)
		case store.Corrected:
			if _, ok := body.New.Body.(store.Weighed); !ok {
				continue
			}
			what = t.correctedWords(l, body)
		case store.Checked:
			what = l.say("second reading: %s, jar %s", weighed(body.CureMg), noted(l, body.Jar))
			if body.Own {
				what += " " + l.say("(own)")
			}
		default:
			continue
		}
		if err := t.row(&p, b, e, what); err != nil {
			return p, err
		}
	}
	return orNone(l, p), nil
}

// readingPart is what was measured along the way, and what left the kitchen.
func (t *turn) readingPart(b store.Batch, events []store.Event) (SheetPart, error) {
	l := t.ours
	p := SheetPart{Heading: l.say("readings and servings"), Half: true, Grid: &Grid{Widths: []float64{19, 15, 57}, Head: []string{l.say("when"), l.say("who"), l.say("what")}}}
	for _, e := range events {
		what := ""
		switch body := e.Body.(type) {
		case store.Measured:
			what = measuredWords(l, body.What, body.Value, body.TareMg, body.AtC)
		case store.Served:
			what = servedWords(l, body)
		case store.Corrected:
			switch body.New.Body.(type) {
			case store.Measured, store.Served:
				what = t.correctedWords(l, body)
			default:
				continue
			}
		default:
			continue
		}
		if err := t.row(&p, b, e, what); err != nil {
			return p, err
		}
	}
	return orNone(l, p), nil
}

// row adds an event to a part of a sheet: when, who, what; marked where it is late or was taken
// back.
func (t *turn) row(p *SheetPart, b store.Batch, e store.Event, what string) error {
	who, err := t.called(e.Person)
	if err != nil {
		return err
	}
	if e.Person == "" {
		who = "salthand"
	}
	what += t.lateOn(e)
	for _, seq := range b.Undone {
		if seq == e.Seq {
			what = t.ours.say("(taken back) %s", what)
		}
	}
	p.Grid.Rows = append(p.Grid.Rows, []string{t.short(e.Happened), who, struck(t.ours, b, e.Seq, what)})
	return nil
}

// lateOn marks a late entry, with when it was noted.
func (t *turn) lateOn(e store.Event) string {
	if !e.Late {
		return ""
	}
	return t.ours.say(" (late entry, noted %s)", t.short(e.Noted))
}

// orNone says so where a part has no rows.
func orNone(l tongue, p SheetPart) SheetPart {
	if len(p.Grid.Rows) == 0 {
		p.Grid, p.Lines = nil, []string{l.say("not noted")}
	}
	return p
}

// measuredWords are a reading with its unit.
func measuredWords(l tongue, what string, value, tareMg int64, at *int64) string {
	words := ""
	switch what {
	case store.WeightReading:
		words = l.say("weight %s", grams(gramsOf(value), 0))
		if tareMg > 0 {
			words += l.say(", less %s of netting", grams(gramsOf(tareMg), 0))
		}
	case store.CoreReading:
		words = l.say("core %s °C", trimmed(float64(value)/1000, 1))
	case store.PHReading:
		words = "pH " + trimmed(float64(value)/1000, 2)
	case store.AwReading:
		words = l.say("water activity %s", trimmed(float64(value)/1000, 3))
	}
	if at != nil {
		words += l.say(" at %s °C", trimmed(float64(*at)/1000, 1))
	}
	return words
}

// servedWords are what left the kitchen, and where it went.
func servedWords(l tongue, s store.Served) string {
	words := l.say("served")
	if s.Portions > 0 {
		words += " " + l.say("%s portions", strconv.FormatInt(s.Portions, 10))
	}
	if s.Mg > 0 {
		words += " " + grams(cure.Gram(s.Mg)/1000, 0)
	}
	if s.To != "" {
		words += " → " + s.To
	}
	return words
}
