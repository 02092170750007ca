package cure

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"salthand/cure/published"
)

// kindNamed is the kind of a name of AgentKind.String.
func kindNamed(t *testing.T, name string) AgentKind {
	t.Helper()
	for k := NoCure; k <= VegetablePowder; k++ {
		if k.String() == name {
			return k
		}
	}
	t.Fatalf("no cure %q", name)
	return NoAgent
}

func doneOf(l published.Line) Checked {
	l.T.Helper()
	m, ok := methodNamed(l.Cell["method"])
	if !ok {
		l.T.Fatal(l.Cell)
	}
	c := Checked{
		Meant: Request{Region: in(Region(l.Cell["region"])), Cut: l.Cell["cut"], Pieces: []Gram{Gram(l.Number("meat_g"))},
			Method: Typed(m), SaltOnTop: l.Cell["on_top"] == "yes"},
		Salt: Gram(l.Or0("salt_g")), Sugar: Gram(l.Or0("sugar_g")), Pickle: Gram(l.Or0("pickle_g")), Marinade: l.Cell["marinade"] == "yes",
	}
	set(l, "pump", &c.Meant.Pump)
	set(l, "water_g", &c.Meant.Water)
	set(l, "cover_g", &c.Meant.Cover)
	set(l, "target_ppm", &c.Meant.Nitrite)
	if l.Cell["meant"] != "" {
		c.Meant.Agent = Typed(Agent{Kind: kindNamed(l.T, l.Cell["meant"])})
	}
	if l.Cell["kind"] != "" {
		c.Cures = []Put{{
			Agent: Agent{kindNamed(l.T, l.Cell["kind"]), Fraction(l.Or0("nitrite_pct") / 100), Fraction(l.Or0("nitrate_pct") / 100)},
			Grams: Range[Gram]{Gram(l.Number("low_g")), Gram(l.Number("likely_g")), Gram(l.Number("high_g"))},
		}}
	}
	return c
}

func (f Found) bound(kind string) float64 {
	for i := len(f.Bounds) - 1; i >= 0; i-- {
		if f.Bounds[i].Kind == kind {
			return float64(f.Bounds[i].Nitrite.Likely)
		}
	}
	return -1
}

func yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// figure is what a row wants of what was found.
func (f Found) figure(l published.Line) float64 {
	l.T.Helper()
	any := func(fits func(Finding) bool) float64 { return yes(slices.ContainsFunc(f.Limits, fits)) }
	switch l.Cell["want"] {
	case "nitrite ppm":
		return float64(f.Nitrite.Likely)
	case "nitrite low":
		return float64(f.Nitrite.Low)
	case "nitrite high":
		return float64(f.Nitrite.High)
	case "nitrate ppm":
		return float64(f.Nitrate.Likely)
	case "compared ppm":
		return float64(f.Limits[0].Got.Likely)
	case "times target":
		return float64(f.Nitrite.Likely / f.Target)
	case "likely is unknown":
		return yes(f.Nitrite.Likely == 0 && f.Limits[0].Verdict == 0)
	case "salt %":
		return 100 * float64(f.Salt.Likely)
	case "salt total g":
		return float64(f.SaltTotal.Likely)
	case "right g":
		return float64(f.Right)
	case "right salt g":
		return float64(f.RightSalt)
	case "extra meat to target g":
		return float64(f.Dilution.Target.Likely)
	case "never":
		return yes(f.Dilution != nil && f.Dilution.Never)
	case "slip":
		return float64(f.Slip)
	case "top up g":
		return float64(f.TopUp.Cure.Exact)
	case "top up salt g":
		return float64(f.TopUp.Salt.Exact)
	case "no top up":
		return yes(f.TopUp == nil)
	case "no nitrite":
		return yes(f.level(CodeNoNitrite) == Hold)
	case "on top ppm":
		return float64(f.OnTop)
	case "most pump %":
		return 100 * float64(f.MostPump)
	case "pick-up ppm":
		return f.bound(BoundPickUp)
	case "even ppm":
		return f.bound(BoundEven)
	case "all ppm":
		return f.bound(BoundAll)
	case "pump ppm":
		return float64(f.bound(BoundPump))
	case "over low":
		return any(func(one Finding) bool { return one.Low == Over && one.Limit.Enforced })
	case "below min":
		return any(func(one Finding) bool { return one.Verdict == BelowMin })
	}
	l.T.Fatalf("%v: what is wanted?", l.Cell)
	return 0
}

