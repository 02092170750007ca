package grammar

import (
	"strings"
	"unicode/utf8"

	"salthand/cure"
)

// CorrectWeight says what the meat of a batch really weighs: "correct weight 4.2 kg: typed
// wrong".
type CorrectWeight struct {
	Pieces []cure.Gram
	Green  bool   // "correct green weight": and no weight along the way
	Why    string // "": not said
}

func (CorrectWeight) command() {}

func (c CorrectWeight) canonical() string {
	verb := "correct weight "
	if c.Green {
		verb = "correct green weight "
	}
	return because(verb+canonicalDose(Dose{Pieces: c.Pieces}), c.Why)
}

// corrected reads "correct weight", which stands at t, with the weight that follows it and
// the reason behind a colon. No command: something else follows.
func (r *reading) corrected(t token) (Command, error) {
	said, why, reasoned := strings.Cut(r.text[t.end:], ":")
	again := reading{text: strings.Repeat(" ", utf8.RuneCountInString(r.text[:t.end])) + said, thread: true, dates: r.dates, recipes: r.recipes, stripped: true}
	p, err := again.line()
	r.work += again.work
	switch e := err.(type) {
	case *Question: // an answer keeps what stands around the weight
		for i, c := range e.Choices {
			e.Choices[i].Phrase = r.text[:t.end] + " " + strings.TrimSpace(c.Phrase) + r.text[t.end+len(said):]
		}
		e.Append = ""
		return nil, e
	case *Error:
		e.Example, e.Near = endings["correct weight"], false
		return nil, e
	}
	a, ok := p.Command.(Amend)
	if weight := (Dose{Pieces: a.Clauses.Pieces}); !ok || len(weight.Pieces) == 0 || canonicalDose(a.Clauses) != canonicalDose(weight) {
		if !reasoned {
			return nil, nil
		}
		at := stretch{t.start, t.end}
		if weight := strings.TrimSpace(said); weight != "" {
			at.start = t.end + strings.Index(said, weight)
			at.end = at.start + len(weight)
		}
		e := r.fail("unknown word", at)
		e.Example = endings["correct weight"]
		return nil, e
	}
	return CorrectWeight{a.Clauses.Pieces, t.value == "correct green weight", strings.TrimSpace(why)}, nil
}
