package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"salthand/bot"
	"salthand/bot/console"
	"salthand/cure"
)

type askCommand struct {
	Phrase    []string   `arg:"" help:"The phrase, like \"3.2 kg belly, dry rub, 7 days\"."`
	JSON      bool       `help:"Print one JSON object."`
	Region    regionFlag `help:"Rule set: us, eu, gb, ca, au-nz, jp, cn or codex. Without it us is assumed, and the card says so."`
	Language  string     `enum:",en,es,fr" default:"" help:"Answer in en, es or fr. Without it in English."`
	CureScale string     `placeholder:"GRAMS" help:"Division of the scale that weighs the cure, like 0.1."`
}

// Run answers the phrase. The exit status says how it went.
func (a *askCommand) Run(w world) error {
	s := bot.Settings{Region: cure.Given[cure.Region]{Value: "us", Origin: cure.FromRule}, Today: w.now()}
	if a.Region != "" {
		s.Region = cure.Typed(cure.Region(a.Region))
	}
	if a.CureScale != "" {
		g, err := strconv.ParseFloat(strings.TrimSuffix(a.CureScale, "g"), 64)
		if err != nil || !(g > 0 && g <= 100) {
			return errors.New("--cure-scale takes grams, like 0.1")
		}
		s.CureScale = cure.Typed(cure.Gram(g))
	}
	answer, card := bot.Ask(strings.Join(a.Phrase, " "), a.Language, s)
	if a.JSON {
		out, err := json.MarshalIndent(answer, "", "  ")
		if err != nil {
			return fmt.Errorf("writing the answer: %w", err)
		}
		if _, err := fmt.Fprintln(w.out, string(out)); err != nil {
			return err
		}
	} else if err := console.Print(w.out, card, w.width); err != nil {
		return err
	}
	switch answer.Kind {
	case "unclear":
		return statusError(2)
	case "stop":
		return statusError(3)
	}
	return nil
}
