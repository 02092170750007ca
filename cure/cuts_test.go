package cure

import (
	"testing"
	"time"
)

// TestCuts: what the cuts bring along.
func TestCuts(t *testing.T) {
	for _, one := range []struct {
		cut          string
		method       Method
		skin, heated bool
		agent        AgentKind
		code         string
		level        Level
	}{
		{"pork jowl", DryRub, true, false, No1, CodeStrength, Note},
		{"back fat", DryRub, true, false, No1, CodeStrength, Note},
		{"beef cheek", CoverBrine, false, true, No1, CodeStrength, Note},
		{"beef tongue", CoverBrine, false, true, No1, CodeStrength, Note},
		{"lamb leg", DryRub, false, false, No1, CodeStrength, Note},
		{"duck leg", Confit, false, true, NoCure, CodePoultry, Note},
		{"goose breast", DryRub, false, false, No1, CodePoultry, Note},
		{"venison haunch", DryRub, false, false, No1, CodeGame, Warn},
		{"wild boar", DryRub, false, true, No1, CodeBoar, Warn},
		{"salmon", DryRub, true, false, NoCure, CodeFish, Warn},
	} {
		r := Request{Region: in("us"), Cut: one.cut, Pieces: []Gram{2000}}
		if one.method == CoverBrine {
			r.Water = Typed(Gram(2000))
		}
		d := compute(t, r)
		q := d.Request
		if q.Method.Value != one.method || q.SkinOn.Value != one.skin || q.Heated.Value != one.heated || q.Agent.Value.Kind != one.agent {
			t.Errorf("%s: %v, skin %v, heated %v, %v", one.cut, q.Method.Value, q.SkinOn, q.Heated, q.Agent.Value)
		}
		if d.level(one.code) != one.level {
			t.Errorf("%s: want %q at %v: %+v", one.cut, one.code, one.level, d.Cautions)
		}
	}
	raw := Request{Region: in("us"), Cut: "wild boar", Pieces: []Gram{2000}, Heated: Typed(false)}
	if d := compute(t, raw); d.level(CodeBoar) != Hold || d.level(CodeGame) != Warn {
		t.Errorf("raw boar: %+v", d.Cautions)
	}
}

// TestFish: no law for an amount, no cure proposed, days for taste.
func TestFish(t *testing.T) {
	for _, region := range Regions() {
		d := compute(t, Request{Region: in(region), Cut: "salmon", Pieces: []Gram{1500}})
		if d.Nitrite != 0 || d.Time.Criterion || d.Time.PlanFor != 24*time.Hour ||
			d.level(CodeSilent) != Note || d.level(CodeTaste) != Note || d.level(CodeNoCure) != Warn {
			t.Errorf("%s: %+v %+v", region, d.Time, d.Cautions)
		}
	}
	asked := Request{Region: in("us"), Cut: "salmon", Pieces: []Gram{1500}, Agent: agentOf(6.25), Nitrite: Typed(PPM(120))}
	d := compute(t, asked)
	if d.level(CodeSilent) != Hold || d.verdict("us-fish-residual-nitrite") != NotCheckable {
		t.Errorf("%+v %+v", d.Limits, d.Cautions)
	}
}
