package bot

import (
	"math"
	"time"

	"salthand/cure"
	"salthand/grammar"
)

// timeTellers answer what is about the days in the cure.
var timeTellers = map[grammar.Situation]func(*telling){
	grammar.GreyCore:     (*telling).greyCore,
	grammar.ThickPiece:   (*telling).thickPiece,
	grammar.ThinSlices:   (*telling).thinSlices,
	grammar.NotTurned:    (*telling).notTurned,
	grammar.FrozenInCure: (*telling).frozenInCure,
}

const (
	curingAt    cure.Celsius    = 3  // °C, the middle of 0 to 4.4 °C that meat cures at
	needleFrom  cure.Millimetre = 76 // mm, 3 in; above it a needle or a thinner cut: common practice, no source
	mostThick   cure.Millimetre = 400
	centimetres                 = 10 // mm
)

// thickest is the greatest thickness of the line; 0: none that a piece of meat can have.
func (t *telling) thickest() (most cure.Millimetre) {
	for _, mm := range t.said.Depths {
		most = max(most, mm)
	}
	if most > mostThick {
		return 0
	}
	return most
}

// cut is the cut of the line, or that which its product is made of.
func (t *telling) cut() string {
	if t.said.Meat.Cut != "" {
		return t.said.Meat.Cut
	}
	return cutOf[t.said.Product]
}

// round reports whether the cut is cured as a cylinder.
func (t *telling) round() bool {
	cut, ok := cure.FindCut(t.cut())
	return ok && cut.Shape == "cylinder"
}

// stay is the longest time of the line.
func (t *telling) stay() time.Duration {
	most := max(t.said.Age.Value, t.said.Meat.Days.Value)
	for _, d := range t.said.Spans {
		most = max(most, d)
	}
	return most
}

// band words days as a range: likely (fast to slow). The fast end is rounded down, so that
// the range looks no better than it is.
func (t *telling) band(b cure.Band3[time.Duration]) string {
	digits, least := 0, math.Floor(daysOf(b.Fast))
	if b.Likely < 21*24*time.Hour {
		digits, least = 1, math.Floor(10*daysOf(b.Fast))/10
	}
	return t.l.say("%s d (%s to %s)", fixed(daysOf(b.Likely), digits), fixed(least, digits), fixed(daysOf(b.Slow), digits))
}

// through adds what is reckoned of a slab, and the rules of thumb beside it, each with what
// the core has by then.
func (t *telling) through(label string, s cure.Sized, after time.Duration) {
	to, err := s.Through()
	if err != nil {
		return
	}
	l := t.l
	lines := []string{l.say("centre at 95 %%: likely %s", t.band(to))}
	if core, err := s.Core(after); err == nil && after > 0 {
		lines = append(lines, l.say("after %s the centre has likely %s of what it gets (%s to %s)", span(l, after), share(core.Likely), share(core.Slow), share(core.Fast)))
	}
	for _, r := range s.Thumbs() {
		core, err := s.Core(r.After)
		if err != nil {
			continue
		}
		name := l.say(thumbWords[r.Rule])
		if r.After < to.Likely {
			lines = append(lines, l.say("thumb rule %s: %s d: too short, the centre then has %s", name, trimmed(daysOf(r.After), 1), share(core.Likely)))
		} else {
			lines = append(lines, l.say("thumb rule %s: %s d", name, trimmed(daysOf(r.After), 1)))
		}
	}
	t.fact(label, lines...)
}

var thumbWords = map[string]string{
	cure.QuarterInch: msg("1/4 inch a day and 2 days"),
	cure.SevenAnInch: msg("7 days an inch"),
}

// share prints a small share as "under 1 %".
func share(f cure.Fraction) string {
	if f < 0.01 {
		return "< 1 %"
	}
	return percent(f, 0)
}

// reckonedSo says what the days are reckoned for.
func (t *telling) reckonedSo() {
	t.line(t.l.say("Reckoned by diffusion for a weighed rub of %s salt at %s; a brine takes longer. Studies differ by a factor of four.", percent(usualSalt, 1), bothDegrees(curingAt)))
}

// greyCore answers meat that was cut open and is not cured through.
func (t *telling) greyCore() {
	l := t.l
	t.hold(t.held())
	t.line(l.say("The middle was not cured while it was kept, smoked or cooked. Cutting the grey part off doesn't mend that, and nothing of it is sold."))
	t.line(l.say("If any was eaten, tell the chef now. Log it as a deviation: thickness, days, temperatures."))
	mm := t.thickest()
	t.asks(l.say("How warm was it in the smoke and at the core, and for how long?"))
	if mm == 0 {
		t.asks(l.say("How thick is it at the thickest point, how many days was it in, and in rub, brine or by needle?"))
		return
	}
	skin := t.said.Meat.SkinOn.Value
	t.through(l.say("%s cm thick", trimmed(float64(mm)/centimetres, 1)), cure.Sized{Thickness: mm, OneFace: skin, Round: t.round(), Temperature: curingAt}, t.stay())
	t.reckonedSo()
	t.nextTime(mm)
}

// nextTime says how a thick piece is cured.
func (t *telling) nextTime(mm cure.Millimetre) {
	if mm > needleFrom {
		t.line(t.l.say("Over 7.6 cm (3 in): inject it, or cut it thinner."))
	}
}

