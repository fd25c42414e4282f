package ripple

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// PressureReach is how far to either side of its peak a course of pressure is fitted,
// in degrees.
const PressureReach = 45.0

// Limits of what is taken for a compression.
const (
	pressureFloorU = 0.7  // degrees: the channel's own lag and the model. Our assumption
	pressureShape  = 0.98 // share of the variance the model must explain
)

// FitPressure finds top dead centre from the mean course of a cylinder's pressure by
// the controller's angle, in degrees round its peak. Offset, gain, exponent and leak
// are fitted too: offset and gain being free, the unit does not matter. It returns false
// where the course is not that of a compression.
func FitPressure(engine Engine, rpm float64, at, course []float64) (timing.Measured, bool) {
	if len(at) < 60 {
		return timing.Measured{}, false
	}
	before := engine.prior(rpm)
	tdc, exponent, leak := at[len(at)/2], before.exponent, before.leak
	gas := func(tdc, exponent, leak float64) []float64 {
		charge := engine.Charge
		charge.Exponent, charge.LogLeak = exponent, max(leak, 0)
		p := charge.Path()
		v := make([]float64, len(at))
		for i, x := range at {
			v[i] = p.At(timing.Deg(x - tdc)).Bar
		}
		return v
	}
	ones := make([]float64, len(at))
	mean, total := 0.0, 0.0
	for i := range ones {
		ones[i] = 1
		mean += course[i] / float64(len(at))
	}
	for _, x := range course {
		total += square(x - mean)
	}
	u, left := 0.0, total
	for range 25 {
		here := gas(tdc, exponent, leak)
		best, ok := leastSquares([][]float64{here, ones}, course)
		if !ok || !(best[0] > 0) {
			return timing.Measured{}, false
		}
		by := func(moved []float64, step float64) []float64 {
			v := make([]float64, len(at))
			for i := range v {
				v[i] = best[0] * (moved[i] - here[i]) / step
			}
			return v
		}
		columns := [][]float64{here, ones, by(gas(tdc+0.2, exponent, leak), 0.2), by(gas(tdc, exponent+0.005, leak), 0.005), by(gas(tdc, exponent, leak+0.01), 0.01)}
		rest := make([]float64, len(at))
		left = 0
		for i := range rest {
			rest[i] = course[i] - best[0]*here[i] - best[1]
			left += square(rest[i])
		}
		// Neighbouring degrees hang together: ten count as one.
		sigma2 := 10*left/float64(len(at)-5) + 1e-9*total
		normal, right := normalEquations(columns, rest, sigma2)
		normal.SetSym(3, 3, normal.At(3, 3)+1/square(before.exponentU))
		right.SetVec(3, right.AtVec(3)+(before.exponent-exponent)/square(before.exponentU))
		normal.SetSym(4, 4, normal.At(4, 4)+1/square(before.leakU))
		right.SetVec(4, right.AtVec(4)+(before.leak-leak)/square(before.leakU))
		step, cov, ok := solveScaled(normal, right)
		if !ok {
			return timing.Measured{}, false
		}
		move := min(max(step.AtVec(2), -3), 3)
		tdc += move
		exponent = min(max(exponent+min(max(step.AtVec(3), -0.02), 0.02), 1.05), 1.45)
		leak = min(max(leak+min(max(step.AtVec(4), -0.05), 0.05), 0), 3)
		u = math.Sqrt(cov.At(2, 2))
		if math.Abs(move) < 0.003 {
			break
		}
	}
	return timing.Measured{Value: timing.Deg(tdc), U: timing.Deg(math.Hypot(u, pressureFloorU))}, left < (1-pressureShape)*total
}
