package grammar

import (
	"slices"
	"strings"
	"unicode"
)

// scan turns pieces into tokens: words of the trade, units after numbers, numbers with
// their fractions. Line breaks, commas and semicolons become separators.
type scan struct {
	text     string
	pieces   []piece
	recipes  []recipeName // that the kitchen knows
	toks     []token
	compared int // words that a possible typo was held against
	said     languages
}

func (s *scan) run() []token {
	s.toks = make([]token, 0, len(s.pieces)+1)
	for i := 0; i < len(s.pieces); {
		if s.pieces[i].line && len(s.toks) > 0 {
			s.toks = append(s.toks, token{kind: sepKind, start: s.pieces[i].start, end: s.pieces[i].start})
		}
		i += s.step(i)
	}
	return s.toks
}

// emit appends a token over pieces[i:i+n] and returns n.
func (s *scan) emit(e entry, i, n int) int {
	if e.kind != fillerKind {
		s.toks = append(s.toks, token{e.kind, e.value, s.pieces[i].start, s.pieces[i+n-1].end})
	}
	return n
}

// afterNumber reports whether the token just emitted is a number.
func (s *scan) afterNumber() bool {
	return len(s.toks) > 0 && s.toks[len(s.toks)-1].kind == numberKind
}

func (s *scan) at(i int) piece {
	if i < 0 || i >= len(s.pieces) {
		return piece{}
	}
	return s.pieces[i]
}

// step reads what begins at pieces[i] and returns how many pieces it took.
func (s *scan) step(i int) int {
	p := s.pieces[i]
	if (s.afterNumber() || len(s.toks) > 0 && s.toks[len(s.toks)-1].kind == perKind) && !p.line {
		if n := s.unit(i); n > 0 {
			return n + s.behind(i+n)
		}
		if n := s.orSo(i); n > 0 {
			return n
		}
	}
	if p.kind == lettersRaw {
		if n := s.recipe(i); n > 0 {
			return n
		}
	}
	if n := s.over(i); n > 0 {
		return n
	}
	if n := s.each(i); n > 0 {
		return n
	}
	if n := s.about(i); n > 0 {
		return n
	}
	if n := s.agent(i); n > 0 {
		return n
	}
	if n := s.noon(i); n > 0 {
		return n
	}
	switch p.kind {
	case numberRaw, fractionRaw, vulgarRaw:
		if p.text == "2" && soon[s.at(i+1).word] && touches(p, s.at(i+1)) {
			return s.emit(entry{dayKind, "tomorrow"}, i, 2)
		}
		return s.number(i)
	case clockRaw:
		return s.emit(entry{clockKind, p.text}, i, 1)
	case lettersRaw:
		return s.word(i)
	}
	switch p.text {
	case "(":
		if n := len(s.toks); n > 0 && s.toks[n-1].kind == agentKind && s.at(i+2).text == "%" && s.at(i+3).text == ")" {
			return 1 // "no 1 (6.25%)"
		}
		return s.emit(entry{sepKind, p.text}, i, 1)
	case ",", ";", ")":
		return s.emit(entry{sepKind, p.text}, i, 1)
	case "+", "&":
		return s.emit(entry{plusKind, "+"}, i, 1)
	case ".", ":", "?", "!":
		return 1
	case "-", "−":
		if touches(p, s.at(i+1)) && s.at(i+1).kind == numberRaw {
			return s.number(i)
		}
		if s.at(i-1).kind == lettersRaw && s.at(i+1).kind == lettersRaw && touches(s.at(i-1), p) && touches(p, s.at(i+1)) {
			return 1 // "dry-rub"
		}
	}
	if isPicture(p.text) {
		return 1
	}
	return s.emit(entry{oddKind, p.text}, i, 1)
}

// isPicture reports whether a mark is an emoji or a part of one: it says nothing.
func isPicture(mark string) bool {
	for _, r := range mark {
		if !unicode.In(r, unicode.So, unicode.Sk, unicode.Mn, unicode.Cf) || r == '°' {
			return false
		}
	}
	return mark != ""
}

// isShareOrDegree reports whether a per cent or a temperature begins at pieces[i].
func (s *scan) isShareOrDegree(i int) bool {
	if s.at(i).kind != numberRaw {
		return false
	}
	next := s.at(i + 1)
	return next.text == "%" || next.text == "°" || next.word == "c" || next.word == "f"
}

// behind reads what belongs to the amount whose unit is the last token: the rest of a range,
// "or so". It begins at pieces[j].
func (s *scan) behind(j int) int {
	s.sum()
	if n := s.again(j); n > 0 {
		return n
	}
	return s.orSo(j)
}

// number reads a number and keeps the text.
func (s *scan) number(i int) int {
	if m := s.dated(i); m > 0 {
		return m
	}
	if m := s.year(i); m > 0 {
		return m
	}
	n := s.digits(i)
	start, end := s.pieces[i].start, s.pieces[i+n-1].end
	s.toks = append(s.toks, token{numberKind, s.text[start:end], start, end})
	if m := s.upTo(i + n); m > 0 {
		return n + m
	}
	if m := s.spaced(i + n); m > 0 {
		return n + m
	}
	s.bareOunces(i, n)
	if next := s.at(i + n); ordinals[next.word] && touches(s.pieces[i+n-1], next) {
		return n + 1
	}
	return n
}

