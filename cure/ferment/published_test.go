package ferment

import (
	"math"
	"strings"
	"testing"
	"time"

	"salthand/cure"
	"salthand/cure/published"
)

func degrees(t *testing.T, text, unit string) cure.Celsius {
	t.Helper()
	if unit == "F" {
		return fahrenheit(published.Number(t, text))
	}
	return cure.Celsius(published.Number(t, text))
}

func hours(x float64) time.Duration { return time.Duration(math.Round(x * float64(time.Hour))) }

// stays reads "10@75 12@85".
func stays(t *testing.T, text, unit string) Log {
	t.Helper()
	var all []Stay
	for part := range strings.FieldsSeq(text) {
		long, at, _ := strings.Cut(part, "@")
		all = append(all, Stay{hours(published.Number(t, long)), degrees(t, at, unit)})
	}
	return Stays(all...)
}

func setOf(t *testing.T, id string) Set {
	t.Helper()
	s, ok := SetOf(id)
	if !ok {
		t.Fatalf("no set %q", id)
	}
	return s
}

func TestHoursAllowed(t *testing.T) {
	for _, row := range published.Rows(t, "ferment_hours.csv") {
		got, ok := setOf(t, row["set"]).Allowed(degrees(t, row["at"], row["unit"]))
		if !ok {
			t.Errorf("%v: no limit", row)
		}
		published.Near(t, row, got.Hours(), published.Number(t, row["hours"]), published.Number(t, row["tolerance"]))
	}
}

func TestSheet(t *testing.T) {
	rows := published.Rows(t, "ferment_sheet.csv")
	if len(rows) != len(Sheet()) {
		t.Errorf("%d rows, want %d", len(Sheet()), len(rows))
	}
	us := setOf(t, "us")
	for _, row := range rows {
		at := degrees(t, row["fahrenheit"], "F")
		got, ok := Printed(at)
		if !ok || got.Within != hours(published.Number(t, row["hours"])) {
			t.Errorf("%v: got %v", row, got)
		}
		r, err := us.Judge(Stays(Stay{got.Within, at}), nil)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, row, float64(r.Sum), published.Number(t, row["degree_hours"]), published.Number(t, row["tolerance"]))
		if allowed, _ := us.Allowed(at); got.Within > allowed {
			t.Errorf("%v: the sheet allows more than the rule, %v", row, allowed)
		}
	}
}

func TestWorked(t *testing.T) {
	for _, row := range published.Rows(t, "ferment_worked.csv") {
		log := stays(t, row["stays"], row["unit"])
		end := log[len(log)-1].After
		r, err := setOf(t, row["set"]).Judge(log, []Acidity{{end / 2, 5.6}, {end, 5.3}})
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, row, float64(r.Sum), published.Number(t, row["sum"]), published.Number(t, row["tolerance"]))
		published.Near(t, row, float64(r.Limit), published.Number(t, row["limit"]), 0)
		if want := map[string]State{"pass": Soured, "fail": Hold}[row["verdict"]]; r.State != want {
			t.Errorf("%v: state %v, want %v", row, r.State, want)
		}
	}
}

func TestLeft(t *testing.T) {
	for _, row := range published.Rows(t, "ferment_left.csv") {
		log := stays(t, row["stays"], row["unit"])
		r, err := setOf(t, row["set"]).Judge(log, []Acidity{{log[len(log)-1].After, 5.5}})
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, row, r.Left.Hours(), published.Number(t, row["left"]), published.Number(t, row["tolerance"]))
		if r.State != Running || r.Endless {
			t.Errorf("%v: %+v", row, r)
		}
		left, ok, err := PrintedLeft(log)
		if err != nil || !ok {
			t.Errorf("%v: not on the sheet, %v", row, err)
		}
		published.Near(t, row, left.Hours(), published.Number(t, row["left"]), published.Number(t, row["tolerance"]))
	}
}
