package water

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"salthand/cure"
)

func outOfRange(t *testing.T, what What, err error) {
	t.Helper()
	var e *OutOfRange
	if !errors.As(err, &e) || e.What != what {
		t.Errorf("not out of range for its %s: %v", what, err)
	}
}

func TestRefused(t *testing.T) {
	nan := math.NaN()
	for _, bad := range []float64{-0.01, 0.2644, nan, math.Inf(1)} {
		_, err := Solution{cure.Fraction(bad), 20}.Activity()
		outOfRange(t, SaltShare, err)
	}
	for _, bad := range []Molality{-1, 6.15, Molality(nan), Molality(math.Inf(1))} {
		_, err := bad.Activity(20)
		outOfRange(t, Strength, err)
		_, err = Sucrose.Activity(bad)
		outOfRange(t, Strength, err)
	}
	for _, bad := range []cure.Celsius{-0.1, 50.1, cure.Celsius(nan)} {
		_, err := Molality(1).Activity(bad)
		outOfRange(t, Temperature, err)
		_, err = SaltFor(0.95, bad)
		outOfRange(t, Temperature, err)
		_, err = TableSalt.Activity(bad)
		outOfRange(t, Temperature, err)
		_, err = Meat{Salt: 0.03, Water: 0.6, At: bad}.Activity()
		outOfRange(t, Temperature, err)
	}
	for _, bad := range []Activity{0.74, 1.001, Activity(nan)} {
		_, err := SaltFor(bad, 20)
		outOfRange(t, Target, err)
	}
	for _, bad := range []cure.Celsius{0.1, -20.1, cure.Celsius(nan)} {
		_, err := Frozen(bad)
		outOfRange(t, Freezing, err)
	}
	_, err := solutes.Activity(1)
	outOfRange(t, Kind, err)
	_, err = standards.Activity(20)
	outOfRange(t, Kind, err)
	if m := solutes.Molality(0.1); !math.IsNaN(float64(m)) {
		t.Errorf("a solute that there isn't has %v", m)
	}
	for what, spoil := range map[What]func(*Meat, cure.Fraction){
		SaltShare:  func(m *Meat, x cure.Fraction) { m.Salt = x },
		WaterShare: func(m *Meat, x cure.Fraction) { m.Water = x },
		Protein:    func(m *Meat, x cure.Fraction) { m.Protein = x },
		Sugar:      func(m *Meat, x cure.Fraction) { m.Sugar = x },
	} {
		for _, bad := range []float64{-0.01, 1.01, nan, math.Inf(1)} {
			m := Meat{Salt: 0.03, Water: 0.6, Protein: 0.2}
			spoil(&m, cure.Fraction(bad))
			_, err := m.Activity()
			outOfRange(t, what, err)
			_, err = m.Phase()
			outOfRange(t, what, err)
		}
	}
	_, err = Meat{Salt: 0.6, Water: 0.7}.Activity()
	outOfRange(t, Whole, err)
	_, err = Meat{Salt: 0.45, Water: 0.6}.Activity()
	outOfRange(t, Whole, err)
	_, err = Meat{Water: 0.6, Fresh: 0.5}.Activity() // drier when raw than now
	outOfRange(t, WaterShare, err)
	_, err = Meat{Water: 0.2, Protein: 0.3}.Activity() // drier than jerky
	outOfRange(t, Protein, err)
	_, err = Meat{Water: 0.6, Sweet: solutes}.Activity()
	outOfRange(t, Kind, err)
	_, err = Raw{Water: 0.7, Protein: 0.2, Loss: 0.7}.Dried()
	outOfRange(t, Loss, err)
	_, err = Raw{Water: 0.7, Protein: 0.2, Loss: cure.Fraction(nan)}.Dried()
	outOfRange(t, Loss, err)
}

// Loss of weight alone says nothing: 35 % of it at 2.5 % salt is nowhere near 0.91, the
// activity of shelf-stable goods.
func TestLossIsNotKeeping(t *testing.T) {
	b := must(must(Raw{Water: 0.70, Protein: 0.20, Salt: 0.025, Loss: 0.35, At: 25}.Dried())(t).Activity())(t)
	if b.High < 0.95 || b.Likely < 0.93 {
		t.Errorf("35 %% lost: %v", b)
	}
}

