package grammar

import (
	"strconv"
	"strings"
	"time"
)

// dated reads a date in numbers that begins with the number at pieces[i]: "2026-11-02",
// "4/1/26". "4/1" stays a number: it may be a fraction.
func (s *scan) dated(i int) int {
	a, b, c, d := s.pieces[i], s.at(i+1), s.at(i+2), s.at(i+3)
	n := 0
	switch {
	case !touches(a, b) || !touches(b, c) || c.kind != numberRaw || !isDigits(c.text):
	case a.kind == fractionRaw && b.text == "/" && len(a.text) <= 5 && (len(c.text) == 2 || len(c.text) == 4):
		n = 3
	case b.text == "-" && d.text == "-" && len(a.text) == 4 && len(c.text) == 2 && touches(c, d):
		if e := s.at(i + 4); e.kind == numberRaw && len(e.text) == 2 && touches(d, e) {
			n = 5
		}
	}
	if n == 0 {
		return 0
	}
	return s.emit(entry{datedKind, s.text[a.start:s.pieces[i+n-1].end]}, i, n)
}

// year reads the four digits behind a month and its day, or behind a month: "nov 2026".
func (s *scan) year(i int) int {
	p, k := s.pieces[i], len(s.toks)-1
	if len(p.text) != 4 || !strings.HasPrefix(p.text, "20") || !isDigits(p.text) || p.line || k < 0 {
		return 0
	}
	if s.toks[k].kind != monthKind && (s.toks[k].kind != numberKind || kindAt(s.toks, k-1) != monthKind) {
		return 0
	}
	return s.emit(entry{yearKind, p.text}, i, 1)
}

// soon is what follows the 2 of "2moro".
var soon = setOf("moro", "morro", "morrow", "morow", "mrw")

// ordinals stand behind the number of a day: "2nd nov", "1er janvier".
var ordinals = setOf("st", "nd", "rd", "th", "er", "ro")

// date reads a day of the calendar.
func (r *reading) date(d *date, at stretch) (*Date, error) {
	switch {
	case d.Month != "":
		return r.day(small(d.Year), monthNamed(d.Month), d.Day, at)
	case d.First != "":
		return r.day(small(d.After), monthNamed(d.First), d.Then, at)
	case strings.Contains(d.Plain, "-"):
		part := strings.Split(d.Plain, "-")
		if len(part) != 3 { // "turned -5"
			return nil, r.fail("not a time", at)
		}
		return r.day(small(part[0]), time.Month(small(part[1])), part[2], at)
	}
	dates := r.inNumbers(d.Plain)
	if len(dates) == 0 {
		return nil, r.fail("not a time", at)
	}
	if len(dates) == 1 {
		return &dates[0], nil
	}
	where := r.plainDate(d.Plain, at)
	q := r.ask("date order", where)
	for _, one := range dates {
		q.Choices = append(q.Choices, Choice{canonicalDate(one), r.replaced(where, canonicalDate(one))})
	}
	return nil, q
}

// inNumbers are the days of the calendar that "4/1" or "4/1/26" can mean in this kitchen: one
// or two, day first; none where it is no date.
func (r *reading) inNumbers(typed string) (out []Date) {
	part := strings.Split(typed, "/")
	if len(part) < 2 || len(part) > 3 {
		return nil
	}
	n := [3]int{}
	for i, p := range part {
		if !isDigits(p) || len(p) > 4 {
			return nil
		}
		n[i] = small(p)
	}
	year := n[2]
	if len(part) == 3 && year < 100 {
		year += 2000
	}
	for _, one := range []Date{{year, time.Month(n[1]), n[0]}, {year, time.Month(n[0]), n[1]}} {
		if one.exists() && (len(out) == 0 || out[0] != one) {
			out = append(out, one)
		}
	}
	if len(out) == 2 && r.dates != OrderUnset {
		i := int(r.dates - DayFirst)
		out = out[i : i+1]
	}
	return out
}

// exists reports whether the calendar has such a day, in some year where none is said.
func (d Date) exists() bool {
	year := d.Year
	if year == 0 {
		year = 2000 // it had a 29 February
	}
	at := time.Date(year, d.Month, d.Day, 0, 0, 0, 0, time.UTC)
	return year >= 2000 && year < 2100 && d.Day > 0 && at.Month() == d.Month && at.Day() == d.Day
}

// day is a day of a month that was named.
func (r *reading) day(year int, m time.Month, typed string, at stretch) (*Date, error) {
	d := Date{year, m, 0}
	if isDigits(typed) && len(typed) <= 2 {
		d.Day = small(typed)
	}
	if !d.exists() {
		return nil, r.fail("not a time", at)
	}
	return &d, nil
}

// dayOf asks what "day 6/21" is: day 6 of 21, or a date.
func (r *reading) dayOf(typed string, at stretch) error {
	var dates []Date
	if strings.Contains(typed, "/") {
		dates = r.inNumbers(typed)
	}
	if len(dates) == 0 {
		return r.fail("not a time", at)
	}
	where := r.plainDate(typed, at)
	for _, t := range r.toks { // with the "day" before it
		if t.kind == periodKind && t.end <= where.start {
			where.start = t.start
		}
	}
	q := r.ask("day", where)
	for _, one := range dates {
		q.Choices = append(q.Choices, Choice{canonicalDate(one), r.replaced(where, canonicalDate(one))})
	}
	return q
}

// dayIn asks what "day 6/21" is in a log of days: day 6.
func (r *reading) dayIn(typed string, at stretch) error {
	where := r.plainDate(typed, at)
	day, _, _ := strings.Cut(typed, "/")
	q := r.ask("day", where)
	q.Choices = []Choice{{"day " + day, r.replaced(where, day)}}
	return q
}

// dayInDose asks what "day 6/21" is in a dose phrase: one of 21 days. nil: it is none.
func (r *reading) dayInDose(w *wrong) *Question {
	next := w.bad + 1
	if r.toks[w.bad].kind != periodKind || kindAt(r.toks, next) != numberKind || r.draft.has(daysField) {
		return nil
	}
	_, days, ok := strings.Cut(r.toks[next].value, "/")
	if !ok {
		return nil
	}
	at := stretch{r.toks[w.bad].start, r.toks[next].end}
	q := r.ask("day", at)
	q.Choices = []Choice{{days + " days", r.replaced(at, days+" days")}}
	return q
}

// hour asks which hour "fri 9" is: of the morning or of the evening.
func (r *reading) hour(typed string, at stretch) error {
	if !isDigits(typed) || len(typed) > 2 || small(typed) > 24 {
		return r.fail("not a time", at)
	}
	where := r.plainDate(typed, at)
	q := r.ask("hour", where)
	for h := small(typed) % 12; h < 24; h += 12 {
		if text := strconv.Itoa(h) + ":00"; small(typed) <= 12 || h == small(typed) {
			q.Choices = append(q.Choices, Choice{text, r.replaced(where, text)})
		}
	}
	return q
}

// plainDate is where a date in numbers stands in at.
func (r *reading) plainDate(typed string, at stretch) stretch {
	for _, t := range r.toks {
		if (t.kind == numberKind || t.kind == datedKind) && t.value == typed && t.start >= at.start && t.end <= at.end {
			return stretch{t.start, t.end}
		}
	}
	return at
}

// canonicalDate writes a date without an order to mistake.
func canonicalDate(d Date) string {
	out := strconv.Itoa(d.Day) + " " + months[d.Month-1]
	if d.Year > 0 {
		out += " " + strconv.Itoa(d.Year)
	}
	return out
}
