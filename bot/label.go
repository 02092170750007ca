package bot

import (
	"strings"

	"salthand/store"
)

// label is what hangs on the bag of a batch.
func (t *turn) label(b store.Batch) (Label, error) {
	l := t.ours
	made, err := t.called(b.AskedBy)
	if b.StartedBy != "" && err == nil {
		made, err = t.called(b.StartedBy)
	}
	if err != nil {
		return Label{}, err
	}
	approved, err := t.approvedBy(b)
	if err != nil {
		return Label{}, err
	}
	out := Label{
		Title: cutName(l, b.Card.Cut), Batch: l.say("batch %d", b.Number), Weight: grams(gramsOf(b.Card.WeightMg), 0),
		State: heatOf(l, b), Code: t.codeOf(b), Foot: t.printed(),
	}
	out.Banner, out.Why = t.bannerOf(b)
	field := func(name, value string) { out.Fields = append(out.Fields, PaperField{Name: name, Value: value}) }
	wide := func(name, value string) {
		out.Fields = append(out.Fields, PaperField{Name: name, Value: value, Wide: true})
	}
	if recipe := recipeOf(l, b); recipe != "" {
		wide(l.say("recipe"), recipe)
	}
	wide(l.say("cure"), t.cureOf(b))
	if meat := meatOf(l, b); meat != "" {
		wide(l.say("meat"), meat)
	}
	field(l.say("method"), methodName(l, b.Card.Method))
	field(l.say("in the cure since"), notYet(l, t.soon(b.StartedAt)))
	field(l.say("next"), t.nextOf(b))
	field(l.say("use by"), t.useBy(b))
	if b.Where != "" {
		wide(l.say("place"), b.Where)
	}
	allergens, err := t.allergensLine(b)
	if err != nil {
		return Label{}, err
	}
	wide(l.say("allergens"), allergens)
	field(l.say("made by"), made)
	field(l.say("approved by"), approved)
	return out, nil
}

// notYet is a value, or that there is none yet.
func notYet(l tongue, value string) string {
	if value == "" {
		return l.say("not yet")
	}
	return value
}

// cureOf is what cures a batch: the grams, the curing salt with its strength, the jar, the lot.
func (t *turn) cureOf(b store.Batch) string {
	l := t.ours
	if b.Card.CureMg == 0 {
		return agentOfCard(l, b.Card)
	}
	in, jar, lot := b.Card.CureMg, b.Card.Jar, b.Card.Lot
	if b.Weighing != nil {
		in, jar, lot = b.Weighing.CureMg, b.Jar, b.Lot
	}
	parts := []string{weighed(in) + " " + agentOfCard(l, b.Card)}
	if jar != "" {
		parts = append(parts, l.say("jar %s", jar))
	}
	if b.Card.Undyed {
		parts = append(parts, l.say("UNDYED"))
	}
	if lot != "" {
		return strings.Join(append(parts, l.say("lot %s", lot)), ", ")
	}
	return strings.Join(append(parts, l.say("lot not noted")), ", ")
}

// recipeOf is the recipe of a batch with its version; "": none.
func recipeOf(l tongue, b store.Batch) string {
	if b.Card.Recipe == "" {
		return ""
	}
	return l.say("%s, version %d", b.Card.Recipe, b.Card.RecipeVersion)
}

// meatOf is where the meat of a batch came from; "": not noted.
func meatOf(l tongue, b store.Batch) string {
	lots := make([]string, len(b.Meat))
	for i, m := range b.Meat {
		parts := []string{l.say("lot %s", m.Lot)}
		for _, from := range []string{m.Supplier, m.Establishment} {
			if from != "" {
				parts = append(parts, from)
			}
		}
		if m.Received != nil {
			parts = append(parts, l.say("%s °C on arrival", trimmed(float64(*m.Received)/1000, 1)))
		}
		lots[i] = strings.Join(parts, ", ")
	}
	return strings.Join(lots, "; ")
}

// nextOf is the next step of a batch with its date; where it waits for somebody, for what. A
// step that nobody noted comes first, but for a turn: that is made up for by the next one.
func (t *turn) nextOf(b store.Batch) string {
	l := t.ours
	switch {
	case b.Ended != 0:
		return stateName(l, b.State)
	case b.State == store.StateAsked:
		return l.say("approval")
	case b.StartedAt == 0:
		return l.say("into the cure")
	}
	for _, s := range b.Steps {
		if missed := !s.Done && !s.Undone && !s.Dropped && s.Due <= t.now; missed && s.Kind != "turn" && s.Kind != "overhaul" {
			return l.say("%s, due since %s", stepName(l, s.Kind), t.soon(s.Due))
		}
	}
	s := nextStep(b, t.now)
	if s == nil {
		return l.say("nothing is planned")
	}
	return stepName(l, s.Kind) + " " + t.soon(s.Due)
}

// useBy is the day until which a batch is used, where one was set; "": a line to write it on.
func (t *turn) useBy(b store.Batch) string {
	for _, s := range b.Steps {
		if s.Kind == "use by" && !s.Done && !s.Undone {
			return t.dated(s.Due)
		}
	}
	return ""
}

// heatOf says whether a batch is raw. What was not noted did not happen; that something is ready
// to eat is never said of a batch that somebody has not finished.
func heatOf(l tongue, b store.Batch) string {
	cooked := lastStep(b, "cook")
	switch finished := b.State == store.StateFinished; {
	case cooked == nil && finished:
		return l.say("FINISHED, not cooked")
	case cooked == nil:
		return l.say("RAW, not ready to eat")
	case cooked.CoreMilliC == 0 && finished:
		return l.say("FINISHED, cooked, core not noted")
	case cooked.CoreMilliC == 0:
		return l.say("COOKED, core not noted")
	case finished:
		return l.say("FINISHED, cooked to %s °C", trimmed(float64(cooked.CoreMilliC)/1000, 1))
	}
	return l.say("COOKED to %s °C, not finished", trimmed(float64(cooked.CoreMilliC)/1000, 1))
}
