package follow

import (
	"math"
	"slices"
)

// path goes back along the best way and tells its runs.
func (f *follower) path() Path {
	n := len(f.list)
	at, idle, cost := -1, n-1, f.idle[n-1]
	after := 0.0
	for i := n - 1; i >= max(n-1-mostExtra, 0); i-- {
		for k := f.first[i]; k < f.first[i+1]; k++ {
			if c := f.nodes[k].cost + after; c < cost {
				at, cost = k, c
			}
		}
		after += f.extra[i]
	}
	p := Path{Cost: cost}
	for at >= 0 || idle >= 0 {
		if at < 0 { // nothing is followed at edge idle
			at = f.left[idle]
			idle--
			continue
		}
		var chain []int
		for k := at; k >= 0; k = f.nodes[k].from {
			chain = append(chain, k)
		}
		idle, at = f.nodes[chain[len(chain)-1]].edge-1, -1
		slices.Reverse(chain)
		f.add(&p, chain)
	}
	slices.Reverse(p.Runs)
	slices.SortStableFunc(p.Slips, func(a, b Slip) int {
		switch {
		case a.Time < b.Time:
			return -1
		case a.Time > b.Time:
			return 1
		}
		return 0
	})
	return p
}

// add adds a chain of nodes as a run, with its slips, if it is a turn long.
func (f *follower) add(p *Path, chain []int) {
	positions := len(f.wheel.next)
	first, last := f.nodes[chain[0]], f.nodes[chain[len(chain)-1]]
	if last.place-first.place < positions {
		return
	}
	r := Run{Time: make([]float64, 0, len(chain)), At: make([]int, 0, len(chain)), Edge: make([]int, 0, len(chain))}
	for i, k := range chain {
		n := f.nodes[k]
		if i > 0 {
			before := f.nodes[chain[i-1]]
			from, to := f.list[before.edge].At, f.list[n.edge].At
			for e := before.edge + 1; e < n.edge; e++ {
				p.Slips = append(p.Slips, Slip{f.list[e].At, true, before.place})
			}
			for place := before.place + f.wheel.after(before.place); place < n.place; place += f.wheel.after(place) {
				share := float64(place-before.place) / float64(n.place-before.place)
				p.Slips = append(p.Slips, Slip{from + share*(to-from), false, place})
			}
		}
		r.Time, r.At, r.Edge = append(r.Time, f.list[n.edge].At), append(r.At, n.place), append(r.Edge, n.edge)
	}
	p.Runs = append(p.Runs, r)
	p.doubt += last.cost - first.cost
}

// Rough is how unevenly teeth follow one another: the mean of the difference of
// neighbouring pitches over their sum.
func (p Path) Rough() float64 {
	sum, n := 0.0, 0.0
	for _, run := range p.Runs {
		for i := 1; i+1 < len(run.At); i++ {
			before := (run.Time[i] - run.Time[i-1]) / float64(run.At[i]-run.At[i-1])
			after := (run.Time[i+1] - run.Time[i]) / float64(run.At[i+1]-run.At[i])
			sum += math.Abs(after-before) / (after + before)
			n++
		}
	}
	return sum / math.Max(n, 1)
}

// Awry is how much is wrong in a turn: slips, and gaps that are not as long as the wheel
// has them, up to 1 for each.
func (p Path) Awry(positions int) float64 {
	const off = 0.2 // of the logarithm of a gap that is too long or too short by one for it
	sum := float64(len(p.Slips))
	for _, r := range p.Runs {
		for i := 2; i+2 < len(r.At); i++ {
			if r.At[i]-r.At[i-1] < 2 {
				continue
			}
			pitch := (r.Time[i-1] - r.Time[i-2]) / float64(r.At[i-1]-r.At[i-2]) * (r.Time[i+1] - r.Time[i]) / float64(r.At[i+1]-r.At[i])
			x := math.Log((r.Time[i]-r.Time[i-1])/float64(r.At[i]-r.At[i-1])/math.Sqrt(pitch)) / off
			sum += min(x*x, 1)
		}
	}
	return sum / max(p.Turns(positions), 0.1)
}

// Sound is how much better the runs explain their edges than to say that nothing is
// followed, 1 where every edge fits and 0 or less where following explains nothing.
func (p Path) Sound() float64 {
	if len(p.Runs) == 0 {
		return 0
	}
	n := 0
	for _, r := range p.Runs {
		n += r.Edge[len(r.Edge)-1] - r.Edge[0] + 1
	}
	return 1 - (p.doubt+(beginCost+breakCost)*float64(len(p.Runs)))/(idleCost*float64(n))
}

// Doubt is how improbable the runs are beside edges that all fit, as a negative
// logarithm.
func (p Path) Doubt() float64 { return p.doubt }
