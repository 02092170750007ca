package grammar

import (
	"strings"

	"salthand/cure"
)

// pers are the words between an amount and what it is for.
var pers = setOf("per", "por", "par")

// over reads "per" and "/" where an amount and what it is for stand around it.
func (s *scan) over(i int) int {
	p, k := s.pieces[i], len(s.toks)-1
	if p.text != "/" && !pers[p.word] || p.line || k < 1 {
		return 0
	}
	switch s.toks[k].kind {
	case massKind, agentKind, vagueKind, stuffKind, ionKind, percentKind, nameKind:
	default:
		return 0
	}
	next := s.at(i + 1)
	if e, _ := unitWords.find(s.pieces[i+1:], false, &s.compared); next.line || next.kind != numberRaw && (e == nil || e.kind != massKind && e.kind != volumeKind) {
		return 0
	}
	return s.emit(entry{perKind, "per"}, i, 1)
}

// rated turns an amount of something for each weight, "1 oz per 25 lb", into a level, and
// takes "3 oz per gal" to the pickle that a check is about.
func (r *reading) rated(a *amount, from, to int) (*amount, error) {
	if a == nil || a.Over == nil && a.Under == nil {
		return a, nil
	}
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	o := a.Over
	if o == nil {
		o = a.Under
	}
	if a.Over != nil && a.Under != nil || a.Each+a.Small != "" || len(a.More) > 0 {
		return nil, r.fail("of what", at)
	}
	one := number{digits: "1"}
	if o.Number != "" {
		var err error
		if one, err = r.number(o.Number, at); err != nil {
			return nil, err
		}
		if one.other != "" {
			return nil, r.fail("not a number", at)
		}
	}
	out := *a
	out.Over, out.Under = nil, nil
	for _, unit := range []string{a.Mass, o.Mass} {
		if _, known := factors[unit]; !known && unit != "" {
			return nil, r.unclear(unit, at)
		}
	}
	switch {
	case o.Volume != "" && r.fig != nil && r.fig.name == "brine":
		return r.inBrine(a, one, o.Volume, from, to)
	case o.Volume != "":
		return &out, r.perVolume(one, o.Volume, from, to, at)
	case o.Mass == "":
		end := r.typedIn(o.Number, at)
		q := r.ask("per what", stretch{at.start, end.end})
		for _, unit := range []string{"lb", "kg"} {
			q.Choices = append(q.Choices, Choice{"per " + o.Number + " " + unit, r.replaced(end, o.Number+" "+unit)})
		}
		return nil, q
	}
	out.Level = a.Mass + "/" + plainNumber(one.times(factors[o.Mass])) + " g"
	out.Of, out.Agent, out.Mass, out.MassOf, out.Cure = a.MassOf, a.Cure, "", "", nil
	if a.Jar != "" {
		return nil, r.fail("unit", at)
	}
	return &out, nil
}

// inBrine turns "1 lb per us gal" into grams in a litre.
func (r *reading) inBrine(a *amount, one number, unit string, from, to int) (*amount, error) {
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	f, ok := factors[unit]
	switch {
	case !ok:
		return nil, r.ask(unit, r.place(volumeKind, from, to))
	case a.MassOf != "" && a.MassOf != "salt" || a.Cure != nil || a.Jar != "":
		return nil, r.fail("of what", at)
	}
	n, err := r.number(a.Number, at)
	if err != nil {
		return nil, err
	}
	return &amount{Number: plainNumber(clean(1000 * n.times(factors[a.Mass]) / one.times(f))), Salty: "g/l"}, nil
}

// typedIn is where a number stands in at, the last time it does.
func (r *reading) typedIn(typed string, at stretch) stretch {
	out := at
	for _, t := range r.toks {
		if t.kind == numberKind && t.value == typed && t.start >= at.start && t.end <= at.end {
			out = stretch{t.start, t.end}
		}
	}
	return out
}

// perVolume notes the measure of water or pickle that the amounts of a check are for.
func (r *reading) perVolume(n number, unit string, from, to int, at stretch) error {
	if r.fig == nil || r.fig.name != "check" {
		e := r.fail("per volume", at)
		e.Example = "check 3 oz no 1 per us gal, inject 10%"
		return e
	}
	f, ok := factors[unit]
	if !ok {
		return r.ask(unit, r.place(volumeKind, from, to))
	}
	g := cure.Typed(cure.Gram(n.times(f)))
	if r.fig.per.Set() && r.fig.per != g {
		return r.fail("twice", at)
	}
	r.fig.per, r.fig.perAt = g, from
	return nil
}

// levelOf is what one of a unit of level comes to, in milligrams per kilogram and as a
// fraction: "%", "g/kg", or "oz/11339.8 g" for ounces in 25 lb.
func levelOf(unit string) (ppm, share float64) {
	if l, ok := levels[unit]; ok {
		return l.ppm, l.share
	}
	mass, in, _ := strings.Cut(unit, "/")
	n, _ := readNumber(strings.TrimSuffix(in, " g"))
	share = clean(factors[mass] / n.times(1))
	return clean(share * 1e6), share
}

// shareOf is what one of a unit of level is, as a fraction.
func shareOf(unit string) float64 {
	_, s := levelOf(unit)
	return s
}

// rates turns the amount of an item that is for each weight into a level, see rated.
func (r *reading) rates(it *item, from, to int) (err error) {
	switch {
	case it.Amount != nil:
		it.Amount, err = r.rated(it.Amount, from, to)
	case it.Led != nil && it.Led.Amount != nil:
		it.Led.Amount, err = r.rated(it.Led.Amount, from+1, to)
	case it.Mark != nil && it.Mark.Amount != nil:
		it.Mark.Amount, err = r.rated(it.Mark.Amount, from+1, to)
	}
	return err
}

// perLitre multiplies what goes into each measure of water by the water, in a check: all of
// its amounts are for that measure. Without an amount of water the measure itself is it.
func (r *reading) perLitre() bool {
	f, d := r.fig, &r.draft
	if !f.per.Set() {
		return true
	}
	if !d.Water.Set() {
		if d.Method.Value != cure.Injection && d.Method.Value != cure.InjectionCover {
			r.lacks("water", f.verb)
			return false
		}
		d.Water = f.per
		return true
	}
	times := func(g *cure.Given[cure.Gram]) {
		if g.Set() {
			g.Value = cure.Gram(clean(float64(g.Value) * float64(d.Water.Value) / float64(f.per.Value)))
		}
	}
	for i := range f.amounts {
		if !f.amounts[i].Grams.Set() {
			r.lacks("amount", f.verb)
			return false
		}
		times(&f.amounts[i].Grams)
	}
	times(&f.salt)
	times(&f.sugar)
	times(&f.ascorbate)
	return true
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
