package trace

import (
	"math"
	"sort"

	"pinphase.org/pinphase/timing/trace/edges"
	"pinphase.org/pinphase/timing/trace/follow"
	"pinphase.org/pinphase/timing/wheel"
)

// leastEdge of the edges round it an edge must have to be looked at.
const leastEdge = 0.25

// reading is a crank wheel read from one channel by one slope.
type reading struct {
	channel int
	rising  bool
	sensor  wheel.Sensor
	hall    float64      // probability that it is a Hall sensor, by its signal and the job
	sure    bool         // that teeth pass at this slope
	right   float64      // how probable that is of an inductive sensor
	late    float64      // pitches after its edge at which a tooth of a signal that is cut off passes
	leans   float64      // pitches that may be so all the same, where too little is seen of it
	list    []edges.Edge // of its slope,
	other   []edges.Edge // and of the other
	path    follow.Path
	turns   float64 // followed
	worth   float64 // of them, by how well the edges fit
	rough   float64 // how unevenly teeth follow one another
	wheel   wheel.Crank
	shape   shape
	found   Pattern
	support float64
	strange []float64 // the edges by which it was found
	levels  bool      // its edges are changes of level, without a shape
	lost    []int     // teeth of the job's wheel that most turns lack, where it may be the job's all the same
	ways    []int     // other ways to lay the wheel, as good, by how many positions further; see damage
}

// trialEdges are enough to choose slope and smoothing by; the rest is then followed once.
const trialEdges = 8000

// readCrank tries a channel as the crank sensor's: at every degree of smoothing and
// by both slopes, each against the job's wheel; what cannot be followed is read
// without the job.
func readCrank(c *channel, index int, w wheel.Crank, job wheel.Sensor, sampleS, first float64) reading {
	best, smoothing := reading{channel: index}, 0
	var slopes [edges.Smoothings][2][]edges.Edge
	for k := range slopes {
		all := c.edges.Edges(k)
		falling, rising := edges.Split(edges.Prune(all, leastEdge, edges.Scales(all)))
		slopes[k] = [2][]edges.Edge{falling, rising}
		from, to := trialTime(falling)
		falling, rising = within(falling, from, to), within(rising, from, to)
		atLevel := readSlope(falling, rising, false, index, w)
		if r := readSlope(rising, falling, true, index, w); r.better(atLevel) {
			atLevel = r
		}
		if k == 0 || atLevel.smoother(best) {
			best, smoothing = atLevel, k
		}
	}
	if both := slopes[smoothing]; len(both[0]) > trialEdges {
		own, other := both[0], both[1]
		if best.rising {
			own, other = other, own
		}
		best = readSlope(own, other, best.rising, index, w)
	}
	best.levels = c.edges.Stepped()
	best.judge(c, sampleS*float64(int(1)<<(2*smoothing)), first, job) // a jump takes a mean
	if best.turns < leastTurns || best.strays() {
		best.strangeWheel(slopes)
	}
	return best
}

// trialTime is from when to when the edges lie that slope and smoothing are chosen by:
// those in the middle of the recording.
func trialTime(list []edges.Edge) (from, to float64) {
	if len(list) <= trialEdges {
		return math.Inf(-1), math.Inf(1)
	}
	first := (len(list) - trialEdges) / 2
	return list[first].At, list[first+trialEdges-1].At
}

// within are the edges from one time to another.
func within(list []edges.Edge, from, to float64) []edges.Edge {
	i := sort.Search(len(list), func(i int) bool { return list[i].At >= from })
	k := sort.Search(len(list), func(k int) bool { return list[k].At > to })
	return list[i:k]
}

// strangeWheel reads the wheel without the job. Where both slopes show one it is that
// with the longer gap: between an inductive sensor's teeth the other slope splits it.
func (r *reading) strangeWheel(slopes [edges.Smoothings][2][]edges.Edge) {
	const alike = 0.03
	longest := 0
	for k, both := range slopes {
		for i, list := range both {
			t := times(list)
			p, support := pattern(t)
			if !p.likely() && !p.turned(r.wheel, false) {
				support = 0
			}
			gap := 0
			if support > 0 {
				gap = follow.Longest(p.crank())
			}
			if better := support - r.support - 0.02*float64(k); better > alike || better > -alike && gap > longest {
				r.found, r.support, r.strange, longest = p, support, t, gap
				if r.turns < leastTurns {
					r.list, r.other, r.rising = list, both[1-i], i == 1
				}
			}
		}
	}
}

func times(list []edges.Edge) []float64 {
	t := make([]float64, len(list))
	for i, e := range list {
		t[i] = e.At
	}
	return t
}

// readSlope follows the edges of one slope.
func readSlope(list, other []edges.Edge, up bool, index int, w wheel.Crank) reading {
	r := reading{channel: index, rising: up, list: list, other: other, wheel: w, right: 1}
	r.follow(w)
	return r
}

// follow follows a wheel.
func (r *reading) follow(w wheel.Crank) {
	r.path, r.wheel = follow.Follow(r.list, w), w
	r.turns, r.rough = r.path.Turns(w.Positions), r.path.Rough()
	r.worth = r.turns * min(max((r.path.Sound()-0.4)/0.3, 0), 1) // of noise little is explained
}

// better tells whether one slope shows the wheel better than the other.
func (r reading) better(o reading) bool {
	if math.Abs(r.worth-o.worth) > max(0.5, 0.3*o.worth) {
		return r.worth > o.worth
	}
	n := r.wheel.Positions
	if a, b := r.path.Awry(n), o.path.Awry(n); math.Abs(a-b) > 0.25 {
		return a < b
	}
	if a, b := r.path.Doubt(), o.path.Doubt(); math.Abs(a-b) > 2+0.2*min(a, b) {
		return a < b
	}
	return r.rough < o.rough
}

// smoother tells whether a reading with more smoothing is better than one with
// less: it follows more of the recording, with far fewer slips, or the same much
// more evenly.
func (r reading) smoother(o reading) bool {
	slips, others := len(r.path.Slips), len(o.path.Slips)
	switch {
	case r.worth > o.worth+0.5 && r.worth > 1.02*o.worth:
		return true
	case r.worth < o.worth-0.5 && r.worth < 0.98*o.worth:
		return false
	case slips > others:
		return false
	case float64(others) > math.Max(4, o.turns/5): // more than a damaged tooth or a spike here and there
		return slips < others
	}
	return r.rough < 0.8*o.rough
}

// strays tells whether the way through the job's wheel has so many slips that another
// wheel may be what is there.
func (r reading) strays() bool {
	awry := r.path.Awry(r.wheel.Positions)*r.turns + 2*float64(len(r.path.Runs)-1)
	return awry > math.Max(2, 0.7*r.turns)
}

// strangeIsBetter tells whether the wheel found without the job explains the edges so
// much better than the job's that it is there.
func (r reading) strangeIsBetter() bool {
	const (
		strangeWheel = 12.0 // logarithm of how much less often a job names another wheel than its own,
		eachGap      = 3.0  // and of what any one gap more than usual comes to
	)
	if !(r.support > sureSupport) || r.found.turned(r.wheel, false) {
		return false
	}
	own := math.Inf(1)
	for _, list := range [][]edges.Edge{r.list, r.other} {
		own = min(own, follow.Follow(list, r.found.crank()).Cost)
	}
	return own+strangeWheel+eachGap*float64(r.found.gaps()) < r.path.Cost
}
