package grammar

import (
	"slices"

	"github.com/alecthomas/participle/v2/lexer"

	"salthand/cure"
)

// telling gathers the facts of a line in free words. It walks the tokens once and skips what
// says nothing. An amount is of what stands behind it ("12 g no 1"), else of what stands
// before it ("belly 2.3 kg"), else of nothing.
type telling struct {
	*reading
	Facts
	used []bool // tokens that are part of an amount
}

// facts reads all that the tokens say.
func (r *reading) facts() Facts {
	t := telling{reading: r, used: make([]bool, len(r.toks))}
	for i := range r.toks {
		if r.toks[i].kind == cutKind && t.Meat.Cut == "" {
			t.Meat.Cut = r.toks[i].value
		}
	}
	for i := 0; i < len(r.toks); {
		i += t.fact(i)
	}
	for i := range r.toks {
		t.named(i)
	}
	t.Product = t.product()
	t.settle()
	t.contrast()
	t.logged()
	return t.Facts
}

// contrast gives the small weight or the share before an "instead of 2.5 g cure" to that cure:
// it is what went in.
func (t *telling) contrast() {
	if len(t.Amounts) > 0 || len(t.Meant) == 0 {
		return
	}
	in := t.Meant[0]
	switch {
	case in.Grams.Set() && t.Small() > 0:
		in.Grams = cure.Typed(t.Small())
	case in.Rate.Set() && len(t.Shares) > 0:
		in.Rate = cure.Typed(t.Shares[0])
	default:
		return
	}
	t.Amounts = append(t.Amounts, in)
}

func (t *telling) kind(i int) lexer.TokenType { return kindAt(t.toks, i) }

func (t *telling) value(i int) string {
	if i < 0 || i >= len(t.toks) {
		return ""
	}
	return t.toks[i].value
}

func (t *telling) take(from, to int) {
	for i := from; i < to && i < len(t.used); i++ {
		t.used[i] = true
	}
}

// fact reads what begins at toks[i] and returns how many tokens it took, at least one.
func (t *telling) fact(i int) int {
	switch t.kind(i) {
	case spoonKind: // "a tsp", "tsp per 5 lb"
		return t.measure(i, i+1, &Spoons{Count: 1, Unit: t.value(i)})
	case numberKind:
	default:
		return 1
	}
	if n := t.parts(i); n > 0 {
		return n
	}
	if t.cureNumber(i) {
		return 1
	}
	number, err := t.number(t.value(i), t.at(i, i+1))
	if err != nil {
		return 1
	}
	switch t.kind(i + 1) {
	case massKind:
		if t.value(i+1) == "t" && t.subjectAt(i+2).of == "cure" { // "3 T pink salt": a teaspoon, a tablespoon, a tonne
			return t.measure(i, i+2, &Spoons{Count: number.times(1), Unit: "spoon"})
		}
		return t.weight(i)
	case timesKind:
		if t.kind(i+2) == numberKind && t.kind(i+3) == massKind {
			return t.pieces(i)
		}
		if t.kind(i+2) != numberKind { // "2x"
			t.Times = cure.Typed(Part(number.times(1)))
			return 2
		}
	case volumeKind:
		return t.volume(i)
	case percentKind, levelKind, ppmKind:
		return t.level(i, number)
	case spoonKind:
		return t.measure(i, i+2, &Spoons{Count: number.times(1), Unit: t.value(i + 1)})
	case spanKind:
		if d, err := t.reading.span(t.value(i), t.value(i+1), t.at(i, i+2)); err == nil {
			t.Spans = append(t.Spans, d)
		}
		return 2
	case degreeKind:
		if c, err := t.degrees(t.value(i), t.value(i+1), t.at(i, i+2)); err == nil {
			t.Temperatures = append(t.Temperatures, c)
		}
		return 2
	case lengthKind:
		if mm, err := t.length(t.value(i), t.value(i+1), t.at(i, i+2)); err == nil {
			t.Depths = append(t.Depths, mm)
		}
		return 2
	case wordKind:
		if unit := longSpans[t.value(i+1)]; unit != "" {
			if d, err := t.reading.span(t.value(i), unit, t.at(i, i+2)); err == nil {
				t.Spans = append(t.Spans, d)
			}
			return 2
		}
	}
	t.bare(i, number)
	return 1
}

func (t *telling) at(from, to int) stretch {
	return stretch{t.toks[from].start, t.toks[min(to, len(t.toks))-1].end}
}

// word is the folded text of a token.
func (t *telling) word(i int) string {
	if i < 0 || i >= len(t.toks) {
		return ""
	}
	return fold(t.text[t.toks[i].start:t.toks[i].end])
}

// named notes what toks[i] names where no amount took it.
func (t *telling) named(i int) {
	if t.used[i] {
		return
	}
	switch t.kind(i) {
	case wordKind:
		if t.value(i) == cura {
			a, next := t.cureAt(i)
			t.take(i, next)
			t.add(i, a)
		}
	case agentKind, vagueKind, ionKind:
		a, next := t.cureAt(i)
		t.take(i, next)
		t.add(i, a)
	case methodKind:
		if !t.Meat.Method.Set() {
			t.Meat.Method = cure.Typed(methodKinds[t.value(i)])
		}
	case brineKind:
		if !t.Meat.Method.Set() {
			t.Meat.Method = cure.Typed(cure.CoverBrine)
		}
	case flagKind:
		switch t.value(i) {
		case "skin on", "skin off":
			t.Meat.SkinOn = cure.Typed(t.value(i) == "skin on")
		}
	}
}

// product is the first word for what is made of the meat.
func (t *telling) product() string {
	for i := range t.toks {
		w := t.word(i)
		if two := products[w+" "+t.word(i+1)]; two != "" {
			return two
		}
		if p := products[w]; p != "" {
			return p
		}
	}
	return ""
}

func (t *telling) doubt(err error) {
	if q, ok := err.(*Question); ok {
		t.Doubts = append(t.Doubts, q)
	}
}

// least is the smallest weight that is taken for meat where nothing says what it is of:
// common practice, no source.
const least cure.Gram = 200

// settle makes the first loose weight that can be a piece of meat the meat, where none was
// named. The card says what was read.
func (f *Facts) settle() {
	if len(f.Meat.Pieces) > 0 {
		return
	}
	for i, g := range f.Loose {
		if g >= least {
			f.Meat.Pieces = []cure.Gram{g}
			f.Loose = slices.Delete(slices.Clone(f.Loose), i, i+1)
			return
		}
	}
}