// thickPiece answers how many days a piece takes: by its thickest point, with the skin and
// without.
func (t *telling) thickPiece() {
	l := t.l
	mm := t.thickest()
	if mm == 0 {
		t.says("unclear", l.say("How thick is it at the thickest point, in cm or inches?"))
		return
	}
	t.says("time", l.say("Time it by the thickest point, %s cm: never by the mean.", trimmed(float64(mm)/centimetres, 1)))
	skin := t.said.Meat.SkinOn
	if skin.Value || !skin.Set() && !t.round() {
		t.through(l.say("skin on"), cure.Sized{Thickness: mm, OneFace: true, Temperature: curingAt}, 0)
		t.line(l.say("Skin lets no cure through: the whole thickness counts, from one side. Take it off, split the piece or even it up."))
	}
	t.through(l.say("skin off"), cure.Sized{Thickness: mm, Round: t.round(), Temperature: curingAt}, 0)
	t.reckonedSo()
	t.line(l.say("Dose it by weight, so that the thin end can't get too salty."))
	t.nextTime(mm)
	t.asks(l.say("Skin on or off, and rub, brine or needle? And how heavy is it?"))
}

// usualSmoke is what cold smoke stays at or below where the plan doesn't say. Common practice,
// no source.
const usualSmoke cure.Celsius = 30

// thinSlices answers slices that were cut before they were cured: time is no matter, the dose
// is.
func (t *telling) thinSlices() {
	l := t.l
	t.says("time", l.say("Through in about a day, if the slices lay apart. Whether the dose was right, the time can't say."))
	after, rubbed := t.stay(), t.said.Meat.Method.Value == cure.DryRub
	if mm := t.thickest(); mm > 0 {
		s := cure.Sized{Thickness: mm, Bath: !rubbed, Temperature: curingAt}
		if to, err := s.Through(); err == nil {
			t.card.Title = l.say("Slices of %s cm are through in about %s. Whether the dose was right, the time can't say.", trimmed(float64(mm)/centimetres, 2), span(l, to.Likely))
			lines := []string{l.say("centre at 95 %%: likely %s (%s to %s)", span(l, to.Likely), span(l, to.Fast), span(l, to.Slow))}
			switch {
			case after >= to.Likely:
				lines = append(lines, l.say("%s is likely enough", span(l, after)))
			case after > 0:
				lines = append(lines, l.say("%s is too short yet", span(l, after)))
			}
			t.fact(l.say("time"), lines...)
		}
	}
	if !rubbed {
		t.brineLimit()
	}
	t.line(l.say("If the dose was right: take them out now, rinse, dry, and smoke at or below %s, or below what the site's plan says; or hot smoke.", bothDegrees(usualSmoke)))
	t.line(l.say("So many cut faces: use them within days, kept at or below %s.", bothDegrees(5)))
	t.asks(l.say("What was in the brine: how much water and meat, how many grams of which cure?"))
	if rubbed {
		t.asks(l.say("How many grams of which cure went on how much meat?"))
	}
}

// brineLimit adds what the law of the region lets into a cover brine with the cut.
func (t *telling) brineLimit() {
	cut := t.said.Meat.Cut
	if cut == "" {
		cut = "pork belly"
	}
	d, err := compute(grammar.Dose{Cut: cut, Pieces: []cure.Gram{1000}, Method: cure.Typed(cure.CoverBrine), Water: cure.Typed[cure.Gram](1000), Kind: cure.No1}, t.s)
	if err != nil || d.Request.Agent.Value.Nitrite == 0 {
		return
	}
	var lines []string
	for _, c := range d.Limits {
		if c.Limit.Kind == "ingoing max" {
			lines = append(lines, t.l.say("%s sodium nitrite at most, %s no. 1 on meat and water (%s, %s)", ppm(c.Limit.Value),
				percent(cure.Fraction(float64(c.Limit.Value)/1e6/float64(d.Request.Agent.Value.Nitrite)), 3), c.Limit.Source, seenWords(t.l, c.Limit.Seen)))
		}
	}
	t.fact(t.l.say("limits"), lines...)
}

// notTurned answers bags that nobody turned.
func (t *telling) notTurned() {
	l := t.l
	t.says("time", l.say("Likely not lost, if the bags stayed sealed, wet all round and at or below %s. Check the log first.", bothDegrees(5)))
	if d := t.stay(); d > 0 {
		t.fact(l.say("time"), l.say("turn now, and leave the other side down as long as it was missed: about %s d more before it comes out", trimmed(daysOf(d), 1)))
	} else {
		t.line(l.say("Turn now, and leave the other side down as long as it was missed."))
	}
	t.line(l.say("Add no cure: the dose has not changed."))
	t.line(l.say("Write the missed turns down as missed, with the reason: never as done. Name who is reminded when nobody answers."))
	t.asks(l.say("Was it sealed, wet and cold all the time? What does the log say?"))
}

// frozenInCure answers meat that was frozen before it was cured through.
func (t *telling) frozenInCure() {
	l := t.l
	t.says("time", l.say("The clock stood still: days in the freezer don't count, days before it do."))
	t.line(l.say("New date: the day it is thawed in the fridge, plus the days that were left when it was frozen. Whole days more, never fewer."))
	t.line(l.say("Thaw it in the fridge, never on the counter. The dose stays as it is: add no cure."))
	t.line(l.say("Write down from when to when, why, and who: days used before the freezing are not given back."))
	t.asks(l.say("When did it start, how many days were planned, when was it frozen and when is it thawed?"))
}
