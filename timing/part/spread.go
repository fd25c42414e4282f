package part

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part/uncertainty"
)

// spread is where an angle may be, in degrees: about one place, or anywhere.
type spread struct {
	at, sd float64
	dof    float64 // of sd; 0: no limit
	flat   bool    // anywhere on the turn
}

// density is that of reading r where the angle is spread as s, per degree.
func (s spread) density(r spread) float64 {
	if s.flat || r.flat {
		return 1 / float64(timing.Turn)
	}
	sd := math.Hypot(s.sd, r.sd)
	return uncertainty.StudentDensity(between(s.at, r.at)/sd, s.dofWith(r, sd)) / sd
}

// dofWith are the effective degrees of freedom of both spreads together
// (JCGM 100:2008, eq. G.2b).
func (s spread) dofWith(r spread, sd float64) float64 {
	sum := 0.0
	for _, x := range []spread{s, r} {
		if x.dof > 0 {
			sum += math.Pow(x.sd/sd, 4) / x.dof
		}
	}
	if sum == 0 {
		return 0
	}
	return 1 / sum
}

// and is the angle when both spreads hold: the mean weighted by what each is
// worth. An exact one leaves nothing to the other.
func (s spread) and(r spread) spread {
	switch {
	case s.flat:
		return r
	case r.flat:
		return s
	case s.sd == 0:
		return s
	}
	a, b := s.sd*s.sd, r.sd*r.sd
	return spread{at: s.at + between(s.at, r.at)*a/(a+b), sd: math.Sqrt(a * b / (a + b))}
}

// negative is the spread of the angle's negative.
func (s spread) negative() spread {
	s.at = -s.at
	return s
}

// wider is the spread with an independent uncertainty more.
func (s spread) wider(sd float64) spread {
	s.sd = math.Hypot(s.sd, sd)
	return s
}

// between is the short way from a to b.
func between(a, b float64) float64 {
	return float64(timing.Difference(timing.Deg(a), timing.Deg(b), timing.Turn))
}
