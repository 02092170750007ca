package cure

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"salthand/cure/published"
)

func agentIn(l published.Line, kind, nitrite, nitrate string) Agent {
	l.T.Helper()
	return Agent{kindNamed(l.T, l.Cell[kind]), Fraction(l.Or0(nitrite) / 100), Fraction(l.Or0(nitrate) / 100)}
}

func (d Swapped) can(code string) (Impossible, bool) {
	for _, i := range d.Impossible {
		if i.Code == code {
			return i, false
		}
	}
	return Impossible{}, true
}

func (d Swapped) figure(l published.Line) float64 {
	l.T.Helper()
	cant := func(code string) float64 { _, ok := d.can(code); return yes(!ok) }
	switch l.Cell["want"] {
	case "cure g":
		return float64(d.Cure.Exact)
	case "salt g":
		return float64(d.Salt.Exact)
	case "same grams ppm":
		return float64(d.SameGrams)
	case "was ppm":
		return float64(d.Was)
	case "nitrite ppm":
		return float64(d.Nitrite)
	case "nitrate ppm":
		return float64(d.Nitrate)
	case "nitrate change ppm":
		return float64(d.NitrateChange)
	case "was nitrate as used ppm":
		return float64(d.WasNitrate) * 1.18953 // KNO3 over NaNO3
	case "total salt %":
		return 100 * float64(d.SaltWas)
	case "salt allows ppm":
		i, _ := d.can(CantSalt)
		return float64(i.PPM)
	case "cant salt":
		return cant(CantSalt)
	case "cant nitrite":
		return cant(CantNitrite)
	case "cant weigh":
		return cant(CantWeigh)
	case "hold":
		for _, c := range d.Cautions {
			if c.Level == Hold {
				return 1
			}
		}
		return 0
	}
	l.T.Fatalf("%v: what is wanted?", l.Cell)
	return 0
}

func TestSwapCures(t *testing.T) {
	for _, l := range published.Lines(t, "swap_cures.csv") {
		s := Swapping{Region: "us", From: agentIn(l, "from_kind", "from_nitrite", "from_nitrate"), To: agentIn(l, "to_kind", "to_nitrite", "to_nitrate"),
			Grams: Gram(l.Number("grams")), Mass: Gram(l.Number("mass_g"))}
		set(l, "salt_g", &s.Salt)
		d, err := Swap(s)
		if err != nil {
			t.Fatalf("%v: %v", l.Cell, err)
		}
		l.Near(d.figure(l), l.Number("value"), l.Number("tolerance"))
	}
}

// someCures has one of every kind, with a strength.
var someCures = []Agent{
	{No1, 0.0625, 0}, {No1, 0.0588, 0}, {No2, 0.0625, 0.04}, {No2, 0.0567, 0.0363}, {NitritedSalt, 0.006, 0}, {HouseCure, 0.005, 0.005},
	{PureNitrite, 1, 0}, {PureNitrate, 0, 1}, {Saltpetre, 0, 0}, {VegetablePowder, 0.0115, 0},
}

