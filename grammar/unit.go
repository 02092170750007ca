package grammar

import (
	"strconv"
	"strings"
)

// noon reads the "am" or "p.m." behind a number or a time.
func (s *scan) noon(i int) int {
	p := s.pieces[i]
	n := 1
	if (p.word == "a" || p.word == "p") && s.at(i+1).text == "." && s.at(i+2).word == "m" && touches(s.at(i+1), s.at(i+2)) {
		p.word, p.end, n = p.word+"m", s.at(i+2).end, 3
	}
	if p.word != "am" && p.word != "pm" || !s.clock12(p) {
		return 0
	}
	return n
}

// clock12 turns the number or the time before "am" or "pm" into a time of day: "9 am", "3:30pm".
func (s *scan) clock12(p piece) bool {
	if len(s.toks) == 0 || p.line {
		return false
	}
	t := &s.toks[len(s.toks)-1]
	hour, minute, _ := strings.Cut(t.value, ":")
	if t.kind != numberKind && t.kind != clockKind || !isDigits(hour) || len(hour) > 2 || small(hour) < 1 || small(hour) > 12 {
		return false
	}
	h := small(hour) % 12
	if p.word == "pm" {
		h += 12
	}
	if minute == "" {
		minute = "00"
	}
	t.kind, t.value, t.end = clockKind, strconv.Itoa(h)+":"+minute, p.end
	return true
}

// clockH turns the number before "h" into a time of day where a day stands before it: "demain
// 9h", "lundi 9h30".
func (s *scan) clockH(i int) int {
	k := len(s.toks) - 1
	switch kindAt(s.toks, k-1) {
	case dayKind, weekdayKind, monthKind:
	default:
		return 0
	}
	t := &s.toks[k]
	if !isDigits(t.value) || len(t.value) > 2 || small(t.value) > 23 {
		return 0
	}
	minutes, n := "00", 1
	if next := s.at(i + 1); touches(s.pieces[i], next) && next.kind == numberRaw {
		if !isDigits(next.text) || len(next.text) != 2 {
			return 0
		}
		minutes, n = next.text, 2
	}
	t.kind, t.value, t.end = clockKind, t.value+":"+minutes, s.pieces[i+n-1].end
	return n
}

// bareOunces gives the number that was just read its unit where none is typed but one is
// meant: "10 lb 15", "3lb12" and "2kg500". A number that touches the unit before it belongs
// to it, whatever follows.
func (s *scan) bareOunces(i, n int) {
	k := len(s.toks)
	if k < 3 || s.toks[k-2].kind != massKind || s.toks[k-3].kind != numberKind || k > 4 && s.toks[k-4].kind == massKind {
		return
	}
	switch between := s.text[s.toks[k-2].end:s.toks[k-1].start]; strings.TrimSpace(between) {
	case "", ".", "and", "y", "et":
	default:
		return
	}
	last, end := s.pieces[i+n-1], s.pieces[i+n-1].end
	next, before := s.at(i+n), s.toks[k-2]
	if before.end == s.toks[k-1].start && before.end > before.start && before.value != "g" && before.value != "oz" {
		unit, _ := unitWords.find(s.pieces[i+n:], false, &s.compared)
		switch {
		case unit != nil && unit.kind == massKind && !next.line:
		case next.kind == lettersRaw && touches(last, next): // "4 lb1belly"
			s.toks = append(s.toks, token{oddKind, "", end, end})
		case before.value == "kg" && isDigits(last.text) && len(last.text) == 3:
			s.toks = append(s.toks, token{massKind, "g", end, end})
		case before.value == "lb":
			s.toks = append(s.toks, token{massKind, "oz", end, end})
		default:
			s.toks = append(s.toks, token{oddKind, "", end, end}) // "2kg5"
		}
		return
	}
	grams := before.value == "kg" && isDigits(last.text) && len(last.text) == 3
	if before.value != "lb" && !grams {
		return
	}
	ends := next.kind == 0 || next.line || next.text == "+" || next.text == "," || next.text == ";"
	if next.kind == lettersRaw && !touches(last, next) {
		of := 0
		if next.word == "of" || next.word == "de" {
			of = 1
		}
		e, _ := lexicon.find(s.pieces[i+n+of:], false, &s.compared)
		all, _ := eachWords.find(s.pieces[i+n:], false, &s.compared)
		ends = e != nil && e.kind == cutKind || all != nil
	}
	switch {
	case ends && grams:
		s.toks = append(s.toks, token{massKind, bareGrams, end, end})
	case ends:
		s.toks = append(s.toks, token{massKind, "oz", end, end})
	}
}

