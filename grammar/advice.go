package grammar

import (
	"slices"
	"strings"

	"salthand/cure"
)

// nearest are the names that word may have meant: at most four, those within two
// letters, or one for a short word, nearest first.
func nearest(word string, names []string) []string {
	limit := 2
	if len(word) <= 4 {
		limit = 1
	}
	var out []string
	for d := 0; d <= limit; d++ {
		for _, n := range names {
			for _, w := range strings.Fields(n) {
				if len(out) < 4 && len(w) > 1 && len(word) > 2 && distance(word, w, limit) == d && !slices.Contains(out, n) {
					out = append(out, n)
				}
			}
		}
	}
	return out
}

// example is the phrase with its first failing clause put right: with a word that is valid
// there, without the word or without the clause; else what was understood with the rest
// made up; else a phrase that always works.
func (r *reading) example(e *Error) string {
	if r.fig != nil && len(r.wrong)+len(r.doubts) > 4 { // one thing put right would not do
		return examples[r.fig.name]
	}
	at := r.bytes(e)
	tries := make([]string, 0, 8)
	for _, s := range e.Suggest {
		tries = append(tries, r.replaced(at, s))
	}
	if e.Code == "no unit" {
		end := stretch{at.end, at.end}
		tries = append(tries, r.replaced(end, " days"), r.replaced(end, " kg"))
	}
	if e.Code == "negative" {
		tries = append(tries, r.replaced(at, strings.TrimLeft(e.Token, "-−")))
	}
	if e.Code == "unknown cut" && r.fig == nil {
		tries = append(tries, r.replaced(at, r.firstCut()))
	}
	if !e.misreadSalt() {
		tries = append(tries, r.replaced(at, ""))
	}
	tries = append(tries, r.replaced(r.clauseAround(at), ""))
	spent := 0
	for _, text := range tries { // each try is a parse
		if spent += len(text); spent > maxTried {
			break
		}
		if readable(text, r.fig != nil) {
			return text
		}
	}
	if r.fig != nil {
		return examples[r.fig.name]
	}
	if guess := r.guess(); readable(guess, false) {
		return guess
	}
	return example
}

// maxTried is how many bytes of candidates one example is sought in: five corrections of a
// phrase of usual length, one of a long line.
const maxTried = 200

// firstCut is the cut of an example, as the language of the line says it.
func (r *reading) firstCut() string {
	for _, list := range wordLists() {
		if list.language == r.language() {
			return list.cuts[0].ways[0]
		}
	}
	return cuts[0].value
}

// misreadSalt reports whether the word in question may name a salt: it is never just left
// out of its clause.
func (e *Error) misreadSalt() bool { return saltCodes[e.Code] != "" || e.Code == "amount" }

// clauseAround is the whole clause that a place stands in.
func (r *reading) clauseAround(at stretch) stretch {
	out := stretch{0, len(r.text)}
	for _, t := range r.toks {
		if t.kind != sepKind {
			continue
		}
		if t.end <= at.start {
			out.start = t.end
		}
		if t.start >= at.end {
			out.end = t.start
			break
		}
	}
	return out
}

// guess is what was understood of the phrase, with a weight, a cut and a method where none was.
func (r *reading) guess() string {
	d := r.draft.Dose
	if len(d.Pieces) == 0 {
		d.Pieces = []cure.Gram{3200}
	}
	if d.Cut == "" || d.Cut == minced {
		d.Cut = cuts[0].value
	}
	if !d.Method.Set() {
		d.Method = cure.Typed(cure.DryRub)
	}
	return Canonical(d)
}

// bytes is the place of an error in bytes.
func (r *reading) bytes(e *Error) stretch {
	start, n := len(r.text), 0
	for i := range r.text {
		if n == e.Column-1 {
			start = i
			break
		}
		n++
	}
	return stretch{start, start + len(e.Token)}
}

// readable reports whether text is a whole dose phrase with a weight, or one that asks for
// figures.
func readable(text string, figures bool) bool {
	if len(text) > maxText {
		return false
	}
	r := reading{text: text, plain: true}
	p, err := r.line()
	if figures {
		return err == nil && isFigure(p.Command)
	}
	d, ok := p.Command.(Dose)
	return ok && err == nil && len(d.Pieces) > 0
}
