package bot

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// correctWeight puts the weight of a batch right. Before the start that is an amendment like
// any other. Once the cure is in the meat, what went in is reckoned on the new weight, the
// approval is void, and a chef decides.
func (t *turn) correctWeight(b store.Batch, c grammar.CorrectWeight) error {
	l := t.theirs
	amended := grammar.Amend{Clauses: grammar.Dose{Pieces: c.Pieces}}
	switch {
	case b.Ended != 0:
		return t.standing(b)
	case c.Why == "":
		return t.note(l.say("Why is the weight corrected?"), l.say("Type  %s: reason .", grammar.Canonical(c)))
	case b.StartedAt == 0:
		t.why = c.Why
		return t.amend(b, amended)
	}
	was, err := doseOf(b)
	if err != nil {
		return err
	}
	now := was.With(amended)
	if along := b.ReadingsOf(store.WeightReading); len(along) > 0 && !c.Green {
		return t.whichWeight(b, c, along[len(along)-1])
	}
	body := store.WeightCorrected{OldMg: b.Card.WeightMg, Phrase: grammar.Canonical(now), Why: c.Why}
	for _, p := range now.Pieces {
		body.NewMg += mg(p)
	}
	if body.NewMg == body.OldMg {
		return t.note(l.say("Nothing changes: batch %d has %s.", b.Number, milligrams(body.NewMg)))
	}
	s := t.settings()
	s.Region = cure.Given[cure.Region]{Value: cure.Region(b.Card.Region), Origin: cure.Asked}
	by, ok, err := t.withRecipe(was, false)
	if err != nil || !ok {
		return err
	}
	s.CureFrom = by.cureFrom()
	check, found, reckoned := onWeight(b, by.full, by.full.With(amended), s, (t.now - b.StartedAt).Duration())
	body.NitriteMilliPPM = -1
	if reckoned == nil {
		body.NitriteMilliPPM = int64(float64(likelyOf(found.Nitrite))*1000 + 0.5)
	}
	if up := found.TopUp; reckoned == nil && up != nil && up.Open && b.State == store.StateCuring {
		body.AddMg = mg(up.Cure.Weigh)
	}
	body.Hold = b.LastHold + 1
	if err := t.append(b.Number, body); err != nil {
		return err
	}
	if err := t.append(b.Number, store.Held{Why: t.ours.say("weight corrected: %s", c.Why), Number: body.Hold}); err != nil {
		return err
	}
	return t.post(t.both(func(l tongue) Card {
		f := asked(l, "check", check, s)
		f.card.Lines = []string{l.say("corrected by %s: %s", t.person.Name, c.Why)}
		if reckoned != nil {
			f.card.Lines = append(f.card.Lines, l.say("What went in can't be reckoned on the new weight: no figure is known."))
		} else {
			f.card.Lines = append(f.card.Lines, correctedLine(l, b, found))
			f = f.found(check, s, found)
		}
		f.card.Kind, f.card.Batch = HoldCard, b.Number
		f.card.Title = l.say("HOLD on batch %d: weight corrected, %s → %s", b.Number, milligrams(body.OldMg), milligrams(body.NewMg))
		if b.Approval != nil {
			f.card.Lines = append(f.card.Lines, l.say("The approval of %s is void.", milligrams(body.OldMg)))
		}
		f.card.Next = l.say("Turn it and keep it cold. Nothing is added, smoked, served or sold until a chef decides:  release: reason  or  discard: reason .")
		if body.AddMg > 0 {
			f.card.Lines = append(f.card.Lines, l.say("Add %s of %s today, once that is approved anew; the clock then starts again.", weighed(body.AddMg), agentOfCard(l, b.Card)))
			f.card.Next = l.say("Turn it and keep it cold. Another chef types  approve %s  in this thread, or  discard: reason . Nothing is added before that.", weighed(body.AddMg))
		}
		return f.card
	}))
}

// whichWeight asks whether the green weight of a batch is corrected, or one along its way.
func (t *turn) whichWeight(b store.Batch, c grammar.CorrectWeight, last store.Reading) error {
	l := t.theirs
	of := fmt.Sprintf("batch %d: ", b.Number)
	along := grammar.Correct{Now: grammar.WeighsNow{Pieces: c.Pieces}, Why: c.Why}
	c.Green = true
	green, now := "green weight", "now"
	return t.ask(Card{Kind: QuestionCard, Batch: b.Number, Title: l.say("Which weight is corrected?"),
		Lines:   []string{l.say("%s: %s, as it went in", green, milligrams(b.Card.WeightMg)), l.say("%s: %s, as it weighed on %s", now, milligrams(last.Value), moment(l, timeOf(last.At), t.zone))},
		Choices: []string{green, now}, Next: answerWith(l, []string{green, now}, "")},
		[]grammar.Choice{{Label: green, Phrase: of + grammar.Canonical(c)}, {Label: now, Phrase: of + grammar.Canonical(along)}}, "")
}

// doseOf is the dose phrase of a batch.
func doseOf(b store.Batch) (grammar.Dose, error) {
	p, err := grammar.Parse(b.Card.Phrase, grammar.Setting{})
	if err != nil {
		return grammar.Dose{}, err
	}
	d, _ := p.Command.(grammar.Dose)
	return d, nil
}

