package cure

import (
	"time"

	"salthand/cure/diffuse"
)

// Spell is a stretch of elapsed time at one temperature, as a log or a person tells it.
type Spell struct {
	For time.Duration
	At  Celsius // −60 to 20; below −1 the meat is frozen and the cure stands still
}

// Course is how far a cure has come.
type Course struct {
	Elapsed time.Duration // of all spells
	Frozen  time.Duration // of that below −1 °C: it doesn't count
	Warm    time.Duration // of that above 4.4 °C (40 °F)
	TooWarm time.Duration // of that above 5 °C (41 °F): for the approver, whatever the core says

	Criterion bool                 // false: there is no core to reach (ground, confit, fish); only the above is filled in
	Core      Band3[Fraction]      // share of equilibrium at the core; salt box: of the target
	Mean      Band3[Fraction]      // salt box: salt of the meat, by mean
	Left      Band3[time.Duration] // until Timing.To's criterion, at the request's temperature; 0: reached
}

var (
	spellSpan  = span{"temperature", -60, 20, "°C"} // outside it nothing is known of the diffusion
	courseSpan = span{"days", 0, 1000, "d"}
)

const freezes Celsius = -1 // unsalted meat, common practice; package diffuse takes the same

// Progress says how far a request has come after spells at several temperatures, one after
// the other, and what is left of the time at the temperature of the request. Days of the
// request don't matter. The accuracy is that of the band: a factor of two. The error is that
// of Compute, or a *Stop for a spell that can't be.
func Progress(r Request, spells []Spell) (Course, error) {
	w, m, d, err := reckon(r)
	if err != nil {
		return Course{}, err
	}
	c, err := run(spells, w.r)
	if err != nil {
		return Course{}, err
	}
	if !w.criterion() {
		return c, nil
	}
	c.Criterion = true
	p, err := w.path(&d, m)
	if err != nil {
		return Course{}, err
	}
	warmth := make([]diffuse.Spell, len(spells))
	for i, s := range spells {
		warmth[i] = diffuse.Spell{For: s.For, At: diffuse.Celsius(s.At)}
	}
	for i, speed := range speeds {
		tau, err := speed.Over(warmth, p.length)
		if err != nil {
			return Course{}, err
		}
		rate, err := speed.At(diffuse.Celsius(w.r.Temperature.Value))
		if err != nil {
			return Course{}, err
		}
		*c.Core.at(i), *c.Mean.at(i) = p.after(tau)
		*c.Left.at(i) = rate.Time(max(0, p.to-tau), p.length)
	}
	return c, nil
}

// run adds up spells.
func run(spells []Spell, r Request) (c Course, err error) {
	for _, s := range spells {
		if err := spellSpan.check(float64(s.At), r); err != nil {
			return Course{}, err
		}
		if err := courseSpan.check(s.For.Hours()/24, r); err != nil {
			return Course{}, err
		}
		c.Elapsed += s.For
		if err := courseSpan.check(c.Elapsed.Hours()/24, r); err != nil {
			return Course{}, err
		}
		switch {
		case s.At < freezes:
			c.Frozen += s.For
		case s.At > warmest:
			c.TooWarm += s.For
			c.Warm += s.For
		case s.At > warmFrom:
			c.Warm += s.For
		}
	}
	return c, nil
}
