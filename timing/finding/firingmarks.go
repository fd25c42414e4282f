package finding

import (
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
)

// FiringMark is a place on whatever turns with the crankshaft: how far the crank
// has turned from cylinder 1's firing TDC, in [0, 360), when it comes past, and
// the cylinders that then fire, on this turn or on the next.
type FiringMark struct {
	At        timing.Deg
	Cylinders []int
}

// FiringMarks returns the marks of a job's engine as they come past in the
// direction of rotation, that of cylinder 1 first.
func FiringMarks(j job.Job) ([]FiringMark, error) {
	e, err := EngineOf(j)
	if err != nil {
		return nil, err
	}
	var list []FiringMark
	for c := 1; c <= e.Cylinders(); c++ {
		at := timing.Deg(inCycle(timing.Wrap(e.FiresAt(c), timing.Turn), timing.Turn))
		i := slices.IndexFunc(list, func(m FiringMark) bool { return m.At == at })
		if i < 0 {
			i = len(list)
			list = append(list, FiringMark{At: at})
		}
		list[i].Cylinders = append(list[i].Cylinders, c)
	}
	slices.SortFunc(list, func(a, b FiringMark) int {
		if a.At < b.At {
			return -1
		}
		return 1
	})
	return list, nil
}
