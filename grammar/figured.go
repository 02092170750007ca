package grammar

import "salthand/cure"

// settled makes the command of a phrase that asks for figures, or notes what it lacks. nil
// without a doubt: talk.
func (r *reading) settled() Command {
	f := r.fig
	if f.isLog() {
		return r.logged()
	}
	r.finish()
	switch f.name {
	case "check":
		return r.check()
	case "swap":
		return r.swap()
	case "mix":
		return r.mix()
	case "soak":
		return r.desalt()
	case "rub":
		return r.rub()
	case "which cure":
		return r.which()
	}
	return r.howLong()
}

// howLong is "how long 6 cm ham, dry rub, 2 days at 9 c, 5 days at 3 c".
func (r *reading) howLong() Command {
	f, d := r.fig, &r.draft
	var out HowLong
	if len(f.facts) > 2 {
		out.Log, _ = r.spells()
	} else {
		for _, x := range f.facts {
			known := x.kind == spanKind && once(r, &d.Days, x.span, x) || x.kind == degreeKind && once(r, &d.Temperature, cure.Celsius(x.value), x)
			if !known {
				return nil
			}
		}
	}
	if d.Cut == "" && !d.has(thickField) && !d.Method.Set() {
		return nil
	}
	out.Meat = d.Dose
	return out
}

// check is "check 12 g no 1 + 80 g salt on 3.2 kg belly".
func (r *reading) check() Command {
	f, d := r.fig, &r.draft
	f.fillStrengths()
	if !r.perLitre() {
		return nil
	}
	for _, a := range f.amounts {
		if !a.Grams.Set() && !a.Spoons.Set() && !a.Rate.Set() {
			r.lacks("amount", f.verb)
			return nil
		}
	}
	if d.Rate.Set() || d.Nitrite.Set() || d.Nitrate.Set() {
		r.lacks("cure", f.verb)
		return nil
	}
	if len(f.amounts) > 0 && d.Kind == cure.NoCure {
		r.doubts = append(r.doubts, r.fail("unit", d.said[agentField]))
		return nil
	}
	if len(f.amounts) == 0 && !f.salt.Set() && d.Kind != cure.NoCure {
		if r.weighed || d.Cut != "" {
			r.lacks("cure", f.verb)
		}
		return nil
	}
	return Check{f.amounts, f.salt, f.sugar, f.ascorbate, f.marinade, f.about, d.Dose}
}

// fillStrengths gives a strength that was said once more, by itself, to the cure of that name
// that lacks one: "check 12 g no 1 on 3.2 kg belly, no 1 5.88%".
func (f *figure) fillStrengths() {
	for i := len(f.amounts) - 1; i > 0; i-- {
		a := f.amounts[i]
		bare := a
		bare.Nitrite, bare.Nitrate = cure.Given[cure.Fraction]{}, cure.Given[cure.Fraction]{}
		if !a.Nitrite.Set() || bare != (Amount{Kind: a.Kind}) {
			continue
		}
		for j := range f.amounts[:i] {
			if b := &f.amounts[j]; b.Kind == a.Kind && !b.Nitrite.Set() && !b.Nitrate.Set() {
				b.Nitrite, b.Nitrate = a.Nitrite, a.Nitrate
				f.amounts = append(f.amounts[:i], f.amounts[i+1:]...)
				break
			}
		}
	}
}

// swap is "swap 6.5 g no 1 for nitrited salt 0.6% on 2.6 kg brisket".
func (r *reading) swap() Command {
	f := r.fig
	if len(f.amounts) > 2 {
		f.fillStrengths()
	}
	quantity := func(a Amount) bool { return a.Grams.Set() || a.Rate.Set() }
	switch n := len(f.amounts); {
	case n == 0 || !quantity(f.amounts[0]):
		r.lacks("amount", f.verb)
	case n == 1:
		r.lacks("cure", f.verb)
	case n > 2 || quantity(f.amounts[1]):
		r.doubts = append(r.doubts, r.fail("twice", f.verb))
	default:
		return Swap{f.amounts[0], f.amounts[1], f.salt, r.draft.Dose}
	}
	return nil
}

