package bot

import (
	"cmp"
	"slices"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// jarUse is something that was taken from a filling: for a batch, or for a house cure.
type jarUse struct {
	batch uint64 // 0: for a house cure
	made  string // the jar of the house cure
	mg    int64
	at    store.Milli
	again bool // it was weighed more than once; mg is the last
}

func (u jarUse) words(l tongue, zone *time.Location) string {
	when := moment(l, timeOf(u.at), zone)
	if u.batch == 0 {
		return l.say("%s  %s for the house cure in jar %s", when, weighed(u.mg), u.made)
	}
	return l.say("%s  %s for batch %d", when, weighed(u.mg), u.batch)
}

// jarLog are the weights of a filling and what was taken from it, each in order of time.
type jarLog struct {
	weights []store.JarWeight
	uses    []jarUse
}

// jarUses are what was taken from a filling, in order of time.
func (t *turn) jarUses(of store.FillingOf) ([]jarUse, error) {
	log, err := t.jarLog(of)
	return log.uses, err
}

// jarLog reads the trail of a jar. A weighing that was taken back doesn't count; of those done
// again the last does, and it is noted that there were others.
func (t *turn) jarLog(of store.FillingOf) (log jarLog, err error) {
	events, err := t.tx.Trail(t.kitchen.ID, "jar "+of.Jar, 0, 0)
	if err != nil {
		return log, err
	}
	for _, e := range slices.Backward(events) {
		switch body := e.Body.(type) {
		case store.JarWeighed:
			if body.Jar == of.Jar && body.Filling == of.Number {
				log.weights = append(log.weights, store.JarWeight{Mg: body.Mg, By: e.Person, At: e.Happened})
			}
		case store.Weighed, store.Corrected:
			b, _, err := t.tx.Batch(t.kitchen.ID, e.Batch)
			if err != nil {
				return log, err
			}
			w, at, counts := takenBy(b, e)
			if !counts || w.Jar != of.Jar || w.Filling != of.Number {
				continue
			}
			use := jarUse{batch: e.Batch, mg: w.CureMg, at: at}
			if i := slices.IndexFunc(log.uses, func(u jarUse) bool { return u.batch == e.Batch }); i >= 0 {
				use.again = true
				log.uses = slices.Delete(log.uses, i, i+1)
			}
			log.uses = append(log.uses, use)
		case store.Added:
			if body.Jar == of.Jar && body.Filling == of.Number {
				log.uses = append(log.uses, jarUse{batch: e.Batch, mg: body.CureMg, at: e.Happened})
			}
		case store.JarFilled:
			for _, p := range body.Parts {
				if p.FillingOf == of {
					log.uses = append(log.uses, jarUse{made: body.Jar, mg: p.Mg, at: e.Happened})
				}
			}
		}
	}
	slices.SortStableFunc(log.weights, func(a, b store.JarWeight) int { return cmp.Compare(a.At, b.At) })
	slices.SortStableFunc(log.uses, func(a, b jarUse) int { return cmp.Compare(a.at, b.at) })
	return log, nil
}

// takenBy is the weighing that an event notes or puts right; false: it notes none, or it was taken
// back or put right itself.
func takenBy(b store.Batch, e store.Event) (w store.Weighed, at store.Milli, counts bool) {
	switch body := e.Body.(type) {
	case store.Weighed:
		return body, e.Happened, !slices.Contains(b.Undone, e.Seq) && b.CorrectedBy(e.Seq) == 0
	case store.Corrected:
		w, ok := body.New.Body.(store.Weighed)
		return w, body.New.Happened, ok && b.CorrectedBy(body.Entry) == e.Seq && !slices.Contains(b.Undone, body.Entry)
	}
	return w, 0, false
}

// evidence is what a jar's weights say of whether a batch's cure was taken from it.
type evidence struct {
	jar           string
	fall          cure.JarFall
	before, after *store.JarWeight
	others        []jarUse
	told          bool // the weight after was only told, and is not noted
	says          cure.Evidence
}

// evidenceOf looks between the last weight of the jar before the dose was approved and the
// first after it. told is a weight that the question names as the jar's of now; 0: none.
func (t *turn) evidenceOf(b store.Batch, told cure.Gram) (e evidence, err error) {
	of := store.FillingOf{Jar: cmp.Or(b.Jar, b.Card.Jar), Number: cmp.Or(b.Filling, b.Card.Filling)}
	e.jar = of.Jar
	if of.Jar == "" {
		return e, nil
	}
	log, err := t.jarLog(of)
	if err != nil {
		return e, err
	}
	from := b.AskedAt
	if b.Approval != nil {
		from = b.Approval.At
	}
	for i := range log.weights {
		w := &log.weights[i]
		switch {
		case w.At <= from:
			e.before = w
		case e.before != nil:
			e.after = w // the last of all: what was taken meanwhile is counted
		}
	}
	if told > 0 {
		e.after, e.told = &store.JarWeight{Mg: mg(told), At: t.now}, true
	}
	if e.before == nil || e.after == nil {
		return e, nil
	}
	e.fall = cure.JarFall{Before: cure.Gram(e.before.Mg) / 1000, After: cure.Gram(e.after.Mg) / 1000, Dose: cure.Gram(b.Card.CureMg) / 1000, Division: t.division()}
	for _, u := range log.uses {
		if u.batch != b.Number && u.at >= e.before.At && u.at <= e.after.At {
			e.others = append(e.others, u)
			e.fall.Others += cure.Gram(u.mg) / 1000
			e.fall.Uses++
		}
	}
	if e.says = e.fall.Says(); slices.ContainsFunc(e.others, func(u jarUse) bool { return u.again }) {
		e.says = cure.EvidenceUnknown // the first may lie in the jar or in the bin
	}
	return e, nil
}

// wasItAdded answers whether the cure of a batch went in, by the jar's weights. Whatever they
// say, nothing is added to be sure.
func (t *turn) wasItAdded(b store.Batch, told cure.Gram) error {
	e, err := t.evidenceOf(b, told)
	if err != nil {
		return err
	}
	return t.post(t.both(func(l tongue) Card { return t.evidenceCard(l, b, e) }))
}

func (t *turn) evidenceCard(l tongue, b store.Batch, e evidence) Card {
	c := Card{Kind: HoldCard, Batch: b.Number, Lines: []string{l.say("Don't add cure to be sure: a second full dose would be twice as much. Keep the meat cold meanwhile.")}}
	switch e.says {
	case cure.EvidenceTaken:
		c.Title = l.say("HOLD batch %d: the jar's weights are consistent with the cure having been taken.", b.Number)
	case cure.EvidenceNot:
		c.Title = l.say("HOLD batch %d: the jar's weights are consistent with nothing having been taken for it.", b.Number)
	default:
		c.Title = l.say("HOLD batch %d: whether the cure went in is not known.", b.Number)
	}
	seen := readTwice(b) && e.says != cure.EvidenceNot
	if seen {
		c.Kind, c.Title = NoteCard, l.say("Batch %d: the cure went in, by what two people noted: one weighed it, another read it again.", b.Number)
	}
	if b.Weighing != nil {
		c.Lines = append(c.Lines, l.say("noted as weighed: %s, %s", weighed(b.Weighing.CureMg), moment(l, timeOf(b.Weighing.At), t.zone)))
	}
	fact := Fact{Label: l.say("evidence")}
	switch {
	case e.jar == "":
		fact.Lines = append(fact.Lines, l.say("no jar is named for this batch"))
	case e.before == nil:
		fact.Lines = append(fact.Lines, l.say("jar %s was not weighed before the dose was approved", e.jar))
	case e.after == nil:
		fact.Lines = append(fact.Lines, l.say("jar %s weighed %s on %s, and was not weighed since", e.jar, weighed(e.before.Mg), moment(l, timeOf(e.before.At), t.zone)))
	default:
		now := l.say("now %s", weighed(e.after.Mg))
		if e.told {
			now = l.say("now %s, as told and not noted", weighed(e.after.Mg))
		}
		fact.Lines = append(fact.Lines,
			l.say("jar %s: %s on %s, %s", e.jar, weighed(e.before.Mg), moment(l, timeOf(e.before.At), t.zone), now),
			l.say("it lost %s; the dose is %s", grams(e.fall.Before-e.fall.After, 0.01), weighed(b.Card.CureMg)))
		for _, u := range e.others {
			fact.Lines = append(fact.Lines, l.say("taken for others meanwhile: %s", u.words(l, t.zone)))
			if u.again {
				fact.Lines = append(fact.Lines, l.say("weighed more than once: whether the first went back into the jar is not known"))
			}
		}
		if len(e.others) > 0 {
			fact.Lines = append(fact.Lines, l.say("left for this batch: %s", grams(e.fall.Left(), 0.01)))
		}
		fact.Lines = append(fact.Lines, l.say("± %s by the weighings alone (k = 2), if nothing else was taken that was not noted", grams(e.fall.Band(), 0.01)))
	}
	c.Facts = []Fact{fact}
	switch {
	case seen && e.says == cure.EvidenceTaken:
		c.Next = l.say("The jar's weights are consistent with it.")
	case seen:
		c.Next = l.say("The jar's weights neither confirm nor deny it.")
	case e.says == cure.EvidenceTaken:
		c.Next = l.say("Ask whoever weighed it. If it went in, they note it late:  %s . A chef decides.", "weighed CURE cure, SALT salt, jar "+e.jar+", yesterday TIME")
	case e.jar != "" && e.after == nil:
		c.Next = l.say("Ask whoever weighed it, and weigh the jar as it stands now:  %s", "jar "+e.jar+" GRAMS g")
	default:
		c.Next = l.say("Ask whoever weighed it. A chef decides:  release: reason  or  discard: reason .")
	}
	return c
}

// readTwice reports whether one person noted the weighing of a batch, and another read it again.
func readTwice(b store.Batch) bool {
	return b.Weighing != nil && !b.Weighing.Disputed && b.Check != nil && b.Check.By != b.Weighing.By
}

// toldOfWeighing answers whether the cure of a batch in the records went in; false: no one
// batch is meant, or something else was told.
func (t *turn) toldOfWeighing(c grammar.Told) (bool, error) {
	if c.Of != grammar.CureUnsure {
		return false, nil
	}
	n := t.reading.phrase.Batch
	if n == 0 && len(t.reading.open) == 1 {
		n = t.reading.open[0]
	}
	b, ok, err := t.tx.Batch(t.kitchen.ID, n)
	if err != nil || !ok || b.Card.CureMg == 0 {
		return false, err
	}
	told := cure.Gram(0)
	if weights := append(slices.Clone(c.Said.Loose), looseOf(c.Said.Numbers)...); len(weights) == 1 && !c.Said.Has("to-be-safe") && weights[0] > cure.Gram(b.Card.CureMg)/1000 {
		told = weights[0] // "jar says 826.6"
	}
	return true, t.wasItAdded(b, told)
}

func looseOf(numbers []grammar.Part) (out []cure.Gram) {
	for _, n := range numbers {
		out = append(out, cure.Gram(n))
	}
	return out
}