// Salt and water alone, as somebody types them, give the widest band.
func TestUnknownProtein(t *testing.T) {
	b := must(Meat{Salt: 0.035, Water: 0.60, At: 25}.Activity())(t)
	known := must(Meat{Salt: 0.035, Water: 0.60, Protein: 0.25, At: 25}.Activity())(t)
	if b.Low > known.Low || b.High != known.High || b.Likely < known.Likely {
		t.Errorf("unknown %v, known %v", b, known)
	}
	alone := must(Solution{0.035 / 0.635, 25}.Activity())(t)
	if math.Abs(float64(b.High-alone)) > 1e-12 || math.Abs(float64(b.Likely/alone)-0.993) > 1e-12 {
		t.Errorf("%v beside the salt alone, %v", b, alone)
	}
}

func TestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := cure.Celsius(rapid.Float64Range(0, 50).Draw(t, "at"))
		m := Molality(rapid.Float64Range(0, 6.1).Draw(t, "molality"))
		aw, err := m.Activity(at)
		more, err2 := (m + 0.01).Activity(at)
		if err != nil || err2 != nil || !(more < aw && more > 0.7 && aw <= 1) {
			t.Fatalf("%v mol/kg: %v, a little more: %v", m, aw, more)
		}
		back, err := SaltFor(aw, at)
		if err != nil || math.Abs(float64(back-m)) > 1e-9 {
			t.Fatalf("%v has %v, which is that of %v: %v", m, aw, back, err)
		}
		if got := Salt(m.Share()); math.Abs(float64(got-m)) > 1e-12 {
			t.Fatalf("%v mol/kg is %v, and back %v", m, m.Share(), got)
		}
		s := Solute(rapid.IntRange(0, int(solutes)-1).Draw(t, "solute"))
		thin, err := s.Activity(Molality(rapid.Float64Range(0, 5.9).Draw(t, "sweet")))
		if err != nil || !(thin > 0.7 && thin <= 1) {
			t.Fatalf("solute %d: %v, %v", s, thin, err)
		}
	})
}

func TestMeatProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Raw{
			Water:   cure.Fraction(rapid.Float64Range(0.3, 0.77).Draw(t, "water")),
			Salt:    cure.Fraction(rapid.Float64Range(0, 0.06).Draw(t, "salt")),
			Sugar:   cure.Fraction(rapid.Float64Range(0, 0.03).Draw(t, "sugar")),
			Sweet:   Solute(rapid.IntRange(0, int(solutes)-1).Draw(t, "sweet")),
			At:      cure.Celsius(rapid.Float64Range(0, 50).Draw(t, "at")),
			Protein: 0,
		}
		r.Protein = r.Water / cure.Fraction(rapid.Float64Range(3, 5).Draw(t, "wetness"))
		r.Loss = r.Water * cure.Fraction(rapid.Float64Range(0, 0.7).Draw(t, "loss"))
		band := func(r Raw) Band {
			m, err := r.Dried()
			if err != nil {
				t.Fatal(err)
			}
			b, err := m.Activity()
			if err != nil {
				t.Fatal(err)
			}
			if !(b.Low > 0 && b.Low <= b.Likely && b.Likely <= b.High && b.High <= 1) {
				t.Fatalf("%+v: out of order: %v", r, b)
			}
			return b
		}
		was := band(r)
		drier := r
		drier.Loss += 0.01 * r.Water
		salter := r
		salter.Salt += 0.001
		const dust = 1e-12
		for _, now := range []Band{band(drier), band(salter)} {
			if now.Low > was.Low+dust || now.Likely > was.Likely+dust || now.High > was.High+dust {
				t.Fatalf("%+v: drier or salter, and up: %v to %v", r, was, now)
			}
		}
		// The same piece, in g in a g of what it weighs now.
		m, err := r.Dried()
		if err != nil {
			t.Fatal(err)
		}
		now := 1 + r.Salt + r.Sugar - r.Loss
		m.Salt, m.Water, m.Protein, m.Fresh, m.Sugar = m.Salt/now, m.Water/now, m.Protein/now, m.Fresh/now, m.Sugar/now
		b, err := m.Activity()
		if err != nil || math.Abs(float64(b.Likely-was.Likely)) > 1e-9 || math.Abs(float64(b.Low-was.Low)) > 1e-9 {
			t.Fatalf("by what it weighed raw %v, by what it weighs %v: %v", was, b, err)
		}
	})
}

func BenchmarkActivity(b *testing.B) {
	for b.Loop() {
		if _, err := Molality(1).Activity(3); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSaltFor(b *testing.B) {
	for b.Loop() {
		if _, err := SaltFor(0.92, 15); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMeat(b *testing.B) {
	m := Meat{Salt: 0.035, Water: 0.45, Protein: 0.28, Fresh: 0.9, Sugar: 0.01, At: 13}
	for b.Loop() {
		if _, err := m.Activity(); err != nil {
			b.Fatal(err)
		}
	}
}
