package cure

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"salthand/cure/published"
)

// TestSalts: undiluted nitrates, house cures and powders, by dose on the meat.
func TestSalts(t *testing.T) {
	kinds := map[string]AgentKind{}
	for k := NoCure; k <= VegetablePowder; k++ {
		kinds[k.String()] = k
	}
	for _, l := range published.Lines(t, "salts.csv") {
		kind, ok := kinds[l.Cell["salt"]]
		if !ok {
			t.Fatalf("%v", l.Cell)
		}
		m, _ := methodNamed(l.Cell["method"])
		r := Request{Region: in(Region(l.Cell["region"])), Cut: l.Cell["cut"], Pieces: []Gram{Gram(l.Number("meat_g"))},
			Method: Typed(m), Heated: Typed(false), CureScale: Typed(Gram(0.001)), SaltOnTop: true, Agent: Typed(Agent{Kind: kind})}
		if l.Cell["strength_pct"] != "" {
			r.Agent.Value.Nitrite = Fraction(l.Number("strength_pct") / 100)
		}
		set(l, "rate", &r.Rate)
		set(l, "nitrate_ppm", &r.Nitrate)
		set(l, "nitrite_ppm", &r.Nitrite)
		l.Near(salty(l, r), l.Number("value"), l.Number("tolerance"))
	}
}

// salty is the figure of a dose that a row of salts.csv asks for.
func salty(l published.Line, r Request) float64 {
	l.T.Helper()
	if l.Cell["want"] == "stop ppm" {
		stop := stopped(l.T, r)
		if stop.Rule != StopOver || stop.Limit.Agent == "nitrite" && stop.Request.Agent.Value.Nitrite == 0 {
			l.T.Errorf("%v: %+v", l.Cell, stop)
		}
		return stop.Got
	}
	d := compute(l.T, r)
	switch l.Cell["want"] {
	case "nitrate ppm":
		return float64(d.Nitrate)
	case "nitrite ppm":
		return float64(d.Nitrite)
	case "g":
		return d.exact(CureItem)
	case "compared ppm":
		for _, c := range d.Limits {
			if c.Limit.concerns("nitrate") {
				return float64(c.Got)
			}
		}
	}
	l.T.Fatalf("%v: what is wanted?", l.Cell)
	return 0
}

func TestSaltRules(t *testing.T) {
	loin := func(a Agent) Request {
		return Request{Region: in("us"), Cut: "coppa", Pieces: []Gram{2000}, Agent: Typed(a)}
	}
	for _, one := range []struct {
		rule   string
		r      Request
		change func(*Request)
	}{
		{StopUndiluted, loin(Agent{Kind: PureNitrite}), func(*Request) {}},
		{StopUndiluted, loin(Agent{Kind: PureNitrite, Nitrite: 1}), func(r *Request) { r.Nitrite = Typed(PPM(150)) }},
		{StopNotNitrite, loin(Agent{Kind: Saltpetre}), func(r *Request) { r.Nitrite = Typed(PPM(150)) }},
		{StopTwoTargets, loin(Agent{Kind: Saltpetre}), func(r *Request) { r.Nitrate, r.Rate = Typed(PPM(150)), Typed(Fraction(0.001)) }},
		{StopTwoTargets, loin(Agent{Kind: No1}), func(r *Request) { r.Nitrate = Typed(PPM(150)) }},
		{StopTwoTargets, loin(Agent{Kind: NoCure}), func(r *Request) { r.Nitrate = Typed(PPM(150)) }},
		{StopAscorbate, loin(Agent{Kind: PureNitrate}), func(r *Request) { r.Ascorbate = Typed(PPM(500)) }},
		{StopNitrate, loin(Agent{Kind: Saltpetre}), func(r *Request) { r.Cut, r.Nitrate = "pork belly", Typed(PPM(150)) }},
		{StopNitrate, loin(Agent{Kind: PureNitrate}), func(r *Request) {
			r.Region, r.Heated, r.Nitrate = in("eu"), Typed(true), Typed(PPM(50))
		}},
		{StopNoNitrate, loin(Agent{Kind: PureNitrate}), func(r *Request) { r.Region, r.Nitrate = in("codex"), Typed(PPM(50)) }},
		{StopNoNitrate, loin(Agent{Kind: Saltpetre}), func(r *Request) { r.Region, r.Nitrate = in("jp"), Typed(PPM(50)) }},
		{StopStrength, loin(Agent{Kind: PureNitrate, Nitrate: 0.5}), func(r *Request) { r.Nitrate = Typed(PPM(50)) }},
		{StopStrength, loin(Agent{Kind: Saltpetre, Nitrite: 1}), func(r *Request) { r.Nitrate = Typed(PPM(50)) }},
		{StopStrength, loin(Agent{Kind: PureNitrate, Nitrate: Fraction(math.NaN())}), func(r *Request) { r.Nitrate = Typed(PPM(50)) }},
		{StopStrength, loin(Agent{Kind: HouseCure, Nitrite: 0.00002}), func(*Request) {}}, // 0.002 %: a slip
		{StopStrength, loin(Agent{Kind: HouseCure, Nitrite: 0.6}), func(*Request) {}},
		{StopStrength, loin(Agent{Kind: VegetablePowder, Nitrite: 0.2}), func(*Request) {}},
		{StopImplausible, loin(Agent{Kind: PureNitrate}), func(r *Request) { r.Nitrate = Typed(PPM(math.Inf(1))) }},
		{StopImplausible, loin(Agent{Kind: PureNitrate}), func(r *Request) { r.Nitrate = Typed(PPM(0)) }},
	} {
		one.change(&one.r)
		if stop := stopped(t, one.r); stop.Rule != one.rule || stop.Got-stop.Got != 0 {
			t.Errorf("want %s: %+v", one.rule, stop)
		}
	}
	confit := Request{Region: in("us"), Cut: "duck leg", Pieces: []Gram{2000}, Nitrate: Typed(PPM(150))}
	for what, r := range map[string]Request{
		"nitrate":  loin(Agent{Kind: Saltpetre}),
		"strength": loin(Agent{Kind: VegetablePowder}), // never silently
		"cure":     {Region: in("us"), Cut: "coppa", Pieces: []Gram{2000}, Nitrate: Typed(PPM(150))},
	} {
		var missing *Missing
		if _, err := Compute(r); !errors.As(err, &missing) || missing.What != what {
			t.Errorf("want a question for %s: %v", what, err)
		}
	}
	var missing *Missing
	if _, err := Compute(confit); !errors.As(err, &missing) || missing.What != "cure" {
		t.Errorf("nitrate asked for a confit, and no salt named: %v", err)
	}
	if _, err := Compute(loin(Agent{Kind: HouseCure})); !errors.As(err, &missing) || missing.What != "strength" {
		t.Errorf("a house cure of no strength: %v", err)
	}
}

