package cure

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"testing"
	"time"
)

// TestOneRule walks every combination: one row of classes.csv decides, and it has a figure
// for whatever the cure brings.
func TestOneRule(t *testing.T) {
	for _, region := range Regions() {
		for _, cut := range house().cuts {
			for m := DryRub; m <= Confit; m++ {
				for _, heated := range []bool{true, false} {
					var found []class
					for _, c := range house().classes {
						if c.fits(region, cut.Group, m, heated) {
							found = append(found, c)
						}
					}
					if len(found) != 1 {
						t.Errorf("%s, %s, %v, heated %v: %d rows", region, cut.Name, m, heated, len(found))
						continue
					}
					for k := No1; k <= NitritedSalt; k++ {
						checkRules(t, found[0], k)
					}
				}
			}
		}
	}
}

// checkRules looks for a ruling on each agent that a cure brings, today and before the
// European change.
func checkRules(t *testing.T, c class, k AgentKind) {
	t.Helper()
	agents := []string{"nitrite"}
	if k == No2 {
		agents = append(agents, "nitrate")
	}
	for _, on := range []time.Time{{}, time.Date(2025, 10, 8, 0, 0, 0, 0, time.UTC), time.Date(2025, 10, 9, 0, 0, 0, 0, time.UTC)} {
		if !bounded(c.inForce(on), "nitrite") {
			if c.target != 0 || bounded(c.inForce(on), "nitrate") {
				t.Errorf("%s %s on %v: a target of %v, and no figure for nitrite", c.region, c.name, on, c.target)
			}
			continue
		}
		for _, agent := range agents {
			if !slices.ContainsFunc(c.inForce(on), func(r rule) bool { return r.limit.concerns(agent) && r.limit.caps() }) {
				t.Errorf("%s %s on %v: no figure for %s", c.region, c.name, on, agent)
			}
		}
	}
}

func TestLimitsAreUsed(t *testing.T) {
	for _, l := range Limits() {
		used := slices.ContainsFunc(house().classes, func(c class) bool {
			return slices.ContainsFunc(c.rules, func(r rule) bool { return r.limit.ID == l.ID })
		})
		if !used {
			t.Errorf("%s is in no class", l.ID)
		}
		if l.Source == "" || l.Enforced != (l.Seen == "text" || l.Seen == "secondary") {
			t.Errorf("%s: source %q, seen %q, enforced %v", l.ID, l.Source, l.Seen, l.Enforced)
		}
		if !slices.Contains([]string{"ingoing max", "ingoing min", "ingoing required", "residual max"}, l.Kind) ||
			!slices.Contains([]string{"NaNO2", "NO2 ion", "NaNO3", "NO3 ion", "sodium salt", "weight of salts"}, l.As) {
			t.Errorf("%s: kind %q, as %q", l.ID, l.Kind, l.As)
		}
	}
	for _, c := range house().classes {
		for _, r := range c.rules {
			known := slices.Contains([]string{"green", "pickle", "pumped", "dose"}, r.on)
			if known == (r.limit.Kind == "residual max") {
				t.Errorf("%s: %s is compared on %q", c.name, r.limit.ID, r.on)
			}
		}
	}
}

func TestInForce(t *testing.T) {
	r := Request{Region: in("eu"), Cut: "ground pork", Pieces: []Gram{10000}, Agent: agentOf(6.25), Nitrite: Typed(PPM(150))}
	// Reg. (EU) 2023/2108 applies from 9 October 2025.
	r.On = time.Date(2025, 10, 8, 23, 59, 0, 0, time.UTC)
	if d := compute(t, r); d.Limits[0].Limit.Value != 150 || d.Limits[0].Verdict != At {
		t.Errorf("the day before: %+v", d.Limits[0])
	}
	east := time.FixedZone("", 2*60*60) // there the day begins while it is the 8th in UTC
	for _, on := range []time.Time{{}, time.Date(2025, 10, 9, 0, 0, 0, 0, time.UTC), time.Date(2025, 10, 9, 0, 30, 0, 0, east)} {
		r.On = on
		if stop := stopped(t, r); stop.Limit.ID != "eu-heated-nitrite" {
			t.Errorf("on %v: %+v", on, stop.Limit)
		}
	}
}

func TestLawVersion(t *testing.T) {
	sum := fmt.Sprintf("%x", sha256.Sum256([]byte(limitsCSV+classesCSV)))[:12]
	if want := LawVersion[:len("2006-01-02 ")] + sum; LawVersion != want {
		t.Errorf("the law tables changed: LawVersion should be %q, with the day of the change", want)
	}
}
