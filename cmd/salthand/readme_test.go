package main

import (
	"errors"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"salthand/bot"
	"salthand/cure"
	"salthand/grammar"
)

// Every phrase in the README's phrase book is understood; clauses stand in a dose phrase, or
// in a batch's thread.
func TestReadmePhrasesAreUnderstood(t *testing.T) {
	raw, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, book, ok := strings.Cut(string(raw), "## Phrase book")
	if !ok {
		t.Fatal("the README has no phrase book")
	}
	book, _, _ = strings.Cut(book, "\nWhat belongs to")
	seen := 0
	for _, row := range regexp.MustCompile(`(?m)^\| .* \|$`).FindAllString(book, -1) {
		for _, phrase := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(row, -1) {
			seen++
			if !understood(phrase[1]) && !understood("3.2 kg belly, dry rub, "+phrase[1]) && !understood("3.2 kg belly, "+phrase[1]) && !understood("belly, dry rub, "+phrase[1]) {
				t.Errorf("the README's phrase %q is not understood", phrase[1])
			}
		}
	}
	if seen < 40 {
		t.Errorf("only %d phrases were looked at", seen)
	}
}

// Every phrase that help shows is understood too.
func TestHelpPhrasesAreUnderstood(t *testing.T) {
	for _, topic := range []string{"dose", "figures", "batch", "look", "kitchen"} {
		_, card := bot.Ask("help "+topic, "", bot.Settings{})
		for _, line := range card.Lines {
			line, _, _ = strings.Cut(line, "  (")
			line = strings.TrimPrefix(line, "more: ")
			for _, phrase := range strings.Split(line, " · ") {
				if !understood(phrase) && !understood("3.2 kg belly, dry rub, "+phrase) {
					t.Errorf("help %s shows %q, which is not understood", topic, phrase)
				}
			}
		}
	}
}

// understood reports whether a phrase is one in the channel or in a batch's thread.
func understood(text string) bool {
	for _, thread := range []bool{false, true} {
		p, err := grammar.Parse(text, grammar.Setting{Thread: thread})
		var q *grammar.Question
		if errors.As(err, &q) {
			return false
		}
		if _, chatter := p.Command.(grammar.Chatter); err == nil && !chatter {
			return true
		}
	}
	return false
}

// The README's table of limits says what the law table says, with the ion's exact factor.
func TestReadmeLimits(t *testing.T) {
	raw, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	const ion = 46.0047 / 68.9945 // NO2 over NaNO2, IUPAC standard atomic weights
	seen := map[string]string{"text": "in the text", "secondary": "second-hand"}
	limits := map[string]cure.Limit{}
	for _, l := range cure.Limits() {
		limits[l.ID] = l
	}
	for what, ids := range map[string][]string{
		"bacon, dry rub":  {"us-bacon-dry-nitrite"},
		"bacon, immersed": {"us-bacon-immersed-nitrite"},
		"bacon, pumped: required, with 550 ppm ascorbate": {"us-bacon-pumped-nitrite"},
		"dry cured":                           {"us-dry-nitrite"},
		"pumped or immersed":                  {"us-pumped-nitrite", "us-immersed-nitrite"},
		"ground":                              {"us-ground-nitrite"},
		"not heated, and heated":              {"eu-raw-nitrite", "eu-heated-nitrite", "gb-raw-nitrite", "gb-heated-nitrite"},
		"nitrite and nitrate together":        {"ca-cured-sum"},
		"bacon, nitrite and nitrate together": {"ca-bacon-sum"},
		"cured meat":                          {"cn-nitrite"},
	} {
		for _, id := range ids {
			l, ok := limits[id]
			if !ok {
				t.Errorf("there is no limit %s", id)
				continue
			}
			figure, salt := strconv.FormatFloat(float64(l.Value), 'f', l.Digits, 64)+" ppm", float64(l.Value)
			if l.As == "NO2 ion" {
				figure, salt = figure+" as ion", salt/ion
			}
			as := strconv.FormatFloat(salt, 'f', 2, 64) + " ppm"
			if l.Agent != "nitrite" {
				as = "–"
			}
			row := "| " + strings.Join([]string{string(l.Region), what, figure, as, seen[l.Seen]}, " | ") + " |"
			if !strings.Contains(string(raw), row) {
				t.Errorf("the README lacks the row %s", row)
			}
		}
	}
}
