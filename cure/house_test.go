package cure

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"salthand/cure/published"
)

func TestHouseSteps(t *testing.T) {
	for _, l := range published.Lines(t, "house_steps.csv") {
		l.Near(float64(len(doublings(1, Gram(l.Number("parts"))))), l.Number("steps"), 0)
	}
}

func TestHouseSmallest(t *testing.T) {
	for _, l := range published.Lines(t, "house_smallest.csv") {
		d, err := Blend(Blending{Amount: 1e5, Nitrite: 0.1, From: Agent{Kind: PureNitrite}, Scale: Gram(l.Number("division_g"))})
		if err != nil {
			t.Fatal(err)
		}
		l.Near(float64(d.Smallest)*0.1, l.Number("smallest_g"), l.Number("tolerance"))
	}
}

func TestHouseGrains(t *testing.T) {
	for _, l := range published.Lines(t, "house_grains.csv") {
		g, err := GrainLimit(Agent{HouseCure, Fraction(l.Number("strength_pct") / 100), 0}, Gram(l.Number("dose_g")), Millimetre(l.Number("edge_mm")))
		if err != nil {
			t.Fatal(err)
		}
		l.Near(float64(g.Count), l.Number("grains"), l.Number("grains_tolerance"))
		l.Near(100*float64(g.CV), l.Number("cv_pct"), l.Number("cv_tolerance"))
	}
}

func TestHouseStrength(t *testing.T) {
	for _, l := range published.Lines(t, "house_strength.csv") {
		s, err := Rated{PPM(l.Number("ppm")), Fraction(l.Number("rate_pct") / 100)}.Strength()
		if err != nil {
			t.Fatal(err)
		}
		l.Near(100*float64(s), l.Number("strength_pct"), l.Number("tolerance"))
	}
}

func TestHouseMade(t *testing.T) {
	for _, l := range published.Lines(t, "house_made.csv") {
		m, err := Made{Nitrite: Gram(l.Number("nitrite_g")), Salt: Gram(l.Number("salt_g")), Rate: Typed(Fraction(l.Number("rate_pct") / 100))}.Reckon()
		if err != nil {
			t.Fatal(err)
		}
		got, ok := map[string]float64{"strength %": 100 * float64(m.Agent.Nitrite), "nitrite ppm": float64(m.Nitrite),
			"weak": yes(m.Weak), "needed rate %": 100 * float64(m.Needed)}[l.Cell["want"]]
		if !ok {
			t.Fatal(l.Cell)
		}
		l.Near(got, l.Number("value"), l.Number("tolerance"))
	}
}

func TestHouseBlend(t *testing.T) {
	for _, l := range published.Lines(t, "house_blend.csv") {
		d, err := Blend(Blending{Amount: Gram(l.Number("amount_g")), Nitrite: Fraction(l.Number("strength_pct") / 100), Scale: Gram(l.Number("scale_g")),
			From: Agent{kindNamed(t, l.Cell["from_kind"]), Fraction(l.Number("from_pct") / 100), 0}})
		if err != nil {
			t.Fatal(err)
		}
		got, ok := map[string]float64{"from g": float64(d.From.Exact), "salt g": float64(d.Salt.Exact), "steps": float64(len(d.Mixing)),
			"smallest g": float64(d.Smallest), "sound": yes(d.Sound)}[l.Cell["want"]]
		if !ok {
			t.Fatal(l.Cell)
		}
		l.Near(got, l.Number("value"), l.Number("tolerance"))
	}
}

