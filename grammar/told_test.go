package grammar

import (
	"slices"
	"testing"
)

// computedCues are those that lie in the facts of a line, see mark.
func computedCues() map[string]bool {
	a := Amount{}
	f := Facts{Amounts: []Amount{a}}
	out := map[string]bool{}
	f.eachMark(func(cue string, _ bool) { out[cue] = true })
	return out
}

// Every cue that a situation needs is one that a line can have, and every cue is needed.
func TestSituations(t *testing.T) {
	computed := computedCues()
	known := map[string]bool{}
	for _, ways := range cueTree {
		for _, w := range ways {
			known[w.cue] = true
		}
	}
	needed := map[string]bool{}
	for _, r := range rules {
		if len(r.want) == 0 {
			t.Errorf("%s needs nothing", r.name)
		}
		for _, want := range append(slices.Clone(r.want), r.not) {
			for _, cue := range want {
				needed[cue] = true
				if !known[cue] && !computed[cue] {
					t.Errorf("%s: no line has the cue %q", r.name, cue)
				}
			}
		}
	}
	for cue := range known {
		if !needed[cue] {
			t.Logf("no situation needs the cue %q", cue)
		}
	}
}
