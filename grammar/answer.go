package grammar

import "strings"

// answer reads text as the answer to the open question. It reports false where it is none.
func answer(text string, set Setting) (Phrase, error, bool) {
	rest := set
	rest.Open = nil
	if c := set.Open.pick(text); c != nil {
		p, err := Parse(c.Phrase, rest)
		return p, err, true
	}
	if set.Open.Append == "" {
		return Phrase{}, nil, false
	}
	alone, err := Parse(text, rest)
	switch c := alone.Command.(type) {
	case Dose:
		if len(c.Pieces) > 0 && c.Cut != "" {
			return Phrase{}, nil, false
		}
	case Chatter:
	default:
		if err == nil || c != nil {
			return Phrase{}, nil, false
		}
	}
	p, err := Parse(set.Open.Append+", "+text, rest)
	if _, ok := p.Command.(Dose); ok && err == nil {
		return p, nil, true
	}
	if q, ok := err.(*Question); ok {
		return p, q, true
	}
	return Phrase{}, nil, false
}

// pick is the choice that text names: its label, a word or the beginning of a word that no
// other label has, or its number in the list. nil: none.
func (o *Open) pick(text string) *Choice {
	said := strings.Join(strings.Fields(fold(strings.Trim(text, " \t\n.,!?'\"“”"))), " ")
	if said == "" || len(said) > 40 {
		return nil
	}
	for i := range o.Choices {
		if fold(o.Choices[i].Label) == said {
			return &o.Choices[i]
		}
	}
	var found *Choice
	for i := range o.Choices {
		if short(said, fold(o.Choices[i].Label)) {
			if found != nil {
				return nil
			}
			found = &o.Choices[i]
		}
	}
	if found == nil && len(said) == 1 && said[0] >= '1' && int(said[0]-'1') < len(o.Choices) {
		found = &o.Choices[said[0]-'1']
	}
	return found
}

// short reports whether said is one of label's words, or, of three letters or more, the
// longer form of one ("imperial" for "imp gal").
func short(said, label string) bool {
	for _, w := range strings.Fields(label) {
		if w == said || len(w) >= 3 && strings.HasPrefix(said, w) && !strings.Contains(said, " ") {
			return true
		}
	}
	return false
}
