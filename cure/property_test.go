package cure

import (
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// anyRequest draws a request of a kitchen: mostly plausible, over all cuts, methods, regions
// and cures.
func anyRequest(t *rapid.T) Request {
	cut := rapid.SampledFrom(house().cuts).Draw(t, "cut")
	r := Request{
		Region: in(rapid.SampledFrom(Regions()).Draw(t, "region")),
		Cut:    cut.Name, Pieces: []Gram{Gram(rapid.Float64Range(200, 50000).Draw(t, "meat"))},
		CureScale: Typed(rapid.SampledFrom([]Gram{0.01, 0.1, 1}).Draw(t, "scale")),
		Agent: Typed(rapid.SampledFrom([]Agent{
			{No1, 0.0625, 0}, {No1, 0.0588, 0}, {No2, 0.0625, 0.04}, {No2, 0.0567, 0.0363},
			{NitritedSalt, 0.006, 0}, {NitritedSalt, 0.009, 0}, {NoCure, 0, 0},
		}).Draw(t, "agent")),
		SkinOn:    Given[bool]{rapid.Bool().Draw(t, "skin"), FromKitchen},
		SaltOnTop: rapid.Bool().Draw(t, "on top"),
	}
	if cut.Method != Ground {
		r.Method = Typed(rapid.SampledFrom([]Method{DryRub, CoverBrine, Injection, InjectionCover, Ground}).Draw(t, "method"))
	}
	liquid := r.Pieces[0] * Gram(rapid.Float64Range(0.3, 3).Draw(t, "liquid"))
	switch r.Method.Value {
	case CoverBrine:
		r.Water = Typed(liquid)
	case Injection:
		r.Pump = Typed(Fraction(rapid.Float64Range(0.08, 0.3).Draw(t, "pump")))
	case InjectionCover:
		r.Cover = Typed(liquid)
	}
	if rapid.Bool().Draw(t, "a target") && r.Agent.Value.Kind != NoCure {
		r.Nitrite = Typed(PPM(rapid.Float64Range(60, 250).Draw(t, "target")))
	}
	if rapid.Bool().Draw(t, "a salt") {
		r.Salt = Typed(Fraction(rapid.Float64Range(0.01, 0.06).Draw(t, "salt")))
	}
	if rapid.Bool().Draw(t, "days") {
		r.Days = Typed(time.Duration(rapid.IntRange(1, 90).Draw(t, "days")) * day)
	}
	return r
}

// anyDry is the request by one of the dry methods that weigh no salt into the meat, now and
// then.
func anyDry(t *rapid.T, r Request) Request {
	if r.Method.Value == DryRub {
		r.Method.Value = rapid.SampledFrom([]Method{DryRub, SaltBox, Confit}).Draw(t, "dry")
		r.SaltOnTop = r.SaltOnTop && r.Method.Value != SaltBox
	}
	return r
}

// TestAnyDose holds for whatever can be asked.
func TestAnyDose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyDry(t, anyRequest(t))
		d, err := Compute(r)
		if err != nil {
			var stop *Stop
			var missing *Missing
			if !errors.As(err, &stop) && !errors.As(err, &missing) {
				t.Fatalf("an error of no type: %v", err)
			}
			return
		}
		cure := d.sound(t)
		// The grams give the target back.
		if back := float64(cure.Exact) * float64(d.Request.Agent.Value.Nitrite) / float64(d.BasisMass) * 1e6; math.Abs(back-float64(d.Nitrite)) > 1e-6 {
			t.Fatalf("grams give %v ppm, the dose says %v", back, d.Nitrite)
		}
		if asked := d.Request.Nitrite; asked.Origin == Asked && math.Abs(float64(asked.Value/d.Nitrite-1)) > 1e-9 {
			t.Fatalf("asked for %v, got %v", asked.Value, d.Nitrite)
		}
		if math.Abs(float64(cure.Weigh-cure.Exact)) > 1.5*float64(d.Request.CureScale.Value)*(1+1e-6) {
			t.Fatalf("the scale moved %v to %v", cure.Exact, cure.Weigh)
		}
		d.neverOver(t, cure.Weigh)
		// An answered request asked again gives the same answer.
		again, err := Compute(d.Request)
		if err != nil || again.Nitrite != d.Nitrite || again.SaltTotal != d.SaltTotal || again.Basis != d.Basis {
			t.Fatalf("asked again: %v: %v ppm, %v g salt", err, again.Nitrite, again.SaltTotal)
		}
	})
}

