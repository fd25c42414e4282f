package wheel

import (
	"sort"

	"pinphase/timing"
)

// Mirror returns the axis about which [Fitting.BackToFront] turns the wheel
// over, as an angle on the wheel from tooth 1, positive in the direction of
// rotation: the middle of the gap that tooth 1 follows. Where the dowel lies from
// tooth 1 a job does not say, and a wheel turned over about its dowel is this one
// and a displacement besides. A wheel with one gap looks the same either way
// round: only the displacement shows.
func (c Crank) Mirror() timing.Deg {
	gaps := c.Gaps()
	if len(gaps) == 0 {
		return 0
	}
	return c.Pitch() * timing.Deg(gaps[len(gaps)-1].Missing+1) / 2
}

// Passing is a tooth that passes its sensor.
type Passing struct {
	Tooth    int        // crank: position; cam: from 1
	At       timing.Deg // true crank angle, in [0, cycle)
	Believed timing.Deg // the controller's crank angle then, in [0, cycle)
}

// CrankPassings returns the crank teeth of one cycle in the order in which they
// pass from angle 0 on.
func (s Signals) CrankPassings(cycle timing.Deg, f Fitting) []Passing {
	var list []Passing
	for p := 1; p <= s.Crank.Positions; p++ {
		if s.Crank.IsMissing(p) {
			continue
		}
		at := s.Crank.PassesAt(p, f.Delta)
		if f.BackToFront {
			back := -s.Crank.FirstToothBTDC - 2*s.Crank.Mirror() - timing.Turn*timing.Deg(p-1)/timing.Deg(s.Crank.Positions) - f.Delta
			at = timing.Wrap(back, timing.Turn)
		}
		for ; at < cycle; at += timing.Turn {
			list = append(list, Passing{p, at, timing.Wrap(f.Believes(at), cycle)})
		}
	}
	sort.Slice(list, func(i, j int) bool { return list[i].At < list[j].At })
	return list
}

// CamPassing is a cam tooth that passes its sensor, and where among the crank
// wheel's teeth it does.
type CamPassing struct {
	Passing
	Expected timing.Deg // the controller's angle on a correct engine, in [0, cycle)
	Late     timing.Deg // seen later than that; delta - gamma, in (-cycle/2, cycle/2]

	After  int  // the crank tooth that passed last
	Before int  // the one that passes next
	Gap    bool // teeth are missing between the two
}

// CamPassings returns the cam teeth of one cycle in the order in which they pass
// from angle 0 on; none without a cam wheel, no crank teeth on a wheel without any.
func (s Signals) CamPassings(f Fitting) []CamPassing {
	if s.Cam == nil {
		return nil
	}
	cycle := s.Cam.Cycle
	crank := s.CrankPassings(cycle, f)
	var list []CamPassing
	for j := range s.Cam.Teeth {
		at := s.Cam.PassesAt(j+1, f.CamError(cycle))
		expected := s.Cam.PassesAt(j+1, 0)
		p := CamPassing{Passing: Passing{j + 1, at, timing.Wrap(f.Believes(at), cycle)}, Expected: expected}
		p.Late = timing.Difference(expected, p.Believed, cycle)
		if n := len(crank); n > 0 {
			next := sort.Search(n, func(i int) bool { return crank[i].At > at })
			after, before := crank[(next+n-1)%n], crank[next%n]
			p.After, p.Before = after.Tooth, before.Tooth
			p.Gap = timing.Wrap(before.At-after.At, cycle) > 1.5*s.Crank.Pitch()
		}
		list = append(list, p)
	}
	sort.Slice(list, func(i, j int) bool { return list[i].At < list[j].At })
	return list
}
