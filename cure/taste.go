package cure

// Confit and fish are salted for taste: no cure is proposed, the days are no measure of
// anything, and there is no core to reach.

// coldAirless is from where non-proteolytic Clostridium botulinum grows, without air, as
// under fat or in a bag.
// Source: FDA Bad Bug Book, growth factors.
const coldAirless Celsius = 3.3

// forTaste reports whether the salting is for taste alone.
func (r Request) forTaste(cut Cut) bool { return r.Method.Value == Confit || cut.Group == fish }

// remarkTaste says what salting for taste means for keeping.
func (w *work) remarkTaste(d *Dose) {
	if !w.r.forTaste(w.cut) {
		return
	}
	d.caution(CodeTaste, Note, 0, 0)
	if w.r.Method.Value == Confit {
		d.caution(CodeConfit, w.unlessHeated(Warn), float64(coldAirless), 0)
	}
}
