package grammar

import (
	"slices"
	"strings"

	"salthand/cure"
)

// WasOff tells that a recipe, a jar or a lot was not as it should be, and since when: "recipe B
// was at .40% since jan", "jar A7 was at 12% since october", "lot 2291 was mislabelled since may".
type WasOff struct {
	Of      string // as in Recall
	Name    string
	Version uint32
	Rate    cure.Given[cure.Fraction] // of cure by weight of a recipe's meat; of nitrite in a jar or a lot
	Since   *Span                     // nil: not said
}

func (WasOff) command() {}
func (c WasOff) canonical() string {
	out := c.Of + " " + c.Name + versionWord(c.Version) + " was "
	if c.Rate.Set() {
		out += "at " + unmistaken(float64(c.Rate.Value)*100) + "%"
	} else {
		out += "off"
	}
	return out + canonicalPast(c.Since)
}

// Their words, folded, in English, Spanish and French.
var (
	wasWords   = phrasesOf("was", "has been", "were", "estaba", "estuvo", "era", "llevaba", "etait", "a ete")
	wrongWords = phrasesOf("off", "wrong", "mislabelled", "mislabeled", "too strong", "too weak", "too high", "double", "doubled", "bad", "not right",
		"mal etiquetado", "mal etiquetada", "mal", "equivocada", "equivocado", "demasiado fuerte", "mal etiquete", "mal etiquetee", "mauvais", "mauvaise", "faux", "fausse", "trop fort", "trop forte")
)

// wasOff reads p as one; nil: it is none.
func (r *reading) wasOff(p []piece) Command {
	p = p[leading(p, articles):]
	if len(p) < 4 || recalled[p[0].word] == "" {
		return nil
	}
	out := WasOff{Of: recalled[p[0].word]}
	was := 2
	for was < len(p) && leading(p[was:], wasWords) == 0 {
		was++
	}
	if was >= len(p) {
		return nil
	}
	if out.Of == "recipe" {
		n := 0
		if out.Name, out.Version, n = r.recipeIn(p[1:was]); n != was-1 {
			return nil
		}
	} else if out.Name = r.textOf(p[1:was]); strings.ContainsAny(out.Name, " ,;:?!\n\t") || len(out.Name) > longestName {
		return nil
	}
	if out.Of == "lot" && isDigits(out.Name) && !slices.Contains([]string{"was", "has", "were"}, p[was].word) {
		return nil // "el lote 42 estaba …" is a batch
	}
	rest := p[was+leading(p[was:], wasWords):]
	since := slices.IndexFunc(rest, func(x piece) bool { return slices.Contains([]string{"since", "from", "desde", "depuis"}, x.word) })
	said := rest
	if since >= 0 {
		said = rest[:since]
		until := slices.IndexFunc(rest[since:], func(x piece) bool { return x.text == "," || x.text == ";" || x.text == "?" || x.text == ":" })
		if until < 0 {
			until = len(rest) - since
		}
		again := reading{text: "who cured what since " + r.textOf(rest[since+1:since+until]), dates: r.dates, plain: true}
		asked, err := again.line()
		r.work += again.work
		who, ok := asked.Command.(Who)
		if err != nil || !ok || who.Span == nil {
			return nil
		}
		out.Since = who.Span
	}
	if len(said) == 0 {
		return nil
	}
	at := stretch{said[0].start, said[len(said)-1].end}
	for i, t := range r.toks {
		if t.kind != numberKind || kindAt(r.toks, i+1) != percentKind || t.start < at.start || t.end > at.end {
			continue
		}
		n, err := r.number(t.value, at)
		if share := n.times(1) / 100; err == nil && share > 0 && share < 1 {
			out.Rate = cure.Typed(cure.Fraction(share))
			return out
		}
		return nil
	}
	if leading(said, wrongWords) == 0 || since < 0 {
		return nil
	}
	return out
}
