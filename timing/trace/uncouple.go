package trace

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing/trace/edges"
)

// A capacitor before the recorder takes away what is steady. Of a cam's pulse, up and then
// down, it takes a part of the first half off again while that lasts, so that the signal
// passes rest before the tooth's middle does. How fast it takes, the pulse's end shows: where
// the sensor is at rest, the recorder shows minus what it has taken.

// Settings of that, by trial. Widths are from one extreme of a pulse to the other.
const (
	pulseReach    = 2.0 // widths to either side of a pulse's middle in which it is over
	pulseBefore   = 3.0 // widths before it from which, and
	pulseAfter    = 6.0 // after it up to which the sensor is looked at, at rest
	leastPulses   = 3
	sureCoupling  = 6.0 // standard deviations,
	leastCoupling = 0.3 // and of what the signal does while the sensor is at rest: the tails of a blunt tooth are steady, too
	fastestDecay  = 500.0
	slowestDecay  = 1.0  // each second
	uncoupleShare = 0.3  // of how far edges are moved, as its uncertainty
	leastTaken    = 0.02 // of a pulse's size that the signal is elsewhere after it
	takenShare    = 0.4  // of a pulse's width, as the uncertainty where what was taken away cannot be given back
)

// pulse is one pulse of a cam's inductive sensor: its middle, and the level that the recorder
// shows for the sensor's rest.
type pulse struct {
	edge  int
	times []float64
	v     []float64 // at those times
	taken []float64 // integral of the signal up to them
	calm  []bool    // the sensor is at rest
}

// pulses are those of edges that stand alone.
func (c *channel) pulses(list []edges.Edge, wide, first float64) []pulse {
	var all []pulse
	step := c.thin.width
	for i, e := range list {
		if i > 0 && e.At-list[i-1].At < (pulseBefore+pulseReach)*wide || !(wide > 3*step) {
			continue
		}
		to := e.At + pulseAfter*wide
		if i+1 < len(list) {
			to = min(to, list[i+1].At-pulseReach*wide)
		}
		if to < e.At+(pulseReach+1)*wide {
			continue
		}
		p := pulse{edge: i}
		sum, last := 0.0, math.NaN()
		for t := e.At - pulseBefore*wide; t < to; t += step {
			x := c.thin.value(t - first)
			if x != x {
				p.times = nil
				break
			}
			if last == last {
				sum += (x + last) / 2 * step
			}
			last = x
			p.times, p.v, p.taken = append(p.times, t), append(p.v, x), append(p.taken, sum)
			p.calm = append(p.calm, math.Abs(t-e.At) > pulseReach*wide)
		}
		if len(p.times) > 8 {
			all = append(all, p)
		}
	}
	return all
}

// calmMeans are the means of signal and integral while the sensor is at rest.
func (p pulse) calmMeans() (v, taken, n float64) {
	for i, calm := range p.calm {
		if calm {
			v, taken, n = v+p.v[i], taken+p.taken[i], n+1
		}
	}
	return v / n, taken / n, n
}

// decayOf is how fast the capacitor takes away what is steady, each second: the slope of
// what is shown at rest over what has passed; ok is false where it is not seen to do so.
func decayOf(all []pulse) (decay float64, ok bool) {
	var sxx, sxy, syy, n float64
	for _, p := range all {
		v, taken, points := p.calmMeans()
		n += points - 1
		for i, calm := range p.calm {
			if calm {
				sxx += square(p.taken[i] - taken)
				sxy += (p.taken[i] - taken) * (p.v[i] - v)
				syy += square(p.v[i] - v)
			}
		}
	}
	if len(all) < leastPulses || !(sxx > 0) || n < 10 {
		return 0, false
	}
	decay = -sxy / sxx
	deviation := math.Sqrt(max(syy-sxy*sxy/sxx, 0) / (n - 1) / sxx)
	return decay, decay > sureCoupling*deviation && sxy*sxy > leastCoupling*sxx*syy && decay > slowestDecay && decay < fastestDecay
}

// takenAway tells whether the signal is elsewhere just after a pulse than before it: so a
// capacitor leaves it. So do the tails of a blunt tooth, a little. list is as of [channel.uncoupled].
func (c *channel) takenAway(list []edges.Edge, first float64) bool {
	var ways, sizes, off []float64
	for _, e := range list {
		ways, sizes = append(ways, float64(e.Way)), append(sizes, e.Size())
	}
	wide := middleOf(ways)
	for _, p := range c.pulses(list, wide, first) {
		var before, after, n, m float64
		for i, t := range p.times {
			switch away := (t - list[p.edge].At) / wide; {
			case away < -pulseReach:
				before, n = before+p.v[i], n+1
			case away > pulseReach && away < pulseReach+1.5:
				after, m = after+p.v[i], m+1
			}
		}
		if n > 0 && m > 0 {
			off = append(off, after/m-before/n)
		}
	}
	if len(off) < leastPulses {
		return false
	}
	_, deviation := meanAndDeviation(off)
	return math.Abs(middleOf(off)) > max(leastTaken*middleOf(sizes), 4*deviation/math.Sqrt(float64(len(off))))
}

// uncoupled places edges where the sensor's own signal passes rest, if the recorder took away
// what is steady. list is of the slope whose pulses are looked at.
func (c *channel) uncoupled(list []edges.Edge, first float64) (moved []edges.Edge, ok bool) {
	var ways []float64
	for _, e := range list {
		ways = append(ways, float64(e.Way))
	}
	wide := middleOf(ways)
	all := c.pulses(list, wide, first)
	decay, ok := decayOf(all)
	if !ok {
		return list, false
	}
	moved = slices.Clone(list)
	var shifts []float64 // of edges that stand alone, in shares of their flank
	for _, p := range all {
		e := list[p.edge]
		v, taken, _ := p.calmMeans()
		at := e.At
		for range 4 {
			i := min(max(int((at-p.times[0])/c.thin.width), 0), len(p.times)-2)
			part := (at - p.times[i]) / c.thin.width
			rest := v - decay*(p.taken[i]+part*(p.taken[i+1]-p.taken[i])-taken)
			off := min(max(rest-float64(e.Level), -0.35*e.Size()), 0.35*e.Size())
			at = e.At + off*2*float64(e.Flank)/(float64(e.To)-float64(e.From))
		}
		moved[p.edge].At = at
		shifts = append(shifts, (at-e.At)/float64(e.Flank))
	}
	shift := middleOf(shifts)
	alone := make([]bool, len(list))
	for _, p := range all {
		alone[p.edge] = true
	}
	for i, e := range list { // their neighbours near by are moved alike
		if !alone[i] {
			moved[i].At = e.At + shift*float64(e.Flank)
		}
	}
	return moved, true
}
