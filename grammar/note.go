package grammar

import (
	"strconv"
	"strings"

	"salthand/cure"
)

// note takes what only a phrase that asks for figures may say. ok is false for what a dose
// says too.
func (r *reading) note(it *item, from, to int) (ok bool, err error) {
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	f := r.fig
	switch {
	case it.Product != "":
		f.product = it.Product
		return true, r.set(productField, at)
	case f.isLog():
		return true, r.reported(it, from, to)
	case f.name == "how long" && isSpell(it):
		if it.Led != nil {
			return true, r.fact(it.Led.Amount, "at", from+1, to)
		}
		return true, r.fact(it.Amount, "", from, to)
	case it.Mark != nil:
		return true, r.markedAmount(it.Mark, from, to)
	case it.Amount != nil:
		return r.portion(it.Amount, "", from, to)
	case it.Led != nil && it.Led.Word == "in" && f.takesCures() && isBareMass(it.Led.Amount):
		if kindAt(r.toks, to) != cutKind { // "in 3 kg": of meat or of water?
			return true, r.stray(at)
		}
		return true, r.pieces(it.Led.Amount, from+1, to)
	case it.Led != nil && it.Led.Amount != nil && it.Led.Word != "brine":
		return r.portion(it.Led.Amount, it.Led.Word, from+1, to)
	case it.Share != nil && it.Share.Word == "nitrite" && f.source: // "from nitrite 99%"
		a, err := r.agentAmount(&agent{Name: pureNitrite, First: it.Share.Number}, at)
		return true, r.addCure(a, err, to)
	case it.Jar != "" && f.takesCures():
		f.source = f.source || f.name == "mix" // a jar is what a mix is made of, "from" or not
		return true, r.addCure(Amount{Jar: it.Jar}, nil, to)
	case it.Agent != nil && it.Agent.Name == noCure && f.name == "check":
		return false, nil
	case it.Agent != nil && f.takesCures():
		a, err := r.agentAmount(it.Agent, at)
		return true, r.addCure(a, err, to)
	case it.Vague == "nitrite" && f.takesCures(), it.Vague == "nitrate" && f.takesCures():
		return true, r.addCure(Amount{Kind: cureKinds[it.Vague]}, nil, to)
	}
	return false, nil
}

// isBareMass reports whether an amount is a mass of nothing that was said.
func isBareMass(a *amount) bool {
	return a != nil && a.Mass != "" && a.MassOf+a.Jar == "" && a.Cure == nil
}

// isSpell reports whether an item is a time or a temperature: "2 days", "at 9 c".
func isSpell(it *item) bool {
	a := it.Amount
	if it.Led != nil && it.Led.Word == "at" {
		a = it.Led.Amount
	}
	return a != nil && a.Span+a.Degree != ""
}

// takesCures reports whether cures are listed in the phrase; else one is said of the dose.
func (f *figure) takesCures() bool {
	switch f.name {
	case "check", "swap", "mix", "rub":
		return true
	}
	return false
}

// cureKinds lead from the name of a cure to its kind.
var cureKinds = map[string]cure.AgentKind{no1: cure.No1, no2: cure.No2, nitritedSalt: cure.NitritedSalt, houseCure: cure.HouseCure,
	saltpetre: cure.Saltpetre, vegetablePowder: cure.VegetablePowder, pureNitrite: cure.PureNitrite, pureNitrate: cure.PureNitrate}

const (
	pureNitrite = "nitrite"
	pureNitrate = "nitrate"
)

// markedAmount folds a mark: "from", "scale 0.01 g", "to 2.5%".
func (r *reading) markedAmount(m *mark, from, to int) error {
	f, at := r.fig, stretch{r.toks[from].start, r.toks[to-1].end}
	switch {
	case m.Word == "from":
		f.source = true
		if m.Amount == nil && m.Number == "" {
			return nil
		}
		if m.Amount != nil {
			ok, err := r.portion(m.Amount, "", from+1, to)
			if ok || err != nil {
				return err
			}
		}
	case m.Amount == nil:
	case m.Word == "scale" && m.Amount.Mass != "" && m.Amount.Cure == nil && m.Amount.MassOf == "":
		return r.weight(&f.division, divisionField, m.Amount, from+1, to)
	case m.Word == "to" && m.Amount.Level != "" && m.Amount.Agent == nil:
		return r.share(&f.want, wantField, m.Amount, at)
	}
	return r.fail("of what", at)
}

