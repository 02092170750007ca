package grammar

import (
	"strings"

	"salthand/cure"
)

// field is one thing that a dose phrase may say once.
type field uint8

const (
	weightField field = iota
	cutField
	methodField
	daysField
	agentField
	nitriteField
	nitrateField
	jarField
	targetField
	saltField
	sugarField
	ascorbateField
	thickField
	skinField
	boneField
	heatedField
	heatField
	waterField
	pumpField
	coverField
	regionField
	recipeField
	countField
	eachField
	// Only where a phrase asks for figures:
	saltMassField
	sugarMassField
	ascorbateMassField
	spiceField
	marinadeField
	productField
	divisionField
	rateField
	strengthField
	wantField
	fields
)

// stretch is a place in the text, in bytes.
type stretch struct{ start, end int }

// draft is a dose phrase under way.
type draft struct {
	Dose
	said  [fields]stretch // where each thing was said; end 0: not yet
	cover bool            // "cover" without an amount
	bone  string          // "bone in", "boneless"
	count int             // of the pieces; 0 for a number that counts nothing
	each  string          // "each" or "total": what the weight is of
}

func (d *draft) has(f field) bool { return d.said[f].end > 0 }

// set notes that f was said at the tokens from..to, or returns the error that it was said before.
func (r *reading) set(f field, at stretch) error {
	if old := r.draft.said[f]; old.end > 0 {
		e := r.fail("twice", at)
		e.Other = r.text[old.start:old.end]
		return e
	}
	r.draft.said[f] = at
	return nil
}

// take folds one item, which stands in toks[from:to], into the draft.
func (r *reading) take(it *item, from, to int) error {
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	d := &r.draft
	if err := r.rates(it, from, to); err != nil {
		return err
	}
	if r.fig != nil {
		if ok, err := r.note(it, from, to); ok || err != nil {
			return err
		}
	}
	switch {
	case it.Amount != nil:
		return r.amount(it.Amount, "", from, to)
	case it.Led != nil:
		return r.led(it.Led, from, to)
	case it.Share != nil:
		return r.level(it.Share.Number, it.Share.Level, it.Share.Word, it.Share.OnTop, at)
	case it.Pump != nil && it.Pump.Number == "":
		return r.method(cure.Injection, at)
	case it.Pump != nil:
		return r.level(it.Pump.Number, it.Pump.Level, it.Pump.Word, false, at)
	case it.Agent != nil:
		return r.agent(it.Agent, at)
	case it.Cut != "":
		d.Cut = it.Cut
		return r.set(cutField, at)
	case it.Method != "":
		return r.method(methodKinds[it.Method], at)
	case it.Flag != "":
		return r.flag(it.Flag, at)
	case it.Jar != "":
		d.Jar = it.Jar
		return r.set(jarField, at)
	case cureNames[it.Vague] == saltpetre && kindAt(r.toks, to) == numberKind && kindAt(r.toks, to+1) == levelKind && r.toks[to+1].value == "g/kg":
		return nil // its rate follows
	case it.Vague != "":
		return r.vague(it.Vague, at)
	case it.Count != nil:
		return r.count(it.Count, at)
	case it.Each != "":
		d.each = it.Each
		return r.set(eachField, at)
	case it.Recipe != "" && r.fig == nil:
		return r.recipe(it.Recipe, at)
	case it.Mark != nil, it.Product != "", it.Recipe != "":
		return r.fail("unknown word", at)
	}
	return r.ask("spoon", at) // it.Spoon
}

// methodKinds lead from the name of a method to it.
var methodKinds = map[string]cure.Method{"dry rub": cure.DryRub, "ground": cure.Ground, "salt box": cure.SaltBox, "confit": cure.Confit}

func (r *reading) method(m cure.Method, at stretch) error {
	if m == cure.Injection && r.draft.Method.Value == cure.InjectionCover {
		return nil
	}
	if err := r.set(methodField, at); err != nil {
		return err
	}
	r.draft.Method = cure.Typed(m)
	return nil
}

func (r *reading) flag(name string, at stretch) error {
	d := &r.draft
	switch name {
	case "skin on", "skin off":
		d.SkinOn = cure.Typed(name == "skin on")
		return r.set(skinField, at)
	case "heated", "not heated":
		d.Heated = cure.Typed(name == "heated")
		return r.set(heatedField, at)
	}
	d.bone = name
	return r.set(boneField, at)
}

var agentKinds = map[string]cure.AgentKind{noCure: cure.NoCure, no1: cure.No1, no2: cure.No2, nitritedSalt: cure.NitritedSalt, houseCure: cure.HouseCure,
	saltpetre: cure.Saltpetre, vegetablePowder: cure.VegetablePowder}

// agent folds "no 2 6.25% + 4%".
func (r *reading) agent(a *agent, at stretch) error {
	d := &r.draft
	if err := r.set(agentField, at); err != nil {
		return err
	}
	d.Kind = agentKinds[a.Name]
	for i, s := range []struct{ number, of string }{{a.First, a.FirstOf}, {a.Second, a.SecondOf}} {
		if s.number == "" {
			continue
		}
		nitrate := s.of == "nitrate" || s.of == "" && i == 1
		if err := r.strength(s.number, nitrate, at); err != nil {
			return err
		}
	}
	if a.Rate == "" {
		return nil
	}
	return r.rateOf(&amount{Number: a.Rate, Level: a.Level}, at)
}