func examine(t *testing.T, c Checked) Found {
	t.Helper()
	f, err := Examine(c)
	if err != nil {
		t.Fatalf("%+v: %v", c, err)
	}
	return f
}

func TestCheckDone(t *testing.T) {
	for _, l := range published.Lines(t, "check_done.csv") {
		f := examine(t, doneOf(l))
		l.Near(f.figure(l), l.Number("value"), l.Number("tolerance"))
	}
}

func TestSpoon(t *testing.T) {
	for _, l := range published.Lines(t, "check_spoon.csv") {
		r := Teaspoon(l.Number("teaspoons")).Cure()
		l.Near(float64(r.Low), l.Number("low_g"), l.Number("tolerance"))
		l.Near(float64(r.Likely), l.Number("likely_g"), l.Number("tolerance"))
		l.Near(float64(r.High), l.Number("high_g"), l.Number("tolerance"))
	}
}

func done(grams Gram) Checked {
	return Checked{Meant: belly(3200), Salt: 72.5, Cures: []Put{{Agent: Agent{Kind: No1}, Grams: Exactly(grams)}}}
}

// TestCheckHolds: what has to be held is, and what is as it should be isn't.
func TestCheckHolds(t *testing.T) {
	spoon := done(8)
	spoon.Cures[0].Grams, spoon.Cures[0].Spoon = Teaspoon(1.5).Cure(), true
	soaked := done(8)
	soaked.Meant.Method, soaked.Meant.Water, soaked.Marinade = Typed(CoverBrine), Typed(Gram(2000)), true
	late := done(5)
	late.Age = Typed(3 * day)
	finished := done(5)
	finished.Finished = true
	two := done(8)
	two.Cures = append(two.Cures, Put{Agent: Agent{Kind: No2}, Grams: Exactly(Gram(8))})
	two.Meant.Agent = Typed(Agent{Kind: No1})
	for _, one := range []struct {
		name string
		c    Checked
		code string
		held bool
	}{
		{"as it should be", done(8), "", false},
		{"over", done(12), CodeOver, true},
		{"above the target alone", done(9), CodeAboveTarget, false},
		{"by the spoon", spoon, CodeSpoon, true},
		{"a marinade", soaked, CodeMarinade, true},
		{"below the minimum", done(5), CodeBelowMin, true},
		{"too late", late, CodeTopUpLate, true},
		{"finished", finished, CodeNoTopUp, true},
		{"no cure at all", Checked{Meant: belly(3200), Salt: 80}, CodeNoNitrite, true},
		{"both of the two", two, CodeForbidden, true},
		{"both of the two", two, CodeNitrateIn, true},
	} {
		f := examine(t, one.c)
		if f.Held() != one.held || one.code != "" && f.level(one.code) == 0 {
			t.Errorf("%s: held %v, %+v", one.name, f.Held(), f.Cautions)
		}
		if f.TopUp != nil && (one.code == CodeSpoon || one.code == CodeMarinade || one.code == CodeNoTopUp || f.OnTop > 0) {
			t.Errorf("%s: a top-up of %+v", one.name, f.TopUp)
		}
	}
	if f := examine(t, late); f.TopUp == nil || f.TopUp.Open {
		t.Errorf("late: %+v", f.TopUp)
	}
}

func TestCheckDilution(t *testing.T) {
	for _, one := range []struct {
		cut      string
		finished bool
		mixable  bool
	}{{"ground pork", false, true}, {"ground pork", true, false}, {"pork belly", false, false}} {
		c := done(16)
		c.Meant.Cut, c.Finished = one.cut, one.finished
		f := examine(t, c)
		if f.Dilution == nil || f.Dilution.Mixable != one.mixable {
			t.Fatalf("%+v: %+v", one, f.Dilution)
		}
		// 312.5 ppm on 3.2 kg: as much again to 156.25. 9 CFR 424.21(c): 156.25 ground, 424.22(b): 200 rubbed.
		closeTo(t, "to the target", float64(f.Dilution.Target.Likely), 3200, 0.01)
		limit := 3200.0
		if one.cut == "pork belly" {
			limit = 1800 // 312.5 / 200 × 3.2 kg less 3.2 kg
		}
		closeTo(t, "to the limit", float64(f.Dilution.Limit.Likely), limit, 0.01)
	}
}

