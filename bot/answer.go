package bot

import (
	"time"

	"salthand/cure"
	"salthand/grammar"
)

// Settings are what a kitchen, or the flags of ask, say for phrases that don't.
type Settings struct {
	Region    cure.Given[cure.Region]
	CureScale cure.Given[cure.Gram]
	CureFrom  cure.Origin  // of the curing salt of the phrase, where nobody typed it
	Today     time.Time    // the day whose law applies
	Default   grammar.Dose // the cure and the salt of phrases that say none
	// jars gives what is in a jar, or a *jarRefused; nil where there are no records.
	jars func(name string) (cure.Agent, error)
	// dyed gives whether what is in a jar is "dyed" or "undyed"; "": nobody said.
	dyed func(name string) string
}

// compute answers a dose phrase. The turn and ask both come through here. The error is a
// *cure.Stop, a *cure.Missing or a *notHere.
func compute(d grammar.Dose, s Settings) (cure.Dose, error) {
	switch {
	case d.Recipe != "":
		return cure.Dose{}, &notHere{what: msg("recipe"), name: d.Recipe}
	}
	r, err := requestFor(d, s)
	if err != nil {
		return cure.Dose{}, err
	}
	return cure.Compute(r)
}

// requestFor is requestOf with the curing salt out of the jar that the phrase names. What it
// says of the salt beside the jar must be what the jar holds.
func requestFor(d grammar.Dose, s Settings) (cure.Request, error) {
	r := requestOf(d, s)
	if d.Jar == "" {
		return r, nil
	}
	agent, err := s.jarOf(d.Jar)
	if err != nil {
		return r, err
	}
	if said := r.Agent.Value; said.Kind != cure.NoAgent && said.Kind != agent.Kind || d.Nitrite.Set() && keptStrength(d.Nitrite.Value) != keptStrength(agent.Nitrite) || d.Nitrate.Set() && keptStrength(d.Nitrate.Value) != keptStrength(agent.Nitrate) {
		return r, &jarRefused{name: d.Jar, why: jarOther, asked: said, holds: agent}
	}
	r.Agent = cure.Given[cure.Agent]{Value: agent, Origin: cure.FromJar}
	return r, nil
}

// requestOf is what a phrase says of a dose, beside the settings.
func requestOf(d grammar.Dose, s Settings) cure.Request {
	r := cure.Request{
		Region: s.Region, On: s.Today,
		Cut: d.Cut, Pieces: d.Pieces, Method: d.Method, Days: d.Days,
		Agent:   agentOf(d, s.CureFrom),
		Nitrite: d.Target, Rate: d.Rate,
		Salt: d.Salt, SaltOnTop: d.SaltOnTop, Sugar: d.Sugar, Ascorbate: d.Ascorbate,
		Thickness: d.Thickness, Sides: d.Sides, Thicknesses: d.Thicknesses, SkinOn: d.SkinOn, Heated: d.Heated, Temperature: d.Temperature,
		Water: d.Water, Pump: d.Pump, Cover: d.Cover,
		CureScale: s.CureScale,
	}
	if byDefault := agentOf(s.Default, cure.FromKitchen); byDefault.Set() && !r.Agent.Set() {
		r.Agent = cure.Given[cure.Agent]{Value: byDefault.Value, Origin: cure.FromKitchen}
	}
	if s.Default.Salt.Set() && !r.Salt.Set() && r.Method.Value != cure.SaltBox {
		r.Salt = cure.Given[cure.Fraction]{Value: s.Default.Salt.Value, Origin: cure.FromKitchen}
	}
	return r
}

func agentOf(d grammar.Dose, from cure.Origin) cure.Given[cure.Agent] {
	if d.Kind == cure.NoAgent {
		return cure.Given[cure.Agent]{}
	}
	a := cure.Typed(cure.Agent{Kind: d.Kind, Nitrite: d.Nitrite.Value, Nitrate: d.Nitrate.Value})
	if from != cure.Unset {
		a.Origin = from
	}
	return a
}

// notHere is a phrase that names something which the records don't hold.
type notHere struct{ what, name string }

func (n *notHere) Error() string { return "bot: no " + n.what + " " + n.name }
