package brine

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"salthand/cure"
)

// A special glass taken for the usual one: 60° of it are 15 %, not 15.84 %.
func TestInstruments(t *testing.T) {
	for _, c := range []struct {
		glass   Instrument
		reading Degree
		at      cure.Celsius
		percent float64
	}{
		{Usual, 100, Reference, 26.395},
		{Usual, 60, Reference, 15.837},
		{Special, 100, Reference, 25},
		{Special, 60, Reference, 15},
		{Cold, 60, (38 - 32) / 1.8, 15.837},
	} {
		got := 100 * float64(must(c.glass.Salt(c.reading, c.at))(t))
		if math.Abs(got-c.percent) > 1e-9 {
			t.Errorf("glass %d at %v °, %v °C: %g %%, want %g", c.glass, c.reading, c.at, got, c.percent)
		}
	}
	// The cold glass in the same brine at 60 °F reads low, the usual one in the cold high.
	x := cure.Fraction(0.15837)
	if r := must(Cold.Reads(x, Reference))(t); !(r < 58 && r > 57) {
		t.Errorf("cold glass in a warm brine: %v", r)
	}
	if _, err := Usual.Salt(math.Pi*100, Reference); err == nil {
		t.Error("314° read")
	}
}

// The gallons, by GNU units 2.22: a pound in a US gallon is 119.82643 g/L, and a US gallon is
// 0.832674 imperial ones.
func TestGallons(t *testing.T) {
	if x := float64(pound) / float64(USGallon); math.Abs(x-119.82643) > 5e-6 {
		t.Errorf("a pound in a US gallon is %g g/L", x)
	}
	if x := float64(USGallon / ImperialGallon); math.Abs(x-0.832674) > 5e-7 {
		t.Errorf("a US gallon is %g imperial ones", x)
	}
}

func TestMix(t *testing.T) {
	m := must(Recipe{Salt: 0.15837, Volume: USGallon, Coldest: 3}.Mix())(t)
	if pounds := float64(m.Salt / pound); math.Abs(pounds-1.569) > 0.0005 { // row of 60° in brine_scales.csv
		t.Errorf("60° to a US gallon of water: %g lb", pounds)
	}
	if litres := float64(m.Volume / m.WaterVolume); math.Abs(litres-1.0627) > 0.00005 {
		t.Errorf("a litre of water gives %g", litres)
	}
	m = must(Recipe{Salt: 0.15837, Volume: ImperialGallon, Of: OfBrine, Coldest: 3}.Mix())(t)
	if grams := float64(m.Salt) / float64(ImperialGallon); math.Abs(grams-176.9) > 0.05 {
		t.Errorf("60° in a litre of brine: %g g", grams)
	}
}

// Whatever a recipe is of, it comes to what it asked for.
func TestMixProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Recipe{Salt: cure.Fraction(rapid.Float64Range(0, 0.2629).Draw(t, "salt")), Of: Part(rapid.IntRange(0, 1).Draw(t, "of"))}
		much := rapid.Float64Range(0.01, 1000).Draw(t, "much")
		if rapid.Bool().Draw(t, "by weight") {
			r.Weight = cure.Gram(1000 * much)
		} else {
			r.Volume = Litre(much)
		}
		m, err := r.Mix()
		if err != nil {
			t.Fatal(err)
		}
		got, want := float64(m.WaterVolume), float64(r.Volume)
		switch {
		case r.Weight != 0 && r.Of == OfBrine:
			got, want = float64(m.Salt+m.Water), float64(r.Weight)
		case r.Weight != 0:
			got, want = float64(m.Water), float64(r.Weight)
		case r.Of == OfBrine:
			got = float64(m.Volume)
		}
		if math.Abs(got/want-1) > 1e-12 || m.Salt > 0 && math.Abs(float64(m.Salt/(m.Salt+m.Water))/float64(r.Salt)-1) > 1e-12 {
			t.Fatalf("%+v: %+v", r, m)
		}
		rho, err := DensityOf(r.Salt, Reference)
		if err != nil || math.Abs(float64(m.Salt+m.Water)/float64(m.Volume)/float64(rho)-1) > 1e-12 {
			t.Fatalf("%+v: %+v is not %v g/L", r, m, rho)
		}
	})
}

