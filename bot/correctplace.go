package bot

import (
	"slices"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// ofPlaceReading reports whether a correction is of a temperature of a place.
func ofPlaceReading(c grammar.Correct) bool {
	_, ok := c.Now.(grammar.ReadPlace)
	return ok
}

// correctReading puts a temperature of a place right. What was noted stays; batches that are
// there are judged anew by it, and a hold stays until a chef lifts it.
func (t *turn) correctReading(c grammar.Correct) error {
	l := t.theirs
	if c.Why == "" {
		return t.note(l.say("Why is it corrected?"), l.say("Type  %s: reason .", grammar.Canonical(c)))
	}
	now, _ := c.Now.(grammar.ReadPlace)
	p, ok, err := t.known(now.Place, func(name string) grammar.Command {
		now.Place = name
		c.Now = now
		return c
	})
	if err != nil || !ok {
		return err
	}
	if now.Temperature < coldestPlace || now.Temperature > warmestPlace {
		return t.note(l.say("%s in %s can't be meant: it is not noted.", bothDegrees(now.Temperature), p.Name), l.say("Check the unit and the decimal mark, and type it again."))
	}
	old, ok, err := t.readingMeant(p, c)
	if err != nil || !ok {
		return err
	}
	was := old.Body.(store.PlaceRead).MilliC
	body := store.PlaceCorrected{Entry: old.Seq, Place: p.Name, OldMilliC: was, NewMilliC: milliC(now.Temperature), Unit: map[bool]string{true: "f", false: "c"}[now.Fahrenheit], Why: c.Why}
	if body.NewMilliC == was {
		return t.note(l.say("Nothing changes: that is what is noted for %s.", p.Name))
	}
	if err := t.append(0, body); err != nil {
		return err
	}
	in, err := t.inPlace(p.Name)
	if err != nil {
		return err
	}
	for _, b := range in {
		if err := t.watchFermentation(b); err != nil {
			return err
		}
	}
	by, err := t.nameOf(old.Person)
	if err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		card := noteCard(l.say("%s, corrected by %s: %s → %s.", p.Name, t.person.Name, bothDegrees(celsius(was)), bothDegrees(now.Temperature)))
		card.Lines = []string{l.say("noted by %s, %s; it stays in the record, struck as corrected: %s", by, moment(l, timeOf(old.Happened), t.zone), c.Why)}
		return t.judgedAnew(l, card, p.Name, in, celsius(was), now.Temperature)
	})
}

// judgedAnew says which batches of a place a corrected temperature is too warm or too cold for,
// and which are held though it is not.
func (t *turn) judgedAnew(l tongue, card Card, place string, in []store.Batch, was, now cure.Celsius) Card {
	for _, b := range in {
		_, before := tolerated(b).judge(was)
		_, beyond := tolerated(b).judge(now)
		held := slices.ContainsFunc(b.Holds, func(h store.Hold) bool { return h.Subject == store.PlaceSubject(place) })
		switch {
		case beyond:
			card.Warnings = append(card.Warnings, Warning{Level: cure.Hold.String(), Code: "warm", Text: l.say("too warm or too cold for batch %d: measure its core now", b.Number)})
		case before && held:
			card.Lines = append(card.Lines, l.say("batch %d is on HOLD for it: that stands until a chef releases it", b.Number))
		}
	}
	return card
}

// readingMeant is the reading of a place that a correction is about. Where that is not one, it
// is asked back, and ok is false.
func (t *turn) readingMeant(p store.Place, c grammar.Correct) (old store.Event, ok bool, err error) {
	l := t.theirs
	readings, err := t.readingsOf(p.Name, t.now-store.Milli(goodWithin.Milliseconds()), 0)
	if err != nil {
		return old, false, err
	}
	var found []store.Event
	for _, e := range slices.Backward(readings) {
		if (c.Entry == 0 || c.Entry == e.Seq) && t.said(e, c) {
			found = append(found, e)
		}
	}
	switch len(found) {
	case 0:
		return old, false, t.note(l.say("No temperature like that is noted for %s.", p.Name), l.say("Type  what is in %s  to see the last ones.", p.Name))
	case 1:
		return found[0], true, nil
	}
	return old, false, t.whichEntry("", c, found)
}

// correctionsOf are the readings of a place that were put right, by their numbers: what each was.
func (t *turn) correctionsOf(place string, from store.Milli) (was map[uint64]int64, err error) {
	was = map[uint64]int64{}
	events, err := t.tx.Trail(t.kitchen.ID, store.PlaceSubject(place), 0, wholePage)
	for _, e := range events {
		if c, ok := e.Body.(store.PlaceCorrected); ok && e.Noted >= from {
			was[c.Entry] = c.OldMilliC // the newest first: the first value stays
		}
	}
	return was, err
}
