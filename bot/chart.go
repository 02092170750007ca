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
	d, err := doseOf(b)
	if err != nil {
		return Chart{}, false, err
	}
	s := settingsOf(t.kitchen, t.now)
	s.Region.Value = cure.Region(b.Card.Region)
	dose, err := compute(d, s)
	if err != nil || !dose.Time.Criterion {
		return Chart{}, false, nil // the law or the scale have changed since: no curve is better than another's
	}
	r := dose.Request
	c := Chart{
		Title: l.say("Batch %d: salt at the core", b.Number),
		Under: l.say("%s, %s cm thick, at %s °C", phraseIn(l, b.Card.Phrase), trimmed(float64(r.Thickness.Value)/10, 1), trimmed(float64(r.Temperature.Value), 1)),
		X:     Axis{Name: l.say("days in the cure"), To: chartDays(dose)},
		Y:     Axis{Name: l.say("% of what the core will get"), To: 100},
		Named: l.say("from slow to fast, by published diffusivities"),
		Foot:  l.say("An estimate from thickness and temperature, good to a factor of two. It says nothing of safety."),
	}
	likely := ChartLine{Name: l.say("likely")}
	for i := range chartPoints + 1 {
		x := c.X.To * float64(i) / chartPoints
		got, err := cure.Progress(r, []cure.Spell{{For: time.Duration(x * 24 * float64(time.Hour)), At: r.Temperature.Value}})
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

// inCure is how long a batch has been in the cure, or was; false before the start.
func (t *turn) inCure(b store.Batch) (time.Duration, bool) {
	if b.StartedAt == 0 {
		return 0, false
	}
	until := t.now
	if out := lastStep(b, "take out"); out != nil {
		until = out.DoneAt
	}
	return (until - b.StartedAt).Duration(), true
}
