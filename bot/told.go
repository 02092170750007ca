package bot

import (
	"maps"
	"strings"

	"salthand/cure"
	"salthand/grammar"
)

// telling is the answer to a line in free words, under way: a card with a verdict, the
// figures that follow from what was said, what to do now, and one question.
type telling struct {
	figured
	said grammar.Facts
	s    Settings
	// marinade is a liquid that the meat came out of again before it was even.
	marinade cure.Given[cure.Gram]
}

// tellers answer the situations; one that has none here is answered as something gone wrong.
var tellers = merged(map[grammar.Situation]func(*telling){
	grammar.SomethingWrong: (*telling).somethingWrong,
}, amountTellers, saltTellers, ruleTellers, basisTellers, pickleTellers, timeTellers, courseTellers, coldTellers, spoilageTellers, servingTellers, holdingTellers)

// merged are the tellers of all subjects.
func merged(subjects ...map[grammar.Situation]func(*telling)) map[grammar.Situation]func(*telling) {
	all := map[grammar.Situation]func(*telling){}
	for _, one := range subjects {
		maps.Copy(all, one)
	}
	return all
}

// tell answers a line in free words.
func tell(l tongue, c grammar.Told, s Settings) figured {
	t := telling{figured: asked(l, "hold", c, s), said: c.Said, s: s}
	read := t.readAs()
	teller := tellers[c.Of]
	if teller == nil {
		teller = (*telling).somethingWrong
	}
	teller(&t)
	if len(read) > 0 {
		t.card.Facts = append([]Fact{{Label: l.say("read as"), Lines: read}}, t.card.Facts...)
	}
	t.answer.Answer = t.text()
	return t.figured
}

// told posts the answer to a line in free words. It changes no record: a hold in the record
// is somebody's word.
func (t *turn) told(c grammar.Told) error {
	if done, err := t.toldOfWeighing(c); done || err != nil {
		return err
	}
	settings := t.settings()
	var failed error
	word := func(l tongue) figured {
		f := tell(l, c, settings)
		if err := t.onRecord(l, c, &f); err != nil {
			failed = err
		}
		if err := t.ofItsSteps(l, c, &f); err != nil {
			failed = err
		}
		if f.card.Kind == HoldCard && f.card.Batch == 0 && len(t.reading.open) == 1 {
			f.card.Batch = t.reading.open[0]
			f.card.Next = strings.TrimSpace(f.card.Next + " " + l.say("To hold batch %d in the record:  hold: what happened .", f.card.Batch))
		}
		return f
	}
	if err := t.reply(word(t.theirs), word); err != nil {
		return err
	}
	return failed
}

// hold makes the answer a hold with its verdict.
func (t *telling) hold(verdict string) {
	t.card.Kind, t.answer.Kind = HoldCard, "hold"
	t.card.Title = verdict
	for _, w := range t.card.Warnings {
		if w.Code == "told" {
			return
		}
	}
	t.warn(Warning{Level: cure.Hold.String(), Code: "told", Text: t.l.say("hold until a chef has decided")})
}

// says makes the answer one of figures alone: kind is that of the machine answer.
func (t *telling) says(kind, verdict string) {
	t.card.Kind, t.answer.Kind = FigureCard, kind
	t.card.Title = verdict
}

// line adds a plain line to the card.
func (t *telling) line(text string) { t.card.Lines = append(t.card.Lines, text) }

// asks ends the card with its one question.
func (t *telling) asks(question string) { t.card.Next = question }

// held is the verdict of every hold.
func (t *telling) held() string {
	return t.l.say("HOLD: don't dose, move, smoke, cook or serve it until a chef has decided.")
}

// keepCold are the lines of every hold.
func (t *telling) keepCold() {
	t.line(t.l.say("Keep it cold, at or below 4 °C (40 °F), and apart, with a label."))
}

// neverOut says that nitrite stays.
func (t *telling) neverOut() {
	t.line(t.l.say("Nitrite that is in can't be taken out: not by rinsing, soaking, cooking or smoking."))
}

// text is the whole card as one text, for the machine answer.
func (t *telling) text() string {
	lines := append([]string{t.card.Title}, t.card.Lines...)
	for _, f := range t.card.Facts {
		for _, one := range f.Lines {
			lines = append(lines, f.Label+": "+one)
		}
	}
	if t.card.Next != "" {
		lines = append(lines, t.card.Next)
	}
	return strings.Join(lines, "\n")
}

// readAs says how the amounts of the line were read, so that a slip shows.
func (t *telling) readAs() (lines []string) {
	var meat []string
	for _, p := range t.said.Meat.Pieces {
		meat = append(meat, grams(p, 0.1))
	}
	if len(meat) > 0 {
		what := t.said.Meat.Cut
		if what == "" {
			what = t.said.Product
		}
		if what == "" {
			what = "meat"
		}
		lines = append(lines, strings.Join(meat, " + ")+" "+t.l.say(what))
	}
	for _, a := range t.said.Amounts {
		if how := t.quantity(a); how != "" {
			lines = append(lines, how)
		}
	}
	return lines
}

// quantity is an amount of a curing salt as it was read; "" where it was only named.
func (t *telling) quantity(a grammar.Amount) string {
	name := t.l.say("cure, taken as no. 1")
	if a.Kind != cure.NoAgent {
		name = agentName(t.l, cure.Agent{Kind: a.Kind})
	}
	switch {
	case a.Grams.Set():
		return grams(a.Grams.Value, 0.01) + " " + name
	case a.Spoons.Set():
		return trimmed(a.Spoons.Value.Count, 2) + " " + t.l.say(a.Spoons.Value.Unit) + " " + name
	case a.Rate.Set():
		return percent(a.Rate.Value, 3) + " " + name
	}
	return ""
}

// checkOf is what went in as a check. A cure whose kind wasn't said is taken as no. 1, and the
// card says so.
func (t *telling) checkOf(amounts []grammar.Amount) grammar.Check {
	c := grammar.Check{Salt: t.said.Salt, Sugar: t.said.Sugar, Marinade: t.marinade, Meat: t.said.Meat}
	for _, a := range amounts {
		if a.Kind == cure.NoAgent && a.Jar == "" {
			a.Kind = cure.No1
		}
		c.Amounts = append(c.Amounts, a)
	}
	return c
}

// checked adds the figures of a check to the card; false where something is missing for it.
func (t *telling) checked(c grammar.Check) (cure.Found, bool) {
	found, err := examine(c, t.s)
	if err != nil {
		return found, false
	}
	t.figured = t.figured.found(c, t.s, found)
	return found, true
}

// somethingWrong answers what no other situation fits: it holds, says what can be said, and
// asks for the scale's figures.
func (t *telling) somethingWrong() {
	t.hold(t.held())
	t.keepCold()
	t.neverOut()
	t.line(t.l.say("Don't add cure to make up for anything."))
	t.asks(t.l.say("Say what the scale said: grams of which cure, on how much meat, since when."))
	if t.said.Has(":spoon") {
		t.line(t.l.say("A spoon is not a weight: level ones differ by two fifths."))
		t.asks(t.l.say("Weigh what such a spoon holds, and say how much meat it went on."))
	}
	var amounts []grammar.Amount
	for _, a := range t.said.Amounts {
		if a.Grams.Set() || a.Spoons.Set() || a.Rate.Set() {
			amounts = append(amounts, a)
		}
	}
	if len(amounts) == 1 && len(t.said.Meat.Pieces) > 0 {
		t.checked(t.checkOf(amounts))
	}
}
