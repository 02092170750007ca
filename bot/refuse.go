package bot

import (
	"strings"

	"salthand/cure"
	"salthand/grammar"
)

// questionCard words a question that the grammar asks back.
func questionCard(l tongue, text string, q *grammar.Question) Card {
	c := Card{Kind: QuestionCard, Title: questionWords(l, q.Code, q.Token)}
	if q.Width > 0 {
		c.Caret = &Caret{Text: text, Column: q.Column, Width: q.Width}
	}
	for _, choice := range q.Choices {
		c.Choices = append(c.Choices, choice.Label)
	}
	c.Next = answerWith(l, c.Choices, q.Append)
	return c
}

func answerWith(l tongue, choices []string, open string) string {
	switch {
	case len(choices) > 0 && open != "":
		return l.say("Answer with one of these, or with your own.")
	case len(choices) > 0:
		return l.say("Answer with one of these.")
	case open != "":
		return l.say("Answer with just that.")
	}
	return l.say("Type the phrase once more with that put right.")
}

// errorCard words a phrase that can't be read: the phrase, a caret, one example.
func errorCard(l tongue, text string, e *grammar.Error) Card {
	c := Card{Kind: ErrorCard, Title: errorWords(l, e)}
	if e.Width > 0 {
		c.Caret = &Caret{Text: text, Column: e.Column, Width: e.Width}
	}
	if len(e.Suggest) > 0 {
		c.Lines = append(c.Lines, l.say("Did you mean %s?", strings.Join(e.Suggest, ", ")))
	}
	if e.Example != "" {
		c.Next = l.say("This would work:  %s", e.Example)
	}
	return c
}

// shortErrorCard is the same in one short line, for the cure channel.
func shortErrorCard(l tongue, e *grammar.Error) Card {
	c := Card{Kind: ErrorCard, Title: errorWords(l, e)}
	if e.Example != "" {
		c.Title += "  " + l.say("This would work:  %s", e.Example)
	}
	return c
}

// missingCard words what a dose lacks, with the answers that would complete the phrase.
func missingCard(l tongue, d grammar.Dose, m *cure.Missing) (c Card, choices []grammar.Choice, open string) {
	if m.What == "strength" {
		d.Kind, d.Nitrite, d.Nitrate = cure.NoAgent, cure.Given[cure.Fraction]{}, cure.Given[cure.Fraction]{}
	}
	open = grammar.Canonical(d)
	c = Card{Kind: QuestionCard, Title: missingWords(l, m), Lines: []string{l.say("Understood so far:  %s", open)}}
	for _, clause := range clausesFor(m) {
		choices = append(choices, grammar.Choice{Label: clause, Phrase: open + ", " + clause})
		c.Choices = append(c.Choices, clause)
	}
	c.Next = answerWith(l, c.Choices, open)
	return c, choices, open
}

// clausesFor are the usual answers to what is missing.
func clausesFor(m *cure.Missing) []string {
	switch m.What {
	case "method":
		return []string{"dry rub", "inject 10%"}
	case "strength":
		return strengthChoices(m.Request.Agent.Value.Kind)
	}
	return nil
}

// strengthChoices are usual strengths to pick from: the bag decides.
// Source: composition of curing salts by region, common trade practice; see cure's doc.
func strengthChoices(k cure.AgentKind) []string {
	switch k {
	case cure.No2:
		return []string{"no 2 6.25% + 4%", "no 2 5.67% + 3.63%"}
	case cure.NitritedSalt:
		return []string{"nitrited salt 0.4%", "nitrited salt 0.5%", "nitrited salt 0.6%", "nitrited salt 0.9%"}
	}
	return []string{"no 1 6.25%", "no 1 5.88%", "nitrited salt 0.5%", "nitrited salt 0.6%"}
}

// stopCard words a refused dose: the limit, its source, and what would be allowed.
func stopCard(l tongue, s *cure.Stop, phrase string) Card {
	c := Card{Kind: StopCard, Title: l.say("STOP: %s", stopWords(l, s)), Small: l.say(shortCaution)}
	c.Lines = append(c.Lines, l.say("Asked: %s", phrase))
	if s.Max > 0 || s.Limit != nil {
		c.Facts = append(c.Facts, Fact{Label: l.say("would be"), Lines: []string{wouldBe(l, s)}})
	}
	if s.Source != "" {
		from := s.Source
		if s.Limit != nil {
			from += ", " + seenWords(l, s.Limit.Seen)
		}
		c.Facts = append(c.Facts, Fact{Label: l.say("source"), Lines: []string{from}})
	}
	if s.Allowed > 0 {
		c.Facts = append(c.Facts, Fact{Label: l.say("at most"), Lines: []string{l.say("%s of %s, %s", grams(s.Allowed, 0.1), agentName(l, s.Request.Agent.Value), strengthOf(l, s.Request.Agent.Value))}})
	}
	c.Next = stopNext(l, s)
	return c
}

// wouldBe is the figure that is too much, beside the most that may be.
func wouldBe(l tongue, s *cure.Stop) string {
	of := ""
	if s.Limit != nil {
		of = " " + agentOfLimit(l, *s.Limit)
	}
	return l.say("%s %s%s; the most is %s %s", trimmed(s.Got, 2), s.Unit, of, trimmed(s.Max, 2), s.Unit)
}
