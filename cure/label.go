package cure

// Fits reports whether a curing salt of this name can have this strength. One that is not
// known, with neither nitrite nor nitrate, does not fit.
func (a Agent) Fits() bool {
	switch {
	case a.Kind == PureNitrite:
		return a.Nitrite >= pureNitrate && a.Nitrite <= 1 && a.Nitrate == 0
	case a.Kind == Saltpetre:
		return a.Nitrite == 0 && (a.Nitrate == 0 || a.Nitrate >= pureSaltpetre && a.Nitrate <= 1)
	case a.Kind.nitrateOnly():
		return a.Nitrite == 0 && a.Nitrate >= pureNitrate && a.Nitrate <= 1
	}
	return plausibleStrength(a, Request{}) == nil
}

// pureSaltpetre is the least of an undiluted saltpetre, as the equal amount of NaNO3: 0.9 of
// 0.8407, the ratio of the molar masses; common practice, no source.
const pureSaltpetre = 0.75

// Part is what a house cure is made of beside plain salt.
type Part struct {
	Agent Agent
	Grams Gram
}

// MadeOf is the house cure that parts and plain salt come to, mixed evenly.
func MadeOf(parts []Part, salt Gram) Agent {
	out, all := Agent{Kind: HouseCure}, salt
	for _, p := range parts {
		all += p.Grams
	}
	if all <= 0 {
		return out
	}
	for _, p := range parts {
		share := Fraction(p.Grams / all)
		out.Nitrite += p.Agent.Nitrite * share
		out.Nitrate += p.Agent.Nitrate * share
	}
	return out
}
