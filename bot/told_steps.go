package bot

import (
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// soakAnew is the soak that is offered where no weight says how long one takes: two fresh waters,
// to be tasted at each. Common practice, no source.
const soakAnew = "soak 6 h"

// longestSoak is the longest that is offered at once: more is tasted first. The project's own
// choice.
const longestSoak = 24 * time.Hour

// ofItsSteps adds to the answer of a line in free words, typed in the thread of one batch, what
// the steps and the card of that batch say to it.
func (t *turn) ofItsSteps(l tongue, c grammar.Told, f *figured) error {
	if len(t.reading.open) != 1 {
		return nil
	}
	b, ok, err := t.tx.Batch(t.kitchen.ID, t.reading.open[0])
	if err != nil || !ok || b.StartedAt == 0 {
		return err
	}
	var lines []string
	switch c.Of {
	case grammar.TooSalty, grammar.BoughtCured:
		soak := soakAnew
		if d := cure.SoakFor(c.Said.Weight()); c.Of == grammar.BoughtCured && d > 0 && d <= longestSoak {
			soak = grammar.Canonical(grammar.Soak{For: d})
		}
		lines = append(lines, cardWords(l, b), l.say("reminders of the fresh water and of the end: a chef types  %s  here", soak))
	case grammar.NotRinsed:
		lines = append(lines, cardWords(l, b))
		for i, s := range b.Steps {
			if s.Kind == "rinse" && !s.Undone {
				state := t.stepEnd(l, b, i, b.Steps)
				if state == "" {
					state = l.say("not noted")
				}
				lines = append(lines, stepName(l, s.Kind)+": "+state)
			}
		}
		lines = append(lines, l.say("if it is rinsed now, type  rinsed ; if it goes on without, a chef types  drop rinse: smoked without rinsing"))
	default:
		return nil
	}
	for _, h := range b.Holds {
		lines = append(lines, t.holdLine(l, h))
	}
	f.card.Facts = append(f.card.Facts, Fact{Label: l.say("batch %d", b.Number), Lines: lines})
	return nil
}

// cardWords say what salt and cure the card of a batch has, and whether that was weighed in.
func cardWords(l tongue, b store.Batch) string {
	words := l.say("its card: %s salt and %s cure on %s", weighed(b.Card.SaltMg), weighed(b.Card.CureMg), kilos(gramsOf(b.Card.WeightMg)))
	if b.Weighing != nil {
		return words + l.say(", weighed in as noted")
	}
	return words + l.say(", no weighing noted")
}
