package main

import (
	"errors"
	"os"
	"regexp"
	"strings"
	"testing"

	"salthand/bot"
	"salthand/grammar"
)

// Every phrase in the README's phrase book is understood; clauses stand in a dose phrase.
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
		_, card := bot.Ask("help "+topic, bot.Settings{})
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

func understood(text string) bool {
	p, err := grammar.Parse(text, grammar.Setting{})
	var q *grammar.Question
	if errors.As(err, &q) {
		return false
	}
	_, chatter := p.Command.(grammar.Chatter)
	return err == nil && !chatter
}
