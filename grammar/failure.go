package grammar

import (
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2/lexer"
)

// saltCodes are names of salts that are no dose yet: each is an error of its own.
var saltCodes = map[string]string{"saltpetre": "saltpetre", "potassium": "potassium", "potassium nitrate": "potassium", "celery": "celery", "nitrite": "nitrite", "nitrate": "nitrate"}

// isSalt reports whether a token names a curing salt or may do so.
func isSalt(k lexer.TokenType) bool {
	return k == agentKind || k == vagueKind || k == ionKind
}

// fail makes an error at a place.
func (r *reading) fail(code string, at stretch) *Error {
	return &Error{Code: code, Column: column(r.text, at.start), Width: utf8.RuneCountInString(r.text[at.start:at.end]), Token: r.text[at.start:at.end]}
}

// stray is an error for a word that says nothing where it stands.
func (r *reading) stray(at stretch) error { return r.fail("of what", at) }

// vague turns the name of a salt that is not clear into a question, or into an error.
func (r *reading) vague(name string, at stretch) error {
	r.cured = true
	if code := saltCodes[name]; code != "" {
		return r.fail(code, at)
	}
	return r.ask(name, at)
}

// ask makes a question at a place, with its choices.
func (r *reading) ask(code string, at stretch) *Question {
	q := &Question{Code: code, Column: column(r.text, at.start), Width: utf8.RuneCountInString(r.text[at.start:at.end]), Token: r.text[at.start:at.end]}
	offer := func(label, text string) { q.Choices = append(q.Choices, Choice{label, r.replaced(at, text)}) }
	for _, cut := range doubtfulCuts[code] {
		q.Code = "cut"
		offer(cut, cut)
	}
	switch code {
	case "gal":
		q.Code = "gallon"
		offer("us gal", "us gal")
		offer("imp gal", "imp gal")
	case "qt":
		q.Code = "quart"
		offer("us qt", "us qt")
		offer("imp qt", "imp qt")
	case "fl oz":
		q.Code = "fluid ounce"
		offer("us fl oz", "us fl oz")
		offer("imp fl oz", "imp fl oz")
	case "oz":
		q.Code = "ounce"
		offer("us fl oz", "us fl oz")
		offer("imp fl oz", "imp fl oz")
		offer("oz weight", "oz weight")
	case "pink salt", misspelt:
		at.start, at.end = r.salt(at)
		offer(no1, no1)
		offer(no2, no2)
		offer(nitritedSalt, nitritedSalt)
	case "spoon":
		if salt := r.agentIn(at); salt != "" && r.fig == nil {
			offer("weigh it", salt)
		}
	case "hash":
		if r.fig != nil {
			break
		}
		number, small, _ := strings.Cut(q.Token, "#")
		number, small = strings.TrimSpace(number), strings.TrimSpace(small)
		offer("no "+small, number+" lb, no "+small+",")
		offer(number+" lb "+small+" oz", number+" lb "+small+" oz")
	case bareDegree:
		number := r.digitsIn(at)
		if r.fig != nil && r.fig.name == "brine" && !r.has(saltyKind) {
			offer(number+" sal", number+" sal")
			offer(number+" be", number+" be")
			break
		}
		offer(number+" c", number+" c")
		offer(number+" f", number+" f")
	case "grams":
		offer(q.Token+" g", q.Token+" g")
	case "pt":
		q.Code = "pint"
		offer("us pt", "us pt")
		offer("imp pt", "imp pt")
	case minced:
		offer("ground pork", "ground pork")
		offer("ground beef", "ground beef")
	case "ppm":
		number, rest, _ := strings.Cut(q.Token, "ppm")
		offer(strings.TrimSpace(number)+" ppm nitrite", strings.TrimSpace(number)+" ppm,"+rest)
	}
	return q
}

// digitsIn is the last number that stands at a place, as it was typed.
func (r *reading) digitsIn(at stretch) string {
	n := r.within(at, numberKind)
	return r.text[n.start:n.end]
}

// salt widens the place of a vague name from "2.5% pink salt" to the words themselves.
func (r *reading) salt(at stretch) (int, int) {
	for _, t := range r.toks {
		if t.start >= at.start && t.end <= at.end && isSalt(t.kind) {
			return t.start, t.end
		}
	}
	return at.start, at.end
}

// agentIn is the curing salt that stands at a place: "" if none.
func (r *reading) agentIn(at stretch) string {
	for _, t := range r.toks {
		if t.start >= at.start && t.end <= at.end && t.kind == agentKind {
			return t.value
		}
	}
	return ""
}

// replaced is the text with another word at a place.
func (r *reading) replaced(at stretch, word string) string {
	return tidy(r.text[:at.start] + word + r.text[at.end:])
}

