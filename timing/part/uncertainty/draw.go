package uncertainty

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Sample are the values of a quantity for so many draws of its inputs, in rising
// order.
type Sample []float64

// Draw draws the inputs n times and works the quantity out each time
// (JCGM 101:2008, clause 7). The same seed gives the same sample. It panics when
// the correlation is not positive definite.
func (q Quantity) Draw(n int, seed uint64) Sample {
	source := rand.NewPCG(seed, 0)
	r := rand.New(source)
	lower := q.cholesky()
	x, z := make([]float64, len(q.Inputs)), make([]float64, len(q.Inputs))
	s := make(Sample, n)
	for k := range s {
		for i, in := range q.Inputs {
			switch {
			case lower != nil:
				z[i] = r.NormFloat64()
				x[i] = in.Value
				for j := 0; j <= i; j++ {
					x[i] += in.U * lower.At(i, j) * z[j]
				}
			case in.U == 0:
				x[i] = in.Value
			case in.Draw != nil:
				x[i] = in.Draw(r)
			case in.DOF > 0:
				x[i] = distuv.StudentsT{Mu: in.Value, Sigma: in.U, Nu: in.DOF, Src: source}.Rand()
			default:
				x[i] = in.Value + in.U*r.NormFloat64()
			}
		}
		s[k] = q.Model(x)
	}
	slices.Sort(s)
	return s
}

// cholesky returns the lower triangle whose product with its transpose is the
// correlation; nil for independent inputs.
func (q Quantity) cholesky() *mat.TriDense {
	if q.Correlation == nil {
		return nil
	}
	var c mat.Cholesky
	if !c.Factorize(q.Correlation) {
		panic("uncertainty: correlation is not positive definite")
	}
	var lower mat.TriDense
	c.LTo(&lower)
	return &lower
}

// Mean returns the mean of the draws.
func (s Sample) Mean() float64 { return stat.Mean(s, nil) }

// U returns the standard deviation of the draws (JCGM 101:2008, eq. 17).
func (s Sample) U() float64 { return stat.StdDev(s, nil) }

// About returns the root of the mean square of how far the draws lie from at.
func (s Sample) About(at float64) float64 {
	return math.Sqrt(stat.MomentAbout(2, s, at, nil))
}

// Symmetric returns the interval that holds the share p of the draws and leaves
// as many out below as above (JCGM 101:2008, 7.7.2).
func (s Sample) Symmetric(p float64) (lo, hi float64) {
	q := s.held(p)
	r := (len(s) - q) / 2
	return s[r], s[r+q]
}

// Shortest returns the shortest interval that holds the share p of the draws
// (JCGM 101:2008, 7.7.3).
func (s Sample) Shortest(p float64) (lo, hi float64) {
	q := s.held(p)
	lo, hi = s[0], s[q]
	for i := 1; i+q < len(s); i++ {
		if s[i+q]-s[i] < hi-lo {
			lo, hi = s[i], s[i+q]
		}
	}
	return lo, hi
}

// held is how many draws an interval of share p spans.
func (s Sample) held(p float64) int {
	return min(int(math.Round(p*float64(len(s)))), len(s)-1)
}
