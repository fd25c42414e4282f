package samples

import "math"

// even replaces times that lie on a straight line but for the rounding of their
// last digit by that line: a time written too coarsely would make the teeth look
// uneven. Times that are truly uneven stay as they are.
func (r *table) even(t []float64) {
	n := len(t)
	if n < 8 {
		return
	}
	mean, slope := line(t)
	step := math.Pow10(r.least) * r.format.TimeUnit
	start := mean - slope*float64(n-1)/2
	most := 0.6*step + 1e-12*math.Abs(mean)
	for i, x := range t {
		if math.Abs(x-(start+slope*float64(i))) > most {
			return
		}
	}
	for i := range t {
		t[i] = start + slope*float64(i)
	}
}

// line fits a straight line to values at 0, 1, 2, ... and returns its value in
// the middle and its slope. Sums are taken of the values less the first, so that they
// lose nothing, and of every second one apart, so that one addition need not wait for
// the other.
func line(v []float64) (mean, slope float64) {
	n, zero := float64(len(v)), v[0]
	var sum, moment [2]float64
	at := 0.0
	for ; len(v) >= 2; v = v[2:] {
		x, y := v[0]-zero, v[1]-zero
		sum[0] += x
		sum[1] += y
		moment[0] += at * x
		moment[1] += (at + 1) * y
		at += 2
	}
	if len(v) > 0 {
		sum[0] += v[0] - zero
		moment[0] += at * (v[0] - zero)
	}
	total := sum[0] + sum[1]
	return zero + total/n, (moment[0] + moment[1] - total*(n-1)/2) * 12 / (n * (n*n - 1))
}
