package bot

import (
	"math"
	"time"

	"salthand/cure"
	"salthand/cure/dry"
	"salthand/store"
)

// lossChart is the weight of a hung piece by its weighings, the curve through three of them or
// more, and when it comes down to the next of the usual losses; false with fewer than two
// weighings, or with some that can't be of one piece.
func (t *turn) lossChart(b store.Batch) (Chart, bool) {
	l := t.ours
	series := hungSeries(b)
	loss, err := series.Loss()
	if len(series) < 2 || err != nil {
		return Chart{}, false
	}
	targets, err := series.Targets()
	if err != nil {
		return Chart{}, false
	}
	target := targets[len(targets)-1]
	for i := len(targets) - 1; i >= 0 && targets[i].Loss > cure.Fraction(loss); i-- {
		target = targets[i]
	}
	c := Chart{
		Title: l.say("Batch %d: weight", b.Number), Under: l.say("lost so far: %s of %s", percent(cure.Fraction(loss), 1), grams(series[0].Weight, 0)),
		X:     Axis{Name: l.say("days since the first weighing"), To: math.Ceil(1.25 * daysOf(series[len(series)-1].After))},
		Y:     Axis{Name: l.say("weight, g"), From: 0.95 * float64(target.Weight), To: 1.03 * float64(series[0].Weight)},
		Marks: []ChartMark{{Name: l.say("%s of loss: %s", percent(target.Loss, 0), grams(target.Weight, 1)), At: float64(target.Weight)}},
		Foot:  l.say("Weight lost is not shelf stability: water activity decides, and for ground goods pH and degree-hours too."),
	}
	dots := ChartLine{Name: l.say("weighed"), Dots: true}
	for _, r := range series {
		dots.Points = append(dots.Points, ChartPoint{daysOf(r.After), float64(r.Weight)})
		c.Y.From = min(c.Y.From, 0.95*float64(r.Weight))
	}
	if end, err := series.Finish(dry.Aim{Target: target.Weight, Division: hangScale}); err == nil {
		if !end.Reached && !end.Early.Never && !end.Late.Never {
			c.X.To = math.Ceil(max(c.X.To, 1.1*daysOf(end.Late.After)))
			c.Marks = append(c.Marks, ChartMark{Name: l.say("reached between %s and %s, if it goes on like this", whenWords(l, end.Early), whenWords(l, end.Late)),
				Upright: true, At: daysOf(end.Early.After), Until: daysOf(end.Late.After), Y: float64(target.Weight)})
		}
		likely := ChartLine{Name: l.say("curve through the weighings")}
		for i := range chartPoints + 1 {
			x := c.X.To * float64(i) / chartPoints
			if y := float64(end.Curve.At(time.Duration(x * 24 * float64(time.Hour)))); y >= c.Y.From {
				likely.Points = append(likely.Points, ChartPoint{x, y})
			}
		}
		c.Lines = append(c.Lines, likely)
	}
	c.Lines = append(c.Lines, dots)
	return c, true
}

// hungSeries are the weighings of a batch since it was hung; all of them, where nobody noted
// that it was. Of two at one moment the later entry counts.
func hungSeries(b store.Batch) (series dry.Series) {
	from := store.Milli(math.MinInt64)
	if hung := lastStep(b, "hang"); hung != nil {
		from = hung.DoneAt
	}
	var first store.Milli
	for _, r := range b.ReadingsOf(store.WeightReading) {
		if r.At < from {
			continue
		}
		if len(series) == 0 {
			first = r.At
		}
		next := dry.Reading{After: (r.At - first).Duration(), Weight: cure.Gram(r.Value) / 1000}
		if n := len(series); n > 0 && series[n-1].After == next.After {
			series[n-1] = next
			continue
		}
		series = append(series, next)
	}
	return series
}
