package trace

import (
	"math"
	"sort"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/wheel"
)

// Run is a stretch of a recording over which every tooth is known.
type Run struct {
	Time []float64 // of each tooth, seconds
	At   []int     // its place, rising; modulo the wheel's positions it is the position less 1
}

// Slip is a tooth that was lost, or an edge too many.
type Slip struct {
	Time  float64
	Extra bool
}

// like tells whether a ratio that should be 1 is. The bounds leave room for a
// crank that all but stops at a dead centre, and none for a tooth more or less.
func like(r float64) bool { return r > 0.7 && r < 1.42 }

// roughlyLike is for an interval held against the one before it alone: an edge
// midway between two teeth makes two halves, which lie near enough to one another.
func roughlyLike(r float64) bool { return r > 0.58 && r < 1.72 }

// stepsOf are the ways from each position that has a tooth to the next, in
// positions; 0 where there is no tooth.
func stepsOf(c wheel.Crank) []int {
	list := make([]int, c.Positions)
	for p := range list {
		if c.IsMissing(p + 1) {
			continue
		}
		n := 1
		for c.IsMissing((p+n)%c.Positions + 1) {
			n++
		}
		list[p] = n
	}
	return list
}

// follower walks along edges through the teeth of a wheel.
type follower struct {
	t, pitch []float64
	step     []int
	run      Run
	slips    []Slip
}

// follow takes edges through the wheel: it finds the longest gap, goes on tooth
// by tooth as long as the intervals are what the wheel demands, forgives single
// teeth lost or won, and begins anew when the thread is lost. A stretch counts
// from a full turn on.
func follow(t []float64, c wheel.Crank) (runs []Run, slips []Slip) {
	f := follower{t: t, pitch: pitches(t), step: stepsOf(c)}
	longest := 0
	for _, n := range f.step {
		longest = max(longest, n)
	}
	if longest < 2 {
		return nil, nil
	}
	free := 0 // the first edge that belongs to no run yet
	for i := 0; i < len(f.pitch); {
		if (t[i+1]-t[i])/f.pitch[i] < 0.6*float64(longest) || !f.fits(i+1) {
			i++
			continue
		}
		f.run, f.slips = Run{}, nil
		f.back(i+1, free)
		end := f.walk(i + 1)
		if at := f.run.At; at[len(at)-1]-at[0] >= c.Positions {
			runs, slips = append(runs, f.run), append(slips, f.slips...)
			free = end
		}
		i = max(end, i+1)
	}
	return runs, slips
}

// span is an interval over what its neighbours make one expect, they and it being
// so many positions: 1 for a crank that turns evenly, near 1 while its speed
// changes smoothly. A neighbour of 0 positions is not known. i and j are its edges.
func (f *follower) span(i, j, before, positions, after int) float64 {
	var pitch float64
	known := 0
	if before > 0 && i > 0 {
		pitch += math.Log((f.t[i] - f.t[i-1]) / float64(before))
		known++
	}
	if after > 0 && j+1 < len(f.t) {
		pitch += math.Log((f.t[j+1] - f.t[j]) / float64(after))
		known++
	}
	if known == 0 {
		return (f.t[j] - f.t[i]) / float64(positions) / f.pitch[i]
	}
	return (f.t[j] - f.t[i]) / float64(positions) / math.Exp(pitch/float64(known))
}

// before is the way from the last tooth to the one at a place, in positions.
func (f *follower) before(place int) int {
	n := len(f.step)
	s := 1
	for f.step[((place-s)%n+n)%n] == 0 {
		s++
	}
	return s
}

// after is the way from the tooth at a place to the next.
func (f *follower) after(place int) int { n := len(f.step); return f.step[(place%n+n)%n] }

// fits tells whether a full turn of teeth follows edge i as position 1, and the
// gap leads to it. Where the recording ends earlier, half a turn will do.
func (f *follower) fits(i int) bool {
	place, n := -f.before(0), len(f.step)
	i--
	for ; place < n; i++ {
		if i+1 >= len(f.t) {
			return 2*place >= n
		}
		s := f.after(place)
		if !like(f.span(i, i+1, f.before(place), s, f.after(place+s))) {
			return false
		}
		place += s
	}
	return true
}

