package diffuse

import "math"

// root is where f crosses zero between lo and hi, to a few units of the last digit. It keeps
// a bracket all the way (regula falsi of the Illinois kind, a bisection where that is slow).
// Where f has one sign at both ends, the end with the smaller |f| is the answer: the root
// lies on it.
func root(f func(float64) float64, lo, hi float64) float64 {
	a, b, fa, fb := lo, hi, f(lo), f(hi)
	switch {
	case fa == 0:
		return a
	case fb == 0:
		return b
	case math.Signbit(fa) == math.Signbit(fb):
		if math.Abs(fa) < math.Abs(fb) {
			return a
		}
		return b
	}
	for i := 0; i < 200; i++ {
		x := (a*fb - b*fa) / (fb - fa)
		if i%4 == 3 || !(x > min(a, b) && x < max(a, b)) {
			x = a + (b-a)/2
		}
		fx := f(x)
		if fx == 0 || math.Abs(b-a) <= 4e-16*math.Abs(x) || x == a || x == b {
			return x
		}
		if math.Signbit(fx) == math.Signbit(fb) {
			fa /= 2
		} else {
			a, fa = b, fb
		}
		b, fb = x, fx
	}
	return b
}
