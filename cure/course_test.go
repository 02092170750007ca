package cure

import (
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// TestProgress: at one temperature it is what the dose says of the days; frozen days don't
// count, warm ones are named.
func TestProgress(t *testing.T) {
	block := belly(3200)
	block.Sides = [2]Millimetre{300, 200}
	for i, r := range []Request{belly(3200), belly(3200), belly(3200), block} {
		m := []Method{DryRub, SaltBox, Injection, SaltBox}[i]
		r.Method, r.Days = Typed(m), Typed(5*day)
		d := compute(t, r)
		c, err := Progress(r, []Spell{{5 * day, 3}})
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, "core", float64(c.Core.Likely), float64(d.Time.Core.Likely), 1e-9)
		closeTo(t, "mean", float64(c.Mean.Slow), float64(d.Time.Mean.Slow), 1e-9)
		closeTo(t, "left", c.Left.Slow.Hours(), max(0, d.Time.To.Slow-5*day).Hours(), 1e-4)
	}
	c, err := Progress(belly(3200), []Spell{{2 * day, 3}, {3 * day, -18}, {2 * day, 9}, {12 * time.Hour, 4.7}})
	if err != nil {
		t.Fatal(err)
	}
	if c.Elapsed != 180*time.Hour || c.Frozen != 3*day || c.TooWarm != 2*day || c.Warm != 60*time.Hour || !c.Criterion {
		t.Errorf("%+v", c)
	}
	cold, err := Progress(belly(3200), []Spell{{2 * day, 3}, {60 * time.Hour, 3}})
	if err != nil || cold.Core.Likely >= c.Core.Likely || cold.Left.Likely <= c.Left.Likely {
		t.Errorf("warmer is not faster: %+v %+v %v", cold, c, err)
	}
	if c, err := Progress(Request{Region: in("us"), Cut: "ground pork", Pieces: []Gram{1000}}, []Spell{{day, 3}}); err != nil || c.Criterion || c.Elapsed != day {
		t.Errorf("ground: %+v %v", c, err)
	}
	var stop *Stop
	for _, bad := range []Spell{{day, 20.5}, {day, -61}, {-1, 3}, {1001 * day, 3}, {day, Celsius(math.NaN())}, {day, Celsius(math.Inf(-1))}} {
		if _, err := Progress(belly(3200), []Spell{bad}); !errors.As(err, &stop) || stop.Rule != StopImplausible {
			t.Errorf("%v: %v", bad, err)
		}
	}
	if _, err := Progress(Request{}, nil); err == nil {
		t.Error("nothing was asked")
	}
}

// TestProgressAddsUp: what is left after some days, waited for, reaches the criterion.
func TestProgressAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyDry(t, anyRequest(t))
		spells := []Spell{
			{time.Duration(rapid.IntRange(0, 20).Draw(t, "days")) * day, Celsius(rapid.Float64Range(-1, 20).Draw(t, "at"))},
			{time.Duration(rapid.IntRange(0, 20).Draw(t, "cold")) * day, -18},
		}
		c, err := Progress(r, spells)
		if err != nil || !c.Criterion || c.Left.Likely > 900*day {
			return
		}
		after, err := Progress(r, append(spells, Spell{c.Left.Likely, usualCold}))
		if err != nil {
			t.Fatal(err)
		}
		if after.Left.Likely > time.Minute || after.Core.Likely < c.Core.Likely-1e-9 {
			t.Fatalf("%v left after what was left; the core went from %v to %v", after.Left.Likely, c.Core.Likely, after.Core.Likely)
		}
	})
}

// TestPieces: three of several sizes; the thickest leads, and each is weighed for.
func TestPieces(t *testing.T) {
	r := belly(3200)
	r.Pieces, r.Thicknesses = []Gram{3200, 1600, 800}, []Millimetre{38, 50, 25}
	d := compute(t, r)
	if d.Request.Thickness.Value != 50 || len(d.Each) != 3 || d.Time.To.Likely != d.Each[1].Time.To.Likely {
		t.Fatalf("%+v", d.Each)
	}
	for i, want := range []float64{8, 4, 2} { // 0.25 % of each
		if got := d.Each[i].Add[0]; got.Item != CureItem || math.Abs(float64(got.Weigh)-want) > 1e-9 {
			t.Errorf("piece %d: %+v", i, got)
		}
	}
	closeTo(t, "by the square", d.Each[1].Time.To.Likely.Hours()/d.Each[2].Time.To.Likely.Hours(), 4, 1e-6)
	single := belly(800)
	single.Thickness = Typed(Millimetre(25))
	if one := compute(t, single); one.Time.To != d.Each[2].Time.To {
		t.Error("a piece alone takes another time")
	}
	brine := Request{Region: in("us"), Cut: "beef brisket", Pieces: []Gram{3000, 1500}, Water: Typed(Gram(4500)), Thicknesses: []Millimetre{60, 30}}
	d = compute(t, brine)
	if len(d.Each) != 2 || d.Each[0].Add != nil || d.Each[0].Time.To != d.Time.To || d.Each[1].Time.To.Likely >= d.Time.To.Likely {
		t.Errorf("%+v", d.Each)
	}

	r.Pieces = []Gram{3200, 1600, 30} // 0.075 g of cure on a scale of 0.1 g
	if stop := stopped(t, r); stop.Rule != StopScale {
		t.Errorf("%+v", stop)
	}
	for _, change := range []func(*Request){
		func(r *Request) { r.Thicknesses = r.Thicknesses[:2] },
		func(r *Request) { r.Thicknesses = []Millimetre{38, Millimetre(math.NaN()), 25} },
		func(r *Request) { r.Thickness = Typed(Millimetre(30)) },
	} {
		r.Pieces, r.Thicknesses, r.Thickness = []Gram{3200, 1600, 800}, []Millimetre{38, 50, 25}, Given[Millimetre]{}
		change(&r)
		if stop := stopped(t, r); stop.Rule != StopImplausible || stop.What != "thickness" {
			t.Errorf("%+v", stop)
		}
	}
	ground := Request{Region: in("us"), Cut: "ground pork", Pieces: []Gram{1000}, Thicknesses: []Millimetre{30}}
	if stop := stopped(t, ground); stop.Rule != StopNotMethod {
		t.Errorf("%+v", stop)
	}
}

func BenchmarkProgress(b *testing.B) {
	spells := []Spell{{2 * day, 3}, {3 * day, -18}, {2 * day, 9}}
	for b.Loop() {
		if _, err := Progress(belly(3200), spells); err != nil {
			b.Fatal(err)
		}
	}
}