// TestHouseSlip: grams and per cent that disagree are both shown. 2 g in 1 kg of salt are
// 0.1996 % of the mix.
func TestHouseSlip(t *testing.T) {
	for _, one := range []struct {
		said     Fraction
		agrees   bool
		slip     Times
		fromSalt bool
	}{
		{0.002, true, 0, false}, // 0.2 %, of the salt or of the mix
		{0.00002, false, 0.01, false},
		{0.02, false, 10, false},
		{0.2, false, 100, false},
		{0.0002, false, 0.1, false},
		{0.0025, false, 0, false},
	} {
		_, err := Made{Nitrite: 2, Salt: 1000, Said: Typed(one.said)}.Reckon()
		var d *Disagreement
		if !errors.As(err, &d) {
			if !one.agrees {
				t.Errorf("%v: %v", one.said, err)
			}
			continue
		}
		if one.agrees || !near(float64(d.Slip), float64(one.slip), 1e-9) || !near(float64(d.ByGrams), 2.0/1002, 1e-9) || d.Said != one.said || d.FromSalt != one.fromSalt {
			t.Errorf("%v: %+v", one.said, d)
		}
	}
	// 62.5 g in 1 kg of salt is 5.88 % of the mix, 6.25 % of the salt.
	_, err := Made{Nitrite: 62.5, Salt: 1000, Said: Typed(Fraction(0.0625))}.Reckon()
	var d *Disagreement
	if !errors.As(err, &d) || !d.FromSalt || d.Slip != 0 {
		t.Errorf("%v: %+v", err, d)
	}
}

func TestHouseRefuses(t *testing.T) {
	kilo := Blending{Amount: 1000, Nitrite: 0.0625, From: Agent{Kind: PureNitrite}}
	for _, one := range []struct {
		rule   string
		change func(*Blending)
	}{
		{StopScale, func(b *Blending) { b.Amount = 100 }}, // 6.25 g on 0.1 g: below 82 divisions
		{StopScale, func(b *Blending) { b.Scale = 1 }},
		{StopStrength, func(b *Blending) { b.From = Agent{No1, 0.0625, 0} }}, // as strong as the jar
		{StopStrength, func(b *Blending) { b.From = Agent{PureNitrite, 1.2, 0} }},
		{StopStrength, func(b *Blending) { b.From = Agent{Kind: PureNitrate} }},
		{StopImplausible, func(b *Blending) { b.Nitrite = 0.2 }},
		{StopImplausible, func(b *Blending) { b.Nitrite = 0.00002 }},
		{StopImplausible, func(b *Blending) { b.Amount = Gram(math.NaN()) }},
		{StopImplausible, func(b *Blending) { b.Amount = Gram(math.Inf(1)) }},
		{StopImplausible, func(b *Blending) { b.Amount = -1000 }},
		{StopImplausible, func(b *Blending) { b.Scale = -1 }},
		{StopImplausible, func(b *Blending) { b.Use.Meat = 1000 }},
	} {
		b := kilo
		one.change(&b)
		d, err := Blend(b)
		stop, ok := err.(*Stop)
		if !ok || stop.Rule != one.rule {
			t.Errorf("want %s: %v, %+v", one.rule, err, d)
			continue
		}
		if one.rule == StopScale && !(stop.Meat > b.Amount && stop.Scale > 0) {
			t.Errorf("what would do: %+v", stop)
		}
	}
	if _, err := Blend(Blending{Amount: 1000, Nitrite: 0.006, From: Agent{Kind: No1}}); err == nil || err.(*Missing).What != "strength" {
		t.Errorf("a jar without a strength: %v", err)
	}
}

