package cure

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"salthand/cure/published"
)

func TestWeighingBand(t *testing.T) {
	for _, l := range published.Lines(t, "weighing_band.csv") {
		b, err := WeighingBand(Weighing{Cure: Gram(l.Number("cure_g")), Meat: Gram(l.Number("meat_g")), Agent: Agent{No1, Fraction(l.Number("strength_pct") / 100), 0},
			CureScale: Gram(l.Number("cure_scale_g")), MeatScale: Gram(l.Number("meat_scale_g")), Tolerance: Fraction(l.Number("tolerance_pct") / 100)})
		if err != nil {
			t.Fatal(err)
		}
		got, ok := map[string]float64{"relative": float64(b.Relative), "twice relative": 2 * float64(b.Relative), "expanded ppm": float64(b.Expanded),
			"nitrite ppm": float64(b.Nitrite), "half": float64(b.Half), "stop": yes(b.Stop), "remedy scale g": float64(b.Remedy.Scale),
			"remedy meat g": float64(b.Remedy.Meat), "remedy strength %": 100 * float64(b.Remedy.Weaker)}[l.Cell["want"]]
		if !ok {
			t.Fatal(l.Cell)
		}
		l.Near(got, l.Number("value"), l.Number("tolerance"))
	}
}

// TestWeighingBandCounted reckons the band a second way: over all readings of tare and gross,
// each even over its division.
func TestWeighingBandCounted(t *testing.T) {
	w := Weighing{Cure: 2.5, Meat: 1000, Agent: Agent{No1, 0.0625, 0}, CureScale: 0.1, MeatScale: 5}
	b, err := WeighingBand(w)
	if err != nil {
		t.Fatal(err)
	}
	const n = 24
	reading := func(i int) float64 { return (float64(i)+0.5)/n - 0.5 }
	var sum, square, count float64
	for i := range n * n * n * n {
		cure := 2.5 + 0.1*(reading(i%n)-reading(i/n%n))
		meat := 1000 + 5*(reading(i/n/n%n)-reading(i/n/n/n))
		ppm := 0.0625 * cure / meat * 1e6
		sum, square, count = sum+ppm, square+ppm*ppm, count+1
	}
	mean := sum / count
	closeTo(t, "expanded", 2*math.Sqrt(square/count-mean*mean)/float64(b.Expanded), 1, 0.002)
}

// TestRemedyWorks: each remedy alone makes it fine.
func TestRemedyWorks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Weighing{Cure: Gram(rapid.Float64Range(0.01, 50).Draw(t, "cure")), Meat: Gram(rapid.Float64Range(10, 10000).Draw(t, "meat")),
			Agent: Agent{HouseCure, Fraction(rapid.Float64Range(0.004, 0.1).Draw(t, "strength")), 0}, CureScale: rapid.SampledFrom(divisions[:]).Draw(t, "scale")}
		b, err := WeighingBand(w)
		if err != nil || b.Fine {
			return
		}
		more := float64(b.Remedy.Meat / w.Meat)
		finer, batch, weaker := w, w, w
		finer.CureScale = b.Remedy.Scale
		batch.Meat, batch.Cure = w.Meat*Gram(more), w.Cure*Gram(more)
		if b.Remedy.Weaker > 0 {
			weaker.Cure, weaker.Agent.Nitrite = w.Cure*Gram(w.Agent.Nitrite/b.Remedy.Weaker), b.Remedy.Weaker
		} else {
			weaker = finer // it would be mostly salt
		}
		for name, one := range map[string]Weighing{"scale": finer, "batch": batch, "cure": weaker} {
			if one.CureScale == 0 || one.Meat > 1e6 {
				continue // no such scale
			}
			after, err := WeighingBand(one)
			if err != nil || !after.Fine || !near(float64(after.Nitrite), float64(b.Nitrite), 1e-9) {
				t.Fatalf("another %s: %v, %+v, was %+v", name, err, after, b)
			}
		}
	})
}

func TestWeighingRefuses(t *testing.T) {
	ok := Weighing{Cure: 2.5, Meat: 1000, Agent: Agent{No1, 0.0625, 0}, CureScale: 0.1}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1} {
		for what, change := range map[string]func(*Weighing){
			"cure": func(w *Weighing) { w.Cure = Gram(bad) }, "meat": func(w *Weighing) { w.Meat = Gram(bad) },
			"cure scale": func(w *Weighing) { w.CureScale = Gram(bad) }, "meat scale": func(w *Weighing) { w.MeatScale = Gram(bad) },
			"tolerance": func(w *Weighing) { w.Tolerance = Fraction(bad) }, "strength": func(w *Weighing) { w.Agent.Nitrite = Fraction(bad) },
		} {
			w := ok
			change(&w)
			if b, err := WeighingBand(w); err == nil {
				t.Errorf("%s of %v: %+v", what, bad, b)
			}
		}
	}
}

func BenchmarkWeighingBand(b *testing.B) {
	w := Weighing{Cure: 0.15, Meat: 60, Agent: Agent{No1, 0.0625, 0}, CureScale: 0.1}
	for b.Loop() {
		if _, err := WeighingBand(w); err != nil {
			b.Fatal(err)
		}
	}
}
