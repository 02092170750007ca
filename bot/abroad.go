package bot

import (
	"strings"

	"salthand/cure"
	"salthand/grammar"
)

// besides sets a dose beside the rules of the other regions that a phrase names. The region
// of the dose itself stays the kitchen's.
func besides(d grammar.Dose, s Settings) []cure.Abroad {
	others := otherRegions(d, s)
	if len(others) == 0 {
		return nil
	}
	_, abroad, err := cure.Compare(requestOf(d, s), others...)
	if err != nil {
		return nil // the dose itself says why
	}
	return abroad
}

// otherRegions are the regions that a phrase names beside the kitchen's.
func otherRegions(d grammar.Dose, s Settings) (others []cure.Region) {
	for _, r := range []cure.Region{d.Region, d.Against} {
		if r != "" && r != s.Region.Value {
			others = append(others, r)
		}
	}
	return others
}

// abroadFacts are the same grams beside the rules of other regions.
func abroadFacts(l tongue, all []cure.Abroad) (facts []Fact) {
	for _, a := range all {
		lines := []string{l.say("the same grams, %s", l.say(a.Class))}
		for _, c := range a.Limits {
			lines = append(lines, limitLine(l, c))
		}
		var agents []string
		for _, agent := range a.Changed {
			agents = append(agents, l.say(agent))
		}
		if len(agents) > 0 {
			lines = append(lines, l.say("another answer there: %s", strings.Join(agents, ", ")))
		}
		if a.Err == nil {
			lines = append(lines, l.say("asked there it would be %s sodium nitrite", ppm(a.Dose.Nitrite)))
		}
		facts = append(facts, Fact{Label: l.say("in %s", string(a.Region)), Lines: lines})
	}
	return facts
}

func machineAbroad(all []cure.Abroad) (out []MachineRegion) {
	for _, a := range all {
		m := MachineRegion{Region: string(a.Region), Class: a.Class, Changed: append([]string{}, a.Changed...)}
		for _, c := range a.Limits {
			m.Limits = append(m.Limits, machineLimit(c))
		}
		out = append(out, m)
	}
	return out
}
