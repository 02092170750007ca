package grammar

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2/lexer"
)

// The commands of recipes. A name stands as the kitchen wrote it first, or as it was typed
// where the kitchen has none like it.
type (
	// WriteRecipe is a recipe, or a new version of one: "recipe house bacon: belly, dry rub,
	// 2.5% salt, 0.25% no 1, 7 days".
	WriteRecipe struct {
		Name    string
		Clauses Dose // without a weight or an amount of liquid
	}
	// ApproveRecipe: "approve recipe house bacon", "approve recipe house bacon v2: reason".
	ApproveRecipe struct {
		Name    string
		Version uint32 // 0: the newest
		Why     string
	}
	// WithdrawRecipe: "withdraw recipe house bacon: too salty".
	WithdrawRecipe struct {
		Name    string
		Version uint32 // 0: all
		Why     string
	}
	// ShowRecipe: "recipe house bacon".
	ShowRecipe struct{ Name string }
	// ListRecipes: "recipes".
	ListRecipes struct{}
)

func (WriteRecipe) command()    {}
func (ApproveRecipe) command()  {}
func (WithdrawRecipe) command() {}
func (ShowRecipe) command()     {}
func (ListRecipes) command()    {}

func (w WriteRecipe) canonical() string { return "recipe " + w.Name + ": " + canonicalDose(w.Clauses) }
func (a ApproveRecipe) canonical() string {
	return because("approve recipe "+a.Name+versionWord(a.Version), a.Why)
}
func (w WithdrawRecipe) canonical() string {
	return because("withdraw recipe "+w.Name+versionWord(w.Version), w.Why)
}
func (s ShowRecipe) canonical() string { return "recipe " + s.Name }
func (ListRecipes) canonical() string  { return "recipes" }

func versionWord(n uint32) string {
	if n == 0 {
		return ""
	}
	return " v" + strconv.Itoa(int(n))
}

// recipeExample is a recipe that can be written anywhere.
const recipeExample = "recipe house side: pork belly, dry rub, 2.5% salt, 7 days"

// recipeName is a name that the kitchen knows, and its words as they are compared.
type recipeName struct {
	name  string
	words []string
}

// recipeNames takes Setting.Recipes apart, those of more words first.
func recipeNames(lines string) (names []recipeName) {
	if lines == "" {
		return nil
	}
	for name := range strings.SplitSeq(lines, "\n") {
		names = append(names, recipeName{name, cueTexts(words(name))})
	}
	slices.SortStableFunc(names, func(a, b recipeName) int { return len(b.words) - len(a.words) })
	return names
}

const (
	mostNameWords = 4
	longestName   = 40 // bytes
	// bareName is the fewest letters of a name that is found without the word "recipe".
	bareName = 3
)

// knownRecipe is the name of the kitchen's that stands at the beginning, letter for letter but
// for case and accents, and how many pieces it takes.
func knownRecipe(names []recipeName, pieces []piece) (string, int) {
	for _, known := range names {
		n := len(known.words)
		if n == 0 || n > len(pieces) {
			continue
		}
		if slices.Equal(cueTexts(pieces[:n]), known.words) {
			return known.name, n
		}
	}
	return "", 0
}

// newRecipe is a name that the kitchen does not know: words alone, up to a mark or a version.
func newRecipe(text string, pieces []piece) (string, int) {
	n := 0
	for n < len(pieces) && n < mostNameWords && pieces[n].kind == lettersRaw && !(n > 0 && pieces[n].line) {
		if v, _ := version(pieces[n:]); v > 0 {
			break
		}
		n++
	}
	if n == 0 || pieces[n-1].end-pieces[0].start > longestName {
		return "", 0
	}
	return tidy(text[pieces[0].start:pieces[n-1].end]), n
}

// version reads "v2" or "version 2"; 0: it is none.
func version(pieces []piece) (number uint32, n int) {
	if len(pieces) < 2 || pieces[1].kind != numberRaw || !isDigits(pieces[1].text) || len(pieces[1].text) > 4 {
		return 0, 0
	}
	if w := pieces[0].word; w != "version" && !(w == "v" && touches(pieces[0], pieces[1])) {
		return 0, 0
	}
	v, err := strconv.ParseUint(pieces[1].text, 10, 32)
	if err != nil {
		return 0, 0
	}
	return uint32(v), 2
}

// recipeIn is a recipe with its version at the beginning of pieces, and how many they take.
func (r *reading) recipeIn(pieces []piece) (name string, v uint32, n int) {
	if name, n = knownRecipe(r.recipes, pieces); n == 0 {
		name, n = newRecipe(r.text, pieces)
	}
	if n == 0 {
		return "", 0, 0
	}
	v, m := version(pieces[n:])
	return name, v, n + m
}

// recipe reads a recipe in a phrase: a name that the kitchen knows, or "recipe" and any name.
// What follows "recipe" and is not known must fill its clause, or end in a version.
func (s *scan) recipe(i int) int {
	said := 0
	if e := lexicon.next[s.pieces[i].word]; e != nil && e.entry != nil && *e.entry == (entry{verbKind, "recipe"}) {
		said = 1
	}
	rest := s.pieces[i+said:]
	name, n := knownRecipe(s.recipes, rest)
	if n > 0 && said == 0 && utf8.RuneCountInString(name) < bareName {
		return 0
	}
	if n == 0 && said == 1 && len(s.toks) > 0 && (s.last(massKind) || s.last(sepKind) || s.last(cutKind)) {
		name, n = newRecipe(s.text, rest)
		if v, _ := version(rest[n:]); n > 0 && v == 0 && n < len(rest) && !rest[n].line && rest[n].text != "," && rest[n].text != ";" {
			n = 0
		}
	}
	if n == 0 {
		return 0
	}
	v, m := version(rest[n:])
	return s.emit(entry{recipeKind, name + versionWord(v)}, i, said+n+m)
}

