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
	Nitrate Fraction // sodium nitrate, NaNO3; of saltpetre the equal amount of it
}

// Salt is the mass fraction of sodium chloride in the mix: what is neither nitrite nor
// nitrate. Undiluted salts have none, and what else is in a vegetable powder isn't known.
func (a Agent) Salt() Fraction {
	switch a.Kind {
	case PureNitrite, PureNitrate, Saltpetre, VegetablePowder:
		return 0
	}
	return 1 - a.Nitrite - a.Nitrate
}

// nitrateOnly reports whether a kind brings nitrate and no nitrite.
func (k AgentKind) nitrateOnly() bool { return k == PureNitrate || k == Saltpetre }

// lead is the fraction of the agent that a dose is reckoned by: nitrite, or nitrate where
// there is no nitrite.
func (a Agent) lead() Fraction {
	if a.Kind.nitrateOnly() {
		return a.Nitrate
	}
	return a.Nitrite
}

// The strengths that a no. 1 and a no. 2 may have. Seen: 5.67 to 7 % nitrite and 0.5 to 4 %
// nitrate on bags; the rest is a margin, common practice, no source. Nitrited salt: 0.4 to
// 0.9 %, the range sold in Europe (secondary). A house cure and a vegetable powder: what a
// kitchen can use, common practice, no source; a powder of 1.15 % was seen (secondary).
var (
	mixNitrite    = span{"nitrite", 3, 10, "%"}
	mixNitrate    = span{"nitrate", 0.4, 10, "%"}
	saltedNitrite = span{"nitrite", 0.4, 0.9, "%"}
	houseNitrite  = span{"nitrite", 0.1, 10, "%"}
	houseNitrate  = span{"nitrate", 0, 10, "%"}
	powderNitrite = span{"nitrite", 0.1, 5, "%"}
	powderNitrate = span{"nitrate", 0, 5, "%"}
)

// usual is the strength of a no. 1 or a no. 2 where a region has a usual one.
// Source: composition of United States curing salts: 1 oz nitrite in 16 oz of mix, 6.25 %;
// no. 2 with 0.64 oz nitrate, 4 % (secondary); no. 1 in Canada like it (common practice, no
// source); British no. 1: 1 oz nitrite to 16 oz of salt, 5.88 % (secondary). Elsewhere, and
// for a no. 2 outside the United States, there is no usual strength.
// Usual is the usual mix of a kind in a region, by common trade practice; false where there is
// none, and the bag has to be read.
func (k AgentKind) Usual(region Region) (Agent, bool) { return k.usual(region) }

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
		if r.Nitrate.Set() {
			return &Missing{What: "cure", Request: *r}
		}
		r.Agent = Given[Agent]{Agent{Kind: No1, Nitrite: r.Agent.Value.Nitrite, Nitrate: r.Agent.Value.Nitrate}, FromRule}
	}
	a := &r.Agent.Value
	switch {
	case a.Kind == NoCure:
		a.Nitrite, a.Nitrate, r.Strength = 0, 0, Unset
		return nil
	case a.Kind == PureNitrite:
		return &Stop{Rule: StopUndiluted, Request: *r}
	case a.Kind.nitrateOnly():
		return fillNitrate(r)
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

// pureNitrate is what an undiluted nitrate has at least; common practice, no source.
const pureNitrate = 0.9

// fillNitrate settles undiluted nitrate, as NaNO3.
func fillNitrate(r *Request) error {
	a := &r.Agent.Value
	stop := &Stop{Rule: StopStrength, What: "nitrate", Min: 100 * pureNitrate, Unit: "%", Request: *r}
	whole := a.parts().nitrate
	switch {
	case a.Nitrite != 0:
		stop.What, stop.Min = "nitrite", 0
		return stop
	case a.Kind == Saltpetre && a.Nitrate != 0 && a.Nitrate != 1 && a.Nitrate != whole, !(whole >= pureNitrate && whole <= 1) && a.Kind != Saltpetre:
		if stop.Got = 100 * float64(a.Nitrate); stop.Got-stop.Got != 0 {
			stop.Got = 0
		}
		return stop
	}
	a.Nitrate, r.Strength = whole, r.Agent.Origin
	return nil
}

func plausibleStrength(a Agent, r Request) (err error) {
	percent := func(f Fraction) float64 { return 100 * float64(f) }
	both := func(nitrite, nitrate span) error {
		if err := nitrite.check(percent(a.Nitrite), r); err != nil {
			return err
		}
		return nitrate.check(percent(a.Nitrate), r)
	}
	switch {
	case a.Kind == No2:
		err = both(mixNitrite, mixNitrate)
	case a.Kind == HouseCure:
		err = both(houseNitrite, houseNitrate)
	case a.Kind == VegetablePowder:
		err = both(powderNitrite, powderNitrate)
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
