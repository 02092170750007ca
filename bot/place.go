package bot

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// place takes a command about a place of the kitchen.
func (t *turn) ofPlace(c grammar.Command) error {
	switch c := c.(type) {
	case grammar.NamePlace:
		return t.namePlace(c)
	case grammar.ShowPlace:
		return t.showPlace(c)
	case grammar.ReadPlace:
		return t.readPlace(c)
	case grammar.WasWarm:
		return t.wasWarm(c)
	}
	return fmt.Errorf("bot: no turn for %T", c)
}

// namePlace makes a place known. A name that looks like one of another spelling is asked about.
func (t *turn) namePlace(c grammar.NamePlace) error {
	l := t.theirs
	names := t.placeNames()
	for _, known := range names {
		if grammar.PlaceKey(known) == grammar.PlaceKey(c.Name) {
			return t.note(l.say("%s is known already.", known), l.say("Type  batch 3: in %s  for what is put there.", known))
		}
	}
	if near := grammar.NearPlaces(c.Name, names); len(near) > 0 && !c.New {
		var choices []grammar.Choice
		for _, n := range near {
			choices = append(choices, grammar.Choice{Label: n, Phrase: grammar.Canonical(grammar.ShowPlace{Place: n})})
		}
		fresh := grammar.NamePlace{Name: c.Name, New: true}
		choices = append(choices, grammar.Choice{Label: grammar.Canonical(fresh), Phrase: grammar.Canonical(fresh)})
		return t.ask(t.choice(l.say("Is that %s, or another place?", strings.Join(near, l.say(" or "))), choices), choices, "")
	}
	if err := t.append(0, store.PlaceNamed{Name: c.Name}); err != nil {
		return err
	}
	return t.note(l.say("%s is a place of this kitchen now.", c.Name), l.say("Type  %s TEMP c  for its temperature, and  batch 3: in %s  for what is put there.", c.Name, c.Name))
}

// choice is a question card that offers choices.
func (t *turn) choice(title string, choices []grammar.Choice) Card {
	var labels []string
	for _, c := range choices {
		labels = append(labels, c.Label)
	}
	return Card{Kind: QuestionCard, Title: title, Choices: labels, Next: answerWith(t.theirs, labels, "")}
}

func (t *turn) placeNames() []string {
	if t.kitchen.Places == "" {
		return nil
	}
	return strings.Split(t.kitchen.Places, "\n")
}

// known gives a place by its name; an unknown one is asked back with those there are, and with
// is the command as it would be typed with another.
func (t *turn) known(name string, with func(place string) grammar.Command) (p store.Place, ok bool, err error) {
	l := t.theirs
	for _, known := range t.placeNames() {
		if grammar.PlaceKey(known) == grammar.PlaceKey(name) {
			return t.tx.Place(t.kitchen.ID, known)
		}
	}
	names := grammar.NearPlaces(name, t.placeNames())
	for _, n := range t.placeNames() {
		if !slices.Contains(names, n) && len(names) < mostChoices {
			names = append(names, n)
		}
	}
	title := l.say("Which place?")
	if name != "" {
		title = l.say("No place here is called %s.", name)
	}
	if len(names) == 0 {
		return p, false, t.note(title, l.say("Type  place %s  to make it known, then the line again.", orPlace(name)))
	}
	var choices []grammar.Choice
	for _, n := range names {
		phrase := grammar.Canonical(with(n))
		if b := t.reading.phrase.Batch; b > 0 {
			phrase = fmt.Sprintf("batch %d: %s", b, phrase)
		}
		choices = append(choices, grammar.Choice{Label: n, Phrase: phrase})
	}
	card := t.choice(title, choices)
	card.Next += " " + l.say("Is it a new one? Type  place %s , then the line again.", orPlace(name))
	return p, false, t.ask(card, choices, "")
}