// bareGrams is the unit of the 500 in "2 kg 500", which are asked about.
const bareGrams = "g?"

// isUnit reports whether a unit begins at pieces[i].
func (s *scan) isUnit(i int) bool {
	if s.at(i).kind != lettersRaw || s.at(i).line {
		return s.at(i).text == "%" || s.at(i).text == "\""
	}
	e, _ := unitWords.find(s.pieces[i:], false, &s.compared)
	return e != nil
}

// unit reads the unit of the number before it.
func (s *scan) unit(i int) int {
	p := s.pieces[i]
	switch p.text {
	case "%":
		return s.emit(entry{percentKind, "%"}, i, 1)
	case "‰":
		return s.emit(entry{levelKind, "g/kg"}, i, 1)
	case "\"", "”", "″":
		return s.emit(entry{lengthKind, "in"}, i, 1)
	case "'":
		if s.at(i+1).text == "'" && touches(p, s.at(i+1)) {
			return s.emit(entry{lengthKind, "in"}, i, 2)
		}
	case "×", "*":
		if isNumber(s.at(i + 1).kind) {
			return s.emit(entry{timesKind, "x"}, i, 1)
		}
	case "°", "º":
		switch w := s.at(i + 1).word; w {
		case "c", "f":
			return s.emit(entry{degreeKind, w}, i, 2)
		case "sal", "be":
			return s.emit(entry{saltyKind, w}, i, 2)
		}
		return s.emit(entry{degreeKind, bareDegree}, i, 1)
	case "#":
		return s.hash(i)
	}
	if p.kind != lettersRaw {
		return 0
	}
	if p.word == "fl" && s.at(i+1).text == "." && (s.at(i+2).word == "oz" || s.at(i+2).word == "ozs") {
		return s.emit(entry{volumeKind, "fl oz"}, i, 3)
	}
	if n := s.per(i); n > 0 {
		return n
	}
	if p.word == "h" && s.at(i+1).text == "2" && s.at(i+2).word == "o" && touches(p, s.at(i+1)) { // "1200 h2o" is no time
		return 0
	}
	e, n := unitWords.find(s.pieces[i:], false, &s.compared)
	switch {
	case e == nil:
		return 0
	case p.word == "h":
		if m := s.clockH(i); m > 0 {
			return m
		}
	case e.value == "in" && isNumber(s.at(i+n).kind): // "brisket 2 in 4 l"
		return 0
	case e.kind == timesKind && !isNumber(s.at(i+n).kind):
		return 0
	}
	return s.emit(*e, i, n)
}

// per reads "g/kg", "mg per kg", "oz/lb" and "g/l".
func (s *scan) per(i int) int {
	over := s.at(i + 1)
	if over.text != "/" && over.word != "per" {
		return 0
	}
	switch s.pieces[i].word + "/" + s.at(i+2).word {
	case "mg/kg", "mg/kilo":
		return s.emit(entry{ppmKind, "ppm"}, i, 3)
	case "g/kg", "g/kilo":
		return s.emit(entry{levelKind, "g/kg"}, i, 3)
	case "oz/lb", "oz/pound":
		return s.emit(entry{levelKind, "oz/lb"}, i, 3)
	case "g/l", "g/litre", "g/liter":
		return s.emit(entry{saltyKind, "g/l"}, i, 3)
	}
	return 0
}

// hash reads a "#" after a number: pounds, or pounds that may be a cure ("9#1").
func (s *scan) hash(i int) int {
	next := s.at(i + 1)
	if (next.text == "1" || next.text == "2") && !next.line && !s.isUnit(i+2) && s.digits(i+1) == 1 {
		return s.emit(entry{massKind, hashDoubt}, i, 2)
	}
	return s.emit(entry{massKind, "lb"}, i, 1)
}

// hashDoubt is the unit of "9#1".
const hashDoubt = "#"
