package grammar

import (
	"time"

	"salthand/cure"
)

// once notes that a value was said, or that it was said before.
func once[T any](r *reading, into *cure.Given[T], v T, x fact) bool {
	if into.Set() {
		r.doubts = append(r.doubts, r.fail("twice", x.at))
		return false
	}
	*into = cure.Typed(v)
	return true
}

// misplaced notes a fact that has no place in this log.
func (r *reading) misplaced(x fact) Command {
	r.doubts = append(r.doubts, r.fail("unit", x.at))
	return nil
}

// brine is "4 l brine at 60 sal".
func (r *reading) brine() Command {
	var out Brine
	strengths, known := 0, true
	for _, x := range r.fig.facts {
		switch {
		case x.kind == brineKind:
		case x.kind == waterKind, x.kind == volumeKind && x.of == "water", x.kind == massKind && x.of == "water":
			out.OfWater = true
		}
		switch {
		case x.kind == volumeKind:
			known = once(r, &out.Volume, Litre(clean(x.value/1000)), x)
		case x.kind == massKind && (x.of == "" || x.of == "water"):
			known = once(r, &out.Weight, cure.Gram(x.value), x)
		case x.kind == saltyKind && x.unit == "sal":
			known = once(r, &out.Salometer, Degree(x.value), x)
			strengths++
		case x.kind == saltyKind && x.unit == "be":
			known = once(r, &out.Baume, Degree(x.value), x)
			strengths++
		case x.kind == saltyKind:
			known = once(r, &out.PerLitre, GramPerLitre(x.value), x)
			strengths++
		case x.kind == percentKind && (x.of == "" || x.of == "salt"):
			known = once(r, &out.Salt, cure.Fraction(x.value), x)
			strengths++
		case x.kind == degreeKind:
			known = once(r, &out.Temperature, cure.Celsius(x.value), x)
		case x.kind == brineKind, x.kind == waterKind:
		default:
			return r.misplaced(x)
		}
		if !known {
			return nil
		}
	}
	switch {
	case strengths == 0:
		r.lacks("strength", r.fig.verb)
		return nil
	case strengths > 1:
		r.doubts = append(r.doubts, r.fail("twice", r.fig.verb))
		return nil
	}
	return out
}

// dry is "dry 1000 g, 900 g day 7, to 35%".
func (r *reading) dry() Command {
	out := Dry{Cut: r.draft.Cut}
	facts := r.fig.facts
	for i := 0; i < len(facts); {
		var weight, day *fact
		clause := facts[i].clause
	clause:
		for ; i < len(facts) && facts[i].clause == clause; i++ {
			x := &facts[i]
			switch {
			case x.kind == percentKind && x.of == "":
				if !once(r, &out.Loss, cure.Fraction(x.value), *x) {
					return nil
				}
			case x.kind == massKind && x.led == "to":
				if !once(r, &out.Want, cure.Gram(x.value), *x) {
					return nil
				}
			case x.kind == massKind && x.of == "" && weight == nil:
				weight = x
			case x.kind == massKind && x.of == "" && (day != nil || len(out.Weights) == 0), isDay(x) && day != nil && weight != nil:
				break clause // the next one, without a comma
			case isDay(x) && day == nil:
				day = x
			default:
				return r.misplaced(*x)
			}
		}
		switch {
		case weight == nil && day == nil:
		case weight == nil:
			r.lacks("weight", day.at)
			return nil
		case day == nil && len(out.Weights) > 0:
			r.lacks("day", weight.at)
			return nil
		default:
			if !r.weighing(&out, weight, day) {
				return nil
			}
		}
	}
	if len(out.Weights) == 0 {
		r.lacks("weight", r.fig.verb)
		return nil
	}
	return out
}

// isDay reports whether a fact is a day or a time since day 0.
func isDay(x *fact) bool { return x.kind == spanKind || x.kind == markKind && x.led == "day" }

// weighing adds a weight that was read after the others.
func (r *reading) weighing(out *Dry, weight, day *fact) bool {
	w := Weight{Gram: cure.Gram(weight.value)}
	if day != nil {
		w.After = day.span
		if day.kind == markKind {
			if day.value > 731 {
				r.doubts = append(r.doubts, r.fail("too big", day.at))
				return false
			}
			w.After = time.Duration(day.value*24) * time.Hour
		}
	}
	if n := len(out.Weights); n > 0 && w.After <= out.Weights[n-1].After {
		r.doubts = append(r.doubts, r.fail("not a time", day.at))
		return false
	}
	out.Weights = append(out.Weights, w)
	return true
}

// freeze is "freeze -20 c 10 days, 12 cm pork".
func (r *reading) freeze() Command {
	out := Freeze{Cut: r.draft.Cut, Product: r.fig.product}
	for _, x := range r.fig.facts {
		known := true
		switch x.kind {
		case degreeKind:
			known = once(r, &out.Temperature, cure.Celsius(x.value), x)
		case spanKind:
			known = once(r, &out.For, x.span, x)
		case lengthKind:
			known = once(r, &out.Thickness, cure.Millimetre(x.value), x)
		default:
			return r.misplaced(x)
		}
		if !known {
			return nil
		}
	}
	if !out.Temperature.Set() {
		r.lacks("temperature", r.fig.verb)
		return nil
	}
	return out
}

// waterActivity is "aw 3.5% salt 60% water".
func (r *reading) waterActivity() Command {
	var out WaterActivity
	for _, x := range r.fig.facts {
		out.Solution = out.Solution || x.of == "solution" || x.kind == brineKind
	}
	for _, x := range r.fig.facts {
		known := true
		switch {
		case x.kind == percentKind && (x.of == "salt" || x.of == "" && out.Solution):
			known = once(r, &out.Salt, cure.Fraction(x.value), x)
		case x.kind == percentKind && x.of == "sugar":
			known = once(r, &out.Sugar, cure.Fraction(x.value), x)
		case x.kind == percentKind && x.of == "water":
			known = once(r, &out.Water, cure.Fraction(x.value), x)
		case x.kind == degreeKind:
			known = once(r, &out.Temperature, cure.Celsius(x.value), x)
		case x.of == "solution", x.kind == brineKind:
		default:
			return r.misplaced(x)
		}
		if !known {
			return nil
		}
	}
	if !out.Salt.Set() && !out.Sugar.Set() {
		r.lacks("salt", r.fig.verb)
		return nil
	}
	return out
}
