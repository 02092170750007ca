package ferment

import (
	"errors"
	"math"
	"math/bits"
	"time"

	"salthand/cure"
)

// Reading is the temperature of the chamber at a moment, counted from the start of the
// fermentation. Range: −20 to 100 °C, up to a year.
type Reading struct {
	After time.Duration
	Air   cure.Celsius
}

// Log is the temperature of a chamber, in order of time: a straight line from each reading
// to the next. Two readings at one moment are a step. The last one is the present.
type Log []Reading

// Stay is a temperature that was held for a time.
type Stay struct {
	For time.Duration
	Air cure.Celsius
}

// Stays is the log of a chamber that was set to one temperature after another.
func Stays(stays ...Stay) (l Log) {
	var at time.Duration
	for _, s := range stays {
		l = append(l, Reading{at, s.Air}, Reading{at + s.For, s.Air})
		at += s.For
	}
	return l
}

// ErrLog is the error of a log that is empty, out of order or out of range.
var ErrLog = errors.New("ferment: not a temperature log")

const year = 365 * 24 * time.Hour

// check is ErrLog, or nil.
func (l Log) check() error {
	if len(l) == 0 {
		return ErrLog
	}
	before := time.Duration(0)
	for _, r := range l {
		if r.After < before || r.After > year || !sane(r.Air) {
			return ErrLog
		}
		before = r.After
	}
	return nil
}

func sane(t cure.Celsius) bool { return t >= -20 && t <= 100 }

// Until is the log up to a moment: cut there, or with its last temperature held that long. A
// step at the moment itself comes after it.
func (l Log) Until(end time.Duration) Log {
	for i, r := range l {
		if r.After < end {
			continue
		}
		if r.After == end {
			return l[:i+1]
		}
		if i == 0 {
			return nil
		}
		a := l[i-1]
		share := float64(end-a.After) / float64(r.After-a.After)
		return append(append(Log(nil), l[:i]...), Reading{end, a.Air + cure.Celsius(share)*(r.Air-a.Air)})
	}
	if len(l) == 0 {
		return nil
	}
	return append(append(Log(nil), l...), Reading{end, l[len(l)-1].Air})
}

// highest is the warmest reading.
func (l Log) highest() cure.Celsius {
	top := l[0].Air
	for _, r := range l {
		top = max(top, r.Air)
	}
	return top
}

// perCelsius and perFahrenheit are how many grains a degree has. A grain is 1/9000 °C.
const (
	perCelsius    = 9000
	perFahrenheit = 5000
)

// grains is a temperature in whole grains; the binary digits of a °C that was made from a
// °F are rounded off here.
func grains(t cure.Celsius) int64 { return int64(math.Round(float64(t) * perCelsius)) }

// area is twice what lies between the log and the base, in grain-milliseconds: whole unless
// a ramp crosses the base, and there rounded up.
func (l Log) area(base cure.Celsius) (sum int64) {
	zero := grains(base)
	for i := 1; i < len(l); i++ {
		dt := l[i].After.Milliseconds() - l[i-1].After.Milliseconds()
		low, high := grains(l[i-1].Air)-zero, grains(l[i].Air)-zero
		if low > high {
			low, high = high, low
		}
		switch {
		case high <= 0:
		case low >= 0:
			sum += (low + high) * dt
		default: // only the part above the base counts
			sum += ceil(high*high, dt, high-low)
		}
	}
	return sum
}

// ceil is a·b/c, rounded up.
func ceil(a, b, c int64) int64 {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	quotient, rest := bits.Div64(hi, lo, uint64(c))
	if rest > 0 {
		quotient++
	}
	return int64(quotient)
}