func TestSaltCautions(t *testing.T) {
	r := Request{Region: in("us"), Cut: "coppa", Pieces: []Gram{2000}, Agent: Typed(Agent{Kind: Saltpetre}), Nitrate: Typed(PPM(500))}
	d := compute(t, r)
	if d.Nitrite != 0 || d.level(CodeNitrateOnly) != Warn || d.level(CodeSaltpetre) != Note || d.Request.Heated.Value || d.Band <= 0 {
		t.Errorf("%+v", d)
	}
	r.Days = Typed(10 * day)
	if d := compute(t, r); d.level(CodeNitrateOnly) != Hold {
		t.Errorf("10 days of nitrate alone: %+v", d.Cautions)
	}
	r.Agent, r.Nitrate = Typed(Agent{Kind: VegetablePowder, Nitrite: 0.0115}), Given[PPM]{}
	if d := compute(t, r); d.level(CodePowder) != Warn || d.Request.Strength != Asked || d.SaltInCure != 0 {
		t.Errorf("%+v", d.Cautions)
	}
	r.Agent = Given[Agent]{Agent{Kind: HouseCure, Nitrite: 0.006}, FromJar}
	d = compute(t, r)
	if d.Request.Strength != FromJar {
		t.Errorf("%+v", d.Request.Strength)
	}
	closeTo(t, "house cure", d.exact(CureItem), 2000*156.25e-6/0.006, 1e-9)
}

// TestNitrateBack: the grams of a nitrate give its target back, and asking again changes
// nothing.
func TestNitrateBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom([]AgentKind{PureNitrate, Saltpetre}).Draw(t, "kind")
		r := Request{Region: in(rapid.SampledFrom([]Region{"us", "gb", "ca", "cn", "eu"}).Draw(t, "region")), Cut: "coppa",
			Pieces: []Gram{Gram(rapid.Float64Range(500, 1e5).Draw(t, "meat"))}, CureScale: Typed(Gram(0.01)),
			Agent: Typed(Agent{Kind: kind}), Nitrate: Typed(PPM(rapid.Float64Range(20, 1000).Draw(t, "target")))}
		d, err := Compute(r)
		if err != nil {
			var stop *Stop
			if !errors.As(err, &stop) {
				t.Fatal(err)
			}
			return
		}
		equal := map[AgentKind]float64{PureNitrate: 1, Saltpetre: 0.84067}[kind]
		if back := d.exact(CureItem) * equal / float64(r.Pieces[0]) * 1e6; math.Abs(back/float64(r.Nitrate.Value)-1) > 1e-5 {
			t.Fatalf("the grams give %v back of %v", back, r.Nitrate.Value)
		}
		if again, err := Compute(d.Request); err != nil || again.exact(CureItem) != d.exact(CureItem) {
			t.Fatalf("asked again: %v", err)
		}
		twice := r
		twice.Pieces = []Gram{2 * r.Pieces[0]}
		twice.Days = Typed(40 * day)
		if two, err := Compute(twice); err != nil || math.Abs(two.exact(CureItem)/d.exact(CureItem)-2) > 1e-9 {
			t.Fatalf("twice the meat: %v", err)
		}
	})
}
