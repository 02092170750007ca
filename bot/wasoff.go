package bot

import (
	"fmt"
	"slices"
	"strings"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// wasOff answers a recipe, a jar or a lot that was not as it should be: what that comes to,
// every batch since then and where it went, and what is to be done now.
func (t *turn) wasOff(c grammar.WasOff) error {
	l := t.theirs
	card := offCard(l, c, t.settings())
	found, err := t.trace(l, grammar.Recall{Of: c.Of, Name: c.Name, Version: c.Version})
	if err != nil {
		return err
	}
	since := store.Milli(0)
	if c.Since != nil {
		from, _ := between(*c.Since, t.at(), t.zone)
		since = milli(from)
	}
	found.batches = slices.DeleteFunc(found.batches, func(b store.Batch) bool { return max(b.AskedAt, b.StartedAt) < since })
	if len(found.batches) == 0 {
		card.Lines = append([]string{l.say("No batch since then names it: one of which nobody noted it can't be found this way."), stopLine(l, c), authorityLine(l)}, card.Lines...)
		return t.post(card)
	}
	sums, unheld := t.whereabouts(l, found)
	card.Facts = append(card.Facts, sums)
	if len(found.made) > 0 {
		card.Facts = append(card.Facts, Fact{Label: l.say("made of it here"), Lines: found.made})
	}
	limits, err := t.offLimits(c, found.batches)
	if err != nil {
		return err
	}
	card.Facts = append(card.Facts, limits...)
	whom, err := t.approversOf(found.batches)
	if err != nil {
		return err
	}
	todo := Fact{Label: l.say("now")}
	if len(unheld) > 0 {
		todo.Lines = append(todo.Lines, l.say("hold what is still here:  %s", holdPhrase(l, unheld)))
	}
	todo.Lines = append(todo.Lines, stopLine(l, c), l.say("tell who approved them: %s", whom), authorityLine(l))
	card.Facts = append(card.Facts, todo)
	rows, err := t.tracedRows(l, found, func(b store.Batch) string {
		if times := offTimes(c, b); times > 0 {
			return ", " + l.say("and by what was found %s", ppm(cure.PPM(times*float64(b.Card.NitriteMilliPPM)/1000)))
		}
		return ""
	})
	if err != nil {
		return err
	}
	return t.paged(card, rows, recallPage)
}

// offCard is what can be said without records.
func offCard(l tongue, c grammar.WasOff, s Settings) Card {
	card := Card{Kind: HoldCard, Title: l.say("HOLD everything made of it: %s", grammar.CanonicalIn(string(l), c))}
	if strength, ok := cure.No1.Usual(s.Region.Value); ok && c.Of == "recipe" && c.Rate.Set() {
		card.Facts = append(card.Facts, Fact{Label: l.say("comes to"), Lines: []string{
			l.say("%s of no. 1 cure of %s sodium nitrite on the meat: %s", percent(c.Rate.Value, 3), percent(strength.Nitrite, 2), ppm(cure.PPM(float64(c.Rate.Value)*float64(strength.Nitrite)*1e6))),
		}})
	}
	card.Warnings = []Warning{{Level: cure.Hold.String(), Code: "was off", Text: l.say("Nitrite that is in can't be taken out. Nothing is served, sold, smoked or cooked away until a chef has decided; keep every record, and delete no recipe.")}}
	return card
}

// stopLine says what stops more of it from being made.
func stopLine(l tongue, c grammar.WasOff) string {
	switch c.Of {
	case "recipe":
		return l.say("a chef stops the recipe; it stays in the record:  %s", grammar.CanonicalIn(string(l), grammar.WithdrawRecipe{Name: c.Name, Version: c.Version, Why: "reason"}))
	case "jar":
		return l.say("anybody stops the jar:  %s", fmt.Sprintf("jar %s withdrawn: reason", c.Name))
	}
	return l.say("stop what is left of the lot:  %s", grammar.CanonicalIn(string(l), grammar.HoldAll{Subject: "lot " + c.Name, Why: "reason"}))
}

func authorityLine(l tongue) string {
	return l.say("for what has left the kitchen, whoever your written plan names tells the authority that it names; if it names none, ask the local food authority today")
}

// approversOf are the names of those who approved batches; the chefs, where nobody did.
func (t *turn) approversOf(batches []store.Batch) (string, error) {
	var who []string
	for _, b := range batches {
		if b.Approval == nil {
			continue
		}
		name, err := t.nameOf(b.Approval.By)
		if err != nil {
			return "", err
		}
		if !slices.Contains(who, name) {
			who = append(who, name)
		}
	}
	if len(who) > 0 {
		return strings.Join(who, ", "), nil
	}
	chefs, err := chefsOf(t.tx, t.kitchen.ID)
	return names(chefs), err
}

// offTimes is how many times the nitrite of its card went into a batch, by what was found; 0:
// that can't be told.
func offTimes(c grammar.WasOff, b store.Batch) float64 {
	agent, card := float64(b.Card.AgentNitriteMilliPPM), float64(b.Card.NitriteMilliPPM)
	switch {
	case !c.Rate.Set() || agent <= 0 || card <= 0:
		return 0
	case c.Of == "recipe": // another share of cure on the meat
		return float64(c.Rate.Value) * agent / card
	}
	return float64(c.Rate.Value) * 1e9 / agent // as much of a cure of another strength
}

// offLimits say what the batches come to by what was found, each kind of product once, beside
// what the law lets in.
func (t *turn) offLimits(c grammar.WasOff, batches []store.Batch) ([]Fact, error) {
	l := t.theirs
	if !c.Rate.Set() {
		return nil, nil
	}
	f := Fact{Label: l.say("limits")}
	for _, b := range batches {
		times := offTimes(c, b)
		if times == 0 {
			continue
		}
		p, err := grammar.Parse(b.Card.Phrase, settingOf(t.kitchen, false))
		d, ok := p.Command.(grammar.Dose)
		if err != nil || !ok {
			continue
		}
		full, ok, err := t.withRecipe(d, false)
		if err != nil || !ok {
			return nil, err
		}
		full.full.Recipe = ""
		dose, err := compute(full.full, t.settings())
		if err != nil {
			continue // it can't be reckoned any more: its own line has what was on its card
		}
		for _, check := range dose.Limits {
			if check.Limit.Kind != "ingoing max" || check.Limit.Agent != "nitrite" {
				continue
			}
			got := cure.PPM(float64(check.Got) * times * float64(b.Card.NitriteMilliPPM) / 1000 / float64(dose.Nitrite))
			line := l.say("%s, %s: %s, limit %s (%s)", cutName(l, b.Card.Cut), methodName(l, b.Card.Method), ppm(got), fixed(float64(check.Limit.Value), check.Limit.Digits), check.Limit.Source)
			if got > check.Limit.Value {
				line = l.say("OVER: %s", line)
			}
			if !slices.Contains(f.Lines, line) {
				f.Lines = append(f.Lines, line)
			}
		}
	}
	if len(f.Lines) == 0 {
		return nil, nil
	}
	return []Fact{f}, nil
}

// wasOff answers it where there are no records: what it comes to, and what to do.
func (f figured) wasOff(c grammar.WasOff, s Settings) figured {
	f.card = offCard(f.l, c, s)
	f.card.Lines = append(f.card.Lines, f.l.say("hold everything made of it since then, list it and where it went: with records, in the kitchen's chat, this line lists it"), stopLine(f.l, c), authorityLine(f.l))
	f.answer.Kind = "hold"
	t := telling{figured: f}
	f.answer.Answer = t.text()
	return f
}