// digits is how many pieces a number takes that begins at pieces[i]: digits, with the sign
// before and the fraction after them.
func (s *scan) digits(i int) int {
	n := 1
	if s.pieces[i].text == "-" || s.pieces[i].text == "−" {
		n = 2
	}
	last := s.pieces[i+n-1]
	if last.kind == numberRaw && isDigits(last.text) {
		next := s.at(i + n)
		switch {
		case next.line:
		case next.kind == vulgarRaw, next.kind == fractionRaw && !touches(last, next):
			n++
		case next.text == "-" && touches(last, next) && s.at(i+n+1).kind == fractionRaw && touches(next, s.at(i+n+1)):
			n += 2
		}
	}
	return n
}

func isDigits(t string) bool {
	for i := range len(t) {
		if t[i] < '0' || t[i] > '9' {
			return false
		}
	}
	return t != ""
}

// agent reads the ways of saying no. 1 and no. 2: "no 1", "#1", "cure 1", "pink salt no. 1".
func (s *scan) agent(i int) int {
	j, core, mark := i, false, false
	if e, n := lexicon.find(s.pieces[i:], false, &s.compared); e != nil && e.kind == vagueKind && e.value == "pink salt" {
		j, core = j+n, true
	}
	switch p := s.at(j); {
	case p.text == "#" && !core && s.at(j-1).kind == lettersRaw && touches(s.at(j-1), p): // "pancet# 2,5 kg"
		return 0
	case p.text == "#":
		j, mark = j+1, true
	case p.word == "no" || p.word == "nr" || p.word == "nº" || p.word == "number":
		j, mark = j+1, true
		if s.at(j).text == "." || s.at(j).text == "#" {
			j++
		}
	case p.word == "n" && s.at(j+1).text == "°":
		j, mark = j+2, true
	}
	p := s.at(j)
	if mark && p.kind == numberRaw && len(p.text) > 2 && (p.text[0] == '1' || p.text[0] == '2') && p.text[1] == ',' {
		p = s.split(j) // "no 1,7 days": there is no no. 1.7
	}
	if !core && !mark || p.text != "1" && p.text != "2" || p.line {
		return 0
	}
	next := s.at(j + 1)
	if touches(p, next) && (next.kind == lettersRaw || next.kind == vulgarRaw) || next.kind == vulgarRaw || next.text == "%" {
		return 0
	}
	if next.text == "/" && s.at(j+2).kind != lettersRaw && (touches(p, next) || touches(next, s.at(j+2))) { // "#1/gal" names a cure, "#1/" does not
		return 0
	}
	if !mark && s.isUnit(j+1) { // "cure 2 kg belly"
		return 0
	}
	name := no1
	if p.text == "2" {
		name = no2
	}
	return s.emit(entry{agentKind, name}, i, j-i+1)
}

// split cuts the first digit and the comma off the number at pieces[j], and returns the digit.
func (s *scan) split(j int) piece {
	p := s.pieces[j]
	digit, comma, rest := p, p, p
	digit.text, digit.end = p.text[:1], p.start+1
	comma.kind, comma.text, comma.start, comma.end = 0, ",", p.start+1, p.start+2
	rest.text, rest.start = p.text[2:], p.start+2
	comma.line, rest.line = false, false
	s.pieces = slices.Replace(s.pieces, j, j+1, digit, comma, rest)
	return digit
}

// word looks up a word or several.
func (s *scan) word(i int) int {
	p := s.pieces[i]
	e, n, language := lexicon.findIn(s.pieces[i:], true, &s.compared)
	if language != "" {
		s.said.add(language)
	}
	if e == nil {
		if like := lookAlike(p.word); like != "" {
			n = 1
			if s.at(i+1).word == "salt" { // "nitritted salt"
				n = 2
			}
			return s.emit(entry{vagueKind, misspelt}, i, n)
		}
		if p.word == "h" && s.at(i+1).text == "2" && s.at(i+2).word == "o" && touches(p, s.at(i+1)) && touches(s.at(i+1), s.at(i+2)) {
			return s.emit(entry{waterKind, "water"}, i, 3)
		}
		return s.emit(entry{wordKind, p.word}, i, 1)
	}
	if e.kind == jarKind {
		return s.jar(i, n)
	}
	if e.value == "how much for" && n > 1 {
		if salt, m := lexicon.find(s.pieces[i+n-1:], false, &s.compared); m > 1 && salt.kind == agentKind {
			n-- // "combien de sel nitrité": the last word begins the name of a cure
		}
	}
	if e.kind == fillerKind && p.word == "a" && s.said.es+s.said.fr > s.said.en && s.isShareOrDegree(i+1) { // "à 2,5%", "a 3 c"
		return s.emit(entry{atKind, "at"}, i, 1)
	}
	if e.value == "x" && !(s.afterNumber() && isNumber(s.at(i+1).kind)) {
		return s.emit(entry{wordKind, p.word}, i, 1)
	}
	return s.emit(*e, i, n)
}

// misspelt is the value of a word that may be the name of a salt.
const misspelt = "misspelt"

// jar reads the name after "jar": letters and digits that touch.
func (s *scan) jar(i, n int) int {
	s.emit(entry{jarKind, "jar"}, i, n)
	j := i + n
	for j < len(s.pieces) && (s.pieces[j].kind == lettersRaw || s.pieces[j].kind == numberRaw && isDigits(s.pieces[j].text)) &&
		(j == i+n || touches(s.pieces[j-1], s.pieces[j])) {
		j++
	}
	if j == i+n {
		return n
	}
	start, end := s.pieces[i+n].start, s.pieces[j-1].end
	s.toks = append(s.toks, token{nameKind, strings.ToUpper(s.text[start:end]), start, end})
	return j - i
}
