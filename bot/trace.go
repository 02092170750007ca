package bot

import (
	"cmp"
	"slices"
	"strings"

	"salthand/grammar"
	"salthand/store"
)

// traced is what is known of where something went: every batch that it went into, the last
// first, and what the record can't tell.
type traced struct {
	batches []store.Batch
	as      map[uint64][]string // what a lot was in each of them
	made    []string            // house cures that were made of it here
	missing []string            // why a batch of it may not be among them
}

// trace follows a jar, a lot, a recipe or an ingredient to the batches that it went into, in
// whatever state. A lot is looked for among curing salts, meat and ingredients.
func (t *turn) trace(l tongue, c grammar.Recall) (out traced, err error) {
	var cured, meat, mixed []store.Batch
	out.as = map[uint64][]string{}
	ofCure := c.Of == "jar" || c.Of == "lot"
	switch {
	case c.Of == "recipe":
		out.batches, err = t.all(store.Query{Recipe: c.Name, Version: c.Version})
	case ofCure:
		if cured, err = t.ofCure(c.Of, c.Name); err != nil {
			return out, err
		}
		out.made, err = t.houseCuresOf(l, c.Of, c.Name)
	}
	if err == nil && (c.Of == "lot" || c.Of == "meat lot") {
		meat, err = t.ofMeat(c.Name)
	}
	if err == nil && c.Of == "lot" {
		mixed, err = t.ofIngredient("", c.Name)
	}
	if err == nil && c.Of == "ingredient" {
		mixed, err = t.ofIngredient(c.Name, c.Lot)
	}
	if err != nil {
		return out, err
	}
	if c.Of == "lot" {
		for _, b := range cured {
			out.as[b.Number] = append(out.as[b.Number], l.say("curing salt"))
		}
		for _, b := range meat {
			out.as[b.Number] = append(out.as[b.Number], l.say("meat"))
		}
		for _, b := range mixed {
			for _, i := range b.Ingredients {
				if strings.EqualFold(i.Lot, c.Name) {
					out.as[b.Number] = append(out.as[b.Number], i.Name)
				}
			}
		}
	}
	out.batches = slices.Concat(out.batches, cured, meat, mixed)
	slices.SortFunc(out.batches, func(a, b store.Batch) int {
		return cmp.Or(cmp.Compare(b.AskedAt, a.AskedAt), cmp.Compare(b.Number, a.Number))
	})
	out.batches = slices.CompactFunc(out.batches, func(a, b store.Batch) bool { return a.Number == b.Number })
	if len(out.batches) == 0 {
		return out, nil
	}
	first := out.batches[len(out.batches)-1].AskedAt
	in := map[uint64]bool{}
	for _, b := range out.batches {
		in[b.Number] = true
	}
	var noJar, noMeat, noLots []store.Batch
	err = t.eachBatch(store.Query{From: first}, func(b store.Batch) error {
		if b.StartedAt == 0 || in[b.Number] {
			return nil
		}
		jar, lot := cmp.Or(b.Jar, b.Card.Jar), cmp.Or(b.Lot, b.Card.Lot)
		if len(cured) > 0 && b.Card.CureMg > 0 && (jar == "" || c.Of == "lot" && lot == "") {
			noJar = append(noJar, b)
		}
		if len(meat) > 0 && len(b.Meat) == 0 {
			noMeat = append(noMeat, b)
		}
		if len(mixed) > 0 && len(b.Ingredients) == 0 {
			noLots = append(noLots, b)
		}
		return nil
	})
	for _, gap := range []struct {
		of    []store.Batch
		words string
	}{
		{noJar, msg("nobody noted the jar or the lot of the cure, and it may be in them too: batch %s")},
		{noMeat, msg("nobody noted the meat lot, and it may be in them too: batch %s")},
		{noLots, msg("nobody noted any ingredient lot, and it may be in them too: batch %s")},
	} {
		if len(gap.of) > 0 {
			out.missing = append(out.missing, l.say(gap.words, oldestFirst(gap.of)))
		}
	}
	return out, err
}

// ofIngredient are the batches that a lot of an ingredient went into; of "" any ingredient.
func (t *turn) ofIngredient(name, lot string) (all []store.Batch, err error) {
	// A short number is no word that finds: then each batch is looked at.
	err = t.eachBatch(store.Query{Words: store.WordsIn(name + " " + lot)}, func(b store.Batch) error {
		if slices.ContainsFunc(b.Ingredients, func(i store.Ingredient) bool {
			return strings.EqualFold(i.Lot, lot) && (name == "" || strings.EqualFold(i.Name, name))
		}) {
			all = append(all, b)
		}
		return nil
	})
	return all, err
}

// whereabouts are the sums of a trace: what is still here, and what of the rest nobody noted.
// unheld are those that are here and not on hold.
func (t *turn) whereabouts(l tongue, found traced) (f Fact, unheld []store.Batch) {
	var here, unplaced, unserved []store.Batch
	gone, discarded, open := 0, 0, 0
	for _, b := range found.batches {
		if b.Open() {
			open++
		}
		switch {
		case b.Open() && b.StartedAt == 0: // nothing is in the cure yet
		case b.Open():
			here = append(here, b)
			if b.Where == "" {
				unplaced = append(unplaced, b)
			}
			if !b.Held() {
				unheld = append(unheld, b)
			}
		case b.State == store.StateDiscarded:
			discarded++
		case b.State == store.StateFinished && len(b.Served) == 0:
			unserved = append(unserved, b)
		}
		if len(b.Served) > 0 {
			gone++
		}
	}
	f = Fact{Label: l.say("in all"), Lines: []string{l.say("batches: %d, still open: %d", len(found.batches), open)}}
	if len(here) > 0 {
		f.Lines = append(f.Lines, l.say("still here: batch %s", oldestFirst(here)))
	}
	if held := len(here) - len(unheld); held > 0 {
		f.Lines = append(f.Lines, l.say("of these on HOLD: %d", held))
	}
	if gone > 0 {
		f.Lines = append(f.Lines, l.say("served or sold, whole or in part: %d", gone))
	}
	if discarded > 0 {
		f.Lines = append(f.Lines, l.say("discarded: %d", discarded))
	}
	for _, gap := range []struct {
		of    []store.Batch
		words string
	}{
		{unserved, msg("NOT COMPLETE: finished, and nobody noted where it went: batch %s")},
		{unplaced, msg("NOT COMPLETE: still open, and nobody noted where it is: batch %s")},
	} {
		if len(gap.of) > 0 {
			f.Lines = append(f.Lines, l.say(gap.words, oldestFirst(gap.of)))
		}
	}
	for _, why := range found.missing {
		f.Lines = append(f.Lines, l.say("NOT COMPLETE: %s", why))
	}
	return f, unheld
}

// oldestFirst are the numbers of batches of which the last stands first.
func oldestFirst(all []store.Batch) string {
	all = slices.Clone(all)
	slices.Reverse(all)
	return numbered(all)
}

// holdPhrase is what holds batches at once.
func holdPhrase(l tongue, all []store.Batch) string {
	c := grammar.HoldAll{Why: "reason"}
	for _, b := range slices.Backward(all) {
		c.Batches = append(c.Batches, b.Number)
	}
	return grammar.CanonicalIn(string(l), c)
}
