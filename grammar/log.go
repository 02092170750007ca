package grammar

import (
	"strings"
	"time"

	"github.com/alecthomas/participle/v2/lexer"

	"salthand/cure"
)

// fact is one thing that a log says: an amount with its unit, a word, or a number behind a
// mark.
type fact struct {
	kind   lexer.TokenType // of the unit; markKind for a mark with a plain number
	led    string          // the word before it: "at", "in", "to", "day", "ph"
	unit   string          // "sal", "be", "g/l"
	of     string          // "salt", "water", "brine"
	value  float64         // g, g of water, mm, °C, a fraction, or as it was typed
	span   time.Duration
	clause int
	at     stretch
}

// reported folds an item of a log into facts.
func (r *reading) reported(it *item, from, to int) error {
	f, at := r.fig, stretch{r.toks[from].start, r.toks[to-1].end}
	word := func(k lexer.TokenType, of string) {
		f.facts = append(f.facts, fact{kind: k, of: of, clause: f.clause, at: stretch{r.toks[from].start, r.toks[from].end}})
	}
	switch {
	case it.Amount != nil:
		return r.fact(it.Amount, "", from, to)
	case it.Share != nil:
		return r.fact(&amount{Number: it.Share.Number, Level: it.Share.Level, Of: it.Share.Word}, "", from, to)
	case it.Cut != "":
		r.draft.Cut = it.Cut
		return r.set(cutField, at)
	case it.Led != nil:
		l := it.Led
		switch l.Word {
		case "brine":
			word(brineKind, "brine")
		case "water":
			word(waterKind, "water")
		case "at", "in":
			if l.Amount == nil {
				return r.stray(at)
			}
		default:
			return r.stray(at)
		}
		if l.Amount == nil {
			return nil
		}
		return r.fact(l.Amount, l.Word, from+1, to)
	case it.Mark != nil && it.Mark.Amount != nil:
		return r.fact(it.Mark.Amount, it.Mark.Word, from+1, to)
	case it.Mark != nil && it.Mark.Number != "":
		if strings.Contains(it.Mark.Number, "/") && it.Mark.Word == "day" { // "day 6/21"
			return r.dayIn(it.Mark.Number, at)
		}
		n, ok := readNumber(it.Mark.Number)
		if !ok || n.other != "" {
			return r.fail("not a number", at)
		}
		f.facts = append(f.facts, fact{kind: markKind, led: it.Mark.Word, value: n.times(1), clause: f.clause, at: at})
		return nil
	case it.Mark != nil && it.Mark.Word == "solution":
		word(markKind, "solution")
		return nil
	case it.Mark != nil && it.Mark.Word == "to": // "to ph 5.3"
		return nil
	}
	return r.fail("unknown word", at)
}

// fact folds an amount of a log.
func (r *reading) fact(a *amount, led string, from, to int) (err error) {
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	out := fact{led: led, of: a.Of, clause: r.fig.clause, at: at}
	times := func(unit float64) (v float64) {
		var n number
		if n, err = r.number(a.Number, at); err == nil {
			v = n.times(unit)
		}
		return v
	}
	switch {
	case a.Each != "" || len(a.More) > 0 || len(a.Longer) > 0 || a.Cure != nil || a.Agent != nil || a.Spooned != nil || a.Jar != "":
		return r.fail("of what", at)
	case a.Mass == "oz" && r.fig.name == "brine":
		return r.ounces(from, to)
	case a.Mass != "":
		var g cure.Given[cure.Gram]
		err = r.weight(&g, fields, a, from, to)
		out.kind, out.value, out.of = massKind, float64(g.Value), a.MassOf
	case a.Level == "%":
		var v cure.Given[cure.Fraction]
		err = r.share(&v, fields, a, at)
		out.kind, out.value = percentKind, float64(v.Value)
	case a.Volume != "":
		var g cure.Gram
		g, err = r.volume(a, from, to)
		out.kind, out.value, out.of = volumeKind, float64(g), a.Liquid
	case a.Length != "":
		out.kind, out.value = lengthKind, times(factors[a.Length])
		if err == nil && out.value > 1000 {
			err = r.fail("too big", at)
		}
	case a.Span != "":
		out.kind = spanKind
		out.span, err = r.span(a.Number, a.Span, at)
	case a.Degree != "":
		var t cure.Celsius
		t, err = r.degrees(a.Number, a.Degree, at)
		out.kind, out.value = degreeKind, float64(t)
	case a.Salty != "":
		out.kind, out.unit, out.value = saltyKind, a.Salty, times(1)
		if err == nil && out.value > 1000 {
			err = r.fail("too big", at)
		}
	default:
		return r.fail("unit", at)
	}
	if err != nil {
		return err
	}
	r.fig.facts = append(r.fig.facts, out)
	return nil
}

