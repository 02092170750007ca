package grammar

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// One changed digit of a weight changes it by just what that digit stands for, or is asked
// about, in every dose phrase of the table.
func TestDigitOfWeight(t *testing.T) {
	tried := 0
	for _, r := range rows(t) {
		base, err := Parse(r.phrase, Setting{})
		dose, ok := base.Command.(Dose)
		if err != nil || !ok || len(dose.Pieces) == 0 {
			continue
		}
		p, _ := cut(r.phrase)
		s := scan{text: r.phrase, pieces: p}
		toks := s.run()
		for i, tok := range toks {
			factor, plain := weightDigits(toks, i)
			if !plain || r.phrase[tok.start:tok.end] != tok.value {
				continue
			}
			count := 1.0
			if kindAt(toks, i-1) == timesKind && kindAt(toks, i-2) == numberKind {
				count = float64(small(toks[i-2].value))
			}
			if slices.ContainsFunc(toks, func(t token) bool { return t.kind == eachKind && t.value == "each" }) {
				count = float64(len(dose.Pieces))
			}
			mark := strings.IndexAny(tok.value, ".,")
			if mark < 0 {
				mark = len(tok.value)
			}
			for j := range len(tok.value) {
				old := tok.value[j]
				if old < '0' || old > '9' {
					continue
				}
				place := mark - 1 - j
				if j > mark {
					place = mark - j
				}
				for digit := byte('0'); digit <= '9'; digit++ {
					text := r.phrase[:tok.start+j] + string(digit) + r.phrase[tok.start+j+1:]
					again, err := Parse(text, Setting{})
					d, ok := again.Command.(Dose)
					if err != nil || !ok {
						continue
					}
					tried++
					want := weight(dose) + count*(float64(digit)-float64(old))*math.Pow10(place)*factor
					if math.Abs(weight(d)-want) > 1e-9*want {
						t.Errorf("%q: %q weighs %v g, want %v", r.phrase, text, weight(d), want)
					}
				}
			}
		}
	}
	if tried < 1000 {
		t.Errorf("%d digits tried, want at least 1000", tried)
	}
}

// weightDigits reports whether toks[i] is a plain number that weighs meat, and the grams of
// its unit: not one of a rate, or of what is in the water.
func weightDigits(toks []token, i int) (grams float64, ok bool) {
	if toks[i].kind != numberKind || kindAt(toks, i+1) != massKind || kindAt(toks, i-1) == perKind || kindAt(toks, i+2) == perKind {
		return 0, false
	}
	for _, c := range toks[i].value {
		if (c < '0' || c > '9') && c != '.' && c != ',' {
			return 0, false
		}
	}
	if strings.Count(toks[i].value, ".")+strings.Count(toks[i].value, ",") > 1 {
		return 0, false // "1,250.5"
	}
	switch kindAt(toks, i+2) {
	case agentKind, vagueKind, stuffKind, ionKind, waterKind:
		return 0, false
	}
	switch kindAt(toks, i-1) {
	case brineKind, coverKind, inKind, waterKind:
		return 0, false
	}
	grams, ok = factors[toks[i+1].value]
	return grams, ok
}

// Capitals never change what a dose or a figure says, but for a bare t, which is asked. The
// name of a recipe that the kitchen doesn't know stands as it was typed.
func TestLetterCase(t *testing.T) {
	for _, r := range rows(t) {
		p, err := Parse(r.phrase, Setting{})
		d, ok := p.Command.(Dose)
		if err != nil || !ok && !isFigure(p.Command) {
			continue
		}
		want := meaning(p, err)
		for _, text := range []string{strings.ToUpper(r.phrase), strings.ToLower(r.phrase)} {
			if got := meaning(Parse(text, Setting{})); got != want && !(d.Recipe != "" && strings.EqualFold(got, want)) {
				t.Errorf("%q means %q, %q means %q", r.phrase, want, text, got)
			}
		}
	}
}