// portion folds an amount of a substance that is weighed, spooned or said by its rate. led
// is the word before it.
func (r *reading) portion(a *amount, led string, from, to int) (ok bool, err error) {
	f, at := r.fig, stretch{r.toks[from].start, r.toks[to-1].end}
	if f.per.Set() && from > f.perAt && a.Mass != "" && !isBareMass(a) {
		return true, r.fail("of what", at) // for each measure of water as well?
	}
	switch {
	case a.Volume != "" && a.Liquid == "marinade", a.Mass != "" && a.MassOf == "marinade":
		return true, r.liquid(&f.marinade, marinadeField, a, from, to)
	case a.Level != "" && a.Of == "" && a.Agent == nil:
		return r.bare(a, led, from, at)
	case a.Level != "" && a.Of == "salt" && led == "at" && f.name == "soak":
		return true, r.level(a.Number, a.Level, "salt", false, at)
	case !f.takesCures():
		return false, nil
	case a.Mass != "" && a.MassOf == "salt":
		return true, r.weight(&f.salt, saltMassField, a, from, to)
	case a.Mass != "" && a.MassOf == "sugar":
		return true, r.weight(&f.sugar, sugarMassField, a, from, to)
	case a.Mass != "" && a.MassOf == "erythorbate" && f.name == "check":
		return true, r.weight(&f.ascorbate, ascorbateMassField, a, from, to)
	case a.Mass != "" && a.MassOf == "spice":
		var g cure.Given[cure.Gram]
		if err := r.weight(&g, fields, a, from, to); err != nil {
			return true, err
		}
		f.spice = cure.Typed(cure.Gram(clean(float64(f.spice.Value + g.Value))))
		return true, nil
	case isBareMass(a):
		return false, nil
	case a.Mass != "" && a.MassOf != "water", a.Spoon != "", a.Level != "" && a.Agent != nil, a.Level == "g/kg" && isIon(a.Of):
		c, err := r.quantity(a, from, to)
		return true, r.addCure(c, err, to)
	}
	return false, nil
}

func isIon(of string) bool { return of == pureNitrite || of == pureNitrate }

// bare folds a level of nothing: the strength or the rate of the cure that was just named,
// else what such a level is of in this phrase.
func (r *reading) bare(a *amount, led string, from int, at stretch) (ok bool, err error) {
	f := r.fig
	switch {
	case a.Level == "ppm":
		return false, nil
	case f.named == from && f.name != "rub" && led == "":
		var v cure.Given[cure.Fraction]
		if err := r.share(&v, fields, a, at); err != nil {
			return true, err
		}
		c := f.last()
		switch {
		case a.Level != "%" && !c.Grams.Set() && !c.Spoons.Set() && !c.Rate.Set():
			c.Rate = v
		case a.Level == "%" && c.Kind == cure.PureNitrite && !c.Nitrite.Set():
			c.Nitrite = v
		default:
			return true, r.fail("of what", at)
		}
		return true, nil
	case f.name == "rub", f.name == "mix" && led == "at":
		return true, r.share(&f.rate, rateField, a, at)
	case f.name == "mix":
		return true, r.share(&f.strength, strengthField, a, at)
	case f.name == "soak":
		return true, r.level(a.Number, a.Level, "salt", false, at)
	}
	return false, nil
}

// last is the cure that was named last.
func (f *figure) last() *Amount {
	if f.source {
		return &f.from
	}
	return &f.amounts[len(f.amounts)-1]
}

// addCure adds a cure that was named in toks[..to].
func (r *reading) addCure(a Amount, err error, to int) error {
	f := r.fig
	r.cured = true
	if err != nil {
		return err
	}
	f.named = to
	if !f.source {
		f.amounts = append(f.amounts, a)
		return nil
	}
	if f.from != (Amount{}) {
		return r.fail("twice", stretch{r.toks[to-1].start, r.toks[to-1].end})
	}
	f.from = a
	return nil
}

