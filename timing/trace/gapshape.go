package trace

import (
	"math"

	"pinphase.org/pinphase/timing/trace/follow"
	"pinphase.org/pinphase/timing/wheel"
)

// course is the mean of a signal's courses past one place of its wheel, wavePoints places
// to a unit of length.
type course struct {
	v    []float64
	from float64 // the first place
	n    int     // passings
}

// gapWave is the course of a crank channel through its wheel's longest gap, in pitches
// after the last tooth before the gap.
type gapWave struct {
	course
	longest int
}

// Settings of the course through the gap, by trial.
const (
	wavePoints = 16
	waveReach  = 3    // pitches beyond the gap, either side
	mostPasses = 40   // that are laid over one another
	leastBins  = 2.5  // of the thinned copy to a pitch
	waveSoft   = 0.25 // of the signal's range, at which a deviation from rest counts as full
)

// waveOf lays the passings of the longest gap over one another.
func waveOf(c *channel, first float64, r *reading) (w gapWave, ok bool) {
	w.longest = follow.Longest(r.wheel)
	if w.longest < 2 || r.levels {
		return w, false
	}
	total := w.longest + 2*waveReach
	w.course = course{v: make([]float64, total*wavePoints+1), from: -waveReach}
	gaps := 0
	for _, run := range r.path.Runs {
		for i := waveReach; i+waveReach+1 < len(run.At); i++ {
			if run.At[i+1]-run.At[i] == w.longest {
				gaps++
			}
		}
	}
	skip, seen := max(gaps/mostPasses, 1), 0
	for _, run := range r.path.Runs {
		for i := waveReach; i+waveReach+1 < len(run.At); i++ {
			if run.At[i+1]-run.At[i] != w.longest {
				continue
			}
			if seen++; seen%skip != 0 {
				continue
			}
			pitch := (run.Time[i+1] - run.Time[i]) / float64(w.longest)
			if pitch < leastBins*c.thin.width {
				continue
			}
			passing, whole := make([]float64, len(w.v)), true
			for k := range passing {
				x := float64(k)/wavePoints - waveReach + float64(run.At[i])
				j := i
				for j > i-waveReach && x < float64(run.At[j]) {
					j--
				}
				for j < i+waveReach && x >= float64(run.At[j+1]) {
					j++
				}
				part := (x - float64(run.At[j])) / float64(run.At[j+1]-run.At[j])
				passing[k] = c.thin.value(run.Time[j] + part*(run.Time[j+1]-run.Time[j]) - first)
				whole = whole && passing[k] == passing[k]
			}
			if whole {
				for k, x := range passing {
					w.v[k] += x
				}
				w.n++
			}
		}
	}
	for k := range w.v {
		w.v[k] /= float64(w.n)
	}
	return w, w.n >= 2
}

// at is the course at a place.
func (w course) at(x float64) float64 {
	k := (x - w.from) * wavePoints
	i := min(max(int(k), 0), len(w.v)-2)
	return w.v[i] + (k-float64(i))*(w.v[i+1]-w.v[i])
}

// Settings of weighing the slopes, by trial.
const (
	slopeWeight = 8.0  // by which the logarithm of the likenesses' ratio counts
	slopeFloor  = 0.01 // of unlikeness that chance makes
	leastRight  = 0.996
	mostOff     = 0.2  // of a pitch, by which edges may be beside the place of their slope
	leastLate   = 0.08 // of a pitch, that is more than chance where nothing is seen to be cut off
	mostLate    = 0.45 // of a pitch, by which a tooth's middle may be beside the edge of a signal that is cut off
)

// weighSlopes tells how probable it is that teeth pass an inductive sensor at the slope
// that was followed and not at the other one: what comes before the gap comes after it
// backwards and turned over, seen from the middle between the teeth beside it. It takes the
// more probable slope.
func (r *reading) weighSlopes(c *channel, first float64) {
	if r.sensor != wheel.Inductive {
		return
	}
	w, ok := waveOf(c, first, r)
	if !ok {
		return
	}
	own, other := w.sides(r.shape)
	odds := slopeWeight * math.Log((other+slopeFloor)/(own+slopeFloor))
	if odds != odds {
		return
	}
	if odds < 0 {
		before := r.rising
		if r.turnOver(); r.rising != before {
			odds = -odds
		}
	}
	if r.right = logistic(odds); r.right > leastRight {
		r.right = 1
	}
	if w, ok = waveOf(c, first, r); !ok {
		return
	}
	r.late = w.centred(float64(w.longest)/2, mostLate)
	if len(c.values.clips(clipShare)) == 0 && math.Abs(r.late) < leastLate { // noise may hide that it is cut off
		r.late, r.leans = 0, max(math.Abs(r.late)-0.5/wavePoints, 0)
	}
}

// turned is how far the course is from being its own reverse about a place,
// at its level at rest turned over as well, as that of an inductive sensor is about the
// middle of a gap. 0 is not at all, 1 the opposite.
func (w course) turned(middle float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range w.v {
		lo, hi = min(lo, x), max(hi, x)
	}
	reach := min(middle-w.from, w.from+float64(len(w.v)-1)/wavePoints-middle) - 1./wavePoints
	best := math.Inf(1)
	const rests = 40
	for k := range rests + 1 {
		rest := lo + (hi-lo)*float64(k)/rests
		soft := func(x float64) float64 { return math.Tanh((x - rest) / (waveSoft * (hi - lo))) }
		unlike, all := 0.0, 0.0
		for y := 0.0; y < reach; y += 1. / wavePoints {
			a, b := soft(w.at(middle+y)), soft(w.at(middle-y))
			unlike += square(a + b)
			all += a*a + b*b
		}
		best = min(best, unlike/(2*all))
	}
	return best
}

// sides is how unlike its reverse the course is with each slope as that of teeth's
// middles: the slope that was followed and the other one.
func (w gapWave) sides(s shape) (own, other float64) {
	l := float64(w.longest)
	if s.inGap != s.inGap || s.width != s.width {
		return w.nearest(l/2, mostOff), math.NaN()
	}
	middle := l/2 + s.width // the other slope's edge just after the tooth,
	if s.inGap > l/2 {
		middle-- // or just before the next
	}
	near := min(mostOff, 0.45*math.Abs(middle-l/2)) // nearer to its own than to the other's
	return w.nearest(l/2, near), w.nearest(middle, near)
}

// nearest is how unlike its reverse the course is about the best place near a supposed one:
// edges are not placed at the level at rest where a signal is cut off at one end, or leans.
func (w course) nearest(middle, within float64) float64 {
	best := math.Inf(1)
	for x := -within; x <= within; x += 0.5 / wavePoints {
		best = min(best, w.turned(middle+x))
	}
	return best
}

// centred is by how much the place about which the course is most nearly its own reverse
// lies beyond one that is supposed: the level at which edges are placed is not the one at
// rest where a signal is cut off at one end.
func (w course) centred(middle, within float64) float64 {
	best, off := math.Inf(1), 0.0
	for x := -within; x <= within; x += 0.5 / wavePoints {
		if unlike := w.turned(middle + x); unlike < best {
			best, off = unlike, x
		}
	}
	return off
}
