package bot

import (
	"slices"
	"time"

	"salthand/cure"
	"salthand/cure/ferment"
	"salthand/grammar"
	"salthand/store"
)

// degreeHours is the alarm of a batch that ferments: when its limit is reached without a pH.
const degreeHours = "degree-hours"

// fermentation reckons the degree-hours of a batch from the temperatures of its place and the
// pH that was read. false: it does not ferment, or no temperature is noted.
func (t *turn) fermentation(l tongue, b store.Batch) (f figured, ok bool, err error) {
	from, ok := fermentsFrom(b)
	if !ok || b.Where == "" {
		return f, false, nil
	}
	readings, err := t.readingsOf(b.Where, from, 0)
	if err != nil || len(readings) == 0 {
		return f, false, err
	}
	slices.SortStableFunc(readings, func(a, b store.Event) int { return int(a.Happened - b.Happened) })
	c := grammar.Ferment{}
	end := t.now
	for _, r := range b.ReadingsOf(store.PHReading) {
		if r.At < from {
			continue
		}
		c.PH = cure.Typed(grammar.PH(float64(r.Value) / 1000))
		if ferment.PH(c.PH.Value) <= ferment.Sour {
			end = r.At
			break
		}
	}
	c.Log = chamberLog(readings, from, end)
	s := settingsOf(t.kitchen, t.now)
	return asked(l, "fermentation", c, s).ferment(c, s), true, nil
}

// chamberLog are the temperatures of a place over a time; between two readings the warmer one
// counts, and before the first and behind the last the nearest.
func chamberLog(readings []store.Event, from, end store.Milli) (log []grammar.Spell) {
	at, before := from, celsius(readings[0].Body.(store.PlaceRead).MilliC)
	add := func(until store.Milli, c cure.Celsius) {
		if until = min(until, end); until > at {
			log = append(log, grammar.Spell{Temperature: c, For: (until - at).Duration()})
			at = until
		}
	}
	for _, r := range readings {
		now := celsius(r.Body.(store.PlaceRead).MilliC)
		add(r.Happened, max(before, now))
		before = now
	}
	add(end, before)
	if len(log) == 0 {
		log = []grammar.Spell{{Temperature: before}}
	}
	return log
}

// fermentsFrom is when a batch that ferments went into the chamber.
func fermentsFrom(b store.Batch) (at store.Milli, ok bool) {
	if b.State != store.StateFermenting {
		return 0, false
	}
	for _, s := range b.Steps {
		if s.Kind == "ferment" && s.Done && !s.Undone {
			at, ok = s.DoneAt, true
		}
	}
	return at, ok
}

// watchFermentation holds a batch whose degree-hours are over before its pH came down, and sets
// the alarm for when they will be.
func (t *turn) watchFermentation(b store.Batch) error {
	f, ok, err := t.fermentation(t.ours, b)
	if err != nil || !ok || f.answer.Fermentation == nil {
		return err
	}
	state := f.answer.Fermentation.State
	due := store.Milli(0)
	if left := f.answer.Fermentation.LeftH; state == fermentState(ferment.Running) && left != nil {
		due = t.now + store.Milli((time.Duration(*left*float64(time.Hour)) + time.Minute).Milliseconds()) // a minute past it
	}
	if b.Alarms[degreeHours] != due {
		if err := t.appendOwn(b.Number, store.AlarmSet{What: degreeHours, At: due}); err != nil {
			return err
		}
	}
	own := func(h store.Hold) bool { return h.By == "" && h.Incident == 0 }
	if state != fermentState(ferment.Hold) || slices.ContainsFunc(b.Holds, own) {
		return nil
	}
	why := t.ours.say("degree-hours over before pH 5.3")
	if err := t.appendOwn(b.Number, store.Held{Why: why, Number: b.LastHold + 1}); err != nil {
		return err
	}
	at, err := placeOfBatch(b)
	if err != nil {
		return err
	}
	f.card.Kind, f.card.Batch = HoldCard, b.Number
	f.card.Title = t.ours.say("HOLD on batch %d: %s", b.Number, why)
	f.card.in(t.ours)
	f.card.Also = nil
	return t.postAt(at, f.card)
}

// sour tells whether the pH of a batch has come down far enough since it went into the chamber:
// degree-hours end there, and so do the tests of them.
func sour(b store.Batch) bool {
	from := store.Milli(-1)
	for _, s := range b.Steps {
		if s.Kind == "ferment" && s.Done && !s.Undone {
			from = s.DoneAt
		}
	}
	return from >= 0 && slices.ContainsFunc(b.ReadingsOf(store.PHReading), func(r store.Reading) bool {
		return r.At >= from && ferment.PH(float64(r.Value)/1000) <= ferment.Sour
	})
}

// testsLeft is how many tests of pH are still asked for.
func testsLeft(b store.Batch) (n int) {
	for i, s := range b.Steps {
		if s.Kind == "ph test" && s.On > 0 && !s.Closed() && !moot(b, i) {
			n++
		}
	}
	return n
}
