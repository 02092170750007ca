package bot

import (
	"errors"

	"salthand/cure"
	"salthand/grammar"
)

// figured is the answer to a command that asks for figures and needs no records: the same
// for the machine and as a card. A question back has its choices.
type figured struct {
	l       tongue // that it is worded in
	answer  Answer
	card    Card
	choices []grammar.Choice
	open    string
}

// figures answers a command that asks for figures. ok is false for every other command.
func figures(l tongue, c grammar.Command, s Settings) (f figured, ok bool) {
	switch c := c.(type) {
	case grammar.Dose:
		return asked(l, "dose", c, s).dose(c, s), true
	case grammar.Check:
		return asked(l, "check", c, s).check(c, s), true
	case grammar.HowLong:
		return asked(l, "time", c, s).howLong(c, s), true
	case grammar.Swap:
		return asked(l, "swap", c, s).swap(c, s), true
	case grammar.Rub:
		return asked(l, "rub", c, s).rub(c, s), true
	case grammar.Mix:
		return asked(l, "mix", c, s).mix(c, s), true
	case grammar.Brine:
		return asked(l, "brine", c, s).brine(c), true
	case grammar.Desalt:
		return asked(l, "soak", c, s).desalt(c), true
	case grammar.WaterActivity:
		return asked(l, "water activity", c, s).waterActivity(c), true
	case grammar.Dry:
		return asked(l, "drying", c, s).dry(c, s), true
	case grammar.Ferment:
		return asked(l, "fermentation", c, s).ferment(c, s), true
	case grammar.Cook:
		return asked(l, "heat", c, s).cook(c), true
	case grammar.Cold:
		return asked(l, "cold", c, s).cold(c), true
	case grammar.Cooling:
		return asked(l, "cooling", c, s).cooling(c), true
	case grammar.Freeze:
		return asked(l, "freezing", c, s).freeze(c), true
	case grammar.Told:
		return tell(l, c, s), true
	case grammar.WasOff:
		return asked(l, "hold", c, s).wasOff(c, s), true
	case grammar.WhichCure:
		return asked(l, "which", c, s).which(c, s), true
	}
	return figured{}, false
}

// asked begins the answer to a command: its kind is what it wanted, until something else
// comes of it.
func asked(l tongue, kind string, c grammar.Command, s Settings) figured {
	phrase := grammar.Canonical(c)
	return figured{
		l:      l,
		answer: Answer{Kind: kind, Asked: kind, Phrase: phrase, Region: string(s.Region.Value), Assumed: []string{}, Cautions: []MachineCaution{}},
		card:   Card{Kind: FigureCard, Title: grammar.CanonicalIn(string(l), c)},
	}
}

// dose answers a dose phrase.
func (f figured) dose(d grammar.Dose, s Settings) figured {
	dose, err := compute(d, s)
	if err != nil {
		return f.refused(err, d)
	}
	abroad := besides(d, s)
	f.answer = machineDose(f.l, dose, f.answer.Phrase)
	f.answer.Beside = machineAbroad(abroad)
	f.card = doseCard(f.l, dose, f.card.Title)
	f.card.Facts = append(f.card.Facts, abroadFacts(f.l, abroad)...)
	return f
}

// refused turns an error into a stop or a question. d is the meat that it was about.
func (f figured) refused(err error, d grammar.Dose) figured {
	var stop *cure.Stop
	var missing *cure.Missing
	var absent *notHere
	var jar *jarRefused
	switch {
	case errors.As(err, &stop):
		f.card = stopCard(f.l, stop, f.answer.Phrase)
		f.answer.Kind = "stop"
		f.answer.Cut, f.answer.Method = stop.Request.Cut, stop.Request.Method.Value.String()
		f.answer.Assumed = append(f.answer.Assumed, assumed(f.l, cure.Dose{Request: stop.Request})...)
		f.answer.Cautions = append(f.answer.Cautions, MachineCaution{stop.Rule, "stop", f.card.Title})
		f.answer.Stop = &MachineStop{Rule: stop.Rule, Got: stop.Got, Max: stop.Max, Unit: stop.Unit, Source: stop.Source}
		if stop.Allowed > 0 {
			f.answer.Stop.AllowedG = some(float64(stop.Allowed))
		}
		return f
	case errors.As(err, &missing):
		if f.answer.Asked == "dose" {
			f.card, f.choices, f.open = missingCard(f.l, d, missing)
		} else {
			f.card = Card{Kind: QuestionCard, Title: missingWords(f.l, missing), Lines: []string{f.l.say("Understood so far:  %s", f.answer.Phrase)},
				Next: f.l.say("Answer with just that, like  %s .", exampleOf[missing.What])}
			f.open = f.answer.Phrase
		}
	case errors.As(err, &jar):
		f.card = jarRefusedCard(f.l, jar)
	case errors.As(err, &absent):
		f.card = Card{Kind: ErrorCard, Title: f.l.say("There is no %s %s in these records.", f.l.say(absent.what), absent.name),
			Next: f.l.say("Name the cure and its strength instead, like  no 1 6.25% .")}
	default:
		f.card = unreckoned(f.l, err)
	}
	return f.unclear("")
}

// exampleOf is a clause that gives what is missing.
var exampleOf = map[string]string{"strength": "no 1 6.25%", "water": "brine 4 l", "cover": "cover 4 l", "pieces": "3.2 kg belly", "cut": "3.2 kg belly", "method": "dry rub",
	"grams": "6.5 g no 1", "ppm": "120 ppm", "nitrate": "120 ppm", "cure": "no 1 6.25%", "region": "us"}

// unclear makes the card's question or error the machine's too.
func (f figured) unclear(example string) figured {
	f.answer.Kind = "unclear"
	f.answer.Ask = &MachineAsk{Text: f.card.Title, Choices: f.card.Choices, Example: example}
	if f.card.Caret != nil {
		f.answer.Ask.Column, f.answer.Ask.Width = f.card.Caret.Column, f.card.Caret.Width
	}
	return f
}

// fact adds lines under a label to the card.
func (f *figured) fact(label string, lines ...string) {
	if len(lines) > 0 {
		f.card.Facts = append(f.card.Facts, Fact{Label: label, Lines: lines})
	}
}

// warn adds cautions.
func (f *figured) warn(ws ...Warning) {
	f.card.Warnings = append(f.card.Warnings, ws...)
	f.answer.Cautions = append(f.answer.Cautions, machineCautions(ws)...)
	for _, w := range ws {
		if w.Level == cure.Hold.String() {
			f.card.Kind = HoldCard
		}
	}
}

// agentSaid is a curing salt as an amount names it.
func agentSaid(a grammar.Amount, s Settings) (cure.Agent, error) {
	if a.Jar != "" {
		return s.jarOf(a.Jar)
	}
	return cure.Agent{Kind: a.Kind, Nitrite: a.Nitrite.Value, Nitrate: a.Nitrate.Value}, nil
}
