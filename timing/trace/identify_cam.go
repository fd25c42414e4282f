package trace

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/wheel"
)

// camReading is a cam wheel read from one channel by one slope.
type camReading struct {
	channel int
	rising  bool
	sensor  wheel.Sensor
	match   camMatch
	ok      bool
	sure    bool // that teeth begin at this slope
	edges   []float64
	seen    int // edges that come once in each cycle, at one slope
}

// readCam tries a channel as the cam sensor's, at every degree of smoothing.
func readCam(c *channel, index int, k clock, w wheel.Cam, sensor wheel.Sensor, sampleDeg float64) camReading {
	best := camReading{channel: index, sensor: sensor}
	for i := range c.levels {
		if sampleDeg*float64(c.levels[i].of) > 2 && i > 0 {
			break // too coarse to place an edge
		}
		r := readCamLevel(c.levels[i].detector(sensor), index, k, w, sensor, sampleDeg)
		switch {
		case i == 0, r.ok && !best.ok:
			best = r
		case r.ok != best.ok:
		case r.match.matched != best.match.matched:
			if r.match.matched > best.match.matched {
				best = r
			}
		case r.sure != best.sure:
			if r.sure {
				best = r
			}
		case r.match.u < 0.8*best.match.u:
			best = r
		}
	}
	return best
}

func readCamLevel(from *detector, index int, k clock, w wheel.Cam, sensor wheel.Sensor, sampleDeg float64) camReading {
	var tries [2]camReading
	for i, edges := range [][]float64{from.falling, from.rising} {
		r := camReading{channel: index, rising: i == 1, sensor: sensor, sure: true, edges: edges}
		teeth, cycles := camTeeth(k, edges, float64(w.Cycle))
		r.seen = len(teeth)
		r.match, r.ok = matchCam(teeth, w)
		r.match.cycles = cycles
		if r.match.teeth == nil {
			r.match.teeth = teeth
		}
		r.match.uncertainty(sampleDeg)
		tries[i] = r
	}
	a, b := tries[0], tries[1]
	if sensor == wheel.Inductive {
		// The zero crossing at a tooth's centre is the steep one; the other lies anywhere
		// between teeth.
		ta, tb := from.transit[0]/float64(max(len(from.falling), 1)), from.transit[1]/float64(max(len(from.rising), 1))
		switch {
		case ta < 0.6*tb:
			return a
		case tb < 0.6*ta:
			return b
		}
	}
	switch {
	case a.ok != b.ok:
		if b.ok {
			a, b = b, a
		}
		// Teeth of different widths show at one slope only; with few teeth, or with
		// stray edges among them, that proves nothing.
		a.sure = sensor == wheel.Inductive || len(w.Teeth) >= 3 && b.seen == a.seen
		return a
	case !a.ok:
		if b.seen > a.seen {
			return b
		}
		return a
	case sensor == wheel.Inductive:
		if a.match.fit > 2*b.match.fit+0.3 {
			return b
		}
		if b.match.fit > 2*a.match.fit+0.3 {
			return a
		}
		a.sure = false
		return a
	}
	return toothSide(a, b, float64(w.Cycle))
}

// levels are the lengths of a level of the signal: from each edge at which it
// begins to the next at which it ends, in degrees.
func levels(begins, ends []CamTooth, cycle float64) []float64 {
	var lengths []float64
	for _, b := range begins {
		shortest := math.Inf(1)
		for _, e := range ends {
			shortest = min(shortest, float64(timing.Wrap(timing.Deg(e.At-b.At), timing.Deg(cycle))))
		}
		lengths = append(lengths, shortest)
	}
	return lengths
}

// toothSide picks the slope at which a Hall sensor's teeth begin, when both slopes
// show the wheel. Teeth are alike and the spaces are not: the level whose lengths
// vary least is the tooth. Where spaces are alike too, the shorter level is the
// tooth. Where neither tells, nothing does.
func toothSide(falling, rising camReading, cycle float64) camReading {
	if f, r := falling.match.fit, rising.match.fit; f > 3*r+0.5 {
		return rising
	} else if r > 3*f+0.5 {
		return falling
	}
	high, low := levels(rising.match.teeth, falling.match.teeth, cycle), levels(falling.match.teeth, rising.match.teeth, cycle)
	hm, hs := meanAndDeviation(high)
	lm, ls := meanAndDeviation(low)
	switch {
	case hs+0.5 < 0.5*ls:
		return rising
	case ls+0.5 < 0.5*hs:
		return falling
	case hm < 0.8*lm:
		return rising
	case lm < 0.8*hm:
		return falling
	}
	rising.sure = false
	return rising
}
