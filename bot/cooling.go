package bot

import (
	"salthand/cure"
	"salthand/grammar"
	"salthand/store"
)

// cooked is the core from which on a piece was heated: its cooling is judged. FDA Food Code
// 3-501.14, from memory.
const cooked cure.Celsius = 57

// coolingOf judges how a batch cools, by the cores that were read since it was cooked. false:
// nothing was read since.
func (t *turn) coolingOf(l tongue, b store.Batch) (figured, bool) {
	var from store.Milli
	var top int64
	for _, s := range b.Steps {
		if (s.Kind == "cook" || s.Kind == "smoke") && s.Done && !s.Undone && celsius(s.CoreMilliC) >= cooked {
			from, top = s.DoneAt, s.CoreMilliC
		}
	}
	if from == 0 {
		return figured{}, false
	}
	var c grammar.Cooling
	at, last := from, celsius(top)
	for _, r := range b.ReadingsOf(store.CoreReading) {
		if r.At <= at {
			continue
		}
		now := celsius(r.Value)
		c.Legs = append(c.Legs, grammar.Leg{From: last, To: now, In: (r.At - at).Duration()})
		at, last = r.At, now
	}
	if len(c.Legs) == 0 {
		return figured{}, false
	}
	return asked(l, "cooling", c, settingsOf(t.kitchen, t.now)).cooling(c), true
}
