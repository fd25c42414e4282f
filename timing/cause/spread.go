package cause

import "math"

// bell is one part of the probability of an unknown angle: normal, or even from
// lo to hi where sd is 0.
type bell struct {
	weight float64
	mean   float64
	sd     float64
	lo, hi float64
}

// spread is the probability of an unknown angle, in degrees; its weights add up
// to 1.
type spread []bell

// nearZero is the usual spread of a mistake: a share of them small, with a standard
// deviation, and the others of any size within the reach.
func nearZero(share, sd, reach float64) spread {
	return spread{{weight: share, sd: sd}, {weight: 1 - share, lo: -reach, hi: reach}}
}

// even is an angle of which nothing is known.
func even(reach float64) spread { return spread{{weight: 1, lo: -reach, hi: reach}} }

func (s spread) density(x float64) float64 {
	d := 0.0
	for _, b := range s {
		switch {
		case b.sd > 0:
			z := (x - b.mean) / b.sd
			d += b.weight * math.Exp(-z*z/2) / (b.sd * math.Sqrt(2*math.Pi))
		case x >= b.lo && x <= b.hi:
			d += b.weight / (b.hi - b.lo)
		}
	}
	return d
}

// reach returns between which angles the spread lies, for a normal part to five
// standard deviations.
func (s spread) reach() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, b := range s {
		l, h := b.lo, b.hi
		if b.sd > 0 {
			l, h = b.mean-5*b.sd, b.mean+5*b.sd
		}
		lo, hi = min(lo, l), max(hi, h)
	}
	return lo, hi
}
