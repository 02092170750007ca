package bot

import (
	"fmt"
	"math"
	"time"

	"salthand/cure"
	"salthand/store"
)

// chart answers "chart 42": how far the salt has come to the core of this piece, and how its
// weight falls, where it was weighed along the way.
func (t *turn) chart(b store.Batch) error {
	card := Card{Kind: ListCard, Batch: b.Number, Title: t.theirs.say("Charts of batch %d", b.Number)}
	add := func(name string, c Chart) {
		p := t.paper(fmt.Sprintf("%s-%d", name, b.Number))
		p.Chart = &c
		card.Papers = append(card.Papers, p)
	}
	core, ok, err := t.coreChart(b)
	if err != nil {
		return err
	}
	if ok {
		add("core", core)
	}
	if loss, ok := t.lossChart(b); ok {
		add("weight", loss)
	}
	if len(card.Papers) == 0 {
		return t.note(t.theirs.say("There is nothing to draw for batch %d: by this method there is no core to reach, and no two weights were noted.", b.Number))
	}
	return t.post(card)
}

// chartPoints is how many points a curve is drawn through.
const chartPoints = 60

// coreChart is the salt at the core of a batch over the days, as the published diffusivities have
// it; false where there is no core to reach.
func (t *turn) coreChart(b store.Batch) (Chart, bool, error) {
	l := t.ours
	dose, err := t.doseAnew(b)
	if err != nil || !dose.Time.Criterion {
		return Chart{}, false, nil // the law or the scale have changed since: no curve is better than another's
	}
	r := dose.Request
	noted := t.warmthOf(b, r.Temperature.Value)
	c := Chart{
		Title: l.say("Batch %d: salt at the core", b.Number),
		Under: l.say("%s, %s cm thick, at %s °C", phraseIn(l, b.Card.Phrase), trimmed(float64(r.Thickness.Value)/10, 1), trimmed(float64(r.Temperature.Value), 1)) + noted.words(l),
		X:     Axis{Name: l.say("days in the cure"), To: chartDays(dose)},
		Y:     Axis{Name: l.say("% of what the core will get"), To: 100},
		Named: l.say("from slow to fast, by published diffusivities"),
		Foot:  l.say("An estimate from thickness and temperature, good to a factor of two. It says nothing of safety."),
	}
	likely := ChartLine{Name: l.say("likely")}
	for i := range chartPoints + 1 {
		x := c.X.To * float64(i) / chartPoints
		got, err := cure.Progress(r, noted.until(time.Duration(x*24*float64(time.Hour))))
		if err != nil {
			return Chart{}, false, err
		}
		c.Band = append(c.Band, ChartRange{x, 100 * float64(got.Core.Slow), 100 * float64(got.Core.Fast)})
		likely.Points = append(likely.Points, ChartPoint{x, 100 * float64(got.Core.Likely)})
	}
	c.Lines = []ChartLine{likely}
	c.Marks = []ChartMark{
		{Name: l.say("95 %: counts as cured through"), At: 95},
		{Name: l.say("planned: %s", days(l, time.Duration(b.Card.PlanSeconds)*time.Second)), Upright: true, At: daysOf(time.Duration(b.Card.PlanSeconds) * time.Second)},
	}
	if at, ok := t.inCure(b); ok && daysOf(at) <= c.X.To {
		c.Marks = append(c.Marks, ChartMark{Name: l.say("in the cure so far: %s", days(l, at)), Upright: true, At: daysOf(at)})
	}
	return c, true, nil
}

// chartDays is how far a chart of the core reaches: until it is likely through, half as long
// again, and the days that are planned; whole days.
func chartDays(d cure.Dose) float64 {
	return math.Ceil(max(daysOf(d.Time.PlanFor)*1.15, daysOf(d.Time.To.Likely)*1.5))
}

// inCure is how long the clock of a batch has run in the cure; false before the start.
func (t *turn) inCure(b store.Batch) (time.Duration, bool) {
	if b.StartedAt == 0 {
		return 0, false
	}
	until := t.now
	if out := lastStep(b, "take out"); out != nil {
		until = out.DoneAt
	} else if b.Ended != 0 {
		until = b.Ended
	}
	return clockAt(b, until), true
}

// clockAt is how long the clock of a batch had run at an instant.
func clockAt(b store.Batch, at store.Milli) time.Duration {
	run := at - b.StartedAt
	for _, p := range b.Pauses {
		until := p.To
		if until == 0 {
			until = at
		}
		run -= max(0, min(at, until)-p.From)
	}
	return run.Duration()
}

// doseAnew is the dose of a batch reckoned anew, with the curing salt of its dose card and the
// law of its region: a jar that was filled anew since changes nothing.
func (t *turn) doseAnew(b store.Batch) (cure.Dose, error) {
	d, err := doseOf(b)
	if err != nil {
		return cure.Dose{}, err
	}
	s := settingsOf(t.kitchen, t.now)
	s.Region = cure.Given[cure.Region]{Value: cure.Region(b.Card.Region), Origin: cure.Asked}
	s.jars = func(string) (cure.Agent, error) { return agentKept(b.Card), nil }
	return compute(d, s)
}

// warmth is how warm a batch was in the cure, by what was noted of its core: each reading holds
// until the next, and planned stands before the first and for the days to come.
type warmth struct {
	planned cure.Celsius
	noted   []warmAt
	so      time.Duration // how long it has been in the cure: the last reading holds until then
}

// warmAt is a reading, by the time that the clock had run.
type warmAt struct {
	after time.Duration
	at    cure.Celsius
}

// The core readings that say how warm a cure was: frozen, the clock stands; above, it is cooked
// or being so, and nothing is known of the diffusion.
const coldest, warmest cure.Celsius = -1, 20

// warmthOf finds the readings of a batch that were taken in the cure.
func (t *turn) warmthOf(b store.Batch, planned cure.Celsius) warmth {
	w := warmth{planned: planned}
	so, started := t.inCure(b)
	if !started {
		return w
	}
	w.so = so
	for _, r := range b.ReadingsOf(store.CoreReading) {
		at, after := celsius(r.Value), clockAt(b, r.At)
		if r.At >= b.StartedAt && after <= so && at >= coldest && at <= warmest {
			w.noted = append(w.noted, warmAt{after, at})
		}
	}
	return w
}

// until is the warmth from the start up to a time.
func (w warmth) until(end time.Duration) (spells []cure.Spell) {
	from, at := time.Duration(0), w.planned
	to := func(next time.Duration) {
		if next = min(next, end); next > from {
			spells, from = append(spells, cure.Spell{For: next - from, At: at}), next
		}
	}
	for _, r := range w.noted {
		to(r.after)
		at = r.at
	}
	if len(w.noted) > 0 {
		to(w.so)
		at = w.planned
	}
	to(end)
	return spells
}

// words say which readings the curve follows; "" where there is none.
func (w warmth) words(l tongue) string {
	if len(w.noted) == 0 {
		return ""
	}
	low, high := w.noted[0].at, w.noted[0].at
	for _, r := range w.noted {
		low, high = min(low, r.at), max(high, r.at)
	}
	degrees := trimmed(float64(low), 1)
	if high > low {
		degrees = l.say("%s to %s", degrees, trimmed(float64(high), 1))
	}
	return l.say("; in the cure so far as its core was noted, %s °C", degrees)
}