// quantity reads an amount of a cure.
func (r *reading) quantity(a *amount, from, to int) (Amount, error) {
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	of, named, out := a.MassOf+a.SpoonOf, a.Cure, Amount{Jar: a.Jar}
	switch {
	case a.Level != "":
		of, named = "", a.Agent
		if a.Agent == nil {
			of = a.Of
		}
	case a.Spoon != "":
		named = a.Spooned
	}
	switch {
	case named != nil:
		c, err := r.agentAmount(named, at)
		if err != nil {
			return out, err
		}
		out = c
	case isIon(of):
		out.Kind = cureKinds[of]
	case of != "" && !isName(of):
		return out, r.vague(of, at)
	case a.Jar == "":
		return out, r.ask("spoon", at)
	}
	var err error
	switch {
	case a.Mass != "":
		err = r.weight(&out.Grams, fields, a, from, to)
	case a.Level == "ppm":
		err = r.ask("ppm", at)
	case a.Level != "":
		err = r.share(&out.Rate, fields, a, at)
	case a.Spoons != nil, a.Spoon != teaspoon && a.Spoon != tablespoon || r.fig.name != "check":
		err = r.ask("spoon", at)
	default:
		var n number
		n, err = r.number(a.Number, at)
		if v := n.times(1); err == nil && v > 1000 {
			err = r.fail("too big", at)
		}
		out.Spoons = cure.Typed(Spoons{n.times(1), a.Spoon})
	}
	return out, err
}

// agentAmount is a cure with the strength that was said.
func (r *reading) agentAmount(a *agent, at stretch) (Amount, error) {
	out := Amount{Kind: cureKinds[a.Name]}
	if out.Kind == cure.NoAgent {
		return out, r.fail("unit", at) // "12 g no cure"
	}
	for i, s := range []struct{ number, of string }{{a.First, a.FirstOf}, {a.Second, a.SecondOf}} {
		if s.number == "" {
			continue
		}
		n, err := r.number(s.number, at)
		if err != nil {
			return out, err
		}
		share := cure.Typed(cure.Fraction(n.times(0.01)))
		if share.Value > 1 {
			return out, r.fail("too big", at)
		}
		if s.of == pureNitrate || s.of == "" && i == 1 {
			out.Nitrate = share
		} else {
			out.Nitrite = share
		}
	}
	if a.Rate != "" {
		if err := r.share(&out.Rate, fields, &amount{Number: a.Rate, Level: a.Level}, at); err != nil {
			return out, err
		}
	}
	if doubtful(out.Kind, out.Nitrite, out.Nitrate) {
		q := r.ask("strength", at)
		if usual := strengths[out.Kind].usual; usual != "" && a.Second == "" {
			q.Choices = []Choice{{usual, r.replaced(r.within(at, numberKind), strings.TrimSuffix(usual, "%"))}}
		}
		return out, q
	}
	return out, nil
}

// weight folds a mass that is of something: "80 g salt". f is fields where it may be said
// several times.
func (r *reading) weight(into *cure.Given[cure.Gram], f field, a *amount, from, to int) error {
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	count, number, end := 1, a.Number, from+2
	if a.Third != "" {
		return r.fail("not a number", at)
	}
	if err := r.exact(part{Number: a.Number, Each: a.Each, Small: a.Small}, at); err != nil {
		return err
	}
	if a.Each != "" { // "2 x 8 g"
		n, err := strconv.Atoi(a.Number)
		if err != nil || n < 1 || n > 200 {
			return r.fail("not a number", at)
		}
		count, number, from, end = n, a.Each, from+2, end+2
	}
	if len(a.More) > 0 {
		return r.fail("not a number", at)
	}
	if a.Small != "" {
		end += 2
	}
	g, err := r.mass(part{number, "", a.Mass, a.Small, a.Ounces}, from, end)
	if err != nil {
		return err
	}
	*into = cure.Typed(cure.Gram(clean(float64(g) * float64(count))))
	if f == fields {
		return nil
	}
	return r.set(f, at)
}

// share folds a level of something, as a fraction below 1.
func (r *reading) share(into *cure.Given[cure.Fraction], f field, a *amount, at stretch) error {
	n, err := r.number(a.Number, at)
	if err != nil {
		return err
	}
	v := cure.Fraction(n.times(shareOf(a.Level)))
	if v > 1 {
		return r.fail("too big", at)
	}
	*into = cure.Typed(v)
	if f == fields {
		return nil
	}
	return r.set(f, at)
}
