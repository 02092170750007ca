package grammar

import (
	"slices"
	"strconv"
	"strings"

	"salthand/cure"
)

// eachWords say of a weight that it is of each piece, or of all.
var eachWords = buildEach(said{"each", []string{"each", "ea", "apiece", "a piece", "cada uno", "cada una", "chacun", "chacune", "la piece"}},
	said{"total", []string{"total", "in total", "in all", "altogether", "all together", "en total", "en tout", "au total"}})

func buildEach(list ...said) *node {
	root := &node{}
	for _, s := range list {
		for _, w := range s.ways {
			root.add(w, entry{eachKind, s.value}, false, false, "")
		}
	}
	return root
}

// each reads "each" behind a weight, and the "of" of "3 pieces of 1.2 kg".
func (s *scan) each(i int) int {
	k := len(s.toks) - 1
	if k < 0 || s.pieces[i].line {
		return 0
	}
	switch p := s.pieces[i]; s.toks[k].kind {
	case massKind:
		if e, n := eachWords.find(s.pieces[i:], false, &s.compared); e != nil {
			return s.emit(*e, i, n)
		}
	case pieceKind, cutKind:
		if (p.word == "of" || p.word == "de") && isNumber(s.at(i+1).kind) && kindAt(s.toks, k-1) == numberKind {
			return s.emit(entry{eachKind, "each"}, i, 1)
		}
	}
	return 0
}

// sum gives the unit that was just read to the numbers before it that it is meant of as well:
// "2.1 + 3.3 kg".
func (s *scan) sum() {
	unit := s.toks[len(s.toks)-1]
	if unit.kind != massKind && unit.kind != lengthKind || unit.value == hashDoubt || unit.end == unit.start {
		return
	}
	first := len(s.toks) - 2
	for kindAt(s.toks, first-1) == plusKind && kindAt(s.toks, first-2) == numberKind {
		first -= 2
	}
	switch kindAt(s.toks, first-1) {
	case plusKind, timesKind, agentKind, vagueKind, perKind:
		return
	}
	for i := first; i < len(s.toks)-2; i += 3 {
		end := s.toks[i].end
		s.toks = slices.Insert(s.toks, i+1, token{unit.kind, unit.value, end, end})
	}
}

// count folds "3 pieces" or the number of "3 bellies".
func (r *reading) count(c *count, at stretch) error {
	n, err := strconv.Atoi(c.Number)
	if err != nil && c.Piece == "" { // "4½ belly"
		if _, err := r.number(c.Number, at); err != nil {
			return err
		}
		n = 0
	} else if err != nil || n < 1 || n > 200 {
		return r.fail("not a number", at)
	}
	r.draft.count = n
	return r.set(countField, at)
}

// settleCount makes pieces of a count and a weight, or asks whether the weight is of each.
func (r *reading) settleCount() {
	d := &r.draft
	all := d.each == "total"
	if !d.has(countField) {
		switch {
		case d.each == "each" && len(d.Pieces) == 1:
			r.doubts = append(r.doubts, r.fail("how many", d.said[eachField]))
		case all && len(d.Pieces) > 1:
			r.doubts = append(r.doubts, r.fail("of what", d.said[eachField]))
		}
		return
	}
	at := d.said[countField]
	switch n := len(d.Pieces); {
	case n == 0 && !r.weighed && r.unitless(at):
		q := r.ask("no unit", at)
		for _, unit := range []string{"kg", "lb"} {
			q.Choices = append(q.Choices, Choice{q.Token + " " + unit, r.replaced(at, q.Token+" "+unit)})
		}
		r.doubts = append(r.doubts, q)
	case n == 0, n == 1 && (d.count == 1 || all), n == d.count && n > 1 && !all:
	case d.count == 0, n > 1:
		e := r.fail("twice", d.said[weightField])
		e.Other = r.text[at.start:at.end]
		r.doubts = append(r.doubts, e)
	case d.each == "each":
		d.Pieces = slices.Repeat(d.Pieces, d.count)
	default:
		r.doubts = append(r.doubts, r.eachOrAll(d.count, at, d.said[weightField]))
	}
}

// unitless reports whether the number at a place counts nothing: it stands before a cut in
// the singular, and no weight was said.
func (r *reading) unitless(at stretch) bool {
	for i, t := range r.toks {
		if t.start != at.start || kindAt(r.toks, i+1) != cutKind {
			continue
		}
		next := r.toks[i+1]
		return r.draft.count == 0 || !strings.HasSuffix(fold(r.text[next.start:next.end]), "s")
	}
	return false
}

// eachOrAll asks whether a weight is of each of n pieces or of all of them.
func (r *reading) eachOrAll(n int, counted, weighed stretch) *Question {
	q := r.ask("pieces", weighed)
	for i, t := range r.toks { // "in 2 pieces"
		if t.kind == inKind && i+1 < len(r.toks) && r.toks[i+1].start == counted.start {
			counted.start = t.start
		}
	}
	if counted.start < weighed.end && weighed.start < counted.end {
		return q // in one another: "3 kg + 2 belly"
	}
	text := r.text[weighed.start:weighed.end]
	for _, c := range []Choice{{"each", strconv.Itoa(n) + " x " + text}, {"in all", text}} {
		var out string
		if counted.end <= weighed.start {
			out = r.text[:counted.start] + r.text[counted.end:weighed.start] + c.Phrase + r.text[weighed.end:]
		} else {
			out = r.text[:weighed.start] + c.Phrase + r.text[weighed.end:counted.start] + r.text[counted.end:]
		}
		q.Choices = append(q.Choices, Choice{c.Label, tidy(out)})
	}
	return q
}

// crates asks what "3 x 10 x 7 kg" is.
func (r *reading) crates(a *amount, at stretch) error {
	n, err1 := strconv.Atoi(a.Number)
	each, err2 := strconv.Atoi(a.Each)
	if err1 != nil || err2 != nil || n < 1 || each < 1 || n*each > 200 {
		return r.fail("not a number", at)
	}
	r.weighed = true
	one := a.Third + " " + a.Mass
	q := r.ask("pieces", at)
	for _, c := range []Choice{{"each", strconv.Itoa(n*each) + " x " + one}, {"in all", one}} {
		q.Choices = append(q.Choices, Choice{c.Label, r.replaced(at, c.Phrase)})
	}
	return q
}

// bareNumber asks what the only number of a clause is, where it may be a dose in ppm: "156".
func (r *reading) bareNumber(w *wrong) *Question {
	t := r.toks[w.bad]
	if t.kind != numberKind || w.from != w.bad || w.to != w.bad+1 || !isDigits(t.value) || r.draft.has(targetField) {
		return nil
	}
	if n := cure.PPM(small(t.value)); len(t.value) > 3 || n < 50 || n > 600 {
		return nil
	}
	q := r.ask("no unit", stretch{t.start, t.end})
	q.Choices = []Choice{{t.value + " ppm", r.replaced(stretch{t.start, t.end}, t.value+" ppm")}}
	if !r.draft.has(daysField) {
		q.Choices = append(q.Choices, Choice{t.value + " days", r.replaced(stretch{t.start, t.end}, t.value+" days")})
	}
	return q
}
