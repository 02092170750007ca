package bot

import (
	"fmt"
	"slices"
	"strings"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// labelIngredient notes what the label of a lot declares. What a chef reads counts in the place
// of what was read before; anybody else only adds to it.
func (t *turn) labelIngredient(c grammar.LabelIngredient) error {
	l := t.theirs
	of := store.Ingredient{Name: c.Name, Lot: c.Lot}
	body := store.IngredientLabelled{Ingredient: of, Anew: t.person.Has(roleChef)}
	if c.Declared != "" {
		body.Declared = strings.Split(c.Declared, ", ")
	}
	if err := t.append(0, body); err != nil {
		return err
	}
	declared, _, err := t.tx.Declared(t.kitchen.ID, of)
	if err != nil {
		return err
	}
	what := l.say("none declared")
	if len(declared) > 0 {
		what = strings.Join(distinct(declared), ", ")
	}
	return t.note(l.say("%s: %s.", lotWords(l, of), what),
		l.say("Only what stands on the label of this very lot counts. In the thread of a batch that it goes into:  %s", grammar.Canonical(grammar.AddIngredient{Name: c.Name, Lot: c.Lot})))
}

// addIngredient notes that a lot went into a batch.
func (t *turn) addIngredient(b store.Batch, c grammar.AddIngredient) error {
	if b.Ended != 0 {
		return t.notNow(b, grammar.Canonical(c))
	}
	of := store.Ingredient{Name: c.Name, Lot: c.Lot}
	if err := t.append(b.Number, store.IngredientAdded{Ingredient: of}); err != nil {
		return err
	}
	_, known, err := t.tx.Declared(t.kitchen.ID, of)
	if err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		card := noteCard(l.say("Batch %d: with %s.", b.Number, lotWords(l, of)))
		if !known {
			card.Next = l.say("Nobody noted the label of this lot. Read it, and type  ingredient %s lot %s: mustard, celery  or what it declares, or  none declared .", of.Name, of.Lot)
		}
		return card
	})
}

// allergens is what is known of the allergens of a batch. What no label declares is not thereby
// absent: nobody may have noted all that went in.
type allergens struct {
	declared []string // by the lots that were noted, and by a vegetable powder as cure
	lots     []string // that were noted, each with what its label declares
	missing  []string // why it can't be confirmed; empty: each lot noted has its label
}

// allergensOf finds them, from the lots noted on that very batch alone.
func (t *turn) allergensOf(l tongue, b store.Batch) (out allergens, err error) {
	switch b.Card.AgentKind {
	case cure.VegetablePowder.String():
		celery := l.say("celery")
		out.declared = append(out.declared, celery)
		out.lots = append(out.lots, l.say("vegetable powder as cure: %s", celery))
	case cure.HouseCure.String():
		out.missing = append(out.missing, l.say("what the house cure was made of is not known here"))
	}
	if len(b.Ingredients) == 0 {
		out.missing = append(out.missing, l.say("nobody noted what went in beside meat, salt and cure"))
	}
	for _, i := range b.Ingredients {
		declared, known, err := t.tx.Declared(t.kitchen.ID, i)
		switch {
		case err != nil:
			return out, err
		case !known:
			out.missing = append(out.missing, l.say("%s: its label is not noted", lotWords(l, i)))
			continue
		}
		what := l.say("none declared")
		if len(declared) > 0 {
			what = strings.Join(distinct(declared), ", ")
		}
		out.declared = append(out.declared, declared...)
		out.lots = append(out.lots, lotWords(l, i)+": "+what)
	}
	out.declared = distinct(out.declared)
	return out, nil
}

// askAllergens answers what an allergic guest has to know of a batch. It never says that
// something is free of anything.
func (t *turn) askAllergens(b store.Batch) error {
	l := t.theirs
	found, err := t.allergensOf(l, b)
	if err != nil {
		return err
	}
	card := Card{Kind: ListCard, Batch: b.Number, Title: l.say("Batch %d: none declared on the labels of the lots noted.", b.Number)}
	if len(found.declared) > 0 {
		card.Title = l.say("Batch %d CONTAINS: %s.", b.Number, strings.Join(found.declared, ", "))
	}
	card.Lines = append(card.Lines, cutName(l, b.Card.Cut)+", "+stateWords(l, b))
	card.Lines = append(card.Lines, found.lots...)
	if len(found.missing) > 0 {
		card.Kind = HoldCard
		card.Title = strings.TrimSpace(l.say("CAN'T CONFIRM the allergens of batch %d: do not serve it to an allergic guest.", b.Number) + " " + containsWords(l, found))
		card.Lines = append(card.Lines, found.missing...)
	}
	card.Next = l.say("Only what was noted on this batch stands here, no recipe. Did anything else go in (sauce, binder, starter, casing), or is it not sure that this batch is on the board? Then it can't be confirmed: do not serve it to an allergic guest.")
	return t.post(card)
}

// containsWords are what a batch contains for certain; "": nothing is known.
func containsWords(l tongue, found allergens) string {
	if len(found.declared) == 0 {
		return ""
	}
	return l.say("It contains: %s.", strings.Join(found.declared, ", "))
}

// allergensLine is what a label says of them.
func (t *turn) allergensLine(b store.Batch) (string, error) {
	l := t.ours
	found, err := t.allergensOf(l, b)
	all := strings.Join(found.declared, ", ")
	switch {
	case err != nil:
		return "", fmt.Errorf("bot: allergens of batch %d: %w", b.Number, err)
	case len(found.missing) > 0 && all == "":
		return l.say("not confirmed"), nil
	case len(found.missing) > 0:
		return l.say("%s; the rest not confirmed", all), nil
	case all == "":
		return l.say("none declared by the lots noted"), nil
	}
	return all, nil
}

func lotWords(l tongue, i store.Ingredient) string { return l.say("%s, lot %s", i.Name, i.Lot) }

// distinct are texts without those that differ from one before in case alone.
func distinct(texts []string) (out []string) {
	for _, s := range texts {
		if !slices.ContainsFunc(out, func(o string) bool { return strings.EqualFold(o, s) }) {
			out = append(out, s)
		}
	}
	return out
}
