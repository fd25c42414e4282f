package edges

import "math"

// unwrap mends a converter that starts at its other end where the voltage leaves its
// range: a peak then stands cut off and upside down at the opposite end.
//
// It is told from a level that switches by three things: the signal runs towards the
// end before it jumps, it jumps from end to end, and it is often between them.
type unwrap struct {
	lo, hi float64
	last   float64           // sample
	before [lookback]float64 // mended samples, a ring
	at     int               // of the next
	begun  bool
	inner  int64 // samples in the middle half of the range, out of all
	all    int64
	turns  float64 // ranges that the signal is beyond, 1 above or -1 below
	since  int     // samples since it last was beyond
	side   float64 // at which end that was
	mended []float64
	Mended int64
	within float64 // the range when samples were mended
}

// lookback is how many samples before a jump tell whether the signal ran towards the end.
const lookback = 64

// Settings, by trial. Shares are of the range.
const (
	wrapJump  = 0.6 // at least; else from end to end, but for what the signal does from sample to sample
	wrapEnds  = 0.05
	wrapSlope = 0.004 // within the samples before, or so many standard deviations of noise
	wrapNoise = 3.0
	wrapStep  = 0.4  // of that, from one sample to the next
	wrapInner = 0.15 // of the samples
	wrapDepth = 0.4  // how far a peak may stand beyond the range
	wrapAgain = 64   // samples within which noise may take a signal beyond again
	wrapLeast = 20.0 // standard deviations of noise, and converter's steps, that a range is wide: what an engine at rest shows is none
	wrapGrown = 1.1  // of the range at which samples were mended: one that grows on was not the converter's
)

// add returns the samples, mended where they wrap.
func (u *unwrap) add(v []float64, noise, step float64) []float64 {
	if !u.begun && len(v) > 0 {
		u.begun, u.lo, u.hi, u.last, u.since = true, v[0], v[0], v[0], wrapAgain
		for i := range u.before {
			u.before[i] = v[0]
		}
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
	out, last := v, u.last
	wide := wrapJump * (u.hi - u.lo)
	for i, x := range v {
		if x > u.hi || x < u.lo {
			u.hi, u.lo = max(u.hi, x), min(u.lo, x)
			wide = wrapJump * (u.hi - u.lo)
		}
		if d := x - last; d > wide || -d > wide || u.turns != 0 {
			u.jumped(out, i, x, last, noise, step)
			if u.turns != 0 {
				if &out[0] == &v[0] {
					u.mended = append(u.mended[:0], v...)
					out = u.mended
				}
				out[i] = x + u.turns*(u.hi-u.lo+step)
				u.Mended++
				u.within = u.hi - u.lo
			}
		}
		if u.since < wrapAgain {
			u.since++
		}
		last = x
	}
	u.last = last
	if u.hi-u.lo > wrapGrown*u.within {
		u.Mended = 0
	}
	for _, x := range out[max(len(out)-lookback, 0):] {
		u.before[u.at%lookback] = x
		u.at++
	}
	return out
}

// ran is how the signal ran in so many samples before sample i of a block, mended: the
// mean of the last few less that of the first few.
func (u *unwrap) ran(out []float64, i, within int) float64 {
	late, early := 0.0, 0.0
	for k := 1; k <= 3; k++ {
		late += u.get(out, i, k) / 3
		early += u.get(out, i, within-k) / 3
	}
	return late - early
}

// largest is the largest step from sample to sample among those before: a spike has one
// that is all of its way.
func (u *unwrap) largest(out []float64, i, within int) float64 {
	most := 0.0
	for k := 1; k < within-1; k++ {
		most = max(most, math.Abs(u.get(out, i, k)-u.get(out, i, k+1)))
	}
	return most
}

// get is the k-th mended sample before sample i of a block.
func (u *unwrap) get(out []float64, i, k int) float64 {
	if i-k >= 0 {
		return out[i-k]
	}
	return u.before[((u.at-(k-i))%lookback+lookback)%lookback]
}

// jumped follows whether the signal is beyond its range at sample i, x, of a block that
// is mended up to it.
func (u *unwrap) jumped(out []float64, i int, x, last, noise, step float64) {
	wide := u.hi - u.lo
	d := x - last
	if u.turns != 0 {
		back := u.turns > 0 && d > 0.5*wide || u.turns < 0 && -d > 0.5*wide
		deep := u.turns > 0 && x > u.lo+wrapDepth*wide || u.turns < 0 && x < u.hi-wrapDepth*wide
		if back || deep {
			u.side, u.since, u.turns = u.turns, 0, 0
		}
		return
	}
	if float64(u.inner) < wrapInner*float64(u.all) || u.all < 16 || wide < wrapLeast*max(noise, step) {
		return
	}
	steep := max(wrapSlope*wide, wrapNoise*noise, step)
	runs := func(within int, up float64) bool {
		slope := up * u.ran(out, i, within)
		return slope > steep && slope < 0.9*wide && u.largest(out, i, within) < wrapStep*slope+2*wrapNoise*noise+step
	}
	again := u.since < wrapAgain
	ends := wrapEnds*wide + 1.2*math.Abs(u.get(out, i, 1)-u.get(out, i, 2))
	if math.Abs(d) < wide-1.5*ends {
		return
	}
	switch {
	case d < 0 && last > u.hi-ends && x < u.lo+ends && (runs(lookback/4, 1) || runs(lookback, 1) || again && u.side > 0):
		u.turns = 1
	case d > 0 && last < u.lo+ends && x > u.hi-ends && (runs(lookback/4, -1) || runs(lookback, -1) || again && u.side < 0):
		u.turns = -1
	}
}
