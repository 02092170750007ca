package diffuse

import (
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"salthand/cure/published"
)

const days = 24 * time.Hour

// TestSpells: the diffusivity changes on the way, against finite volumes whose step changes
// with it.
func TestSpells(t *testing.T) {
	const l, cells = Metre(0.02), 150
	spells := []Spell{{2 * days, 3}, {3 * days, -18}, {36 * time.Hour, 9}, {4 * days, 1}}
	v := newVolumes(Slab, cells, 1)
	for _, one := range spells {
		if one.At < frozen {
			continue
		}
		tau := float64(rateAt(t, Likely, one.At).Tau(one.For, l))
		for range 2000 {
			v.step(tau / 2000)
		}
	}
	tau, err := Likely.Over(spells, l)
	if err != nil {
		t.Fatal(err)
	}
	m := limitedOf(t, Slab, 1)
	published.Near(t, "centre", m.Centre(tau), v.c[0]/0.5, 1e-3)
	published.Near(t, "uptake", m.Uptake(tau), v.mean()/0.5, 1e-3)
	for _, bad := range [][]Spell{{{days, 20.5}}, {{-1, 3}}, {{days, Celsius(math.NaN())}}} {
		if _, err := Slow.Over(bad, l); !errors.Is(err, ErrRange) {
			t.Errorf("%v: %v", bad, err)
		}
	}
}

// TestSpellsAddUp: cutting a spell in two changes nothing, and one spell is Tau.
func TestSpellsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := Celsius(rapid.Float64Range(-1, 20).Draw(t, "at"))
		one := time.Duration(rapid.IntRange(0, 1e6).Draw(t, "one")) * time.Second
		two := time.Duration(rapid.IntRange(0, 1e6).Draw(t, "two")) * time.Second
		a, err := Likely.Over([]Spell{{one, at}, {90 * days, -20}, {two, at}}, 0.02)
		if err != nil {
			t.Fatal(err)
		}
		d, err := Likely.At(at)
		if b := d.Tau(one+two, 0.02); err != nil || math.Abs(float64(a-b)) > 1e-12 {
			t.Fatalf("%v in two, %v in one: %v", a, b, err)
		}
	})
}

func TestBrick(t *testing.T) {
	for _, row := range published.Rows(t, "diffusion_brick.csv") {
		b := Brick{Metre(published.Number(t, row["a_cm"]) / 100), Metre(published.Number(t, row["b_cm"]) / 100), Metre(published.Number(t, row["c_cm"]) / 100)}
		after := time.Duration(published.Number(t, row["days"]) * float64(days))
		tol := published.Number(t, row["tolerance"])
		for column, of := range map[string]func(Diffusivity, time.Duration) (Ratio, error){"centre": b.Centre, "uptake": b.Uptake} {
			got, err := of(2.2e-10, after)
			if err != nil {
				t.Fatal(err)
			}
			published.Near(t, row, got, published.Number(t, row[column]), tol)
		}
	}
	for _, bad := range []Brick{{}, {1, 1, -1}, {1, Metre(math.NaN()), 1}, {1, 1, Metre(math.Inf(1))}} {
		if _, err := bad.Centre(1e-10, days); !errors.Is(err, ErrRange) {
			t.Errorf("%v: %v", bad, err)
		}
		if _, err := bad.TimeTo(1e-10, 0.5); !errors.Is(err, ErrRange) {
			t.Errorf("%v: %v", bad, err)
		}
	}
	if _, err := (Brick{1, 1, 1}).Uptake(Diffusivity(math.NaN()), days); !errors.Is(err, ErrRange) {
		t.Error(err)
	}
	if _, err := (Brick{1, 1, 1}).TimeTo(1e-10, 1); !errors.Is(err, ErrRange) {
		t.Error(err)
	}
}

// TestBrickAgainstVolumes: an eighth of a brick of 1 × 1.5 × 2 in explicit finite volumes.
func TestBrickAgainstVolumes(t *testing.T) {
	const n, h = 12, 1.0 / 12 // cells along the half of the shortest side
	size := [3]int{n, n * 3 / 2, n * 2}
	at := func(x, y, z int) int { return (x*size[1]+y)*size[2] + z }
	c := make([]float64, size[0]*size[1]*size[2])
	next := make([]float64, len(c))
	const dt = h * h / 10
	tau := 0.0
	for tau < 0.4 {
		for x := range size[0] {
			for y := range size[1] {
				for z := range size[2] {
					cell, flow := [3]int{x, y, z}, 0.0
					here := c[at(x, y, z)]
					for side := range cell {
						if cell[side] > 0 {
							to := cell
							to[side]--
							flow += c[at(to[0], to[1], to[2])] - here
						}
						if to := cell; cell[side]+1 < size[side] {
							to[side]++
							flow += c[at(to[0], to[1], to[2])] - here
						} else {
							flow += 2 * (1 - here) // half a cell to the surface
						}
					}
					next[at(x, y, z)] = here + dt/h/h*flow
				}
			}
		}
		c, next = next, c
		tau += dt
	}
	mean := 0.0
	for _, x := range c {
		mean += x / float64(len(c))
	}
	b := Brick{2, 3, 4}
	d := Diffusivity(1e-6)
	after := d.Time(Tau(tau), 1)
	centre, err := b.Centre(d, after)
	if err != nil {
		t.Fatal(err)
	}
	uptake, err := b.Uptake(d, after)
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "centre", centre, c[0], 5e-3)
	published.Near(t, "uptake", uptake, mean, 5e-3)
}

