package grammar

import (
	"strings"

	"salthand/cure"
)

// finish settles what only the whole phrase tells.
func (r *reading) finish() {
	d := &r.draft
	if d.bone != "" {
		switch {
		case d.Cut == "boneless ham" && d.bone == "bone in":
			d.Cut = "bone-in ham"
		case d.Cut == "bone-in ham" && d.bone == "boneless", d.Cut == "":
			r.doubts = append(r.doubts, r.fail("of what", d.said[boneField]))
		}
	}
	if d.Cut == minced || doubtfulCuts[d.Cut] != nil {
		r.doubts = append(r.doubts, r.ask(d.Cut, d.said[cutField]))
	}
	r.settleCount()
	r.settleMethod()
	r.settleStrength()
	if d.Rate.Set() && d.Nitrite.Set() {
		d.Target = cure.Typed(cure.PPM(clean(float64(d.Rate.Value) * float64(d.Nitrite.Value) * 1e6)))
		d.Rate = cure.Given[cure.Fraction]{}
	}
}

// settleMethod makes one method of what was said of brine, pump and cover.
func (r *reading) settleMethod() {
	d := &r.draft
	covered := d.cover || d.has(coverField)
	switch {
	case covered && d.Method.Value == cure.Injection:
		d.Method = cure.Typed(cure.InjectionCover)
	case covered:
		at := d.said[coverField]
		if at.end == 0 {
			at = r.place(coverKind, 0, len(r.toks))
		}
		q := r.ask("cover", at)
		words := r.text[at.start:at.end]
		if amount := strings.TrimSpace(words[min(len(words), len("cover")):]); d.Method.Value == cure.NoMethod {
			q.Choices = []Choice{{"brine", r.replaced(at, "brine "+amount)}, {"inject and cover", r.replaced(at, "inject, "+words)}}
		}
		r.doubts = append(r.doubts, q)
	}
	switch {
	case !d.has(waterField):
	case d.Method.Value == cure.NoMethod:
		d.Method = cure.Typed(cure.CoverBrine) // a weight of water makes a cover brine
		d.said[methodField] = d.said[waterField]
	case r.fig != nil && (d.Method.Value == cure.Injection || d.Method.Value == cure.InjectionCover): // the water of the pickle
	case d.Method.Value != cure.CoverBrine:
		e := r.fail("twice", d.said[waterField])
		old := d.said[methodField]
		e.Other = r.text[old.start:old.end]
		r.doubts = append(r.doubts, e)
	}
}

// strengths are the shares of nitrite that a cure may have, as fractions, and the usual one.
var strengths = map[cure.AgentKind]struct {
	low, high float64
	usual     string
}{
	cure.No1:             {0.04, 0.10, "6.25%"},  // common practice, no source
	cure.No2:             {0.04, 0.10, "6.25%"},  // common practice, no source
	cure.NitritedSalt:    {0.004, 0.009, "0.6%"}, // European nitrited salts, see cure.NitritedSalt
	cure.HouseCure:       {0.001, 0.10, ""},      // up to the strongest no. 1; the rest would be weighed as salt
	cure.PureNitrite:     {0.90, 1, ""},          // undiluted; common practice, no source
	cure.VegetablePowder: {0.001, 0.05, ""},      // common practice, no source
}

// doubtful reports whether no such cure has such a strength.
func doubtful(k cure.AgentKind, nitrite, nitrate cure.Given[cure.Fraction]) bool {
	s, n := strengths[k], float64(nitrate.Value)
	if v := float64(nitrite.Value); nitrite.Set() && (v < s.low || v > s.high) {
		return true
	}
	return nitrate.Set() && (k != cure.No2 || n < 0.005 || n > 0.10)
}

// settleStrength asks about a strength that no such cure has: a slip of the decimal point,
// or a dose in the place of a strength.
func (r *reading) settleStrength() {
	d := &r.draft
	if !d.has(agentField) {
		if at := d.said[nitriteField]; at.end > 0 || d.has(nitrateField) {
			if at.end == 0 {
				at = d.said[nitrateField]
			}
			q := r.ask("pink salt", at)
			q.Choices = nil
			for _, name := range []string{no1, no2, nitritedSalt} {
				q.Choices = append(q.Choices, Choice{name, r.replaced(at, name+", "+r.text[at.start:at.end])})
			}
			r.doubts = append(r.doubts, q)
		}
		return
	}
	if d.Kind == cure.NoCure && (d.has(nitriteField) || d.has(nitrateField) || d.has(targetField)) {
		r.doubts = append(r.doubts, r.fail("unit", d.said[agentField]))
		return
	}
	if !doubtful(d.Kind, d.Nitrite, d.Nitrate) {
		return
	}
	v, s := float64(d.Nitrite.Value), strengths[d.Kind]
	low, high, usual := s.low, s.high, s.usual
	at := d.said[nitriteField]
	if at.end == 0 || d.has(nitrateField) && v >= low && v <= high {
		at = d.said[nitrateField]
	}
	q := r.ask("strength", at)
	name := r.agentIn(at)
	switch {
	case name == "" || usual == "" || d.has(nitrateField):
	case d.Rate.Set():
		rate := strings.TrimSpace(r.text[at.start:r.within(at, agentKind).start])
		q.Choices = []Choice{{usual, r.replaced(at, rate+" "+name+" "+usual)}}
	default:
		q.Choices = []Choice{{usual, r.replaced(at, name+" "+usual)}}
		if v <= 0.03 && d.Kind != cure.NitritedSalt {
			typed := r.within(at, numberKind)
			q.Choices = append(q.Choices, Choice{r.text[typed.start:typed.end] + "% of the meat", r.replaced(at, r.text[typed.start:typed.end]+"% "+name)})
		}
	}
	r.doubts = append(r.doubts, q)
}
