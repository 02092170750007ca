package cure

import "time"

// Step is something due in a batch, After its start (elapsed time). A rest is due when it
// has been long enough.
type Step struct {
	Kind  string // "turn", "overhaul", "take out", "rinse", "rest"
	After time.Duration
}

// habit is what a method asks for while and after it cures. Common practice, no source.
type habit struct {
	kind         string        // done again and again while it cures; "" for nothing
	every        time.Duration // while the cure is short
	everyLong    time.Duration // where it takes over 14 days
	rinse        bool
	rest         time.Duration
	nothingToEnd bool // no taking out: it rests where it is
}

const longCure = 14 * day

// rinseWithin is how long after the taking out a rinse should be done at the latest.
// Common practice, no source.
const rinseWithin = 30 * time.Minute

func (m Method) habit() habit {
	switch m {
	case DryRub:
		return habit{kind: "turn", every: day, everyLong: 3 * day, rinse: true, rest: day}
	case CoverBrine:
		return habit{kind: "overhaul", every: 2 * day, everyLong: 3 * day, rinse: true, rest: day}
	case InjectionCover:
		return habit{kind: "overhaul", every: 2 * day, everyLong: 3 * day, rinse: true, rest: day}
	case Injection:
		return habit{rinse: true, rest: day}
	}
	return habit{nothingToEnd: true}
}

// Steps are the steps of a batch in order, from its start to the end of its rest.
func Steps(d Dose) (steps []Step) {
	h, end := d.Request.Method.Value.habit(), d.Time.PlanFor
	if h.nothingToEnd {
		return []Step{{"rest", end}}
	}
	every := h.every
	if end > longCure {
		every = h.everyLong
	}
	if h.kind != "" {
		for at := every; at < end; at += every {
			steps = append(steps, Step{h.kind, at})
		}
	}
	steps = append(steps, Step{"take out", end})
	if h.rinse {
		end += rinseWithin
		steps = append(steps, Step{"rinse", end})
	}
	return append(steps, Step{"rest", end + h.rest})
}