func TestRefused(t *testing.T) {
	nan := math.NaN()
	for _, bad := range []float64{-0.001, 0.266, nan, math.Inf(1)} {
		_, err := DensityOf(cure.Fraction(bad), 15)
		outOfRange(t, SaltShare, err)
		_, err = On(Gravity, cure.Fraction(bad))
		outOfRange(t, SaltShare, err)
		_, err = Swell(cure.Fraction(bad))
		outOfRange(t, SaltShare, err)
		_, err = Usual.Reads(cure.Fraction(bad), 15)
		outOfRange(t, SaltShare, err)
	}
	for _, bad := range []cure.Celsius{-0.1, 25.1, cure.Celsius(nan)} {
		_, err := DensityOf(0.1, bad)
		outOfRange(t, Temperature, err)
		_, err = Usual.Reads(0.1, bad)
		outOfRange(t, Temperature, err)
		_, err = Usual.Salt(50, bad)
		outOfRange(t, Temperature, err)
	}
	for s := range scales {
		for _, bad := range []float64{-1, 1e9, nan, math.Inf(-1)} {
			_, err := Reading{bad, s}.Salt()
			outOfRange(t, Strength, err)
		}
	}
	_, err := Reading{1, scales}.Salt()
	outOfRange(t, Strength, err)
	_, err = On(scales, 0.1)
	outOfRange(t, Strength, err)
	for _, bad := range []cure.Celsius{-21.2, 100.1, cure.Celsius(nan)} {
		_, err := Saturated(bad)
		outOfRange(t, Temperature, err)
	}
	_, err = Freezing(0.234)
	outOfRange(t, SaltShare, err)
	good := Tub{Meat: 2000, Wet: 0.7, Water: 1000, Solute: 60}
	for what, spoil := range map[What]func(*Tub, float64){
		Meat:      func(t *Tub, x float64) { t.Meat = cure.Gram(x) },
		MeatWater: func(t *Tub, x float64) { t.Wet = cure.Fraction(x) },
		Water:     func(t *Tub, x float64) { t.Water = cure.Gram(x) },
		Solute:    func(t *Tub, x float64) { t.Solute = cure.Gram(x) },
		Pickle:    func(t *Tub, x float64) { t.Pickle = cure.Gram(x) },
		PickUp:    func(t *Tub, x float64) { t.PickUp = cure.Fraction(x) },
	} {
		for _, bad := range []float64{-1, nan, math.Inf(1)} {
			tub := good
			spoil(&tub, bad)
			_, err := tub.Balance()
			outOfRange(t, what, err)
		}
	}
	good.Pickle = 1059 // less than the water and the salt in it
	_, err = good.Balance()
	outOfRange(t, Pickle, err)
	_, err = Tub{Meat: 2000, Wet: 0.7, Water: 1000}.Needs(0.02, ByMethodOne)
	outOfRange(t, PickUp, err)
	_, err = Tub{Meat: 2000, Wet: 0.7, Water: 1000}.Needs(-0.02, ByTheWater)
	outOfRange(t, Target, err)
	_, err = Soak{Meat: 1000, Salt: 0.05, Water: 0}.Floor(1)
	outOfRange(t, Water, err)
	_, err = Soak{Meat: 1000, Salt: 0.05, Water: 1}.Changes(0.0001)
	outOfRange(t, Changes, err)
	_, err = Recipe{Salt: 0.1}.Mix()
	outOfRange(t, Volume, err)
	_, err = Recipe{Salt: 0.1, Volume: 1, Weight: 1000}.Mix()
	outOfRange(t, Volume, err)
	_, err = Recipe{Salt: 0.1, Volume: 1e300}.Mix()
	outOfRange(t, Volume, err)
	for _, bad := range []cure.Fraction{0, 1e-300, cure.Fraction(nan)} {
		_, err = Tub{Wet: 0.7, Water: 1000, Solute: 1}.LeastMeat(bad)
		outOfRange(t, Target, err)
	}
	_, err = Recipe{Salt: 0.1, Weight: -1}.Mix()
	outOfRange(t, Weight, err)
}

