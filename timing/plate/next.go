package plate

import (
	"pinphase/timing"
	"pinphase/timing/finding"
	"pinphase/timing/job"
)

// NextFiring returns the nearest firing dead centre after (dir 1) or before
// (dir −1) a crank angle. ok is false for a job without an engine.
func NextFiring(j job.Job, at timing.Deg, dir int) (next timing.Deg, ok bool) {
	e, err := finding.EngineOf(j)
	if err != nil {
		return 0, false
	}
	best := 2 * e.Cycle()
	for c := 1; c <= e.Cylinders(); c++ {
		way := timing.Wrap(timing.Deg(dir)*(e.FiresAt(c)-at), e.Cycle())
		if way < 1e-6 {
			way = e.Cycle()
		}
		if way < best {
			best, next = way, e.FiresAt(c)
		}
	}
	return next, true
}
