package heat

import (
	"time"

	"salthand/cure"
)

// Leg is a range of temperature that has to be passed within a time.
type Leg struct {
	From, To cure.Celsius
	Within   time.Duration // exactly that is still within
}

// Cooling is a rule for cooling cooked meat. Legs are judged each on its own.
type Cooling struct {
	ID      string // "us cured", "us", …
	Cured   bool   // only for meat cured with nitrite, Nitrite ingoing at least
	Nitrite cure.PPM
	Start   time.Duration // chilling has to begin within this after cooking; 0: not said. Judge can't see it
	Legs    []Leg
	Source  string
	Seen    string // "text", "secondary", "memory, sure", "memory, fairly sure"
}

// Coolings are the rules. Fifteen hours for cured meat are five and ten, not fifteen for the
// second leg; two sources end it at 45 and at 40 °F.
//
// Source: FSIS compliance guideline on cooling ("Appendix B") in copies; Ohio State
// University meat science, temperature regulations, 1999; FDA Food Code 3-501.14.
func Coolings() []Cooling {
	const h = time.Hour
	return []Cooling{
		{
			ID:     "us",
			Legs:   []Leg{{fahrenheit(130), fahrenheit(80), 90 * time.Minute}, {fahrenheit(80), fahrenheit(40), 5 * h}}, // FSIS Appendix B (secondary)
			Source: "FSIS Appendix B, excerpt in a forum", Seen: "secondary",
		},
		{
			ID: "us older", Start: 90 * time.Minute, // FSIS Appendix B (secondary)
			Legs:   []Leg{{fahrenheit(120), fahrenheit(55), 6 * h}}, // then on to 40 °F
			Source: "FSIS Appendix B, older option, excerpt in a forum", Seen: "secondary",
		},
		{
			ID: "us cured", Cured: true, Nitrite: 100, // mg/kg ingoing, from memory
			Legs:   []Leg{{fahrenheit(130), fahrenheit(80), 5 * h}, {fahrenheit(80), fahrenheit(45), 10 * h}}, // FSIS Appendix B (secondary)
			Source: "FSIS Appendix B, commercial HACCP guide", Seen: "secondary",
		},
		{
			ID: "us cured to 40 f", Cured: true, Nitrite: 100, // mg/kg ingoing, from memory
			Legs:   []Leg{{fahrenheit(130), fahrenheit(80), 5 * h}, {fahrenheit(80), fahrenheit(40), 10 * h}}, // OSU 1999 (text)
			Source: "Ohio State University meat science, temperature regulations, 1999", Seen: "text",
		},
		{
			ID:     "us retail",
			Legs:   []Leg{{fahrenheit(135), fahrenheit(70), 2 * h}, {fahrenheit(135), fahrenheit(41), 6 * h}}, // from memory
			Source: "FDA Food Code 3-501.14", Seen: "memory, sure",
		},
	}
}

// CoolingOf is a rule by its ID; false if there is none.
func CoolingOf(id string) (Cooling, bool) {
	for _, c := range Coolings() {
		if c.ID == id {
			return c, true
		}
	}
	return Cooling{}, false
}

// State is how a leg stands.
type State uint8

// The states, from good to bad.
const (
	Met     State = iota // even the most it can have taken is within the time
	Waiting              // not yet as cool as its beginning
	Running              // begun, and within the time so far
	Unsure               // by a straight line within; the readings leave room for more, or don't show the beginning
	Over                 // by a straight line over
)

// Stage is how a leg went.
type Stage struct {
	Leg   Leg
	State State
	Took  Span          // until now, if it runs
	Left  time.Duration // Running: of the most it can have taken
}

// Judge is how the legs went, and the worst state of them. A leg begins when the log first
// falls below its From after the highest reading, and ends when it last comes down to its
// To; a rise in between counts. A log that begins below From counts from its first reading,
// and is Unsure at best. The error is ErrLog.
func (c Cooling) Judge(l Log) (stages []Stage, worst State, err error) {
	if err := l.check(); err != nil {
		return nil, 0, err
	}
	top := 0
	for i, r := range l {
		if r.Probe > l[top].Probe {
			top = i
		}
	}
	l = l[top:]
	for _, leg := range c.Legs {
		s := leg.judge(l)
		stages, worst = append(stages, s), max(worst, s.State)
	}
	return stages, worst, nil
}

// judge is a leg on a log that begins with its highest reading.
func (g Leg) judge(l Log) Stage {
	first := 0 // the first reading below From
	for first < len(l) && grains(l[first].Probe) >= grains(g.From) {
		first++
	}
	if first == len(l) {
		return Stage{Leg: g, State: Waiting}
	}
	begin := Span{l[0].After, l[0].After, l[0].After} // at the earliest, by a line, at the latest
	shown := first > 0
	if shown {
		begin = Span{l[first-1].After, cross(l[first-1], l[first], g.From), l[first].After}
	}
	last := len(l) - 1 // the last reading above To
	for last >= 0 && grains(l[last].Probe) <= grains(g.To) {
		last--
	}
	now := l[len(l)-1].After
	end, ended := Span{now, now, now}, last < len(l)-1
	switch {
	case last < 0:
		end = begin
	case ended:
		end = Span{l[last].After, cross(l[last], l[last+1], g.To), l[last+1].After}
	}
	s := Stage{Leg: g, Took: Span{max(0, end.Least-begin.Most), end.Likely - begin.Likely, end.Most - begin.Least}}
	switch {
	case s.Took.Likely > g.Within:
		s.State = Over
	case !shown || s.Took.Most > g.Within:
		s.State = Unsure
	case ended:
		s.State = Met
	default:
		s.State, s.Left = Running, g.Within-s.Took.Most
	}
	return s
}
