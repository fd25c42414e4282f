package cause

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
)

// Entropy returns how many bits it takes on average to say which of the
// alternatives holds (MacKay, Information Theory, Inference, and Learning
// Algorithms, 2003, eq. 2.35; number from memory). What has probability 0 adds
// nothing.
func Entropy(p []float64) float64 {
	return stat.Entropy(p) / math.Ln2
}

// Information returns how many bits a check is expected to tell about which
// hypothesis holds: the mutual information of hypothesis and outcome (MacKay
// 2003, eq. 8.8; number from memory). given[h][o] is the probability of outcome o
// under hypothesis h; each row adds up to 1. Never negative.
func Information(prior []float64, given [][]float64) float64 {
	if len(given) == 0 {
		return 0
	}
	of := make([]float64, len(given[0]))
	for h, row := range given {
		floats.AddScaled(of, prior[h], row)
	}
	bits := Entropy(of)
	for h, row := range given {
		if prior[h] > 0 {
			bits -= prior[h] * Entropy(row)
		}
	}
	return math.Max(bits, 0)
}
