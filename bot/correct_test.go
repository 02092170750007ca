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

// A default cure that is changed while the batch is in the cure changes nothing of what went
// in: 6 g of 6.25 % on 4.2 kg are 89.3 ppm (6,000 mg × 0.0625 / 4.2 kg) and lack 4.5 g.
func TestOnWeightKeepsCardsCure(t *testing.T) {
	s := Settings{Region: cure.Typed(cure.Region("us")), CureScale: cure.Typed(cure.Gram(0.001)), Today: morning}
	p, err := grammar.Parse("2.4 kg belly, dry rub, 7 days", grammar.Setting{})
	if err != nil {
		t.Fatal(err)
	}
	was := p.Command.(grammar.Dose)
	dose, err := compute(was, s)
	if err != nil {
		t.Fatal(err)
	}
	rec, err := record(1, was, dose, "2.4 kg pork belly, dry rub, 7 days")
	if err != nil {
		t.Fatal(err)
	}
	now := was
	now.Pieces = []cure.Gram{4200}
	s.Default.Kind, s.Default.Nitrite = cure.No1, cure.Typed(cure.Fraction(0.05))
	_, found, err := onWeight(store.Batch{State: store.StateCuring, Card: rec}, was, now, s, time.Hour)
	if err != nil || math.Abs(float64(likelyOf(found.Nitrite))-89.29) > 0.01 || found.TopUp == nil || math.Abs(float64(found.TopUp.Cure.Weigh)-4.5) > 0.001 {
		t.Errorf("got %v ppm, top-up %v (%v), want 89.29 ppm and 4.5 g", found.Nitrite, found.TopUp, err)
	}
	// A card that has its curing salt in print alone is not reckoned with another.
	rec.AgentKind = ""
	if _, found, err = onWeight(store.Batch{State: store.StateCuring, Card: rec}, was, now, s, time.Hour); err == nil {
		t.Errorf("an older card is reckoned with another strength: %v ppm", found.Nitrite)
	}
}
