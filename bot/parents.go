package bot

import (
	"slices"

	"salthand/cure"
	"salthand/store"
)

// fillingsOf are the fillings that a jar or a lot names, and every house cure that was made
// here of one of them, however many steps later.
func (t *turn) fillingsOf(kind, name string) (all []store.FillingOf, err error) {
	if kind == "lot" {
		all, err = t.tx.FillingsOfLot(t.kitchen.ID, name)
	} else {
		var jar store.Jar
		jar, _, err = t.tx.Jar(t.kitchen.ID, name)
		for _, f := range jar.Fillings {
			all = append(all, store.FillingOf{Jar: jar.Name, Number: f.Number})
		}
	}
	for i := 0; err == nil && i < len(all); i++ {
		var made []store.FillingOf
		made, err = t.tx.MadeFrom(t.kitchen.ID, all[i])
		for _, of := range made {
			if !slices.Contains(all, of) {
				all = append(all, of)
			}
		}
	}
	return all, err
}

// ofCure are the batches that a jar or a lot of curing salt went into, or a house cure made of
// it: by number.
func (t *turn) ofCure(kind, name string) (all []store.Batch, err error) {
	fillings, err := t.fillingsOf(kind, name)
	if err != nil {
		return nil, err
	}
	queries := []store.Query{{Lot: name}}
	if kind == "jar" {
		queries = nil
	}
	for _, of := range fillings {
		queries = append(queries, store.Query{Jar: of.Jar, Filling: of.Number})
	}
	for _, q := range queries {
		page, err := t.all(q)
		if err != nil {
			return nil, err
		}
		all = append(all, page...)
	}
	slices.SortFunc(all, func(a, b store.Batch) int { return int(a.Number) - int(b.Number) })
	return slices.CompactFunc(all, func(a, b store.Batch) bool { return a.Number == b.Number }), nil
}

// houseCuresOf are the lines of the house cures that were made here of a jar or a lot.
func (t *turn) houseCuresOf(l tongue, kind, name string) (lines []string, err error) {
	fillings, err := t.fillingsOf(kind, name)
	if err != nil {
		return nil, err
	}
	for _, of := range fillings {
		f, _, err := t.tx.JarFilling(t.kitchen.ID, of)
		if err != nil {
			return nil, err
		}
		if len(f.Parts) > 0 {
			lines = append(lines, l.say("jar %s, filling %d: %s", of.Jar, of.Number, labelWords(l, f.Label)))
		}
	}
	return lines, nil
}

// partLines are what a house cure was made of, with the lots, down to the bags.
func (t *turn) partLines(l tongue, f store.Filling, depth int) (lines []string, err error) {
	for _, p := range f.Parts {
		from, _, err := t.tx.JarFilling(t.kitchen.ID, p.FillingOf)
		if err != nil {
			return nil, err
		}
		lines = append(lines, l.say("%s of jar %s, filling %d: %s", weighed(p.Mg), p.Jar, p.Number, labelWords(l, from.Label)))
		if depth < houseCuresDeep {
			deeper, err := t.partLines(l, from, depth+1)
			if err != nil {
				return nil, err
			}
			for _, line := range deeper {
				lines = append(lines, "  "+line)
			}
		}
	}
	if f.SaltMg > 0 {
		lines = append(lines, l.say("%s plain salt", weighed(f.SaltMg)))
	}
	return lines, nil
}

// holdJars holds the jars that a hold of a jar or a lot concerns, with the house cures made of
// it, and gives the names of those held by it.
func (t *turn) holdJars(kind, name, why string) (held []string, err error) {
	fillings, err := t.fillingsOf(kind, name)
	if err != nil {
		return nil, err
	}
	for _, of := range fillings {
		jar, _, err := t.tx.Jar(t.kitchen.ID, of.Jar)
		if err != nil {
			return nil, err
		}
		if f := jar.Current(); f.Number != of.Number || f.State != store.JarInUse {
			continue
		}
		if err := t.append(0, store.JarMarked{Jar: of.Jar, Filling: of.Number, Old: store.JarInUse, New: store.JarHeld, Why: why}); err != nil {
			return nil, err
		}
		held = append(held, of.Jar)
	}
	return held, nil
}

// isUndiluted reports whether a jar holds undiluted nitrite.
func isUndiluted(f store.Filling) bool { return f.Label.AgentKind == jarKinds[cure.PureNitrite] }
