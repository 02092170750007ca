package bot

import (
	"cmp"
	"fmt"
	"strings"

	"salthand/grammar"
	"salthand/store"
)

// recallPage is how many batches of a recall stand on a page.
const recallPage = 20

// recall answers where what was made with a jar, a lot or a recipe went: every batch in
// whatever state, what is still here, and what the record lacks.
func (t *turn) recall(c grammar.Recall) error {
	l := t.theirs
	found, err := t.trace(l, c)
	if err != nil {
		return err
	}
	card := Card{Kind: ListCard, Title: grammar.CanonicalIn(string(l), c)}
	if len(found.batches) == 0 {
		card.Title = l.say("No batch like that.")
		if c.Of != "recipe" {
			card.Lines = []string{l.say("a batch of which nobody noted it can't be found this way")}
		}
		return t.post(card)
	}
	sums, unheld := t.whereabouts(l, found)
	card.Facts = []Fact{sums}
	if len(found.made) > 0 {
		card.Facts = append(card.Facts, Fact{Label: l.say("made of it here"), Lines: found.made})
	}
	if len(unheld) > 0 {
		card.Next = l.say("Hold at once what is still here:  %s", holdPhrase(l, unheld))
	}
	rows, err := t.tracedRows(l, found, nil)
	if err != nil {
		return err
	}
	return t.paged(card, rows, recallPage)
}

// tracedRows are the batches of a trace with what each was made with and where it went. more, if
// not nil, is what else is to be said of one.
func (t *turn) tracedRows(l tongue, found traced, more func(store.Batch) string) (rows []row, err error) {
	for _, b := range found.batches {
		line, err := t.batchLine(b, t.zone)
		if err != nil {
			return nil, err
		}
		if more != nil {
			line += more(b)
		}
		if jar, lot := cmp.Or(b.Jar, b.Card.Jar), cmp.Or(b.Lot, b.Card.Lot); lot != "" {
			line += "; " + l.say("jar %s", jar) + ", " + l.say("lot %s", lot)
		}
		if as := found.as[b.Number]; len(as) > 0 {
			line += "; " + l.say("in it as %s", strings.Join(as, ", "))
		}
		rows = append(rows, rowOf(b, line+t.wentTo(l, b)))
	}
	return rows, nil
}

// wentTo says where a batch is and what of it was served, to whom.
func (t *turn) wentTo(l tongue, b store.Batch) string {
	var parts []string
	if b.Where != "" {
		parts = append(parts, b.Where)
	}
	for _, s := range b.Served {
		what := l.say("%d portions", s.Portions)
		if s.Portions == 0 {
			what = milligrams(s.Mg)
		}
		parts = append(parts, strings.TrimSpace(l.say("served: %s", what)+" "+s.To)+" "+day(l, timeOf(s.At), t.zone))
	}
	if len(parts) == 0 {
		return ""
	}
	return "; " + strings.Join(parts, ", ")
}

// find answers free words: the batches that they were said of, newest first.
func (t *turn) find(text string) error {
	l := t.theirs
	words := store.WordsIn(text)
	if len(words) == 0 {
		return t.note(l.say("Nothing to look for in %s.", quoted(text)))
	}
	return t.listed(l.say("Batches, newest first"), store.Query{Words: words})
}

// whoLogged answers who wrote what down of a batch, with what was undone marked.
func (t *turn) whoLogged(n uint64) error {
	l := t.theirs
	b, ok, err := t.tx.Batch(t.kitchen.ID, n)
	if err != nil {
		return err
	}
	if !ok {
		return t.note(l.say("There is no batch %d.", n), l.say("Type  who cured what  to see what there is."))
	}
	events, err := t.tx.Events(t.kitchen.ID, n)
	if err != nil {
		return err
	}
	undone := map[uint64]bool{}
	for _, seq := range b.Undone {
		undone[seq] = true
	}
	c := Card{Kind: ListCard, Batch: n, Title: l.say("Batch %d: %s", n, stateWords(l, b))}
	for _, e := range events {
		line, err := t.eventLine(e, t.zone)
		if err != nil {
			return fmt.Errorf("event %d: %w", e.Seq, err)
		}
		if line != "" && undone[e.Seq] {
			line += " " + l.say("(undone)")
		}
		if line = struck(l, b, e.Seq, line); line != "" {
			c.Lines = append(c.Lines, line)
		}
	}
	return t.post(c)
}
