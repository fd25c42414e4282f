package edges

import (
	"math"
	"slices"
)

// jumps finds the levels of a switching sensor behind a capacitor, as the input of a sound
// card has one: each change of level is a jump, and what should be held runs back to rest.
// A jump is as sharp behind the capacitor as before it, so that the edge is where it was.
type jumps struct {
	seen    int
	v       [4]float64 // the last samples, the newest first
	t       [4]float64
	largest float64 // jump lately,
	highest float64 // and of all
	peak    float64 // the largest way over two samples of the jump under way; 0: none is
	at      float64 // of its middle
	from    float64 // before it
	after   int     // samples since the last jump ended
	edges   []Edge
	holds   []hold // from after a jump to the next one, and
	parts   []hold // to a moment later
	open    hold
	size    []float64
	sure    float64 // the time constant once it is told; 0: not yet
	typical float64 // size of jumps when it was told
	back    bool    // levels ran back then, and did not stay
	wide    float64 // range of all samples so far
	failed  int     // times that it was not
	off     bool    // it is none
}

// hold is what a level runs through between two jumps.
type hold struct {
	begin    float64 // seconds
	from, to float64
	took     float64 // seconds
}

// Settings of the jumps, by trial. Shares are of the largest jump lately.
const (
	sharpShare = 0.4
	sharpNoise = 8.0  // standard deviations of the noise
	sharpFade  = 1.0  // seconds in which a large jump is forgotten
	leastJumps = 4    // to tell
	flicker    = 0.1  // of a jump: if none before was larger they were the converter's or noise, and the recording begins anew
	mostHolds  = 512  // after which it is told, or that it is not
	mostFailed = 8    // times, then it is given up: what comes first may be no engine
	partHold   = 24   // samples of a moment
	leastWide  = 0.25 // of the range of all samples that the jumps are, in the median: noise at rest is none
	leastDecay = 0.15 // of a hold, in the median, that matters
	mostMiss   = 0.1  // root mean square by which holds may miss their law, over the jumps' size,
	mostHeld   = 0.6  // and over that by which they miss a level that is held
)

// add takes samples dt seconds apart.
func (j *jumps) add(t, v []float64, dt, noise float64) {
	if j.off {
		return
	}
	if j.sure > 0 && j.typical <= leastWide*j.wide {
		*j = jumps{failed: j.failed}
	}
	j.largest *= math.Exp(-dt * float64(len(v)) / sharpFade)
	least := max(sharpShare*j.largest, sharpNoise*noise)
	for i := 0; i < len(v) && !j.off; i++ {
		if i > 4 && j.peak == 0 && j.after > 3+partHold {
			from := i
			for i < len(v) && math.Abs(v[i]-v[i-2]) <= least {
				i++
			}
			j.seen += i - from
			j.after += i - from
			j.v = [4]float64{v[i-1], v[i-2], v[i-3], v[i-4]}
			j.t = [4]float64{t[i-1], t[i-2], t[i-3], t[i-4]}
			if i == len(v) {
				break
			}
		}
		x := v[i]
		way := x - j.v[1]
		if size := math.Abs(way); size > least && j.seen > 2 || j.peak != 0 {
			if j.largest = max(j.largest, size); size <= max(sharpShare*j.largest, sharpNoise*noise) {
				j.landed()
			} else {
				j.forgetFlicker(size)
				j.jump(t[i], x, way)
			}
			least = max(sharpShare*j.largest, sharpNoise*noise)
		}
		j.v[3], j.v[2], j.v[1], j.v[0] = j.v[2], j.v[1], j.v[0], x
		j.t[3], j.t[2], j.t[1], j.t[0] = j.t[2], j.t[1], j.t[0], t[i]
		j.seen++
		if j.after++; j.after == 3 {
			j.open.begin, j.open.from = t[i], x
		} else if j.after == 3+partHold && len(j.parts) < mostHolds && len(j.edges) > 0 {
			j.parts = append(j.parts, hold{from: j.open.from, to: x, took: t[i] - j.open.begin})
		}
	}
}

// forgetFlicker begins anew where a jump makes all that came before too small for one.
func (j *jumps) forgetFlicker(size float64) {
	if j.highest < flicker*size {
		j.edges, j.holds, j.parts, j.size = nil, nil, nil, nil
		j.sure, j.typical = 0, 0
	}
	j.highest = max(j.highest, size)
}