// TestCheckNitrateAlone: saltpetre is checked as what it holds of sodium nitrate, 0.84067 of
// its weight by the molar masses, and is never topped up by nitrite.
func TestCheckNitrateAlone(t *testing.T) {
	c := Checked{Meant: Request{Region: in("us"), Cut: "pork loin", Pieces: []Gram{2000}, Nitrate: Typed(PPM(700))},
		Cures: []Put{{Agent: Agent{Kind: Saltpetre}, Grams: Exactly(Gram(2))}}}
	f := examine(t, c)
	closeTo(t, "nitrate", float64(f.Nitrate.Likely), 840.67, 0.005)
	closeTo(t, "right", float64(f.Right), 1.6653, 0.00005) // 1.4 g of NaNO3 / 0.84067
	if f.Target != 0 || f.TopUp != nil || f.level(CodeNitrateOnly) != Hold {
		t.Errorf("%v ppm, %+v, %+v", f.Target, f.TopUp, f.Cautions)
	}
	c.Meant.Nitrate, c.Meant.Agent = Given[PPM]{}, Typed(Agent{Kind: No1}) // no. 1 was meant
	if f := examine(t, c); f.OnTop != f.Target || f.level(CodeNitrateIn) != Hold || f.TopUp != nil {
		t.Errorf("%v on top, %+v", f.OnTop, f.Cautions)
	}
}

func TestCheckRefuses(t *testing.T) {
	for _, one := range []struct {
		rule   string
		change func(*Checked)
	}{
		{StopStrength, func(c *Checked) { c.Cures[0].Agent = Agent{No1, 0.625, 0} }},
		{StopStrength, func(c *Checked) { c.Cures[0].Agent = Agent{HouseCure, 0.6, 0.6} }},
		{StopStrength, func(c *Checked) { c.Cures[0].Agent = Agent{No1, 0.0625, 0.04} }},
		{StopImplausible, func(c *Checked) { c.Cures[0].Grams = Range[Gram]{8, 7, 9} }},
		{StopImplausible, func(c *Checked) { c.Cures[0].Grams = Exactly(Gram(0)) }},
		{StopImplausible, func(c *Checked) { c.Salt = -1 }},
		{StopImplausible, func(c *Checked) { c.Meant.Method, c.Pickle = Typed(Injection), 100 }},
		{StopNotMethod, func(c *Checked) { c.Marinade = true }},
		{StopNotMethod, func(c *Checked) { c.Cures[0] = Put{Agent{PureNitrite, 1, 0}, Teaspoon(1).Cure(), true} }},
		{StopTwoTargets, func(c *Checked) { c.Meant.Nitrite, c.Meant.Rate = Typed(PPM(120)), Typed(Fraction(0.0025)) }},
	} {
		c := done(8)
		one.change(&c)
		_, err := Examine(c)
		if stop, ok := err.(*Stop); !ok || stop.Rule != one.rule {
			t.Errorf("want %s: %v", one.rule, err)
		}
	}
	eu := done(8)
	eu.Meant.Region = in("eu")
	if _, err := Examine(eu); err == nil || err.(*Missing).What != "strength" {
		t.Errorf("no usual strength there: %v", err)
	}
}