// last reports whether the token just emitted is of a kind.
func (s *scan) last(k lexer.TokenType) bool { return s.toks[len(s.toks)-1].kind == k }

// recipe folds a recipe, "house bacon" or "house bacon v2".
func (r *reading) recipe(value string, at stretch) error {
	d := &r.draft
	d.Recipe = value
	if i := strings.LastIndex(value, " v"); i > 0 && isDigits(value[i+2:]) {
		if v, err := strconv.ParseUint(value[i+2:], 10, 32); err == nil {
			d.Recipe, d.RecipeVersion = value[:i], uint32(v)
		}
	}
	return r.set(recipeField, at)
}

// ofRecipe reads toks[from:] as a command of recipes. Neither a command nor an error: it is none.
func (r *reading) ofRecipe(from int) (Command, error) {
	t := r.toks[from]
	verb, start := t.value, t.end
	if t.kind == recipeKind { // "recipe house bacon: …"
		e, n := lexicon.find(r.after(t.start), false, &r.work)
		if e == nil || e.value != "recipe" {
			return nil, nil
		}
		verb, start = "recipe", r.after(t.start)[n-1].end
	} else if t.kind != verbKind {
		return nil, nil
	}
	if verb == "recipes" && len(r.toks) == from+1 {
		return ListRecipes{}, nil
	}
	if verb != "recipe" && verb != "approve recipe" && verb != "withdraw recipe" {
		return nil, nil
	}
	pieces := r.after(start)
	name, v, n := r.recipeIn(pieces)
	if n == 0 {
		return nil, nil
	}
	end := pieces[n-1].end
	rest := strings.TrimSpace(r.text[end:])
	why, reasoned := strings.CutPrefix(rest, ":")
	why = strings.TrimSpace(why)
	bare := strings.Trim(rest, "?!. ") == ""
	switch {
	case verb == "approve recipe" && (reasoned || bare):
		return ApproveRecipe{name, v, why}, nil
	case verb == "withdraw recipe" && (reasoned || bare):
		return WithdrawRecipe{name, v, why}, nil
	case verb == "recipe" && reasoned && v == 0 && why != "":
		return r.writing(name, stretch{pieces[0].start, end}, end+strings.Index(r.text[end:], ":")+1)
	case verb == "recipe" && bare && v == 0 && (r.knows(name) || n <= 2 && !ordinary(pieces[:n])):
		return ShowRecipe{name}, nil
	}
	return nil, nil
}

// after are the pieces from a place in the text on.
func (r *reading) after(start int) []piece {
	i := slices.IndexFunc(r.pieced, func(p piece) bool { return p.start >= start })
	if i < 0 {
		return nil
	}
	return r.pieced[i:]
}

// ordinary reports whether a word of talk is among the pieces: "recipe is lost".
func ordinary(pieces []piece) bool {
	return slices.ContainsFunc(pieces, func(p piece) bool { return len(tellingWords[p.word]) > 0 })
}

func (r *reading) knows(name string) bool {
	return slices.ContainsFunc(r.recipes, func(k recipeName) bool { return k.name == name })
}

// writing reads the clauses of a recipe, which begin behind the colon. What another page says
// and somebody pasted is no recipe: that is told.
func (r *reading) writing(name string, at stretch, colon int) (Command, error) {
	again := reading{text: strings.Repeat(" ", utf8.RuneCountInString(r.text[:colon])) + r.text[colon:], thread: true, dates: r.dates, recipes: r.recipes, stripped: true}
	p, err := again.line()
	r.work += again.work
	a, ok := p.Command.(Amend)
	if q, asked := err.(*Question); asked { // an answer keeps what stands before
		for i, c := range q.Choices {
			q.Choices[i].Phrase = r.text[:colon] + " " + strings.TrimSpace(c.Phrase)
		}
		q.Append = ""
	}
	if err == nil && !ok || err != nil && !again.draft.has(cutField) {
		return nil, nil
	}
	if err != nil {
		if e, failed := err.(*Error); failed {
			e.Example, e.Near = recipeExample, false
		}
		return nil, err
	}
	for _, f := range []field{weightField, waterField, coverField, recipeField} {
		if place := again.draft.said[f]; place.end > 0 {
			before := len(r.text[:colon]) - utf8.RuneCountInString(r.text[:colon])
			e := r.fail("recipe amount", stretch{place.start + before, place.end + before})
			e.Example = recipeExample
			return nil, e
		}
	}
	if !r.knows(name) && !nameable(name) {
		e := r.fail("recipe name", at)
		e.Example = recipeExample
		return nil, e
	}
	return WriteRecipe{name, a.Clauses}, nil
}

// nameable reports whether a recipe may be called so: the name is no word of the trade itself,
// does not begin like a command, and names no salt.
func nameable(name string) bool {
	pieces, _ := cut(name)
	s := scan{text: name, pieces: pieces}
	toks := s.run()
	if len(toks) == 0 || toks[0].start > 0 || len(toks) == 1 && toks[0].kind != wordKind {
		return false
	}
	if e, _ := unitWords.find(pieces, false, new(int)); e != nil || toks[0].kind == verbKind || toks[0].kind == stepKind {
		return false
	}
	for _, t := range toks {
		if isSalt(t.kind) || t.kind == stuffKind {
			return false
		}
	}
	return products[fold(name)] == "" && len(name) <= longestName
}
