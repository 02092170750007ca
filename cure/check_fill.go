package cure

// usualPickUp is how much of a marinade or a dip meat takes up, of its weight, where nobody
// weighed it. Common practice, no source.
const usualPickUp Fraction = 0.10

// work fills in what was meant, and refuses what can't be.
func (c *Checked) work() (*work, error) {
	r := c.Meant
	r.Pieces = append([]Gram(nil), r.Pieces...)
	r.Temperature, r.Thickness, r.Ascorbate, r.Sugar = Given[Celsius]{}, Given[Millimetre]{}, Given[PPM]{}, Given[Fraction]{}
	if !r.Method.Set() && !r.Water.Set() && !r.Pump.Set() && !r.Cover.Set() {
		r.Method = Given[Method]{DryRub, FromRule}
		if cut, ok := FindCut(r.Cut); ok && cut.Method == Ground {
			r.Method.Value = Ground
		}
	}
	c.settlePickle(&r)
	meant, target, rate := r.Agent, r.Nitrite, r.Rate
	if !meant.Set() {
		meant = c.usualCure(r)
	}
	meant.Value = meant.Value.inRegion(r.Region.Value)
	if meant.Value.parts().nitrate > 0 && !r.Heated.Set() { // as for a dose with nitrate
		r.Heated = Given[bool]{false, FromRule}
	}
	nitrate := r.Nitrate
	r.Agent, r.Nitrite, r.Nitrate, r.Rate = Given[Agent]{Agent{Kind: NoCure}, FromRule}, Given[PPM]{}, Given[PPM]{}, Given[Fraction]{}
	cut, cl, err := fill(&r)
	if err != nil {
		return nil, err
	}
	r.Agent, r.Nitrite, r.Nitrate, r.Rate = meant, target, nitrate, rate
	if err := c.sound(r); err != nil {
		return nil, err
	}
	w := newWork(r, cut, cl)
	if c.Pickle > 0 && w.injected() && c.Pickle < w.pickle*(1-1e-6) {
		return nil, &Stop{Rule: StopImplausible, What: "pickle", Got: float64(c.Pickle), Min: float64(w.pickle), Unit: "g", Request: r}
	}
	return w, nil
}

// usualCure is what was meant where nobody says: the first of what went in, else what a dose
// of the same would be proposed.
func (c *Checked) usualCure(r Request) Given[Agent] {
	if len(c.Cures) > 0 {
		return Given[Agent]{c.Cures[0].Agent, FromRule}
	}
	if cut, ok := FindCut(r.Cut); ok {
		propose(&r, cut)
	}
	if r.Agent.Value.Kind == NoCure {
		return r.Agent
	}
	usual, _ := No1.usual(r.Region.Value)
	return Given[Agent]{usual, FromRule}
}

// settlePickle is the pickle that water and all that went in make, where it was injected.
func (c *Checked) settlePickle(r *Request) {
	injected := r.Pump.Set() || r.Cover.Set() || r.Method.Value == Injection || r.Method.Value == InjectionCover
	if !injected || !r.Water.Set() {
		return
	}
	if c.Pickle == 0 {
		c.Pickle = r.Water.Value + c.Salt + c.Sugar
		for _, p := range c.Cures {
			c.Pickle += p.Grams.Likely
		}
	}
	r.Water = Given[Gram]{}
}

// The plausible ranges of a check. Common practice, no source.
var (
	putSpan    = span{"cure", 1e-4, 1e7, "g"}
	addedSpan  = span{"salt", 0, 1e7, "g"}
	extraSpan  = span{"sugar", 0, 1e7, "g"}
	allPickle  = span{"pickle", 0, 1e8, "g"}
	pickUpSpan = span{"pick-up", 0.1, 60, "%"}
)

// sound refuses amounts, strengths and targets that can't be, and fills in the strengths of
// what went in.
func (c *Checked) sound(r Request) error {
	c.Cures = append([]Put(nil), c.Cures...)
	for i := range c.Cures {
		p := &c.Cures[i]
		if p.Agent = p.Agent.inRegion(r.Region.Value); p.Agent.parts().none() {
			return &Missing{What: "strength", Request: r}
		}
		if err := p.Agent.plausible(r); err != nil {
			return err
		}
		for _, g := range []Gram{p.Grams.Low, p.Grams.Likely, p.Grams.High} {
			if err := putSpan.check(float64(g), r); err != nil {
				return err
			}
		}
		if p.Grams.Low > p.Grams.Likely || p.Grams.Likely > p.Grams.High {
			return &Stop{Rule: StopImplausible, What: "cure", Got: float64(p.Grams.Low), Max: float64(p.Grams.High), Unit: "g", Request: r}
		}
		if a := p.Agent.Kind; p.Spoon && (a == PureNitrite || a == PureNitrate || a == Saltpetre) {
			return &Stop{Rule: StopNotMethod, What: "spoon", Request: r}
		}
	}
	if a := r.Agent.Value; a.Kind != NoCure && a.Kind != NoAgent {
		if a.parts().none() {
			return &Missing{What: "strength", Request: r}
		}
		if err := a.plausible(r); err != nil {
			return err
		}
	}
	if c.Marinade && r.Method.Value != CoverBrine {
		return &Stop{Rule: StopNotMethod, What: "marinade", Request: r}
	}
	if r.Nitrite.Set() && r.Rate.Set() {
		return &Stop{Rule: StopTwoTargets, Request: r}
	}
	c.PickUp = c.PickUp.Or(usualPickUp, FromRule)
	for _, one := range []struct {
		set  bool
		span span
		x    float64
	}{
		{true, addedSpan, float64(c.Salt)},
		{true, extraSpan, float64(c.Sugar)},
		{true, allPickle, float64(c.Pickle)},
		{true, pickUpSpan, 100 * float64(c.PickUp.Value)},
		{r.Nitrite.Set(), targetSpan, float64(r.Nitrite.Value)},
		{r.Nitrate.Set(), nitrateSpan, float64(r.Nitrate.Value)},
		{r.Rate.Set(), rateSpan, 100 * float64(r.Rate.Value)},
	} {
		if one.set {
			if err := one.span.check(one.x, r); err != nil {
				return err
			}
		}
	}
	return nil
}

func (c Checked) spoons() bool {
	for _, p := range c.Cures {
		if p.Spoon {
			return true
		}
	}
	return false
}
