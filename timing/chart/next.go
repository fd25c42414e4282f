package chart

import (
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// NextFiring returns the nearest firing dead centre after (dir 1) or before
// (dir −1) a crank angle. ok is false for a job without an engine.
func NextFiring(j job.Job, at timing.Deg, dir int) (next timing.Deg, ok bool) {
	e, err := finding.EngineOf(j)
	if err != nil {
		return 0, false
	}
	return e.FiresAt(nextToFire(e, at, dir)), true
}

// nextToFire returns the cylinder whose firing dead centre is the nearest after
// (dir 1) or before (dir −1) a crank angle; one that fires just there comes last.
func nextToFire(e timing.Scheme, at timing.Deg, dir int) (cylinder int) {
	best := 2 * e.Cycle()
	for c := 1; c <= e.Cylinders(); c++ {
		way := timing.Wrap(timing.Deg(dir)*(e.FiresAt(c)-at), e.Cycle())
		if way < 1e-6 {
			way = e.Cycle()
		}
		if way < best {
			best, cylinder = way, c
		}
	}
	return cylinder
}

// lastToFire returns the cylinder that fired last before one, which is itself in
// an engine of one cylinder.
func lastToFire(e timing.Scheme, cylinder int) int {
	order := e.Order()
	return order[(slices.Index(order, cylinder)+len(order)-1)%len(order)]
}