// back adds the teeth before edge i, which is position 1, as far as they are
// beyond doubt, and edge i itself.
func (f *follower) back(i, free int) {
	n := len(f.step)
	var times []float64
	var places []int
	place := n // of edge i; a whole turn keeps the places of most teeth before it positive
	for k := i; k > free; k-- {
		s := f.before(place)
		if !like(f.span(k-1, k, f.before(place-s), s, f.after(place))) {
			break
		}
		place -= s
		times, places = append(times, f.t[k-1]), append(places, place)
	}
	for k := len(times) - 1; k >= 0; k-- {
		f.run.Time, f.run.At = append(f.run.Time, times[k]), append(f.run.At, places[k])
	}
	f.run.Time, f.run.At = append(f.run.Time, f.t[i]), append(f.run.At, n)
}

// mostSlips are slips in a row before the thread counts as lost.
const mostSlips = 3

// walk adds the teeth after edge i, the last of the run, and returns the edge at
// which it stopped.
func (f *follower) walk(i int) int {
	place, slipped, before := f.run.At[len(f.run.At)-1], 0, 0
	for i < len(f.pitch) {
		s := f.after(place)
		took, ahead := 1, s
		next := f.after(place + s)
		switch {
		case like(f.span(i, i+1, before, s, next)) && (before == 0 || roughlyLike(f.span(i, i+1, before, s, 0))):
			slipped = 0
		case f.joined(i, 2, before, s, next):
			f.slips = append(f.slips, Slip{f.t[i+1], true})
			took = 2
			slipped++
		case f.joined(i, 3, before, s, next):
			f.slips = append(f.slips, Slip{f.t[i+1], true}, Slip{f.t[i+2], true})
			took = 3
			slipped++
		case like(f.span(i, i+1, before, s, 0)) || like(f.span(i, i+1, 0, s, next)): // the fault lies beside it
			slipped++
		default:
			ahead = s + next
			if !like(f.span(i, i+1, before, ahead, f.after(place+ahead))) {
				return i
			}
			f.slips = append(f.slips, Slip{f.t[i] + (f.t[i+1]-f.t[i])*float64(s)/float64(ahead), false})
			slipped++
		}
		if slipped > mostSlips {
			return i
		}
		i += took
		place += ahead
		before = ahead
		if took > 1 {
			before = 0
		}
		f.run.Time, f.run.At = append(f.run.Time, f.t[i]), append(f.run.At, place)
	}
	return i
}

// joined tells whether so many intervals from edge i on make one of s positions,
// and the first of them alone is too short for it.
func (f *follower) joined(i, intervals, before, s, next int) bool {
	j := i + intervals
	return j < len(f.t) && like(f.span(i, j, before, s, next)) && (f.t[i+1]-f.t[i]) < 0.85*(f.t[j]-f.t[i])
}

// clock gives the controller's angle at any time of a run.
type clock struct {
	t     []float64
	angle []float64 // degrees, rising
	slope []float64 // degrees per second at each tooth
}

// clockOf returns the clock of a run: tooth by tooth as the wheel says, between
// teeth along a cubic whose slope at each tooth is that of the parabola through it
// and its neighbours. A straight line would be wrong by half a degree in a gap
// where the speed changes by a sixth.
func clockOf(r Run, c wheel.Crank) clock {
	k := clock{t: r.Time, angle: make([]float64, len(r.At)), slope: make([]float64, len(r.At))}
	for i, at := range r.At {
		k.angle[i] = float64(-c.FirstToothBTDC) + float64(timing.Turn)*float64(at)/float64(c.Positions)
	}
	n := len(k.t)
	speed := func(i int) float64 { return (k.angle[i+1] - k.angle[i]) / (k.t[i+1] - k.t[i]) }
	for i := range k.slope {
		switch {
		case i == 0:
			k.slope[i] = speed(0)
		case i == n-1:
			k.slope[i] = speed(n - 2)
		default:
			before, after := k.t[i]-k.t[i-1], k.t[i+1]-k.t[i]
			k.slope[i] = (speed(i-1)*after + speed(i)*before) / (before + after)
		}
	}
	return k
}

// at returns the controller's angle at a time, and false outside the run.
func (k clock) at(t float64) (angle float64, ok bool) {
	n := len(k.t)
	if n < 2 || t < k.t[0] || t > k.t[n-1] {
		return math.NaN(), false
	}
	i := min(max(sort.SearchFloat64s(k.t, t)-1, 0), n-2)
	h := k.t[i+1] - k.t[i]
	x := (t - k.t[i]) / h
	y := 1 - x
	// Cubic Hermite form.
	return k.angle[i]*y*y*(1+2*x) + k.angle[i+1]*x*x*(3-2*x) + h*x*y*(k.slope[i]*y-k.slope[i+1]*x), true
}