// jump takes a sample of a jump: way is from two samples before to it.
func (j *jumps) jump(t, x, way float64) {
	switch {
	case j.peak == 0:
		j.from = j.v[2]
	case j.peak*way < 0:
		j.landed()
		j.from = j.v[1]
	case math.Abs(way) <= math.Abs(j.peak):
		return
	}
	j.peak = way
	middle := (x + j.v[1]) / 2
	if part := (middle - j.v[0]) / (x - j.v[0]); part >= 0 && part <= 1 {
		j.at = j.t[0] + part*(t-j.t[0])
	} else if part := (middle - j.v[1]) / (j.v[0] - j.v[1]); part >= 0 && part <= 1 {
		j.at = j.t[1] + part*(j.t[0]-j.t[1])
	} else {
		j.at = j.t[0]
	}
}

// landed ends the jump under way.
func (j *jumps) landed() {
	if j.peak == 0 {
		return
	}
	e := Edge{At: j.at, From: 0, To: 1}
	if j.peak < 0 {
		e.From, e.To = 1, 0
	}
	if n := len(j.edges); n > 0 {
		e.Way = float32(j.at - j.edges[n-1].At)
	}
	if j.after > 6 && len(j.holds) < mostHolds && len(j.edges) > 0 {
		j.open.to, j.open.took = j.from, j.at-j.open.begin
		j.holds, j.size = append(j.holds, j.open), append(j.size, math.Abs(j.peak))
		j.settle()
	}
	if n := len(j.edges); !j.off && (n == 0 || j.edges[n-1].Rising() != e.Rising()) {
		j.edges = append(j.edges, e)
	}
	j.peak, j.after = 0, 0
}

// settle tells after many holds whether they are those of levels behind a capacitor.
func (j *jumps) settle() {
	if j.sure > 0 || len(j.holds) < mostHolds {
		return
	}
	if tau, ok := j.told(); ok {
		j.sure, j.typical = tau, j.middle()
		return
	}
	j.holds, j.parts, j.size = j.holds[:0], j.parts[:0], j.size[:0]
	if j.failed++; j.failed == mostFailed {
		*j = jumps{off: true}
	}
}

// coupled tells whether the samples are those of levels behind a capacitor, and its time
// constant in seconds: whether between jumps they run back to one level, always by the same
// exponential law, far enough to matter, and not just stay where they are.
func (j *jumps) coupled() (tau float64, ok bool) {
	tau, ok = j.told()
	return tau, ok && j.back
}

// told is coupled of levels that may as well be held.
func (j *jumps) told() (tau float64, ok bool) {
	if j.sure > 0 {
		return j.sure, j.typical > leastWide*j.wide
	}
	if len(j.holds) < leastJumps || j.middle() <= leastWide*j.wide {
		return 0, false
	}
	best := math.Inf(1)
	for x := 0.1e-3; x < 1; x *= 1.15 {
		if miss := j.miss(x); miss < best {
			best, tau = miss, x
		}
	}
	size := j.middle()
	var decay []float64
	for _, h := range j.holds {
		decay = append(decay, -math.Expm1(-h.took/tau))
	}
	slices.Sort(decay)
	j.back = best < mostHeld*j.missHeld()
	return tau, best < mostMiss*size && decay[len(decay)/2] > leastDecay
}

// middle is the median size of the jumps.
func (j *jumps) middle() float64 { return slices.Sorted(slices.Values(j.size))[len(j.size)/2] }

// missHeld is the root mean square by which holds end elsewhere than they begin.
func (j *jumps) missHeld() float64 {
	sum := 0.0
	for _, list := range [2][]hold{j.holds, j.parts} {
		for _, h := range list {
			sum += (h.to - h.from) * (h.to - h.from)
		}
	}
	return math.Sqrt(sum / float64(len(j.holds)+len(j.parts)))
}

// miss is the root mean square by which holds end elsewhere than a time constant makes
// them, the level of rest being the best one.
func (j *jumps) miss(tau float64) float64 {
	// to = rest + (from - rest)*left: linear in the rest.
	var a, b float64
	both := [2][]hold{j.holds, j.parts}
	for _, list := range both {
		for _, h := range list {
			left := math.Exp(-h.took / tau)
			a += (1 - left) * (1 - left)
			b += (1 - left) * (h.to - h.from*left)
		}
	}
	rest, sum := b/a, 0.0
	for _, list := range both {
		for _, h := range list {
			left := math.Exp(-h.took / tau)
			d := h.to - rest - (h.from-rest)*left
			sum += d * d
		}
	}
	return math.Sqrt(sum / float64(len(j.holds)+len(j.parts)))
}
