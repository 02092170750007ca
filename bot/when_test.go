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
		{"in 2 days 9:00 over the spring change", "2026-03-27T10:00:00+01:00", grammar.When{Days: 2, Clock: &grammar.Clock{Hour: 9}}, "2026-03-29T09:00:00+02:00"},
		{"2 nov, which is past, is next year's", "2026-11-25T10:00:00+01:00", grammar.When{Date: &grammar.Date{Month: time.November, Day: 2}}, "2027-11-02T09:00:00+01:00"},
		{"29 feb is that of the next leap year", "2026-11-25T10:00:00+01:00", grammar.When{Date: &grammar.Date{Month: time.February, Day: 29}}, "2028-02-29T09:00:00+01:00"},
		{"a date whose time does not exist moves forward", "2026-03-01T10:00:00+01:00", grammar.When{Date: &grammar.Date{Month: time.March, Day: 29}, Clock: &grammar.Clock{Hour: 2, Minute: 30}}, "2026-03-29T03:30:00+02:00"},
		{"a date whose time comes twice is the first", "2026-03-01T10:00:00+01:00", grammar.When{Date: &grammar.Date{Year: 2026, Month: time.October, Day: 25}, Clock: &grammar.Clock{Hour: 2, Minute: 30}}, "2026-10-25T02:30:00+02:00"},
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
		{"last wed is a week ago, on a Wednesday", grammar.When{Weekday: weekday(time.Wednesday), Last: true}, time.Date(2026, 11, 18, 9, 0, 0, 0, paris)},
		{"last tue is yesterday, on a Wednesday", grammar.When{Weekday: weekday(time.Tuesday), Last: true}, time.Date(2026, 11, 24, 9, 0, 0, 0, paris)},
		{"2 nov is this year's", grammar.When{Date: &grammar.Date{Month: time.November, Day: 2}}, time.Date(2026, 11, 2, 9, 0, 0, 0, paris)},
		{"2 dec is last year's", grammar.When{Date: &grammar.Date{Month: time.December, Day: 2}, Clock: &grammar.Clock{Hour: 8}}, time.Date(2025, 12, 2, 8, 0, 0, 0, paris)},
		{"a day of a year that was said is in that year", grammar.When{Date: &grammar.Date{Year: 2027, Month: time.January, Day: 4}}, time.Date(2027, 1, 4, 9, 0, 0, 0, paris)},
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
		{"october of a year", grammar.Span{Month: time.October, Year: 2024}, date(2024, 10, 1), date(2024, 11, 1)},
		{"since sat is from its first hour to the end of today", grammar.Span{Since: &grammar.When{Weekday: weekday(time.Saturday)}}, date(2026, 11, 21), date(2026, 11, 26)},
		{"since 2 h ago", grammar.Span{Since: &grammar.When{In: -2 * time.Hour}}, now.Add(-2 * time.Hour), date(2026, 11, 26)},
		{"since last month is up to the end of today", grammar.Span{Unit: "month", Back: 1, Onward: true}, date(2026, 10, 1), date(2026, 11, 26)},
		{"on sat", grammar.Span{On: &grammar.When{Weekday: weekday(time.Saturday)}}, date(2026, 11, 21), date(2026, 11, 22)},
		{"on 2 nov", grammar.Span{On: &grammar.When{Date: &grammar.Date{Month: time.November, Day: 2}}}, date(2026, 11, 2), date(2026, 11, 3)},
	} {
		if from, to := between(c.span, now, paris); !from.Equal(c.from) || !to.Equal(c.to) {
			t.Errorf("%s: %s to %s, want %s to %s", c.name, from, to, c.from, c.to)
		}
	}
}
