package wheel

import (
	"sort"

	"pinphase.org/pinphase/timing"
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

// Passing is a tooth that passes its sensor, and the edge the controller counts
// for it.
//
// The controller counts the falling zero crossing of an inductive sensor, at the
// tooth's centre, and the rising edge of a Hall sensor, at the tooth's leading
// edge. With the wires exchanged the crossing that falls is the one half-way to the
// next tooth, also across a gap, where it is hardly a crossing at all; and the edge
// that rises is the trailing one.
type Passing struct {
	Tooth    int        // crank: position; cam: from 1
	At       timing.Deg // true crank angle at which the tooth passes, in [0, cycle)
	Edge     timing.Deg // true crank angle of the edge that is counted, likewise
	Believed timing.Deg // the controller's crank angle at that edge, likewise
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
			list = append(list, Passing{Tooth: p, At: at})
		}
	}
	s.count(list, cycle, s.CrankSensor, f.CrankReversed, s.Crank.Pitch()*hallWidth, f)
	return list
}

// count sorts teeth by where they pass and fills in the edges that are counted.
func (s Signals) count(list []Passing, cycle timing.Deg, sensor Sensor, reversed bool, width timing.Deg, f Fitting) {
	sort.Slice(list, func(i, j int) bool { return list[i].At < list[j].At })
	for i := range list {
		p := &list[i]
		p.Edge = p.At
		switch {
		case reversed && sensor == Hall:
			p.Edge = timing.Wrap(p.At+width, cycle)
		case reversed:
			way := timing.Wrap(list[(i+1)%len(list)].At-p.At, cycle)
			if way == 0 { // a single tooth in the cycle
				way = cycle
			}
			p.Edge = timing.Wrap(p.At+way/2, cycle)
		}
		p.Believed = timing.Wrap(s.Believes(p.Edge, f), cycle)
	}
}

// CamPassing is a cam tooth that passes its sensor, and where among the crank
// wheel's teeth its edge falls.
type CamPassing struct {
	Passing
	Expected timing.Deg // the controller's angle on a correct engine, in [0, cycle)
	Late     timing.Deg // counted later than that; delta - gamma with all wires right, in (-cycle/2, cycle/2]

	After  int     // the crank tooth that passed last
	Before int     // the one that passes next
	Part   float64 // of the way from the one to the other, in [0, 1)
	Gap    bool    // teeth are missing between the two
}

// CamPassings returns the cam teeth of one cycle in the order in which they pass
// from angle 0 on; none without a cam wheel, no crank teeth on a wheel without any.
func (s Signals) CamPassings(f Fitting) []CamPassing {
	if s.Cam == nil {
		return nil
	}
	cycle := s.Cam.Cycle
	teeth := make([]Passing, len(s.Cam.Teeth))
	for j := range teeth {
		teeth[j] = Passing{Tooth: j + 1, At: s.Cam.PassesAt(j+1, f.CamError(cycle))}
	}
	s.count(teeth, cycle, s.CamSensor, f.CamReversed, s.CamToothWidth(), f)
	crank := s.CrankPassings(cycle, f)
	list := make([]CamPassing, len(teeth))
	for i, t := range teeth {
		p := CamPassing{Passing: t, Expected: s.Cam.PassesAt(t.Tooth, 0)}
		p.Late = timing.Difference(p.Expected, p.Believed, cycle)
		p.among(crank, cycle, s.Crank.Pitch())
		list[i] = p
	}
	return list
}

// together is how near to a crank tooth a cam edge counts as falling on it, in
// degrees: rounding, not measurement.
const together = 1e-9

// among places the edge among the crank teeth of a cycle, which are in order.
func (p *CamPassing) among(crank []Passing, cycle, pitch timing.Deg) {
	n := len(crank)
	if n == 0 {
		return
	}
	next := sort.Search(n, func(i int) bool { return crank[i].At > p.Edge+together })
	after, before := crank[(next+n-1)%n], crank[next%n]
	way := timing.Wrap(before.At-after.At, cycle)
	if way == 0 {
		way = cycle
	}
	p.After, p.Before, p.Gap = after.Tooth, before.Tooth, way > 1.5*pitch
	p.Part = max(0, float64(timing.WrapSigned(p.Edge-after.At-way/2, cycle)+way/2)/float64(way))
}

// SameFromBehind tells whether the wheel turned over shows the same teeth and gaps
// in the same order, as every wheel with one gap does.
func (c Crank) SameFromBehind() bool {
	gone := make([]bool, c.Positions)
	for _, m := range c.Missing {
		gone[m-1] = true
	}
	n := len(gone)
	for turn := range n {
		same := true
		for i := 0; i < n && same; i++ {
			same = gone[i] == gone[((turn-i)%n+n)%n]
		}
		if same {
			return true
		}
	}
	return n == 0
}
