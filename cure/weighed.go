package cure

import "math"

// Weighed is what was weighed out beside what a dose asks for.
type Weighed struct {
	Want    Gram // cure, as the dose card has it
	Off     Gram // from it; below zero: too little
	Within  bool // what two readings of the scale can't tell apart from it
	Slip    int  // the decimal point slipped: 1 for ten times as much, -1 for a tenth; 0: it did not
	Nitrite PPM  // NaNO2 that the grams come to, on Basis
	Nitrate PPM
	Basis   Basis
	Limits  []Check // of the grams as they were weighed
}

// Over is the first enforced limit that the grams are above; false: none.
func (w Weighed) Over() (Check, bool) {
	for _, c := range w.Limits {
		if c.Verdict == Over && c.Limit.Enforced {
			return c, true
		}
	}
	return Check{}, false
}

// slip is how near ten times or a tenth of the dose counts as a slip of the decimal point:
// more than any scale is off, common practice, no source.
const slip = 0.05

// Weigh compares grams of cure on the scale with the dose of a request. They agree within one
// division of the cure scale: the band of two readings, k = 2, is 0.82 of one, and a scale
// shows whole ones. The error is Compute's.
func Weigh(r Request, got Gram) (Weighed, error) {
	w, _, d, err := reckon(r)
	if err != nil {
		return Weighed{}, err
	}
	out := Weighed{Basis: w.basis}
	for _, a := range d.Add {
		if a.Item == CureItem {
			out.Want = a.Weigh
		}
	}
	out.Off = got - out.Want
	out.Within = withinDivision(out.Off, w.r.CureScale.Value)
	if out.Want > 0 && !out.Within {
		for decade, times := range map[int]Gram{1: 10, -1: 0.1} {
			if math.Abs(float64(got/(out.Want*times))-1) <= slip {
				out.Slip = decade
			}
		}
	}
	m := w.with(got)
	out.Nitrite, out.Nitrate = ratio(m.nitrite, w.mass), ratio(m.nitrate, w.mass)
	for _, one := range w.rules {
		if one.applies(m) {
			out.Limits = append(out.Limits, w.check(one, m))
		}
	}
	return out, nil
}

// withinDivision reports whether a difference is no more than one division, without the dust
// of binary fractions.
func withinDivision(off, division Gram) bool {
	return math.Abs(float64(off)) <= float64(division)*(1+1e-6)
}

// SaltWithin reports whether plain salt was weighed near enough: within a hundredth of it, or
// one division of the scale where that is more. Common practice, no source: salt that is a
// hundredth off is neither tasted nor a danger.
func SaltWithin(got, want, division Gram) bool {
	return math.Abs(float64(got-want)) <= math.Max(0.01*float64(want), float64(division))*(1+1e-6)
}

// ScaleWithin reports whether a scale shows a check weight as it should: within one division.
func ScaleWithin(shown, weight, division Gram) bool { return withinDivision(shown-weight, division) }

// JarFall is what a jar lost between two weighings, and what is known to have been taken.
type JarFall struct {
	Before, After Gram // the jar, with all that is in it
	Others        Gram // taken for other batches meanwhile, in all
	Uses          int  // in how many weighings
	Dose          Gram // of the batch that is asked about
	Division      Gram // of the scale
}

// Left is what the jar lost beyond what was taken for others.
func (j JarFall) Left() Gram { return j.Before - j.After - j.Others }

// Band is how far weighings alone may carry Left from the truth, k = 2: two of the jar, and
// one for each other use, each against a tare.
func (j JarFall) Band() Gram {
	return Gram(2*twoReadings*math.Sqrt(float64(2+j.Uses))) * j.Division
}

// Evidence is what a jar's weights say of a dose.
type Evidence uint8

// What they can say. None of it says that a batch is safe.
const (
	EvidenceUnknown Evidence = iota // they fit neither, or both
	EvidenceTaken                   // consistent with the dose having been taken
	EvidenceNot                     // consistent with nothing having been taken for it
)

// Says is what the weights say: Unknown where they fit both or neither.
func (j JarFall) Says() Evidence {
	near := func(want Gram) bool { return math.Abs(float64(j.Left()-want)) <= float64(j.Band())*(1+1e-6) }
	switch taken, not := near(j.Dose), near(0); {
	case taken && !not:
		return EvidenceTaken
	case not && !taken:
		return EvidenceNot
	}
	return EvidenceUnknown
}
