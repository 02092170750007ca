package bot

import (
	"slices"
	"testing"
	"time"
)

// A chat that missed something reads again where that matters, since the newest message that
// was taken, and what it reads again does not move that time.
func TestWatched(t *testing.T) {
	k := openKitchen(t)
	watched := func() Watched {
		t.Helper()
		w, err := k.Watched(t.Context(), "table")
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
	if w := watched(); !w.Since.IsZero() || !slices.Equal(w.Places, []Place{tableChannel}) {
		t.Fatalf("a new kitchen watches %v since %v", w.Places, w.Since)
	}
	if w := watched(); !w.Since.Equal(k.now.Add(-heardEvery)) {
		t.Errorf("heard nothing yet: read again since %v, the first asking was at %v", w.Since, k.now)
	}
	first := k.say("ana", exampleDose, "")
	k.say("ana", "never mind", first.ID)
	k.wait(time.Hour)
	second := k.say("ana", exampleDose, "")
	heard := k.now
	k.wait(time.Hour)
	m := k.message("ben", "what's for lunch", "")
	m.Again = true
	k.deliver(m)
	k.restart()
	thread := tableChannel
	thread.Thread = second.ID
	w := watched()
	if want := []Place{tableChannel, thread}; !slices.Equal(w.Places, want) {
		t.Errorf("watched are %v, want %v", w.Places, want)
	}
	if lost := heard.Sub(w.Since); lost < 0 || lost > 2*heardEvery {
		t.Errorf("read again since %v, the newest message that was taken is of %v", w.Since, heard)
	}
	if w, err := k.Watched(t.Context(), "slack"); err != nil || len(w.Places) > 0 {
		t.Errorf("another platform watches %v, %v", w.Places, err)
	}
}
