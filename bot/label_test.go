package bot

import (
	"testing"

	"salthand/store"
)

// A batch is raw until somebody has noted that it was cooked; an entry that was taken back does
// not count, and nothing is called ready to eat.
func TestRawUntilCooked(t *testing.T) {
	cook := store.StepState{Step: store.Step{Kind: "cook"}, Done: true, CoreMilliC: 71_500}
	back := cook
	back.Undone = true
	planned := store.StepState{Step: store.Step{Kind: "cook"}}
	unmeasured := store.StepState{Step: store.Step{Kind: "cook"}, Done: true}
	for _, c := range []struct {
		steps []store.StepState
		state store.State
		want  string
	}{
		{nil, store.StateCuring, "RAW, not ready to eat"},
		{[]store.StepState{planned}, store.StateResting, "RAW, not ready to eat"},
		{[]store.StepState{back}, store.StateResting, "RAW, not ready to eat"},
		{[]store.StepState{cook, back}, store.StateCooking, "COOKED to 71.5 °C, not finished"},
		{[]store.StepState{unmeasured}, store.StateCooking, "COOKED, core not noted"},
		{[]store.StepState{cook}, store.StateFinished, "FINISHED, cooked to 71.5 °C"},
		{[]store.StepState{back}, store.StateFinished, "FINISHED, not cooked"},
	} {
		if got := heatOf(english, store.Batch{State: c.state, Steps: c.steps}); got != c.want {
			t.Errorf("%s with %d steps is %q, want %q", c.state, len(c.steps), got, c.want)
		}
	}
}

// What a code says fits a small code, and is whole words.
func TestCodeName(t *testing.T) {
	for in, want := range map[string]string{
		"Kitchen": "Kitchen",
		"":        "1",
		"La Très Longue Cuisine Première du Marché Couvert": "La Très Longue Cuisine Première du",
		"Donaudampfschifffahrtsgesellschaftskapitänskajüte": "Donaudampfschifffahrtsgesellschaftskapit",
		"two\nlines": "two lines",
	} {
		if got := codeName(in); got != want || len(got) > 40 {
			t.Errorf("%q is coded as %q, want %q", in, got, want)
		}
	}
}
