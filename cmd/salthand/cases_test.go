package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// incident is a row of testdata/cases: a line that somebody typed in a kitchen's channel, and
// what its answer has to hold. Figures are right within 1 % or 0.05 g, ppm within 2.
type incident struct {
	id, region, line string
	kind             string   // of the machine answer: "hold", "check", "dose", "unclear", …
	figures          []string // "6.80 g", "413 ppm": each stands somewhere in the answer, on a line with its unit
	says             []string // expressions that the answer has: the verdict, the next step
	never            []string // expressions of what would be dangerous
}

func incidents(t *testing.T) (out []incident) {
	t.Helper()
	files, err := filepath.Glob("../../testdata/cases/*.csv")
	if err != nil || len(files) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	for _, name := range files {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(f).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		for _, r := range rows[1:] {
			out = append(out, incident{id: r[0], region: r[1], line: r[2], kind: r[3], figures: listed(r[4]), says: listed(r[5]), never: listed(r[6])})
		}
	}
	return out
}

func listed(cell string) (out []string) {
	for _, one := range strings.Split(cell, ";") {
		if one = strings.TrimSpace(one); one != "" {
			out = append(out, one)
		}
	}
	return out
}

// Each line is typed in the cure channel of a kitchen, and asked without one: both answers
// hold the figures, the verdict and the next step, and neither says what is dangerous.
func TestCases(t *testing.T) {
	for i, c := range incidents(t) {
		t.Run(fmt.Sprintf("%s/%d", c.id, i), func(t *testing.T) {
			if len(c.says)+len(c.figures) == 0 || len(c.never) == 0 {
				t.Fatal("a case that asks for nothing, or names no danger")
			}
			card := conversation(t, c)
			answer := asked(t, c)
			if answer.Kind != c.kind {
				t.Errorf("kind %q, want %q", answer.Kind, c.kind)
			}
			for where, text := range map[string]string{"the channel": card, "ask": answer.text} {
				for _, want := range c.figures {
					if !holdsFigure(t, text, want) {
						t.Errorf("%s lacks %s", where, want)
					}
				}
				for _, want := range c.says {
					if !regexp.MustCompile("(?is)" + want).MatchString(text) {
						t.Errorf("%s doesn't say %s", where, want)
					}
				}
				for _, danger := range c.never {
					if regexp.MustCompile("(?i)" + danger).MatchString(text) {
						t.Errorf("%s says %s", where, danger)
					}
				}
			}
			if t.Failed() {
				t.Logf("%s\n%s", c.line, card)
			}
		})
	}
}

// conversation is what a kitchen's channel answers to the line.
func conversation(t *testing.T, c incident) string {
	t.Helper()
	var out, errs bytes.Buffer
	at := time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)
	w := world{in: strings.NewReader("ana: language en\nana: " + c.line + "\n"), out: &out, err: &errs, login: "ana", data: t.TempDir(), zone: "UTC", now: func() time.Time { return at }}
	if err := run(context.Background(), []string{"--scratch", "--region", c.region, "--chef", "ana"}, w); err != nil {
		t.Fatalf("%v\n%s", err, errs.String())
	}
	_, answer, _ := strings.Cut(out.String(), c.line) // what was typed is no answer
	return answer
}

type askedAnswer struct {
	Kind string `json:"kind"`
	text string // all that was printed, without what was typed
}

func asked(t *testing.T, c incident) (a askedAnswer) {
	t.Helper()
	var out, errs bytes.Buffer
	w := world{in: strings.NewReader(""), out: &out, err: &errs, login: "ana", data: t.TempDir(), zone: "UTC", now: time.Now}
	run(context.Background(), []string{"ask", "--json", "--language", "en", "--region", c.region, c.line}, w) // its status is tested elsewhere
	if err := json.Unmarshal(out.Bytes(), &a); err != nil {
		t.Fatalf("%v\n%s%s", err, out.String(), errs.String())
	}
	out.Reset()
	run(context.Background(), []string{"ask", "--language", "en", "--region", c.region, c.line}, w)
	a.text = strings.ReplaceAll(out.String(), c.line, "")
	return a
}

var numeral = regexp.MustCompile(`[0-9][0-9,]*(?:\.[0-9]+)?`)

// holdsFigure reports whether a figure like "6.80 g" stands in the text: the number within its
// tolerance, on a line that has the unit.
func holdsFigure(t *testing.T, text, figure string) bool {
	t.Helper()
	number, unit, _ := strings.Cut(figure, " ")
	want, err := strconv.ParseFloat(number, 64)
	if err != nil {
		t.Fatalf("figure %q: %v", figure, err)
	}
	tolerance := want / 100
	switch unit {
	case "g":
		tolerance = max(tolerance, 0.05)
	case "ppm":
		tolerance = 2
	}
	for _, line := range strings.Split(text, "\n") {
		if !regexp.MustCompile(`(?i)(^|[0-9 (])` + regexp.QuoteMeta(unit) + `($|[^a-z])`).MatchString(line) {
			continue
		}
		for _, n := range numeral.FindAllString(line, -1) {
			got, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimRight(n, ","), ",", ""), 64)
			if err == nil && math.Abs(got-want) <= tolerance+1e-9 {
				return true
			}
		}
	}
	return false
}
