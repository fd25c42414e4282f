package cause

import "math"

// Bayes returns the posterior probabilities of hypotheses with the given prior
// probabilities, under which what was seen has the given likelihoods, and the
// probability of what was seen (MacKay, Information Theory, Inference, and
// Learning Algorithms, 2003, eq. 2.16 to 2.18; numbers from memory). The priors
// need not add up to 1. Where nothing explains what was seen the posterior is
// the prior.
func Bayes(prior, likelihood []float64) (posterior []float64, evidence float64) {
	posterior = make([]float64, len(prior))
	all := 0.0
	for i, p := range prior {
		posterior[i] = p * likelihood[i]
		evidence += posterior[i]
		all += p
	}
	for i := range posterior {
		if evidence > 0 {
			posterior[i] /= evidence
		} else {
			posterior[i] = prior[i] / all
		}
	}
	return posterior, evidence / all
}

// Entropy returns how many bits it takes on average to say which of the
// alternatives holds (MacKay 2003, eq. 2.35; number from memory). What has
// probability 0 adds nothing.
func Entropy(p []float64) float64 {
	h := 0.0
	for _, q := range p {
		if q > 0 {
			h -= q * math.Log2(q)
		}
	}
	return h
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
		for o, p := range row {
			of[o] += prior[h] * p
		}
	}
	bits := Entropy(of)
	for h, row := range given {
		if prior[h] > 0 {
			bits -= prior[h] * Entropy(row)
		}
	}
	return math.Max(bits, 0)
}
