package bot

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"salthand/cure"
	"salthand/cure/heat"
	"salthand/grammar"
	"salthand/store"
)

// An incident holds everything that one thing concerns: a warm place, a jar, a lot, a recipe,
// or what an inspector put on hold. It is one event; each batch is released by a chef.

// wasWarm holds all that was in a place while it was warm, and says how far along each was.
func (t *turn) wasWarm(c grammar.WasWarm) error {
	l := t.theirs
	p, ok, err := t.known(c.Place, func(name string) grammar.Command {
		c.Place = name
		return c
	})
	if err != nil || !ok {
		return err
	}
	c.Place = p.Name
	good, hasGood, err := t.lastGood(p.Name, milli(t.m.At))
	if err != nil {
		return err
	}
	if c.Since == nil {
		card := Card{Kind: QuestionCard, Title: l.say("Since when was %s warm?", p.Name), Next: l.say("Type  %s was at TEMP c since TIME .", p.Name)}
		var choices []grammar.Choice
		if hasGood {
			c.Since = t.whenOf(good.Happened)
			card.Facts = []Fact{t.goodFact(l, good)}
			card.Choices = []string{"the last good reading"}
			card.Next = l.say("Answer  the last good reading , or type the whole line with the time that is known.")
			choices = []grammar.Choice{{Label: card.Choices[0], Phrase: grammar.Canonical(c)}}
		}
		return t.ask(card, choices, "")
	}
	since := before(*c.Since, t.m.At, t.zone)
	if since.After(t.m.At) {
		return t.note(l.say("That time has not come yet."), l.say("Type  %s was at TEMP c since TIME .", p.Name))
	}
	found, err := t.wereIn(p.Name, milli(since))
	if err != nil {
		return err
	}
	var here []store.Batch
	for _, b := range found.here {
		if _, beyond := tolerated(b).judge(c.Temperature.Value); beyond || !c.Temperature.Set() {
			here = append(here, b)
		} else {
			found.stand = append(found.stand, b)
		}
	}
	if len(here) == 0 {
		return t.nothingIn(p.Name, since, found)
	}
	// What was read while the place is said to have been warm is no good reading. A moment that
	// is typed has no seconds.
	if good, hasGood, err = t.lastGood(p.Name, milli(since.Add(time.Minute))); err != nil {
		return err
	}
	if hasGood && good.Happened > milli(since) {
		since = timeOf(good.Happened)
	}
	body := store.Incident{Subject: store.PlaceSubject(p.Name), Why: t.warmWords(t.ours, c, since), Since: milli(since), Gone: numbersOf(found.gone)}
	if c.Temperature.Set() {
		m := milliC(c.Temperature.Value)
		body.MilliC = &m
	}
	number, err := t.holdThem(body, here)
	if err != nil {
		return err
	}
	card := t.both(func(l tongue) Card {
		card := Card{Kind: HoldCard, Title: l.say("HOLD, incident %d: %s. %d held: %s.", number, t.warmWords(l, c, since), len(here), numbered(here))}
		card.Facts = append(card.Facts, t.warmFact(l, c, since, good, hasGood))
		var lines []string
		for _, b := range here {
			lines = append(lines, t.alongLines(l, b, c, since)...)
		}
		card.Facts = append(card.Facts, Fact{Label: l.say("held"), Lines: lines})
		card.Facts = append(card.Facts, t.besideFacts(l, found)...)
		card.Lines = []string{
			l.say("Measure the core of each piece now, and note it:  batch %d: core TEMP c .", here[0].Number),
			l.say("Over 4 h above %s is usually discarded (FDA Food Code, from memory), unless the site's plan says otherwise. Being cured is no answer by itself; smell is no test.", bothDegrees(heat.StopAbove)),
			l.say("Move it all to a cold place, mend this one, and note its temperature every hour:  %s TEMP c .", p.Name),
		}
		card.Next = l.say("A chef decides, batch by batch:  batch %d: release: reason  or  batch %d: discard: reason ; all that is left:  release incident %d: reason .", here[0].Number, here[0].Number, number)
		return card
	})
	if err := t.post(card); err != nil {
		return err
	}
	return t.tellThreads(here, number, func(l tongue) string { return t.warmWords(l, c, since) })
}

func (t *turn) goodFact(l tongue, good store.Event) Fact {
	return Fact{Label: l.say("last good reading"), Lines: []string{l.say("%s, %s", moment(l, timeOf(good.Happened), t.zone), bothDegrees(celsius(good.Body.(store.PlaceRead).MilliC)))}}
}

