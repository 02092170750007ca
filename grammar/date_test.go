package grammar

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// monthWords are months by the ways in which they are typed: English, Spanish, French.
var monthWords = [...][]string{
	{"january", "jan", "enero", "janvier"}, {"february", "feb", "febrero", "février"}, {"march", "marzo", "mars"}, {"april", "apr", "abril", "avril"},
	{"may", "mayo", "mai"}, {"june", "jun", "junio", "juin"}, {"july", "jul", "julio", "juillet"}, {"august", "aug", "agosto", "août"},
	{"september", "sept", "septiembre", "septembre"}, {"october", "oct", "octubre", "octobre"}, {"november", "nov", "noviembre", "novembre"}, {"december", "dec", "diciembre", "décembre"},
}

// A date is read as the day that was typed, in every way of typing it; where a number could
// be the day or the month, the kitchen's order decides, and without one it is asked.
func TestDates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := time.Date(rapid.IntRange(2024, 2031).Draw(t, "year"), 1, 1+rapid.IntRange(0, 364).Draw(t, "day"), 0, 0, 0, 0, time.UTC)
		order := rapid.SampledFrom([]DateOrder{OrderUnset, DayFirst, MonthFirst}).Draw(t, "order")
		month := rapid.SampledFrom(monthWords[at.Month()-1]).Draw(t, "month")
		d, m, y := at.Day(), int(at.Month()), at.Year()
		first, second := d, m
		if order == MonthFirst {
			first, second = m, d
		}
		doubtful, year := false, y
		var text string
		switch rapid.IntRange(0, 6).Draw(t, "form") {
		case 0:
			text = at.Format("2006-01-02")
		case 1:
			text = fmt.Sprintf("%d %s %d", d, month, y)
		case 2:
			text = fmt.Sprintf("%s %d %d", month, d, y)
		case 3:
			text, year = fmt.Sprintf("%d %s", d, month), 0
		case 4:
			text, year = fmt.Sprintf("%s %d", month, d), 0
		case 5:
			text, doubtful = fmt.Sprintf("%d/%d/%02d", first, second, y%100), true
		default:
			text, doubtful, year = fmt.Sprintf("%d/%d", first, second), true, 0
		}
		doubtful = doubtful && order == OrderUnset && d <= 12 && d != m
		clock := rapid.SampledFrom([]string{"", " 9:30"}).Draw(t, "clock")
		phrase := "turned " + strings.ToUpper(text) + clock
		p, err := Parse(phrase, Setting{Dates: order})
		var q *Question
		if doubtful {
			if !errors.As(err, &q) || q.Code != "date order" || len(q.Choices) != 2 {
				t.Fatalf("%q: %T, %v: no question", phrase, p.Command, err)
			}
			return
		}
		did, ok := p.Command.(Did)
		if err != nil || !ok || did.When == nil || did.When.Date == nil {
			t.Fatalf("%q: %T, %v", phrase, p.Command, err)
		}
		if got := *did.When.Date; got != (Date{year, at.Month(), d}) {
			t.Fatalf("%q, order %d: %v, want %s", phrase, order, got, at.Format("2006-01-02"))
		}
		if has := did.When.Clock != nil; has != (clock != "") || has && *did.When.Clock != (Clock{9, 30}) {
			t.Fatalf("%q: %v", phrase, did.When.Clock)
		}
	})
}

// The kitchen's order settles what would be asked.
func TestDateOrder(t *testing.T) {
	for _, c := range []struct {
		phrase string
		order  DateOrder
		want   string
	}{
		{"turned 4/1", OrderUnset, "question: date order"},
		{"turned 4/1", DayFirst, "turn 4 january"},
		{"turned 4/1", MonthFirst, "turn 1 april"},
		{"turned 21/6", MonthFirst, "turn 21 june"},
		{"turned 6/21", DayFirst, "turn 21 june"},
		{"due until 1/4", DayFirst, "due until 1 april"},
		{"who cured belly since 4/1/26", MonthFirst, "who cured pork belly since 1 april 2026"},
		{"who cured belly since 4/1 by ana", DayFirst, "who cured pork belly since 4 january by ana"},
		{"remind rinse 29/2 9:00", DayFirst, "remind rinse 29 february 9:00"},
		{"turned 30/2", DayFirst, "error: not a time"},
		{"turned 29/2/26", DayFirst, "error: not a time"},
		{"turned day 6/12", DayFirst, "question: day"},
		{"3 1/4 lb belly", DayFirst, "3 lb 4 oz pork belly"}, // a fraction is no date
	} {
		if got := meaning(Parse(c.phrase, Setting{Dates: c.order})); got != c.want {
			t.Errorf("%q, order %d: %q, want %q", c.phrase, c.order, got, c.want)
		}
	}
}
