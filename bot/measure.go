package bot

import (
	"time"

	"salthand/cure"
	"salthand/cure/heat"
	"salthand/grammar"
	"salthand/store"
)

// mostGain is the most that meat in a cure gains over its green weight; above it a weight is a
// slip. The project's own choice: 30 %, above any pump.
const mostGain = 1.3

// weighsNow notes a weight along the way, and what follows from it while a piece hangs.
func (t *turn) weighsNow(b store.Batch, c grammar.WeighsNow) error {
	l := t.theirs
	if b.Ended != 0 || b.StartedAt == 0 {
		return t.notNow(b, grammar.Canonical(c))
	}
	happened, ok, err := t.past(c.When)
	if err != nil || !ok {
		return err
	}
	net := -c.Tare.Value
	for _, p := range c.Pieces {
		net += p
	}
	if net <= 0 || float64(mg(net)) > mostGain*float64(b.Card.WeightMg) {
		return t.note(l.say("%s can't be meant: batch %d went in with %s. It is not noted.", kilos(net), b.Number, milligrams(b.Card.WeightMg)), l.say("Weigh it again, and check the unit and the tare."))
	}
	if err := t.appendAt(b.Number, store.Measured{What: store.WeightReading, Value: mg(net), Unit: "g", TareMg: mg(c.Tare.Value)}, milli(happened)); err != nil {
		return err
	}
	if err := t.readFor(b, stepRead[store.WeightReading], happened); err != nil {
		return err
	}
	if b, _, err = t.tx.Batch(t.kitchen.ID, b.Number); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card { return t.weightCard(l, b, net, happened, !c.Tare.Set()) })
}

// weightCard says what a weight comes to: HOLD before anything else.
func (t *turn) weightCard(l tongue, b store.Batch, net cure.Gram, happened time.Time, bare bool) Card {
	c := noteCard(l.say("Batch %d weighs %s.", b.Number, kilos(net)) + t.lateWords(l, happened))
	f, hung := t.lossOf(l, b)
	c.Facts, c.Warnings = f.card.Facts, f.card.Warnings
	if n := len(hung); n > 1 && hung[n-1].Gram > hung[n-2].Gram {
		c.Lines = append(c.Lines, l.say("It weighs more than before: weigh it again, with the same string and netting."))
	}
	if bare {
		c.Lines = append(c.Lines, l.say("Taken as without netting and string; if they are on it, type  undo , and  now GRAMS g, netting GRAMS g ."))
	}
	for _, h := range b.Holds {
		c.Kind, c.Batch = HoldCard, b.Number
		c.Lines = append(c.Lines, t.holdLine(l, h))
	}
	return c
}

// lossOf reckons how a batch dries from its weights on the hook, which it gives too.
func (t *turn) lossOf(l tongue, b store.Batch) (f figured, hung []grammar.Weight) {
	for _, r := range b.ReadingsOf(store.WeightReading) {
		if from, ok := hungAt(b); ok && r.At >= from {
			hung = append(hung, grammar.Weight{After: (r.At - from).Duration(), Gram: gramsOf(r.Value)})
		}
	}
	if len(hung) > 0 {
		hung[0].After = 0 // losses are counted from the first weighing on the hook
		s := settingsOf(t.kitchen, t.now)
		f = asked(l, "drying", grammar.Dry{}, s).dry(grammar.Dry{Cut: b.Card.Cut, Weights: hung}, s)
	}
	return f, hung
}

// hungAt is when a batch was hung last.
func hungAt(b store.Batch) (at store.Milli, ok bool) {
	for _, s := range b.Steps {
		if s.Kind == "hang" && s.Done && !s.Undone {
			at, ok = s.DoneAt, true
		}
	}
	return at, ok
}

// measured notes a pH, a core temperature or a water activity.
func (t *turn) measured(b store.Batch, c grammar.Measured) error {
	l := t.theirs
	if b.Ended != 0 {
		return t.notNow(b, grammar.Canonical(c))
	}
	happened, ok, err := t.past(c.When)
	if err != nil || !ok {
		return err
	}
	if !plausible(c) {
		return t.note(l.say("%s can't be meant: it is not noted.", grammar.Canonical(c)), l.say("Check the unit and the decimal mark, and type it again."))
	}
	body := store.Measured{What: c.What, Value: mg(cure.Gram(c.Value))}
	if c.What == store.CoreReading {
		body.Unit = map[bool]string{true: "f", false: "c"}[c.Fahrenheit]
	}
	if c.At.Set() {
		at := milliC(c.At.Value)
		body.AtC = &at
	}
	if err := t.appendAt(b.Number, body, milli(happened)); err != nil {
		return err
	}
	left := testsLeft(b)
	if err := t.readFor(b, stepRead[c.What], happened); err != nil {
		return err
	}
	if b, _, err = t.tx.Batch(t.kitchen.ID, b.Number); err != nil {
		return err
	}
	if err := t.announceMeasured(b, c, body, happened, left > 0 && sour(b)); err != nil {
		return err
	}
	return t.watchFermentation(b)
}

