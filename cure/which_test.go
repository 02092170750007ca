package cure

import (
	"errors"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

const week = 7 * day

func TestWhich(t *testing.T) {
	for _, one := range []struct {
		region  Region
		cut     string
		hanging time.Duration
		heated  Given[bool]
		want    []AgentKind
		why     string
		barred  string // the limit that bars no. 2
		source  string
	}{
		{"us", "pork belly", 0, Given[bool]{}, []AgentKind{No1}, WhyHeated, "us-bacon-nitrate", "9 CFR 424.22(b): no nitrate in bacon"},
		{"us", "pork belly", 12 * week, Given[bool]{}, []AgentKind{No1}, WhyNoNitrate, "us-bacon-nitrate", "9 CFR 424.22(b): no nitrate in bacon"},
		{"us", "boneless ham", 39 * week, Given[bool]{}, []AgentKind{No2}, WhyLong, "", "9 CFR 424.21(c): nitrate in dry cured"},
		{"us", "coppa", 8 * week, Given[bool]{}, []AgentKind{No2}, WhyLong, "", "9 CFR 424.21(c): nitrate in dry cured"},
		{"us", "coppa", 3 * week, Given[bool]{}, []AgentKind{No1}, WhyShort, "", "common practice"},
		{"us", "ground pork", 10 * week, Given[bool]{}, []AgentKind{No2}, WhyLong, "", "9 CFR 424.21(c): nitrate in chopped meat"},
		{"us", "ground pork", 0, Typed(true), []AgentKind{No1}, WhyHeated, "", "common practice"},
		{"eu", "boneless ham", 0, Typed(true), []AgentKind{NitritedSalt, No1}, WhyHeated, "eu-heated-nitrate", "Reg. (EU) 2023/2108 08.3.2, note 59"},
		{"eu", "coppa", 12 * week, Given[bool]{}, []AgentKind{No2}, WhyUnverified, "", "Reg. (EU) 2023/2108 08.3.1: nitrate, from memory"},
		{"gb", "coppa", 12 * week, Given[bool]{}, []AgentKind{No2}, WhyLong, "", "Reg. (EC) 1333/2008 08.3.1: nitrate 150"},
		{"gb", "pork belly", 0, Given[bool]{}, []AgentKind{No1}, WhyHeated, "gb-heated-nitrate", "Reg. (EC) 1333/2008 08.3.2: none"},
		{"ca", "coppa", 12 * week, Given[bool]{}, []AgentKind{No2}, WhyTotal, "", "CFIA MOP ch. 4, 4.13: nitrite and nitrate in any combination"},
		{"jp", "coppa", 12 * week, Given[bool]{}, []AgentKind{NoCure}, WhySilent, "", "Japanese use standards: residual only"},
	} {
		a, err := Which(Occasion{Region: in(one.region), Cut: one.cut, Hanging: one.hanging, Heated: one.heated})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(a.Kinds, one.want) || !slices.ContainsFunc(a.Reasons, func(r Reason) bool { return r.Code == one.why }) {
			t.Errorf("%s %s, %v: %v %+v (%s)", one.region, one.cut, one.hanging, a.Kinds, a.Reasons, one.source)
		}
		id := ""
		for _, b := range a.Barred {
			if b.Kind == No2 {
				id = b.Limit.ID
			}
		}
		if id != one.barred {
			t.Errorf("%s %s: no. 2 is barred by %q, want %q (%s)", one.region, one.cut, id, one.barred, one.source)
		}
	}
	a, err := Which(Occasion{Region: in("us"), Cut: "duck breast", Method: Typed(Confit)})
	if err != nil || !slices.Equal(a.Kinds, []AgentKind{NoCure}) || a.Reasons[0].Code != WhyTaste {
		t.Errorf("confit: %+v %v", a, err)
	}
}

func TestWhichRefuses(t *testing.T) {
	var missing *Missing
	var stop *Stop
	if _, err := Which(Occasion{Cut: "coppa"}); !errors.As(err, &missing) || missing.What != "region" {
		t.Error(err)
	}
	if _, err := Which(Occasion{Region: in("us"), Cut: "pork chop"}); !errors.As(err, &missing) || missing.What != "cut" {
		t.Error(err)
	}
	if _, err := Which(Occasion{Region: in("us"), Cut: "ground pork", Method: Typed(DryRub)}); !errors.As(err, &stop) || stop.Rule != StopNotCut {
		t.Error(err)
	}
	if _, err := Which(Occasion{Region: in("us"), Cut: "coppa", Method: Typed(Method(99))}); !errors.As(err, &missing) || missing.What != "method" {
		t.Error(err)
	}
	for _, bad := range []time.Duration{-1, 6 * 365 * day} {
		if _, err := Which(Occasion{Region: in("us"), Cut: "coppa", Hanging: bad}); !errors.As(err, &stop) || stop.Rule != StopImplausible {
			t.Errorf("hung for %v: %v", bad, err)
		}
	}
}

// TestWhichIsLawful: what is proposed is not barred, and Compute has a dose of it.
func TestWhichIsLawful(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cut := rapid.SampledFrom(house().cuts).Draw(t, "cut")
		o := Occasion{Region: in(rapid.SampledFrom(Regions()).Draw(t, "region")), Cut: cut.Name,
			Hanging: time.Duration(rapid.IntRange(0, 400).Draw(t, "days")) * day}
		if rapid.Bool().Draw(t, "say") {
			o.Heated = Typed(rapid.Bool().Draw(t, "heated"))
		}
		a, err := Which(o)
		if err != nil {
			t.Fatal(err)
		}
		if a.Reasons[0].Code == "" || len(a.Kinds) == 0 {
			t.Fatalf("no reason: %+v", a)
		}
		for _, k := range a.Kinds {
			if slices.ContainsFunc(a.Barred, func(b Barred) bool { return b.Kind == k }) {
				t.Fatalf("%v is proposed and barred", k)
			}
			strength := map[AgentKind]Agent{No1: {No1, 0.0625, 0}, No2: {No2, 0.0625, 0.04}, NitritedSalt: {NitritedSalt, 0.006, 0}, NoCure: {Kind: NoCure}}[k]
			r := Request{Region: o.Region, Cut: o.Cut, Pieces: []Gram{5000}, Agent: Typed(strength), Method: a.Occasion.Method, Heated: a.Occasion.Heated,
				Salt: Typed(Fraction(0.03))}
			if r.Method.Value == CoverBrine {
				r.Water = Typed(Gram(5000))
			}
			var stop *Stop
			if _, err := Compute(r); errors.As(err, &stop) && (stop.Rule == StopOver || stop.Rule == StopNitrate || stop.Rule == StopSilent) {
				t.Fatalf("%v: %+v", k, stop)
			}
		}
	})
}

func BenchmarkWhich(b *testing.B) {
	o := Occasion{Region: in("us"), Cut: "boneless ham", Hanging: 39 * week}
	for b.Loop() {
		if _, err := Which(o); err != nil {
			b.Fatal(err)
		}
	}
}