// onWeight reckons what was weighed for one dose on the meat of another, as a check does.
// Salt and cure are those of the record: a setting that was changed since changes nothing of
// what is in the meat.
func onWeight(b store.Batch, was, now grammar.Dose, s Settings, age time.Duration) (grammar.Check, cure.Found, error) {
	agent, kept := agentOnCard(b.Card)
	if kept {
		was, now = withAgent(was, agent), withAgent(now, agent)
	}
	was, now = withSalt(was, b.Card), withSalt(now, b.Card)
	dose, err := compute(was, s)
	if err != nil {
		return grammar.Check{Meat: now}, cure.Found{}, err
	}
	if !kept {
		// An older card has its curing salt in print alone: it has to be the one of the phrase.
		if agent = dose.Request.Agent.Value; printedAgent(agent) != b.Card.Agent {
			return grammar.Check{Meat: now}, cure.Found{}, &cure.Missing{What: "cure"}
		}
	}
	return inMeat(b, wentIn{agent, cureIn(b), saltIn(b)}, dose, now, s, age)
}

// wentIn is what was put on the meat of a batch.
type wentIn struct {
	agent          cure.Agent
	cureMg, saltMg int64
}

// cureIn is how much curing salt went in: as it was weighed, else as it was approved, with what
// was added since.
func cureIn(b store.Batch) int64 {
	if b.Weighing != nil {
		return b.Weighing.CureMg
	}
	return b.Card.CureMg
}

// saltIn is how much salt went in beside it. Who weighed in the cure alone put in the salt of the
// dose card.
func saltIn(b store.Batch) int64 {
	if b.Weighing != nil && b.Weighing.SaltMg > 0 {
		return b.Weighing.SaltMg
	}
	return b.Card.SaltMg
}

// inMeat examines what went in on the meat of a phrase, beside the rest of the dose that it was
// weighed for.
func inMeat(b store.Batch, in wentIn, dose cure.Dose, meat grammar.Dose, s Settings, age time.Duration) (grammar.Check, cure.Found, error) {
	c := grammar.Check{Meat: meat}
	if in.cureMg > 0 {
		c.Amounts = []grammar.Amount{{Kind: in.agent.Kind, Nitrite: given(in.agent.Nitrite), Nitrate: given(in.agent.Nitrate), Grams: cure.Typed(gramsOf(in.cureMg))}}
	}
	c.Salt = cure.Typed(gramsOf(in.saltMg))
	for _, a := range dose.Add {
		switch a.Item {
		case cure.SugarItem:
			c.Sugar = cure.Typed(a.Weigh)
		case cure.AscorbateItem:
			c.Ascorbate = cure.Typed(a.Weigh)
		}
	}
	done, err := checkedOf(c, s)
	if err != nil {
		return c, cure.Found{}, err
	}
	done.Age = cure.Typed(age)
	done.Finished = !slices.Contains([]store.State{store.StateCuring, store.StateResting}, b.State)
	found, err := cure.Examine(done)
	found.Slip = cure.NoSlip // the slip is in the weight
	return c, found, err
}

// agentOnCard is the curing salt that a dose card was reckoned with; false: the card is older
// than that record, or its kind is none known.
func agentOnCard(c store.Card) (cure.Agent, bool) {
	for k := cure.NoCure; k <= cure.VegetablePowder; k++ {
		if k.String() == c.AgentKind {
			return cure.Agent{Kind: k, Nitrite: strengthKept(c.AgentNitriteMilliPPM), Nitrate: strengthKept(c.AgentNitrateMilliPPM)}, true
		}
	}
	return cure.Agent{}, false
}

// withAgent is a dose with its curing salt put in, as if it had been typed: a jar may hold
// another by now.
func withAgent(d grammar.Dose, a cure.Agent) grammar.Dose {
	d.Jar, d.Kind, d.Nitrite, d.Nitrate = "", a.Kind, given(a.Nitrite), given(a.Nitrate)
	return d
}

// withSalt is a dose with the salt of its card put in, where none was typed: the kitchen's usual
// one may be another by now.
func withSalt(d grammar.Dose, c store.Card) grammar.Dose {
	var a Answer
	if d.Salt.Set() || json.Unmarshal(c.Answer, &a) != nil || a.SaltPct == nil || *a.SaltPct <= 0 {
		return d
	}
	d.Salt = cure.Typed(cure.Fraction(*a.SaltPct / 100))
	return d
}

// keptStrength is a strength for the records, thousandths of mg/kg; strengthKept reads it back.
func keptStrength(f cure.Fraction) int64 { return int64(math.Round(float64(f) * 1e9)) }

func strengthKept(milliPPM int64) cure.Fraction { return cure.Fraction(milliPPM) / 1e9 }

// given is a strength that a cure has; unset where it has none.
func given(f cure.Fraction) cure.Given[cure.Fraction] {
	if f == 0 {
		return cure.Given[cure.Fraction]{}
	}
	return cure.Typed(f)
}

// likelyOf is the likely value of a range, or its upper end where there is none.
func likelyOf(r cure.Range[cure.PPM]) cure.PPM {
	if r.Likely == 0 {
		return r.High
	}
	return r.Likely
}

// correctedLine is what went in beside what the new weight would need.
func correctedLine(l tongue, b store.Batch, found cure.Found) string {
	in := l.say("%s of %s on %s = %s", weighed(cureIn(b)), b.Card.Agent, grams(found.BasisMass, 1), ranged(l, found.Nitrite))
	scale := found.Request.CureScale.Value
	needs := grams(found.Right, scale)
	switch {
	case found.TopUp != nil:
		return l.say("%s, needs %s, missing %s", in, needs, grams(found.TopUp.Cure.Weigh, scale))
	case found.Right > 0:
		return l.say("%s, needs %s", in, needs)
	}
	return in
}

// nitriteOf prints the nitrite of a record.
func nitriteOf(l tongue, milliPPM int64) string {
	if milliPPM < 0 {
		return l.say("an unknown amount of")
	}
	return ppm(cure.PPM(milliPPM) / 1000)
}

func gramsOf(milligrams int64) cure.Gram { return cure.Gram(milligrams) / 1000 }

// milligrams prints a weight of meat of the records.
func milligrams(m int64) string { return kilos(gramsOf(m)) }
