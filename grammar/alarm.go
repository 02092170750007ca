package grammar

import (
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

// beside says what must stand in the line with a word of something gone wrong.
type beside uint8

const (
	anything  beside = iota
	aSalt            // a salt or a spoon
	aContrast        // a salt, and "not", "instead" or a spoon
)

// mishaps are words of something gone wrong: English, Spanish, French, folded.
var mishaps = []struct {
	needs beside
	words []string // each a word, or several in a row
}{
	{anything, []string{"spilled", "spilt", "leaked", "leaking", "leaks", "leak", "forgot", "forgotten", "too much", "too little", "not enough",
		"wrong", "accident", "mistake", "mistakenly", "overdose", "overdosed", "mixed up", "instead of", "dropped", "left out", "left warm", "went warm", "got warm",
		"power cut", "power out", "power outage", "power went", "poison", "had no cure", "double dose", "double dosed",
		"olvide", "derrame", "en vez de", "oublie", "renverse", "trompe", "au lieu de"}},
	{aSalt, []string{"double", "doubled", "twice", "counted", "himalayan", "doble", "demasiado", "trop de"}},
	{aContrast, []string{"used", "put", "mixed", "went in", "puse", "mis"}},
}

var contrasts = setOf("not", "instead", "vez", "lieu", "pas")

// somethingWrong finds words of something gone wrong beside an amount or a batch; false: none.
func (r *reading) somethingWrong(batch uint64) (Told, bool) {
	salty := r.has(spoonKind, agentKind, vagueKind, ionKind) || r.said("cure")
	if batch == 0 && !r.thread && !r.hasAmount() && !(salty && r.has(numberKind)) { // "1/3 too much cure #2"
		return Told{}, false
	}
	contrast := salty && (r.has(spoonKind) || anyOf(r.pieced, contrasts))
	for _, m := range mishaps {
		if m.needs == aSalt && !salty || m.needs == aContrast && !contrast {
			continue
		}
		for _, w := range m.words {
			if r.said(w) {
				return Told{Of: SomethingWrong, Said: r.facts()}, true
			}
		}
	}
	return Told{}, false
}

// said reports whether a word, or several in a row, stand in the line.
func (r *reading) said(phrase string) bool {
	first, rest, more := strings.Cut(phrase, " ")
	for i := range r.pieced {
		if r.pieced[i].word != first {
			continue
		}
		if !more {
			return true
		}
		ws := strings.Split(rest, " ")
		n := 0
		for n < len(ws) && i+1+n < len(r.pieced) && r.pieced[i+1+n].word == ws[n] {
			n++
		}
		if n == len(ws) {
			return true
		}
	}
	return false
}

func (r *reading) has(ks ...lexer.TokenType) bool {
	for _, t := range r.toks {
		for _, k := range ks {
			if t.kind == k {
				return true
			}
		}
	}
	return false
}

// hasAmount reports whether a number stands before a unit, or before a salt.
func (r *reading) hasAmount() bool {
	for i, t := range r.toks {
		if t.kind != numberKind || i+1 == len(r.toks) {
			continue
		}
		switch next := r.toks[i+1].kind; next {
		case massKind, volumeKind, percentKind, levelKind, ppmKind, spoonKind, agentKind, vagueKind, degreeKind, cutKind:
			return true
		}
	}
	return false
}

// spoons asks about a spoon of cure in a line that is no phrase; nil: there is none.
func (r *reading) spoons() *Question {
	for i, t := range r.toks {
		if t.kind != spoonKind {
			continue
		}
		for j := i + 1; j < min(len(r.toks), i+3); j++ {
			if isSalt(r.toks[j].kind) {
				q := r.ask("spoon", stretch{t.start, r.toks[j].end})
				q.Choices = nil
				return q
			}
		}
	}
	return nil
}

// later are phrases that this version does not read yet, by their first words.
var later = []struct {
	words  []string
	number bool // a number must follow somewhere
}{
	{[]string{"weighed"}, true}, {[]string{"where", "did"}, false}, {[]string{"sheet"}, true}, {[]string{"correct"}, true},
}

// notYet refuses what is clearly a request of a kind that is not read yet; nil: it is none.
func (r *reading) notYet(from int) *Error {
	if from == len(r.toks) {
		return nil
	}
	at := r.toks[from].start
	first := 0
	for first < len(r.pieced) && r.pieced[first].start < at {
		first++
	}
	for _, l := range later {
		n := 0
		for n < len(l.words) && first+n < len(r.pieced) && r.pieced[first+n].word == l.words[n] {
			n++
		}
		if n < len(l.words) || l.number && !r.has(numberKind) {
			continue
		}
		if l.number && l.words[0] == "weighed" && r.pieced[min(first+n, len(r.pieced)-1)].kind != numberRaw {
			continue
		}
		e := r.fail("not yet", stretch{r.pieced[first].start, r.pieced[first+n-1].end})
		e.Example = example
		return e
	}
	return nil
}

func words(text string) []piece {
	p, _ := cut(text)
	return p
}
