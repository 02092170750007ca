package grammar

import (
	"strings"

	"salthand/cure"
)

// cura is what Spanish kitchens call a curing salt in half a sentence. It names a cure only
// where a line is read as free words: in a phrase it may be the curing.
const cura = "cura"

// cup is a cup of a liquid as heavy as water, in grams: 8 US fluid ounces.
// Source: NIST Handbook 44, appendix C (from memory, sure).
const cup cure.Gram = 236.5882365

// cureNumber reports whether toks[i] is the number of a cure: "cure 1 in 12 kg", where "1 in"
// is no length.
func (t *telling) cureNumber(i int) bool {
	if i == 0 || t.kind(i) != numberKind || t.value(i) != "1" && t.value(i) != "2" {
		return false
	}
	if k := t.kind(i - 1); k != vagueKind && (k != wordKind || t.value(i-1) != cura) {
		return false
	}
	switch t.kind(i + 1) {
	case massKind, volumeKind, percentKind, levelKind, ppmKind, spoonKind, spanKind, degreeKind, timesKind:
		return false
	case lengthKind:
		return t.word(i+1) == "in"
	}
	return true
}

// joined reports whether the kilograms at toks[i] and the grams behind them are one weight:
// "2 kg 500 g", and not "5.2 kg and 13 g".
func (t *telling) joined(i int) bool {
	between := strings.TrimSpace(t.text[t.toks[i+1].end:t.toks[i+2].start])
	return between == "" && !strings.ContainsAny(t.value(i), ".,")
}

// cureBefore reports whether a curing salt is named before toks[i], and no quantity of one.
func (t *telling) cureBefore(i int) bool {
	for _, a := range t.Amounts {
		if a.Grams.Set() || a.Spoons.Set() || a.Rate.Set() {
			return false
		}
	}
	for j := range i {
		if t.subjectAt(j).of == "cure" {
			return true
		}
	}
	return false
}

// pickleBefore reports whether a pickle is named before toks[i].
func (t *telling) pickleBefore(i int) bool {
	for j := range i {
		if pickles[t.word(j)] {
			return true
		}
	}
	return false
}

// What kitchens call a pickle.
var pickles = setOf("brine", "pickle", "salmuera", "saumure")

// otherMeat reports whether a weight that can be a piece of meat stands outside toks[from:to].
func (t *telling) otherMeat(from, to int) bool {
	for j := range t.toks {
		if j >= from && j < to || t.kind(j) != numberKind || t.kind(j+1) != massKind {
			continue
		}
		switch t.subjectAt(j + 2).of {
		case "salt", "sugar", "liquid":
			continue
		}
		if g, err := t.mass(part{Number: t.value(j), Mass: t.value(j + 1)}, j, j+2); err == nil && g >= least {
			return true
		}
	}
	return false
}

// Small is the first weight of nothing that was named and that is too light for a piece of
// meat: a dose, or what was taken of a mix. 0: there is none.
func (f Facts) Small() cure.Gram {
	for _, g := range f.Loose {
		if g < least {
			return g
		}
	}
	return 0
}

// Weights are all weights that can be pieces of meat.
func (f Facts) Weights() []cure.Gram {
	all := append([]cure.Gram{}, f.Meat.Pieces...)
	for _, g := range f.Loose {
		if g >= least {
			all = append(all, g)
		}
	}
	return all
}

// multiples are the cues of a dose that went in several times, or in part.
var multiples = []struct {
	cue string
	is  Part
}{{"twice", 2}, {"three-times", 3}, {"four-times", 4}, {"half-dose", 0.5}}

// shares are the cues of what is too much or too little, as a share of the dose.
var shares = []struct {
	cue string
	is  Part
}{{"a-third", 1. / 3}, {"a-quarter", 1. / 4}, {"a-half", 1. / 2}, {"a-fifth", 1. / 5}, {"two-thirds", 2. / 3}}

// Several is how many times a dose went in, by a word for it: "twice" is 2. ok is false where
// the line has none.
func (f Facts) Several() (times Part, ok bool) {
	for _, m := range multiples {
		if m.is > 1 && f.Has(m.cue) {
			return m.is, true
		}
	}
	return 0, false
}

// Multiple is how many times the right amount a line tells of: "double" is 2, "half the cure"
// is 0.5, "1/3 too much" is 4/3, "20% short" is 0.8. ok is false where it tells of none.
func (f Facts) Multiple() (times Part, ok bool) {
	for _, m := range multiples {
		if f.Has(m.cue) && (m.is < 1 || !f.Has("double-time")) {
			return m.is, true
		}
	}
	if f.Times.Set() {
		return f.Times.Value, f.Times.Value > 0
	}
	share, ok := f.share()
	if ok && f.Has("too-little") {
		return 1 - share, share < 1
	}
	return 1 + share, ok
}

// share is the share of the dose that a line names, as "1/3", "50%" or "a third".
func (f Facts) share() (Part, bool) {
	for _, s := range shares {
		if f.Has(s.cue) {
			return s.is, true
		}
	}
	for _, n := range f.Numbers {
		if n > 0 && n < 1 {
			return n, true
		}
	}
	for _, s := range f.Shares {
		if s >= 0.05 {
			return Part(s), true
		}
	}
	return 0, false
}

// What kitchens call the record, and what a weight is read off.
var (
	logWords    = setOf("log", "logged", "record", "sheet", "app", "typed", "entered", "registro", "apunte", "registre", "fiche", "note")
	tagWords    = setOf("tag", "label", "scale", "really", "actually", "etiqueta", "bascula", "etiquette", "balance")
	betweenThem = setOf("says", "said", "was", "is", "dice", "pone", "dit", "indique", "its", "as")
)

// logged finds the weight of the record beside the one that was read off a tag or a scale, in a
// line that has both: "tag says 4,2 but log 2,4kg". The other one is the meat then.
func (t *telling) logged() {
	type reading struct {
		g   cure.Gram
		log bool
	}
	var all []reading
	var unit cure.Gram // of a number without one
	for i := range t.toks {
		if t.kind(i) != numberKind || t.kind(i+1) != massKind {
			continue
		}
		one, err := t.mass(part{Number: "1", Mass: t.value(i + 1)}, i, i+2)
		if err == nil && unit == 0 {
			unit = one
		}
	}
	for i := range t.toks {
		if t.kind(i) != numberKind {
			continue
		}
		beside := t.source(i)
		g := cure.Gram(0)
		if t.kind(i+1) == massKind {
			g, _ = t.mass(part{Number: t.value(i), Mass: t.value(i + 1)}, i, i+2) // 0: has two readings
		} else if n, ok := readNumber(t.value(i)); ok && (logWords[beside] || tagWords[beside]) {
			g = cure.Gram(n.times(1)) * unit
		}
		if g >= least {
			all = append(all, reading{g, logWords[beside]})
		}
	}
	if len(all) != 2 || all[0].log == all[1].log {
		return
	}
	log, meat := all[0], all[1]
	if all[1].log {
		log, meat = meat, log
	}
	t.Logged, t.Meat.Pieces = cure.Typed(log.g), []cure.Gram{meat.g}
}

// source is the word for a record, a tag or a scale that toks[i] was read off; "" none.
func (t *telling) source(i int) string {
	for j := i - 1; j >= max(0, i-3); j-- {
		w := t.word(j)
		if logWords[w] || tagWords[w] {
			return w
		}
		if !betweenThem[w] && t.kind(j) != cutKind {
			break
		}
	}
	return ""
}
