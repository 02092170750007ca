package grammar

import (
	"slices"
	"strconv"

	"salthand/cure"
)

// amount folds a number with its unit. after is "at" where that word leads it.
func (r *reading) amount(a *amount, after string, from, to int) error {
	d := &r.draft
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	if a.Third != "" && a.Mass != "" {
		return r.crates(a, at)
	}
	if a.Third != "" && a.Length != "" {
		return r.block(a, at)
	}
	if a.Each != "" && a.Mass == "" || a.Third != "" {
		return r.fail("not a number", at)
	}
	switch {
	case a.Mass != "" && a.MassOf == "water":
		return r.liquid(&d.Water, waterField, a, from, to)
	case a.Mass == "t", a.Mass == livre:
		r.weighed = true
		return r.unclear(a.Mass, at)
	case a.Mass != "" && (a.MassOf != "" || a.Cure != nil):
		if code := saltCodes[a.MassOf]; code != "" {
			return r.fail(code, at)
		}
		return r.fail("amount", at)
	case a.Mass != "" && a.Jar != "":
		d.Jar = a.Jar
		if err := r.set(jarField, r.place(nameKind, from, to)); err != nil {
			return err
		}
		return r.pieces(a, from, to-2)
	case a.Mass != "":
		return r.pieces(a, from, to)
	case a.Salty != "":
		return r.fail("unit", at)
	case a.Level != "" && a.Agent != nil:
		return r.rate(a, at)
	case a.Level != "" && a.Level != "ppm" && cureNames[a.Of] == saltpetre:
		return r.rate(&amount{Number: a.Number, Level: a.Level, Agent: &agent{Name: saltpetre}}, at)
	case a.Level == "g/kg" && a.Of == "" && r.namedBefore(from) == saltpetre: // "saltpetre 2 g/kg"
		return r.rate(&amount{Number: a.Number, Level: a.Level, Agent: &agent{Name: saltpetre}}, at)
	case a.Level != "" && a.Level != "%" && a.Level != "ppm" && a.Of == "" && r.agentBefore(from) && !r.draft.has(targetField):
		return r.rateOf(a, at) // "no 1, 2.5 g/kg"
	case a.Level != "":
		if !isName(a.Of) {
			return r.vague(a.Of, at)
		}
		return r.level(a.Number, a.Level, a.Of, a.OnTop, at)
	case a.Volume != "":
		return r.liquid(&d.Water, waterField, a, from, to)
	case a.Span != "":
		t, err := r.span(a.Number, a.Span, at)
		if err != nil {
			return err
		}
		d.Days = cure.Typed(t)
		return r.set(daysField, at)
	case a.Length != "":
		return r.thick(a, at)
	case a.Degree != "":
		if after != "at" && to < len(r.toks) && isSalt(r.toks[to].kind) {
			return r.ask("spoon", at) // "2 c no 1": cups?
		}
		t, err := r.degrees(a.Number, a.Degree, at)
		if err != nil {
			return err
		}
		d.Temperature = cure.Typed(t)
		return r.set(heatField, at)
	}
	return r.ask("spoon", at)
}

// thick folds a thickness, or one for each of the pieces.
func (r *reading) thick(a *amount, at stretch) error {
	var all []cure.Millimetre
	for _, one := range append([]depth{{a.Number, a.Length}}, a.Longer...) {
		mm, err := r.length(one.Number, one.Length, at)
		if err != nil {
			return err
		}
		all = append(all, mm)
	}
	if err := r.set(thickField, at); err != nil {
		return err
	}
	if len(all) > 1 {
		r.draft.Thicknesses = all
	} else {
		r.draft.Thickness = cure.Typed(all[0])
	}
	return nil
}

// block folds the three sides of a piece cut square: the least is its thickness.
func (r *reading) block(a *amount, at stretch) error {
	if len(a.Longer) > 0 {
		return r.fail("not a number", at)
	}
	var sides []cure.Millimetre
	for _, typed := range []string{a.Number, a.Each, a.Third} {
		mm, err := r.length(typed, a.Length, at)
		if err != nil {
			return err
		}
		sides = append(sides, mm)
	}
	if err := r.set(thickField, at); err != nil {
		return err
	}
	slices.Sort(sides)
	r.draft.Thickness, r.draft.Sides = cure.Typed(sides[0]), [2]cure.Millimetre{sides[2], sides[1]}
	return nil
}

// pieces folds the weight of the meat.
func (r *reading) pieces(a *amount, from, to int) error {
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	r.weighed = true // even if doubtful
	var out []cure.Gram
	parts := append([]part{{a.Number, a.Each, a.Mass, a.Small, a.Ounces}}, a.More...)
	for _, p := range parts {
		count := 1
		if err := r.exact(p, at); err != nil {
			return err
		}
		if p.Each != "" {
			n, err := strconv.Atoi(p.Number)
			if err != nil || n < 1 || n > 200 {
				return r.fail("not a number", at)
			}
			count, p.Number = n, p.Each
		}
		end := from + 1
		for end < to && r.toks[end].kind != plusKind {
			end++
		}
		g, err := r.mass(p, from, end)
		if err != nil {
			return err
		}
		for range count {
			out = append(out, g)
		}
		from = end + 1
	}
	if len(out) > 200 {
		return r.fail("too big", at)
	}
	if err := r.set(weightField, at); err != nil {
		return err
	}
	r.draft.Pieces = out
	return nil
}
