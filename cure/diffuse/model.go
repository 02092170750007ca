package diffuse

import (
	"errors"
	"math"
)

// Tau is dimensionless time, D·t/L².
type Tau float64

// Ratio is a dimensionless ratio; a share of equilibrium where it comes out of a Model.
type Ratio float64

// ErrRange is the error of a size or a share for which there is no answer.
var ErrRange = errors.New("diffuse: out of range")

// Model is one shape under one boundary. It keeps the roots that it has found, so one
// Model must not be used by several goroutines at once.
type Model struct {
	shape    Shape
	boundary boundary
	alpha    float64 // limited: size of the bath
	fill     float64 // capped: dose over what the tissue's water holds at saturation
	soaked   float64 // capped: Tau at which all of the dose is in
	surface  *Model  // capped: the constant surface until then
	modes    []mode  // found so far
}

type boundary uint8

const (
	constant boundary = iota
	limited
	capped
)

// mode is one term of a series: amplitude·exp(−q²τ).
type mode struct{ q2, mean, centre float64 }

// Constant is a piece whose surface stays at one concentration.
func Constant(s Shape) *Model { return &Model{shape: s, boundary: constant} }

// Limited is a piece in a well-stirred bath. alpha is the water of the bath over the water
// of the piece; it must be above zero.
func Limited(s Shape, alpha Ratio) (*Model, error) {
	if !(alpha > 0) || math.IsInf(float64(alpha), 0) {
		return nil, ErrRange
	}
	return &Model{shape: s, boundary: limited, alpha: float64(alpha)}, nil
}

// Capped is a piece with a weighed rub. fill is the dose over what the water of the piece
// holds at saturation. From 1 on the surface never runs dry and the model is Constant; near
// 0 all of the dose is in at once.
func Capped(s Shape, fill Ratio) (*Model, error) {
	switch {
	case !(fill >= 0) || math.IsInf(float64(fill), 0):
		return nil, ErrRange
	case fill >= 1:
		return Constant(s), nil
	}
	m := &Model{shape: s, boundary: capped, fill: float64(fill), surface: Constant(s)}
	if fill > 1e-6 { // below it there is nothing to wait for
		m.soaked = m.surface.timeIn(m.fill)
	}
	return m, nil
}

// never is the Tau below which nothing has reached the centre: erfc(1/(2√0.004)) < 1e-28.
const never = 0.004

// deep is the exponent at which a term is too small to matter: exp(−37) < 1e-16.
const deep = 37

// Centre is the share of equilibrium at the centre, or at the sealed face of a slab.
func (m *Model) Centre(t Tau) Ratio {
	switch {
	case !(t > never):
		return 0
	case m.boundary == capped && float64(t) < m.soaked:
		return m.surface.Centre(t) / Ratio(m.fill)
	}
	return clamp(1 + m.sum(float64(t)-m.delay(), func(o mode) float64 { return o.centre }))
}

// Uptake is what the piece has taken as a share of what it takes in the end.
func (m *Model) Uptake(t Tau) Ratio {
	switch {
	case !(t > 0):
		return 0
	case m.boundary == capped && float64(t) >= m.soaked:
		return 1
	case m.boundary == capped:
		return m.surface.Uptake(t) / Ratio(m.fill)
	case m.boundary == constant && t < 1e-3:
		return early(m.shape, float64(t))
	}
	return clamp(1 + m.sum(float64(t), func(o mode) float64 { return o.mean }))
}

// early is the uptake under a constant surface at short times.
// Source: Crank 1975, eq. 4.20, 5.25, 6.22 (from memory), good to 1e-9 below 0.001.
func early(s Shape, t float64) Ratio {
	root := math.Sqrt(t / math.Pi)
	switch s {
	case Cylinder:
		return Ratio(4*root - t - t*root/3 - t*t/8)
	case Sphere:
		return Ratio(6*root - 3*t)
	}
	return Ratio(2 * root)
}

// thin is the fill below which a rub counts as taken up at one moment, a third of the way
// through the time in which it goes in: the mean of √t. Good to 1e-5 in Tau.
const thin = 0.05

