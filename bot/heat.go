package bot

import (
	"errors"
	"strings"
	"time"

	"salthand/cure"
	"salthand/cure/heat"
	"salthand/grammar"
)

// The rules, as cure/heat names them: said by those names.
var _ = []string{
	msg("salmonella, 6.5 log10"), msg("salmonella, 7.0 log10"), msg("beef"),
	msg("us older"), msg("us cured"), msg("us cured to 40 f"), msg("us retail"),
}

// spells are a log of temperatures that were held one after another.
func spells(all []grammar.Spell) (l heat.Log) {
	var at time.Duration
	for _, s := range all {
		l = append(l, heat.Reading{After: at, Probe: s.Temperature})
		at += s.For
		l = append(l, heat.Reading{After: at, Probe: s.Temperature})
	}
	return l
}

// cook answers what a core temperature log is worth against salmonella: rows are rounded
// down in temperature, never up.
func (f figured) cook(c grammar.Cook) figured {
	for _, t := range []heat.Table{heat.Salmonella(), heat.Salmonella7()} {
		credit, err := t.Credit(spells(c.Log))
		if err != nil {
			return f.refused(err, grammar.Dose{})
		}
		state := msg("reached")
		if credit < 1 {
			state = msg("not reached")
		}
		f.answer.Heat = append(f.answer.Heat, MachineHeat{Rule: t.Against, State: state, Credit: some(float64(credit)), Source: t.Source, Seen: t.Seen})
		f.fact(f.l.say(t.Against), f.l.say("%s: %s of the time that is asked for (%s; %s, %s)", f.l.say(state), percent(cure.Fraction(min(credit, 9.99)), 0), f.l.say(t.Meat), t.Source, seenWords(f.l, t.Seen)))
		if credit < 1 {
			f.warn(Warning{Level: cure.Hold.String(), Code: "heat", Text: f.l.say("too little heat for %s: go on, and log it", f.l.say(t.Against))})
		}
	}
	f.warn(Warning{Level: cure.Note.String(), Code: "heat", Text: f.l.say("come-up time, humidity and other germs have rules of their own: the site's plan decides")})
	return f
}

// cold answers how long a place was too warm.
func (f figured) cold(c grammar.Cold) figured {
	for _, limit := range []cure.Celsius{heat.WarnAbove, heat.StopAbove} {
		w, err := spells(c.Log).Above(limit)
		if err != nil {
			return f.refused(err, grammar.Dose{})
		}
		over := "above " + trimmed(float64(limit), 1) + " °C"
		f.answer.Heat = append(f.answer.Heat, MachineHeat{Rule: over, State: map[bool]string{true: "over", false: "within"}[w.Total.Likely > 0], Minutes: some(w.Total.Likely.Minutes()),
			Source: "41 °F / 5 °C cold holding, 40 °F / 4.4 °C curing", Seen: "secondary"})
		f.fact(f.l.say("above %s °C", trimmed(float64(limit), 1)), f.l.say("%s in all, %s at a stretch; highest %s °C", span(f.l, w.Total.Likely), span(f.l, w.Longest.Likely), trimmed(float64(w.Highest), 1)))
		if limit == heat.StopAbove && w.Total.Likely > 0 {
			f.warn(Warning{Level: cure.Hold.String(), Code: "warm", Text: f.l.say("a deviation: hold what was in there, measure each core, and let the approver decide; being cured is no answer by itself")})
			f.card.Next = f.l.say("List what was in there, how far along each was, and its core temperature now.")
		}
	}
	return f
}

