package bot

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// entryMeant is the entry that a correction is about, as it counts now. Where that is not one,
// it is asked back, and ok is false.
func (t *turn) entryMeant(b store.Batch, c grammar.Correct) (old store.Event, ok bool, err error) {
	l := t.theirs
	events, err := t.tx.Events(t.kitchen.ID, b.Number)
	if err != nil {
		return old, false, err
	}
	var found []store.Event
	for _, e := range events {
		if e, err = t.tx.Valid(b, e); err != nil {
			return old, false, err
		}
		if isOf(e.Body, c.Now) && !slices.Contains(b.Undone, e.Seq) && (c.Entry == 0 || c.Entry == e.Seq) && t.said(e, c) {
			found = append(found, e)
		}
	}
	switch len(found) {
	case 0:
		if c.Was != nil {
			return old, false, t.note(l.say("Batch %d has no entry like that: %s", b.Number, grammar.Canonical(c.Was)), l.say("Type  batch %d  to see what is noted.", b.Number))
		}
		return old, false, t.note(l.say("Batch %d has nothing noted that this corrects.", b.Number), l.say("Type  batch %d  to see what is noted.", b.Number))
	case 1:
		return found[0], true, nil
	}
	return old, false, t.whichEntry(fmt.Sprintf("batch %d: ", b.Number), c, found)
}

// entriesAtMost is how many entries are offered, the newest first.
const entriesAtMost = 6

// whichEntry asks which of several entries a correction is about.
func (t *turn) whichEntry(of string, c grammar.Correct, found []store.Event) error {
	l := t.theirs
	card := Card{Kind: QuestionCard, Title: l.say("Which one is corrected?")}
	var choices []grammar.Choice
	slices.Reverse(found)
	for _, e := range found[:min(len(found), entriesAtMost)] {
		line, err := t.eventLine(e, t.zone)
		if err != nil {
			return err
		}
		if line == "" { // of a place
			line = moment(l, timeOf(e.Happened), t.zone) + "  " + t.notedWords(l, store.Noted{Body: e.Body, Happened: e.Happened})
		}
		c.Entry, c.Was = e.Seq, nil
		label := fmt.Sprintf("entry %d", e.Seq)
		choices = append(choices, grammar.Choice{Label: label, Phrase: of + grammar.Canonical(c)})
		card.Choices = append(card.Choices, label)
		card.Lines = append(card.Lines, label+": "+line)
	}
	card.Next = answerWith(l, card.Choices, "")
	return t.ask(card, choices, "")
}

// isOf reports whether a command is about what an event noted.
func isOf(body store.Body, c grammar.Command) bool {
	switch body := body.(type) {
	case store.Measured:
		switch c := c.(type) {
		case grammar.WeighsNow:
			return body.What == store.WeightReading
		case grammar.Measured:
			return body.What == c.What
		}
	case store.StepDone:
		switch c := c.(type) {
		case grammar.Did:
			return body.Kind == c.Step && (!c.Core.Set() || body.CoreMilliC != 0)
		case grammar.Measured:
			return c.What == store.CoreReading && body.CoreMilliC != 0
		}
	case store.Served:
		_, ok := c.(grammar.ServedIt)
		return ok
	case store.MeatLot:
		_, ok := c.(grammar.MeatFrom)
		return ok
	case store.Weighed:
		_, ok := c.(grammar.WeighedIn)
		return ok
	case store.PlaceRead:
		_, ok := c.(grammar.ReadPlace)
		return ok
	}
	return false
}

// said reports whether an entry has the old value and the time that a correction names. The time
// of a step is what is corrected, and picks none.
func (t *turn) said(e store.Event, c grammar.Correct) bool {
	if c.Was != nil {
		was, ok, err := t.noted(e, c.Was)
		if err != nil || !ok || !sameValue(was.Body, e.Body) || was.Happened != e.Happened {
			return false
		}
	}
	var when *grammar.When
	switch c := c.Now.(type) {
	case grammar.Measured:
		when = c.When
	case grammar.WeighsNow:
		when = c.When
	case grammar.ServedIt:
		when = c.When
	case grammar.WeighedIn:
		when = c.When
	case grammar.ReadPlace:
		when = c.When
	}
	if when == nil {
		return true
	}
	return before(*when, t.m.At, t.zone).Sub(timeOf(e.Happened)).Abs() <= lateAfter
}

// sameValue compares two entries by their values: the unit that was typed says nothing.
func sameValue(a, b store.Body) bool {
	switch x := a.(type) {
	case store.Measured:
		y, ok := b.(store.Measured)
		return ok && x.Value == y.Value
	case store.MeatLot:
		y, ok := b.(store.MeatLot)
		return ok && strings.EqualFold(x.Lot, y.Lot)
	case store.Weighed:
		y, ok := b.(store.Weighed)
		return ok && x.CureMg == y.CureMg && x.SaltMg == y.SaltMg && x.Jar == y.Jar
	case store.PlaceRead:
		y, ok := b.(store.PlaceRead)
		return ok && x.MilliC == y.MilliC
	}
	return a == b
}

