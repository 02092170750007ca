package grammar

// More asks for the next page of the list that was shown last.
type More struct{}

func (More) command()          {}
func (More) canonical() string { return "more" }

// moreWords are all that such a line says, folded, in English, Spanish and French.
var moreWords = phrasesOf("show me more", "show more", "show the rest", "more please", "more pls", "more", "next page", "next", "the rest", "rest of it", "rest of them",
	"ver mas", "muestra mas", "mas por favor", "mas", "siguiente pagina", "pagina siguiente", "siguiente", "el resto", "los demas",
	"voir plus", "voir la suite", "la suite", "suite", "plus", "page suivante", "suivant", "suivante", "encore", "le reste")

// more reads a line that asks for nothing but the next page.
func (r *reading) more() bool {
	p := unmarked(r.pieced)
	n := leading(p, moreWords)
	return n > 0 && n == len(p)
}
