package bot

import (
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// doseCorrection is what the correction of a weighing says of the dose. The zero doseCorrection
// is of one that does not touch it.
type doseCorrection struct {
	off     bool // what went in is not what was approved
	words   func(l tongue) []string
	figures func(l tongue) figured // nil: none is known
}

// onto puts what it says on a card.
func (d doseCorrection) onto(l tongue, card Card) Card {
	if d.words != nil {
		card.Lines = append(card.Lines, d.words(l)...)
	}
	if d.off && d.figures != nil {
		f := d.figures(l)
		card.Facts, card.Warnings = append(card.Facts, f.card.Facts...), append(card.Warnings, f.card.Warnings...)
	}
	if d.off {
		card.Kind, card.Title = HoldCard, l.say("HOLD. %s", card.Title)
		card.Next = l.say("A chef decides:  release: reason  where what is in may stay as it is, else  discard: reason . Nothing is added without an approval of its own.")
	}
	return card
}

// doseCorrected compares a corrected weighing with the dose card. Where it differs the approval
// is void, and a chef decides.
func (t *turn) doseCorrected(b store.Batch, c *store.Corrected) (d doseCorrection, err error) {
	now, ok := c.New.Body.(store.Weighed)
	was, _ := c.Old.Body.(store.Weighed)
	if !ok || b.Weighing == nil || b.Weighing.At != c.Old.Happened || now.CureMg == was.CureMg && now.Jar == was.Jar {
		return d, nil
	}
	f, known, err := t.tx.JarFilling(t.kitchen.ID, store.FillingOf{Jar: now.Jar, Number: now.Filling})
	if err != nil {
		return d, err
	}
	agent := agentKept(b.Card)
	other := known && agentOfLabel(f.Label) != agent
	if other {
		agent = agentOfLabel(f.Label)
	}
	phrase, err := doseOf(b)
	if err != nil {
		return d, err
	}
	s := t.settings()
	s.Region = cure.Given[cure.Region]{Value: cure.Region(b.Card.Region), Origin: cure.FromKitchen}
	by, ok, err := t.withRecipe(phrase, false)
	if err != nil || !ok {
		return d, err
	}
	s.CureFrom = by.cureFrom()
	full := withAgent(by.full, agentKept(b.Card))
	dose, reckoned := compute(full, s)
	found, check := cure.Found{}, grammar.Check{}
	if reckoned == nil {
		check, found, reckoned = inMeat(b, wentIn{agent, now.CureMg, now.SaltMg}, dose, full, s, t.age(b))
	}
	c.NitriteMilliPPM = -1
	if reckoned == nil {
		d.figures = func(l tongue) figured { return asked(l, "check", check, s).found(check, s, found) }
		c.NitriteMilliPPM = int64(float64(likelyOf(found.Nitrite))*1000 + 0.5)
	}
	within := false
	if r, err := requestFor(full, s); err == nil {
		if w, err := cure.Weigh(r, gramsOf(now.CureMg)); err == nil {
			w.Want, w.Off = gramsOf(b.Card.CureMg), gramsOf(now.CureMg-b.Card.CureMg)
			within = w.Within
		}
	}
	d.off = other || !within
	c.Void = d.off && b.StartedAt != 0 && b.Ended == 0
	d.words = func(l tongue) (lines []string) {
		if other {
			lines = append(lines, l.say("It is another cure than the approved one: %s.", fillingWords(l, store.Jar{Name: now.Jar, Fillings: []store.Filling{f}})))
		}
		lines = append(lines, l.say("cure: %s on the scale, %s on the dose card", weighed(now.CureMg), weighed(b.Card.CureMg)))
		if reckoned != nil {
			return append(lines, l.say("What went in can't be reckoned: no figure is known."))
		}
		if !d.off {
			lines = append(lines, l.say("That is within the scale's division of what was approved: the approval stands."))
		}
		return lines
	}
	return d, nil
}

// age is how long a batch has been in the cure; 0: it is not.
func (t *turn) age(b store.Batch) time.Duration {
	if b.StartedAt == 0 {
		return 0
	}
	return (t.now - b.StartedAt).Duration()
}
