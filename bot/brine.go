package bot

import (
	"salthand/cure"
	"salthand/cure/brine"
	"salthand/cure/water"
	"salthand/grammar"
)

// brine answers about a strength of brine: what to weigh, and the same on the other scales.
func (f figured) brine(c grammar.Brine) figured {
	salt, err := brineStrength(c)
	if err != nil {
		return f.refused(err, grammar.Dose{})
	}
	r := brine.Recipe{Salt: salt, Volume: brine.Litre(c.Volume.Value), Weight: c.Weight.Value, Of: brine.OfBrine, Coldest: standsAt}
	if c.OfWater {
		r.Of = brine.OfWater
	}
	f.answer.SaltPct = some(100 * float64(salt))
	if r.Volume > 0 || r.Weight > 0 {
		m, err := r.Mix()
		if err != nil {
			return f.refused(err, grammar.Dose{})
		}
		f.card.Weigh = []Weigh{
			{Item: f.l.say("salt"), Amount: grams(m.Salt, 1), Note: f.l.say("all of it, the salt in a cure included")},
			{Item: f.l.say("water"), Amount: grams(m.Water, 1), Note: trimmed(float64(m.WaterVolume), 2) + " l"},
		}
		f.answer.Add = []MachineAmount{{Item: "salt", Grams: float64(m.Salt), WeighG: float64(m.Salt)}, {Item: "water", Grams: float64(m.Water), WeighG: float64(m.Water)}}
		f.fact(f.l.say("makes"), f.l.say("%s l of brine", trimmed(float64(m.Volume), 2)))
	}
	f.fact(f.l.say("the same"), sameStrength(f.l, salt)...)
	if t, err := brine.Freezing(salt); err == nil {
		f.fact(f.l.say("freezes"), f.l.say("from %s °C on", trimmed(float64(t), 1)))
	}
	f.warn(Warning{Level: cure.Note.String(), Code: "brine", Text: f.l.say("a brine of salt alone cures nothing: for a dose, name the meat, like  3 kg brisket, brine 4 l")})
	return f
}

// meterAt is the temperature at which water activity is measured.
const meterAt cure.Celsius = 25 // °C, common practice

// standsAt is how cold a brine is taken to stand.
const standsAt cure.Celsius = 2 // °C, a walk-in's; common practice, no source

// brineStrength is the salt in a gram of the brine, by the scale that was typed.
func brineStrength(c grammar.Brine) (cure.Fraction, error) {
	switch {
	case c.Salometer.Set() && c.Temperature.Set():
		return brine.Usual.Salt(brine.Degree(c.Salometer.Value), c.Temperature.Value)
	case c.Salometer.Set():
		return brine.Reading{Number: float64(c.Salometer.Value), Scale: brine.Salometer}.Salt()
	case c.Baume.Set():
		return brine.Reading{Number: float64(c.Baume.Value), Scale: brine.Baume}.Salt()
	case c.PerLitre.Set() && c.OfWater:
		return brine.Reading{Number: float64(c.PerLitre.Value), Scale: brine.GramsPerLitreOfWater}.Salt()
	case c.PerLitre.Set():
		return brine.Reading{Number: float64(c.PerLitre.Value), Scale: brine.GramsPerLitreOfBrine}.Salt()
	}
	return c.Salt.Value, nil
}

// sameStrength is a strength on the scales that kitchens use.
func sameStrength(l tongue, salt cure.Fraction) (lines []string) {
	for _, one := range []struct {
		scale  brine.Scale
		digits int
		words  string
	}{
		{brine.PercentOfBrine, 2, msg("%s %% of the brine")}, {brine.PercentOfWater, 2, msg("%s g to 100 g of water")}, {brine.Salometer, 1, msg("%s °salometer at 60 °F")},
		{brine.Baume, 1, msg("%s °Baumé")}, {brine.Gravity, 4, msg("specific gravity %s")}, {brine.GramsPerLitreOfBrine, 1, msg("%s g in a litre of brine")},
		{brine.GramsPerLitreOfWater, 1, msg("%s g to a litre of water")}, {brine.PoundsPerUSGallonOfWater, 3, msg("%s lb to a US gallon of water")},
		{brine.PoundsPerImpGallonOfWater, 3, msg("%s lb to an imperial gallon of water")},
	} {
		if r, err := brine.On(one.scale, salt); err == nil {
			lines = append(lines, l.say(one.words, trimmed(r.Number, one.digits)))
		}
	}
	return lines
}

