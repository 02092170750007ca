package dry

import (
	"math"
	"time"
)

// Moisture is a moisture ratio at a moment: the water above equilibrium as a share of what
// it was at the beginning. Range: above 0, below 1.
type Moisture struct {
	After time.Duration
	Ratio Ratio
}

// Page is the curve MR = exp(−K·tⁿ), t in days. N 1 is Newton's law; below 1 the drying
// slows down more than that.
//
// Source: Page 1949, as in tables of drying models (secondary).
type Page struct {
	K PerDay // with N other than 1: per day to the N
	N Ratio
}

// FitPage is the curve through two points, or the regression of ln(−ln MR) on ln t through
// more. The errors are ErrFew, and ErrRange for a point out of range, two at one moment, or
// points that do not dry.
func FitPage(points []Moisture) (Page, error) {
	if len(points) < 2 {
		return Page{}, ErrFew
	}
	var x, y []float64
	var meanX, meanY float64
	for _, p := range points {
		if p.After <= 0 || p.After > horizon || !(p.Ratio > 0 && p.Ratio < 1) {
			return Page{}, ErrRange
		}
		x, y = append(x, math.Log(days(p.After))), append(y, math.Log(-math.Log(float64(p.Ratio))))
		meanX, meanY = meanX+x[len(x)-1]/float64(len(points)), meanY+y[len(y)-1]/float64(len(points))
	}
	var xx, xy float64
	for i := range x {
		xx, xy = xx+(x[i]-meanX)*(x[i]-meanX), xy+(x[i]-meanX)*(y[i]-meanY)
	}
	n := xy / xx
	if !(xx > 0) || !(n > 0) {
		return Page{}, ErrRange
	}
	return Page{PerDay(math.Exp(meanY - n*meanX)), Ratio(n)}, nil
}

// At is the moisture ratio at a moment, 1 before the beginning.
func (p Page) At(t time.Duration) Ratio {
	return Ratio(math.Exp(-float64(p.K) * math.Pow(max(0, days(t)), float64(p.N))))
}

// Reach is when the moisture ratio comes down to r: never for 0 or less, which no curve
// reaches, and at the beginning for 1 or more.
func (p Page) Reach(r Ratio) When {
	if r >= 1 {
		return When{}
	}
	if !(r > 0) || !(p.K > 0) || !(p.N > 0) {
		return When{Never: true}
	}
	return after(math.Pow(-math.Log(float64(r))/float64(p.K), 1/float64(p.N)))
}

// RootTime is the law of the early days: the loss grows as the root of time. It holds while
// more than about half of the water that can go is still there; beyond it is too fast.
//
// Source: short times of diffusion under a constant surface; Crank, The Mathematics of
// Diffusion, 1975, ch. 4 (from memory).
type RootTime struct {
	AtOneDay Ratio // the loss after one day
}

// Lost is a loss at a moment, above 0 and below 1.
type Lost struct {
	After time.Duration
	Loss  Ratio
}

// FitRootTime is the law through one loss. The error is ErrRange.
func FitRootTime(l Lost) (RootTime, error) {
	if l.After <= 0 || l.After > horizon || !(l.Loss > 0 && l.Loss < 1) {
		return RootTime{}, ErrRange
	}
	return RootTime{l.Loss / Ratio(math.Sqrt(days(l.After)))}, nil
}

// At is the loss at a moment, 1 at most.
func (r RootTime) At(t time.Duration) Ratio {
	return min(1, r.AtOneDay*Ratio(math.Sqrt(max(0, days(t)))))
}

// Reach is when the loss comes to a share; never from 1 on.
func (r RootTime) Reach(loss Ratio) When {
	if loss <= 0 {
		return When{}
	}
	if !(loss < 1) || !(r.AtOneDay > 0) {
		return When{Never: true}
	}
	return after(math.Pow(float64(loss/r.AtOneDay), 2))
}
