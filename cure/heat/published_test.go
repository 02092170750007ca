package heat

import (
	"math"
	"strings"
	"testing"
	"time"

	"salthand/cure"
	"salthand/cure/published"
)

func hours(x float64) time.Duration { return time.Duration(math.Round(x * float64(time.Hour))) }

// readings reads "0@130 1.5@80".
func readings(t *testing.T, text string, unit func(float64) cure.Celsius) (l Log) {
	t.Helper()
	for part := range strings.FieldsSeq(text) {
		after, probe, _ := strings.Cut(part, "@")
		l = append(l, Reading{hours(published.Number(t, after)), unit(published.Number(t, probe))})
	}
	return l
}

func celsius(c float64) cure.Celsius { return cure.Celsius(c) }

func TestHoldTimes(t *testing.T) {
	pork, err := Heating(Pork)
	if err != nil {
		t.Fatal(err)
	}
	check := func(table Table, row map[string]string, want time.Duration) {
		got, ok := table.Hold(fahrenheit(published.Number(t, row["fahrenheit"])))
		if !ok || got != want {
			t.Errorf("%v: %v, %v", row, got, ok)
		}
		if table.Source != row["source"] || table.Seen != row["seen"] {
			t.Errorf("%v: from %s, %s", row, table.Source, table.Seen)
		}
	}
	tables := map[string]Table{"6.5": Salmonella(), "7.0": Salmonella7()}
	seen := map[string]int{}
	for _, row := range published.Rows(t, "heat_lethality.csv") {
		check(tables[row["log10"]], row, time.Duration(published.Number(t, row["seconds"]))*time.Second)
		seen[row["log10"]]++
	}
	for name, table := range tables {
		if seen[name] != len(table.Rows) {
			t.Errorf("%s: %d rows, want %d", name, len(table.Rows), seen[name])
		}
	}
	rows := published.Rows(t, "heat_trichinae.csv")
	for _, row := range rows {
		check(pork, row, time.Duration(published.Number(t, row["minutes"]))*time.Minute)
	}
	if len(pork.Rows) != len(rows) {
		t.Errorf("%d rows, want %d", len(pork.Rows), len(rows))
	}
}

func TestFreezing(t *testing.T) {
	for _, row := range published.Rows(t, "heat_freezing.csv") {
		table, err := FreezingInside(Pork)
		if row["by"] == "piece" {
			table, err = Freezing(Pork, cure.Millimetre(published.Number(t, row["thickness_mm"])))
		}
		if err != nil {
			t.Fatal(err)
		}
		got, ok := table.Hold(cure.Celsius(published.Number(t, row["celsius"])))
		if !ok || got != hours(published.Number(t, row["hours"])) || table.Source != row["source"] || table.Seen != row["seen"] {
			t.Errorf("%v: %v, %v", row, got, ok)
		}
	}
}

func TestSausages(t *testing.T) {
	rows := published.Rows(t, "heat_sausages.csv")
	if len(rows) != len(Sausages()) {
		t.Fatalf("%d ways, want %d", len(Sausages()), len(rows))
	}
	for i, s := range Sausages() {
		row := rows[i]
		if s.Method != row["method"] || s.Source != row["source"] || s.Seen != row["seen"] {
			t.Errorf("%+v, want %v", s, row)
		}
		for column, got := range map[string]float64{
			"diameter_mm": float64(s.UpTo), "smoke_h": s.Smoke.Hours(), "smoke_c": float64(s.SmokeAt),
			"dry_days": s.Dry.Hours() / 24, "dry_c": float64(s.DryAt), "total_days": s.Total.Hours() / 24,
		} {
			published.Near(t, column, got, published.Number(t, row[column]), published.Number(t, row["tolerance"]))
		}
		published.Near(t, "salt", 100*float64(s.Salt), published.Number(t, row["salt_pct"]), 0.005)
	}
}

func TestCoolingLegs(t *testing.T) {
	at := map[string]int{}
	for _, row := range published.Rows(t, "heat_cooling.csv") {
		c, ok := CoolingOf(row["rule"])
		if !ok || at[row["rule"]] >= len(c.Legs) {
			t.Errorf("%v: no such leg", row)
			continue
		}
		leg := c.Legs[at[row["rule"]]]
		at[row["rule"]]++
		if leg != (Leg{fahrenheit(published.Number(t, row["from_f"])), fahrenheit(published.Number(t, row["to_f"])), hours(published.Number(t, row["hours"]))}) {
			t.Errorf("%v: %+v", row, leg)
		}
		if c.Source != row["source"] || !strings.HasPrefix(c.Seen, row["seen"]) {
			t.Errorf("%v: from %s, %s", row, c.Source, c.Seen)
		}
	}
	for _, c := range Coolings() {
		if at[c.ID] != len(c.Legs) {
			t.Errorf("%s: %d legs, want %d", c.ID, len(c.Legs), at[c.ID])
		}
	}
}

func TestCooled(t *testing.T) {
	states := map[string]State{"met": Met, "over": Over, "unsure": Unsure}
	for _, row := range published.Rows(t, "heat_cooled.csv") {
		c, ok := CoolingOf(row["rule"])
		if !ok {
			t.Fatalf("no rule %q", row["rule"])
		}
		stages, worst, err := c.Judge(readings(t, row["readings"], fahrenheit))
		if err != nil || worst != states[row["state"]] {
			t.Errorf("%v: %v, %+v, %v", row, worst, stages, err)
		}
	}
}

func TestCores(t *testing.T) {
	rows := published.Rows(t, "heat_core.csv")
	if len(rows) != len(Cores()) {
		t.Fatalf("%d cores, want %d", len(Cores()), len(rows))
	}
	for i, c := range Cores() {
		if c.Meat != rows[i]["meat"] || c.At != fahrenheit(published.Number(t, rows[i]["fahrenheit"])) || c.Rest.Minutes() != published.Number(t, rows[i]["rest_min"]) || c.Seen != "memory, sure" {
			t.Errorf("%+v, want %v", c, rows[i])
		}
	}
}

func TestWarm(t *testing.T) {
	for _, row := range published.Rows(t, "heat_warm.csv") {
		w, err := readings(t, row["readings"], celsius).Above(cure.Celsius(published.Number(t, row["above_c"])))
		if err != nil {
			t.Fatal(err)
		}
		for column, got := range map[string]float64{
			"least_h": w.Total.Least.Hours(), "likely_h": w.Total.Likely.Hours(), "most_h": w.Total.Most.Hours(), "highest_c": float64(w.Highest),
		} {
			published.Near(t, row, got, published.Number(t, row[column]), published.Number(t, row["tolerance"]))
		}
	}
}