// warmWords say what happened to a place.
func (t *turn) warmWords(l tongue, c grammar.WasWarm, since time.Time) string {
	when := moment(l, since, t.zone)
	switch {
	case c.Power && c.Temperature.Set():
		return l.say("power out, %s at %s since %s", c.Place, bothDegrees(c.Temperature.Value), when)
	case c.Power:
		return l.say("power out, %s since %s", c.Place, when)
	case c.Temperature.Set():
		return l.say("%s was at %s since %s", c.Place, bothDegrees(c.Temperature.Value), when)
	}
	return l.say("%s was warm since %s", c.Place, when)
}

// warmFact says for how long the place was too warm: surely, and at most, since the last good reading.
func (t *turn) warmFact(l tongue, c grammar.WasWarm, since time.Time, good store.Event, hasGood bool) Fact {
	fact := Fact{Label: l.say("above %s", bothDegrees(heat.StopAbove)), Lines: []string{l.say("%s as it was told", span(l, t.m.At.Sub(since)))}}
	if !hasGood {
		fact.Lines = append(fact.Lines, l.say("no good reading stands in the record before it: it may have been longer"))
		return fact
	}
	from, last := timeOf(good.Happened), celsius(good.Body.(store.PlaceRead).MilliC)
	most := t.m.At.Sub(from)
	if c.Temperature.Set() {
		w, err := heat.Log{{After: 0, Probe: last}, {After: since.Sub(from), Probe: c.Temperature.Value}, {After: most, Probe: c.Temperature.Value}}.Above(heat.StopAbove)
		if err == nil {
			most = w.Total.Most
		}
	}
	fact.Lines = append(fact.Lines, l.say("up to %s: the last good reading is %s, %s; what was in between nobody knows", span(l, most), bothDegrees(last), moment(l, from, t.zone)))
	return fact
}

// alongLines say how far a batch had come when it got warm.
func (t *turn) alongLines(l tongue, b store.Batch, c grammar.WasWarm, since time.Time) []string {
	line := t.placeLine(l, b)
	if from := timeOf(b.WhereSince); from.After(since) {
		line += l.say(", in there since %s", moment(l, from, t.zone))
	}
	if b.Where != c.Place {
		line += l.say(", in %s now", orUnknown(l, b.Where))
	}
	lines := []string{line}
	got, ok := t.courseOf(b, since, c.Temperature)
	switch {
	case b.State != store.StateCuring:
		lines = append(lines, l.say("  out of the cure: HOLD all the same, for the chef"))
	case !ok:
		lines = append(lines, l.say("  how far the cure has come can't be reckoned: taken as raw inside"))
	case got.Core.Likely < curedInside:
		lines = append(lines, l.say("  core: likely %s of what it will get (slow %s, fast %s): raw inside. Discard is likely, unless its core is at or below %s now",
			percent(got.Core.Likely, 0), percent(got.Core.Slow, 0), percent(got.Core.Fast, 0), bothDegrees(heat.StopAbove)))
	default:
		lines = append(lines, l.say("  core: likely %s of what it will get (slow %s, fast %s): less at risk, not safe by that",
			percent(got.Core.Likely, 0), percent(got.Core.Slow, 0), percent(got.Core.Fast, 0)))
	}
	return lines
}

// curedInside is the share of what a core will get below which the card calls it raw inside.
// The project's own choice: half.
const curedInside cure.Fraction = 0.5

// courseOf reckons how far the cure of a batch had come: at its own temperature until it got
// warm. false: there is no core to reach, or nothing to reckon with.
func (t *turn) courseOf(b store.Batch, since time.Time, warm cure.Given[cure.Celsius]) (cure.Course, bool) {
	dose, err := t.doseAnew(b)
	if err != nil || b.StartedAt == 0 {
		return cure.Course{}, false
	}
	until := max(since.Sub(timeOf(b.StartedAt)), 0)
	spells := []cure.Spell{{For: until, At: dose.Request.Temperature.Value}}
	if warm.Set() {
		spells = append(spells, cure.Spell{For: t.m.At.Sub(timeOf(b.StartedAt)) - until, At: warm.Value})
	}
	got, err := cure.Progress(dose.Request, spells)
	return got, err == nil && got.Criterion
}

// wereIn is what was in a place over a time.
type wereIn struct {
	here  []store.Batch // still open, wherever they are now
	stand []store.Batch // open, and that warmth is nothing to them
	gone  []store.Batch // ended since
	lost  []store.Batch // open, and nobody noted where
}

