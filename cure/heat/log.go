package heat

import (
	"errors"
	"math"
	"time"

	"salthand/cure"
)

// Reading is what a probe showed. Range: −80 to 300 °C, up to two years after the start.
type Reading struct {
	After time.Duration
	Probe cure.Celsius
}

// Log is the readings of one probe in order of time.
type Log []Reading

// ErrLog is the error of a log that is empty, out of order or out of range.
var ErrLog = errors.New("heat: not a temperature log")

const day = 24 * time.Hour

func (l Log) check() error {
	if len(l) == 0 {
		return ErrLog
	}
	before := time.Duration(0)
	for _, r := range l {
		if r.After < before || r.After > 730*day || !sane(r.Probe) {
			return ErrLog
		}
		before = r.After
	}
	return nil
}

func sane(t cure.Celsius) bool { return t >= -80 && t <= 300 }

// grains is a temperature in whole 1/9000 °C, of which 0.001 °C and 0.001 °F are both whole
// multiples: 80 °F as a binary fraction of °C is 80 °F again.
func grains(t cure.Celsius) int64 { return int64(math.Round(float64(t) * 9000)) }

func fahrenheit(f float64) cure.Celsius { return cure.Celsius((f - 32) * 5 / 9) }

// Span is a time that readings bound: what is certain, what a straight line between readings
// says, to the second, and the most there can have been.
type Span struct{ Least, Likely, Most time.Duration }

// cross is when the line from a to b comes to a temperature that lies between them.
func cross(a, b Reading, at cure.Celsius) time.Duration {
	switch grains(at) {
	case grains(a.Probe):
		return a.After
	case grains(b.Probe):
		return b.After
	}
	share := float64(a.Probe-at) / float64(a.Probe-b.Probe)
	return a.After + time.Duration(share*float64(b.After-a.After)).Round(time.Second)
}

// The temperatures that a place for curing is watched at.
//
// Source: USDA leaflet AWI-108, 1944: cure at 36 to 40 °F (text); FDA Food Code: 41 °F
// (secondary).
const (
	WarnAbove cure.Celsius = 4.4 // °C, 40 °F
	StopAbove cure.Celsius = 5   // °C, 41 °F
)

// Warm is how long a place was above a temperature.
type Warm struct {
	Total   Span
	Longest Span          // of one stretch
	Highest cure.Celsius  // reading
	Gap     time.Duration // the longest time without a reading: what happened in it is not known
}

// Above is how long a log was above a temperature; at it is not above. Two readings below
// say nothing of a rise between them: see Gap. The error is ErrLog.
func (l Log) Above(limit cure.Celsius) (Warm, error) {
	if err := l.check(); err != nil || !sane(limit) {
		return Warm{}, ErrLog
	}
	w := Warm{Highest: l[0].Probe}
	above := func(r Reading) bool { return grains(r.Probe) > grains(limit) }
	var run Span // the stretch that goes on
	for i := 1; i < len(l); i++ {
		a, b := l[i-1], l[i]
		w.Highest, w.Gap = max(w.Highest, b.Probe), max(w.Gap, b.After-a.After)
		if !above(a) {
			run = Span{}
		}
		var s Span
		switch {
		case above(a) && above(b):
			s = Span{b.After - a.After, b.After - a.After, b.After - a.After}
		case above(a):
			s = Span{Likely: cross(a, b, limit) - a.After, Most: b.After - a.After}
		case above(b):
			s = Span{Likely: b.After - cross(a, b, limit), Most: b.After - a.After}
		}
		w.Total.add(s)
		run.add(s)
		w.Longest = Span{max(w.Longest.Least, run.Least), max(w.Longest.Likely, run.Likely), max(w.Longest.Most, run.Most)}
	}
	return w, nil
}

func (s *Span) add(more Span) {
	s.Least, s.Likely, s.Most = s.Least+more.Least, s.Likely+more.Likely, s.Most+more.Most
}
