package cure

// judgeSalt refuses what salt and nitrite can't meet together, and a brine that won't
// dissolve.
func (w *work) judgeSalt(d *Dose, m mix) error {
	asked := w.r.Salt.Origin != FromRule
	most := w.r.Salt.Value
	if !asked {
		most = max(most, floatingSalt)
	}
	const slack = 1e-9
	if share := Fraction(m.inCure / w.saltMass); !w.r.SaltOnTop && share > most*(1+slack) {
		return &Stop{Rule: StopCoupled, Got: 100 * float64(share), Max: 100 * float64(most), Unit: "%",
			PPM: d.Nitrite * PPM(most/share), Request: d.Request}
	}
	if m.water > 0 || w.pickle > 0 {
		strength := Fraction(m.salt / (m.salt + max(0, m.water)))
		if strength > saturated*(1+slack) {
			holds := w.brineHolds(m, saturated)
			stop := &Stop{Rule: StopBrine, Got: 100 * float64(strength), Max: 100 * float64(saturated), Unit: "%",
				Source: "Salt Institute, solubility of salt in water at 0 °C",
				Salt:   Fraction(holds / w.saltMass), Request: d.Request}
			if m.inCure > holds {
				stop.PPM = d.Nitrite * PPM(holds/m.inCure)
			}
			return stop
		}
		if strength > workableBrine*saturated*(1+slack) {
			d.caution(CodeStrongBrine, Warn, 100*float64(strength), 100*float64(saturated))
		}
	}
	percent, rule, high := 100*float64(d.Salt), 100*float64(w.usualSalt()), Fraction(0.04)
	if w.r.Method.Value == SaltBox {
		high = boxHigh
	}
	switch {
	case asked:
	case d.Salt > w.usualSalt()*(1+slack) && !w.r.SaltOnTop:
		d.caution(CodeFloated, Note, percent, rule)
	case d.Salt < w.usualSalt()*(1-slack):
		d.caution(CodeSaltLowered, Note, percent, rule)
	}
	switch {
	case d.Salt > high*(1+slack):
		d.caution(CodeSaltHigh, Warn, percent, 100*float64(high))
	case d.Salt < 0.015*(1-slack):
		d.caution(CodeSaltLow, Warn, percent, 1.5)
	}
	return nil
}