// tidy takes out doubled separators and blanks.
func tidy(s string) string {
	for _, p := range [][2]string{{"\n", " "}, {"  ", " "}, {" ,", ","}, {",,", ","}, {", ,", ","}, {"()", ""}} {
		for strings.Contains(s, p[0]) {
			s = strings.ReplaceAll(s, p[0], p[1])
		}
	}
	return strings.Trim(s, " ,;")
}

// place is where the first token of a kind stands in toks[from:to].
func (r *reading) place(k lexer.TokenType, from, to int) stretch {
	for _, t := range r.toks[from:to] {
		if t.kind == k {
			return stretch{t.start, t.end}
		}
	}
	return stretch{r.toks[from].start, r.toks[to-1].end}
}

// within is where the last token of a kind stands in a stretch of the text.
func (r *reading) within(at stretch, k lexer.TokenType) stretch {
	found := at
	for _, t := range r.toks {
		if t.kind == k && t.start >= at.start && t.end <= at.end {
			found = stretch{t.start, t.end}
		}
	}
	return found
}

// counted is where the number before a unit stands, and where the unit ends.
func (r *reading) counted(unit string, at stretch) (digits stretch, end int, ok bool) {
	for i, t := range r.toks {
		if t.kind == massKind && t.value == unit && t.start >= at.start && t.end <= at.end && i > 0 && r.toks[i-1].kind == numberKind {
			return stretch{r.toks[i-1].start, r.toks[i-1].end}, t.end, true
		}
	}
	return digits, 0, false
}

// unclear asks about a unit of mass that has two readings.
func (r *reading) unclear(unit string, at stretch) error {
	switch unit {
	case hashDoubt:
		return r.ask("hash", at)
	case livre:
		digits, end, ok := r.counted(livre, at)
		if !ok { // "3 oz per livre"
			q := r.ask(livre, at)
			q.Choices = nil
			return q
		}
		at = stretch{digits.start, end}
		q := r.ask(livre, at)
		for _, u := range []string{"lb", "x 500 g"} {
			text := r.text[digits.start:digits.end] + " " + u
			q.Choices = append(q.Choices, Choice{text, r.replaced(at, text)})
		}
		return q
	}
	return r.ask("t", at)
}

// worst is the one failure to answer: a spoon of cure; else the first clause that can't be
// read; else the first question; else the first number that can't be.
func (r *reading) worst() error {
	for _, d := range r.doubts {
		if q, ok := d.(*Question); ok && (len(r.wrong) == 0 || q.Code == "spoon") {
			return q
		}
	}
	if len(r.wrong) == 1 {
		if q := r.bareNumber(r.wrong[0]); q != nil {
			return q
		}
		if q := r.dayInDose(r.wrong[0]); q != nil {
			return q
		}
	}
	var e *Error
	if len(r.wrong) > 0 {
		e = r.misfit(r.wrong[0])
	} else {
		e, _ = r.doubts[0].(*Error)
	}
	if e.Example == "" && !r.plain {
		e.Example = r.example(e)
	}
	return e
}

// misfit names what is wrong with a clause.
func (r *reading) misfit(w *wrong) *Error {
	t := r.toks[w.bad]
	at := stretch{t.start, t.end}
	if t.kind == numberKind {
		if w.bad+1 < w.to && r.toks[w.bad+1].kind == wordKind {
			next := r.toks[w.bad+1]
			e := r.fail("unknown unit", stretch{next.start, next.end})
			e.Suggest = nearest(next.value, unitNames)
			return e
		}
		e := r.fail("no unit", at)
		return e
	}
	if t.kind == wordKind && w.bad > w.from && r.toks[w.bad-1].kind == numberKind {
		e := r.fail("unknown unit", at)
		e.Suggest = nearest(t.value, unitNames)
		return e
	}
	if t.kind == oddKind {
		return r.fail("unknown mark", at)
	}
	if t.kind == stuffKind {
		return r.fail("of what", at)
	}
	if r.draft.Cut == "" && t.kind == wordKind && (r.fig == nil || !r.fig.isLog()) {
		e := r.fail("unknown cut", at)
		e.Suggest = nearest(t.value, cutNames())
		if r.fig != nil && r.fig.name == "which cure" {
			e.Suggest = nearest(t.value, append(cutNames(), productNames()...))
		}
		return e
	}
	e := r.fail("unknown word", at)
	e.Suggest = nearest(t.value, clauseNames())
	return e
}

var unitNames = []string{"kg", "g", "lb", "oz", "days", "day", "weeks", "week", "hours", "litres", "cm", "mm", "inch", "ppm", "percent"}

func cutNames() []string {
	var out []string
	for _, c := range cuts {
		out = append(out, c.ways...)
	}
	return out
}

func productNames() []string { return slices.Sorted(maps.Keys(products)) }

// clauseNames are the words that a clause may be made of; no salt is among them.
func clauseNames() []string {
	out := []string{"brine", "inject", "pump", "cover", "salt", "sugar", "skin on", "skin off", "heated", "not heated", "thick", "water", "jar"}
	for _, m := range methods {
		out = append(out, m.ways...)
	}
	return out
}
