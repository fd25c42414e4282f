package edges

import (
	"math"
	"slices"
)

// scan finds turning points in the means of so many samples, and places the edges
// between them once the turning points round them are known.
type scan struct {
	of         int // samples in a mean
	n          int
	sumT, sumV float64
	t, v       []float64 // means, from the first edge on that is not placed yet
	seen       int       // of them that were gone through
	dir        int       // 1 rising, -1 falling, 0 not known
	ext        turn      // the highest since it rises, or the lowest since it falls
	other      turn      // the lowest while the direction is not known
	turns      []turn
	pending    int     // the first edge that is not placed goes from this turning point to the next
	envelope   float64 // how large edges were lately
	edges      []Edge
}

// turn is a turning point.
type turn struct {
	i int // of the mean, 0 where that is no longer kept
	t float64
	v float64
}

// Settings of the scan, by trial.
const (
	noiseFactor = 8.0 // standard deviations of noise that a turning point must stand out by
	stepFactor  = 2.5 // steps of the converter, the same
	leastShare  = 0.1 // of the edges lately, the same
	fadeSeconds = 0.5 // in which large edges are forgotten
	reach       = 3   // edges to either side that tell the middle
	mostKept    = 1 << 15
)

// add takes samples.
func (s *scan) add(t, v []float64) {
	if s.of == 1 {
		s.t, s.v = append(s.t, t...), append(s.v, v...)
		return
	}
	n, sumT, sumV := s.n, s.sumT, s.sumV
	for i, x := range v {
		sumT += t[i]
		sumV += x
		if n++; n == s.of {
			s.t, s.v = append(s.t, sumT/float64(n)), append(s.v, sumV/float64(n))
			n, sumT, sumV = 0, 0, 0
		}
	}
	s.n, s.sumT, s.sumV = n, sumT, sumV
}

// find goes through the means added. Turning points stand out by least and by a share
// of the edges lately; an edge between two means further apart than hole is lost.
func (s *scan) find(least, hole float64) {
	i, v := s.seen, s.v
	if s.dir == 0 && i == 0 && len(v) > 0 {
		s.ext, s.other = turn{0, s.t[0], v[0]}, turn{0, s.t[0], v[0]}
	}
	for i < len(v) {
		h := max(least, leastShare*s.envelope)
		ext, at := s.ext.v, -1
		switch {
		case s.dir > 0:
			for ; i < len(v); i++ {
				if x := v[i]; x > ext {
					ext, at = x, i
				} else if ext-x > h {
					break
				}
			}
		case s.dir < 0:
			for ; i < len(v); i++ {
				if x := v[i]; x < ext {
					ext, at = x, i
				} else if x-ext > h {
					break
				}
			}
		default:
			i = s.begin(i, h)
			continue
		}
		if at >= 0 {
			s.ext = turn{at, s.t[at], ext}
		}
		if i < len(v) {
			s.turned(i, hole)
			i++
		}
	}
	s.seen = len(v)
	s.forget(hole)
}

// begin looks for the first direction from mean i on: ext is the highest and other the
// lowest so far.
func (s *scan) begin(i int, h float64) int {
	for ; i < len(s.v); i++ {
		x := s.v[i]
		if x > s.ext.v {
			s.ext = turn{i, s.t[i], x}
		}
		if x < s.other.v {
			s.other = turn{i, s.t[i], x}
		}
		if s.ext.v-s.other.v > h {
			if s.dir = 1; s.ext.i < s.other.i {
				s.dir, s.ext, s.other = -1, s.other, s.ext
			}
			s.turns = append(s.turns, s.other)
			return i + 1
		}
	}
	return i
}

// turned notes the extreme reached as a turning point, the signal being at mean i on
// its way back, and places the edges that have enough turning points round them.
func (s *scan) turned(i int, hole float64) {
	s.turns = append(s.turns, s.ext)
	s.dir = -s.dir
	s.ext = turn{i, s.t[i], s.v[i]}
	n := len(s.turns)
	s.envelope = max(math.Abs(s.turns[n-1].v-s.turns[n-2].v), 0.8*s.envelope)
	for len(s.turns)-2-s.pending >= reach {
		s.place(hole)
	}
	if gone := s.pending - reach; gone > 0 {
		s.turns = slices.Delete(s.turns, 0, gone)
		s.pending -= gone
	}
}

// place places the first edge that is not.
func (s *scan) place(hole float64) {
	a, b := s.turns[s.pending], s.turns[s.pending+1]
	middle := s.middle()
	e := between(s.t, s.v, a, b, middle, hole)
	if cut := len(s.edges) == 0 || s.pending+2 == len(s.turns); cut && (middle-a.v)*(middle-b.v) > 0 {
		e.At = math.NaN() // the recording begins or ends on its way
	}
	s.edges = append(s.edges, e)
	s.pending++
}

// middle is the level midway between turning points round the first edge that is not
// placed: the median of those of the edges round it, by their size. The edges beside a
// gap, which reach further to one side, outvote nobody.
func (s *scan) middle() float64 {
	type vote struct{ level, weight float64 }
	var votes [2*reach + 1]vote
	n, sum := 0, 0.0
	for k := max(s.pending-reach, 0); k <= min(s.pending+reach, len(s.turns)-2); k++ {
		a, b := s.turns[k].v, s.turns[k+1].v
		v := vote{(a + b) / 2, math.Abs(a - b)}
		i := n
		for ; i > 0 && votes[i-1].level > v.level; i-- {
			votes[i] = votes[i-1]
		}
		votes[i] = v
		n++
		sum += v.weight
	}
	half := sum / 2
	for _, v := range votes[:n] {
		if half -= v.weight; half <= 0 {
			return v.level
		}
	}
	return votes[n-1].level
}

// forget lets go of means that no edge needs any more, and of the oldest where none
// comes for long.
func (s *scan) forget(hole float64) {
	keep := 0
	switch {
	case s.dir == 0:
	case s.pending+1 < len(s.turns):
		keep = s.turns[s.pending].i
	default:
		keep = s.turns[len(s.turns)-1].i
	}
	if len(s.t)-keep > mostKept {
		s.finish(hole)
		keep = len(s.t) - mostKept/2
	}
	if keep < 1024 && len(s.t) < mostKept {
		return
	}
	s.t, s.v = slices.Delete(s.t, 0, keep), slices.Delete(s.v, 0, keep)
	s.seen -= keep
	for i := range s.turns {
		s.turns[i].i = max(s.turns[i].i-keep, 0)
	}
	s.ext.i, s.other.i = max(s.ext.i-keep, 0), max(s.other.i-keep, 0)
}

// end takes the last extreme for a turning point where the signal went far enough
// towards it.
func (s *scan) end(hole float64) {
	if n := len(s.turns); n > 1 && math.Abs(s.ext.v-s.turns[n-1].v) > math.Abs(s.turns[n-1].v-s.turns[n-2].v)/2 {
		s.turns = append(s.turns, s.ext)
	}
	s.finish(hole)
}

// finish places every edge that has both its ends.
func (s *scan) finish(hole float64) {
	for s.pending+1 < len(s.turns) {
		s.place(hole)
	}
}
