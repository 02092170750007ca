package cure

import (
	"testing"

	"pgregory.net/rapid"
)

// TestTopUpReaches: with what is missing added, nothing is missing, and no limit is passed.
func TestTopUpReaches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(0.05, 0.95).Draw(t, "share")
		c := done(Gram(8 * share))
		c.Meant.Cut = rapid.SampledFrom([]string{"pork belly", "ground pork", "pork loin"}).Draw(t, "cut")
		f, err := Examine(c)
		if err != nil || f.TopUp == nil {
			t.Fatalf("%v: %+v", err, f.Cautions)
		}
		c.Cures[0].Grams = Exactly(c.Cures[0].Grams.Likely + f.TopUp.Cure.Exact)
		c.Salt += f.TopUp.Salt.Exact
		after, err := Examine(c)
		if err != nil || after.TopUp != nil || !near(float64(after.Nitrite.Likely), float64(f.Target), 1e-9) {
			t.Fatalf("%v: %v after, %v meant", err, after.Nitrite, f.Target)
		}
		if one := after.passed(); one != "" {
			t.Fatalf("topped up over %s", one)
		}
		if f.TopUp.NitriteThen > f.Target*(1+1e-9) {
			t.Fatalf("on the scale it comes to %v, over %v", f.TopUp.NitriteThen, f.Target)
		}
	})
}

// passed is an enforced limit that is passed, "" for none.
func (f Found) passed() string {
	for _, one := range f.Limits {
		if one.High == Over && one.Limit.Enforced {
			return one.Limit.ID
		}
	}
	return ""
}

// TestTopUpKeepsToLimits: whatever a brine holds, what is missing never carries it over.
func TestTopUpKeepsToLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		r.Agent = Typed(rapid.SampledFrom([]Agent{{No1, 0.0625, 0}, {No2, 0.0625, 0.04}, {HouseCure, 0.01, 0}}).Draw(t, "cure"))
		c := Checked{Meant: r, Salt: r.Pieces[0] * Gram(rapid.Float64Range(0, 0.05).Draw(t, "plain salt")),
			Cures: []Put{{Agent: r.Agent.Value, Grams: Exactly(r.Pieces[0] * Gram(rapid.Float64Range(0.0001, 0.002).Draw(t, "rate")))}}}
		f, err := Examine(c)
		if err != nil || f.TopUp == nil {
			return
		}
		c.Cures[0].Grams = Exactly(c.Cures[0].Grams.Likely + f.TopUp.Cure.Weigh)
		c.Salt += f.TopUp.Salt.Weigh
		after, err := Examine(c)
		if err != nil || after.passed() != "" || after.Nitrite.Likely > f.Target*(1+1e-9) {
			t.Fatalf("%v: %v after, %v meant, over %s", err, after.Nitrite, f.Target, after.passed())
		}
	})
}

// TestMostPump: pumped by that much, the pickle is on the limit, and by more it is over.
func TestMostPump(t *testing.T) {
	for _, region := range []Region{"us", "eu", "gb", "ca", "cn"} {
		for _, cut := range []string{"pork belly", "boneless ham"} {
			for _, pump := range []Fraction{0.05, 0.1, 0.3} {
				c := Checked{Meant: Request{Region: in(region), Cut: cut, Pieces: []Gram{5000}, Pump: Typed(pump), Method: Typed(Injection)}, Pickle: 5000,
					Cures: []Put{{Agent: Agent{No1, 0.0625, 0}, Grams: Exactly(Gram(150))}}}
				most := examine(t, c).MostPump
				if !(most > 0.01 && most < 0.6) {
					t.Errorf("%s %s: most %v", region, cut, most)
					continue
				}
				c.Meant.Pump = Typed(most)
				at := examine(t, c)
				c.Meant.Pump = Typed(most * 1.02)
				if over := examine(t, c); at.passed() != "" || over.passed() == "" {
					t.Errorf("%s %s: %v pump: over %q at it, %q above it", region, cut, most, at.passed(), over.passed())
				}
			}
		}
	}
}
