package grammar

import (
	"slices"
	"strings"
	"unicode/utf8"

	"salthand/cure"
)

// Amend changes the dose of the batch in whose thread it stands, or that it names: "make it
// 2% salt". Clauses has what was said; the rest is unset.
type Amend struct{ Clauses Dose }

func (Amend) command() {}

// leads are the words before an amendment, folded; the longer of two that begin alike first.
var leads = phrasesOf("make it", "make that", "change it to", "change that to", "change to", "should be", "actually", "in fact", "correction", "sorry", "use",
	"en realidad", "mejor", "perdon", "que sean", "que sea", "ponle", "ponlo en", "pon", "usa", "cambia a",
	"en fait", "plutot", "pardon", "mets y", "mets", "mettez", "utilise", "prends", "passe a")

// tails are the words behind one: "no 2 instead".
var tails = phrasesOf("instead", "please", "mejor", "en su lugar", "por favor", "plutot", "a la place")

func phrasesOf(texts ...string) (all [][]string) {
	for _, t := range texts {
		all = append(all, strings.Fields(t))
	}
	return all
}

// bareFields are what a clause amends without a word before it. A cut, a temperature and
// "heated" alone may tell of something else, and so may a weight.
const bareFields = 1<<daysField | 1<<agentField | 1<<nitriteField | 1<<nitrateField | 1<<jarField | 1<<targetField | 1<<saltField |
	1<<sugarField | 1<<ascorbateField | 1<<thickField | 1<<skinField

// amended reads toks[from:] without the words around an amendment. Chatter: it is none.
func (r *reading) amended(from int) (Command, error) {
	text, ok := r.unled(from)
	if !ok {
		return Chatter{}, nil
	}
	again := reading{text: text, thread: r.thread, dates: r.dates, recipes: r.recipes, stripped: true}
	p, err := again.line()
	r.work += again.work
	if _, told := p.Command.(Told); told {
		return Chatter{}, nil // every word of it counts
	}
	return p.Command, err
}

// amendment reads toks[from:], which are no phrase of their own, as clauses that change the
// dose of the batch. Chatter: they are none.
func (r *reading) amendment(from int) (Command, error) {
	said := 0
	for f, at := range r.draft.said {
		if at.end > 0 {
			said |= 1 << f
		}
	}
	switch {
	case said == 0 && !r.weighed && !r.cured && !(r.stripped && r.has(numberKind)), len(r.wrong) > 0 && !r.stripped, r.cured && said == 0 && !r.stripped:
		return Chatter{}, nil
	case len(r.wrong) > 0 || len(r.doubts) > 0:
		return nil, r.worst()
	case said == 1<<weightField && !r.stripped:
		at := r.draft.said[weightField]
		typed := r.text[at.start:at.end]
		q := r.ask("which weight", at)
		q.Choices = []Choice{{"green weight", r.replaced(at, "make it "+typed)}, {"weighs now", r.replaced(at, "now "+typed)}}
		return nil, q
	case r.stripped || said&^(bareFields|1<<weightField) == 0:
		return Amend{r.draft.Dose}, nil
	}
	return Chatter{}, nil
}

// unled is the text with spaces in the place of the words around an amendment, so that every
// column stays; false: there are no such words.
func (r *reading) unled(from int) (string, bool) {
	if r.stripped {
		return "", false
	}
	p := r.pieced
	first, last := 0, len(p)
	for first < last && p[first].start < r.toks[from].start {
		first++
	}
	begin, end := first, last
	for again := true; again; {
		again = false
		if n := leading(p[begin:end], leads); n > 0 {
			begin, again = begin+n, true
		} else if end-begin > 2 && isMark(p[begin+1]) && slices.Contains([]string{"no", "non", "wait", "oops"}, p[begin].word) {
			begin, again = begin+1, true // "no 2" is a cure
		}
		for begin < end && again && isMark(p[begin]) {
			begin++
		}
	}
	for _, t := range tails {
		if n := end - len(t); n > begin && leading(p[n:end], [][]string{t}) == len(t) {
			end = n
			break
		}
	}
	if begin == end || begin == first && end == last {
		return "", false
	}
	out := r.text
	if end < last {
		out = out[:p[end-1].end]
	}
	if begin > first {
		out = out[:p[first].start] + strings.Repeat(" ", utf8.RuneCountInString(out[p[first].start:p[begin].start])) + out[p[begin].start:]
	}
	return out, true
}

// leading counts the pieces at the beginning that are one of the phrases.
func leading(p []piece, phrases [][]string) int {
	for _, words := range phrases {
		n := 0
		for n < len(words) && n < len(p) && p[n].word == words[n] {
			n++
		}
		if n == len(words) {
			return n
		}
	}
	return 0
}

func isMark(p piece) bool { return slices.Contains([]string{",", ":", "-", "–", "…", "."}, p.text) }

// With is the dose with the clauses of an amendment in the place of its own. What was not
// named stays, but for what belongs to a thing that was: the water of another method, the
// strength of another cure.
func (d Dose) With(a Amend) Dose {
	c := a.Clauses
	if c.Cut != "" {
		d.Cut = c.Cut
	}
	if len(c.Pieces) > 0 {
		if len(c.Pieces) != len(d.Pieces) {
			d.Thicknesses = nil
		}
		d.Pieces = c.Pieces
	}
	if c.Method.Set() && c.Method.Value != d.Method.Value {
		d.Water, d.Pump, d.Cover = cure.Given[cure.Gram]{}, cure.Given[cure.Fraction]{}, cure.Given[cure.Gram]{}
	}
	lay(&d.Method, c.Method)
	lay(&d.Water, c.Water)
	lay(&d.Pump, c.Pump)
	lay(&d.Cover, c.Cover)
	lay(&d.Days, c.Days)
	d = d.withCure(c)
	if c.Salt.Set() {
		d.Salt, d.SaltOnTop = c.Salt, c.SaltOnTop
	}
	lay(&d.Sugar, c.Sugar)
	lay(&d.Ascorbate, c.Ascorbate)
	if c.Thickness.Set() || len(c.Thicknesses) > 0 {
		d.Thickness, d.Sides, d.Thicknesses = c.Thickness, c.Sides, c.Thicknesses
	}
	lay(&d.SkinOn, c.SkinOn)
	lay(&d.Heated, c.Heated)
	lay(&d.Temperature, c.Temperature)
	if c.Region != "" {
		d.Region = c.Region
	}
	if c.Against != "" {
		d.Against = c.Against
	}
	return d
}

// withCure lays what was said of the curing salt and of the target over the dose.
func (d Dose) withCure(c Dose) Dose {
	none := cure.Given[cure.Fraction]{}
	if c.Kind != cure.NoAgent || c.Jar != "" || c.Recipe != "" {
		d.Kind, d.Nitrite, d.Nitrate, d.Rate, d.Jar = c.Kind, c.Nitrite, c.Nitrate, c.Rate, c.Jar
		if c.Recipe != "" {
			d.Recipe, d.RecipeVersion = c.Recipe, c.RecipeVersion
		}
		if c.Kind == cure.NoCure || c.Rate.Set() {
			d.Target = cure.Given[cure.PPM]{}
		}
	}
	if c.Target.Set() {
		d.Target, d.Rate = c.Target, none
	}
	return d
}

func lay[T any](old *cure.Given[T], said cure.Given[T]) {
	if said.Set() {
		*old = said
	}
}
