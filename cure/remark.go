package cure

import "time"

// longHanging is how long a no. 1 cure is asked for before its lack of nitrate is worth a
// word: nitrite alone is spent in the long run. Common practice, no source.
const longHanging = 30 * 24 * time.Hour

// boar is the cut whose worms survive what kills those of a pig.
const boar = "wild boar"

// remark adds the cautions that follow from the request and from the verdicts.
func (w *work) remark(d *Dose) {
	r, a := w.r, w.r.Agent.Value
	if r.Strength == FromRule {
		d.caution(CodeStrength, Note, 100*float64(a.Nitrite), 100*float64(a.Nitrate))
	}
	if a.Kind == NoCure {
		level := w.unlessHeated(Warn)
		if w.cut.Group == fish { // nobody expects a cure in it
			level = Warn
		}
		d.caution(CodeNoCure, level, 0, 0)
	}
	w.remarkTaste(d)
	w.remarkSalt(d)
	for _, c := range d.Limits {
		got, bound := float64(c.Got), float64(c.Limit.Value)
		switch {
		case c.Verdict == At && c.Limit.caps():
			d.caution(CodeAtLimit, Note, got, bound)
		case c.Verdict == BelowMin:
			d.caution(CodeBelowMin, Hold, got, bound)
		case c.Verdict == Over: // an enforced one would have been a stop
			d.caution(CodeUnverified, Hold, got, bound)
		case c.Verdict == NotCheckable:
			d.caution(CodeResidual, Note, 0, bound)
		}
	}
	if t := r.Temperature.Value; t > warmFrom {
		d.caution(CodeWarm, Warn, float64(t), float64(warmFrom))
	}
	switch w.cut.Group {
	case "poultry":
		d.caution(CodePoultry, Note, 0, 0)
	case "game", "whole game":
		d.caution(CodeGame, Warn, 0, 0)
	case fish:
		d.caution(CodeFish, Warn, 0, 0)
	}
	if w.cut.Name == boar {
		d.caution(CodeBoar, w.unlessHeated(Warn), 0, 0)
	}
	if a.Kind == No1 && r.Days.Value > longHanging {
		d.caution(CodeLongHanging, Note, r.Days.Value.Hours()/24, longHanging.Hours()/24)
	}
}

// remarkSalt says what comes with the salts that are no usual cure.
func (w *work) remarkSalt(d *Dose) {
	r, a := w.r, w.r.Agent.Value
	if a.Kind.nitrateOnly() {
		level := Warn
		if r.Heated.Value || r.Days.Set() && r.Days.Value < longHanging {
			level = Hold
		}
		d.caution(CodeNitrateOnly, level, r.Days.Value.Hours()/24, longHanging.Hours()/24)
	}
	switch a.Kind {
	case Saltpetre:
		d.caution(CodeSaltpetre, Note, float64(a.Nitrate), 0)
	case VegetablePowder:
		d.caution(CodePowder, Warn, 100*float64(a.Nitrite), 0)
	}
}

// unlessHeated is the level where heat follows, and Hold where none does.
func (w *work) unlessHeated(level Level) Level {
	if w.r.Heated.Value {
		return level
	}
	return Hold
}
