package diffuse

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The series beside finite volumes that know nothing of it: the slab in a bath of limited
// volume as a system of linear equations, solved by gonum's eigenvectors. Cells of the half
// slab, then the bath as one well-stirred cell; symmetric in √volume.
func TestBathAgreesWithEigenvectors(t *testing.T) {
	const cells = 160
	for _, alpha := range []float64{0.25, 1, 4} {
		h := 1.0 / cells
		volume := make([]float64, cells+1)
		for i := range cells {
			volume[i] = h
		}
		volume[cells] = alpha // bath over meat, K = 1
		a := mat.NewSymDense(cells+1, nil)
		join := func(i, j int, conductance float64) { // flux = conductance · (c_j − c_i)
			a.SetSym(i, i, a.At(i, i)-conductance/volume[i])
			a.SetSym(j, j, a.At(j, j)-conductance/volume[j])
			a.SetSym(i, j, conductance/math.Sqrt(volume[i]*volume[j]))
		}
		for i := range cells - 1 {
			join(i, i+1, 1/h)
		}
		join(cells-1, cells, 2/h) // half a cell to the face
		var e mat.EigenSym
		if !e.Factorize(a, true) {
			t.Fatal("no eigenvectors")
		}
		var v mat.Dense
		e.VectorsTo(&v)
		start := make([]float64, cells+1)
		start[cells] = math.Sqrt(alpha) // all solute in the bath, at concentration 1
		model, err := Limited(Slab, Ratio(alpha))
		if err != nil {
			t.Fatal(err)
		}
		even := alpha / (1 + alpha)
		for _, tau := range []float64{0.05, 0.1, 0.2, 0.4, 1} {
			centre := 0.0
			for k, lambda := range e.Values(nil) {
				weight := 0.0
				for i := range start {
					weight += v.At(i, k) * start[i]
				}
				centre += weight * v.At(0, k) * math.Exp(lambda*tau)
			}
			centre /= math.Sqrt(volume[0]) * even
			if got := float64(model.Centre(Tau(tau))); math.Abs(got-centre) > 0.002 {
				t.Errorf("α %v, τ %v: the series has %.5f at the centre, the finite volumes %.5f", alpha, tau, got, centre)
			}
		}
	}
}
