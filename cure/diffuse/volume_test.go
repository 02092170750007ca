package diffuse

import (
	"math"
	"testing"

	"salthand/cure/published"
)

// volumes is a second way to the same figures: finite volumes between the centre and the
// surface, with the bath as one more cell, stepped with implicit Euler.
type volumes struct {
	c, size, flow []float64 // concentration and volume of the cells, conductance outwards; the last cell is the bath
}

func newVolumes(s Shape, cells int, bath float64) *volumes {
	v := &volumes{}
	h, dims := 1/float64(cells), s.dims()
	for i := range cells {
		in, out := float64(i)*h, float64(i+1)*h
		v.c = append(v.c, 0)
		v.size = append(v.size, (math.Pow(out, dims)-math.Pow(in, dims))/dims)
		v.flow = append(v.flow, math.Pow(out, dims-1)/h)
	}
	v.flow[cells-1] *= 2 // half a cell to the surface
	v.c, v.size, v.flow = append(v.c, 1), append(v.size, bath), append(v.flow, 0)
	return v
}

// step solves the three-band system of one time step.
func (v *volumes) step(dt float64) {
	n := len(v.c)
	upper, right := make([]float64, n), make([]float64, n)
	for i := range n {
		low := 0.0
		if i > 0 {
			low = -dt * v.flow[i-1] / v.size[i]
		}
		high := -dt * v.flow[i] / v.size[i]
		mid := 1 - low - high
		if i > 0 {
			mid -= low * upper[i-1]
			right[i] = (v.c[i] - low*right[i-1]) / mid
		} else {
			right[i] = v.c[i] / mid
		}
		upper[i] = high / mid
	}
	v.c[n-1] = right[n-1]
	for i := n - 2; i >= 0; i-- {
		v.c[i] = right[i] - upper[i]*v.c[i+1]
	}
}

func (v *volumes) mean() float64 {
	sum, all := 0.0, 0.0
	for i := range len(v.c) - 1 {
		sum, all = sum+v.c[i]*v.size[i], all+v.size[i]
	}
	return sum / all
}

func TestAgainstFiniteVolumes(t *testing.T) {
	const (
		cells     = 150
		dt        = 2e-5
		tolerance = 4e-4 // of the steps
		endless   = 1e12
	)
	for s := Slab; s <= Sphere; s++ {
		for name, one := range map[string]struct {
			model *Model
			bath  float64 // volume of the bath over that of the piece
			final float64 // concentration at equilibrium
			fill  float64 // dose at which the surface is sealed; 0: never
		}{
			"constant":     {Constant(s), endless, 1, 0},
			"limited 0.25": {limitedOf(t, s, 0.25), 0.25, 0.2, 0},
			"limited 1":    {limitedOf(t, s, 1), 1, 0.5, 0},
			"limited 4":    {limitedOf(t, s, 4), 4, 0.8, 0},
			"capped 0.1":   {cappedOf(t, s, 0.1), endless, 0.1, 0.1},
			"capped 0.6":   {cappedOf(t, s, 0.6), endless, 0.6, 0.6},
		} {
			v := newVolumes(s, cells, one.bath/s.dims())
			for i := 1; i <= 20000; i++ {
				v.step(dt)
				if one.fill > 0 && v.mean() >= one.fill {
					v.flow[cells-1], one.fill, one.final = 0, 0, v.mean() // the step went a little past the fill
				}
				if i%2500 == 0 {
					tau := Tau(float64(i) * dt)
					published.Near(t, []any{s, name, "centre", tau}, one.model.Centre(tau), v.c[0]/one.final, tolerance/min(1, 3*one.final))
					published.Near(t, []any{s, name, "uptake", tau}, one.model.Uptake(tau), v.mean()/one.final, tolerance/min(1, 3*one.final))
				}
			}
		}
	}
}