// knownOrNew is known, for what is put in a place or read off it: a name that is like none that is
// known makes a new place. One that is like another is asked back.
func (t *turn) knownOrNew(name string, with func(place string) grammar.Command) (p store.Place, ok bool, err error) {
	if name == "" || len(grammar.NearPlaces(name, t.placeNames())) > 0 {
		return t.known(name, with)
	}
	if err := t.append(0, store.PlaceNamed{Name: name}); err != nil {
		return p, false, err
	}
	return t.tx.Place(t.kitchen.ID, name)
}

// mostChoices is how many places a question offers.
const mostChoices = 6

func orPlace(name string) string {
	if name == "" {
		return "walk-in 2"
	}
	return name
}

// putIn notes where a batch was put.
func (t *turn) putIn(b store.Batch, c grammar.PutIn) error {
	l := t.theirs
	if b.Ended != 0 {
		return t.notNow(b, grammar.Canonical(c))
	}
	happened, ok, err := t.past(c.When)
	if err != nil || !ok {
		return err
	}
	p, ok, err := t.knownOrNew(c.Place, func(name string) grammar.Command { return grammar.PutIn{Place: name, When: c.When} })
	if err != nil || !ok {
		return err
	}
	switch {
	case b.Where == p.Name:
		return t.note(l.say("Batch %d is in %s already, since %s.", b.Number, p.Name, moment(l, timeOf(b.WhereSince), t.zone)))
	case b.Where != "" && milli(happened) < b.WhereSince:
		return t.note(l.say("Batch %d was put in %s on %s, after that.", b.Number, b.Where, moment(l, timeOf(b.WhereSince), t.zone)),
			l.say("If that is wrong, type  undo  there; else say where it is now."))
	}
	if err := t.appendAt(b.Number, store.Moved{From: b.Where, To: p.Name}, milli(happened)); err != nil {
		return err
	}
	return t.announce(func(l tongue) Card {
		words := l.say("Batch %d is in %s.", b.Number, p.Name)
		if b.Where != "" {
			words = l.say("Batch %d is in %s; it was in %s.", b.Number, p.Name, b.Where)
		}
		c := noteCard(words + t.lateWords(l, happened))
		if openStep(b, "ferment") != nil && b.StartedAt != 0 {
			c.Next = l.say("If it ferments there from now on, type  into the chamber .")
		}
		if p.Last != nil {
			c.Lines = append(c.Lines, l.say("%s: %s, read %s", p.Name, bothDegrees(celsius(p.Last.MilliC)), moment(l, timeOf(p.Last.At), t.zone)))
		}
		return c
	})
}

// past is the instant of something that was done; an instant to come is refused.
func (t *turn) past(w *grammar.When) (time.Time, bool, error) {
	if w == nil {
		return t.m.At, true, nil
	}
	at := before(*w, t.m.At, t.zone)
	if at.After(t.m.At) {
		return at, false, t.note(t.theirs.say("That time has not come yet."), t.theirs.say("Type it when it is so."))
	}
	return at, true, nil
}

// lateWords mark what was noted later than it happened.
func (t *turn) lateWords(l tongue, happened time.Time) string {
	if t.at().Sub(happened) <= lateAfter {
		return ""
	}
	return l.say(" (of %s: a late entry)", moment(l, happened, t.zone))
}

func celsius(milli int64) cure.Celsius { return cure.Celsius(milli) / 1000 }

func milliC(c cure.Celsius) int64 { return mg(cure.Gram(c)) }

// whereIs answers where a batch is.
func (t *turn) whereIs(b store.Batch) error {
	l := t.theirs
	if b.Where == "" {
		return t.note(l.say("Nobody noted where batch %d is.", b.Number), l.say("When you find it, type  batch %d: in walk-in 2 .", b.Number))
	}
	words := l.say("Batch %d is in %s, since %s.", b.Number, b.Where, moment(l, timeOf(b.WhereSince), t.zone))
	if b.Ended != 0 {
		words = l.say("Batch %d is %s; it was in %s, since %s.", b.Number, stateWords(l, b), b.Where, moment(l, timeOf(b.WhereSince), t.zone))
	}
	c := noteCard(words)
	if p, ok, err := t.tx.Place(t.kitchen.ID, b.Where); err != nil {
		return err
	} else if ok && p.Last != nil {
		c.Lines = append(c.Lines, l.say("%s: %s, read %s", p.Name, bothDegrees(celsius(p.Last.MilliC)), moment(l, timeOf(p.Last.At), t.zone)))
	}
	for _, h := range b.Holds {
		c.Lines = append(c.Lines, t.holdLine(l, h))
	}
	return t.post(c)
}