// asItWas is an entry as a correction has it. What can't be so has been answered.
func (t *turn) asItWas(b store.Batch, c grammar.Correct, old store.Event) (now store.Noted, ok bool, err error) {
	l := t.theirs
	if m, is := c.Now.(grammar.Measured); is && !plausible(m) {
		return now, false, t.note(l.say("%s can't be meant: it is not noted.", grammar.Canonical(m)), l.say("Check the unit and the decimal mark, and type it again."))
	}
	now, ok, err = t.noted(old, c.Now)
	if err != nil || !ok {
		return now, ok, err
	}
	switch body := now.Body.(type) {
	case store.Measured:
		if body.What == store.WeightReading && (body.Value <= 0 || float64(body.Value) > mostGain*float64(b.Card.WeightMg)) {
			return now, false, t.note(l.say("%s can't be meant: batch %d went in with %s. It is not noted.", milligrams(body.Value), b.Number, milligrams(b.Card.WeightMg)), l.say("Weigh it again, and check the unit and the tare."))
		}
	case store.StepDone:
		if at := timeOf(now.Happened); at.After(t.m.At) {
			return now, false, t.note(l.say("That time has not come yet."))
		} else if now.Happened < b.StartedAt {
			return now, false, t.note(l.say("Batch %d went into the cure only on %s.", b.Number, moment(l, timeOf(b.StartedAt), t.zone)))
		}
	}
	return now, true, nil
}

// noted is an entry with the values of a command laid over it: what the command does not say
// stays as it was.
func (t *turn) noted(old store.Event, c grammar.Command) (now store.Noted, ok bool, err error) {
	now.Happened = old.Happened
	switch body := old.Body.(type) {
	case store.Measured:
		switch c := c.(type) {
		case grammar.WeighsNow:
			if c.Tare.Set() {
				body.TareMg = mg(c.Tare.Value)
			}
			body.Value = -body.TareMg
			for _, p := range c.Pieces {
				body.Value += mg(p)
			}
		case grammar.Measured:
			body.Value = mg(cure.Gram(c.Value))
			if c.What == store.CoreReading {
				body.Unit = map[bool]string{true: "f", false: "c"}[c.Fahrenheit]
			}
			if c.At.Set() {
				at := milliC(c.At.Value)
				body.AtC = &at
			}
		}
		now.Body = body
	case store.StepDone:
		switch c := c.(type) {
		case grammar.Measured:
			body.CoreMilliC = mg(cure.Gram(c.Value))
		case grammar.Did:
			if c.Core.Set() {
				body.CoreMilliC = milliC(c.Core.Value)
			}
			if c.When != nil {
				now.Happened = milli(before(*c.When, t.m.At, t.zone))
			}
		}
		now.Body = body
	case store.Served:
		if c, is := c.(grammar.ServedIt); is {
			body.Portions, body.Mg = int64(c.Portions), 0
			for _, p := range c.Pieces {
				body.Mg += mg(p)
			}
			if c.To != "" {
				body.To = c.To
			}
		}
		now.Body = body
	case store.MeatLot:
		if c, is := c.(grammar.MeatFrom); is {
			body = lotOver(body, c)
		}
		now.Body = body
	case store.Weighed:
		c, is := c.(grammar.WeighedIn)
		if !is {
			return now, false, nil
		}
		return t.weighedOver(now, body, c)
	case store.PlaceRead:
		if c, is := c.(grammar.ReadPlace); is {
			body.MilliC, body.Unit = milliC(c.Temperature), map[bool]string{true: "f", false: "c"}[c.Fahrenheit]
		}
		now.Body = body
	}
	return now, now.Body != nil, nil
}

// lotOver is a lot of meat with what a command says of it laid over.
func lotOver(body store.MeatLot, c grammar.MeatFrom) store.MeatLot {
	body.Lot = c.Lot
	if c.Supplier != "" {
		body.Supplier = c.Supplier
	}
	if c.Establishment != "" {
		body.Establishment = c.Establishment
	}
	if c.Received.Set() {
		at := milliC(c.Received.Value)
		body.Received = &at
	}
	return body
}

// weighedOver is a weighing with what a command says of it laid over.
func (t *turn) weighedOver(now store.Noted, body store.Weighed, c grammar.WeighedIn) (store.Noted, bool, error) {
	if c.Cure.Set() {
		body.CureMg = mg(c.Cure.Value)
	}
	if c.Salt.Set() {
		body.SaltMg = mg(c.Salt.Value)
	}
	if c.Jar != "" && !strings.EqualFold(c.Jar, body.Jar) {
		jar, f, err := t.jar(c.Jar)
		var refused *jarRefused
		if errors.As(err, &refused) {
			return now, false, t.post(jarRefusedCard(t.theirs, refused))
		}
		if err != nil {
			return now, false, err
		}
		body.Jar, body.Filling, body.Lot = jar.Name, f.Number, f.Label.Lot
	}
	now.Body = body
	return now, true, nil
}
