package grammar

import (
	"strings"

	"salthand/cure"
)

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

const maxMass = 10_000_000 // g; beyond any kitchen

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
	if isSpaced(typed) {
		return number{}, r.thousandOrTimes(typed, at)
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
