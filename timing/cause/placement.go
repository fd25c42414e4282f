package cause

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// Placement is how crank wheel and cam may sit: crank degrees, positive is ahead.
type Placement struct {
	Wheel timing.Measured  // the wheel error, within a turn
	Less  *timing.Measured // the wheel error less the cam error, within the cycle; nil: not known
}

// Placements returns how probable each of some placements is, before anything else is
// known, when one of them must be: by the faults that lead to it, alone and in pairs,
// with their priors and how their angles are spread. The probabilities add up to 1;
// all are 0 where no fault leads to any.
func Placements(e Engine, list []Placement) []float64 {
	r := Ranking{engine: e.withDefaults()}
	chances := make([]float64, len(list))
	if r.hypotheses() != nil {
		return chances
	}
	wheel, less := Kind{number: wheelPlace}, Kind{number: correlation}
	sum := 0.0
	for i, p := range list {
		in := integrator{e: &r.engine, seen: []seen{{kind: &wheel, at: float64(p.Wheel.Value), u: float64(p.Wheel.U), period: float64(timing.Turn)}}}
		if p.Less != nil {
			in.seen = append(in.seen, seen{kind: &less, at: float64(p.Less.Value), u: float64(p.Less.U), period: float64(r.engine.cycle())})
		}
		for _, c := range r.Causes {
			in.visit(c.of, func(share float64, s *State) {
				l := c.Prior * share
				for k := range in.seen {
					x := in.seen[k].kind.number(&r.engine, s)
					l *= in.seen[k].density(x.at, math.Hypot(x.sd, in.seen[k].u))
				}
				chances[i] += l
			})
		}
		sum += chances[i]
	}
	for i := range chances {
		if sum > 0 {
			chances[i] /= sum
		}
	}
	return chances
}

func wheelPlace(_ *Engine, s *State) expected { return expected{float64(s.wheelError()), signalSD, 1} }
