package bot

import (
	"encoding/json"
	"fmt"
	"slices"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// ownRefused answers whoever asked for a batch, changed it or weighed it in, and approves it:
// what the dose comes to, who may approve, and how from afar.
func (t *turn) ownRefused(b store.Batch) error {
	l := t.theirs
	who, err := t.mayApprove(b)
	if err != nil {
		return err
	}
	card := Card{Kind: NoteCard, Batch: b.Number,
		Title: l.say("%s asked for batch %d and can't approve it: a second person does.", t.person.Name, b.Number),
		Next:  ownNext(l, t.m.Via) + " " + l.say("No cure goes in before that; keep the meat cold.")}
	if sum := sumOfCard(l, b); sum != "" {
		card.Lines = append(card.Lines, sum)
	}
	if len(who) == 0 {
		card.Lines = append(card.Lines, l.say("Nobody else here may approve it yet: a chef can name one with  chef @ana  or  second @luis ."))
	} else {
		card.Lines = append(card.Lines, l.say("May approve it: %s.", names(who)))
	}
	card.Lines = append(card.Lines, l.say("From afar: post a photo of the scale and of the weight in this thread; they look at it and type  %s .", approvalWith(l, b)))
	return t.post(card)
}

// ownOfCook refuses an approval of a batch by somebody who may approve none, where it is one
// they asked for; false: it is none of theirs.
func (t *turn) ownOfCook(p grammar.Phrase) (bool, error) {
	n := p.Batch
	if n == 0 && len(t.reading.open) == 1 {
		n = t.reading.open[0]
	}
	if _, ok := p.Command.(grammar.Approve); !ok || n == 0 {
		return false, nil
	}
	b, ok, err := t.tx.Batch(t.kitchen.ID, n)
	if err != nil || !ok || b.State != store.StateAsked {
		return false, err
	}
	if own, err := t.isOwn(b); !own || err != nil {
		return false, err
	}
	return true, t.ownRefused(b)
}

// otherGrams asks back where the grams that an approver typed are not those of the card.
func (t *turn) otherGrams(b store.Batch, typed cure.Gram) error {
	l := t.theirs
	right := grammar.Canonical(grammar.Approve{Grams: cure.Typed(gramsOf(b.Card.CureMg))})
	card := Card{Kind: QuestionCard, Batch: b.Number,
		Title:   l.say("You typed %s, and the dose card says %s: which one was looked at?", grams(typed, 0), weighed(b.Card.CureMg)),
		Choices: []string{right}, Next: l.say("Nothing is approved. If the dose card is right, type  %s .", approvalWith(l, b))}
	if sum := sumOfCard(l, b); sum != "" {
		card.Lines = []string{sum}
	}
	return t.ask(card, []grammar.Choice{{Label: right, Phrase: fmt.Sprintf("batch %d: %s", b.Number, right)}}, "")
}

// approvalWith is what an approver types who goes by the grams of the card.
func approvalWith(l tongue, b store.Batch) string {
	return grammar.CanonicalIn(string(l), grammar.Approve{Grams: cure.Typed(gramsOf(b.Card.CureMg))})
}

// sumOfCard is how the grams of cure come from the weight: "0.25 % × 9,520 g = 23.80 g"; "" on
// a card without cure.
func sumOfCard(l tongue, b store.Batch) string {
	var a Answer
	if err := json.Unmarshal(b.Card.Answer, &a); err != nil || a.BasisG == nil || *a.BasisG <= 0 {
		return ""
	}
	for _, m := range a.Add {
		if m.Item == "cure" {
			return l.say("%s: %s × %s %s = %s", agentOfCard(l, b.Card), percent(cure.Fraction(m.Grams / *a.BasisG), 3), grams(cure.Gram(*a.BasisG), 1), l.say(a.Basis), grams(cure.Gram(m.Grams), 0.01))
		}
	}
	return ""
}

// mayApprove are the people who may approve a batch: chefs, and seconds where a chef asked,
// other than who asked for it, changed it or weighed it in.
func (t *turn) mayApprove(b store.Batch) ([]store.Person, error) {
	events, err := t.tx.Events(t.kitchen.ID, b.Number)
	if err != nil {
		return nil, err
	}
	var hands []string
	for _, e := range events {
		if ofDose(e.Body) {
			p, _, err := t.tx.Person(t.kitchen.ID, e.Person)
			if err != nil {
				return nil, err
			}
			hands = append(hands, p.ID)
		}
	}
	asker, _, err := t.tx.Person(t.kitchen.ID, b.AskedBy)
	if err != nil {
		return nil, err
	}
	all, err := t.tx.People(t.kitchen.ID)
	return slices.DeleteFunc(all, func(p store.Person) bool {
		return slices.Contains(hands, p.ID) || mayBeOne(asker, p) || !p.Has(roleChef) && !(p.Has(roleSecond) && asker.Has(roleChef))
	}), err
}

// ofDose reports whether an event says what goes into a batch, or went in: whoever typed it does
// not approve it.
func ofDose(body store.Body) bool {
	switch body := body.(type) {
	case store.Asked, store.Revised, store.WeightCorrected, store.Weighed, store.Added:
		return true
	case store.Corrected:
		return body.Void
	}
	return false
}
