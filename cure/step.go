package cure

import "time"

// Step is something due in a batch, After its start (elapsed time). "rest" is due when it is
// over: then the piece is evened out and goes on.
type Step struct {
	Kind  string // a key of stepRules, or "turn", "overhaul", …: see Steps
	After time.Duration
	// On is one more than the index of the step that this one comes after: done early or late,
	// it shifts this one with it, and until it is done this one waits. 0: it counts from the start.
	On    int
	Every time.Duration // it comes again after as long, until somebody drops it; 0: it does not
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

// What comes after the cure, and when. Common practice, no source, but for what says another.
const (
	pellicleFrom = 12 * time.Hour // 12 to 24 h, uncovered in the cold
	smokeAfter   = 2 * time.Hour  // of the pellicle
	potAfter     = time.Hour      // of the rinse, for a confit
	mouldAfter   = 36 * time.Hour // of the hanging: 24 to 48 h
	weekly       = 7 * day
	stuffWithin  = 12 * time.Hour // from the mixing to the chamber
	acidEvery    = day            // of the tests of pH
	fermentLeast = 3 * day        // from the chamber to the hanging; the pH decides

	chillCheck = 2 * time.Hour // 57 to 21 °C. FDA Food Code 3-501.14, from memory
	chilledBy  = 6 * time.Hour // 57 to 5 °C. FDA Food Code 3-501.14, from memory
	useBy      = 6 * day       // day 1 is that of the cooking, 7 days at 5 °C or below. FDA Food Code 3-501.17, from memory
)

// stepSources are where the time of a step is from, where it is from anywhere.
var stepSources = map[string]string{
	"chill check": "FDA Food Code 3-501.14, from memory: 57 to 21 °C within 2 h",
	"chill":       "FDA Food Code 3-501.14, from memory: 57 to 5 °C within 6 h",
	"use by":      "FDA Food Code 3-501.17, from memory: 7 days at or below 5 °C, the day of cooking is the first",
	"ph test":     "2 h before the degree-hours run out: AMI good manufacturing practices 1997, secondary",
}

// StepSource is where the time of a kind of step is from; "" for common practice.
func StepSource(kind string) string { return stepSources[kind] }

// course puts the steps of a batch together.
type course struct{ steps []Step }

// add puts a step so long after another one, or after the start.
func (c *course) add(kind string, on int, gap time.Duration) int {
	s := Step{Kind: kind, After: gap, On: on}
	if on > 0 {
		s.After += c.steps[on-1].After
	}
	c.steps = append(c.steps, s)
	return len(c.steps)
}

// again is add for a step that comes again and again.
func (c *course) again(kind string, on int, gap, every time.Duration) {
	c.steps[c.add(kind, on, gap)-1].Every = every
}

// Steps are the steps of a batch in order, from its start to the end. After a salt box the
// rest is the equalising, by its likely time; a confit goes from the rinse to the pot. What is
// cooked or hot smoked is chilled and has a date; what isn't hangs. Fish is smoked cold or not
// at all: its steps end with the rest.
func Steps(d Dose) []Step {
	var c course
	method, end := d.Request.Method.Value, d.Time.PlanFor
	if method == Ground {
		c.ground(d, end)
		return c.steps
	}
	h := method.habit()
	every := h.every
	if end > longCure {
		every = h.everyLong
	}
	if h.kind != "" {
		for at := every; at < end; at += every {
			c.add(h.kind, 0, at)
		}
	}
	last := c.add("rinse", c.add("take out", 0, end), rinseWithin)
	if h.rest += wholeDays(d.Time.Equalise.Likely); h.rest > 0 {
		last = c.add("rest", last, h.rest)
	}
	cut, _ := FindCut(d.Request.Cut)
	switch {
	case cut.Group == "fish":
	case method == Confit:
		c.cooked(c.add("cook", last, potAfter))
	case hangs(d):
		c.hung(last, 0)
	case method == CoverBrine && cut.Group == "whole beef":
		c.cooked(c.add("cook", last, 0))
	default:
		c.cooked(c.add("smoke", c.add("pellicle", last, pellicleFrom), smokeAfter))
	}
	return c.steps
}

// hangs tells whether a piece is dried and not cooked. A cure with nitrate is for that, unless
// somebody said that it is cooked.
func hangs(d Dose) bool {
	h := d.Request.Heated
	return !h.Value || d.Request.Agent.Value.Kind == No2 && h.Origin != Asked
}

// ground are the steps of ground meat: cooked after a rest, or fermented and dried until the
// end of its days.
func (c *course) ground(d Dose, end time.Duration) {
	if !hangs(d) {
		c.cooked(c.add("cook", c.add("rest", 0, end), 0))
		return
	}
	chamber := c.add("ferment", 0, stuffWithin)
	for at := acidEvery; at <= fermentLeast; at += acidEvery {
		c.add("ph test", chamber, at)
	}
	c.hung(chamber, fermentLeast)
	if end > stuffWithin+fermentLeast {
		c.add("take out", 0, end)
	}
}

// hung are the steps of a piece that hangs so long after another step.
func (c *course) hung(on int, gap time.Duration) {
	hang := c.add("hang", on, gap)
	c.steps[c.add("mould look", hang, mouldAfter)-1].Every = weekly
	c.again("weigh", hang, weekly, weekly)
}

// cooked are the steps after the heat.
func (c *course) cooked(heat int) {
	c.add("chill check", heat, chillCheck)
	c.add("chill", heat, chilledBy)
	c.add("use by", heat, useBy)
}

// Thaw is how long a frozen piece is taken to thaw in the fridge, where nobody looked. Common
// practice, no source.
const Thaw = day

// changeEvery is how long meat lies in one water. Common practice, no source.
const changeEvery = 2 * time.Hour

// SoakFor is how long bought-in cured meat is soaked: 2 h a pound, to be tasted. Common
// practice, no source.
func SoakFor(meat Gram) time.Duration {
	const pound = 453.59237 // g, exact
	return time.Duration(float64(2*time.Hour) * float64(meat) / pound).Round(time.Minute)
}

// Soaking are the steps of a soak from its start: the water is changed every two hours, and
// the meat comes out at the end.
func Soaking(d time.Duration) (steps []Step) {
	for at := changeEvery; at < d; at += changeEvery {
		steps = append(steps, Step{Kind: "change water", After: at})
	}
	return append(steps, Step{Kind: "soak", After: d})
}
