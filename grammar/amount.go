package grammar

import (
	"slices"
	"strconv"
	"strings"

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

// length reads a length of at most a metre.
func (r *reading) length(typed, unit string, at stretch) (cure.Millimetre, error) {
	n, err := r.number(typed, at)
	if err != nil {
		return 0, err
	}
	mm := n.times(factors[unit])
	if mm > 1000 {
		return 0, r.fail("too big", at)
	}
	return cure.Millimetre(mm), nil
}

// namedBefore is the cure that cureNames has for the token before toks[from]; "" if none.
func (r *reading) namedBefore(from int) string {
	if kindAt(r.toks, from-1) != vagueKind {
		return ""
	}
	return cureNames[r.toks[from-1].value]
}

// isName reports whether of is a substance that a level can be of; else it is a vague name.
func isName(of string) bool {
	switch of {
	case "", "salt", "sugar", "erythorbate", "nitrite", "nitrate", "inject", "water":
		return true
	}
	return false
}

// rate folds "0.25% no 1".
func (r *reading) rate(a *amount, at stretch) error {
	d := &r.draft
	if a.Level == "ppm" {
		return r.ask("ppm", at)
	}
	n, err := r.number(a.Number, at)
	if err != nil {
		return err
	}
	share := cure.Fraction(n.times(shareOf(a.Level)))
	if share >= 1 {
		return r.fail("too big", at)
	}
	if d.Kind == cure.NoCure || a.Agent.Name == noCure {
		return r.fail("unit", at)
	}
	if err := r.agent(a.Agent, at); err != nil {
		return err
	}
	d.Rate = cure.Typed(share)
	return r.set(targetField, at)
}

// rateOf folds the rate of the cure that was named before it.
func (r *reading) rateOf(a *amount, at stretch) error {
	n, err := r.number(a.Number, at)
	if err != nil {
		return err
	}
	share := cure.Fraction(n.times(shareOf(a.Level)))
	switch {
	case share >= 1:
		return r.fail("too big", at)
	case r.draft.Kind == cure.NoCure:
		return r.fail("unit", at)
	}
	r.draft.Rate = cure.Typed(share)
	return r.set(targetField, at)
}

// agentBefore reports whether the name of a cure stands right before toks[from], with a comma
// or without.
func (r *reading) agentBefore(from int) bool {
	if kindAt(r.toks, from-1) == sepKind {
		from--
	}
	return kindAt(r.toks, from-1) == agentKind
}

const maxMass = 10_000_000 // g; beyond any kitchen

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

// mass reads "3 lb 5 oz", which stands in toks[from:to].
func (r *reading) mass(p part, from, to int) (cure.Gram, error) {
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	if _, known := factors[p.Mass]; !known {
		return 0, r.unclear(p.Mass, at)
	}
	n, err := r.number(p.Number, at)
	if err != nil {
		return 0, err
	}
	if err := r.thousands(n, p.Number, p.Mass, from, to); err != nil {
		return 0, err
	}
	g := n.times(factors[p.Mass])
	if p.Small != "" {
		small, err := r.number(p.Small, at)
		if err != nil {
			return 0, err
		}
		switch p.Ounces {
		case bareGrams:
			return 0, r.ask("grams", at)
		case "t", hashDoubt:
			return 0, r.ask("t", at)
		}
		if p.Ounces == p.Mass {
			if q := r.fromTo(p, from, to); q != nil {
				return 0, q
			}
		}
		if strings.ContainsAny(p.Small, ",") && r.toks[to-1].start == r.toks[to-1].end {
			return 0, r.fail("not a number", at)
		}
		if !(p.Mass == "lb" && p.Ounces == "oz" || p.Mass == "kg" && p.Ounces == "g") {
			e := r.fail("twice", at)
			e.Other = p.Number + " " + p.Mass
			return 0, e
		}
		if p.Mass == "lb" && small.times(1) >= 16 || p.Mass == "kg" && small.times(1) >= 1000 {
			return 0, r.fail("too big", at)
		}
		g = clean(g + small.times(factors[p.Ounces]))
	}
	if g > maxMass {
		return 0, r.fail("too big", at)
	}
	return cure.Gram(g), nil
}

// volume reads "1 us gal" as grams of water.
func (r *reading) volume(a *amount, from, to int) (cure.Gram, error) {
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	n, err := r.number(a.Number, at)
	if err != nil {
		return 0, err
	}
	if err := r.thousands(n, a.Number, a.Volume, from, to); err != nil {
		return 0, err
	}
	f, ok := factors[a.Volume]
	if !ok {
		return 0, r.ask(a.Volume, r.place(volumeKind, from, to))
	}
	g := n.times(f)
	if g > maxMass {
		return 0, r.fail("too big", at)
	}
	return cure.Gram(g), nil
}

// degrees reads a temperature, which may be below zero.
func (r *reading) degrees(typed, unit string, at stretch) (cure.Celsius, error) {
	if strings.Contains(typed, ranged) {
		return 0, r.lowOrHigh(typed, at)
	}
	if unit == bareDegree {
		where, _ := r.typed(typed, at)
		return 0, r.ask(bareDegree, stretch{where.start, r.within(at, degreeKind).end})
	}
	typed = strings.TrimPrefix(typed, hedged)
	digits := strings.TrimLeft(typed, "-−")
	n, ok := readNumber(digits)
	if !ok {
		return 0, r.fail("not a number", at)
	}
	t := n.times(1)
	if digits != typed {
		t = -t
	}
	if unit == "f" {
		t = (t - 32) * 5 / 9
	}
	if t < -60 || t > 300 {
		return 0, r.fail("too big", at)
	}
	return cure.Celsius(t), nil
}

// number reads a number above zero.
func (r *reading) number(typed string, at stretch) (number, error) {
	if strings.Contains(typed, ranged) {
		return number{}, r.lowOrHigh(typed, at)
	}
	typed = strings.TrimPrefix(typed, hedged)
	digits := strings.TrimLeft(typed, "-−")
	if digits != typed {
		return number{}, r.fail("negative", at)
	}
	n, ok := readNumber(digits)
	if !ok {
		return n, r.fail("not a number", at)
	}
	switch v := n.times(1); {
	case v == 0:
		return n, r.fail("zero", at)
	case v > 1e9:
		return n, r.fail("too big", at)
	}
	return n, nil
}

// thousands asks which of two numbers "1.250" is, unless one is beyond any kitchen.
func (r *reading) thousands(n number, typed, unit string, from, to int) error {
	if n.other == "" {
		return nil
	}
	if f, ok := factors[unit]; ok && (number{digits: n.other}).times(f) > maxMass {
		return nil
	}
	at := r.place(numberKind, from, to)
	for i := from; i < to; i++ {
		if r.toks[i].kind == numberKind && r.toks[i].value == typed {
			at = stretch{r.toks[i].start, r.toks[i].end}
			break
		}
	}
	small := strings.TrimRight(n.digits, "0")
	small = strings.TrimSuffix(small, ".")
	if i := strings.IndexByte(small, '.'); i >= 0 && len(small)-i-1 == 3 {
		small += "0" // four digits after the mark have one reading only
	}
	q := r.ask("thousands", at)
	for _, v := range []string{small, n.other} {
		q.Choices = append(q.Choices, Choice{v + " " + unit, r.replaced(at, v)})
	}
	return q
}

// ounces asks whether ounces of water are of volume or of weight.
func (r *reading) ounces(from, to int) error {
	return r.ask("oz", r.place(massKind, from, to))
}
