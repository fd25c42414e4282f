package edges

import "math"

// Settings of placing an edge, by trial.
const (
	leastFromEnd = 0.2  // of an edge's size, that the level at which it is passed stays away from its ends
	jumpMeans    = 3    // a jump takes so many steps from mean to mean at most,
	jumpShare    = 0.5  // is so much of the edge,
	jumpTime     = 0.15 // and takes so much of its time at most
)

// between is the edge from one turning point to the next, passed at a level: the place
// of a straight line through all means that are near the level and one beyond either
// side. Noise averages out, and the means reaching as far to either side, a curved
// flank does no harm.
func between(t, v []float64, a, b turn, level, hole float64) Edge {
	t, v = t[a.i:b.i+1], v[a.i:b.i+1]
	e := Edge{From: float32(a.v), To: float32(b.v), Way: float32(b.t - a.t)}
	up := 1.0
	if b.v < a.v {
		up = -1
	}
	size := (b.v - a.v) * up
	from := a.v * up
	n := len(v)
	if n < 2 {
		e.At = math.NaN()
		return e
	}
	level = min(max(level*up, from+leastFromEnd*size), from+(1-leastFromEnd)*size)
	first, last := -1, 0 // the first mean past the level, and the last before it
	k, jump := 0, 0.0
	steps := min(jumpMeans, n-1)
	for i, x := range v {
		if x *= up; x < level {
			last = i
		} else if first < 0 {
			first = i
		}
		if i >= steps {
			if d := x - up*v[i-steps]; d > jump {
				k, jump = i-steps, d
			}
		}
	}
	if jump > jumpShare*size && float64(steps) < jumpTime*float64(n) && (up*v[k] > level || up*v[k+steps] < level) {
		level = up * (v[k] + v[k+steps]) / 2
		for first = k; up*v[first] < level; first++ {
		}
		last = first - 1
	}
	lo, hi := min(first, last), max(first, last)
	if lo < 0 {
		lo, hi = 0, 1
	}
	near := 0.5 * min(level-from, from+size-level)
	for lo > 0 && math.Abs(up*v[lo]-level) < near {
		lo--
	}
	for hi < n-1 && math.Abs(up*v[hi]-level) < near {
		hi++
	}
	e.line(t[lo:hi+1], v[lo:hi+1], up, level, size, hole)
	return e
}

// line places the edge where the straight line through means passes a level.
func (e *Edge) line(t, v []float64, up, level, size, hole float64) {
	n := float64(len(t))
	var st, sv, stt, stv float64
	for i, at := range t {
		at -= t[0]
		x := up * v[i]
		st += at
		sv += x
		stt += at * at
		stv += at * x
	}
	wide := t[len(t)-1] - t[0]
	if wide > hole*max(n-1, 1) || len(t) == 2 && wide > hole {
		e.At = math.NaN()
		return
	}
	det := n*stt - st*st
	slope := (n*stv - st*sv) / det
	at := (st + (n*level-sv)/slope) / n
	if !(det > 0) || !(slope > 0) || at != at {
		at, slope = wide/2, size/max(wide, 1e-12)
	}
	e.At, e.Level = t[0]+min(max(at, 0), wide), float32(up*level)
	e.Flank = min(float32(size/2/slope), e.Way) // of a stretch that hardly rises it would have no end
}
