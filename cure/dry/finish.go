package dry

import (
	"math"
	"time"

	"salthand/cure"
)

// Finish is when a piece comes down to its target.
type Finish struct {
	Curve   Curve
	Reached bool // by a reading: the other fields are that reading's moment

	Likely When // on the curve
	// Early and Late are the ends where every reading is off by Step, each in the direction
	// that moves the finish most.
	Early, Late When
	Step        cure.Gram // the scale's division, or the scatter about the curve where that is more
	Single      Shift
}

// Aim is the weight to come down to, and the division of the scale.
type Aim struct{ Target, Division cure.Gram }

// check is ErrRange, or nil.
func (a Aim) check(hung cure.Gram) error {
	if !(a.Target > 0 && a.Target <= 1e6) || !(a.Division > 0 && a.Division <= hung/10) {
		return ErrRange
	}
	return nil
}

// Shift is what one division on one reading does to the finish.
type Shift struct {
	Reading     int // in the series: the one that moves it most
	Early, Late When
}

// enough is how many divisions have to be gone before the weights say anything of the
// finish. Ours: below it the interval begins to miss finishes that the tests know.
const enough = 5

// Finish is when the piece comes down to its target. A weight that was read counts as reached. The interval is a straight worst case, no probability, and
// holds for a piece that goes on drying as it did. Accuracy: the fit itself to 1e-9 of its
// figures. The errors are ErrSeries, ErrFew, ErrRange where target or division are not above
// nothing or the division is above a tenth of the first weight, and ErrCoarse where less than
// five divisions were lost so far and the target was not read.
func (s Series) Finish(a Aim) (Finish, error) {
	c, err := Fit(s)
	if err != nil {
		return Finish{}, err
	}
	if err := a.check(s[0].Weight); err != nil {
		return Finish{}, err
	}
	for _, r := range s {
		if r.Weight <= a.Target {
			at := When{After: r.After}
			return Finish{Curve: c, Reached: true, Likely: at, Early: at, Late: at, Step: a.Division, Single: Shift{0, at, at}}, nil
		}
	}
	if s[0].Weight-s[len(s)-1].Weight < enough*a.Division {
		return Finish{}, ErrCoarse
	}
	f := Finish{Curve: c, Likely: s.due(c, a.Target), Step: max(a.Division, c.Scatter)}
	moved := func(by cure.Gram, pull func(i int) float64) When {
		m := append(Series(nil), s...)
		for i := range m {
			if p := pull(i); p != 0 {
				m[i].Weight = max(m[i].Weight+cure.Gram(math.Copysign(1, p))*by, 1e-3)
			}
		}
		return m.due(m.curve(), a.Target)
	}

	pulls, most := c.pulls(s, f.Likely), 0
	for i := range pulls {
		if math.Abs(pulls[i]) > math.Abs(pulls[most]) {
			most = i
		}
	}
	alone := func(i int) float64 {
		if i != most {
			return 0
		}
		return pulls[i]
	}
	early, late := order(f.Likely, moved(-a.Division, alone), moved(a.Division, alone))
	f.Single = Shift{most, early, late}

	// Where the curve turns into a line, what counts is how steep the line is.
	together := func(i int) float64 { return pulls[i] }
	steep := func(i int) float64 { return float64(2*i - len(s) + 1) }
	f.Early, f.Late = order(early, late, moved(-f.Step, together), moved(f.Step, together), moved(-f.Step, steep), moved(f.Step, steep))
	return f, nil
}

// due is when the curve comes to the target, after the last reading, which was above it.
func (s Series) due(c Curve, target cure.Gram) When {
	w := c.Reach(target)
	if last := s[len(s)-1].After; !w.Never && w.After < last {
		w.After = last
	}
	return w
}

// order is the first and the last of some moments.
func order(a When, more ...When) (early, late When) {
	early, late = a, a
	for _, w := range more {
		if w.Before(early) {
			early = w
		}
		if late.Before(w) {
			late = w
		}
	}
	return early, late
}

// pulls is how much each reading moves the weight that the curve foretells for a moment, or
// for the end of time: the row of the hat matrix there. The finish moves the same way.
func (c Curve) pulls(s Series, at When) []float64 {
	scale := days(s[len(s)-1].After - s[0].After)
	k, pace := min(4, float64(c.Fade)*scale), max(math.Abs(float64(c.Pace))*scale, 1e-9)
	row := func(t time.Duration) [3]float64 {
		x := days(t-c.From) / scale
		return [3]float64{1, -gone(k, x), -pace * bend(k, x, gone(k, x))}
	}
	var normal [3][3]float64
	for _, r := range s {
		v := row(r.After)
		for i := range v {
			for j := range v {
				normal[i][j] += v[i] * v[j]
			}
		}
	}
	for i := range normal {
		normal[i][i] *= 1 + 1e-12
	}
	there := row(s[len(s)-1].After + horizon)
	if !at.Never {
		there = row(at.After)
	}
	w := solve(normal, there)
	pulls := make([]float64, len(s))
	for i, r := range s {
		v := row(r.After)
		pulls[i] = v[0]*w[0] + v[1]*w[1] + v[2]*w[2]
	}
	return pulls
}

// solve is Cramer's rule for three equations.
func solve(a [3][3]float64, b [3]float64) (x [3]float64) {
	det := func(m [3][3]float64) float64 {
		return m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) -
			m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) +
			m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
	}
	d := det(a)
	for j := range x {
		m := a
		for i := range b {
			m[i][j] = b[i]
		}
		if d != 0 {
			x[j] = det(m) / d
		}
	}
	return x
}
