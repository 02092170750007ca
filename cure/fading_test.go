package cure

import (
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"salthand/cure/published"
)

func TestFading(t *testing.T) {
	for _, l := range published.Lines(t, "nitrite_fading.csv") {
		hours := 1.0
		if l.Cell["hours"] != "" {
			hours = l.Number("hours")
		}
		f, err := Fade([]Spell{{time.Duration(hours * float64(time.Hour)), Celsius(l.Number("celsius"))}}, PH(l.Number("ph")))
		if err != nil {
			t.Fatal(err)
		}
		if l.Cell["want"] == "half-life h" {
			l.Near(f.HalfLife.Likely.Hours(), l.Number("value"), l.Number("tolerance"))
			continue
		}
		l.Near(l.Number("ingoing")*float64(f.Left.Likely), l.Number("value"), l.Number("tolerance"))
	}
	var stop *Stop
	for _, bad := range []PH{4.4, 7.1, 0, -1, PH(math.NaN()), PH(math.Inf(1))} {
		if _, err := Fade(nil, bad); !errors.As(err, &stop) || stop.What != "pH" || stop.Got-stop.Got != 0 {
			t.Errorf("pH %v: %v", bad, err)
		}
	}
	for _, bad := range []Spell{{day, 81}, {day, Celsius(math.NaN())}, {-1, 3}, {1001 * day, 3}} {
		if _, err := Fade([]Spell{bad}, 5.8); !errors.As(err, &stop) {
			t.Errorf("%v: %v", bad, err)
		}
	}
}

// TestFadingFalls: longer, warmer and more sour leave less; the band holds the likely.
func TestFadingFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Spell{time.Duration(rapid.IntRange(1, 500).Draw(t, "hours")) * time.Hour, Celsius(rapid.Float64Range(0, 60).Draw(t, "at"))}
		ph := PH(rapid.Float64Range(5, 6.5).Draw(t, "pH"))
		left := func(s Spell, ph PH) Fraction {
			f, err := Fade([]Spell{s}, ph)
			if err != nil {
				t.Fatal(err)
			}
			if l := f.Left; !(l.Slow >= l.Likely && l.Likely >= l.Fast && l.Fast >= 0 && l.Slow <= 1) {
				t.Fatalf("%+v", l)
			}
			return f.Left.Likely
		}
		one := left(s, ph)
		longer, warmer := s, s
		longer.For += time.Hour
		warmer.At++
		if left(longer, ph) >= one || left(warmer, ph) >= one || left(s, ph-0.1) >= one {
			t.Fatalf("%v of it is left, and no less later, warmer or more sour", one)
		}
		two, err := Fade([]Spell{{s.For / 2, s.At}, {s.For - s.For/2, s.At}}, ph)
		if err != nil || math.Abs(float64(two.Left.Likely-one)) > 1e-9 {
			t.Fatalf("in two spells %v, in one %v: %v", two.Left.Likely, one, err)
		}
	})
}

// TestArrival: the diffusivity that was measured is 1.15e-11 at 12 °C by its own activation
// energy, and what comes to the core by it is next to nothing.
func TestArrival(t *testing.T) {
	closeTo(t, "at 2 °C", float64(measuredNitrite(2))*1e12, 4.58, 0.005)
	closeTo(t, "at 12 °C", float64(measuredNitrite(12))*1e11, 1.15, 0.005)
	r := Request{Region: in("us"), Cut: "pork loin", Pieces: []Gram{3000}, Thickness: Typed(Millimetre(50))}
	a, err := Arrive(r, 5.8)
	if err != nil {
		t.Fatal(err)
	}
	// Half-life 16.8 d at 3 °C and pH 5.8; 17 d give 0.60 at day 9 in series (diffusion_peak.csv).
	closeTo(t, "likely", float64(a.Peak.Likely), 0.60, 0.01)
	closeTo(t, "likely day", a.At.Likely.Hours()/24, 9, 0.5)
	if a.Peak.Slow > 0.06 || a.Peak.Fast <= a.Peak.Likely || a.At.Slow <= a.At.Likely {
		t.Errorf("%+v", a)
	}
	var stop *Stop
	for _, m := range []Method{Injection, SaltBox, Confit, Ground} {
		r.Method = Typed(m)
		if _, err := Arrive(r, 5.8); !errors.As(err, &stop) || stop.Rule != StopNotMethod {
			t.Errorf("%v: %v", m, err)
		}
	}
	if _, err := Arrive(belly(3000), 9); !errors.As(err, &stop) || stop.What != "pH" {
		t.Error(err)
	}
}

func BenchmarkArrive(b *testing.B) {
	for b.Loop() {
		if _, err := Arrive(belly(3200), 5.8); err != nil {
			b.Fatal(err)
		}
	}
}
