package grammar

import (
	"strconv"
	"strings"
	"time"
)

// The commands of a batch's steps.
type (
	ShowSteps struct{} // "steps"
	MoveStep  struct { // "move rinse to fri 9:00", "move 3 to fri 9:00"
		Step string // "" where Nth is said
		Nth  int    // its number in the list, from 1
		When When
	}
	DropStep struct { // "drop rinse: went straight to the smoker"
		Step string
		Nth  int
		Why  string
	}
	Soak  struct{ For time.Duration } // "soak 8 h": a soak begins, with its changes of water
	Pause struct {                    // "pause: in the freezer", "frozen since fri"
		Why  string
		When *When // nil: now
	}
	Resume struct { // "resume", "back in the walk-in mon", "thawed tue"
		When   *When // nil: now
		Thawed bool  // When is when the piece was thawed, and not when it came out of the cold
	}
	OnIt struct{} // "on it": a reminder is taken on
)

func (ShowSteps) command() {}
func (MoveStep) command()  {}
func (DropStep) command()  {}
func (Soak) command()      {}
func (Pause) command()     {}
func (Resume) command()    {}
func (OnIt) command()      {}

func (ShowSteps) canonical() string { return "steps" }
func (c MoveStep) canonical() string {
	return "move " + stepOrNumber(c.Step, c.Nth) + " to" + canonicalWhen(&c.When)
}
func (c DropStep) canonical() string { return because("drop "+stepOrNumber(c.Step, c.Nth), c.Why) }
func (c Soak) canonical() string     { return "soak " + canonicalSpan(c.For) }
func (c Pause) canonical() string {
	if c.When != nil {
		return because("frozen since"+canonicalWhen(c.When), c.Why)
	}
	return because("pause", c.Why)
}
func (c Resume) canonical() string {
	if c.Thawed {
		return "thawed" + canonicalWhen(c.When)
	}
	return "resume" + canonicalWhen(c.When)
}
func (OnIt) canonical() string { return "on it" }

func stepOrNumber(step string, n int) string {
	if n > 0 {
		return strconv.Itoa(n)
	}
	return step
}

// ofSteps reads the commands of a batch's steps. rest is what follows the verb. Neither a
// command nor an error: it is none of them.
func (r *reading) ofSteps(t token, rest string, from int) (Command, error) {
	alone := strings.Trim(rest, " !.") == ""
	switch t.value {
	case "steps":
		if strings.Trim(rest, " ?") == "" {
			return ShowSteps{}, nil
		}
	case "on it":
		if alone {
			return OnIt{}, nil
		}
	case "move":
		return r.moved(from)
	case "drop":
		return r.dropped(from)
	case "soak":
		return r.soak(t, from)
	case "pause":
		if why, ok := strings.CutPrefix(rest, ":"); ok || alone {
			return Pause{Why: strings.TrimSpace(why)}, nil
		}
	case "frozen since":
		moment, why, _ := strings.Cut(rest, ": ")
		if w, ok := r.moment(moment, true); ok {
			return Pause{Why: strings.TrimSpace(why), When: w}, nil
		}
	case "resume", "back in the walk-in", "thawed":
		if alone {
			return Resume{Thawed: t.value == "thawed"}, nil
		}
		if w, ok := r.moment(strings.TrimPrefix(rest, "on "), true); ok {
			return Resume{w, t.value == "thawed"}, nil
		}
	}
	return nil, nil
}

// moment reads a text as a moment, of the past or to come.
func (r *reading) moment(text string, past bool) (*When, bool) {
	if text = strings.TrimSpace(text); text == "" {
		return nil, false
	}
	again := reading{text: "turned " + text, dates: r.dates, plain: true}
	p, err := again.line()
	r.work += again.work
	did, ok := p.Command.(Did)
	if err != nil || !ok || did.When == nil || past && (did.When.In > 0 || did.When.Days > 0) || did.Core.Set() {
		return nil, false
	}
	return did.When, true
}

// stepNamed is the step that a command names: a kind, or a number in the list; next is where the
// text goes on.
func (r *reading) stepNamed(from int) (step string, nth, next int) {
	if from >= len(r.toks) {
		return "", 0, 0
	}
	t := r.toks[from]
	n, ok := batchNumber(t)
	switch {
	case t.kind == stepKind && t.value != "done":
		return t.value, 0, t.end
	case ok && n < 1000:
		return "", int(n), t.end
	}
	return "", 0, 0
}

// moved reads "move rinse to fri 9:00".
func (r *reading) moved(from int) (Command, error) {
	step, nth, next := r.stepNamed(from + 1)
	if next == 0 {
		return nil, nil
	}
	rest := strings.TrimSpace(r.text[next:])
	for _, to := range []string{"to ", "a ", "al ", "à ", "au "} {
		rest = strings.TrimPrefix(rest, to)
	}
	w, ok := r.moment(rest, false)
	if !ok || w.Last || w.In < 0 || w.Days < 0 {
		e := r.fail("not a time", stretch{r.toks[from+1].start, len(r.text)})
		e.Example = "move rinse to fri 9:00"
		return nil, e
	}
	return MoveStep{step, nth, *w}, nil
}

// dropped reads "drop rinse: reason".
func (r *reading) dropped(from int) (Command, error) {
	step, nth, next := r.stepNamed(from + 1)
	if next == 0 {
		return nil, nil
	}
	why, ok := strings.CutPrefix(strings.TrimSpace(r.text[next:]), ":")
	if !ok && strings.Trim(r.text[next:], " .!") != "" {
		return nil, nil
	}
	return DropStep{step, nth, strings.TrimSpace(why)}, nil
}

// soak reads "soak 8 h". "soaked 2 h ago" and "soaked" are steps that were done.
func (r *reading) soak(t token, from int) (Command, error) {
	if said := fold(r.text[t.start:t.end]); strings.HasSuffix(said, "ed") || strings.HasSuffix(said, "ado") || strings.HasSuffix(said, "ada") {
		return nil, nil
	}
	toks := r.toks[from+1:]
	if len(toks) != 2 || toks[0].kind != numberKind || toks[1].kind != spanKind {
		return nil, nil
	}
	at := stretch{toks[0].start, toks[1].end}
	d, err := r.span(toks[0].value, toks[1].value, at)
	if err != nil || d <= 0 || d > 7*24*time.Hour {
		e := r.fail("not a time", at)
		e.Example = "soak 8 h"
		return nil, e
	}
	return Soak{d}, nil
}
