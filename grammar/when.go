package grammar

import (
	"math"
	"slices"
	"strings"
	"time"
)

// How days and moments are typed in an order.
type (
	past struct {
		Which  string `parser:"  ( @('last' | 'this')"`
		Period string `parser:"    @Period )"`
		Number string `parser:"| ( 'last' @Number"`
		Unit   string `parser:"    @Span )"`
		Lapse  string `parser:"| @Lapse"`
		From   string `parser:"| Since ( @Month (?! Number)"`
		FromOf string `parser:"    @Year?"`
		Old    string `parser:"  | @('last' | 'this')"`
		Onward string `parser:"    @Period"`
		Since  *when  `parser:"  | @@ )"`
		Day    string `parser:"| @('today' | 'yesterday')"`
		Month  string `parser:"| ( @Month"`
		Year   string `parser:"    (?! Number) @Year? )"`
		On     *when  `parser:"| @@"`
	}
	when struct { // "in 2 h", "2 h ago", "yesterday 15:00", "fri at 9:00", "2 nov", "15:00"
		In     bool   `parser:"  ( (@In | Ago)?"`
		Number string `parser:"    @Number"`
		Unit   string `parser:"    @Span"`
		Ago    bool   `parser:"    @Ago?"`
		Then   string `parser:"    (At? @Clock)? )"`
		Last   bool   `parser:"| ( 'switch on'? @'last'?"`
		Day    string `parser:"    @(Day | Weekday)"`
		Former bool   `parser:"    @Former?"`
		Hour   string `parser:"    ( At? @Clock"`
		Bare   string `parser:"    | At? (?! Number Month) @Number )? )"` // "fri 9"
		Date   *date  `parser:"| ( 'switch on'? @@"`
		Time   string `parser:"    (At? @Clock)? )"`
		Of     string `parser:"| ( 'day' @Number )"` // "day 6/21"
		Clock  string `parser:"| ( At? @Clock )"`
		At     string `parser:"| ( At @Number )"`
		Part   string `parser:"| @Part"`
	}
	date struct { // "2 nov", "nov 2", "2 nov 2026", "4/1", "2026-11-02"
		Day   string `parser:"  ( (?= Number Month) @Number"`
		Month string `parser:"    @Month"`
		Year  string `parser:"    @Year? )"`
		First string `parser:"| ( @Month"` // the month, first
		Then  string `parser:"    @Number"`
		After string `parser:"    @Year? )"`
		Plain string `parser:"| @(Dated | Number)"`
	}
)

// year is the one that is all that was said: "2025"; else 0.
func (w *when) year() int {
	typed := w.Bare
	if w.Date != nil {
		typed = w.Date.Plain
	}
	if y := small(typed); len(typed) == 4 && isDigits(typed) && y/100 == 20 {
		return y
	}
	return 0
}

// span reads an elapsed time.
func (r *reading) span(typed, unit string, at stretch) (time.Duration, error) {
	n, err := r.number(typed, at)
	if err != nil {
		return 0, err
	}
	perHour, ok := hours[unit]
	if !ok {
		return 0, r.fail("unit", at)
	}
	h := n.times(perHour)
	if h > 24*731 {
		return 0, r.fail("too big", at)
	}
	return time.Duration(math.Round(h*3600)) * time.Second, nil
}

// hours are the hours in a unit of time. A month is reckoned as 30 days, a year as 365.
var hours = map[string]float64{"min": 1.0 / 60, "h": 1, "d": 24, "w": 168, "month": 30 * 24, "year": 365 * 24}

func (r *reading) when(w *when, at stretch) (*When, error) {
	if w == nil {
		return nil, nil
	}
	out := &When{Last: w.Last || w.Former}
	if w.Number != "" {
		d, err := r.span(w.Number, w.Unit, at)
		if w.Ago || !w.In && r.has(agoKind) {
			d = -d
		}
		if w.Then == "" || err != nil {
			out.In = d
			return out, err
		}
		if d%(24*time.Hour) != 0 { // "in 2 h 9:00"
			return nil, r.fail("not a time", at)
		}
		out.Days = int(d / (24 * time.Hour))
	}
	switch w.Part {
	case "":
	case "now":
		return nil, nil
	default:
		return nil, r.fail("not a time", at)
	}
	switch w.Day {
	case "":
	case "today", "yesterday", "tomorrow":
		if out.Last {
			return nil, r.fail("not a time", at)
		}
		out.Days = slices.Index([]string{"yesterday", "today", "tomorrow"}, w.Day) - 1
	default:
		day := time.Weekday(slices.Index(weekdays, w.Day))
		out.Weekday = &day
	}
	if w.Of != "" {
		return nil, r.dayOf(w.Of, at)
	}
	if w.Date != nil {
		d, err := r.date(w.Date, at)
		if err != nil {
			return nil, err
		}
		out.Date = d
	}
	if bare := w.Bare + w.At; bare != "" {
		return nil, r.hour(bare, at)
	}
	for _, c := range []string{w.Hour, w.Time, w.Then, w.Clock} {
		if c == "" {
			continue
		}
		h, m, _ := strings.Cut(c, ":")
		out.Clock = &Clock{small(h), small(m)}
		if out.Clock.Hour > 23 || out.Clock.Minute > 59 {
			return nil, r.fail("not a time", at)
		}
	}
	return out, nil
}

// small is the number that at most four digits make.
func small(digits string) int {
	n := 0
	for _, c := range digits {
		n = n*10 + int(c-'0')
	}
	return n
}

var weekdays = []string{"sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"}

var months = []string{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"}

// past reads a stretch of days that is over, or that began in the past.
func (r *reading) past(p *past, at stretch) (*Span, error) {
	if p == nil {
		return nil, nil
	}
	s := &Span{Unit: p.Period}
	var err error
	switch {
	case p.Month != "":
		s.Month, s.Year = monthNamed(p.Month), small(p.Year)
	case p.Day == "today":
		s.Unit = "day"
	case p.Day == "yesterday":
		s.Unit, s.Back = "day", 1
	case p.Number != "":
		var d time.Duration
		d, err = r.span(p.Number, p.Unit, at)
		s.Since = &When{In: -d}
	case p.From != "":
		s.Since = &When{Date: &Date{small(p.FromOf), monthNamed(p.From), 1}}
	case p.Onward != "":
		s.Unit, s.Onward = p.Onward, true
		if p.Old == "last" {
			s.Back = 1
		}
	case p.Since != nil:
		s.Since, err = r.when(p.Since, at)
	case p.On != nil:
		if y := p.On.year(); y != 0 {
			s.Unit, s.Year = "year", y
			break
		}
		s.On, err = r.when(p.On, at)
	case p.Lapse != "":
		which, period, _ := strings.Cut(p.Lapse, " ")
		s.Unit = period
		if which == "last" {
			s.Back = 1
		}
	case p.Which == "last":
		s.Back = 1
	}
	return s, err
}

func monthNamed(name string) time.Month { return time.Month(slices.Index(months, name) + 1) }
