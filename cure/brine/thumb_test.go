package brine_test

import (
	"math"
	"testing"
	"time"

	"salthand/cure/brine"
)

// 2 h a pound by hand: 4 lb take 8 h, 1 kg 4.41 h.
func TestSoakRule(t *testing.T) {
	if all, change := brine.SoakRule(4 * 453.59237); math.Abs(all.Hours()-8) > 1e-6 || change != 2*time.Hour {
		t.Errorf("4 lb: %v, water every %v", all, change)
	}
	if all, _ := brine.SoakRule(1000); math.Abs(all.Hours()-4.409) > 0.001 {
		t.Errorf("1 kg: %v", all)
	}
}
