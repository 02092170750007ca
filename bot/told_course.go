package bot

import (
	"slices"
	"time"

	"salthand/cure"
	"salthand/grammar"
)

// courseTellers answer a cure that went on for more or fewer days than planned.
var courseTellers = map[grammar.Situation]func(*telling){
	grammar.OutEarly: (*telling).outEarly,
	grammar.LeftLong: (*telling).leftLong,
}

// spells are the times of the line, shortest first.
func (t *telling) spells() (all []time.Duration) {
	all = append(all, t.said.Spans...)
	for _, d := range []time.Duration{t.said.Age.Value, t.said.Meat.Days.Value} {
		if d > 0 {
			all = append(all, d)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// outEarly answers a piece that is out of the cure, or to come out, before its days are over:
// how far the core has come by then.
func (t *telling) outEarly() {
	l := t.l
	t.hold(t.held())
	t.line(l.say("A short time leaves the middle uncured. If the chef lets it go on: back in its own cure, cold, until its days are full. Add no cure, the dose is in."))
	t.line(l.say("Already smoked or hung: the middle may be raw meat. A chef decides."))
	t.asks(l.say("How thick is it at the thickest point, skin on or off, how many days was it in, and was the dose weighed?"))
	s := cure.Sized{Thickness: t.thickest(), OneFace: t.said.Meat.SkinOn.Value, Round: t.round(), Temperature: curingAt}
	label := l.say("%s cm thick", trimmed(float64(s.Thickness)/centimetres, 1))
	if cut, ok := cure.FindCut(t.cut()); s.Thickness == 0 && ok && cut.Thickness > 0 {
		s.Thickness = cut.Thickness
		label = l.say("if it is %s cm thick, as usual", trimmed(float64(s.Thickness)/centimetres, 1))
	}
	to, err := s.Through()
	if err != nil {
		return
	}
	lines := []string{l.say("centre at 95 %%: likely %s", t.band(to))}
	for _, d := range t.spells() {
		if core, err := s.Core(d); err == nil {
			lines = append(lines, l.say("after %s the centre has likely %s of what it gets (%s to %s)", span(l, d), share(core.Likely), share(core.Slow), share(core.Fast)))
		}
	}
	t.fact(label, lines...)
	t.reckonedSo()
}

// longCure is what no. 1 is used for at most. Common practice; the same bound as for hanging.
const longCure = 30 * 24 * time.Hour

// leftLong answers a piece that stayed in its cure longer than planned.
func (t *telling) leftLong() {
	l := t.l
	t.says("answer", l.say("A weighed dose gets no saltier and no stronger with time; salt in excess does, day by day."))
	if t.stay() >= longCure {
		t.hold(t.held())
		t.line(l.say("A weighed dose gets no saltier and no stronger with time; salt in excess does, day by day."))
		t.line(l.say("30 days and more is long for no. 1: nitrite is used up on the way (common practice)."))
	}
	t.line(l.say("Look at the log: at or below %s all the time, sealed, and within the date of the meat. If not, hold it.", bothDegrees(5)))
	t.line(l.say("Salt in excess or a strong brine: take it out now, rinse, fry a test slice, soak it if it is too salty."))
	t.line(l.say("Slime, gas or a bad smell: hold it. Add no cure, and log the days as they were."))
	t.asks(l.say("Was the dose weighed, how many days is it in all, and was it cold all the time?"))
}
