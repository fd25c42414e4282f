package ripple

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// The linear algebra of the fit.

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

// normalEquations are those of least squares with one variance for all rows.
func normalEquations(columns [][]float64, rest []float64, sigma2 float64) (*mat.SymDense, *mat.VecDense) {
	p := len(columns)
	normal, right := mat.NewSymDense(p, nil), mat.NewVecDense(p, nil)
	for a := range p {
		for b := a; b < p; b++ {
			normal.SetSym(a, b, dot(columns[a], columns[b])/sigma2)
		}
		right.SetVec(a, dot(columns[a], rest)/sigma2)
	}
	return normal, right
}

func times(v []float64, k float64) []float64 {
	out := make([]float64, len(v))
	for i, x := range v {
		out[i] = k * x
	}
	return out
}

func square(x float64) float64 { return x * x }

// leastSquares solves for the factors of columns that come nearest to y.
func leastSquares(columns [][]float64, y []float64) ([]float64, bool) {
	normal, right := normalEquations(columns, y, 1)
	for a := range columns {
		normal.SetSym(a, a, normal.At(a, a)*(1+1e-9))
	}
	x, _, ok := solveScaled(normal, right)
	if !ok {
		return nil, false
	}
	return x.RawVector().Data, true
}

// scaled has ones on its diagonal: the columns have different units.
func scaled(m *mat.SymDense) *mat.SymDense {
	n := m.SymmetricDim()
	out := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			out.SetSym(i, j, m.At(i, j)/math.Sqrt(m.At(i, i)*m.At(j, j)))
		}
	}
	return out
}

// solveScaled solves m x = r and inverts m.
func solveScaled(m *mat.SymDense, r *mat.VecDense) (x *mat.VecDense, inverse *mat.SymDense, ok bool) {
	n := m.SymmetricDim()
	d := make([]float64, n)
	for i := range n {
		d[i] = math.Sqrt(m.At(i, i))
		if !(d[i] > 0) || math.IsInf(d[i], 0) {
			return nil, nil, false
		}
	}
	var ch mat.Cholesky
	if !ch.Factorize(scaled(m)) {
		return nil, nil, false
	}
	inverse = mat.NewSymDense(n, nil)
	if err := ch.InverseTo(inverse); err != nil {
		return nil, nil, false
	}
	for i := range n {
		for j := i; j < n; j++ {
			inverse.SetSym(i, j, inverse.At(i, j)/(d[i]*d[j]))
		}
	}
	x = mat.NewVecDense(n, nil)
	x.MulVec(inverse, r)
	return x, inverse, true
}

// median returns the upper middle of some values; there must be one.
func median(v []float64) float64 {
	s := slices.Clone(v)
	slices.Sort(s)
	return s[len(s)/2]
}
