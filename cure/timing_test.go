package cure

import (
	"math"
	"testing"
	"time"
)

// What the needles bring is there from the start: 6 kg, pumped 10 %, 4,000 g of cover. By
// hand: 0.6/6.6 of pickle in the pumped meat, 4.6/10.6 when all is even, which is 0.2095.
func TestPumpedMeatHasAHeadStart(t *testing.T) {
	r := Request{
		Region: Typed[Region]("us"), Cut: "boneless ham", Pieces: []Gram{6000}, Method: Typed(InjectionCover),
		Pump: Typed[Fraction](0.10), Cover: Typed[Gram](4000), Days: Typed(time.Hour),
	}
	d, err := Compute(r)
	if err != nil {
		t.Fatal(err)
	}
	if got := float64(d.Time.Core.Likely); math.Abs(got-0.2095) > 0.0001 {
		t.Errorf("the core begins at %.4f of equilibrium, want 0.2095", got)
	}
	if d.Time.Core.Slow != d.Time.Core.Fast {
		t.Error("an hour is too short for the cover to reach the core")
	}
}

// With next to no cover the needles bring nearly all, and nothing has to spread.
func TestPumpedMeatWithLittleCover(t *testing.T) {
	d, err := Compute(Request{
		Region: Typed[Region]("us"), Cut: "boneless ham", Pieces: []Gram{6000}, Method: Typed(InjectionCover),
		Pump: Typed[Fraction](0.10), Cover: Typed[Gram](10),
	})
	if err != nil {
		t.Fatal(err)
	}
	if d.Time.To.Slow != 0 {
		t.Errorf("the core is there after %s, want at once", d.Time.To.Slow)
	}
}
