package brine

import (
	"time"

	"salthand/cure"
)

// SoakRule is how long bought cured meat is soaked by a rule of thumb, and how often its
// water is changed: 2 h a pound, fresh water every 2 h. Others soak it 4 to 8 h, or
// overnight: only a fried test piece tells. Common practice, no source.
func SoakRule(meat cure.Gram) (all, change time.Duration) {
	const pound = 453.59237 // g, exact
	return time.Duration(float64(meat) / pound * float64(2*time.Hour)), 2 * time.Hour
}
