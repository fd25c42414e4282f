package follow

import (
	"math"

	"pinphase.org/pinphase/timing/trace/edges"
	"pinphase.org/pinphase/timing/wheel"
)

// Run is a stretch of a recording over which every tooth is known.
type Run struct {
	Time []float64 // of each tooth, seconds
	At   []int     // its place, rising; modulo the wheel's positions it is the position less 1
	Edge []int     // the edge that it is, of those followed
}

// Turns is how many turns of a wheel a run is long.
func (r Run) Turns(positions int) float64 {
	return float64(r.At[len(r.At)-1]-r.At[0]) / float64(positions)
}

// Slip is a tooth that was lost, or an edge too many.
type Slip struct {
	Time  float64
	Extra bool
	Place int // of the lost tooth; of an edge too many, that of the tooth before it
}

// Path is a way of edges through a wheel.
type Path struct {
	Runs  []Run
	Slips []Slip  // within the runs, in order of time
	Cost  float64 // of the whole, as a negative logarithm of its probability
	doubt float64
}

// Turns is how many turns of a wheel are followed in all.
func (p Path) Turns(positions int) float64 {
	sum := 0.0
	for _, r := range p.Runs {
		sum += r.Turns(positions)
	}
	return sum
}

// What is improbable, as negative logarithms of probabilities, by trial.
const (
	lostCost     = 7.0  // a tooth of the wheel that shows no edge
	extraCost    = 2.5  // a weak edge that is no tooth
	strongCost   = 3.5  // more, of an edge as strong as those round it
	weakCost     = 3.0  // a tooth whose edge is very weak
	idleCost     = 3.5  // an edge while no wheel is followed
	beginCost    = 8.0  // to begin to follow it
	breakCost    = 8.0  // to lose it
	beam         = 28.0 // ways that much less probable than the best are given up
	mostLost     = 3    // teeth in a row
	mostExtra    = 3    // edges in a row
	weakStrength = 0.6
)

// Spread of the logarithm of an interval over what the one before makes one expect, by
// trial: of the edges' places, and of the speed over so many degrees.
const (
	placeSpread  = 0.045
	speedSpread  = 0.008 // for each degree of the interval
	mostSpread   = 0.22
	tails        = 6.0  // the fewer, the more often an interval is far from what was expected
	pitchFollows = 0.75 // share of a difference that the pitch takes over
	mostTrend    = 0.3  // of the logarithm of a pitch, from position to position
)

// node is the best way that ends with an edge being a tooth.
type node struct {
	cost  float64
	pitch float64 // logarithm of the time of a position, NaN: not known yet; of the last few,
	last  float64 // and of the last alone
	trend float64 // by which it changes from position to position
	far   int     // the last way, in positions
	place int     // of the tooth
	from  int     // the node before it, -1: begun here
	edge  int
}

// follower goes along edges.
type follower struct {
	list   []edges.Edge
	weak   []float64 // cost of taking each edge as a tooth,
	extra  []float64 // and as none
	idle   []float64 // cost when no wheel is followed at an edge
	left   []int     // the node that was left for that, -1 none
	nodes  []node
	first  []int // of each edge, and one beyond the last
	wheel  steps
	best   []int   // of the edge in hand: its node by position, -1 none,
	other  []int   // and the best of those that have seen another speed
	least  float64 // cost of the best way to the edge in hand so far
	room   int     // for so many nodes before those that count no more are let go of
	logs   []float64
	spread []float64
}

// Follow takes edges of one direction through a wheel. A stretch counts from a full
// turn on. A wheel without teeth follows nothing.
func Follow(list []edges.Edge, w wheel.Crank) Path { return follow(list, w, mostNodes) }

// mostNodes are held at once beyond those that still count: some tens of MiB.
const mostNodes = 1 << 19

func follow(list []edges.Edge, w wheel.Crank, room int) Path {
	if w.Teeth() < 1 || len(list) < 2 {
		return Path{}
	}
	f := &follower{list: list, wheel: stepsOf(w), room: room}
	f.prepare()
	for i := range list {
		f.step(i)
		if len(f.nodes) > f.room {
			f.forget(i)
			f.room = room + 2*len(f.nodes)
		}
	}
	f.first = append(f.first, len(f.nodes))
	return f.path()
}

// prepare works out what each edge costs, and the spreads of intervals.
func (f *follower) prepare() {
	n := len(f.list)
	f.weak, f.extra = make([]float64, n), make([]float64, n)
	f.idle, f.left = make([]float64, n), make([]int, n)
	for i := range f.list {
		strength := f.strength(i)
		f.weak[i] = weakCost * max(0, 1-strength/weakStrength)
		f.extra[i] = extraCost + strongCost*min(max((strength-0.3)/0.5, 0), 1)
	}
	f.best, f.other = make([]int, len(f.wheel.next)), make([]int, len(f.wheel.next))
	pitch := 360 / float64(len(f.wheel.next))
	f.logs, f.spread = make([]float64, f.wheel.furthest+1), make([]float64, f.wheel.furthest+1)
	for s := 1; s <= f.wheel.furthest; s++ {
		f.logs[s] = math.Log(float64(s))
		f.spread[s] = math.Hypot(placeSpread, min(speedSpread*float64(s)*pitch, mostSpread))
	}
}

// strengthReach is how many edges to either side an edge is held against: few, for the
// signal of an inductive sensor grows with the speed.
const strengthReach = 4

