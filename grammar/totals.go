package grammar

import "strings"

// Totals asks for sums over what went into the cure: "totals october", "how much belly last month".
type Totals struct {
	Cut  string // cure.Cut.Name; "" for any
	Span *Span  // nil: not said
}

func (Totals) command() {}
func (c Totals) canonical() string {
	return strings.TrimSpace("totals "+c.Cut) + canonicalPast(c.Span)
}

// The words that ask for totals, folded, in English, Spanish and French. The last ones ask so
// only where a stretch of days follows: "how much belly" may be about a dose.
var (
	totalWords = phrasesOf("totals for", "totals of", "totals", "total for", "total of", "total", "how many kilos of", "how many kilos", "how many kg of", "how many kg",
		"how many pounds of", "how many batches of", "how many batches",
		"totales de", "totales", "total de", "cuantos kilos de", "cuantos kilos", "cuantos lotes de", "cuantos lotes",
		"totaux de", "totaux", "combien de kilos de", "combien de kilos", "combien de kg de", "combien de lots de", "combien de lots")
	muchWords = phrasesOf("how much", "cuanta", "cuanto", "combien de")
	// curedWords stand between what and when: "how much belly did we cure last month".
	curedWords = phrasesOf("did we cure", "did we make", "did we do", "have we cured", "have we made", "we cured", "we made", "was cured", "were cured", "cured", "made",
		"hemos curado", "hemos hecho", "curamos", "hicimos", "se curo",
		"avons nous sale", "a t on sale", "on a sale", "nous avons sale", "avons nous fait", "on a fait")
)

// totals reads toks[from:] as one; nil: it is none.
func (r *reading) totals(p []piece) Command {
	n, much := leading(p, totalWords), 0
	if n == 0 {
		if much = leading(p, muchWords); much == 0 {
			return nil
		}
	}
	var rest []piece
	for p = p[n+much:]; len(p) > 0; {
		if n := leading(p, curedWords); n > 0 {
			p = p[n:]
			continue
		}
		rest, p = append(rest, p[0]), p[1:]
	}
	if len(rest) == 0 {
		if much > 0 {
			return nil
		}
		return Totals{}
	}
	var words strings.Builder
	words.WriteString("who cured ")
	for i, x := range rest {
		if i > 0 && !touches(rest[i-1], x) {
			words.WriteByte(' ')
		}
		words.WriteString(x.text)
	}
	again := reading{text: words.String(), dates: r.dates, plain: true}
	asked, err := again.line()
	r.work += again.work
	who, ok := asked.Command.(Who)
	if err != nil || !ok || who.Person != "" || much > 0 && (who.Span == nil || who.Cut == "") {
		return nil
	}
	return Totals{who.Cut, who.Span}
}
