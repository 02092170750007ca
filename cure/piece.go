package cure

import (
	"math"
	"slices"
)

// Piece is one of several sizes in a batch. By a dry method it is weighed for on its own;
// in a brine it shares the tub, and Add is empty.
type Piece struct {
	Green     Gram
	Thickness Millimetre
	Add       []Amount
	Time      Timing // PlanFor is the piece's own; the batch's is that of the thickest
}

// fillThicknesses checks the thickness of each piece, and lets the thickest lead.
func fillThicknesses(r *Request) error {
	if len(r.Thicknesses) == 0 {
		return nil
	}
	stop := &Stop{Rule: StopImplausible, What: "thickness", Request: *r}
	if len(r.Thicknesses) != len(r.Pieces) {
		return stop
	}
	for _, one := range r.Thicknesses {
		if err := thickSpan.check(float64(one), *r); err != nil {
			return err
		}
	}
	thickest := slices.Max(r.Thicknesses)
	if one := r.Thickness; one.Origin == Asked && !(math.Abs(float64(one.Value-thickest)) < 1e-9) {
		stop.Got, stop.Max, stop.Unit = float64(one.Value), float64(thickest), "mm"
		return stop
	}
	r.Thicknesses = slices.Clone(r.Thicknesses)
	r.Thickness = Given[Millimetre]{thickest, Asked}
	return nil
}

// checkSides refuses sides that are no lengths, or less than the thickness.
func checkSides(r Request) error {
	if r.Sides == [2]Millimetre{} {
		return nil
	}
	for _, one := range r.Sides {
		if err := sideSpan.check(float64(one), r); err != nil {
			return err
		}
		if one < r.Thickness.Value || len(r.Thicknesses) > 0 {
			return &Stop{Rule: StopImplausible, What: sideSpan.what, Got: float64(r.Thickness.Value), Max: float64(one), Unit: "mm", Request: r}
		}
	}
	return nil
}

// each answers the pieces of several sizes one by one. A piece that the scale can't weigh
// for is a stop for all of them.
func (w *work) each(d *Dose, m mix) error {
	for i, thick := range w.r.Thicknesses {
		p := Piece{Green: w.r.Pieces[i], Thickness: thick}
		one := *w
		one.r.Thicknesses, one.r.Thickness = nil, Given[Millimetre]{thick, Asked}
		switch w.r.Method.Value {
		case DryRub, SaltBox, Confit:
			one.r.Pieces = []Gram{p.Green}
			alone, err := Compute(one.r)
			if err != nil {
				return err
			}
			p.Add, p.Time = alone.Add, alone.Time
		default:
			alone := *d
			alone.Time, alone.Cautions = Timing{}, nil
			if err := one.time(&alone, m); err != nil {
				return err
			}
			p.Time = alone.Time
		}
		d.Each = append(d.Each, p)
	}
	return nil
}