// sound looks at every number of a dose, and gives its cure.
func (d Dose) sound(t *rapid.T) (cure Amount) {
	numbers := []float64{float64(d.BasisMass), float64(d.SaltMass), float64(d.Nitrite), float64(d.Nitrate), float64(d.AsWeighed),
		float64(d.Salt), float64(d.SaltTotal), float64(d.SaltInCure), float64(d.Band), float64(d.Pickle), float64(d.Time.PlanFor),
		float64(d.Time.To.Slow), float64(d.Time.To.Likely), float64(d.Time.To.Fast)}
	for _, a := range append(d.Add, d.PerKilo...) {
		numbers = append(numbers, float64(a.Exact), float64(a.Weigh))
	}
	for _, c := range d.Limits {
		numbers = append(numbers, float64(c.Got))
		if c.Verdict == Over && c.Limit.Enforced {
			t.Fatalf("a dose over %s", c.Limit.ID)
		}
	}
	for _, x := range numbers {
		if !(x >= 0) || math.IsInf(x, 0) {
			t.Fatalf("%v in %+v", x, d)
		}
	}
	if d.Time.To.Fast > d.Time.To.Likely || d.Time.To.Likely > d.Time.To.Slow {
		t.Fatalf("the fast end is slower: %+v", d.Time.To)
	}
	for _, a := range d.Add {
		if a.Item == CureItem {
			cure = a
		}
	}
	return cure
}

// neverOver reckons what the scale shows by hand: on the basis of each limit that can be
// had from the answer alone.
func (d Dose) neverOver(t *rapid.T, weigh Gram) {
	meat := d.Request.meat()
	if d.Request.SkinOn.Value && d.Class == "bacon" {
		meat *= 0.9
	}
	for _, c := range d.Limits {
		if !c.Limit.Enforced || c.Limit.Kind != "ingoing max" || c.Limit.Agent == "ascorbate" {
			continue
		}
		brings := Fraction(0)
		if c.Limit.concerns("nitrite") {
			brings += d.Request.Agent.Value.Nitrite
		}
		if c.Limit.concerns("nitrate") {
			brings += d.Request.Agent.Value.Nitrate
		}
		part := float64(weigh) * float64(brings) * 1e6
		on := float64(meat + d.Pickle)
		switch {
		case d.Request.Method.Value == Injection && d.Request.Region.Value == "us", slices.Contains([]Method{DryRub, Ground, SaltBox, Confit}, d.Request.Method.Value):
			on = float64(meat)
		case d.Request.Method.Value == CoverBrine:
			for _, a := range d.Add {
				on += float64(a.Exact)
			}
		}
		got := part / on * c.Limit.factor()
		if got > float64(c.Limit.Value)+0.5*math.Pow10(-c.Limit.Digits)+1e-6 {
			t.Fatalf("%v g makes %v, over %s of %v", weigh, got, c.Limit.ID, c.Limit.Value)
		}
	}
}

func TestTwiceTheMeatTwiceTheDose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyDry(t, anyRequest(t))
		one, err := Compute(r)
		if err != nil {
			return
		}
		r.Pieces = []Gram{r.Pieces[0], r.Pieces[0]}
		r.Water.Value *= 2
		r.Cover.Value *= 2
		two, err := Compute(r)
		if err != nil {
			t.Fatal(err)
		}
		for i, a := range one.Add {
			if math.Abs(float64(two.Add[i].Exact-2*a.Exact)) > 1e-6*float64(a.Exact) {
				t.Fatalf("%v: %v of one, %v of two", a.Item, a.Exact, two.Add[i].Exact)
			}
		}
	})
}

// TestStricterNeverAllowsMore puts a second limit beside those of a class.
func TestStricterNeverAllowsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		r.Nitrite = Given[PPM]{}
		cut, c, err := fill(&r)
		if err != nil || r.Agent.Value.Kind == NoCure || !bounded(c.inForce(r.On), "nitrite") {
			return
		}
		target := func(c class) float64 {
			w := newWork(r, cut, c)
			w.aim()
			return float64(w.mixed(w.r.Nitrite.Value).nitrite)
		}
		before := target(c)
		extra := c.rules[0]
		extra.limit.From, extra.limit.Until = time.Time{}, time.Time{}
		extra.limit.Value = PPM(rapid.Float64Range(20, 700).Draw(t, "another limit"))
		c.rules = append(append([]rule(nil), c.rules...), extra)
		if after := target(c); after > before*(1+1e-9) {
			t.Fatalf("one more limit of %v raised %v to %v", extra.limit.Value, before, after)
		}
	})
}