// announceMeasured says what was read, and what follows from it. lastTest: the tests of pH that
// were still to come are needless now.
func (t *turn) announceMeasured(b store.Batch, c grammar.Measured, body store.Measured, happened time.Time, lastTest bool) error {
	acid := func(tongue) (figured, bool) { return figured{}, false }
	if c.What == store.PHReading {
		if _, _, err := t.fermentation(t.ours, b); err != nil {
			return err
		}
		acid = func(l tongue) (figured, bool) {
			f, ok, _ := t.fermentation(l, b) // it was read just before
			return f, ok
		}
	}
	return t.announce(func(l tongue) Card {
		card := noteCard(l.say("Batch %d: %s, noted for %s.", b.Number, measuredWords(l, body.What, body.Value, 0, body.AtC), t.person.Name) + t.lateWords(l, happened))
		if core := cure.Celsius(c.Value); c.What == store.CoreReading && len(b.Holds) > 0 {
			words := l.say("The core is at or below %s. That alone releases nothing: a chef decides.", bothDegrees(heat.StopAbove))
			if core > heat.StopAbove {
				words = l.say("The core is above %s: chill it at once, a chef decides.", bothDegrees(heat.StopAbove))
			}
			card.Lines = append(card.Lines, words)
		}
		if f, ok := t.coolingOf(l, b); ok && c.What == store.CoreReading {
			card.Facts, card.Warnings = f.card.Facts, f.card.Warnings
		}
		if f, ok := acid(l); ok {
			card.Facts, card.Warnings = f.card.Facts, f.card.Warnings
		} else if _, ferments := fermentsFrom(b); ferments && c.What == store.PHReading {
			card.Lines = append(card.Lines, l.say("No temperature of its chamber is noted since it went in: degree-hours can't be reckoned. Type  batch %d: in chamber 1 , and  chamber 1 24 c .", b.Number))
		}
		if lastTest {
			card.Lines = append(card.Lines, l.say("pH 5.3 is reached, where degree-hours end: no pH test is asked for any more. If this reading is taken back, they are."))
		}
		for _, h := range b.Holds {
			card.Kind, card.Batch = HoldCard, b.Number
			card.Lines = append(card.Lines, t.holdLine(l, h))
		}
		return card
	})
}

// plausible tells whether an instrument can have shown it. The bounds are the project's own
// choice, wide of anything in a kitchen.
func plausible(c grammar.Measured) bool {
	switch c.What {
	case store.PHReading:
		return c.Value >= 3 && c.Value <= 8
	case store.AwReading:
		return c.Value >= 0.3 && c.Value <= 1
	}
	return c.Value >= -40 && c.Value <= 110
}

// meatFrom notes where the meat of a batch came from.
func (t *turn) meatFrom(b store.Batch, c grammar.MeatFrom) error {
	if b.Ended != 0 {
		return t.notNow(b, grammar.Canonical(c))
	}
	body := store.MeatLot{Lot: c.Lot, Supplier: c.Supplier, Establishment: c.Establishment}
	if c.Received.Set() {
		at := milliC(c.Received.Value)
		body.Received = &at
	}
	if err := t.append(b.Number, body); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		card := noteCard(l.say("Batch %d: %s.", b.Number, grammar.Canonical(c)))
		if c.Received.Set() && c.Received.Value > heat.StopAbove {
			card.Warnings = append(card.Warnings, Warning{Level: cure.Hold.String(), Code: "warm", Text: l.say("it came in above %s: hold it, a chef decides", bothDegrees(heat.StopAbove))})
		}
		return card
	})
}