// delay is how long the evening-out lags behind the start.
func (m *Model) delay() float64 {
	switch {
	case m.boundary != capped:
		return 0
	case m.fill < thin:
		return m.soaked / 3
	}
	return m.soaked
}

// sum adds the modes at time t, finding new ones as long as they matter.
func (m *Model) sum(t float64, amplitude func(mode) float64) (x float64) {
	for n := 1; n < 4000; n++ {
		o := m.term(n)
		x += amplitude(o) * math.Exp(-o.q2*t)
		if o.q2*t > deep {
			break
		}
	}
	return x
}

// term is the n-th term of the series, n from 1, worked out once.
func (m *Model) term(n int) mode {
	if n > len(m.modes) {
		m.modes = append(m.modes, m.mode(n))
	}
	return m.modes[n-1]
}

// mode works out the n-th term of the series.
// Source: Crank 1975, §4.3.5, §5.3.3, §6.3.3 (from memory); checked against finite volumes.
func (m *Model) mode(n int) mode {
	dims := m.shape.dims()
	switch m.boundary {
	case limited:
		q := m.shape.bath(n, m.alpha)
		c := 2 * (1 + m.alpha) * dims / (dims*dims*(1+m.alpha) + m.alpha*m.alpha*q*q)
		return mode{q2: q * q, mean: -m.alpha * c, centre: c * m.shape.centre(q)}
	case capped:
		q := m.shape.sealed(n)
		return mode{q2: q * q, centre: m.profile(q) * m.shape.centre(q)}
	}
	q := m.shape.open(n)
	return mode{q2: q * q, mean: -2 * dims / (q * q), centre: -m.shape.held(n, q)}
}

// held is the amplitude at the centre of the n-th mode under a constant surface.
func (s Shape) held(n int, q float64) float64 {
	sign := 1.0
	if n%2 == 0 {
		sign = -1
	}
	switch s {
	case Cylinder:
		return 2 / (q * math.J1(q))
	case Sphere:
		return 2 * sign
	}
	return 2 * sign / q
}

// profile is how much of the sealed mode q there is, at the surface, in the profile that a
// constant surface has made at the moment when all of the dose is in: the one series
// projected on the other, the same closed form for all three shapes.
func (m *Model) profile(q float64) (b float64) {
	if m.fill < thin {
		return 2 / m.shape.dims()
	}
	for n := 1; n < 4000; n++ {
		p2 := m.surface.term(n).q2
		e := p2 * m.soaked
		b -= 4 * math.Exp(-e) / (p2 - q*q)
		if e > deep {
			break
		}
	}
	return b / m.fill
}

// TimeTo is when the centre reaches a share of equilibrium, 0 < share < 1.
func (m *Model) TimeTo(share Ratio) (Tau, error) {
	if !(share > 0 && share < 1) {
		return 0, ErrRange
	}
	hi := Tau(0.25)
	for m.Centre(hi) < share {
		if hi *= 2; hi > 1e3 {
			return 0, ErrRange
		}
	}
	return Tau(root(func(t float64) float64 { return float64(m.Centre(Tau(t)) - share) }, never, float64(hi))), nil
}

// TimeToUptake is when the piece has taken a share of what it takes in the end,
// 0 < share < 1, under a constant or a capped boundary; a bath is refused with ErrRange.
func (m *Model) TimeToUptake(share Ratio) (Tau, error) {
	switch {
	case !(share > 0 && share < 1) || m.boundary == limited:
		return 0, ErrRange
	case m.boundary == capped && m.soaked == 0: // it went in at once
		return 0, nil
	case m.boundary == capped:
		return m.surface.TimeToUptake(share * Ratio(m.fill))
	}
	return Tau(m.timeIn(float64(share))), nil
}

// timeIn is when the uptake under a constant surface comes to a share. It never runs ahead
// of the law of short times, which gives the lower end of the bracket.
func (m *Model) timeIn(share float64) float64 {
	lack := func(t float64) float64 { return float64(m.Uptake(Tau(t))) - share }
	lo := math.Pi * math.Pow(share/(2*m.shape.dims()), 2)
	hi := lo
	for lack(hi) < 0 && hi < 100 {
		hi *= 2
	}
	return root(lack, lo, hi)
}

func clamp(x float64) Ratio { return Ratio(min(1, max(0, x))) }
