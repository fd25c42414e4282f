package uncertainty

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// Series are several readings of the same thing. There must be at least one.
type Series []float64

// Mean returns the mean (JCGM 100:2008, eq. 3).
func (s Series) Mean() float64 {
	// From the first reading on, so that equal readings give just that.
	sum := 0.0
	for _, v := range s {
		sum += v - s[0]
	}
	return s[0] + sum/float64(len(s))
}

// SD returns the experimental standard deviation of one reading (JCGM 100:2008,
// eq. 4); 0 for a single reading, which shows no scatter.
func (s Series) SD() float64 {
	n := float64(len(s))
	if n < 2 {
		return 0
	}
	return math.Sqrt(stat.MomentAbout(2, s, s.Mean(), nil) * n / (n - 1))
}

// U returns the type A standard uncertainty of the mean (JCGM 100:2008, eq. 5).
func (s Series) U() float64 { return s.SD() / math.Sqrt(float64(len(s))) }

// DOF returns the degrees of freedom of [Series.U], one less than there are
// readings.
func (s Series) DOF() float64 { return float64(len(s) - 1) }
