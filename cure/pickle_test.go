package cure

import (
	"math"
	"testing"
)

// The pickles of forum threads that a reader re-told with other weights, worked out by script:
// 4 oz of no. 1 in a US gallon, 85 g in a gallon with 400 g salt, and the inspectors' pump
// formula on 1,456 g of pickle.
func TestDissolved(t *testing.T) {
	for _, c := range []struct {
		name  string
		d     Dissolved
		share Fraction
		meat  Gram
		want  float64
	}{
		{"4 oz a gallon, the pickle", Dissolved{113.4, 0.0625, 3785, 0}, 1, 0, 1818},
		{"10 % of it picked up", Dissolved{113.4, 0.0625, 3785, 0}, 0.10, 0, 182},
		{"even with 2.5 kg of meat", Dissolved{113.4, 0.0625, 3785, 0}, 0, 2500, 1108},
		{"3 oz a gallon", Dissolved{85.05, 0.0625, 3785, 0}, 1, 0, 1373},
		{"9 g a gallon with salt", Dissolved{9, 0.0625, 3785, 400}, 0.10, 0, 13},
		{"85 g a gallon with salt", Dissolved{85, 0.0625, 3785, 400}, 0.10, 0, 124},
		{"pump 10 %", Dissolved{36, 0.0625, 1200, 220}, 0.10, 0, 154.5},
		{"pump 15 %", Dissolved{36, 0.0625, 1200, 220}, 0.15, 0, 231.8},
		{"nothing", Dissolved{}, 0.10, 0, 0},
	} {
		if got := float64(c.d.PickedUp(c.share, c.meat)); math.Abs(got-c.want) > 0.6 {
			t.Errorf("%s: %.2f ppm, want %g", c.name, got, c.want)
		}
	}
}