// TestBrickProperties: a brick is faster than the slab of its thinnest side and slower than
// the cube of it; times and shares agree.
func TestBrickProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := func(name string) Metre { return Metre(rapid.Float64Range(0.01, 0.3).Draw(t, name)) }
		b := Brick{side("a"), side("b"), side("c")}
		const d = Diffusivity(2.2e-10)
		share := Ratio(rapid.Float64Range(0.05, 0.99).Draw(t, "share"))
		thin := min(b.A, b.B, b.C)
		slab, err := Constant(Slab).TimeTo(share)
		if err != nil {
			t.Fatal(err)
		}
		at, err := b.TimeTo(d, share)
		if err != nil {
			t.Fatal(err)
		}
		cube, err := Brick{thin, thin, thin}.TimeTo(d, share)
		if err != nil {
			t.Fatal(err)
		}
		if at > d.Time(slab, thin/2)+time.Second || at < cube-time.Second {
			t.Fatalf("slab %v, brick %v, cube %v", d.Time(slab, thin/2), at, cube)
		}
		if got, err := b.Centre(d, at); err != nil || math.Abs(float64(got-share)) > 1e-6 {
			t.Fatalf("the centre has %v at the time to %v: %v", got, share, err)
		}
		in, err := b.TimeToUptake(d, share)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := b.Uptake(d, in); err != nil || math.Abs(float64(got-share)) > 1e-6 || in > at {
			t.Fatalf("the brick has %v at the time to %v: %v", got, share, err)
		}
	})
}

func TestPeak(t *testing.T) {
	for _, row := range published.Rows(t, "diffusion_peak.csv") {
		l := Loss{time.Duration(published.Number(t, row["half_life_days"]) * float64(days)), Diffusivity(published.Number(t, row["d"])), Metre(published.Number(t, row["thickness_cm"]) / 200)}
		at, share, err := cappedOf(t, Slab, published.Number(t, row["fill"])).Peak(l)
		if err != nil {
			t.Fatal(err)
		}
		if row["most"] != "" {
			if float64(share) > published.Number(t, row["most"]) {
				t.Errorf("%v: the centre gets %v", row, share)
			}
			continue
		}
		published.Near(t, row, share, published.Number(t, row["share"]), published.Number(t, row["tolerance"]))
		published.Near(t, row, Ratio(at.Hours()/24), published.Number(t, row["days"]), published.Number(t, row["days_tolerance"]))
	}
	for _, bad := range []Loss{{}, {days, 0, 1}, {days, 1e-10, -1}, {-days, 1e-10, 1}, {days, Diffusivity(math.NaN()), 1}} {
		if _, _, err := Constant(Slab).Peak(bad); !errors.Is(err, ErrRange) {
			t.Errorf("%v: %v", bad, err)
		}
	}
}

// TestPeakAgainstVolumes spends the solute in every cell at every step.
func TestPeakAgainstVolumes(t *testing.T) {
	const cells, dt, half = 150, 2e-5, 0.25 // half: Tau of a half-life
	v := newVolumes(Slab, cells, 1e12)
	v.flow[cells-1] = 0 // a weighed rub, all in at once: in the outermost cell
	v.c[cells-1] = cells
	best, when := 0.0, 0.0
	for i := 1; i <= 30000; i++ {
		v.step(dt)
		for j := range cells {
			v.c[j] *= math.Exp2(-dt / half)
		}
		if v.c[0] > best {
			best, when = v.c[0], float64(i)*dt
		}
	}
	d := Diffusivity(1e-6)
	at, share, err := cappedOf(t, Slab, 0).Peak(Loss{d.Time(half, 1), d, 1})
	if err != nil {
		t.Fatal(err)
	}
	published.Near(t, "share", share, best, 3e-3)
	published.Near(t, "when", d.Tau(at, 1), when, 5e-3)
}

func BenchmarkBrick(b *testing.B) {
	for b.Loop() {
		if _, err := (Brick{0.05, 0.15, 0.3}).TimeTo(2.2e-10, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPeak(b *testing.B) {
	for b.Loop() {
		m, err := Capped(Slab, 0.1)
		if err != nil {
			b.Fatal(err)
		}
		if _, _, err := m.Peak(Loss{17 * days, 2.2e-10, 0.025}); err != nil {
			b.Fatal(err)
		}
	}
}