// wereIn finds the batches that were in a place at some time since an instant: those in it
// now, and by the trail of moves those that were taken out or ended since.
func (t *turn) wereIn(place string, since store.Milli) (found wereIn, err error) {
	if found.here, err = t.inPlace(place); err != nil {
		return found, err
	}
	seen := map[uint64]bool{}
	for _, b := range found.here {
		seen[b.Number] = true
	}
	for before, more := uint64(0), true; more; {
		page, err := t.tx.Trail(t.kitchen.ID, store.PlaceSubject(place), before, wholePage)
		if err != nil {
			return found, err
		}
		more = len(page) == wholePage
		for _, e := range page {
			if before = e.Seq; e.Noted < since {
				more = false
				break
			}
			if e.Batch == 0 || seen[e.Batch] || e.Happened < since || !leaves(e.Body, place) {
				continue
			}
			b, ok, err := t.tx.Batch(t.kitchen.ID, e.Batch)
			if err != nil {
				return found, err
			}
			if !ok || slices.Contains(b.Undone, e.Seq) {
				continue
			}
			seen[b.Number] = true
			if b.Open() {
				found.here = append(found.here, b)
			} else {
				found.gone = append(found.gone, b)
			}
		}
	}
	slices.SortFunc(found.here, func(a, b store.Batch) int { return int(a.Number) - int(b.Number) })
	slices.SortFunc(found.gone, func(a, b store.Batch) int { return int(a.Number) - int(b.Number) })
	for _, s := range inTheCold {
		all, err := t.all(store.Query{State: s})
		if err != nil {
			return found, err
		}
		for _, b := range all {
			if b.Where == "" && !seen[b.Number] {
				found.lost = append(found.lost, b)
			}
		}
	}
	return found, nil
}

// inTheCold are the states in which a batch stands somewhere cold.
var inTheCold = []store.State{store.StateCuring, store.StateResting, store.StateChilled}

// leaves tells whether an event is the end of a batch's stay in a place.
func leaves(body store.Body, place string) bool {
	switch body := body.(type) {
	case store.Moved:
		return body.From == place
	case store.Discarded:
		return body.Place == place
	case store.Finished:
		return body.Place == place
	}
	return false
}

// besideFacts name what an incident does not hold and somebody has to look at.
func (t *turn) besideFacts(l tongue, found wereIn) (facts []Fact) {
	for _, one := range []struct {
		label string
		all   []store.Batch
	}{
		{l.say("not held: hanging or fermenting stands it"), found.stand},
		{l.say("gone since: find out where to"), found.gone},
		{l.say("nobody noted where they are: were they in there?"), found.lost},
	} {
		var lines []string
		for _, b := range one.all {
			lines = append(lines, t.placeLine(l, b))
		}
		if len(lines) > 0 {
			facts = append(facts, Fact{Label: one.label, Lines: lines})
		}
	}
	return facts
}

// nothingIn answers where no batch that is open was in the place.
func (t *turn) nothingIn(place string, since time.Time, found wereIn) error {
	l := t.theirs
	card := Card{Kind: HoldCard, Title: l.say("HOLD what was in %s since %s: the record has nothing that can be held.", place, moment(l, since, t.zone)),
		Facts: t.besideFacts(l, found), Next: l.say("Look what is in there, type  batch 3: in %s  for each, and this line again.", place)}
	return t.post(card)
}

// holdThem holds batches with one incident, and gives its number.
func (t *turn) holdThem(body store.Incident, batches []store.Batch) (uint64, error) {
	body.Number = t.kitchen.Incidents + 1
	for _, b := range batches {
		body.Held = append(body.Held, store.HeldBatch{Batch: b.Number, Hold: b.LastHold + 1})
	}
	return body.Number, t.append(0, body)
}

// tellThreads says in the thread of each batch that it is held, but in the one that is spoken in.
func (t *turn) tellThreads(batches []store.Batch, number uint64, why func(l tongue) string) error {
	for _, b := range batches {
		at, err := placeOfBatch(b)
		if err != nil {
			return err
		}
		if at == t.place {
			continue
		}
		card := t.both(func(l tongue) Card {
			return Card{Kind: HoldCard, Batch: b.Number, Title: l.say("HOLD on batch %d: %s", b.Number, why(l)), Lines: []string{heldLine(l, t.person.Name)},
				Next: l.say("Type  incident %d  for all that it concerns.", number)}
		})
		if err := t.postAt(at, card); err != nil {
			return err
		}
	}
	return nil
}

func numbersOf(batches []store.Batch) (numbers []uint64) {
	for _, b := range batches {
		numbers = append(numbers, b.Number)
	}
	return numbers
}

// numbered are batches by their numbers: "41, 42".
func numbered(batches []store.Batch) string {
	var out []string
	for _, b := range batches {
		out = append(out, fmt.Sprint(b.Number))
	}
	return strings.Join(out, ", ")
}

func orUnknown(l tongue, where string) string {
	if where == "" {
		return l.say("an unknown place")
	}
	return where
}