func (r *reading) strength(typed string, nitrate bool, at stretch) error {
	n, err := r.number(typed, at)
	if err != nil {
		return err
	}
	share := cure.Fraction(n.times(0.01))
	if nitrate {
		r.draft.Nitrate = cure.Typed(share)
		return r.set(nitrateField, at)
	}
	r.draft.Nitrite = cure.Typed(share)
	return r.set(nitriteField, at)
}

// led folds a word and the amount after it.
func (r *reading) led(l *led, from, to int) error {
	d, word := &r.draft, stretch{r.toks[from].start, r.toks[from].end}
	all := stretch{word.start, r.toks[to-1].end}
	a := l.Amount
	liquid := a != nil && (a.Volume != "" || a.Mass != "" && a.MassOf == "water")
	mass := a != nil && a.Mass != "" && (a.MassOf == "" || a.MassOf == "water") && a.Cure == nil && a.Jar == ""
	switch {
	case l.Word == "brine":
		if err := r.method(cure.CoverBrine, word); err != nil {
			return err
		}
		if liquid {
			return r.liquid(&d.Water, waterField, a, from+1, to)
		}
		if mass && a.Mass == "oz weight" {
			return r.liquid(&d.Water, waterField, a, from+1, to)
		}
		if mass && a.Mass == "oz" && kindAt(r.toks, to) != cutKind {
			return r.ounces(from, to)
		}
	case l.Word == "cover" && (liquid || mass):
		return r.liquid(&d.Cover, coverField, a, from, to)
	case l.Word == "cover":
		d.cover = true
		if a == nil {
			return nil
		}
	case (l.Word == "in" || l.Word == "water") && (liquid || mass):
		return r.liquid(&d.Water, waterField, a, from, to)
	case l.Word == "in" && a == nil && kindAt(r.toks, to) == numberKind && kindAt(r.toks, to+1) == pieceKind:
		return nil // "in 2 pieces"
	case l.Word == "at" && a != nil && a.Level != "" && a.Level != "%" && a.Level != "ppm" && a.Of == "" && a.Agent == nil && r.agentBefore(from) && !d.has(targetField):
		return r.rateOf(a, all) // "no 1 at 2.5 g/kg"
	case l.Word == "at" && a != nil && a.Degree != "":
		return r.amount(a, "at", from, to)
	case l.Word == "thick" && a != nil && a.Length != "":
		return r.amount(a, "", from, to)
	default:
		return r.stray(all)
	}
	if a == nil {
		return nil
	}
	return r.amount(a, "", from+1, to)
}

// liquid folds an amount of water or pickle.
func (r *reading) liquid(into *cure.Given[cure.Gram], f field, a *amount, from, to int) error {
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	var v cure.Gram
	var err error
	if f == marinadeField {
		r.fig.about = strings.HasPrefix(a.Number, hedged)
	} else if err := r.exactly(a.Number, at); err != nil {
		return err
	}
	if a.Volume != "" {
		v, err = r.volume(a, from, to)
	} else {
		if a.Each != "" || len(a.More) > 0 {
			return r.fail("not a number", at)
		}
		if err := r.exactly(a.Small, at); err != nil {
			return err
		}
		if a.Mass == "oz" && a.Ounces == "" {
			return r.ounces(from, to)
		}
		v, err = r.mass(part{a.Number, "", a.Mass, a.Small, a.Ounces}, from, to)
	}
	if err != nil {
		return err
	}
	*into = cure.Typed(v)
	return r.set(f, at)
}

// levels leads from a unit of level to milligrams per kilogram and to a fraction.
var levels = map[string]struct{ ppm, share float64 }{"%": {10000, 0.01}, "g/kg": {1000, 0.001}, "oz/lb": {62500, 0.0625}, "ppm": {1, 0.000001}}

// level folds a per cent, a gram per kilogram or a ppm of something.
func (r *reading) level(typed, unit, of string, onTop bool, at stretch) error {
	d := &r.draft
	n, err := r.number(typed, at)
	if err != nil {
		return err
	}
	if unit == "ppm" && n.other != "" {
		return r.fail("not a number", at) // "1.250 ppm"
	}
	one, part := levelOf(unit)
	ppm := n.times(one)
	if ppm >= 1e6 || unit == "%" && n.times(1) >= 100 {
		return r.fail("too big", at)
	}
	share := cure.Fraction(n.times(part))
	switch {
	case of == "salt" && unit != "ppm":
		d.Salt, d.SaltOnTop = cure.Typed(share), onTop
		return r.set(saltField, at)
	case onTop:
	case of == "sugar" && unit != "ppm":
		d.Sugar = cure.Typed(share)
		return r.set(sugarField, at)
	case of == "erythorbate":
		d.Ascorbate = cure.Typed(cure.PPM(ppm))
		return r.set(ascorbateField, at)
	case of == "inject" && unit == "%":
		d.Pump = cure.Typed(share)
		if err := r.set(pumpField, at); err != nil {
			return err
		}
		if d.Method.Value == cure.Injection {
			return nil // "inject, 10% pump"
		}
		return r.method(cure.Injection, at)
	case of == "nitrite" && unit == "%", of == "nitrate" && unit == "%":
		return r.strength(typed, of == "nitrate", at)
	case unit == "ppm" && (of == "" || of == "nitrite"):
		d.Target = cure.Typed(cure.PPM(ppm))
		return r.set(targetField, at)
	case of == "nitrate":
		return r.fail("nitrate", at)
	case of == "" && unit != "ppm", of == "water":
		return r.fail("of what", at)
	}
	return r.fail("unit", at)
}