// TestDoseThenCheck: what a dose says to weigh, checked, is the dose's own figure, at every
// method; twice of it is twice.
func TestDoseThenCheck(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		d, err := Compute(r)
		if err != nil || d.Request.Agent.Value.Kind == NoCure {
			return
		}
		c := Checked{Meant: r}
		for _, a := range d.Add {
			switch a.Item {
			case CureItem:
				c.Cures = []Put{{Agent: d.Request.Agent.Value, Grams: Exactly(a.Exact)}}
			case SaltItem:
				c.Salt = a.Exact
			}
		}
		c.Meant.Method = d.Request.Method
		f, err := Examine(c)
		if err != nil {
			t.Fatal(err)
		}
		if f.Class != d.Class || f.Basis != d.Basis || !near(float64(f.Nitrite.Likely), float64(d.Nitrite), 1e-9) || !near(float64(f.Nitrate.Likely), float64(d.Nitrate), 1e-9) ||
			!near(float64(f.Salt.Likely), float64(d.Salt), 1e-6) {
			t.Fatalf("dose %v %v ppm, %v nitrate, %v salt; found %v %+v, %+v, %+v", d.Basis, d.Nitrite, d.Nitrate, d.Salt, f.Basis, f.Nitrite, f.Nitrate, f.Salt)
		}
		if len(f.Limits) < len(d.Limits)-1 { // ascorbate isn't looked at
			t.Fatalf("%d limits of %d", len(f.Limits), len(d.Limits))
		}
		f.sound(t)
		c.Cures[0].Grams = Exactly(2 * c.Cures[0].Grams.Likely)
		two, err := Examine(c)
		if err != nil {
			t.Fatal(err)
		}
		if !near(float64(two.Nitrite.Likely), float64(2*f.Nitrite.Likely), 1e-9) {
			t.Fatalf("%v of one, %v of two", f.Nitrite, two.Nitrite)
		}
	})
}

func near(got, want, relative float64) bool {
	return got == want || got-want < relative*want && want-got < relative*want
}

// sound looks at every number of what was found.
func (f Found) sound(t *rapid.T) {
	numbers := []float64{float64(f.BasisMass), float64(f.SaltMass), float64(f.Target), float64(f.Right), float64(f.RightSalt), float64(f.OnTop), float64(f.MostPump)}
	ranges := []Range[PPM]{f.Nitrite, f.Nitrate}
	for _, b := range f.Bounds {
		ranges = append(ranges, b.Nitrite)
	}
	for _, one := range f.Limits {
		ranges = append(ranges, one.Got)
	}
	for _, r := range ranges {
		numbers = append(numbers, float64(r.Low), float64(r.Likely), float64(r.High))
		if r.Low > r.High*(1+1e-9) {
			t.Fatalf("the low end is higher: %+v", r)
		}
	}
	if d := f.Dilution; d != nil {
		numbers = append(numbers, float64(d.Target.High), float64(d.Limit.High), float64(d.Target.Low), float64(d.Limit.Low))
	}
	if u := f.TopUp; u != nil {
		numbers = append(numbers, float64(u.Cure.Exact), float64(u.Cure.Weigh), float64(u.Salt.Exact), float64(u.Salt.Weigh))
	}
	for _, x := range numbers {
		if !(x >= 0) || x > 1e15 {
			t.Fatalf("%v in %+v", x, f)
		}
	}
}

// TestCheckAnything: whatever numbers come, the answer is sound or an error.
func TestCheckAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := func(name string) float64 { return rapid.Float64().Draw(t, name) }
		r := anyDry(t, anyRequest(t))
		r.Nitrite = Given[PPM]{}
		low := Gram(number("low"))
		c := Checked{Meant: r, Salt: Gram(number("salt")), Pickle: Gram(rapid.Float64Range(0, 1e6).Draw(t, "pickle")),
			Cures: []Put{{Agent: Agent{
				Kind:    AgentKind(rapid.IntRange(0, 12).Draw(t, "kind")),
				Nitrite: Fraction(rapid.Float64Range(-0.1, 1.1).Draw(t, "nitrite")), Nitrate: Fraction(rapid.Float64Range(-0.1, 0.3).Draw(t, "nitrate")),
			}, Grams: Range[Gram]{low, low, Gram(number("high"))}}},
			Marinade: rapid.Bool().Draw(t, "marinade"), Age: Typed(time.Duration(rapid.Int64().Draw(t, "age")))}
		if rapid.Bool().Draw(t, "plausible") {
			c.Salt, c.Cures[0].Grams = Gram(rapid.Float64Range(0, 500).Draw(t, "g")), Range[Gram]{1, 20, 50}
		}
		if f, err := Examine(c); err == nil {
			f.sound(t)
		}
	})
}

func BenchmarkExamine(b *testing.B) {
	c := done(12)
	for b.Loop() {
		if _, err := Examine(c); err != nil {
			b.Fatal(err)
		}
	}
}
