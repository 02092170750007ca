package bot

import (
	"time"

	"salthand/grammar"
)

// A moment as typed becomes an instant here, in the kitchen's zone. A local time that does
// not exist moves forward, one that comes twice is the first. time.Date promises neither.

// nineOClock is the time of a day that was named without one.
var nineOClock = grammar.Clock{Hour: 9}

// after is the first instant from now on that a moment can mean.
func after(w grammar.When, now time.Time, zone *time.Location) time.Time {
	if w.In != 0 {
		return now.Add(w.In)
	}
	day := now.In(zone).AddDate(0, 0, w.Days)
	switch {
	case w.Date != nil:
		return dated(*w.Date, w.Clock, day, 1, func(at time.Time) bool { return at.After(now) })
	case w.Weekday != nil:
		day = day.AddDate(0, 0, (int(*w.Weekday)-int(day.Weekday())+7)%7)
	}
	at := clockOn(day, w.Clock)
	if w.Weekday != nil && !at.After(now) {
		at = clockOn(day.AddDate(0, 0, 7), w.Clock)
	}
	return at
}

// before is the last instant up to now that a moment can mean.
func before(w grammar.When, now time.Time, zone *time.Location) time.Time {
	if w.In != 0 {
		return now.Add(-w.In.Abs())
	}
	day := now.In(zone).AddDate(0, 0, w.Days)
	switch {
	case w.Date != nil:
		return dated(*w.Date, w.Clock, day, -1, func(at time.Time) bool { return !at.After(now) })
	case w.Last:
		day = day.AddDate(0, 0, -1)
	}
	if w.Weekday != nil {
		day = day.AddDate(0, 0, -((int(day.Weekday())-int(*w.Weekday))+7)%7)
	}
	at := clockOn(day, w.Clock)
	if w.Weekday != nil && at.After(now) {
		at = clockOn(day.AddDate(0, 0, -7), w.Clock)
	}
	return at
}

// dated is a day of the calendar: of its year, or else of the first year from that of now on,
// going by step, in which the day exists and fits.
func dated(d grammar.Date, c *grammar.Clock, now time.Time, step int, fits func(time.Time) bool) time.Time {
	in := func(year int) time.Time { return time.Date(year, d.Month, d.Day, 12, 0, 0, 0, now.Location()) }
	if d.Year != 0 {
		return clockOn(in(d.Year), c)
	}
	const leap = 9 // years without a 29 February, 1896 to 1904, are the most in a row
	for i := range leap {
		day := in(now.Year() + i*step)
		if at := clockOn(day, c); day.Day() == d.Day && fits(at) {
			return at
		}
	}
	return clockOn(in(now.Year()), c)
}

// clockOn is a time of day on the day that t falls on.
func clockOn(t time.Time, c *grammar.Clock) time.Time {
	if c == nil {
		c = &nineOClock
	}
	return local(t.Year(), t.Month(), t.Day(), *c, t.Location())
}

// local is the instant at which a clock shows a time on a day. The offset of the hours before
// decides: a time that is left out moves forward by it, and one that comes twice is the first.
func local(y int, m time.Month, d int, c grammar.Clock, zone *time.Location) time.Time {
	const before = 6 * time.Hour // more than any clock is changed by
	at := time.Date(y, m, d, c.Hour, c.Minute, 0, 0, zone)
	_, offset := at.Add(-before).Zone()
	first := time.Date(y, m, d, c.Hour, c.Minute, 0, 0, time.UTC).Add(-time.Duration(offset) * time.Second).In(zone)
	shows := func(at time.Time) bool { return at.Hour() == c.Hour && at.Minute() == c.Minute }
	if shows(first) || !shows(at) {
		return first
	}
	return at
}

// startOfDay and endOfDay stand for a day that was named without a time, as a whole.
var (
	startOfDay = grammar.Clock{}
	endOfDay   = grammar.Clock{Hour: 23, Minute: 59}
)

// since is the instant that "since sat" means: the first of that day, where no time was said.
func since(w grammar.When, now time.Time, zone *time.Location) time.Time {
	if w.In == 0 && w.Clock == nil {
		w.Clock = &startOfDay
	}
	return before(w, now, zone)
}

// between is the stretch of days that a span means: from its first instant, up to but
// without its last.
func between(s grammar.Span, now time.Time, zone *time.Location) (from, to time.Time) {
	here := now.In(zone)
	date := func(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, zone) }
	switch {
	case s.Since != nil:
		return since(*s.Since, now, zone), date(here.Year(), here.Month(), here.Day()+1)
	case s.On != nil:
		y, m, d := before(*s.On, now, zone).In(zone).Date()
		return date(y, m, d), date(y, m, d+1)
	case s.Month != 0:
		year := here.Year()
		if s.Year != 0 {
			year = s.Year
		} else if s.Month > here.Month() {
			year--
		}
		return date(year, s.Month, 1), date(year, s.Month+1, 1)
	}
	y, m, d := here.Date()
	if s.Onward {
		s.Onward = false
		from, _ = between(s, now, zone)
		return from, date(y, m, d+1)
	}
	switch s.Unit {
	case "week": // Monday to Sunday: ISO 8601
		monday := d - (int(here.Weekday())+6)%7 - 7*s.Back
		return date(y, m, monday), date(y, m, monday+7)
	case "month":
		return date(y, m-time.Month(s.Back), 1), date(y, m-time.Month(s.Back)+1, 1)
	case "year":
		if s.Year != 0 {
			y = s.Year + s.Back
		}
		return date(y-s.Back, 1, 1), date(y-s.Back+1, 1, 1)
	}
	return date(y, m, d-s.Back), date(y, m, d-s.Back+1)
}
