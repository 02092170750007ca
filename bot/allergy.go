package bot

import (
	"slices"
	"strings"

	"salthand/grammar"
	"salthand/store"
)

// mostServed is how many finished batches are looked through for those on the board, and
// boardShown how many of one product an answer shows.
const (
	mostServed = 200
	boardShown = 5
)

// allergyAsked answers an allergic guest from the records: for the batch of the thread and for
// each product named, from the labels of the lots of the batches of it that are served. It never
// says that something is free of anything.
func (t *turn) allergyAsked(l tongue, f *figured) error {
	asked, products := grammar.AllergensIn(t.reading.text), grammar.ProductsIn(t.reading.text)
	thread := t.reading.open
	if n := t.reading.phrase.Batch; n != 0 {
		thread = []uint64{n}
	}
	contains, before := false, len(f.card.Facts)
	for _, n := range thread {
		b, ok, err := t.tx.Batch(t.kitchen.ID, n)
		if err != nil {
			return err
		}
		if !ok {
			continue
		}
		one := len(products) == 1 // "is the salami ok?" in the thread of one is about that one
		products = slices.DeleteFunc(products, func(p string) bool { return one || isProduct(b, p) })
		lines, has, err := t.allergyLines(l, b, asked)
		if err != nil {
			return err
		}
		contains = contains || has
		f.card.Facts = append(f.card.Facts, Fact{Label: l.say("batch %d", b.Number), Lines: lines})
	}
	if len(products) > 0 {
		served, err := t.onBoard()
		if err != nil {
			return err
		}
		for _, p := range products {
			fact, has, err := t.productAllergy(l, p, served, asked)
			if err != nil {
				return err
			}
			contains = contains || has
			f.card.Facts = append(f.card.Facts, fact)
		}
	}
	if len(f.card.Facts) == before {
		return nil // the general answer stands
	}
	f.card.Title = l.say("HOLD: don't serve it to this guest where it can't be confirmed below.")
	if contains {
		f.card.Title = l.say("HOLD: don't serve it to this guest where it CONTAINS, or can't be confirmed, below.")
	}
	f.card.Lines = []string{l.say("Only the labels of the lots noted on each batch stand here, no recipe. Sauce, binder, starter and casing count too: what nobody noted is not known.")}
	return nil
}

// onBoard are the batches that may be on the board: those something was served of, those that
// are chilled, and the last that were finished, newest first.
func (t *turn) onBoard() (served []store.Batch, err error) {
	err = t.eachOpen(func(b store.Batch) error {
		if len(b.Served) > 0 || b.State == store.StateChilled {
			served = append(served, b)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	finished, _, err := t.tx.Batches(t.kitchen.ID, store.Query{State: store.StateFinished, Limit: mostServed})
	served = append(served, finished...)
	slices.SortStableFunc(served, func(a, b store.Batch) int { return int(b.Number) - int(a.Number) })
	return served, err
}

// isProduct tells whether a batch can be of a product: by the name of its recipe, or else by its
// cut.
func isProduct(b store.Batch, product string) bool {
	if named := grammar.ProductsIn(b.Card.Recipe); len(named) > 0 {
		return slices.Contains(named, product)
	}
	return b.Card.Cut == product || cutOf[product] == b.Card.Cut
}

// productAllergy is what is known of a product, batch by batch.
func (t *turn) productAllergy(l tongue, product string, served []store.Batch, asked []string) (f Fact, contains bool, err error) {
	f.Label = cutName(l, product)
	var of []store.Batch
	for _, b := range served {
		if isProduct(b, product) {
			of = append(of, b)
		}
	}
	switch {
	case len(of) == 0:
		f.Lines = []string{l.say("can't confirm, do not serve: no batch of it is noted as served, chilled or finished")}
	case len(of) > 1:
		f.Lines = []string{l.say("can't confirm, do not serve: %d batches of it may be on the board, and which is not noted", len(of))}
	case len(of[0].Served) == 0:
		f.Lines = []string{l.say("can't confirm, do not serve: nobody noted that batch %d is what is on the board", of[0].Number)}
	}
	for i, b := range of {
		if i == boardShown {
			f.Lines = append(f.Lines, l.say("and %d more", len(of)-boardShown))
			break
		}
		lines, has, err := t.allergyLines(l, b, asked)
		if err != nil {
			return f, false, err
		}
		contains = contains || has
		for _, line := range lines {
			f.Lines = append(f.Lines, l.say("batch %d: %s", b.Number, line))
		}
	}
	return f, contains, nil
}

// allergyLines are what is known of the allergens asked about in a batch; contains is whether
// one of them is in it.
func (t *turn) allergyLines(l tongue, b store.Batch, asked []string) (lines []string, contains bool, err error) {
	found, err := t.allergensOf(l, b)
	if err != nil {
		return nil, false, err
	}
	lines = append(lines, cutName(l, b.Card.Cut)+", "+stateWords(l, b))
	if n := len(b.Served); n > 0 {
		lines[0] += ", " + l.say("served last %s", moment(l, timeOf(b.Served[n-1].At), t.zone))
	}
	for _, h := range b.Holds {
		lines = append(lines, t.holdLine(l, h))
	}
	declared := grammar.AllergensIn(strings.Join(found.declared, ", "))
	for _, a := range asked {
		switch {
		case slices.Contains(declared, a):
			contains = true
			lines = append(lines, l.say("CONTAINS %s: do not serve", l.say(a)))
		case len(found.missing) > 0:
			lines = append(lines, l.say("%s: can't confirm, do not serve", l.say(a)))
		default:
			lines = append(lines, l.say("%s: on none of the labels noted; that all that went in is noted, a chef confirms", l.say(a)))
		}
	}
	switch {
	case len(asked) == 0 && len(found.declared) > 0:
		lines = append(lines, l.say("CONTAINS %s: do not serve", strings.Join(found.declared, ", ")))
		contains = true
	case len(asked) == 0:
		lines = append(lines, l.say("can't confirm, do not serve"))
	}
	return append(append(lines, found.lots...), found.missing...), contains, nil
}

// The allergens, as grammar names them: said by those names.
var _ = []string{msg("mustard"), msg("gluten"), msg("soy"), msg("milk"), msg("egg"), msg("fish"), msg("nuts"), msg("peanut"), msg("sesame"), msg("sulphites"), msg("lupin"),
	msg("crustaceans"), msg("molluscs")}