// cooling answers how the cooling of cooked meat went, beside the rules.
func (f figured) cooling(c grammar.Cooling) figured {
	var log heat.Log
	var at time.Duration
	for i, leg := range c.Legs {
		if i == 0 {
			log = append(log, heat.Reading{After: 0, Probe: leg.From})
		}
		at += leg.In
		log = append(log, heat.Reading{After: at, Probe: leg.To})
	}
	words := map[heat.State]string{heat.Met: msg("met"), heat.Waiting: msg("not begun"), heat.Running: msg("running"), heat.Unsure: msg("not sure"), heat.Over: msg("over")}
	for _, rule := range heat.Coolings() {
		stages, worst, err := rule.Judge(log)
		if err != nil {
			return f.refused(err, grammar.Dose{})
		}
		var lines []string
		for _, s := range stages {
			line := f.l.say("%s to %s °C within %s: %s", trimmed(float64(s.Leg.From), 1), trimmed(float64(s.Leg.To), 1), span(f.l, s.Leg.Within), f.l.say(words[s.State]))
			if s.State != heat.Waiting {
				line += f.l.say(", about %s", span(f.l, s.Took.Likely))
			}
			lines = append(lines, line)
		}
		lines = append(lines, rule.Source+", "+seenWords(f.l, rule.Seen))
		f.fact(f.l.say(rule.ID), lines...)
		f.answer.Heat = append(f.answer.Heat, MachineHeat{Rule: rule.ID, State: words[worst], Source: rule.Source, Seen: rule.Seen})
	}
	f.warn(Warning{Level: cure.Note.String(), Code: "cooling", Text: f.l.say("the rules for cured meat are for meat with its nitrite in; which rule applies is for the site's plan and the authority. Over it: hold")})
	return f
}

// freeze answers whether a freezing counts against trichinae.
func (f figured) freeze(c grammar.Freeze) figured {
	species := speciesOf(c.Product, c.Cut)
	thickness := c.Thickness.Or(150, cure.FromRule).Value // mm, the thicker end of the first table
	t, err := heat.Freezing(species, thickness)
	if errors.Is(err, heat.ErrSpecies) {
		f.warn(Warning{Level: cure.Hold.String(), Code: "species", Text: f.l.say("freezing is no treatment for this animal: its worms may stand it. Cook it to 71 °C (160 °F)")})
		f.answer.Heat = []MachineHeat{{Rule: "trichinae, freezing", State: "no treatment", Source: heat.TrichinaeLaw().Source, Seen: heat.TrichinaeLaw().Seen}}
		return f
	}
	if err != nil {
		return f.refused(err, grammar.Dose{})
	}
	need, ok := t.Hold(c.Temperature.Value)
	state := msg("too warm to count")
	switch {
	case ok && c.For.Value >= need:
		state = "reached"
	case ok:
		state = "not reached"
	}
	f.answer.Heat = []MachineHeat{{Rule: t.Against + ", freezing", State: state, Source: t.Source, Seen: t.Seen}}
	line := f.l.say(state)
	if ok {
		line += f.l.say(": %s cm asks for %s at this temperature, once the core is there", trimmed(float64(thickness)/10, 1), span(f.l, need))
	}
	f.fact(f.l.say("freezing"), line, t.Source+", "+seenWords(f.l, t.Seen))
	law := heat.TrichinaeLaw()
	f.fact(f.l.say("standing"), f.l.say("%s is no longer in force; since then: %s", law.Section, law.Since))
	if state != "reached" {
		f.warn(Warning{Level: cure.Hold.String(), Code: "freezing", Text: f.l.say("it doesn't count against trichinae: cook it, or go on freezing")})
	}
	return f
}

// speciesOf is whose meat a phrase names.
func speciesOf(product, cut string) heat.Species {
	said := product + " " + cut
	for _, one := range []struct {
		word    string
		species heat.Species
	}{{"boar", heat.Boar}, {"bear", heat.Bear}, {"walrus", heat.Walrus}, {"horse", heat.Horse}, {"venison", heat.Game}, {"deer", heat.Game}, {"game", heat.Game},
		{"pork", heat.Pork}, {"ham", heat.Pork}, {"coppa", heat.Pork}} {
		if strings.Contains(said, one.word) {
			return one.species
		}
	}
	return heat.Unknown
}
