package grammar

import (
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

// A number that was said loosely is one token all the same: "3-4" and "3 to 4" have the value
// "3–4", "about 3" and "3 or so" have "~3".
const (
	ranged = "–"
	hedged = "~"
)

// connectors stand between the two numbers of a range.
var connectors = setOf("to", "or", "a", "o", "ou")

// hedges stand before a number that is not meant exactly.
var hedges = setOf("about", "approx", "approximately", "roughly", "around", "circa", "aprox", "aproximadamente", "unos", "unas", "environ")

func isDash(text string) bool { return text == "-" || text == "–" || text == "—" || text == "−" }

func isNumber(k lexer.TokenType) bool { return k == numberRaw || k == fractionRaw || k == vulgarRaw }

// about reads "about 3" and "~3", and returns how many pieces it took.
func (s *scan) about(i int) int {
	p, j := s.pieces[i], i+1
	if p.text != hedged && p.text != "≈" && !hedges[p.word] {
		return 0
	}
	if s.at(j).text == "." && !s.at(j).line && touches(p, s.at(j)) {
		j++
	}
	if !isNumber(s.at(j).kind) || s.at(j).line {
		return 0
	}
	k := len(s.toks)
	n := s.number(j)
	s.toks[k].value = hedged + s.toks[k].value
	s.toks[k].start = p.start
	return j - i + n
}

// upTo reads the rest of a range behind the number that is the last token and ends before
// pieces[j], and returns how many pieces it took: "-4", "to 4".
func (s *scan) upTo(j int) int {
	m, next := s.at(j), s.at(j+1)
	if !isDash(m.text) && !connectors[m.word] || m.line || !isNumber(next.kind) || next.line {
		return 0
	}
	k := len(s.toks) - 1
	switch kindAt(s.toks, k-1) {
	case periodKind, jarKind: // "day 20 to 35%"
		return 0
	case wordKind, verbKind:
		if before := s.toks[k-1].value; before == "ph" || before == "batch" {
			return 0
		}
	}
	n := s.digits(j + 1)
	if t := s.at(j + 1 + n); !s.isUnit(j+1+n) && (t.line || t.text != "#" && t.text != "°" && t.text != "º") {
		return 0
	}
	last := s.pieces[j+n]
	s.toks[k].value += ranged + s.text[next.start:last.end]
	s.toks[k].end = last.end
	return 1 + n
}

// spaced reads the "200" of "3 200 g" behind the number that is the last token: three thousand
// two hundred, or three times two hundred.
func (s *scan) spaced(j int) int {
	k := len(s.toks) - 1
	last, next := &s.toks[k], s.at(j)
	if next.line || next.kind != numberRaw || len(next.text) != 3 || !isDigits(next.text) || !isDigits(last.value) || len(last.value) > 3 || !s.isUnit(j+1) {
		return 0
	}
	switch kindAt(s.toks, k-1) {
	case eof, sepKind, cutKind, agentKind, plusKind, brineKind, coverKind, inKind:
	case verbKind:
		if s.toks[k-1].value == "batch" {
			return 0
		}
	default:
		return 0
	}
	last.value, last.end = last.value+" "+next.text, next.end
	return 1
}

// again reads the rest of a range behind a unit, "3 kg - 4 kg", of which the second unit
// follows at pieces[j+2] or later, and returns how many pieces stand before that.
func (s *scan) again(j int) int {
	m, next, k := s.at(j), s.at(j+1), len(s.toks)-1
	if !isDash(m.text) && m.word != "or" && m.word != "o" && m.word != "ou" || m.line || !isNumber(next.kind) || next.line || k < 1 {
		return 0
	}
	n := s.digits(j + 1)
	e, _ := unitWords.find(s.pieces[min(j+1+n, len(s.pieces)):], false, &s.compared)
	if e == nil || e.kind != s.toks[k].kind || e.value != s.toks[k].value {
		return 0
	}
	last := s.pieces[j+n]
	s.toks = s.toks[:k]
	s.toks[k-1].value += ranged + s.text[next.start:last.end]
	s.toks[k-1].end = last.end
	return 1 + n
}

// orSo reads "or so" and "ish" behind an amount, which begin at pieces[j].
func (s *scan) orSo(j int) int {
	n := 0
	switch p := s.at(j); {
	case p.line:
	case p.word == "or" && s.at(j+1).word == "so":
		n = 2
	case isDash(p.text) && s.at(j+1).word == "ish":
		n = 2
	case p.word == "ish", p.word == "approx":
		n = 1
	}
	if n == 0 || !s.afterNumber() && (len(s.toks) < 2 || s.toks[len(s.toks)-2].kind != numberKind) {
		return 0
	}
	k := len(s.toks) - 1
	s.toks[k].end = s.pieces[j+n-1].end
	if s.toks[k].kind != numberKind {
		k--
	}
	s.toks[k].value = hedged + s.toks[k].value
	return n
}

// lowOrHigh asks which number of a range is meant.
func (r *reading) lowOrHigh(typed string, at stretch) error {
	if r.fig != nil && r.fig.name == "cooling" {
		return r.fail("not a number", at)
	}
	low, high, _ := strings.Cut(strings.TrimPrefix(typed, hedged), ranged)
	where, unit := r.typed(typed, at)
	q := r.ask("range", where)
	for _, n := range []string{low, high} {
		q.Choices = append(q.Choices, Choice{n + unit, r.replaced(where, n)})
	}
	return q
}

// isSpaced reports whether a number is two, with a space between: see spaced.
func isSpaced(typed string) bool {
	low, high, two := strings.Cut(typed, " ")
	return two && isDigits(low) && isDigits(high)
}

// thousandOrTimes asks what "3 200 g" is.
func (r *reading) thousandOrTimes(typed string, at stretch) error {
	low, high, _ := strings.Cut(typed, " ")
	where, unit := r.typed(typed, at)
	q := r.ask("spaced", where)
	for _, n := range []string{low + high, low + " x " + high} {
		q.Choices = append(q.Choices, Choice{n + unit, r.replaced(where, n)})
	}
	return q
}

// exactly asks for the weight itself where "about" one was said: a dose rests on it.
func (r *reading) exactly(typed string, at stretch) error {
	if !strings.HasPrefix(typed, hedged) || strings.Contains(typed, ranged) {
		return nil
	}
	n := strings.TrimPrefix(typed, hedged)
	where, unit := r.typed(typed, at)
	for i, t := range r.toks {
		if t.start == where.start && kindAt(r.toks, i+1) == massKind || t.start == where.start && kindAt(r.toks, i+1) == volumeKind {
			where.end = max(where.end, r.toks[i+1].end)
			n += " " + r.toks[i+1].value
		}
	}
	q := r.ask("about", where)
	q.Choices = []Choice{{strings.TrimPrefix(typed, hedged) + unit, r.replaced(where, n)}}
	return q
}

// exact asks for the weight of a part itself where "about" was said.
func (r *reading) exact(p part, at stretch) error {
	for _, typed := range []string{p.Number, p.Each, p.Small} {
		if err := r.exactly(typed, at); err != nil {
			return err
		}
	}
	return nil
}

// fromTo asks which of two weights is meant where "3 kg to 4 kg" was said.
func (r *reading) fromTo(p part, from, to int) error {
	between := r.text[r.toks[from+1].end:r.toks[to-2].start]
	if !connectors[fold(strings.TrimSpace(between))] {
		return nil
	}
	at := stretch{r.toks[from].start, r.toks[to-1].end}
	q := r.ask("range", at)
	for _, n := range []string{p.Number, p.Small} {
		q.Choices = append(q.Choices, Choice{n + " " + p.Mass, r.replaced(at, n+" "+p.Mass)})
	}
	return q
}

// typed is where a number stands that was read from within at, and the unit behind it.
func (r *reading) typed(number string, at stretch) (where stretch, unit string) {
	for i, t := range r.toks {
		if t.kind != numberKind || t.value != number || t.start < at.start || t.end > at.end {
			continue
		}
		if i+1 < len(r.toks) {
			switch next := r.toks[i+1]; next.kind {
			case massKind, volumeKind, lengthKind, spanKind, degreeKind, percentKind, levelKind, ppmKind:
				unit = " " + r.text[next.start:next.end]
				if next.end <= next.start || strings.HasPrefix(number, hedged) {
					unit = " " + next.value
				}
				if next.kind == percentKind || unit == " \"" {
					unit = strings.TrimSpace(unit)
				}
			}
		}
		return stretch{t.start, t.end}, unit
	}
	return at, ""
}