// served notes what of a batch left, and where to.
func (t *turn) served(b store.Batch, c grammar.ServedIt) error {
	l := t.theirs
	if len(b.Holds) > 0 && b.Ended == 0 {
		card := Card{Kind: HoldCard, Batch: b.Number, Title: l.say("HOLD: batch %d is not served.", b.Number)}
		for _, h := range b.Holds {
			card.Lines = append(card.Lines, t.holdLine(l, h))
		}
		return t.post(card)
	}
	if c.Portions == 0 && len(c.Pieces) == 0 {
		return t.note(l.say("How much was served?"), l.say("Type  served 12 portions  or  sent 4 kg to the bar ."))
	}
	happened, ok, err := t.past(c.When)
	if err != nil || !ok {
		return err
	}
	if b.Ended != 0 || b.StartedAt == 0 || !servable(b) {
		return t.notNow(b, grammar.Canonical(c))
	}
	body := store.Served{Portions: int64(c.Portions), To: c.To}
	for _, p := range c.Pieces {
		body.Mg += mg(p)
	}
	out := body.Mg
	for _, s := range b.Served {
		out += s.Mg
	}
	if float64(out) > mostGain*float64(b.Card.WeightMg) {
		return t.note(l.say("%s in all can't be meant: batch %d went in with %s. It is not noted.", milligrams(out), b.Number, milligrams(b.Card.WeightMg)))
	}
	if err := t.appendAt(b.Number, body, milli(happened)); err != nil {
		return err
	}
	if b, _, err = t.tx.Batch(t.kitchen.ID, b.Number); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		return noteCard(l.say("Batch %d, served so far: %s.", b.Number, servedInAll(l, b))+t.lateWords(l, happened), l.say("When nothing is left, type  finished ."))
	})
}

// servable tells whether a batch is at a point where some of it may leave: not in the cure,
// fermenting, smoking or cooking, nor with a cooking or a chilling still to be done.
func servable(b store.Batch) bool {
	switch b.State {
	case store.StateChilled, store.StateDrying, store.StateResting:
	default:
		return false
	}
	for _, s := range b.Steps {
		if !s.Done && (s.Kind == "cook" || s.Kind == "chill") {
			return false
		}
	}
	return true
}

// servedInAll are all servings of a batch, added up.
func servedInAll(l tongue, b store.Batch) string {
	var portions, mass int64
	for _, s := range b.Served {
		portions, mass = portions+s.Portions, mass+s.Mg
	}
	switch {
	case portions > 0 && mass > 0:
		return l.say("%d portions and %s", portions, milligrams(mass))
	case portions > 0:
		return l.say("%d portions", portions)
	}
	return milligrams(mass)
}

// standsLines say what holds an open batch, where it is, and what was read of it last.
func (t *turn) standsLines(l tongue, b store.Batch) (lines []string) {
	if b.Ended != 0 {
		return nil
	}
	for _, h := range b.Holds {
		lines = append(lines, t.holdLine(l, h))
	}
	if b.Where != "" {
		lines = append(lines, l.say("in %s since %s", b.Where, moment(l, timeOf(b.WhereSince), t.zone)))
	}
	for _, what := range []string{store.WeightReading, store.CoreReading, store.PHReading, store.AwReading} {
		if all := b.ReadingsOf(what); len(all) > 0 {
			r := all[len(all)-1]
			lines = append(lines, l.say("%s, %s", measuredWords(l, what, r.Value, r.TareMg, r.AtC), moment(l, timeOf(r.At), t.zone)))
		}
	}
	if len(b.Served) > 0 {
		lines = append(lines, l.say("served: %s", servedInAll(l, b)))
	}
	return lines
}

// alongWords are an event along the way as the record shows it; "" for any other.
func alongWords(l tongue, body store.Body) string {
	switch b := body.(type) {
	case store.Incident:
		return l.say("HOLD") + ": " + b.Why + l.say(", incident %d", b.Number)
	case store.Moved:
		return l.say("put in %s", orUnknown(l, b.To))
	case store.Measured:
		return measuredWords(l, b.What, b.Value, b.TareMg, b.AtC)
	case store.MeatLot:
		m := grammar.MeatFrom{Lot: b.Lot, Supplier: b.Supplier, Establishment: b.Establishment}
		if b.Received != nil {
			m.Received = cure.Typed(celsius(*b.Received))
		}
		return grammar.Canonical(m)
	case store.Served:
		return servedWords(l, b)
	case store.IngredientAdded:
		return l.say("with %s", lotWords(l, b.Ingredient))
	}
	return ""
}
