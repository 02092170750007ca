package grammar

import (
	"strconv"
	"strings"
)

// The commands that look back from something to batches.
type (
	// Recall: "where did jar A7 go", "where did lot 2291 go", "recipe house bacon v2".
	Recall struct {
		Of      string // "jar", "lot", "meat lot", "ingredient", "recipe"
		Name    string // as typed, or as the kitchen writes the recipe
		Lot     string // of an ingredient
		Version uint32 // of a recipe; 0: all
	}
	// Find: "find bag leaks".
	Find struct{ Text string }
	// WhoLogged: "who logged 12".
	WhoLogged struct{ Batch uint64 }
)

func (Recall) command()    {}
func (Find) command()      {}
func (WhoLogged) command() {}

func (c Recall) canonical() string {
	if c.Of == "ingredient" {
		return "where did " + c.Name + " lot " + c.Lot + " go"
	}
	return "where did " + c.Of + " " + c.Name + versionWord(c.Version) + " go"
}
func (c Find) canonical() string      { return "find " + c.Text }
func (c WhoLogged) canonical() string { return "who logged " + strconv.FormatUint(c.Batch, 10) }

// The words that begin them, folded, in English, Spanish and French.
var (
	recallWords  = phrasesOf("where did", "where has", "donde fue", "adonde fue", "ou est parti", "ou est partie", "ou est alle", "ou est allee")
	findWords    = phrasesOf("find", "busca", "buscar", "cherche", "chercher")
	loggedWords  = phrasesOf("who logged batch", "who logged", "quien anoto el lote", "quien anoto", "qui a note le lot", "qui a note")
	goWords      = phrasesOf("go", "gone")
	meatLotWords = phrasesOf("meat lot", "lote de carne", "lot de viande")
	// withWordsOf lead what batches are looked for by, which may be followed by a stretch of days.
	withWordsOf = phrasesOf("batches with", "batches from", "batches of", "batches made with", "batches made from", "batches by", "batches using", "which batches used", "which batches had", "what used",
		"lotes con", "lotes de", "lotes del", "lotes hechos con", "que lotes llevan", "que lotes usaron", "lots avec", "lots du", "lots de", "lots faits avec", "quels lots ont")
	articles = phrasesOf("the", "el", "la", "le")
	recalled = map[string]string{"jar": "jar", "bote": "jar", "tarro": "jar", "bocal": "jar", "lot": "lot", "lote": "lot", "recipe": "recipe", "receta": "recipe", "recette": "recipe"}
)

// lookBack reads toks[from:] as one of them. Neither a command nor an error: it is none.
func (r *reading) lookBack(from int) (Command, error) {
	p := r.after(r.toks[from].start)
	for len(p) > 0 && isMarkOf(p[len(p)-1], "?!.") {
		p = p[:len(p)-1]
	}
	if from == 0 && r.more() {
		return More{}, nil
	}
	if c := r.totals(p); c != nil {
		return c, nil
	}
	if c := r.batchesWith(p); c != nil {
		return c, nil
	}
	if n := leading(p, recallWords); n > 0 && n < len(p) {
		return r.recall(p[n:]), nil
	}
	if n := leading(p, findWords); n > 0 && n < len(p) && !isMark(p[n]) {
		return Find{tidy(r.text[p[n].start:p[len(p)-1].end])}, nil
	}
	if n := leading(p, loggedWords); n > 0 && n+1 == len(p) && isDigits(p[n].text) {
		if batch, err := strconv.ParseUint(p[n].text, 10, 32); err == nil && batch > 0 {
			return WhoLogged{batch}, nil
		}
	}
	if t := r.toks[from]; t.kind == recipeKind || t.kind == verbKind && t.value == "recipe" { // "recipe B v2"
		if recalled[p[0].word] == "recipe" {
			if c, ok := r.recall(p).(Recall); ok && c.Version > 0 {
				return c, nil
			}
		}
	}
	return nil, nil
}

// recall reads "jar A7 go"; nil: it is none.
func (r *reading) recall(p []piece) Command {
	p = p[leading(p, articles):]
	if n := len(p); n > 1 && leading(p[n-1:], goWords) == 1 {
		p = p[:n-1]
	}
	if len(p) < 2 {
		return nil
	}
	if n := leading(p, meatLotWords); n > 0 && n < len(p) {
		if lot := r.textOf(p[n:]); !strings.ContainsAny(lot, " ,;:?!\n\t") && len(lot) <= longestPlace {
			return Recall{Of: "meat lot", Name: lot}
		}
		return nil
	}
	if recalled[p[0].word] == "" {
		if name, lot := r.lotOf(p); name != "" {
			return Recall{Of: "ingredient", Name: name, Lot: lot}
		}
		return nil
	}
	of, rest := recalled[p[0].word], p[1:]
	if of == "recipe" {
		name, v, n := r.recipeIn(rest)
		if n != len(rest) {
			return nil
		}
		return Recall{Of: of, Name: name, Version: v}
	}
	name := r.text[rest[0].start:rest[len(rest)-1].end]
	if strings.ContainsAny(name, " ,;:?!\n\t") || len(name) > longestName {
		return nil
	}
	return Recall{Of: of, Name: name}
}

// batchesWith reads "batches with lot 2291": the same question as where it went; and "batches
// with leaks", which looks for words. nil: it is neither.
func (r *reading) batchesWith(p []piece) Command {
	n := leading(p, withWordsOf)
	if n == 0 || n == len(p) {
		return nil
	}
	if c := r.recall(p[n:]); c != nil {
		return c
	}
	if w := p[n-1].word; w == "with" || w == "con" || w == "avec" {
		return Find{tidy(r.textOf(p[n:]))}
	}
	return nil
}

func isMarkOf(p piece, marks string) bool { return len(p.text) == 1 && strings.Contains(marks, p.text) }
