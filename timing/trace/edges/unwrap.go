package edges

import "math"

// unwrap mends a converter that starts at its other end where the voltage leaves its
// range: a peak then stands cut off and upside down at the opposite end.
//
// It is told from a level that switches by three things: the signal runs towards the
// end before it jumps, it jumps from end to end, and it is often between them.
type unwrap struct {
	lo, hi float64
	last   [4]float64 // samples, the newest first
	seen   int
	inner  int64 // samples in the middle half of the range, out of all
	all    int64
	turns  float64 // ranges that the signal is beyond, 1 above or -1 below
	mended []float64
	Mended int64
}

// Settings, by trial. Shares are of the range.
const (
	wrapJump  = 0.9
	wrapEnds  = 0.05
	wrapSlope = 0.006 // in three samples, and so many standard deviations of noise
	wrapNoise = 4.0
	wrapInner = 0.15 // of the samples
	wrapDepth = 0.4  // how far a peak may stand beyond the range
)

// add returns the samples, mended where they wrap.
func (u *unwrap) add(v []float64, noise, step float64) []float64 {
	if u.seen == 0 && len(v) > 0 {
		u.lo, u.hi, u.last = v[0], v[0], [4]float64{v[0], v[0], v[0], v[0]}
		u.seen = 1
	}
	const every = 16 // so many samples one tells how often it is between
	for i := 0; i < len(v); i += every {
		u.hi, u.lo = max(u.hi, v[i]), min(u.lo, v[i])
	}
	q := (u.hi - u.lo) / 4
	for i := 0; i < len(v); i += every {
		if u.all++; v[i] > u.lo+q && v[i] < u.hi-q {
			u.inner++
		}
	}
	out, last := v, u.last[0]
	wide := wrapJump * (u.hi - u.lo)
	for i, x := range v {
		if x > u.hi || x < u.lo {
			u.hi, u.lo = max(u.hi, x), min(u.lo, x)
			wide = wrapJump * (u.hi - u.lo)
		}
		if d := x - last; d > wide || -d > wide || u.turns != 0 {
			if u.jumped(v, i, noise, step); u.turns != 0 {
				if &out[0] == &v[0] {
					u.mended = append(u.mended[:0], v...)
					out = u.mended
				}
				out[i] = x + u.turns*(u.hi-u.lo+step)
				u.Mended++
			}
		}
		last = x
	}
	for i := max(len(v)-4, 0); i < len(v); i++ {
		u.last = [4]float64{v[i], u.last[0], u.last[1], u.last[2]}
	}
	return out
}

// jumped follows whether the signal is beyond its range at sample i.
func (u *unwrap) jumped(v []float64, i int, noise, step float64) {
	wide := u.hi - u.lo
	before := func(k int) float64 {
		if i-k >= 0 {
			return v[i-k]
		}
		return u.last[min(k-i-1, 3)]
	}
	x, last, slope := v[i], before(1), before(1)-before(4)
	d := x - last
	if u.turns != 0 {
		back := u.turns > 0 && d > 0 || u.turns < 0 && d < 0
		deep := u.turns > 0 && x > u.lo+wrapDepth*wide || u.turns < 0 && x < u.hi-wrapDepth*wide
		if back && math.Abs(d) > 0.5*wide || deep {
			u.turns = 0
		}
		return
	}
	if math.Abs(d) < wrapJump*wide || float64(u.inner) < wrapInner*float64(u.all) || u.all < 16 {
		return
	}
	steep := max(wrapSlope*wide, wrapNoise*noise, step)
	if rails := wide - 1.5*step; math.Abs(d) > rails {
		steep = step / 2 // from the one end to the other exactly
	}
	switch {
	case math.Abs(slope) > 0.3*wide:
	case d < 0 && slope > steep && last > u.hi-wrapEnds*wide && x < u.lo+wrapEnds*wide:
		u.turns = 1
	case d > 0 && -slope > steep && last < u.lo+wrapEnds*wide && x > u.hi-wrapEnds*wide:
		u.turns = -1
	}
}