// strength is an edge's size over the median of those round it.
func (f *follower) strength(i int) float64 {
	var near [2*strengthReach + 1]float64
	n := 0
	for k := max(i-strengthReach, 0); k <= min(i+strengthReach, len(f.list)-1); k++ {
		size := f.list[k].Size()
		j := n
		for ; j > 0 && near[j-1] > size; j-- {
			near[j] = near[j-1]
		}
		near[j] = size
		n++
	}
	if middle := near[n/2]; middle > 0 {
		return f.list[i].Size() / middle
	}
	return 1
}

// step finds the best ways that end at edge i.
func (f *follower) step(i int) {
	f.first = append(f.first, len(f.nodes))
	idle := 0.0 // up to the edge before
	f.left[i] = -1
	if i > 0 {
		idle = f.idle[i-1]
		f.idle[i] = idle + idleCost
		for k := f.first[i-1]; k < f.first[i]; k++ {
			if c := f.nodes[k].cost + breakCost + idleCost; c < f.idle[i] {
				f.idle[i], f.left[i] = c, k
			}
		}
	} else {
		f.idle[i] = idleCost
	}
	for p := range f.best {
		f.best[p], f.other[p] = -1, -1
	}
	begin := idle + beginCost + f.weak[i]
	f.least = begin
	skipped := 0.0
	for j := i - 1; j >= max(i-1-mostExtra, 0); j-- {
		took := math.Log(f.list[i].At - f.list[j].At)
		for k := f.first[j]; k < f.first[j+1]; k++ {
			f.extend(k, i, took, skipped+f.weak[i])
		}
		skipped += f.extra[j]
	}
	if begin < f.least+beam {
		for p := range f.best {
			if f.wheel.next[p] > 0 {
				// Beside the best way to the tooth: what it knows of the pitch may be wrong.
				f.nodes = append(f.nodes, node{cost: begin, pitch: math.NaN(), place: p, from: -1, edge: i})
			}
		}
	}
	f.thin(i)
}

// extend goes on from node k to edge i, which comes so late, as a logarithm.
func (f *follower) extend(k, i int, took, cost float64) {
	n := f.nodes[k]
	place, far := n.place, 0
	positions := len(f.wheel.next)
	for lost := 0; lost <= mostLost; lost++ {
		s := f.wheel.next[((place+far)%positions+positions)%positions]
		far += s
		if far > f.wheel.furthest {
			return
		}
		next := node{cost: n.cost + cost + lostCost*float64(lost), place: place + far, from: k, edge: i}
		if next.cost > f.least+beam {
			return // it would be given up, and further ones too
		}
		if n.pitch != n.pitch {
			if lost > 0 {
				return
			}
			next.pitch = took - f.logs[far]
			next.last, next.far = next.pitch, far
			f.offer(next)
			continue
		}
		seen := took - f.logs[far]
		e := n.miss(seen, far)
		if e < -1 {
			return // further still is worse still
		}
		x := e / f.spread[far]
		next.cost += tails * math.Log1p(x*x/(2*tails))
		next.pitch = n.pitch + pitchFollows*(seen-n.pitch)
		next.last, next.far = seen, far
		next.trend = min(max((seen-n.last)/(float64(far+n.far)/2), -mostTrend), mostTrend)
		f.offer(next)
	}
}

// miss is by how much a pitch over so many positions misses what it should be: the speed
// stays, or goes on changing as it did, or does what lies between.
func (n node) miss(seen float64, far int) float64 {
	lo := n.pitch
	hi := n.last + n.trend*float64(far+n.far)/2
	if lo > hi {
		lo, hi = hi, lo
	}
	switch {
	case seen < lo:
		return seen - lo
	case seen > hi:
		return seen - hi
	}
	return 0
}

// offer keeps a way if it is the best to its tooth, or the best of those that have seen
// another speed: what it costs to go on depends on that, and the dearer of two may be the
// cheaper one tooth on.
func (f *follower) offer(n node) {
	f.least = min(f.least, n.cost)
	positions := len(f.best)
	p := (n.place%positions + positions) % positions
	k, o := f.best[p], f.other[p]
	switch {
	case k < 0:
		f.best[p] = len(f.nodes)
		f.nodes = append(f.nodes, n)
	case n.alike(f.nodes[k]):
		if n.cost < f.nodes[k].cost {
			f.nodes[k] = n
		}
	case o < 0:
		f.other[p] = len(f.nodes)
		f.nodes = append(f.nodes, n)
	case n.cost < f.nodes[o].cost:
		f.nodes[o] = n
	}
	if o := f.other[p]; o >= 0 && f.nodes[o].cost < f.nodes[f.best[p]].cost {
		f.best[p], f.other[p] = o, f.best[p]
	}
}

// otherSpeed is by how much the logarithm of a pitch differs in ways that have seen
// different speeds.
const otherSpeed = 0.25

// alike tells whether two ways to a tooth have seen the same speed.
func (n node) alike(o node) bool {
	return math.Abs(n.pitch-o.pitch) < otherSpeed && math.Abs(n.last-o.last) < 2*otherSpeed
}

// thin gives up the ways to edge i that are far less probable than the best.
func (f *follower) thin(i int) {
	from := f.first[i]
	kept := f.nodes[:from]
	for _, n := range f.nodes[from:] {
		if n.cost <= f.least+beam {
			kept = append(kept, n)
		}
	}
	f.nodes = kept
}
