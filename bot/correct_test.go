package bot

import (
	"math"
	"testing"
	"time"

	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// What was weighed for a dose comes to the ppm of its card on the weight that it was weighed
// for, whatever the method, and on twice the weight it lacks what went in once more.
func TestOnWeight(t *testing.T) {
	s := Settings{Region: cure.Typed(cure.Region("us")), CureScale: cure.Typed(cure.Gram(0.001)), Today: morning}
	for _, c := range []struct {
		phrase string
		basis  float64 // ppm on twice the meat, over that on the meat: a brine shares it with its water
	}{
		{"3.2 kg belly, dry rub, 7 days", 2},
		{"10 kg ground pork, no 2, 30 days", 2},
		{"2 kg brisket, brine 4 l, 10 days, 2% salt", 8. / 6},
		{"6 kg boneless ham, inject 10%", 2},
		{"3 kg loin, dry rub, 6 days, nitrited salt 0.6%, 2.5% salt, 80 ppm", 2},
	} {
		p, err := grammar.Parse(c.phrase, grammar.Setting{})
		if err != nil {
			t.Fatal(err)
		}
		d := p.Command.(grammar.Dose)
		dose, err := compute(d, s)
		if err != nil {
			t.Fatalf("%s: %v", c.phrase, err)
		}
		rec, err := record(1, d, dose, c.phrase)
		if err != nil {
			t.Fatal(err)
		}
		b := store.Batch{State: store.StateCuring, Card: rec}
		_, same, err := onWeight(b, d, d, s, time.Hour)
		if err != nil || math.Abs(float64(likelyOf(same.Nitrite)/dose.Nitrite)-1) > 0.002 {
			t.Errorf("%s: %v ppm on its own weight, want %v (%v)", c.phrase, same.Nitrite, dose.Nitrite, err)
		}
		twice := d
		twice.Pieces = []cure.Gram{2 * d.Pieces[0]}
		_, found, err := onWeight(b, d, twice, s, time.Hour)
		if err != nil || math.Abs(float64(dose.Nitrite/likelyOf(found.Nitrite))/c.basis-1) > 0.002 {
			t.Errorf("%s: %v ppm on twice the weight, want a part in %v of %v (%v)", c.phrase, found.Nitrite, c.basis, dose.Nitrite, err)
		}
	}
}
