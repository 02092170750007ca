package cure

import "slices"

// Abroad is a dose of one region beside the rules of another.
type Abroad struct {
	Region  Region
	Class   string   // the row of classes.csv that decides there
	Limits  []Check  // the very grams of the dose, exact, beside that region's limits; nothing here is a stop
	Changed []string // agents that are over, or under a minimum, in one of the two regions and not in the other
	Dose    Dose     // what the same request is answered with there, with the same cure; zero where Err is set
	Err     error    // *Stop or *Missing of it
}

// Compare answers a request in its own region, and sets the same grams on the same meat
// beside the rules of others. A cure is taken abroad with its strength; where none was
// proposed at home, the other region proposes for itself. The error is that of Compute in
// the home region, or a *Missing region.
func Compare(r Request, others ...Region) (Dose, []Abroad, error) {
	home, err := Compute(r)
	if err != nil {
		return Dose{}, nil, err
	}
	var all []Abroad
	for _, region := range others {
		one, err := home.abroad(r, region)
		if err != nil {
			return Dose{}, nil, err
		}
		all = append(all, one)
	}
	return home, all, nil
}

// abroad sets a dose beside the rules of a region.
func (d Dose) abroad(r Request, region Region) (Abroad, error) {
	one := Abroad{Region: region}
	there := d.Request
	there.Region = Given[Region]{region, r.Region.Origin}
	cut, _ := FindCut(there.Cut)
	c, ok := findClass(region, cut.Group, there.Method.Value, there.Heated.Value)
	if !ok {
		return one, &Missing{What: "region", Request: there}
	}
	one.Class = c.name
	home, _ := findClass(d.Request.Region.Value, cut.Group, there.Method.Value, there.Heated.Value)
	m := newWork(d.Request, cut, home).with(d.cure())
	w := newWork(there, cut, c)
	for _, rule := range w.rules {
		if rule.applies(m) {
			one.Limits = append(one.Limits, w.check(rule, m))
		}
	}
	one.Changed = changed(d.Limits, one.Limits)
	r.Region = there.Region
	if d.Request.Agent.Origin != FromRule || d.Request.Agent.Value.Kind != NoCure {
		r.Agent, r.Strength = d.Request.Agent, d.Request.Strength
	}
	one.Dose, one.Err = Compute(r)
	return one, nil
}

// cure is the exact weight of cure in a dose.
func (d Dose) cure() Gram {
	for _, a := range d.Add {
		if a.Item == CureItem {
			return a.Exact
		}
	}
	return 0
}

// changed are the agents that pass a limit, or miss a minimum, in one list and not in the
// other.
func changed(here, there []Check) (agents []string) {
	for _, agent := range []string{"nitrite", "nitrate", "ascorbate"} {
		out := func(checks []Check) bool {
			return slices.ContainsFunc(checks, func(c Check) bool {
				return c.Limit.concerns(agent) && (c.Verdict == Over || c.Verdict == BelowMin)
			})
		}
		if out(here) != out(there) {
			agents = append(agents, agent)
		}
	}
	return agents
}
