package bot

import (
	"math"
	"strconv"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// The scales, as the record names them.
const (
	scaleOfCure = "cure"
	scaleOfMeat = "meat"
)

// scaleOrder takes a command about the scales or the weighing.
func (t *turn) scaleOrder(c grammar.Command) error {
	l := t.theirs
	switch c := c.(type) {
	case grammar.MeatScale:
		return t.set(setMeatScale, t.kitchen.Settings[setMeatScale], strconv.FormatInt(mg(c.Division), 10), l.say("The meat scale reads to %s.", grams(c.Division, 0)))
	case grammar.SecondReading:
		words := l.say("What was weighed is read by another person before it goes in.")
		if !c.On {
			words = l.say("No second reading is asked for. Of undiluted nitrite and of a house cure of it, it still is.")
		}
		return t.set(setSecondReading, t.kitchen.Settings[setSecondReading], onOff(c.On), words)
	case grammar.CheckWeight:
		words := l.say("A check weight is asked for and not needed: the card says where none was noted that day.")
		if c.On {
			words = l.say("Nothing is weighed in before a check weight was on the cure scale that day.")
		}
		return t.set(setCheckWeight, t.kitchen.Settings[setCheckWeight], onOff(c.On), words)
	case grammar.ScaleChecked:
		return t.scaleChecked(c)
	}
	return nil
}

// scaleChecked takes the day's check weight. A scale that is off by more than a division
// weighs nothing in until it was checked again.
func (t *turn) scaleChecked(c grammar.ScaleChecked) error {
	l := t.theirs
	scale, division := scaleOfCure, t.division()
	if c.Meat {
		scale, division = scaleOfMeat, t.meatDivision()
	}
	weight := t.checkWeight(scale, c, division)
	if weight == 0 {
		return t.ask(Card{Kind: QuestionCard, Title: l.say("What is stamped on the check weight?"),
			Lines: []string{l.say("The scale showed %s.", grams(c.Shown, 0))}, Next: l.say("Answer with just that, like  %s .", "of 100 g")}, nil, grammar.Canonical(c))
	}
	if err := t.append(0, store.ScaleChecked{Scale: scale, WeightMg: mg(weight), ShownMg: mg(c.Shown)}); err != nil {
		return err
	}
	right := cure.ScaleWithin(c.Shown, weight, division)
	return t.post(t.both(func(l tongue) Card {
		name := l.say("cure scale")
		if c.Meat {
			name = l.say("meat scale")
		}
		card := Card{Kind: NoteCard, Title: l.say("The %s shows %s for %s: within one division of %s. Noted for %s.", name, grams(c.Shown, division), grams(weight, 0), grams(division, 0), t.person.Name)}
		if !right {
			card.Kind = HoldCard
			card.Title = l.say("The %s shows %s for %s: more than one division of %s off.", name, grams(c.Shown, division), grams(weight, 0), grams(division, 0))
			card.Lines = []string{l.say("Nothing is weighed on it until it was checked again. What was weighed on it since the last good check is for the chef to look at.")}
			card.Next = l.say("Clean it, level it, set it to zero, and check it again.")
		}
		return card
	}))
}

// checkWeight is what is stamped on the check weight: as said, else as the last time if that
// is near, else one of the usual weights where the scale shows just that. 0: it is asked.
func (t *turn) checkWeight(scale string, c grammar.ScaleChecked, division cure.Gram) cure.Gram {
	if c.Weight.Set() {
		return c.Weight.Value
	}
	if last := cure.Gram(t.kitchen.Scales[scale].WeightMg) / 1000; last > 0 && math.Abs(float64(c.Shown/last-1)) < 0.1 {
		return last
	}
	for decade := cure.Gram(1); decade <= 10_000; decade *= 10 {
		for _, times := range []cure.Gram{1, 2, 5} { // Source: OIML R 111-1, nominal values of weights, 1, 2 and 5 of each decade (from memory)
			if cure.ScaleWithin(c.Shown, decade*times, division) {
				return decade * times
			}
		}
	}
	return 0
}

// division is what the cure scale reads to.
func (t *turn) division() cure.Gram {
	if d := settingsOf(t.kitchen, t.now).CureScale.Value; d > 0 {
		return d
	}
	return usualDivision
}

// meatDivision is what the meat scale reads to; 5 g where nobody said: common practice, no source.
func (t *turn) meatDivision() cure.Gram {
	if mg, err := strconv.ParseInt(t.kitchen.Settings[setMeatScale], 10, 64); err == nil {
		return cure.Gram(mg) / 1000
	}
	return 5
}

// checkedToday reports whether a check weight was on a scale this day.
func (t *turn) checkedToday(scale string) bool {
	last, ok := t.kitchen.Scales[scale]
	if !ok {
		return false
	}
	y, m, d := timeOf(last.At).In(t.zone).Date()
	now := t.at().In(t.zone)
	return time.Date(y, m, d, 0, 0, 0, 0, t.zone).Equal(time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, t.zone))
}

// scaleOff reports whether a scale was more than a division off at its last check.
func (t *turn) scaleOff(scale string, division cure.Gram) (store.Scale, bool) {
	last, ok := t.kitchen.Scales[scale]
	return last, ok && !cure.ScaleWithin(cure.Gram(last.ShownMg)/1000, cure.Gram(last.WeightMg)/1000, division)
}

// scaleWarnings say which scale is off, and which had no check weight today: the cure scale
// where cure is weighed in, the meat scale where it is ever checked.
func (t *turn) scaleWarnings(l tongue, curing bool) (ws []Warning) {
	warn := func(text string) {
		ws = append(ws, Warning{Level: cure.Warn.String(), Code: "scale", Text: text})
	}
	if last, off := t.scaleOff(scaleOfCure, t.division()); off && curing {
		warn(l.say("the cure scale showed %s for %s at its last check: nothing is weighed in on it until it was checked again", weighed(last.ShownMg), weighed(last.WeightMg)))
	} else if curing && t.weighingOn() && !t.checkedToday(scaleOfCure) {
		warn(l.say("no check weight was noted on the cure scale today:  scale checked 100.0 g"))
	}
	if last, off := t.scaleOff(scaleOfMeat, t.meatDivision()); off {
		warn(l.say("the meat scale showed %s for %s at its last check: the weight of the meat, and so the dose, may be wrong", weighed(last.ShownMg), weighed(last.WeightMg)))
	} else if _, ever := t.kitchen.Scales[scaleOfMeat]; ever && t.weighingOn() && !t.checkedToday(scaleOfMeat) {
		warn(l.say("no check weight was noted on the meat scale today:  %s", "meat scale checked 5000 g of 5 kg"))
	}
	return ws
}

// scaleReady reports whether the cure scale may weigh a batch in; where not, it has been
// answered.
func (t *turn) scaleReady(b store.Batch) (bool, error) {
	if b.Card.CureMg == 0 {
		return true, nil
	}
	l := t.theirs
	last, off := t.scaleOff(scaleOfCure, t.division())
	switch {
	case off:
		return false, t.note(l.say("The cure scale showed %s for %s at its last check: nothing is weighed in on it.", weighed(last.ShownMg), grams(cure.Gram(last.WeightMg)/1000, 0)),
			l.say("Put it right and check it again:  scale checked 100.0 g"))
	case t.kitchen.Settings[setCheckWeight] == "on" && !t.checkedToday(scaleOfCure):
		return false, t.note(l.say("No check weight was on the cure scale today: nothing is weighed in."), l.say("Put it on and type what the scale shows:  scale checked 100.0 g"))
	}
	return true, nil
}