// TestHouseMass: the steps and the two weights come to the amount, the nitrite to the strength,
// and no step more than doubles.
func TestHouseMass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := Blending{
			Amount: Gram(rapid.Float64Range(10, 20000).Draw(t, "amount")), Nitrite: Fraction(rapid.Float64Range(0.0005, 0.1).Draw(t, "strength")),
			From:  rapid.SampledFrom([]Agent{{PureNitrite, 1, 0}, {PureNitrite, 0.99, 0}, {No1, 0.0625, 0}, {No2, 0.0625, 0.04}}).Draw(t, "from"),
			Scale: rapid.SampledFrom([]Gram{0.001, 0.01, 0.1, 1}).Draw(t, "scale"), Use: Use{1000, 150},
		}
		d, err := Blend(b)
		if err != nil {
			return
		}
		last := d.Mixing[len(d.Mixing)-1]
		nitrite := float64(d.From.Exact) * float64(b.From.Nitrite) / float64(b.Amount)
		if !near(float64(last.After), float64(b.Amount), 1e-12) || !near(nitrite, float64(b.Nitrite), 1e-12) ||
			!near(float64(d.From.Exact+d.Salt.Exact), float64(b.Amount), 1e-12) {
			t.Fatalf("%+v", d)
		}
		if want := math.Ceil(math.Log2(float64(b.Amount/d.From.Exact)) - 1e-9); float64(len(d.Mixing)) != want {
			t.Fatalf("%d steps, want %v", len(d.Mixing), want)
		}
		for _, s := range d.Mixing {
			if s.Add > s.Before*(1+1e-9) || s.Add <= 0 {
				t.Fatalf("%+v", s)
			}
		}
		if !d.Label.NotForSeasoning || d.Label.Dyed || d.Strength.Low < 0 || d.Strength.Low > d.Strength.High || !(d.DoseNitrite.High >= 150) {
			t.Fatalf("%+v", d)
		}
		// A dose of it, examined, is what it was for.
		f, err := Examine(Checked{Meant: Request{Region: in("us"), Cut: "ground pork", Pieces: []Gram{1000}}, Cures: []Put{{Agent: d.Agent, Grams: Exactly(d.Dose)}}})
		if err != nil || !near(float64(f.Nitrite.Likely), 150, 1e-9) {
			t.Fatalf("%v: %+v", err, f.Nitrite)
		}
	})
}

// TestHouseStrengthBand reckons the band a second way: over all errors of the two weighings,
// each the difference of two readings that are even over a division.
func TestHouseStrengthBand(t *testing.T) {
	d, err := Blend(Blending{Amount: 400, Nitrite: 0.025, From: Agent{No1, 0.0625, 0}, Scale: 1, SaltScale: 5})
	if err != nil {
		t.Fatal(err)
	}
	const n = 24
	reading := func(i int) float64 { return (float64(i)+0.5)/n - 0.5 }
	var sum, square, count float64
	for i := range n * n * n * n {
		from := 160 + reading(i%n) - reading(i/n%n)
		salt := 240 + 5*(reading(i/n/n%n)-reading(i/n/n/n))
		s := 0.0625 * from / (from + salt)
		sum, square, count = sum+s, square+s*s, count+1
	}
	sd := math.Sqrt(square/count - sum/count*sum/count)
	closeTo(t, "half width", float64(d.Strength.High-0.025)/2/sd, 1, 0.005)
}

// TestGrainsBinomial reckons the variation of chance a second way, by the terms of the
// binomial distribution.
func TestGrainsBinomial(t *testing.T) {
	g, err := GrainLimit(Agent{HouseCure, 0.05, 0}, 0.05, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	const p = 0.05
	exact := float64(0.05) * p / (2.17e-3 * 0.027) // grains of nitrite
	all := int(math.Round(exact / p))
	lgamma := func(x float64) float64 { y, _ := math.Lgamma(x); return y }
	var mean, square float64
	for k := range all + 1 {
		term := math.Exp(lgamma(float64(all+1)) - lgamma(float64(k+1)) - lgamma(float64(all-k+1)) + float64(k)*math.Log(p) + float64(all-k)*math.Log(1-p))
		mean, square = mean+term*float64(k), square+term*float64(k)*float64(k)
	}
	closeTo(t, "CV", float64(g.CV), math.Sqrt(square-mean*mean)/mean, 5e-4)
}

func BenchmarkBlend(b *testing.B) {
	blending := Blending{Amount: 2000, Nitrite: 0.006, From: Agent{Kind: PureNitrite}, Scale: 0.01, Use: Use{1000, 150}}
	for b.Loop() {
		if _, err := Blend(blending); err != nil {
			b.Fatal(err)
		}
	}
}
