package bot

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"salthand/grammar"
	"salthand/store"
)

// The settings of when a kitchen is there.
const (
	setQuiet  = "quiet"  // "23:00-6:00"; "": none
	setClosed = "closed" // weekdays and dates, space between: "sunday 2026-12-25"
)

// shutTimes are when nobody of a kitchen is there to read a reminder.
type shutTimes struct {
	zone     *time.Location
	quiet    bool
	from, to grammar.Clock // of the quiet hours, over midnight where from is later
	weekdays []time.Weekday
	dates    []string // "2006-01-02"
}

const dateForm = "2006-01-02"

func shutTimesOf(k store.Kitchen, zone *time.Location) shutTimes {
	h := shutTimes{zone: zone}
	if from, to, ok := strings.Cut(k.Settings[setQuiet], "-"); ok {
		h.quiet, h.from, h.to = true, clockOf(from), clockOf(to)
	}
	for _, word := range strings.Fields(k.Settings[setClosed]) {
		if i := slices.Index(weekdayWords, word); i >= 0 {
			h.weekdays = append(h.weekdays, time.Weekday(i))
		} else {
			h.dates = append(h.dates, word)
		}
	}
	return h
}

// weekdayWords are the days of the week as records keep them.
var weekdayWords = []string{"sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"}

// clockOf reads a time of day that records keep, "6:00".
func clockOf(s string) grammar.Clock {
	hour, minute, _ := strings.Cut(s, ":")
	h, _ := strconv.Atoi(hour)
	m, _ := strconv.Atoi(minute)
	return grammar.Clock{Hour: h, Minute: m}
}

func clockWords(c grammar.Clock) string {
	return strconv.Itoa(c.Hour) + ":" + string([]byte{byte('0' + c.Minute/10), byte('0' + c.Minute%10)})
}

// shutOn tells whether the kitchen is closed on the day of an instant.
func (h shutTimes) shutOn(at time.Time) bool {
	at = at.In(h.zone)
	return slices.Contains(h.weekdays, at.Weekday()) || slices.Contains(h.dates, at.Format(dateForm))
}

// silent tells whether an instant falls into the quiet hours. They go by the clock on the
// wall: an hour that comes twice is quiet twice, one that is left out is not missed.
func (h shutTimes) silent(at time.Time) bool {
	if !h.quiet {
		return false
	}
	minutes := func(c grammar.Clock) int { return c.Hour*60 + c.Minute }
	at = at.In(h.zone)
	now, from, to := at.Hour()*60+at.Minute(), minutes(h.from), minutes(h.to)
	if from < to {
		return now >= from && now < to
	}
	return now >= from || now < to
}

// shut tells whether nobody is there at an instant.
func (h shutTimes) shut(at time.Time) bool { return h.shutOn(at) || h.silent(at) }

// looksAhead bounds how far opens looks: a kitchen that never opens is reminded all the same.
const looksAhead = 60

// opens is the first instant from at on at which somebody is there.
func (h shutTimes) opens(at time.Time) time.Time {
	open := at
	for range looksAhead {
		switch {
		case h.shutOn(open):
			y, m, d := open.In(h.zone).Date()
			open = local(y, m, d+1, startOfDay, h.zone)
		case h.silent(open):
			open = h.quietEnds(open)
		default:
			return open
		}
	}
	return at
}

// quietEnds is when the quiet hours end that an instant falls into: at the first time of their
// end where that is left out or comes twice, unless it is past.
func (h shutTimes) quietEnds(at time.Time) time.Time {
	day := at.In(h.zone)
	next := clockOn(day, &h.to)
	if again := next.Add(time.Hour); !next.After(at) && again.After(at) && again.Hour() == next.Hour() {
		return again // the hour that comes twice is on for the second time
	}
	if !next.After(at) {
		next = clockOn(day.AddDate(0, 0, 1), &h.to)
	}
	for h.silent(next) {
		next = next.Add(time.Minute)
	}
	return next
}

// lead is how long before the quiet hours a reminder is given that must not come after them.
const lead = time.Hour

// before is the last time for a reminder of what falls due while the kitchen is shut and must
// not wait until it opens: the same time on the last day that it is open, or an hour before
// the quiet hours, where that comes first.
func (h shutTimes) before(due time.Time) time.Time {
	day := due.In(h.zone)
	for range looksAhead {
		if !h.shutOn(day) {
			at := day
			if h.silent(at) {
				at = clockOn(day, &h.from).Add(-lead)
			}
			if !at.After(due) && !h.silent(at) && !h.shutOn(at) {
				return at
			}
		}
		clock := grammar.Clock{Hour: day.Hour(), Minute: day.Minute()}
		day = clockOn(day.AddDate(0, 0, -1), &clock)
	}
	return due
}

// always are the steps that quiet hours and closed days never delay: they guard a temperature
// or an acidity.
var always = []string{"chill check", "chill", "ph test", "cook"}

// noLater are the steps that are reminded of before the kitchen closes, where they fall due
// while it is shut: meat that lies too long in salt or water, or past its date.
var noLater = []string{"take out", "soak", "use by"}

// ringFor is when to remind of a step, seen from now: 0 where that is when it is due.
func (h shutTimes) ringFor(s store.Step, now time.Time) store.Milli {
	due := timeOf(s.Due)
	if slices.Contains(always, s.Kind) || !h.shut(due) {
		return 0
	}
	if slices.Contains(noLater, s.Kind) {
		if at := h.before(due); at.After(now) {
			return milli(at)
		}
	}
	return milli(h.opens(due))
}
