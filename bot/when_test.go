package bot

import (
	"testing"
	"time"

	"salthand/grammar"
)

func zoneNamed(t *testing.T, name string) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

func weekday(d time.Weekday) *time.Weekday { return &d }

// Moments in the kitchen's zone, across clock changes. The changes of 2026 are from the IANA
// time zone database: Europe/Paris 29 March 02:00 → 03:00 and 25 October 03:00 → 02:00.
func TestAfter(t *testing.T) {
	paris := zoneNamed(t, "Europe/Paris")
	at := func(s string) time.Time {
		got, err := time.Parse(time.RFC3339, s)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	for _, c := range []struct {
		name string
		now  string
		when grammar.When
		want string
	}{
		{"in 2 h over the spring change", "2026-03-29T01:30:00+01:00", grammar.When{In: 2 * time.Hour}, "2026-03-29T04:30:00+02:00"},
		{"tomorrow 9:00 over the spring change", "2026-03-28T10:00:00+01:00", grammar.When{Days: 1, Clock: &grammar.Clock{Hour: 9}}, "2026-03-29T09:00:00+02:00"},
		{"a time that does not exist moves forward", "2026-03-28T10:00:00+01:00", grammar.When{Days: 1, Clock: &grammar.Clock{Hour: 2, Minute: 30}}, "2026-03-29T03:30:00+02:00"},
		{"a time that comes twice is the first", "2026-10-24T10:00:00+02:00", grammar.When{Days: 1, Clock: &grammar.Clock{Hour: 2, Minute: 30}}, "2026-10-25T02:30:00+02:00"},
		{"fri 9:00 on a Wednesday", "2026-11-25T10:00:00+01:00", grammar.When{Weekday: weekday(time.Friday), Clock: &grammar.Clock{Hour: 9}}, "2026-11-27T09:00:00+01:00"},
		{"fri 9:00 on a Friday at ten is next week", "2026-11-27T10:00:00+01:00", grammar.When{Weekday: weekday(time.Friday), Clock: &grammar.Clock{Hour: 9}}, "2026-12-04T09:00:00+01:00"},
		{"fri without a time is nine o'clock", "2026-11-25T10:00:00+01:00", grammar.When{Weekday: weekday(time.Friday)}, "2026-11-27T09:00:00+01:00"},
	} {
		if got := after(c.when, at(c.now), paris); !got.Equal(at(c.want)) {
			t.Errorf("%s: %s, want %s", c.name, got.In(paris), c.want)
		}
	}
}

func TestBefore(t *testing.T) {
	paris := zoneNamed(t, "Europe/Paris")
	now := time.Date(2026, 11, 25, 10, 0, 0, 0, paris) // a Wednesday
	for _, c := range []struct {
		name string
		when grammar.When
		want time.Time
	}{
		{"yesterday 15:00", grammar.When{Days: -1, Clock: &grammar.Clock{Hour: 15}}, time.Date(2026, 11, 24, 15, 0, 0, 0, paris)},
		{"fri 9:00 that was", grammar.When{Weekday: weekday(time.Friday), Clock: &grammar.Clock{Hour: 9}}, time.Date(2026, 11, 20, 9, 0, 0, 0, paris)},
		{"wed 9:00 this morning", grammar.When{Weekday: weekday(time.Wednesday), Clock: &grammar.Clock{Hour: 9}}, time.Date(2026, 11, 25, 9, 0, 0, 0, paris)},
		{"wed 11:00 is last week's", grammar.When{Weekday: weekday(time.Wednesday), Clock: &grammar.Clock{Hour: 11}}, time.Date(2026, 11, 18, 11, 0, 0, 0, paris)},
	} {
		if got := before(c.when, now, paris); !got.Equal(c.want) {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

func TestBetween(t *testing.T) {
	paris := zoneNamed(t, "Europe/Paris")
	now := time.Date(2026, 11, 25, 10, 0, 0, 0, paris) // a Wednesday
	date := func(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, paris) }
	for _, c := range []struct {
		name     string
		span     grammar.Span
		from, to time.Time
	}{
		{"today", grammar.Span{Unit: "day"}, date(2026, 11, 25), date(2026, 11, 26)},
		{"yesterday", grammar.Span{Unit: "day", Back: 1}, date(2026, 11, 24), date(2026, 11, 25)},
		{"this week", grammar.Span{Unit: "week"}, date(2026, 11, 23), date(2026, 11, 30)},
		{"last week", grammar.Span{Unit: "week", Back: 1}, date(2026, 11, 16), date(2026, 11, 23)},
		{"last month", grammar.Span{Unit: "month", Back: 1}, date(2026, 10, 1), date(2026, 11, 1)},
		{"this year", grammar.Span{Unit: "year"}, date(2026, 1, 1), date(2027, 1, 1)},
		{"october", grammar.Span{Month: time.October}, date(2026, 10, 1), date(2026, 11, 1)},
		{"december is last year's", grammar.Span{Month: time.December}, date(2025, 12, 1), date(2026, 1, 1)},
	} {
		if from, to := between(c.span, now, paris); !from.Equal(c.from) || !to.Equal(c.to) {
			t.Errorf("%s: %s to %s, want %s to %s", c.name, from, to, c.from, c.to)
		}
	}
}
