package cure

// AgentKind is what the curing salt is called. A name is not a strength: see Agent.
type AgentKind uint8

// The kinds of curing salt.
const (
	NoAgent         AgentKind = iota // not said
	NoCure                           // salt alone, on purpose
	No1                              // salt with some per cent of sodium nitrite
	No2                              // salt with sodium nitrite and sodium nitrate
	NitritedSalt                     // European nitrited salt, 0.4 to 0.9 % sodium nitrite
	HouseCure                        // a kitchen's own mix of salt and nitrite, of a strength that is said
	PureNitrite                      // undiluted sodium nitrite
	PureNitrate                      // undiluted sodium nitrate, Chile saltpetre
	Saltpetre                        // potassium nitrate
	VegetablePowder                  // of a stated nitrite strength of the lot
)

// Agent is a curing salt with its strength, as mass fractions of the mix.
type Agent struct {
	Kind    AgentKind
	Nitrite Fraction // sodium nitrite, NaNO2
	Nitrate Fraction // sodium nitrate, NaNO3
}

// Salt is the mass fraction of sodium chloride in the mix: what is neither nitrite nor nitrate.
func (a Agent) Salt() Fraction { return 1 - a.Nitrite - a.Nitrate }

// The strengths that a no. 1 and a no. 2 may have. Seen: 5.67 to 7 % nitrite and 0.5 to 4 %
// nitrate on bags; the rest is a margin, common practice, no source. Nitrited salt: 0.4 to
// 0.9 %, the range sold in Europe (secondary).
var (
	mixNitrite    = span{"nitrite", 3, 10, "%"}
	mixNitrate    = span{"nitrate", 0.4, 10, "%"}
	saltedNitrite = span{"nitrite", 0.4, 0.9, "%"}
)

// usual is the strength of a no. 1 or a no. 2 where a region has a usual one.
// Source: composition of United States curing salts: 1 oz nitrite in 16 oz of mix, 6.25 %;
// no. 2 with 0.64 oz nitrate, 4 % (secondary); no. 1 in Canada like it (common practice, no
// source); British no. 1: 1 oz nitrite to 16 oz of salt, 5.88 % (secondary). Elsewhere, and
// for a no. 2 outside the United States, there is no usual strength.
func (k AgentKind) usual(region Region) (Agent, bool) {
	switch {
	case k == No1 && (region == "us" || region == "ca"):
		return Agent{Kind: k, Nitrite: 0.0625}, true
	case k == No1 && region == "gb":
		return Agent{Kind: k, Nitrite: 0.0588}, true
	case k == No2 && region == "us":
		return Agent{Kind: k, Nitrite: 0.0625, Nitrate: 0.04}, true
	}
	return Agent{}, false
}

// fillAgent fills in which cure and how strong, and refuses a strength that the name can't
// have.
func fillAgent(r *Request) error {
	if r.Agent.Value.Kind == NoAgent {
		r.Agent = Given[Agent]{Agent{Kind: No1, Nitrite: r.Agent.Value.Nitrite, Nitrate: r.Agent.Value.Nitrate}, FromRule}
	}
	a := &r.Agent.Value
	if a.Kind == NoCure {
		a.Nitrite, a.Nitrate, r.Strength = 0, 0, Unset
		return nil
	}
	if a.Nitrite == 0 && a.Nitrate == 0 || a.Kind == No2 && (a.Nitrite == 0 || a.Nitrate == 0) {
		usual, ok := a.Kind.usual(r.Region.Value)
		if !ok || a.Nitrite != 0 && a.Nitrite != usual.Nitrite || a.Nitrate != 0 && a.Nitrate != usual.Nitrate {
			return &Missing{What: "strength", Request: *r}
		}
		*a, r.Strength = usual, FromRule
	}
	if r.Strength == Unset {
		r.Strength = r.Agent.Origin
	}
	return plausibleStrength(*a, *r)
}

func plausibleStrength(a Agent, r Request) (err error) {
	percent := func(f Fraction) float64 { return 100 * float64(f) }
	switch {
	case a.Kind == No2:
		if err = mixNitrite.check(percent(a.Nitrite), r); err == nil {
			err = mixNitrate.check(percent(a.Nitrate), r)
		}
	case a.Nitrate != 0: // no. 1 and nitrited salt have none
		err = &Stop{What: "nitrate", Got: percent(a.Nitrate), Unit: "%", Request: r}
	case a.Kind == NitritedSalt:
		err = saltedNitrite.check(percent(a.Nitrite), r)
	case a.Kind == No1:
		err = mixNitrite.check(percent(a.Nitrite), r)
	default:
		return &Missing{What: "strength", Request: r}
	}
	if stop, ok := err.(*Stop); ok {
		stop.Rule = StopStrength
	}
	return err
}
