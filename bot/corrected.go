package bot

import (
	"errors"
	"slices"

	"salthand/grammar"
	"salthand/store"
)

// correctEntry puts an entry of a batch right. What was noted stays in the record; what follows
// from it is reckoned anew.
func (t *turn) correctEntry(b store.Batch, c grammar.Correct) error {
	l := t.theirs
	if c.Why == "" {
		return t.note(l.say("Why is it corrected?"), l.say("Type  %s: reason .", grammar.Canonical(c)))
	}
	old, ok, err := t.entryMeant(b, c)
	if err != nil || !ok {
		return err
	}
	now, ok, err := t.asItWas(b, c, old)
	if err != nil || !ok {
		return err
	}
	was := store.Noted{Body: old.Body, Happened: old.Happened}
	if t.notedWords(l, was) == t.notedWords(l, now) {
		return t.note(l.say("Nothing changes: that is what stands in the record of batch %d.", b.Number))
	}
	body := store.Corrected{Entry: old.Seq, Old: was, New: now, Why: c.Why}
	dose, err := t.doseCorrected(b, &body)
	if err != nil {
		return err
	}
	before := func(l tongue) figured { return t.follows(l, b, now.Body) }
	earlier := map[tongue]figured{t.ours: before(t.ours), t.theirs: before(t.theirs)}
	err = t.append(b.Number, body)
	var misfit *store.FoldError
	switch {
	case errors.As(err, &misfit):
		return t.note(l.say("Batch %d can't be corrected so: what came after rests on it.", b.Number), l.say("If it is wrong, type  hold: what is wrong : a chef decides."))
	case err != nil:
		return err
	}
	if err := t.afterCorrection(b, body, dose); err != nil {
		return err
	}
	b, _, err = t.tx.Batch(t.kitchen.ID, b.Number)
	if err != nil {
		return err
	}
	by, err := t.nameOf(old.Person)
	if err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		card := noteCard(l.say("Batch %d, corrected by %s: %s → %s.", b.Number, t.person.Name, t.notedWords(l, was), t.notedWords(l, now)))
		card.Batch = b.Number
		card.Lines = []string{l.say("noted by %s; it stays in the record, struck as corrected: %s", by, c.Why)}
		card = dose.onto(l, card)
		if body.Void && b.Ended == 0 {
			card.Lines = append(card.Lines, l.say("The approval is void: it stands in the record, and a chef's release with its reason takes its place."))
		}
		return reckonedAnew(l, card, earlier[l], t.follows(l, b, now.Body))
	})
}

// reckonedAnew puts what follows from an entry on a card, and what followed before where that
// was something else.
func reckonedAnew(l tongue, card Card, before, now figured) Card {
	var gone []string
	for _, f := range before.card.Facts {
		for _, line := range f.Lines {
			if !slices.ContainsFunc(now.card.Facts, func(n Fact) bool { return slices.Contains(n.Lines, line) }) {
				gone = append(gone, f.Label+": "+line)
			}
		}
	}
	card.Facts = append(card.Facts, now.card.Facts...)
	if len(gone) > 0 {
		card.Facts = append(card.Facts, Fact{Label: l.say("before the correction"), Lines: gone})
	}
	card.Warnings = append(card.Warnings, now.card.Warnings...)
	if card.Next == "" {
		card.Next = now.card.Next
	}
	return card
}

// notedWords are an entry in words, with its time where that can be corrected.
func (t *turn) notedWords(l tongue, n store.Noted) string {
	switch body := n.Body.(type) {
	case store.Weighed:
		return weighedWords(l, body)
	case store.StepDone:
		words := doneWords(l, body.Kind)
		if body.CoreMilliC != 0 {
			words += l.say(", core %s °C", trimmed(float64(body.CoreMilliC)/1000, 1))
		}
		return words + " " + moment(l, timeOf(n.Happened), t.zone)
	case store.PlaceRead:
		return bothDegrees(celsius(body.MilliC))
	case store.Measured:
		return measuredWords(l, body.What, body.Value, body.TareMg, body.AtC)
	case store.Served:
		return servedWords(l, body)
	case store.MeatLot:
		return alongWords(l, body)
	}
	return ""
}

// correctedWords are a correction as the record shows it.
func (t *turn) correctedWords(l tongue, c store.Corrected) string {
	if _, ok := c.Old.Body.(store.StepDone); ok {
		return l.say("corrected, %s → %s", t.notedWords(l, c.Old), t.notedWords(l, c.New)) + because(c.Why)
	}
	return l.say("corrected, %s of %s → %s", t.notedWords(l, c.Old), moment(l, timeOf(c.Old.Happened), t.zone), t.notedWords(l, c.New)) + because(c.Why)
}

// struck marks an entry that was put right since.
func struck(l tongue, b store.Batch, seq uint64, words string) string {
	if words == "" || b.CorrectedBy(seq) == 0 {
		return words
	}
	return l.say("(struck, corrected since) %s", words)
}

// follows are the figures that follow from what an entry is of.
func (t *turn) follows(l tongue, b store.Batch, of store.Body) (f figured) {
	switch body := of.(type) {
	case store.Measured:
		switch body.What {
		case store.WeightReading:
			f, _ = t.lossOf(l, b)
		case store.CoreReading:
			f, _ = t.coolingOf(l, b)
		case store.PHReading:
			f, _, _ = t.fermentation(l, b) // asked for by watchFermentation too, which gives the error
		}
	case store.StepDone:
		if body.CoreMilliC != 0 {
			f, _ = t.coolingOf(l, b)
		}
		if s := nextStep(b, t.now); s != nil {
			f.card.Next = nextWords(l, s, t.zone)
		}
	case store.Served:
		f.card.Facts = []Fact{{Label: l.say("served"), Lines: []string{l.say("in all: %s", servedInAll(l, b))}}}
	}
	return f
}

// afterCorrection appends what follows from a correction: a hold, steps that move, an alarm.
func (t *turn) afterCorrection(b store.Batch, c store.Corrected, dose doseCorrection) error {
	if b.Ended != 0 {
		return nil
	}
	if dose.off {
		if err := t.append(b.Number, store.Held{Why: t.ours.say("what was weighed is corrected: %s", c.Why), Number: b.LastHold + 1}); err != nil {
			return err
		}
	}
	b, _, err := t.tx.Batch(t.kitchen.ID, b.Number)
	if err != nil {
		return err
	}
	switch body := c.New.Body.(type) {
	case store.StepDone:
		if body.Step >= 0 && c.New.Happened != c.Old.Happened && body.Kind != "turn" && body.Kind != "overhaul" {
			if err := t.follow(b.Number, body.Step, timeOf(c.New.Happened)); err != nil {
				return err
			}
		}
		if err := t.ring(b.Number); err != nil {
			return err
		}
		return t.backAgain(b.Number)
	case store.Measured:
		if body.What != store.PHReading {
			return nil
		}
		if err := t.watchFermentation(b); err != nil {
			return err
		}
		return t.backAgain(b.Number)
	}
	return nil
}
