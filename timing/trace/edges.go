package trace

import "math"

// detector finds the edges of one channel while its samples pass by: where the
// signal goes from clearly above a reference to clearly below it, and back. It
// remembers nothing but the times of edges and a few running sums.
//
// The place of an edge is that of a straight line through all samples between
// the two thresholds and one beyond each: noise averages out, and both thresholds
// being as far from the reference, a curved flank does no harm.
type detector struct {
	levels bool // reference halfway between two levels (Hall); else the mean (inductive)

	falling, rising []float64  // seconds
	transit         [2]float64 // how long falling and rising took from threshold to threshold, added up

	started  bool
	mean     float64 // reference of an inductive signal
	hi, lo   float64 // levels of a Hall signal
	envelope float64 // how far the signal swings about the reference
	largest  float64 // of the envelope, ever
	noise    float64 // standard deviation, from sample to sample
	seen     float64 // samples in the mean so far
	lastEdge float64

	state    int // 1 above, -1 below, 0 not known
	n        float64
	t0       float64 // the sums are about this time
	st, sv   float64
	stt, stv float64
}

// mostEdges bounds the edges that are kept of a whole recording, at all degrees of
// smoothing, and with them the memory: enough for half an hour of cranking.
const mostEdges = 6 << 20

// Settings of the detector, found by trial on simulated recordings.
const (
	hysteresisShare = 0.3  // of the envelope
	noiseFactor     = 5.0  // standard deviations of noise a threshold stays away from the reference
	noiseFactorHall = 3.5  // the same between two levels: away from an edge the signal is not near the reference
	floorShare      = 0.02 // of the largest envelope, for an engine at rest
	meanSeconds     = 0.5  // over which the mean runs
	levelSeconds    = 3.0  // in which a level that is not visited is forgotten
)

// roughness follows the noise of a channel: the median size of v[i]-2v[i-1]+v[i-2],
// which edges hardly touch while they are few among the samples.
type roughness struct {
	v1, v2 float64 // the last two samples
	middle float64
	seen   int
	lo, hi float64
}

// secondDifference is that median for white noise of standard deviation 1: the
// square root of 6 times the normal distribution's upper quartile.
const secondDifference = 2.4494897427831779 * 0.67448975019608171

// noiseSeconds is how fast the median follows.
const noiseSeconds = 0.05

func (r *roughness) add(v []float64, dt float64) {
	gain := min(dt/noiseSeconds, 0.05)
	for _, x := range v {
		if x != x {
			continue
		}
		if r.seen == 0 {
			r.v1, r.v2, r.lo, r.hi = x, x, x, x
		}
		r.lo, r.hi = min(r.lo, x), max(r.hi, x)
		size := math.Abs(x - 2*r.v1 + r.v2)
		r.v2, r.v1 = r.v1, x
		switch r.seen++; {
		case r.seen <= 400:
			r.middle += (min(size, 4*r.middle+(r.hi-r.lo)/1000) - r.middle) / float64(r.seen)
		case size > r.middle:
			r.middle += gain*r.middle + gain*(r.hi-r.lo)/1e6
		default:
			r.middle -= gain * r.middle
		}
	}
}

// noise is the standard deviation.
func (r *roughness) noise() float64 { return r.middle / secondDifference }

// add takes samples that are dt seconds apart on average.
// room is for how many edges there is still room; it is counted down.
func (d *detector) add(t, v []float64, dt float64, room *int) {
	before := len(d.falling) + len(d.rising)
	if *room <= 0 {
		return
	}
	meanGain := dt / meanSeconds
	levelGain := dt / levelSeconds
	for i, x := range v {
		if x != x { // out of range: an edge in here is lost
			d.n = 0
			continue
		}
		d.step(t[i], x, meanGain, levelGain, dt)
	}
	*room -= len(d.falling) + len(d.rising) - before
}

func (d *detector) step(t, x, meanGain, levelGain, dt float64) {
	if !d.started {
		d.started, d.mean, d.hi, d.lo, d.lastEdge = true, x, x, x, t
	}
	d.seen++
	var y float64
	if d.levels {
		if x > d.hi {
			d.hi += 0.3 * (x - d.hi)
		}
		if x < d.lo {
			d.lo += 0.3 * (x - d.lo)
		}
		fade := levelGain * (d.hi - d.lo)
		d.hi -= fade
		d.lo += fade
		d.envelope = (d.hi - d.lo) / 2
		y = x - (d.hi+d.lo)/2
	} else {
		d.mean += max(meanGain, min(1/d.seen, 0.01)) * (x - d.mean)
		y = x - d.mean
		if a := math.Abs(y); a > d.envelope {
			d.envelope += 0.3 * (a - d.envelope)
		} else {
			d.envelope -= d.envelope * dt / min(max(8*(t-d.lastEdge), 0.01), 0.3)
		}
	}
	d.largest = max(d.largest, d.envelope)
	factor := noiseFactor
	if d.levels {
		factor = noiseFactorHall
	}
	h := max(hysteresisShare*d.envelope, factor*d.noise, floorShare*d.largest)

	switch {
	case y > h:
		if d.state < 0 {
			d.cross(t, y, &d.rising, &d.transit[1])
		}
		d.state = 1
		d.restart(t, y)
	case y < -h:
		if d.state > 0 {
			d.cross(t, y, &d.falling, &d.transit[0])
		}
		d.state = -1
		d.restart(t, y)
	case d.n > 0:
		d.sum(t, y)
	}
}

// restart begins the sums with a sample beyond a threshold.
func (d *detector) restart(t, y float64) {
	d.t0, d.n, d.st, d.sv, d.stt, d.stv = t, 1, 0, y, 0, 0
}

func (d *detector) sum(t, y float64) {
	t -= d.t0
	d.n++
	d.st += t
	d.sv += y
	d.stt += t * t
	d.stv += t * y
}

// cross ends the sums with a sample beyond the other threshold and notes where
// their line goes through the reference. The line is fitted over time, the sums
// being about an instant near by.
func (d *detector) cross(t, y float64, list *[]float64, transit *float64) {
	if d.n == 0 { // samples were lost on the way
		return
	}
	from := d.t0
	d.sum(t, y)
	det := d.n*d.stt - d.st*d.st
	slope := (d.n*d.stv - d.st*d.sv) / det
	at := (d.st - d.sv/slope) / d.n // where the line is 0
	if !(det > 0) || math.IsNaN(at) || math.IsInf(at, 0) {
		at = (t - from) / 2
	}
	at = from + min(max(at, 0), t-from)
	d.lastEdge = t
	*list = append(*list, at)
	*transit += t - from
}
