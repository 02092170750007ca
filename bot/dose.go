package bot

import (
	"encoding/json"
	"fmt"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// dose answers a dose phrase: with a card alone where it was only asked how much, else with
// a numbered batch, or a revision of the one whose thread this is.
func (t *turn) dose(d grammar.Dose, named uint64) error {
	s := t.settings()
	by, ok, err := t.withRecipe(d, true)
	if err != nil || !ok {
		return err
	}
	d, s.CureFrom = by.typed, by.cureFrom()
	dose, err := compute(by.full, s)
	if err != nil {
		refused := func(l tongue) figured { return asked(l, "dose", d, s).refused(err, d) }
		return t.reply(refused(t.theirs), refused)
	}
	phrase, abroad := grammar.Canonical(d), besides(by.full, s)
	card := func(l tongue) Card {
		c := doseCard(l, dose, grammar.CanonicalIn(string(l), d))
		if f, ok := by.fact(t, l); ok {
			c.Facts = append([]Fact{f}, c.Facts...)
		}
		c.Facts = append(c.Facts, abroadFacts(l, abroad)...)
		if t.kitchen.Settings[setUnits] == "us" {
			c.Lines = append(c.Lines, inPounds(l, dose.Request.Pieces))
		}
		return c
	}
	if d.JustAsking {
		rec := store.Card{Jar: d.Jar}
		if err := t.bindJar(&rec); err != nil {
			return err
		}
		return t.post(t.both(func(l tongue) Card {
			c := t.withJar(l, card(l), rec)
			c.Next = l.say("No batch was made. Type it without \"how much for\" to make one.")
			return c
		}))
	}
	b, revising, err := t.revised(named)
	if err != nil {
		return err
	}
	if !revising {
		return t.newBatch(d, dose, phrase, card)
	}
	if b.State != store.StateAsked && b.State != store.StateApproved {
		return t.standing(b)
	}
	return t.revise(b, d, dose, phrase, card)
}

// revised is the batch that a dose phrase changes, if any.
func (t *turn) revised(named uint64) (b store.Batch, ok bool, err error) {
	switch {
	case named != 0:
		return t.tx.Batch(t.kitchen.ID, named)
	case len(t.reading.open) == 1:
		return t.tx.Batch(t.kitchen.ID, t.reading.open[0])
	}
	return b, false, nil
}

// reply posts the answer to a command that asks for figures; a question stays open. Figures
// are for who asked; what the others act on is worded again for them.
func (t *turn) reply(f figured, again func(l tongue) figured) error {
	switch f.card.Kind {
	case QuestionCard:
		return t.ask(f.card, f.choices, f.open)
	case DoseCard, StopCard, HoldCard:
		if t.ours != t.theirs {
			return t.post(above(t.ours, again(t.ours).card, t.theirs, f.card))
		}
	}
	return t.post(f.card)
}

// both words a card that others act on in the kitchen's tongue, and in the person's beneath
// where that is another.
func (t *turn) both(word func(l tongue) Card) Card {
	if t.ours == t.theirs {
		return word(t.ours)
	}
	return above(t.ours, word(t.ours), t.theirs, word(t.theirs))
}

// above is a card with the same in another tongue beneath.
func above(first tongue, c Card, second tongue, also Card) Card {
	c.in(first)
	also.in(second)
	also.Buttons = nil
	c.Also = &also
	return c
}

func (t *turn) newBatch(d grammar.Dose, dose cure.Dose, phrase string, card func(l tongue) Card) error {
	n, err := t.tx.NextBatch(t.kitchen.ID)
	if err != nil {
		return err
	}
	lapse := t.endOfDay()
	rec, err := record(1, d, dose, phrase)
	if err != nil {
		return err
	}
	if err := t.bindJar(&rec); err != nil {
		return err
	}
	if err := t.append(n, store.Asked{Card: rec, Conversation: t.place.String(), Place: t.placeBytes(), Lapse: lapse}); err != nil {
		return err
	}
	if err := t.setApprovalAlarms(n); err != nil {
		return err
	}
	return t.postDose(n, func(l tongue) Card { return t.batchCard(l, t.withJar(l, card(l), rec), n, 1, dose) })
}

// postDose posts the dose card of a batch in its thread, and where it is approved.
func (t *turn) postDose(n uint64, word func(l tongue) Card) error {
	b, _, err := t.tx.Batch(t.kitchen.ID, n)
	if err != nil {
		return err
	}
	if err := t.post(t.both(word)); err != nil {
		return err
	}
	return t.request(b, word)
}

func (t *turn) revise(b store.Batch, d grammar.Dose, dose cure.Dose, phrase string, card func(l tongue) Card) error {
	rec, err := record(b.Revision+1, d, dose, phrase)
	if err != nil {
		return err
	}
	if err := t.bindJar(&rec); err != nil {
		return err
	}
	if len(differences(english, b.Card, rec)) == 0 {
		return t.note(t.theirs.say("Nothing changes: dose card %d, revision %d says the same.", b.Number, b.Revision))
	}
	if err := t.append(b.Number, store.Revised{Card: rec, Lapse: t.endOfDay(), Why: t.why}); err != nil {
		return err
	}
	if err := t.setApprovalAlarms(b.Number); err != nil {
		return err
	}
	return t.postDose(b.Number, func(l tongue) Card {
		c := t.withJar(l, card(l), rec)
		changes := differences(l, b.Card, rec)
		if b.State == store.StateApproved {
			changes = append(changes, l.say("the approval is void: it has to be approved anew"))
		}
		c.Facts = append([]Fact{{Label: l.say("changed"), Lines: changes}}, c.Facts...)
		return t.batchCard(l, c, b.Number, rec.Revision, dose)
	})
}

// batchCard makes a dose card the card of a batch.
func (t *turn) batchCard(l tongue, card Card, n uint64, revision uint32, d cure.Dose) Card {
	card.Batch = n
	card.Key = t.doseKey(n, revision)
	card.Lines = append(card.Lines, l.say("batch %d, dose card revision %d, asked by %s", n, revision, t.person.Name))
	if d.Time.PlanFor > 0 {
		card.Lines = append(card.Lines, l.say("started today it comes out %s", planDay(l, d, t.at(), t.zone)))
	}
	card.Next = l.say("A second person with the chef role types  approve  in this thread.")
	card.Buttons = t.buttonsOf(l, store.Batch{Number: n, Revision: revision, State: store.StateAsked}, revision)
	return card
}

// record is what the store keeps of a dose: in English, whatever the kitchen speaks.
func record(revision uint32, d grammar.Dose, dose cure.Dose, phrase string) (store.Card, error) {
	answer, err := json.Marshal(machineDose(english, dose, phrase))
	if err != nil {
		return store.Card{}, fmt.Errorf("keeping dose %q: %w", phrase, err)
	}
	agent := dose.Request.Agent.Value
	c := store.Card{
		Revision: revision, Phrase: phrase, Cut: dose.Request.Cut, Class: dose.Class,
		Method: dose.Request.Method.Value.String(), Region: string(dose.Request.Region.Value),
		Agent: printedAgent(agent), AgentKind: agent.Kind.String(),
		AgentNitriteMilliPPM: keptStrength(agent.Nitrite), AgentNitrateMilliPPM: keptStrength(agent.Nitrate),
		NitriteMilliPPM: int64(float64(dose.Nitrite)*1000 + 0.5), Jar: d.Jar, Recipe: d.Recipe, RecipeVersion: d.RecipeVersion,
		PlanSeconds: int64(dose.Time.PlanFor / time.Second), Answer: answer, Steps: plannedSteps(dose),
	}
	for _, p := range dose.Request.Pieces {
		c.WeightMg += mg(p)
	}
	for _, a := range dose.Add {
		switch a.Item {
		case cure.CureItem:
			c.CureMg = mg(a.Weigh)
		case cure.SaltItem:
			c.SaltMg = mg(a.Weigh)
		}
	}
	for _, w := range dose.Cautions {
		c.Hold = c.Hold || w.Level == cure.Hold
	}
	return c, nil
}

// printedAgent is a curing salt as a record has it in print.
func printedAgent(a cure.Agent) string { return agentName(english, a) + ", " + strengthOf(english, a) }

// differences are what one revision of a dose card changes against another, in words.
func differences(l tongue, old, now store.Card) (lines []string) {
	for _, c := range changesOf(l, old, now) {
		lines = append(lines, c.what+": "+c.was+" → "+c.is)
	}
	return lines
}

// change is one value of a record that became another, in words.
type change struct{ what, was, is string }

// changesOf are the values that one revision of a dose card changes against another.
func changesOf(l tongue, old, now store.Card) (changes []change) {
	changed := func(label, was, is string) {
		if was != is {
			changes = append(changes, change{label, was, is})
		}
	}
	weight := func(m int64) string { return kilos(cure.Gram(m) / 1000) }
	changed(l.say("phrase"), phraseIn(l, old.Phrase), phraseIn(l, now.Phrase))
	changed(l.say("meat"), weight(old.WeightMg), weight(now.WeightMg))
	changed(l.say("cure"), agentOfCard(l, old), agentOfCard(l, now))
	changed(l.say("jar"), jarOfCard(l, old), jarOfCard(l, now))
	changed(l.say("cure to weigh"), weighed(old.CureMg), weighed(now.CureMg))
	changed(l.say("salt to weigh"), weighed(old.SaltMg), weighed(now.SaltMg))
	changed(l.say("nitrite"), ppm(cure.PPM(old.NitriteMilliPPM)/1000), ppm(cure.PPM(now.NitriteMilliPPM)/1000))
	changed(l.say("rule"), old.Region+", "+l.say(old.Class), now.Region+", "+l.say(now.Class))
	return changes
}

// at is the time of the turn.
func (t *turn) at() time.Time {
	if t.back != nil {
		return timeOf(t.back.At)
	}
	return timeOf(t.now)
}

// endOfDay is the end of the kitchen's day.
func (t *turn) endOfDay() store.Milli {
	here := t.at().In(t.zone)
	return milli(local(here.Year(), here.Month(), here.Day()+1, startOfDay, here.Location()))
}

func (t *turn) placeBytes() json.RawMessage {
	raw, err := json.Marshal(t.place)
	if err != nil {
		panic(err) // five strings
	}
	return raw
}
