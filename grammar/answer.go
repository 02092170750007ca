package grammar

import "strings"

// Answer reads text as the answer to the question, and gives the whole phrase that it makes,
// to be parsed. ok is false where text is none: a phrase of its own, or something else.
func (o *Open) Answer(text string) (phrase string, ok bool) {
	if c := o.pick(text); c != nil {
		return c.Phrase, true
	}
	if o.Append == "" {
		return "", false
	}
	before, err := Parse(o.Append, Setting{})
	figure := err == nil && isFigure(before.Command)
	alone, err := Parse(text, Setting{})
	switch c := alone.Command.(type) {
	case Dose:
		if len(c.Pieces) > 0 && c.Cut != "" && !(figure && !c.Method.Set() && !c.Days.Set() && !c.JustAsking) {
			return "", false // a phrase of its own; to "check 12 g no 1" a weight and a cut are the answer
		}
	case Chatter:
	default:
		if err == nil || c != nil {
			return "", false
		}
	}
	phrase = o.Append + ", " + text
	p, err := Parse(phrase, Setting{})
	_, dose := p.Command.(Dose)
	_, asks := err.(*Question)
	return phrase, err == nil && (dose || figure && isFigure(p.Command)) || asks
}

// pick is the choice that text names: its label, the first word of its label where no other
// begins so, or its number in the list. A number that stands in another label too picks
// nothing. nil: none.
func (o *Open) pick(text string) *Choice {
	said := strings.Join(strings.Fields(fold(strings.Trim(text, " \t\n.,!?'\"“”"))), " ")
	if said == "" || len(said) > 40 {
		return nil
	}
	if name := agentName(said); name != "" {
		said = name
	}
	for i := range o.Choices {
		if fold(o.Choices[i].Label) == said {
			return &o.Choices[i]
		}
	}
	if len(said) == 1 && said[0] >= '1' && said[0] <= '9' {
		return o.nth(int(said[0] - '1'))
	}
	var found *Choice
	for i := range o.Choices {
		first, _, _ := strings.Cut(fold(o.Choices[i].Label), " ")
		if first != said && (len(first) < 3 || !strings.HasPrefix(said, first) || strings.Contains(said, " ")) { // "imperial" for "imp gal"
			continue
		}
		if found != nil {
			return nil
		}
		found = &o.Choices[i]
	}
	return found
}

// nth is the choice at a place in the list, unless its number means another by its label, or
// the labels are numbers themselves: to "3 kg or 4 kg?", 2 is no answer.
func (o *Open) nth(n int) *Choice {
	for i := range o.Choices {
		if c := o.Choices[i].Label[:1]; c >= "0" && c <= "9" || c == "." {
			return nil
		}
	}
	if n >= len(o.Choices) {
		return nil
	}
	digit := string(rune('1' + n))
	for i := range o.Choices {
		for _, w := range strings.Fields(o.Choices[i].Label) {
			if w == digit && i != n {
				return nil
			}
		}
	}
	return &o.Choices[n]
}

// agentName is the curing salt that text names and nothing else; "" if it does not.
func agentName(text string) string {
	p, _ := cut(text)
	s := scan{text: text, pieces: p}
	if toks := s.run(); len(toks) == 1 && toks[0].kind == agentKind {
		return toks[0].value
	}
	return ""
}
