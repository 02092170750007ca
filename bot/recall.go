package bot

import (
	"fmt"
	"slices"
	"strings"

	"salthand/grammar"
	"salthand/store"
)

// recallAtMost is how many batches a recall lists in one answer; it counts them all.
const recallAtMost = 50

// recall answers where what was made with a jar, a lot or a recipe went: every batch in
// whatever state, and what the record lacks.
func (t *turn) recall(c grammar.Recall) error {
	l := t.theirs
	var batches []store.Batch
	var made []string
	var err error
	if c.Of == "recipe" {
		batches, err = t.all(store.Query{Recipe: c.Name, Version: c.Version})
	} else if batches, err = t.ofCure(c.Of, c.Name); err == nil {
		made, err = t.houseCuresOf(l, c.Of, c.Name)
	}
	if err != nil {
		return err
	}
	card := Card{Kind: ListCard, Title: grammar.CanonicalIn(string(l), c)}
	if len(made) > 0 {
		card.Facts = []Fact{{Label: l.say("made of it here"), Lines: made}}
	}
	count, here, unknown := 0, 0, 0
	for _, b := range slices.Backward(batches) {
		count++
		if b.Open() {
			here++
		}
		if b.State == store.StateFinished && len(b.Served) == 0 {
			unknown++
		}
		if count > recallAtMost {
			continue
		}
		line, err := t.batchLine(b, t.zone)
		if err != nil {
			return err
		}
		card.Lines = append(card.Lines, line+wentTo(l, b))
	}
	if count == 0 {
		card.Title = l.say("No batch like that.")
		return t.post(card)
	}
	card.Facts = append([]Fact{{Label: l.say("in all"), Lines: []string{l.say("batches: %d, still open: %d", count, here)}}}, card.Facts...)
	if count > recallAtMost {
		card.Facts[0].Lines = append(card.Facts[0].Lines, l.say("NOT ALL ARE LISTED: these are the newest %d", recallAtMost))
	}
	if unknown > 0 {
		card.Facts[0].Lines = append(card.Facts[0].Lines, l.say("not complete: of %d finished batches nobody noted where they went", unknown))
	}
	if c.Of != "recipe" {
		card.Facts[0].Lines = append(card.Facts[0].Lines, l.say("a batch that names no jar can't be found this way"))
	}
	card.Next = l.say("Hold what is still here, in each thread:  hold: reason")
	return t.post(card)
}

// wentTo says where a batch is and what of it was served, to whom.
func wentTo(l tongue, b store.Batch) string {
	var parts []string
	if b.Where != "" {
		parts = append(parts, b.Where)
	}
	for _, s := range b.Served {
		what := l.say("%d portions", s.Portions)
		if s.Portions == 0 {
			what = milligrams(s.Mg)
		}
		parts = append(parts, strings.TrimSpace(l.say("served: %s", what)+" "+s.To))
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
		if line != "" {
			c.Lines = append(c.Lines, line)
		}
	}
	return t.post(c)
}
