package cure_test

import (
	"math"
	"testing"
	"time"

	"salthand/cure"
)

// The figures are 0.0625 of the grams on the meat: 9 CFR 424.21(c) counts mg of NaNO2 per kg
// of green meat; 200 ppm is its limit for dry cured bacon.
func TestWeigh(t *testing.T) {
	r := cure.Request{
		Region: cure.Typed(cure.Region("us")), On: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), Cut: "pork belly", Pieces: []cure.Gram{3200},
		Method: cure.Typed(cure.DryRub), Agent: cure.Typed(cure.Agent{Kind: cure.No1, Nitrite: 0.0625}), CureScale: cure.Typed(cure.Gram(0.1)),
	}
	tests := []struct {
		got    cure.Gram
		within bool
		slip   int
		ppm    float64
		over   bool
	}{
		{8.0, true, 0, 156.25, false},
		{8.1, true, 0, 158.20, false}, // 8.1 × 62.5 / 3.2
		{8.2, false, 0, 160.16, false},
		{0.8, false, -1, 15.625, false},
		{80, false, 1, 1562.5, true},
		{10.3, false, 0, 201.17, true},
	}
	for _, test := range tests {
		w, err := cure.Weigh(r, test.got)
		if err != nil {
			t.Fatal(err)
		}
		_, over := w.Over()
		if w.Want != 8 || w.Within != test.within || w.Slip != test.slip || over != test.over || math.Abs(float64(w.Nitrite)-test.ppm) > 0.005 {
			t.Errorf("%v g: %+v, over %v; want %+v", test.got, w, over, test)
		}
	}
}

func TestSaltWithin(t *testing.T) {
	for _, test := range []struct {
		got, want, division cure.Gram
		ok                  bool
	}{{72.4, 72.5, 0.1, true}, {73.2, 72.5, 0.1, true}, {73.3, 72.5, 0.1, false}, {75, 70, 5, true}, {76, 70, 5, false}} {
		if got := cure.SaltWithin(test.got, test.want, test.division); got != test.ok {
			t.Errorf("%+v: %v", test, got)
		}
	}
}

// The first is a kitchen's log of a jar: 842.0 g before, 826.6 g now, 15.4 g needed.
func TestJarFall(t *testing.T) {
	tests := []struct {
		fall cure.JarFall
		left float64
		want cure.Evidence
	}{
		{cure.JarFall{Before: 842.0, After: 826.6, Dose: 15.4, Division: 0.1}, 15.4, cure.EvidenceTaken},
		{cure.JarFall{Before: 842.0, After: 842.0, Dose: 15.4, Division: 0.1}, 0, cure.EvidenceNot},
		{cure.JarFall{Before: 842.0, After: 834.0, Dose: 15.4, Division: 0.1}, 8, cure.EvidenceUnknown},
		{cure.JarFall{Before: 842.0, After: 818.6, Others: 8, Uses: 1, Dose: 15.4, Division: 0.1}, 15.4, cure.EvidenceTaken},
		{cure.JarFall{Before: 842.0, After: 834.0, Others: 8, Uses: 1, Dose: 15.4, Division: 0.1}, 0, cure.EvidenceNot},
		{cure.JarFall{Before: 842, After: 841, Dose: 1, Division: 1}, 1, cure.EvidenceUnknown}, // too coarse: it fits both
		{cure.JarFall{Before: 842, After: 850, Dose: 15.4, Division: 0.1}, -8, cure.EvidenceUnknown},
	}
	for _, test := range tests {
		if got := test.fall.Says(); got != test.want || math.Abs(float64(test.fall.Left())-test.left) > 1e-9 {
			t.Errorf("%+v: %v, %v left; want %v", test.fall, got, test.fall.Left(), test.want)
		}
	}
}
