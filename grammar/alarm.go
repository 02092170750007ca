package grammar

import "github.com/alecthomas/participle/v2/lexer"

// mishaps are words of something gone wrong; weak ones count only beside a salt or a spoon.
var mishaps = []struct {
	words []string
	weak  bool
}{
	{[]string{"spilled"}, false}, {[]string{"spilt"}, false}, {[]string{"spill"}, false},
	{[]string{"leaked"}, false}, {[]string{"leaking"}, false}, {[]string{"leaks"}, false}, {[]string{"leak"}, false},
	{[]string{"forgot"}, false}, {[]string{"forgotten"}, false},
	{[]string{"too", "much"}, false}, {[]string{"too", "little"}, false}, {[]string{"not", "enough"}, false},
	{[]string{"wrong"}, false}, {[]string{"accident"}, false}, {[]string{"mistake"}, false}, {[]string{"mistakenly"}, false},
	{[]string{"overdose"}, false}, {[]string{"overdosed"}, false}, {[]string{"mixed", "up"}, false},
	{[]string{"instead", "of"}, false}, {[]string{"au", "lieu", "de"}, false}, {[]string{"en", "vez", "de"}, false},
	{[]string{"dropped"}, false}, {[]string{"left", "out"}, false}, {[]string{"went", "warm"}, false}, {[]string{"got", "warm"}, false}, {[]string{"left", "warm"}, false},
	{[]string{"power", "cut"}, false}, {[]string{"power", "out"}, false}, {[]string{"power", "outage"}, false}, {[]string{"power", "went"}, false},
	{[]string{"poison"}, false}, {[]string{"had", "no", "cure"}, false}, {[]string{"counted"}, true},
	{[]string{"double"}, true}, {[]string{"doubled"}, true}, {[]string{"double", "dose"}, false}, {[]string{"double", "dosed"}, false}, {[]string{"twice"}, true},
	{[]string{"used"}, true}, {[]string{"put"}, true}, {[]string{"mixed"}, true}, {[]string{"went", "in"}, true},
	{[]string{"doble"}, true}, {[]string{"olvide"}, false}, {[]string{"derrame"}, false}, {[]string{"demasiado"}, true}, {[]string{"puse"}, true},
	{[]string{"oublie"}, false}, {[]string{"renverse"}, false}, {[]string{"trop", "de"}, true}, {[]string{"trompe"}, false},
}

// mishap finds words of something gone wrong beside an amount or a batch; nil: none.
func (r *reading) mishap(batch uint64) *Mishap {
	salty := r.has(agentKind, vagueKind, ionKind, spoonKind)
	if batch == 0 && !r.thread && !r.hasAmount() && !(salty && r.has(numberKind)) { // "1/3 too much cure #2"
		return nil
	}
	for _, m := range mishaps {
		if m.weak && !salty {
			continue
		}
		if at := r.findWords(m.words); at.end > 0 {
			out := &Mishap{Words: fold(r.text[at.start:at.end]), Spoon: r.has(spoonKind)}
			if r.draft.Cut != "" || r.draft.has(weightField) {
				d := r.draft.Dose
				out.Dose = &d
			}
			return out
		}
	}
	return nil
}

// findWords is the first place where ws stand in a row.
func (r *reading) findWords(ws []string) stretch {
	for i := range r.pieced {
		if i+len(ws) > len(r.pieced) {
			break
		}
		n := 0
		for n < len(ws) && r.pieced[i+n].word == ws[n] {
			n++
		}
		if n == len(ws) {
			return stretch{r.pieced[i].start, r.pieced[i+n-1].end}
		}
	}
	return stretch{}
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
	{[]string{"check"}, true}, {[]string{"swap"}, true}, {[]string{"mix"}, true}, {[]string{"how", "long"}, true},
	{[]string{"which", "cure"}, false}, {[]string{"seen"}, true}, {[]string{"weighed"}, true}, {[]string{"ph"}, true},
	{[]string{"now"}, true}, {[]string{"where", "did"}, false}, {[]string{"sheet"}, true}, {[]string{"meat", "scale"}, true},
	{[]string{"scale", "checked"}, true}, {[]string{"served"}, true}, {[]string{"correct"}, true},
}

// notYet refuses what is clearly a request of a kind that is not read yet; nil: it is none.
func (r *reading) notYet(from int) *Error {
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
		if l.number && (l.words[0] == "now" || l.words[0] == "ph" || l.words[0] == "seen" || l.words[0] == "weighed") && r.pieced[min(first+n, len(r.pieced)-1)].kind != numberRaw {
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
