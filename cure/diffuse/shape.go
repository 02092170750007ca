package diffuse

import "math"

// Shape is the form of a piece.
type Shape uint8

// The shapes.
const (
	Slab Shape = iota
	Cylinder
	Sphere
)

// open is the n-th eigenvalue, n from 1, of the shape with its surface held at a constant
// concentration: odd multiples of π/2, the zeros of J0, multiples of π.
// Source: Crank, The Mathematics of Diffusion, 2nd ed. 1975, §4.3, §5.3, §6.3 (from memory).
func (s Shape) open(n int) float64 {
	switch s {
	case Cylinder:
		return besselZero(math.J0, 0, n)
	case Sphere:
		return float64(n) * math.Pi
	}
	return (float64(n) - 0.5) * math.Pi
}

// sealed is the n-th eigenvalue, n from 1, of the shape with its surface sealed: multiples
// of π, the zeros of J1, the roots of tan q = q.
func (s Shape) sealed(n int) float64 {
	switch s {
	case Cylinder:
		return besselZero(math.J1, 1, n)
	case Sphere:
		lo := float64(n) * math.Pi
		return root(func(q float64) float64 { return math.Sin(q) - q*math.Cos(q) }, lo, lo+math.Pi/2)
	}
	return float64(n) * math.Pi
}

// bath is the n-th eigenvalue, n from 1, of the shape in a bath of relative size alpha.
// Source: Crank 1975, eq. 4.39, 5.36, 6.32 (from memory); brackets as there.
func (s Shape) bath(n int, alpha float64) float64 {
	k := float64(n)
	switch s {
	case Cylinder:
		return root(func(q float64) float64 { return alpha*q*math.J0(q) + 2*math.J1(q) }, s.open(n), s.sealed(n))
	case Sphere:
		f := func(q float64) float64 { return (3+alpha*q*q)*math.Sin(q) - 3*q*math.Cos(q) }
		return root(f, k*math.Pi, (k+0.5)*math.Pi)
	}
	f := func(q float64) float64 { return math.Sin(q) + alpha*q*math.Cos(q) }
	return root(f, (k-0.5)*math.Pi, k*math.Pi)
}

// centre is what one mode of eigenvalue q adds at the centre where its amplitude at the
// surface is 1: 1/cos q, 1/J0(q), q/sin q.
func (s Shape) centre(q float64) float64 {
	switch s {
	case Cylinder:
		return 1 / math.J0(q)
	case Sphere:
		return q / math.Sin(q)
	}
	return 1 / math.Cos(q)
}

// dims is the surface of the shape times its half-thickness over its volume: 1, 2, 3.
func (s Shape) dims() float64 { return float64(s) + 1 }

// besselZero is the n-th positive zero of f, which is J0 or J1. It lies close to McMahon's
// expansion, which from the twelfth on is good to the last digits; before that it serves to
// bracket the root.
// Source: Abramowitz and Stegun 1964, eq. 9.5.12 (from memory); a test checks 300 zeros.
func besselZero(f func(float64) float64, order, n int) float64 {
	mu := 4 * float64(order*order)
	b := (float64(n) + float64(order)/2 - 0.25) * math.Pi
	e := 1 / (8 * b)
	e2 := e * e
	guess := b - (mu-1)*e*(1+e2*(4.0/3*(7*mu-31)+
		e2*(32.0/15*(83*mu*mu-982*mu+3779)+
			e2*64.0/105*(6949*mu*mu*mu-153855*mu*mu+1585743*mu-6277237))))
	switch {
	case n >= 12:
		return guess
	case n > 3:
		return root(f, guess-1e-6, guess+1e-6)
	}
	return root(f, guess-1e-2, guess+1e-2)
}
