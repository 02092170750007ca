package bot

import (
	"fmt"
	"strconv"
	"strings"

	"salthand/grammar"
	"salthand/store"
)

// hold stops a batch.
func (t *turn) hold(b store.Batch, c grammar.HoldIt) error {
	switch {
	case b.Ended != 0:
		return t.notNow(b, "hold")
	case c.Why == "":
		return t.note(t.theirs.say("Why is it held?"), t.theirs.say("Type  hold: reason ."))
	case c.Authority != "":
		return t.holdAll(grammar.HoldAll{Authority: c.Authority, Batches: []uint64{b.Number}, Why: c.Why})
	}
	if err := t.append(b.Number, store.Held{Why: c.Why, Number: b.LastHold + 1}); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		return Card{Kind: HoldCard, Batch: b.Number, Title: l.say("HOLD on batch %d: %s", b.Number, c.Why), Lines: []string{heldLine(l, t.person.Name)},
			Next: l.say("A chef decides:  release: reason  or  discard: reason .")}
	})
}

// heldLine says what a hold means.
func heldLine(l tongue, by string) string {
	return l.say("held by %s: no start, smoke, serve or sale until it is released; turn it and keep it cold meanwhile", by)
}

// holdLine is a hold in a list: its number, who placed it and when, and what lifts it.
func (t *turn) holdLine(l tongue, h store.Hold) string {
	by, err := t.nameOf(h.By)
	if err != nil {
		by = h.By
	}
	line := l.say("HOLD: %s, %s by %s", h.Why, moment(l, timeOf(h.At), t.zone), by)
	if h.Number > 0 {
		line = l.say("HOLD %d: %s, %s by %s", h.Number, h.Why, moment(l, timeOf(h.At), t.zone), by)
	}
	if h.Incident > 0 {
		line += l.say(", incident %d", h.Incident)
	}
	if h.Authority != "" {
		line += l.say("; a chef lifts it with the inspector's reference")
	}
	return line
}

// release lifts one hold of a batch: the one that is named, where there are several.
func (t *turn) release(b store.Batch, c grammar.ReleaseIt) error {
	l := t.theirs
	if len(b.Holds) == 0 || b.Ended != 0 {
		return t.note(l.say("Batch %d is not held.", b.Number))
	}
	if c.Hold == 0 && len(b.Holds) > 1 {
		return t.whichHold(b, c)
	}
	h := b.Holds[0]
	if c.Hold > 0 {
		found := false
		for _, one := range b.Holds {
			if one.Number == c.Hold {
				h, found = one, true
			}
		}
		if !found {
			return t.note(l.say("Batch %d has no hold %d.", b.Number, c.Hold), l.say("Type  batch %d  to see what holds it.", b.Number))
		}
	}
	switch {
	case c.Why == "":
		return t.note(l.say("Why is it released?"), l.say("Type  %s: reason .", grammar.Canonical(c)))
	case h.Authority != "" && c.Reference == "":
		return t.note(l.say("The inspector placed that hold: it is lifted with the reference of their paper."), l.say("Type  release ref A-118: reason , with the reference that stands on it."))
	}
	if err := t.append(b.Number, store.Released{Why: c.Why, Reference: c.Reference, Number: h.Number}); err != nil {
		return err
	}
	err := t.announce(func(l tongue) Card {
		words := l.say("Batch %d is released by %s: %s.", b.Number, t.person.Name, c.Why+refWords(l, c.Reference))
		card := noteCard(words)
		if len(b.Holds) > 1 {
			card = Card{Kind: HoldCard, Batch: b.Number, Title: l.say("HOLD on batch %d stands: another hold was released by %s: %s.", b.Number, t.person.Name, c.Why+refWords(l, c.Reference))}
			for _, other := range b.Holds {
				if other != h {
					card.Lines = append(card.Lines, t.holdLine(l, other))
				}
			}
		}
		return card
	})
	if err != nil {
		return err
	}
	return t.released(b.Number, b.Holds[0].At)
}

// whichHold asks which of several holds is meant.
func (t *turn) whichHold(b store.Batch, c grammar.ReleaseIt) error {
	l := t.theirs
	var choices []grammar.Choice
	card := Card{Kind: QuestionCard, Batch: b.Number, Title: l.say("Batch %d has %d holds: which one is released?", b.Number, len(b.Holds))}
	for _, h := range b.Holds {
		card.Lines = append(card.Lines, t.holdLine(l, h))
		if h.Number > 0 {
			c.Hold = h.Number
			choices = append(choices, grammar.Choice{Label: strconv.Itoa(h.Number), Phrase: fmt.Sprintf("batch %d: %s", b.Number, grammar.Canonical(c))})
			card.Choices = append(card.Choices, strconv.Itoa(h.Number))
		}
	}
	card.Next = l.say("Answer with its number. Each is released by itself, with a reason of its own.")
	return t.ask(card, choices, "")
}

// instead is what becomes of a command that is a chef's: who finds a batch spoiled and is none
// holds it, and who names themselves speaks for themselves.
func (t *turn) instead(c grammar.Command) grammar.Command {
	if a, ok := c.(grammar.Away); ok && strings.EqualFold(a.Who, t.person.Name) {
		a.Who = "" // "luis is off tomorrow", says luis
		return a
	}
	d, ok := c.(grammar.Discard)
	if r, _ := rightOf(c); !ok || r.may(t.person) || d.Why == "" {
		return c
	}
	return grammar.HoldIt{Why: t.ours.say("to be discarded: %s", d.Why)}
}

func (t *turn) discard(b store.Batch, why string) error {
	switch {
	case b.Ended != 0:
		return t.notNow(b, "discard")
	case why == "":
		return t.note(t.theirs.say("Why is it discarded?"), t.theirs.say("Type  discard: reason ."))
	}
	if err := t.append(b.Number, store.Discarded{Why: why, Place: b.Where}); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		return noteCard(l.say("Batch %d is discarded: %s. The record stays.", b.Number, why))
	})
}

func (t *turn) finish(b store.Batch) error {
	switch {
	case b.Ended != 0 || b.StartedAt == 0:
		return t.notNow(b, "finished")
	case len(b.Holds) > 0:
		return t.note(t.theirs.say("Batch %d is on HOLD: %s. It can't be finished.", b.Number, holdReasons(b)), t.theirs.say("A chef can  release: reason ."))
	}
	if err := t.append(b.Number, store.Finished{Place: b.Where}); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		c := noteCard(l.say("Batch %d is finished.", b.Number))
		if len(b.Served) > 0 {
			c.Lines = append(c.Lines, l.say("served: %s", servedInAll(l, b)))
		}
		return c
	})
}

// holdReasons are why a batch is held.
func holdReasons(b store.Batch) string {
	var why []string
	for _, h := range b.Holds {
		why = append(why, h.Why)
	}
	return strings.Join(why, "; ")
}