// mix is "mix 2 kg house cure, 150 ppm at 2.5%", or "mix 2 g nitrite in 1 kg salt".
func (r *reading) mix() Command {
	f, d := r.fig, &r.draft
	out := Mix{Target: d.Target, Rate: f.rate, From: f.from, Salt: f.salt, Scale: f.division}
	switch {
	case len(f.amounts) > 1:
		r.doubts = append(r.doubts, r.fail("twice", f.verb))
		return nil
	case len(f.amounts) > 0 && f.salt.Set() && !f.source: // what goes into the salt
		out.From = f.amounts[0]
		f.amounts = f.amounts[1:]
	}
	if len(f.amounts) > 0 {
		a := f.amounts[0]
		if a.Jar != "" || a.Rate.Set() || a.Kind == cure.PureNitrite || a.Kind == cure.PureNitrate || a.Kind == cure.Saltpetre || a.Kind == cure.VegetablePowder {
			r.lacks("cure", f.verb)
			return nil
		}
		out.Make, out.Kind, out.Nitrite, out.Nitrate = a.Grams, a.Kind, a.Nitrite, a.Nitrate
	}
	if s := f.strength.Or(d.Nitrite.Value, d.Nitrite.Origin); s.Set() {
		if out.Nitrite.Set() || f.strength.Set() && d.Nitrite.Set() {
			r.doubts = append(r.doubts, r.fail("twice", r.draft.said[strengthField]))
			return nil
		}
		out.Nitrite = s
	}
	if d.Nitrate.Set() && !out.Nitrate.Set() {
		out.Nitrate = d.Nitrate
	}
	if out.Kind != cure.NoAgent && doubtful(out.Kind, out.Nitrite, out.Nitrate) {
		r.doubts = append(r.doubts, r.ask("strength", r.place(percentKind, 0, len(r.toks))))
		return nil
	}
	if f.rate.Set() && !d.Target.Set() && !out.Nitrite.Set() { // "at 0.6%": of the meat, or in the mix?
		at := d.said[rateField]
		at.start = r.within(stretch{0, at.start}, atKind).start
		q := r.ask("strength", at)
		number := r.within(at, numberKind)
		percent := r.text[number.start:number.end] + "%"
		q.Choices = []Choice{{percent + " nitrite in the mix", r.replaced(at, percent)}}
		r.doubts = append(r.doubts, q)
		return nil
	}
	if !out.Make.Set() && !out.From.Grams.Set() {
		r.lacks("weight", f.verb)
		return nil
	}
	return out
}

// desalt is "soak 3 kg at 5% salt in 6 l".
func (r *reading) desalt() Command {
	f, d := r.fig, &r.draft
	if !d.Salt.Set() {
		r.lacks("salt", f.verb)
		return nil
	}
	out := Desalt{Product: f.product, Meat: d.Dose, Salt: d.Salt, Want: f.want, Water: d.Water}
	out.Meat.Salt, out.Meat.Water, out.Meat.Method = cure.Given[cure.Fraction]{}, cure.Given[cure.Gram]{}, cure.Given[cure.Method]{}
	return out
}

// rub is "rub 6 lb salt + 1.5 oz saltpetre at 1.5 oz/lb on 12 lb belly".
func (r *reading) rub() Command {
	f := r.fig
	for _, a := range f.amounts {
		if !a.Grams.Set() {
			r.lacks("amount", f.verb)
			return nil
		}
	}
	if len(f.amounts) == 0 && !f.salt.Set() {
		return nil
	}
	if !f.rate.Set() {
		r.lacks("rate", f.verb)
		return nil
	}
	return Rub{f.amounts, f.salt, f.sugar, f.spice, f.rate, r.draft.Dose}
}

// which is "which cure for 9 month ham".
func (r *reading) which() Command {
	f, d := r.fig, &r.draft
	if f.product == "" && d.Cut == "" {
		return nil
	}
	out := WhichCure{Product: f.product, Hang: d.Days, Meat: d.Dose}
	out.Meat.Days = WhichCure{}.Hang
	return out
}
