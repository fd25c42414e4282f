package ripple

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// boundOf is the standard uncertainty of top dead centre were the model right: the
// posterior's width without the misfits. The information of the prior added to
// Fisher's is what bounds a mean square error (Van Trees, Detection, Estimation, and
// Modulation Theory, 1968, sec. 2.4; from memory).
func (f *fit) boundOf(sys system) float64 {
	known := ofLeak + len(f.fires)
	if f.charge != nil {
		known++
	}
	v := f.play.covariance(f.frame.positions, f.frame.bent, f.in.Wheel.Positions)
	_, precision, ok := solveScaled(v, mat.NewVecDense(v.SymmetricDim(), nil))
	if !ok {
		return math.NaN()
	}
	full := sys.withWheel(precision)
	keep := make([]int, 0, full.SymmetricDim())
	for i := range full.SymmetricDim() {
		if i < known || i >= sys.fit {
			keep = append(keep, i)
		}
	}
	m := mat.NewSymDense(len(keep), nil)
	for a, i := range keep {
		for b := a; b < len(keep); b++ {
			m.SetSym(a, b, full.At(i, keep[b]))
		}
	}
	_, cov, ok := solveScaled(m, mat.NewVecDense(len(keep), nil))
	if !ok {
		return math.NaN()
	}
	return math.Sqrt(cov.At(ofTDC, ofTDC))
}

// gainOf is by how much in chi-squared the gas explains the passings better than a
// wheel of any teeth alone does.
func (f *fit) gainOf(s *solution, columns [][]float64) float64 {
	bare := make([]float64, len(f.rows))
	for i, r := range f.rows {
		bare[i] = r.y
	}
	chi := func(rest []float64) float64 {
		sys, ok := f.assemble([][]float64{rest}, rest)
		if !ok {
			return math.NaN()
		}
		// The column beside is the rest itself: its diagonal is the sum of squares, its row what the teeth take.
		n := len(f.frame.positions)
		v := f.play.covariance(f.frame.positions, f.frame.bent, f.in.Wheel.Positions)
		_, precision, ok := solveScaled(v, mat.NewVecDense(n, nil))
		if !ok {
			return math.NaN()
		}
		full := sys.withWheel(precision)
		m, r := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
		for i := range n {
			for j := i; j < n; j++ {
				m.SetSym(i, j, full.At(1+i, 1+j))
			}
			r.SetVec(i, full.At(0, 1+i))
		}
		x, _, ok := solveScaled(m, r)
		if !ok {
			return math.NaN()
		}
		return full.At(0, 0) - mat.Dot(x, r)
	}
	return chi(bare) - chi(s.rest)
}

// pull is how far one of the parameters is from what was taken for it, in standard
// deviations.
type pull struct {
	of    int
	sigma float64
	u     float64
}

// tensionOf is how far the parameters had to leave what is known of engines: the mean
// of the squares of the pulls, over what it is where the model holds. A prior that the
// recording has made no narrower cannot pull.
func (f *fit) tensionOf(s *solution, sys system, step *mat.VecDense) float64 {
	first := sys.fit - f.misfitCount
	sum, expected := 0.0, tensionAtLeast
	for _, p := range f.pulls {
		sigma := p.sigma
		if p.of >= first {
			sigma = step.AtVec(p.of) / p.u // a misfit begins at nothing in each pass
		}
		sum += sigma * sigma
		expected += max(1-s.cov.At(p.of, p.of)/square(p.u), 0)
	}
	return (sum + tensionAtLeast) / expected
}

// tensionAtLeast keeps few pulls from telling much.
const tensionAtLeast = 3.0