// logged makes the command of a log.
func (r *reading) logged() Command {
	if len(r.doubts) > 0 || len(r.wrong) > 0 || len(r.fig.facts) == 0 {
		return nil
	}
	against := r.draft.Against
	switch r.fig.name {
	case "brine":
		return r.brine()
	case "dry":
		return r.dry()
	case "ferment":
		var out Ferment
		out.Log, out.PH = r.spells()
		out.Against = against
		if len(out.Log) > 0 {
			return out
		}
	case "cook log":
		if log, _ := r.spells(); len(log) > 0 {
			return Cook{log}
		}
	case "cold log":
		if log, _ := r.spells(); len(log) > 0 {
			return Cold{log}
		}
	case "cooling":
		if legs := r.legs(); len(legs) > 0 {
			return Cooling{legs, against}
		}
	case "freeze":
		return r.freeze()
	case "aw":
		return r.waterActivity()
	}
	return nil
}

// spells are clauses of a temperature and a time each, and a pH.
func (r *reading) spells() (log []Spell, ph cure.Given[PH]) {
	facts := r.fig.facts
	for i := 0; i < len(facts); i++ {
		x := facts[i]
		switch {
		case x.kind == markKind && x.led == "ph" && !ph.Set() && r.fig.name == "ferment":
			if x.value > 14 {
				r.doubts = append(r.doubts, r.fail("too big", x.at))
				return nil, ph
			}
			ph = cure.Typed(PH(x.value))
		case i+1 < len(facts) && x.clause == facts[i+1].clause && x.kind == degreeKind && facts[i+1].kind == spanKind:
			log = append(log, Spell{cure.Celsius(x.value), facts[i+1].span})
			i++
		case i+1 < len(facts) && x.clause == facts[i+1].clause && x.kind == spanKind && facts[i+1].kind == degreeKind:
			log = append(log, Spell{cure.Celsius(facts[i+1].value), x.span})
			i++
		case x.kind == degreeKind:
			r.lacks("time", x.at)
			return nil, ph
		case x.kind == spanKind:
			r.lacks("temperature", x.at)
			return nil, ph
		default:
			r.doubts = append(r.doubts, r.fail("unit", x.at))
			return nil, ph
		}
	}
	if len(log) == 0 {
		r.lacks("temperature", r.fig.verb)
	}
	return log, ph
}

// legs are clauses of a temperature or two and a time each.
func (r *reading) legs() (out []Leg) {
	facts := r.fig.facts
	for i := 0; i < len(facts); {
		var degrees []float64
		var span time.Duration
		clause, at := facts[i].clause, facts[i].at
		for ; i < len(facts) && facts[i].clause == clause; i++ {
			switch x := facts[i]; {
			case x.kind == degreeKind && span == 0:
				degrees = append(degrees, x.value)
			case x.kind == spanKind && span == 0:
				span = x.span
			default:
				r.doubts = append(r.doubts, r.fail("unit", x.at))
				return nil
			}
		}
		if len(degrees) == 1 && len(out) > 0 {
			degrees = []float64{float64(out[len(out)-1].To), degrees[0]}
		}
		switch {
		case len(degrees) != 2:
			r.lacks("temperature", at)
			return nil
		case span == 0:
			r.lacks("time", at)
			return nil
		}
		out = append(out, Leg{cure.Celsius(degrees[0]), cure.Celsius(degrees[1]), span})
	}
	return out
}
