package cause

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
)

// node is one state out of those a fault can be, with its share.
type node struct {
	weight float64
	state  State
}

// Steps of the grid over an unknown angle, in degrees: fine enough for the limits
// of light-off, the sharpest thing that is not a measured angle. Round what an
// angle was measured to be the grid is finer by itself.
const (
	singleStep = 2.0
	pairStep   = 7.0
)

// pointOn is an angle with its share of a spread.
type pointOn struct{ x, share float64 }

// integrator works one hypothesis out against what was seen. Its buffers are used
// again.
type integrator struct {
	e            *Engine
	seen         []seen
	outer, inner []pointOn
	xs           []float64
	at           State
	finer        int // see repeats
}

// visit calls f for every node of a hypothesis: the branches of its fault, or of
// its two faults in every combination. The state is f's until it returns. The shares add up to 1; they stand for the
// spreads as the trapezium rule has them, which on a grid of half a standard
// deviation is exact to many digits for bells.
func (in *integrator) visit(of []int, f func(share float64, s *State)) {
	in.finer = in.repeats()
	if len(of) == 1 {
		for _, b := range faults[of[0]].make(in.e, false) {
			in.one(b.weight, b.state, b, singleStep, f)
		}
		return
	}
	for _, a := range faults[of[0]].make(in.e, true) {
		for _, b := range faults[of[1]].make(in.e, true) {
			in.two(a, b, f)
		}
	}
}

// one visits the nodes of a branch whose state has come to base.
func (in *integrator) one(share float64, base State, b branch, step float64, f func(float64, *State)) {
	if b.spread == nil {
		in.at = base
		f(share, &in.at)
		return
	}
	in.inner = in.line(in.inner[:0], base, b, step, nil)
	for _, p := range in.inner {
		in.at = base.along(b.dir, timing.Deg(p.x))
		f(share*p.share, &in.at)
	}
}

// two visits the nodes of two branches together.
func (in *integrator) two(a, b branch, f func(float64, *State)) {
	base := a.state.plus(b.state)
	share := a.weight * b.weight
	switch {
	case a.spread == nil:
		in.one(share, base, b, pairStep, f)
	case b.spread == nil:
		in.one(share, base, a, pairStep, f)
	default:
		// What is seen of the outer one alone makes its grid finer; what is seen of
		// both makes the inner one's finer at every outer angle.
		if in.own(base, b, a) > in.own(base, a, b) {
			a, b = b, a
		}
		in.outer = in.line(in.outer[:0], base, a, pairStep, &b)
		for _, p := range in.outer {
			in.one(share*p.share, base.along(a.dir, timing.Deg(p.x)), b, pairStep, f)
		}
	}
}

// slope is by how much a number that was seen grows with a branch's angle.
func (in *integrator) slope(s *seen, base State, b branch) float64 {
	on := base.along(b.dir, 1)
	return s.kind.number(in.e, &on).at - s.kind.number(in.e, &base).at
}

// angular tells whether what was seen is an angle, whose prediction grows evenly
// with the angles of a state.
func (s *seen) angular() bool { return s.kind.Value == Number && s.period > 0 }

// own is how many of the angles seen depend on a and not on b.
func (in *integrator) own(base State, a, b branch) int {
	n := 0
	for i := range in.seen {
		if s := &in.seen[i]; s.angular() && in.slope(s, base, a) != 0 && in.slope(s, base, b) == 0 {
			n++
		}
	}
	return n
}

// repeats is by how much finer a grid must be for the angle that was read most
// often: what many readings leave open goes with the root of their number.
func (in *integrator) repeats() int {
	times := map[*Kind]float64{}
	most := 1.0
	for i := range in.seen {
		times[in.seen[i].kind]++
		if in.seen[i].angular() {
			most = max(most, times[in.seen[i].kind])
		}
	}
	return min(int(math.Ceil(math.Sqrt(most))), mostFine)
}

// mostFine is how much finer at most.
const mostFine = 8

// line is the grid over a branch's angle: even steps, and finer ones where the
// spread is narrow or an angle was seen. Angles that depend on besides too are
// left out.
func (in *integrator) line(list []pointOn, base State, b branch, step float64, besides *branch) []pointOn {
	lo, hi := b.spread.reach()
	xs := in.xs[:0]
	n := int(math.Ceil((hi - lo) / step))
	for i := range n + 1 {
		xs = append(xs, lo+(hi-lo)*float64(i)/float64(n))
	}
	per, widths := 2, 6 // so many steps in a standard deviation, out to so many
	if step > singleStep {
		per, widths = 1, 4
	}
	per *= in.finer
	fine := func(at, sd float64) {
		for i := -per * widths; i <= per*widths; i++ {
			if x := at + float64(i)*sd/float64(per); x > lo && x < hi {
				xs = append(xs, x)
			}
		}
	}
	for _, bell := range b.spread {
		if bell.sd > 0 && bell.sd/float64(per) < step {
			fine(bell.mean, bell.sd)
		}
	}
	for i := range in.seen {
		s := &in.seen[i]
		if !s.angular() {
			continue
		}
		k := in.slope(s, base, b)
		if math.Abs(k) < 0.5 || besides != nil && in.slope(s, base, *besides) != 0 {
			continue
		}
		x := s.kind.number(in.e, &base)
		sd := math.Hypot(x.sd, s.u)
		if sd > 2*step {
			continue
		}
		// Every way round that the period leaves open.
		way := s.period / math.Abs(k)
		first := (s.at - x.at) / k
		first += way * math.Ceil((lo-6*sd-first)/way)
		for at := first; at <= hi+6*sd; at += way {
			fine(at, sd)
		}
	}
	slices.Sort(xs)
	in.xs = xs
	sum := 0.0
	for i, x := range xs {
		before, after := xs[max(i-1, 0)], xs[min(i+1, len(xs)-1)]
		p := pointOn{x, b.spread.density(x) * (after - before) / 2}
		if p.share > 0 {
			list = append(list, p)
			sum += p.share
		}
	}
	for i := range list {
		list[i].share /= sum
	}
	return list
}
