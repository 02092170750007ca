package cure

import "time"

// Step is something due in a batch, After its start (elapsed time). "rest" is due when it is
// over: then the piece is evened out and goes on.
type Step struct {
	Kind  string // "turn", "overhaul", "take out", "rinse", "rest"
	After time.Duration
}

// habit is what a method asks for while and after it cures. Common practice, no source.
type habit struct {
	kind             string        // done again and again while it cures; "" for nothing
	every, everyLong time.Duration // how often; where it takes over 14 days
	rest             time.Duration // after it was taken out and rinsed
}

const longCure = 14 * day

// rinseWithin is how long after the taking out a rinse may wait. Common practice, no source.
const rinseWithin = 30 * time.Minute

func (m Method) habit() habit {
	switch m {
	case DryRub:
		return habit{kind: "turn", every: day, everyLong: 3 * day, rest: day}
	case CoverBrine, InjectionCover:
		return habit{kind: "overhaul", every: 2 * day, everyLong: 3 * day, rest: day}
	case SaltBox:
		return habit{kind: "overhaul", every: 7 * day, everyLong: 7 * day}
	case Confit:
		return habit{}
	}
	return habit{rest: day}
}

// Steps are the steps of a batch in order, from its start to the end of its rest. After a
// salt box the rest is the equalising, by its likely time; a confit goes from the rinse to
// the pot.
func Steps(d Dose) (steps []Step) {
	end := d.Time.PlanFor
	if d.Request.Method.Value == Ground {
		return []Step{{"rest", end}}
	}
	h := d.Request.Method.Value.habit()
	every := h.every
	if end > longCure {
		every = h.everyLong
	}
	if h.kind != "" {
		for at := every; at < end; at += every {
			steps = append(steps, Step{h.kind, at})
		}
	}
	rinse := end + rinseWithin
	steps = append(steps, Step{"take out", end}, Step{"rinse", rinse})
	if h.rest += wholeDays(d.Time.Equalise.Likely); h.rest > 0 {
		steps = append(steps, Step{"rest", rinse + h.rest})
	}
	return steps
}