// TestEveryPair: there and back is where it began, wherever it is possible; whatever isn't
// says so; nothing is lost on the way but nitrate, and that is said.
func TestEveryPair(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Swapping{
			From: rapid.SampledFrom(someCures).Draw(t, "from"), To: rapid.SampledFrom(someCures).Draw(t, "to"),
			Grams: Gram(rapid.Float64Range(1, 200).Draw(t, "grams")), Salt: Typed(Gram(rapid.Float64Range(0, 500).Draw(t, "salt"))),
			Mass: Gram(rapid.Float64Range(500, 20000).Draw(t, "mass")), Scale: 0.001,
		}
		d, err := Swap(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range []float64{float64(d.Cure.Exact), float64(d.Salt.Exact), float64(d.Nitrite), float64(d.Nitrate), float64(d.SaltTotal), float64(d.SameGrams)} {
			if !(x >= 0) || math.IsInf(x, 0) {
				t.Fatalf("%v in %+v", x, d)
			}
		}
		if (d.Cure.Exact == 0) != (len(d.Impossible) > 0 && d.Impossible[0].Code != CantSalt && d.Nitrite == 0 && d.Nitrate == 0) {
			t.Fatalf("no cure, and no reason: %+v", d)
		}
		if len(d.Impossible) > 0 {
			return
		}
		if !near(float64(d.SaltTotal), float64(d.SaltWas), 1e-9) || s.From.parts().nitrite > 0 && !near(float64(d.Nitrite), float64(d.Was), 1e-9) {
			t.Fatalf("not kept: %+v", d)
		}
		// The check says the same of what goes in.
		f, err := Examine(Checked{Meant: Request{Region: in("us"), Cut: "ground pork", Pieces: []Gram{s.Mass}}, Salt: d.Salt.Exact,
			Cures: []Put{{Agent: s.To, Grams: Exactly(d.Cure.Exact)}}})
		if err != nil || !near(float64(f.Nitrite.Likely), float64(d.Nitrite), 1e-9) || !near(float64(f.Nitrate.Likely), float64(d.Nitrate), 1e-9) ||
			!near(float64(f.Salt.Likely), float64(d.SaltTotal), 1e-9) {
			t.Fatalf("%v: %+v", err, f)
		}
		if s.From.parts().nitrite == 0 && s.To.parts().nitrite > 0 {
			return // dosed on the meat: there is no way back
		}
		back, err := Swap(Swapping{From: s.To, To: s.From, Grams: d.Cure.Exact, Salt: Typed(d.Salt.Exact), Mass: s.Mass, Scale: s.Scale})
		if err != nil {
			t.Fatal(err)
		}
		if ok := back.Cure.Exact; !near(float64(ok), float64(s.Grams), 1e-9) && ok != 0 {
			t.Fatalf("%v g there, %v g back", s.Grams, ok)
		}
		if back.Cure.Exact > 0 && math.Abs(float64(back.Salt.Exact-s.Salt.Value)) > 1e-6 {
			t.Fatalf("salt %v there, %v back", s.Salt.Value, back.Salt.Exact)
		}
	})
}

func TestSwapTwice(t *testing.T) {
	for _, from := range someCures {
		for _, to := range someCures {
			one, err := Swap(Swapping{From: from, To: to, Grams: 20, Mass: 5000, Scale: 0.001})
			if err != nil {
				t.Fatal(err)
			}
			two, err := Swap(Swapping{From: from, To: to, Grams: 40, Mass: 10000, Scale: 0.001})
			if err != nil || !near(float64(two.Cure.Exact), 2*float64(one.Cure.Exact), 1e-9) || two.Nitrite != one.Nitrite {
				t.Errorf("%v for %v: %v of one, %v of two: %v", to, from, one.Cure.Exact, two.Cure.Exact, err)
			}
		}
	}
}

func TestSwapRefuses(t *testing.T) {
	ok := Swapping{From: Agent{Kind: No1}, To: Agent{NitritedSalt, 0.006, 0}, Grams: 5, Mass: 2000, Region: "us"}
	if _, err := Swap(ok); err != nil {
		t.Fatal(err)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1} {
		for what, change := range map[string]func(*Swapping){
			"grams": func(s *Swapping) { s.Grams = Gram(bad) }, "mass": func(s *Swapping) { s.Mass = Gram(bad) },
			"salt": func(s *Swapping) { s.Salt = Typed(Gram(bad)) }, "target": func(s *Swapping) { s.Target = Typed(PPM(bad)) },
			"scale": func(s *Swapping) { s.Scale = Gram(bad) }, "strength": func(s *Swapping) { s.To.Nitrite = Fraction(bad) },
		} {
			s := ok
			change(&s)
			if d, err := Swap(s); err == nil {
				t.Errorf("%s of %v: %+v", what, bad, d)
			}
		}
	}
	nowhere := ok
	nowhere.Region = ""
	if _, err := Swap(nowhere); err == nil || err.(*Missing).What != "strength" {
		t.Errorf("no region: %v", err)
	}
}

