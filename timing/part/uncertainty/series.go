package uncertainty

import "math"

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
	if len(s) < 2 {
		return 0
	}
	m, sum := s.Mean(), 0.0
	for _, v := range s {
		sum += sq(v - m)
	}
	return math.Sqrt(sum / float64(len(s)-1))
}

// U returns the type A standard uncertainty of the mean (JCGM 100:2008, eq. 5).
func (s Series) U() float64 { return s.SD() / math.Sqrt(float64(len(s))) }

// DOF returns the degrees of freedom of [Series.U], one less than there are
// readings.
func (s Series) DOF() float64 { return float64(len(s) - 1) }
