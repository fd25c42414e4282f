package uncertainty

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Coverage returns the factor that makes an interval of probability p, above 0
// and below 1, out of a standard uncertainty: that of the normal distribution, or
// with limited degrees of freedom Student's t (JCGM 100:2008, G.3.2 and tables
// G.1 and G.2). Degrees that are no whole number are taken as they are; 0 stands
// for no limit.
func Coverage(p, dof float64) float64 {
	if limited(dof) {
		return distuv.StudentsT{Sigma: 1, Nu: dof}.Quantile((1 + p) / 2)
	}
	return math.Sqrt2 * math.Erfinv(p)
}

// StudentDensity is that of Student's t at t; of the normal distribution when
// dof is 0.
func StudentDensity(t, dof float64) float64 {
	if limited(dof) {
		return distuv.StudentsT{Sigma: 1, Nu: dof}.Prob(t)
	}
	return math.Exp(-t*t/2) / math.Sqrt(2*math.Pi)
}

// limited tells whether the degrees of freedom make a difference: with ten
// million t is normal to seven digits.
func limited(dof float64) bool { return dof > 0 && dof < 1e7 }
