package bot

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"salthand/cure"
	"salthand/cure/dry"
	"salthand/cure/published"
	"salthand/store"
)

// The chart of a hung piece is that of its weighings: the limit curve through three of them an
// equal time apart. 1,000 g, 900 g on day 7, 830 g on day 14: the loss falls by 0.7 each week, so
// the weight goes to 1,000 − 100/(1 − 0.7) = 666.7 g; 30 % of loss is 700 g, reached where
// 333.3·0.7^n = 33.3, n = ln 0.1/ln 0.7 = 6.456 weeks, day 45.2 (reckoned by hand).
func TestLossChart(t *testing.T) {
	day := func(n int) store.Milli { return store.Milli((time.Duration(n) * 24 * time.Hour).Milliseconds()) }
	reading := func(n int, grams int64) store.Reading {
		return store.Reading{At: day(n), What: store.WeightReading, Value: grams * 1000}
	}
	b := store.Batch{Number: 7, Readings: []store.Reading{reading(20, 1200), reading(30, 1000), {At: day(31), What: store.PHReading, Value: 5200}, reading(37, 900), reading(44, 830)},
		Steps: []store.StepState{{Step: store.Step{Kind: "hang"}, Done: true, DoneAt: day(30)}}}
	turn := &turn{ours: english, zone: time.UTC}
	c, ok := turn.lossChart(b)
	if !ok {
		t.Fatal("no chart")
	}
	if got := c.Marks[0].At; got != 700 {
		t.Errorf("the target stands at %v g, want 700", got)
	}
	if len(c.Marks) != 2 || !(c.Marks[1].At < 45.2 && c.Marks[1].Until > 45.2) {
		t.Errorf("the bar stands at %+v, want it around day 45.2", c.Marks)
	}
	curve, dots := c.Lines[0], c.Lines[1]
	if len(dots.Points) != 3 || dots.Points[0] != (ChartPoint{0, 1000}) || dots.Points[2] != (ChartPoint{14, 830}) {
		t.Errorf("weighings %v: those before the hanging don't count", dots.Points)
	}
	for _, p := range curve.Points {
		if want := 1000 - 100/0.3*(1-math.Pow(0.7, p.X/7)); math.Abs(p.Y-want) > 0.1 {
			t.Errorf("day %.1f: %.1f g, want %.1f", p.X, p.Y, want)
		}
	}
	if c.X.To < 46 || c.Y.From > 700 || c.Y.To < 1000 {
		t.Errorf("the axes are %v and %v", c.X, c.Y)
	}
	b.Readings = b.Readings[:2]
	if _, ok := turn.lossChart(b); ok {
		t.Error("one weighing since the hanging makes a chart")
	}
	b.Readings = []store.Reading{reading(30, 1000), reading(30, 990), reading(37, 900)}
	if s := hungSeries(b); len(s) != 2 || s[0] != (dry.Reading{Weight: 990}) {
		t.Errorf("%v: of two weighings at one moment the later entry counts", s)
	}
}

// The band and the curve of a core are at 90 and 95 % on the published days: a slab of 5 cm, with
// as much salt as a tenth of what its water holds (testdata/published/diffusion_days.csv, fill
// 0.1, at 3 °C). The slow end lies beyond the chart.
func TestCoreChart(t *testing.T) {
	cut, ok := cure.FindCut("pork belly")
	if !ok {
		t.Fatal("no belly")
	}
	phrase := fmt.Sprintf("2 kg pork belly, dry rub, no cure, %.4f%% salt, 50 mm thick, skin off, at 3 c", 100*0.1*0.358*float64(cut.Water))
	turn := &turn{ours: english, zone: time.UTC, kitchen: store.Kitchen{Region: "us"}, now: store.Milli(20 * 24 * time.Hour.Milliseconds())}
	start := turn.now - store.Milli(3*24*time.Hour.Milliseconds())
	c, ok, err := turn.coreChart(store.Batch{Number: 7, StartedAt: start, Card: store.Card{Phrase: phrase, Region: "us", PlanSeconds: 13 * 24 * 3600}})
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	at := func(day float64, figure func(i int) float64) float64 {
		i := int(day / c.X.To * chartPoints)
		share := day/c.X.To*chartPoints - float64(i)
		return figure(i)*(1-share) + figure(i+1)*share
	}
	rows := 0
	for _, row := range published.Rows(t, "diffusion_days.csv") {
		day := published.Number(t, row["days"])
		if row["boundary"] != "capped" || row["thickness_cm"] != "5" || row["fill"] != "0.1" || day >= c.X.To {
			continue
		}
		rows++
		figure := map[string]func(i int) float64{
			"slow":   func(i int) float64 { return c.Band[i].Low },
			"likely": func(i int) float64 { return c.Lines[0].Points[i].Y },
			"fast":   func(i int) float64 { return c.Band[i].High },
		}[row["speed"]]
		if got, want := at(day, figure), 100*published.Number(t, row["share"]); math.Abs(got-want) > 0.3 {
			t.Errorf("%s: %.2f %% on day %v, want %v", row["speed"], got, day, want)
		}
	}
	if rows < 4 {
		t.Errorf("%d published rows lie on the chart, want 4", rows)
	}
	if len(c.Marks) != 3 || c.Marks[0].At != 95 || c.Marks[1].At != 13 || c.Marks[2].At != 3 {
		t.Errorf("the marks are %+v", c.Marks)
	}
}

// A curve follows what was noted of the core: the plan before the first reading and for the days
// to come, each reading until the next, and a pause left out.
func TestWarmthOfACure(t *testing.T) {
	hours := func(n int) store.Milli { return store.Milli((time.Duration(n) * time.Hour).Milliseconds()) }
	core := func(n int, milliC int64) store.Reading {
		return store.Reading{At: hours(n), What: store.CoreReading, Value: milliC}
	}
	b := store.Batch{StartedAt: hours(10), Readings: []store.Reading{core(5, 9000), core(20, 2000), core(40, 6000), core(45, -18_000), core(80, 66_000)},
		Pauses: []store.Pause{{From: hours(44), Back: hours(50), To: hours(54)}}}
	turn := &turn{ours: english, zone: time.UTC, now: hours(64)}
	w := turn.warmthOf(b, 3)
	if got := w.words(english); got != "; in the cure so far as its core was noted, 2 to 6 °C" {
		t.Errorf("%q", got)
	}
	spell := func(n int, at cure.Celsius) cure.Spell {
		return cure.Spell{For: time.Duration(n) * time.Hour, At: at}
	}
	for n, want := range map[int][]cure.Spell{
		5:  {spell(5, 3)},
		20: {spell(10, 3), spell(10, 2)},
		60: {spell(10, 3), spell(20, 2), spell(14, 6), spell(16, 3)}, // 44 of 54 hours since the start: 10 stood
	} {
		if got := w.until(time.Duration(n) * time.Hour); !slices.Equal(got, want) {
			t.Errorf("%d h: %v, want %v", n, got, want)
		}
	}
}
