package diffuse

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestRefused(t *testing.T) {
	for _, bad := range []Ratio{-1, Ratio(math.NaN()), Ratio(math.Inf(1))} {
		if _, err := Limited(Slab, bad); !errors.Is(err, ErrRange) {
			t.Errorf("a bath of %v: %v", bad, err)
		}
		if _, err := Capped(Slab, bad); !errors.Is(err, ErrRange) {
			t.Errorf("a fill of %v: %v", bad, err)
		}
		if _, err := Constant(Slab).TimeToUptake(bad); !errors.Is(err, ErrRange) {
			t.Errorf("an uptake of %v: %v", bad, err)
		}
		if _, err := Constant(Slab).TimeTo(bad); !errors.Is(err, ErrRange) {
			t.Errorf("a share of %v: %v", bad, err)
		}
	}
	if _, err := Limited(Slab, 0); !errors.Is(err, ErrRange) {
		t.Error("a bath of nothing is no bath")
	}
	if _, err := Constant(Slab).TimeTo(1); !errors.Is(err, ErrRange) {
		t.Error("equilibrium is never reached")
	}
}

// TestShares holds for any model: shares lie between 0 and 1 and never fall, the centre lags
// behind the uptake, and TimeTo finds what Centre says.
func TestShares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Shape(rapid.IntRange(0, 2).Draw(t, "shape"))
		m := Constant(s)
		var err error
		switch rapid.IntRange(0, 2).Draw(t, "boundary") {
		case 1:
			m, err = Limited(s, Ratio(math.Exp(rapid.Float64Range(-5, 5).Draw(t, "log alpha"))))
		case 2:
			m, err = Capped(s, Ratio(rapid.Float64Range(0, 1.2).Draw(t, "fill")))
		}
		if err != nil {
			t.Fatal(err)
		}
		at := Tau(rapid.Float64Range(0, 2).Draw(t, "tau"))
		later := at + Tau(rapid.Float64Range(0, 1).Draw(t, "later"))
		const dust = 1e-9
		for _, f := range []func(Tau) Ratio{m.Centre, m.Uptake} {
			a, b := f(at), f(later)
			if !(a >= 0 && b <= 1) || a > b+dust {
				t.Fatalf("share %v at %v, %v at %v", a, at, b, later)
			}
		}
		if m.Centre(at) > m.Uptake(at)+dust {
			t.Fatalf("the centre leads: %v over %v", m.Centre(at), m.Uptake(at))
		}
		share := Ratio(rapid.Float64Range(0.01, 0.999).Draw(t, "share"))
		tau, err := m.TimeTo(share)
		if err != nil {
			t.Fatal(err)
		}
		if tau, err := m.TimeToUptake(share); m.boundary == limited && !errors.Is(err, ErrRange) || m.boundary != limited && err != nil || err == nil && math.Abs(float64(m.Uptake(tau)-share)) > 1e-9 && tau > 0 {
			t.Fatalf("the piece has %v at the time to %v: %v", m.Uptake(tau), share, err)
		}
		if got := m.Centre(tau); math.Abs(float64(got-share)) > 1e-9 {
			t.Fatalf("the centre has %v at the time to %v", got, share)
		}
	})
}

func BenchmarkDays(b *testing.B) {
	for name, start := range map[string]func() (*Model, error){
		"slab, rub":       func() (*Model, error) { return Capped(Slab, 0.1) },
		"slab, brine":     func() (*Model, error) { return Limited(Slab, 1) },
		"cylinder, rub":   func() (*Model, error) { return Capped(Cylinder, 0.1) },
		"cylinder, brine": func() (*Model, error) { return Limited(Cylinder, 1) },
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				m, err := start()
				if err != nil {
					b.Fatal(err)
				}
				if _, err := m.TimeTo(0.95); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