// desalt answers how low a soak can bring the salt.
func (f figured) desalt(c grammar.Desalt) figured {
	s := brine.Soak{Salt: c.Salt.Value, Water: c.Water.Value}
	for _, p := range c.Meat.Pieces {
		s.Meat += p
	}
	var lines []string
	for n := 1; n <= 3; n++ {
		floor, err := s.Floor(n)
		if err != nil {
			return f.refused(err, c.Meat)
		}
		if n == 1 {
			f.answer.SaltPct = some(100 * float64(floor))
		}
		lines = append(lines, f.l.say("%d water: no lower than %s", n, percent(floor, 2)))
	}
	f.fact(f.l.say("floor"), lines...)
	if c.Want.Set() {
		n, err := s.Changes(c.Want.Value)
		if err != nil {
			return f.refused(err, c.Meat)
		}
		f.fact(f.l.say("to %s", percent(c.Want.Value, 2)), f.l.say("%d waters of this size at the least", n))
	}
	f.fact(f.l.say("time"), f.l.say("hours to a day for each, cold, at or below 5 °C; fry a slice before each change"))
	f.warn(Warning{Level: cure.Note.String(), Code: "soak", Text: f.l.say("a soak takes salt out and does nothing else: nitrite that is in counts as in")})
	return f
}

// waterActivity answers for salt in water, or an estimate for meat with its honest band.
func (f figured) waterActivity(c grammar.WaterActivity) figured {
	at := c.Temperature.Or(meterAt, cure.FromRule).Value
	if c.Solution {
		a, err := water.Solution{Salt: c.Salt.Value, At: at}.Activity()
		if err != nil {
			return f.refused(err, grammar.Dose{})
		}
		f.answer.Activity = &MachineActivity{float64(a), float64(a), float64(a)}
		f.fact(f.l.say("water activity"), f.l.say("%s of %s salt in water at %s °C", fixed(float64(a), 4), percent(c.Salt.Value, 2), trimmed(float64(at), 1)))
		return f
	}
	m := water.Meat{Salt: c.Salt.Value, Water: c.Water.Value, Sugar: c.Sugar.Value, At: at}
	band, err := m.Activity()
	if err != nil {
		return f.refused(err, grammar.Dose{})
	}
	phase, err := m.Phase()
	if err != nil {
		return f.refused(err, grammar.Dose{})
	}
	f.answer.Activity = &MachineActivity{float64(band.Low), float64(band.Likely), float64(band.High)}
	f.fact(f.l.say("water activity"), f.l.say("likely %s, between %s and %s", fixed(float64(band.Likely), 3), fixed(float64(band.Low), 3), fixed(float64(band.High), 3)))
	f.fact(f.l.say("salt in its water"), percent(phase, 2))
	f.warn(Warning{Level: cure.Warn.String(), Code: "estimate", Text: f.l.say("an estimate, and no measurement: only the highest figure may be leaned on, and a meter decides")})
	return f
}

// balanceLines are what the meat of a cover brine has in the end, by the rule of the law's
// handbook and by the water of the meat: they part ways for fat cuts.
func balanceLines(l tongue, d cure.Dose) []string {
	b, ok := balanceOf(d)
	if !ok {
		return nil
	}
	return []string{l.say("by the water of the meat: %s salt, %s nitrite; a fat cut takes up less than the mass rule says", percent(b.salt.ByWater, 2), ppm(cure.PPM(b.nitrite.ByWater*1e6)))}
}

// balance is what the meat of a tub has of salt and of nitrite.
type balance struct{ salt, nitrite brine.Balance }

// balanceOf is the balance of a dose in a cover brine; false for other methods.
func balanceOf(d cure.Dose) (b balance, ok bool) {
	cut, known := cure.FindCut(d.Request.Cut)
	if d.Request.Method.Value != cure.CoverBrine || !known {
		return b, false
	}
	tub := brine.Tub{Wet: cut.Water, Water: d.Request.Water.Value, Solute: d.SaltTotal}
	for _, p := range d.Request.Pieces {
		tub.Meat += p
	}
	var err error
	if b.salt, err = tub.Balance(); err != nil {
		return b, false
	}
	tub.Solute = cure.Gram(d.Nitrite) * 1e-6 * d.BasisMass
	b.nitrite, err = tub.Balance()
	return b, err == nil
}
