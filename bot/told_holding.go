package bot

import (
	"fmt"
	"slices"
	"strings"

	"salthand/grammar"
	"salthand/store"
)

// holdingTellers answer what is about a hold, and about a label that nobody can read.
var holdingTellers = map[grammar.Situation]func(*telling){
	grammar.HeldAsked: (*telling).heldAsked,
	grammar.TagUnread: (*telling).tagUnread,
}

// heldAsked answers whether something held may go out.
func (t *telling) heldAsked() {
	l := t.l
	t.hold(l.say("HOLD beats ready: a weight that was reached releases nothing."))
	t.line(l.say("It is not pulled, served or sold until a chef releases it in the record; an inspector's hold only with the reference of their paper."))
	t.line(l.say("The record says who placed it, when, on which batches and what lifts it:  batch 42 , or  held ."))
	t.asks(l.say("Which batch is it, and is there a paper that lifts the hold?"))
}

// tagUnread answers a label that can't be read.
func (t *telling) tagUnread() {
	l := t.l
	t.hold(l.say("HOLD: which batch it is can't be picked by likeness. Not sure means held."))
	t.line(l.say("Match it on evidence alone: the open batches, the weight of the bag on the scale, the number of pieces, the place. One that fits in all of it is the one; two that fit are none."))
	t.line(l.say("A label carries: product, batch number, green weight, cure and its lot, start, next step and its date, use-by, made by, approved by, allergens, raw or ready to eat, HOLD."))
	t.asks(l.say("What does the bag weigh, how many pieces are in it, and where does it lie?"))
}

// onRecord adds to the answer of a line in free words what the records know of it.
func (t *turn) onRecord(l tongue, c grammar.Told, f *figured) error {
	var lines []string
	var label string
	switch c.Of {
	case grammar.Allergens:
		return t.allergyAsked(l, f)
	case grammar.MayServe:
		n := t.reading.phrase.Batch
		if all := t.reading.batches; n == 0 && len(all) > 0 {
			n = all[len(all)-1]
		}
		b, ok, err := t.tx.Batch(t.kitchen.ID, n)
		if ok {
			t.standingFor(l, b, f)
		}
		return err
	case grammar.HeldAsked:
		label = l.say("in the record")
		for _, n := range t.meantBy(c) {
			b, ok, err := t.tx.Batch(t.kitchen.ID, n)
			if err != nil {
				return err
			}
			if !ok {
				continue
			}
			lines = append(lines, t.placeLine(l, b))
			for _, h := range b.Holds {
				lines = append(lines, "  "+t.holdLine(l, h))
			}
			if len(b.Holds) > 0 {
				f.card.Title = l.say("HOLD beats ready: batch %d is on hold; who placed it, when and why stands below.", b.Number)
				if f.card.Next = liftWords(l, b); f.card.Batch != 0 {
					f.card.Title, f.card.Next = l.say("HOLD beats ready: a weight that was reached releases nothing."), l.say("A chef lifts each by itself:  batch %d: release: reason .", b.Number)
				}
				f.card.Batch = b.Number
			}
			if len(b.Holds) == 0 {
				lines = append(lines, "  "+l.say("no hold stands in the record: ask who tagged it, and hold it until that is known"))
			}
		}
	case grammar.NotTurned:
		label = l.say("in the record")
		n := t.reading.phrase.Batch
		if n == 0 && len(t.reading.open) == 1 {
			n = t.reading.open[0]
		}
		b, ok, err := t.tx.Batch(t.kitchen.ID, n)
		if err != nil || !ok {
			return err
		}
		lines = append(lines, t.placeLine(l, b))
		for _, missed := range missedSteps(l, b, t.now, t.zone) {
			lines = append(lines, "  "+l.say("not noted: %s", missed))
		}
		if s := nextStep(b, t.now); s != nil {
			lines = append(lines, "  "+nextWords(l, s, t.zone))
		}
	case grammar.TagUnread, grammar.WarmPlace:
		label = l.say("open batches")
		for _, s := range []store.State{store.StateCuring, store.StateResting, store.StateFermenting, store.StateDrying, store.StateChilled} {
			all, err := t.all(store.Query{State: s})
			if err != nil {
				return err
			}
			for _, b := range all {
				if c.Said.Meat.Cut == "" || b.Card.Cut == c.Said.Meat.Cut {
					lines = append(lines, t.placeLine(l, b)+l.say(", in %s", orUnknown(l, b.Where)))
				}
			}
		}
		if len(lines) > mostCandidates {
			lines = append(lines[:mostCandidates], l.say("and %d more", len(lines)-mostCandidates))
		}
	}
	if c.Of == grammar.WarmPlace {
		good, err := t.goodPlaces(l)
		if err != nil {
			return err
		}
		if len(good) > 0 {
			f.card.Facts = append(f.card.Facts, Fact{Label: l.say("last good readings"), Lines: good})
		}
	}
	if len(lines) > 0 {
		f.card.Facts = append(f.card.Facts, Fact{Label: label, Lines: lines})
	}
	return nil
}

// liftWords say what lifts the holds of a batch.
func liftWords(l tongue, b store.Batch) string {
	var how []string
	for _, h := range b.Holds {
		phrase := fmt.Sprintf("batch %d: release %d", b.Number, h.Number)
		if h.Number == 0 {
			phrase = fmt.Sprintf("batch %d: release", b.Number)
		}
		if h.Authority != "" {
			phrase += " ref A-118"
		}
		how = append(how, l.say("%s: reason", phrase))
	}
	return l.say("Until then it is not pulled, smoked, served or sold. A chef lifts it:  %s .", strings.Join(how, " ,  "))
}

// goodPlaces are the last good reading of each place, and what holds all that was in it since.
func (t *turn) goodPlaces(l tongue) (lines []string, err error) {
	for _, name := range t.placeNames() {
		good, ok, err := t.lastGood(name, t.now)
		if err != nil {
			return nil, err
		}
		if !ok {
			continue
		}
		hold := grammar.WasWarm{Place: name, Since: t.whenOf(good.Happened)}
		lines = append(lines, l.say("%s: %s, %s, %s ago. To hold all that was in it:  %s", name, bothDegrees(celsius(good.Body.(store.PlaceRead).MilliC)),
			moment(l, timeOf(good.Happened), t.zone), span(l, (t.now-good.Happened).Duration()), grammar.Canonical(hold)))
	}
	return lines, nil
}

// mostCandidates is how many batches an answer lists.
const mostCandidates = 20

// meantBy are the batches that a line in free words may be about: those numbered in it, else
// those of the conversation.
func (t *turn) meantBy(c grammar.Told) (numbers []uint64) {
	for _, n := range c.Said.Numbers {
		if m := uint64(max(n, 0)); grammar.Part(m) == n && m > 0 && m <= t.kitchen.Batches && !slices.Contains(numbers, m) {
			numbers = append(numbers, m)
		}
	}
	if len(numbers) == 0 {
		return t.reading.open
	}
	return numbers
}
