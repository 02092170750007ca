package grammar

import (
	"slices"
	"strings"
)

// The phrases about what goes in beside meat, salt and cure, and its allergens.
type (
	// LabelIngredient is what the label of one lot declares: "ingredient black rub lot 12:
	// mustard, celery".
	LabelIngredient struct {
		Name, Lot string
		Declared  string // "mustard, celery", as typed; "": none declared
	}
	// AddIngredient says that a lot went into a batch: "with black rub lot 12".
	AddIngredient struct{ Name, Lot string }
	// AskAllergens asks what a batch contains: "allergens 42".
	AskAllergens struct{}
)

func (LabelIngredient) command() {}
func (AddIngredient) command()   {}
func (AskAllergens) command()    {}

func (c LabelIngredient) canonical() string {
	declared := c.Declared
	if declared == "" {
		declared = "none declared"
	}
	return "ingredient " + c.Name + " lot " + c.Lot + ": " + declared
}
func (c AddIngredient) canonical() string { return "with " + c.Name + " lot " + c.Lot }
func (AskAllergens) canonical() string    { return "allergens" }

// Their words, folded, in English, Spanish and French.
var (
	ingredientWords = phrasesOf("ingredient", "ingrediente")
	withWords       = phrasesOf("with", "con", "avec")
	allergenWords   = phrasesOf("allergens of batch", "allergens of", "allergens", "alergenos del lote", "alergenos", "allergenes du lot", "allergenes")
	noneDeclared    = phrasesOf("none declared", "none", "nada declarado", "ninguno declarado", "ninguno", "aucun declare", "rien declare", "aucun")
	lotWords        = []string{"lot", "lote"}
	andWords        = []string{"and", "y", "et"}
	// A label is noted by what it declares: these say what is not in it, or that nobody knows.
	notDeclared = []string{"no", "not", "non", "none", "without", "free", "unknown", "unlabelled", "unlabeled", "unclear", "missing", "maybe", "probably",
		"sin", "nada", "ninguno", "libre", "desconocido", "falta", "quizas", "sans", "pas", "aucun", "rien", "inconnu", "manque", "peut"}
)

// mostIngredientWords is the most words of an ingredient's name.
const mostIngredientWords = 5

// ofIngredient reads toks[from:] as one of them, and gives the number of the batch that is
// meant. A nil Command: it is none.
func (r *reading) ofIngredient(from int, batch uint64) (Command, uint64) {
	start := 0
	if from > 0 {
		start = r.toks[from-1].end
	}
	p := r.after(start) // "with" makes no token
	for len(p) > 0 && isMark(p[0]) {
		p = p[1:]
	}
	asked := len(p) > 0 && p[len(p)-1].text == "?"
	p = unmarked(p)
	if n := leading(p, allergenWords); n > 0 {
		if n == len(p) {
			return AskAllergens{}, batch
		}
		if number, ok := lone(p[n:]); ok && batch == 0 {
			return AskAllergens{}, number
		}
		return nil, batch
	}
	if asked {
		return nil, batch
	}
	if n := leading(p, ingredientWords); n > 0 && batch == 0 {
		colon := slices.IndexFunc(p, func(x piece) bool { return x.text == ":" })
		if colon < 0 {
			return nil, batch
		}
		name, lot := r.lotOf(p[n:colon])
		declared, ok := r.declared(p[colon+1:])
		if name == "" || !ok {
			return nil, batch
		}
		return LabelIngredient{name, lot, declared}, batch
	}
	if n := leading(p, withWords); n > 0 && n < len(p) && recalled[p[n].word] == "" {
		if slices.ContainsFunc(r.toks[from:], func(t token) bool { return t.kind == agentKind || t.kind == vagueKind }) {
			return nil, batch // of which jar a cure is, is said when it is weighed
		}
		if name, lot := r.lotOf(p[n:]); name != "" {
			return AddIngredient{name, lot}, batch
		}
	}
	return nil, batch
}

// lotOf reads "black rub lot 12"; "": it is none.
func (r *reading) lotOf(p []piece) (name, lot string) {
	at := slices.IndexFunc(p, func(x piece) bool { return slices.Contains(lotWords, x.word) })
	if at < 1 || at > mostIngredientWords || at+1 >= len(p) || slices.ContainsFunc(p[:at], func(x piece) bool { return x.kind != lettersRaw }) {
		return "", ""
	}
	name, lot = tidy(r.textOf(p[:at])), r.textOf(p[at+1:])
	if strings.ContainsAny(name, ",;:?!\n") || strings.ContainsAny(lot, " ,;:?!\t\n") || len(name) > longestPlace || len(lot) > longestPlace {
		return "", ""
	}
	return name, lot
}

// declared reads the allergens of a label; false: they can't be told.
func (r *reading) declared(p []piece) (string, bool) {
	if n := leading(p, noneDeclared); n > 0 && n == len(p) {
		return "", true
	}
	var all []string
	for len(p) > 0 {
		end := slices.IndexFunc(p, func(x piece) bool {
			return x.text == "," || x.text == ";" || slices.Contains(andWords, x.word)
		})
		one, rest := p, []piece(nil)
		if end >= 0 {
			one, rest = p[:end], p[end+1:]
		}
		for _, x := range one {
			if x.kind != lettersRaw || slices.Contains(notDeclared, x.word) {
				return "", false
			}
		}
		if len(one) > 0 {
			all = append(all, tidy(r.textOf(one)))
		}
		p = rest
	}
	out := strings.Join(all, ", ")
	return out, out != "" && len(out) <= 200 && !strings.Contains(out, "\n")
}
