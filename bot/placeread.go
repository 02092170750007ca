package bot

import (
	"fmt"
	"strings"
	"time"

	"salthand/cure"
	"salthand/cure/heat"
	"salthand/grammar"
	"salthand/store"
)

// readingsOf are the temperatures read in a place at or after an instant, the latest noted
// first, each as its corrections have it; limit 0 means all.
func (t *turn) readingsOf(place string, from store.Milli, limit int) (readings []store.Event, err error) {
	right := map[uint64]int64{} // what a reading was corrected to: corrections are noted after it
	for before := uint64(0); ; {
		page, err := t.tx.Trail(t.kitchen.ID, store.PlaceSubject(place), before, wholePage)
		if err != nil {
			return nil, err
		}
		for _, e := range page {
			if e.Noted < from {
				return readings, nil
			}
			switch body := e.Body.(type) {
			case store.PlaceCorrected:
				if _, newer := right[body.Entry]; !newer {
					right[body.Entry] = body.NewMilliC
				}
			case store.PlaceRead:
				if to, ok := right[e.Seq]; ok {
					body.MilliC = to
				}
				if e.Body = body; e.Happened >= from {
					readings = append(readings, e)
				}
			}
			if len(readings) == limit && limit > 0 {
				return readings, nil
			}
		}
		if len(page) < wholePage {
			return readings, nil
		}
		before = page[len(page)-1].Seq
	}
}

// The temperatures that a fridge or a chamber can have; what is outside is a slip.
const (
	coldestPlace cure.Celsius = -40 // °C
	warmestPlace cure.Celsius = 45  // °C, above any chamber that sausage ferments in
)

// readPlace notes a temperature of a place. One that is too warm or too cold for what is in
// it is met with the offer to hold all of that at once.
func (t *turn) readPlace(c grammar.ReadPlace) error {
	l := t.theirs
	p, ok, err := t.known(c.Place, func(name string) grammar.Command {
		c.Place = name
		return c
	})
	if err != nil || !ok {
		return err
	}
	happened, ok, err := t.past(c.When)
	if err != nil || !ok {
		return err
	}
	if c.Temperature < coldestPlace || c.Temperature > warmestPlace {
		return t.note(l.say("%s in %s can't be meant: it is not noted.", bothDegrees(c.Temperature), p.Name), l.say("Check the unit and the decimal mark, and type it again."))
	}
	unit := "c"
	if c.Fahrenheit {
		unit = "f"
	}
	good, hasGood, err := t.lastGood(p.Name, milli(happened))
	if err != nil {
		return err
	}
	if err := t.appendAt(0, store.PlaceRead{Place: p.Name, MilliC: milliC(c.Temperature), Unit: unit, Evidence: c.Evidence}, milli(happened)); err != nil {
		return err
	}
	in, err := t.inPlace(p.Name)
	if err != nil {
		return err
	}
	for _, b := range in {
		if err := t.watchFermentation(b); err != nil {
			return err
		}
	}
	title := l.say("%s: %s, noted for %s.", p.Name, bothDegrees(c.Temperature), t.person.Name) + t.lateWords(l, happened)
	card := noteCard(title)
	card.Lines = evidenceLines(l, c.Evidence)
	var beyond []store.Batch
	for _, b := range in {
		w, n := tolerated(b).judge(c.Temperature)
		switch {
		case n:
			beyond = append(beyond, b)
		case w:
			card.Warnings = append(card.Warnings, Warning{Level: cure.Warn.String(), Code: "warm", Text: l.say("batch %d: above %s, where curing is watched", b.Number, bothDegrees(heat.WarnAbove))})
		}
	}
	if len(beyond) == 0 {
		return t.post(card)
	}
	card = t.choice(title, nil)
	var numbers []string
	for _, b := range beyond {
		card.Lines = append(card.Lines, t.placeLine(l, b))
		numbers = append(numbers, fmt.Sprint(b.Number))
	}
	card.Warnings = append(card.Warnings, Warning{Level: cure.Hold.String(), Code: "warm", Text: l.say("too warm or too cold for batch %s: measure each core now; nothing is held yet", strings.Join(numbers, ", "))})
	if c.Temperature < heat.StopAbove {
		card.Next = l.say("Frozen meat doesn't cure: type  batch %s: pause  for what is frozen.", numbers[0])
		return t.post(card)
	}
	since := milli(happened)
	if hasGood {
		since = good.Happened
		card.Facts = append(card.Facts, Fact{Label: l.say("last good reading"), Lines: []string{l.say("%s, %s", moment(l, timeOf(since), t.zone), bothDegrees(celsius(good.Body.(store.PlaceRead).MilliC)))}})
	}
	hold := grammar.WasWarm{Place: p.Name, Temperature: cure.Typed(c.Temperature), Since: t.whenOf(since)}
	choices := []grammar.Choice{{Label: "hold all", Phrase: grammar.Canonical(hold)}}
	card.Choices = []string{"hold all"}
	card.Next = l.say("Type  hold all  to hold them with one incident, or  %s  with the time that is right.", grammar.Canonical(hold))
	return t.ask(card, choices, "")
}

// whenOf is an instant as it would be typed.
func (t *turn) whenOf(at store.Milli) *grammar.When {
	here := timeOf(at).In(t.zone)
	return &grammar.When{Date: &grammar.Date{Year: here.Year(), Month: here.Month(), Day: here.Day()}, Clock: &grammar.Clock{Hour: here.Hour(), Minute: here.Minute()}}
}

// lastGood is the last reading of a place, before an instant, at which curing meat could be in
// it; false: there is none.
func (t *turn) lastGood(place string, before store.Milli) (good store.Event, ok bool, err error) {
	readings, err := t.readingsOf(place, before-store.Milli(goodWithin.Milliseconds()), 0)
	for _, e := range readings {
		if c := celsius(e.Body.(store.PlaceRead).MilliC); e.Happened < before && c <= heat.StopAbove && (!ok || e.Happened > good.Happened) {
			good, ok = e, true
		}
	}
	return good, ok, err
}

// goodWithin is how far back a last good reading is looked for.
const goodWithin = 30 * 24 * time.Hour

// tolerance is what a batch may be kept at: watched above warm, held above stop and below cold.
type tolerance struct{ cold, warm, stop cure.Celsius }

// What is kept at what. Salting, resting and what is ready: 0 to 4.4 °C,
// and 5 °C for cold holding (cure/heat). Hanging is usually at 10 to 16 °C: common practice,
// no source. A sausage that ferments is judged by its degree-hours, not here.
const (
	freezing   cure.Celsius = 0  // °C
	hangAbove  cure.Celsius = 16 // °C, 60 °F
	fermentTop cure.Celsius = 43 // °C, 110 °F, the top band of the degree-hours
)

func tolerated(b store.Batch) tolerance {
	switch {
	case b.Paused():
		return tolerance{coldestPlace, heat.WarnAbove, heat.StopAbove}
	case b.State == store.StateDrying:
		return tolerance{freezing, hangAbove, hangAbove}
	case b.State == store.StateFermenting, b.State == store.StateSmoking, b.State == store.StateCooking:
		return tolerance{freezing, fermentTop, fermentTop}
	}
	return tolerance{freezing, heat.WarnAbove, heat.StopAbove}
}

// judge tells whether a temperature is to be watched, and whether it is beyond what is tolerated.
func (k tolerance) judge(c cure.Celsius) (watch, beyond bool) {
	return c > k.warm, c > k.stop || c < k.cold
}