// showPlace answers what is in a place, and its last temperatures.
func (t *turn) showPlace(c grammar.ShowPlace) error {
	l := t.theirs
	p, ok, err := t.known(c.Place, func(name string) grammar.Command { return grammar.ShowPlace{Place: name} })
	if err != nil || !ok {
		return err
	}
	in, err := t.inPlace(p.Name)
	if err != nil {
		return err
	}
	card := Card{Kind: ListCard, Title: l.say("In %s: %d", p.Name, len(in))}
	for _, b := range in {
		card.Lines = append(card.Lines, t.placeLine(l, b))
	}
	readings, err := t.readingsOf(p.Name, 0, shownReadings)
	if err != nil {
		return err
	}
	was, err := t.correctionsOf(p.Name, 0)
	if err != nil {
		return err
	}
	var lines []string
	for _, r := range readings {
		line := l.say("%s  %s", moment(l, timeOf(r.Happened), t.zone), bothDegrees(celsius(r.Body.(store.PlaceRead).MilliC)))
		if r.Late {
			line += l.say(" (late entry, noted %s)", moment(l, timeOf(r.Noted), t.zone))
		}
		line += restsWords(l, r.Body.(store.PlaceRead).Evidence)
		if old, ok := was[r.Seq]; ok {
			line += l.say(" (corrected, was %s)", bothDegrees(celsius(old)))
		}
		lines = append(lines, line)
	}
	if len(lines) == 0 {
		lines = []string{l.say("none was noted")}
	}
	card.Facts = append(card.Facts, Fact{Label: l.say("temperatures"), Lines: lines})
	gaps, err := t.gapsOf(l, p.Name)
	if err != nil {
		return err
	}
	if len(gaps) > 0 {
		card.Facts = append(card.Facts, Fact{Label: l.say("not taken"), Lines: gaps})
	}
	return t.post(card)
}

// shownReadings is how many temperatures of a place are shown.
const shownReadings = 5

// placeLine is a batch in a list of what is in a place.
func (t *turn) placeLine(l tongue, b store.Batch) string {
	return l.say("batch %d  %s %s, %s, %s%s", b.Number, kilos(gramsOf(b.Card.WeightMg)), cutName(l, b.Card.Cut), methodName(l, b.Card.Method), stateWords(l, b), t.dayOf(l, b))
}

// dayOf says how many of the planned days in the cure are over.
func (t *turn) dayOf(l tongue, b store.Batch) string {
	if b.StartedAt == 0 {
		return ""
	}
	in := (t.now - b.StartedAt).Duration()
	if b.State != store.StateCuring || b.Card.PlanSeconds == 0 {
		return l.say(", day %s since the start", trimmed(daysOf(in), 1))
	}
	return l.say(", day %s of %s", trimmed(daysOf(in), 1), trimmed(daysOf(time.Duration(b.Card.PlanSeconds)*time.Second), 1))
}

// inPlace are the open batches in a place, by number.
func (t *turn) inPlace(name string) ([]store.Batch, error) {
	return t.all(store.Query{Place: name})
}

// all are the batches of a query, by number.
func (t *turn) all(q store.Query) (all []store.Batch, err error) {
	q.Limit = wholePage
	for {
		page, more, err := t.tx.Batches(t.kitchen.ID, q)
		if err != nil {
			return nil, err
		}
		all = append(all, page...)
		if more == "" {
			slices.SortFunc(all, func(a, b store.Batch) int { return int(a.Number) - int(b.Number) })
			return all, nil
		}
		q.After = more
	}
}

// wholePage is how many batches are read at once where all are wanted.
const wholePage = 200