func TestSwapRub(t *testing.T) {
	for _, l := range published.Lines(t, "swap_rub.csv") {
		r := Rub{Salt: Gram(l.Number("salt")), Other: Gram(l.Number("other")), Rate: Fraction(l.Number("rate")), Meat: Gram(l.Or0("meat_g")),
			Cures: []Put{{Agent: agentIn(l, "kind", "nitrite_pct", "nitrate_pct"), Grams: Exactly(Gram(l.Number("amount")))}}}
		if l.Cell["kind2"] != "" {
			r.Cures = append(r.Cures, Put{Agent: Agent{Kind: kindNamed(t, l.Cell["kind2"])}, Grams: Exactly(Gram(l.Number("amount2")))})
		}
		d, err := r.Analyse()
		if err != nil {
			t.Fatalf("%v: %v", l.Cell, err)
		}
		got, ok := map[string]float64{"mix g": float64(d.Mix), "nitrite ppm": float64(d.Nitrite), "nitrate ppm": float64(d.Nitrate),
			"nitrate as used ppm": float64(d.NitrateAsUsed), "salt %": 100 * float64(d.Salt), "first cure g": float64(d.Cures[0].Gram),
			"share of mix %": 100 * float64(d.Cures[0].OfMix), "rate for target %": 100 * float64(d.RateForTarget),
			"salt of the mix g": float64(d.Salt) * float64(r.Meat)}[l.Cell["want"]]
		if !ok {
			t.Fatal(l.Cell)
		}
		l.Near(got, l.Number("value"), l.Number("tolerance"))
	}
}

// TestRubChecked: a rub analysed and the same grams examined are one figure.
func TestRubChecked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Rub{Salt: Gram(rapid.Float64Range(100, 3000).Draw(t, "salt")), Other: Gram(rapid.Float64Range(0, 1000).Draw(t, "sugar")),
			Rate: Fraction(rapid.Float64Range(0.01, 0.1).Draw(t, "rate")), Meat: Gram(rapid.Float64Range(500, 10000).Draw(t, "meat")),
			Cures: []Put{{Agent: rapid.SampledFrom(someCures).Draw(t, "cure"), Grams: Exactly(Gram(rapid.Float64Range(1, 100).Draw(t, "grams")))}}}
		d, err := r.Analyse()
		if err != nil {
			t.Fatal(err)
		}
		salt := d.Mix * r.Salt / (r.Salt + r.Other + r.Cures[0].Grams.Likely)
		f, err := Examine(Checked{Meant: Request{Region: in("us"), Cut: "pork loin", Pieces: []Gram{r.Meat}}, Salt: salt,
			Cures: []Put{{Agent: r.Cures[0].Agent, Grams: Exactly(d.Cures[0].Gram)}}})
		if err != nil || !near(float64(f.Nitrite.Likely), float64(d.Nitrite), 1e-9) || !near(float64(f.Nitrate.Likely), float64(d.Nitrate), 1e-9) ||
			!near(float64(f.Salt.Likely), float64(d.Salt), 1e-9) {
			t.Fatalf("%v: %+v, %+v", err, f, d)
		}
	})
}

func TestRubRefuses(t *testing.T) {
	ok := Rub{Salt: 1000, Rate: 0.05, Cures: []Put{{Agent: Agent{Kind: Saltpetre}, Grams: Exactly(Gram(20))}}}
	for _, bad := range []float64{math.NaN(), math.Inf(1), -1} {
		for what, change := range map[string]func(*Rub){
			"salt": func(r *Rub) { r.Salt = Gram(bad) }, "other": func(r *Rub) { r.Other = Gram(bad) }, "rate": func(r *Rub) { r.Rate = Fraction(bad) },
			"meat": func(r *Rub) { r.Meat = Gram(bad) }, "cure": func(r *Rub) { r.Cures = []Put{{ok.Cures[0].Agent, Exactly(Gram(bad)), false}} },
			"target": func(r *Rub) { r.Target = Typed(PPM(bad)) },
		} {
			r := ok
			change(&r)
			if d, err := r.Analyse(); err == nil {
				t.Errorf("%s of %v: %+v", what, bad, d)
			}
		}
	}
}

func BenchmarkSwap(b *testing.B) {
	s := Swapping{From: Agent{No1, 0.0625, 0}, To: Agent{NitritedSalt, 0.006, 0}, Grams: 6.5, Salt: Typed(Gram(65)), Mass: 2600}
	for b.Loop() {
		if _, err := Swap(s); err != nil {
			b.Fatal(err)
		}
	}
}