func TestKeeps(t *testing.T) {
	var wet *Undissolved
	if err := Keeps(0.26395, 0); !errors.As(err, &wet) || math.Abs(float64(wet.Most)-0.2629) > 1e-12 {
		t.Errorf("100° at 0 °C: %v", err)
	}
	if _, err := (Recipe{Salt: 0.264, Volume: 1, Coldest: 4}).Mix(); !errors.As(err, &wet) {
		t.Errorf("26.4 %% at 4 °C: %v", err)
	}
	var ice *Frozen
	if err := Keeps(0.05, -4); !errors.As(err, &ice) || math.Abs(float64(ice.From)+2.97) > 0.005 {
		t.Errorf("5 %% at -4 °C: %v", err)
	}
	for _, ok := range []struct {
		salt cure.Fraction
		at   cure.Celsius
	}{{0.05, -2}, {0.233, -21}, {0.26, 0}, {0, 20}} {
		if err := Keeps(ok.salt, ok.at); err != nil {
			t.Errorf("%v at %v: %v", ok.salt, ok.at, err)
		}
	}
}

func TestSoak(t *testing.T) {
	// 1 kg with 60 g of salt in 2 kg of water: 20 g are left, then 20/3 g.
	s := Soak{Meat: 1000, Salt: 0.06, Water: 2000}
	for n, want := range []float64{0.06, 0.02, 0.02 / 3} {
		if got := float64(must(s.Floor(n))(t)); math.Abs(got-want) > 1e-12 {
			t.Errorf("after %d changes %g, want %g", n, got, want)
		}
	}
	for target, want := range map[cure.Fraction]int{0.06: 0, 0.02: 1, 0.0199: 2} {
		if got := must(s.Changes(target))(t); got != want {
			t.Errorf("to %v: %d changes, want %d", target, got, want)
		}
	}
}

func TestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := cure.Fraction(rapid.Float64Range(0, 0.264).Draw(t, "salt"))
		more := x + cure.Fraction(rapid.Float64Range(1e-4, 1e-3).Draw(t, "more"))
		at := cure.Celsius(rapid.Float64Range(0, 25).Draw(t, "at"))
		s := Scale(rapid.IntRange(0, int(scales)-1).Draw(t, "scale"))

		r, err := On(s, x)
		if err != nil {
			t.Fatal(err)
		}
		back, err := r.Salt()
		if err != nil || math.Abs(float64(back-x)) > 1e-11 {
			t.Fatalf("%v to %v and back to %v: %v", x, r, back, err)
		}
		if up, err := On(s, more); err != nil || up.Number <= r.Number {
			t.Fatalf("more salt reads %v, then %v: %v", r, up, err)
		}
		thin, err := DensityOf(x, at)
		thick, err2 := DensityOf(more, at)
		if err != nil || err2 != nil || thick <= thin {
			t.Fatalf("more salt is not denser: %v, %v", thin, thick)
		}
		for _, glass := range []Instrument{Usual, Special, Cold} {
			deg, err := glass.Reads(x, at)
			if err != nil {
				t.Fatal(err)
			}
			back, err := glass.Salt(deg, at)
			if err != nil || math.Abs(float64(back-x)) > 1e-10 {
				t.Fatalf("glass %d: %v reads %v, back %v: %v", glass, x, deg, back, err)
			}
		}
	})
}

// Density has no step where one fit hands over to the next.
func TestDensityIsContinuous(t *testing.T) {
	for _, at := range []float64{10, 20} {
		for w := 0.0; w <= 26.5; w += 0.5 {
			if d := density(w, at+1e-9) - density(w, at-1e-9); math.Abs(d) > 1e-6 {
				t.Errorf("%g %% at %g °C: a step of %g", w, at, d)
			}
		}
	}
}

func TestTubProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tub := Tub{
			Meat:   cure.Gram(rapid.Float64Range(1, 1e5).Draw(t, "meat")),
			Wet:    cure.Fraction(rapid.Float64Range(0.05, 1).Draw(t, "wet")),
			Water:  cure.Gram(rapid.Float64Range(1, 1e5).Draw(t, "water")),
			PickUp: cure.Fraction(rapid.Float64Range(0.05, 0.5).Draw(t, "pick-up")),
		}
		if rapid.Bool().Draw(t, "whole pickle") {
			tub.Pickle = tub.Water * 1.5
		}
		target := cure.Fraction(rapid.Float64Range(1e-6, 0.02).Draw(t, "target"))
		for _, rule := range []Rule{ByMeatAndWater, ByMethodTwo, ByTheWater, ByMethodOne} {
			dosed := tub
			var err error
			if dosed.Solute, err = tub.Needs(target, rule); err != nil {
				t.Fatal(err)
			}
			if dosed.Pickle != 0 {
				dosed.Pickle = max(dosed.Pickle, dosed.Water+dosed.Solute)
				if dosed.Pickle != tub.Pickle {
					continue
				}
			}
			b, err := dosed.Balance()
			if err != nil {
				t.Fatal(err)
			}
			got := [...]cure.Fraction{b.MeatAndWater, b.MethodTwo, b.ByWater, b.MethodOne}[rule]
			if math.Abs(float64(got/target)-1) > 1e-12 {
				t.Fatalf("rule %d: asked %v, has %v", rule, target, got)
			}
			if b.ByWater > b.MeatAndWater*(1+1e-12) {
				t.Fatalf("the meat has more by its water, %v, than by mass, %v", b.ByWater, b.MeatAndWater)
			}
			if wetter := dosed.Water/dosed.pickle() >= cure.Gram(dosed.Wet); wetter && b.ByWater > b.MethodTwo*(1+1e-12) {
				t.Fatalf("the meat has more by its water, %v, than by method two, %v", b.ByWater, b.MethodTwo)
			}
			if rule != ByMethodTwo {
				continue
			}
			least, err := dosed.LeastMeat(target)
			if err != nil || math.Abs(float64(least/dosed.Meat)-1) > 1e-6 && least > 0 {
				t.Fatalf("least meat %v of %v: %v", least, dosed.Meat, err)
			}
		}
		s := Soak{Meat: tub.Meat, Salt: target, Water: tub.Water}
		n := rapid.IntRange(0, 5).Draw(t, "changes")
		a, err := s.Floor(n)
		b, err2 := s.Floor(n + 1)
		if err != nil || err2 != nil || !(b < a && b > 0) {
			t.Fatalf("a change of water took nothing: %v, %v", a, b)
		}
		if got, err := s.Changes(b); err != nil || got != n+1 {
			t.Fatalf("%d changes to %v, want %d: %v", got, b, n+1, err)
		}
	})
}

func BenchmarkDensity(b *testing.B) {
	for b.Loop() {
		if _, err := DensityOf(0.158, 12); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBaumeToSalt(b *testing.B) {
	for b.Loop() {
		if _, err := (Reading{15.3, Baume}).Salt(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkInstrument(b *testing.B) {
	for b.Loop() {
		if _, err := Usual.Salt(62, 3); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMix(b *testing.B) {
	r := Recipe{Salt: 0.158, Volume: 4, Of: OfBrine, Coldest: 3}
	for b.Loop() {
		if _, err := r.Mix(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBalance(b *testing.B) {
	tub := Tub{Meat: 2000, Wet: 0.7, Water: 1000, Solute: 60}
	for b.Loop() {
		if _, err := tub.Balance(); err != nil {
			b.Fatal(err)
		}
	}
}
