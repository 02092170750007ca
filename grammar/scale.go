package grammar

import "salthand/cure"

// The phrases about the scales and the weighing.
type (
	// MeatScale: "meat scale 5 g".
	MeatScale struct{ Division cure.Gram }
	// ScaleChecked is a check weight on a scale: "scale checked 99.9 g of 100 g".
	ScaleChecked struct {
		Meat   bool                  // the meat scale; else the cure scale
		Shown  cure.Gram             // what the scale showed
		Weight cure.Given[cure.Gram] // as stamped on the check weight
	}
	// SecondReading: "second reading off": what was weighed is not read by another person.
	SecondReading struct{ On bool }
	// CheckWeight: "check weight on": nothing is weighed in before the scale was checked that day.
	CheckWeight struct{ On bool }
)

func (MeatScale) command()     {}
func (ScaleChecked) command()  {}
func (SecondReading) command() {}
func (CheckWeight) command()   {}

// kept reads toks[from:] as a phrase about jars, scales or weighing in. Neither a command nor
// an error: it is none.
func (r *reading) kept(from int, ofBatch bool) (Command, error) {
	t := r.toks[from]
	switch {
	case t.kind == jarKind:
		return r.jarOrder(from, ofBatch)
	case t.kind == stepKind && t.value == "weigh":
		return r.weighedIn(from)
	case t.kind != verbKind:
		return nil, nil
	}
	switch t.value {
	case "seen":
		return r.seen(from)
	case "added":
		if ofBatch { // in the channel it tells of something gone wrong
			return r.addedIn(from)
		}
	case "jars":
		if from+1 == len(r.toks) {
			return Jars{}, nil
		}
	case "meat scale":
		return r.meatScale(from)
	case "scale checked", "meat scale checked":
		return r.scaleChecked(from)
	case "second reading", "check weight":
		if t.value == "check weight" && from+1 < len(r.toks) && r.toks[from+1].kind == numberKind {
			return r.scaleChecked(from)
		}
		if from+2 != len(r.toks) || r.toks[from+1].kind != verbKind {
			break
		}
		on := r.toks[from+1].value == "switch on"
		switch {
		case !on && r.toks[from+1].value != "switch off":
		case t.value == "check weight":
			return CheckWeight{on}, nil
		default:
			return SecondReading{on}, nil
		}
	}
	return nil, nil
}

func (r *reading) meatScale(from int) (Command, error) {
	t := r.toks[from+1:]
	if len(t) == 0 || t[0].kind != numberKind {
		return nil, nil
	}
	g, n, err := r.gramsAt(t)
	switch {
	case err != nil:
		return nil, err
	case n != len(t):
		return nil, nil
	case g > 1000:
		return nil, r.fail("too big", stretch{t[0].start, t[n-1].end})
	}
	return MeatScale{g}, nil
}

func (r *reading) scaleChecked(from int) (Command, error) {
	t := r.toks[from+1:]
	if len(t) == 0 || t[0].kind != numberKind {
		return nil, nil
	}
	out := ScaleChecked{Meat: r.toks[from].value == "meat scale checked"}
	g, n, err := r.gramsAt(t)
	if err != nil {
		return nil, err
	}
	out.Shown = g
	if n < len(t) && t[n].kind == numberKind {
		g, more, err := r.gramsAt(t[n:])
		if err != nil {
			return nil, err
		}
		out.Weight, n = cure.Typed(g), n+more
	}
	if n != len(t) {
		e := r.fail("unknown word", stretch{t[n].start, t[n].end})
		e.Example = "scale checked 99.9 g of 100 g"
		return nil, e
	}
	return out, nil
}

func (c MeatScale) canonical() string { return "meat scale " + unmistaken(float64(c.Division)) + " g" }

func (c ScaleChecked) canonical() string {
	out := "scale checked " + weighed(c.Shown)
	if c.Meat {
		out = "meat " + out
	}
	if c.Weight.Set() {
		out += " of " + weighed(c.Weight.Value)
	}
	return out
}

func (c SecondReading) canonical() string { return "second reading " + onOff(c.On) }
func (c CheckWeight) canonical() string   { return "check weight " + onOff(c.On) }
