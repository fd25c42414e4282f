package trace

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/trace/edges"
	"pinphase.org/pinphase/timing/wheel"
)

// camReading is a cam wheel read from one channel by one slope.
type camReading struct {
	channel int
	rising  bool
	sensor  wheel.Sensor
	hall    float64 // probability that it is a Hall sensor
	levels  bool    // its edges are changes of level, without a shape
	begun   float64 // how long the level is that its edges begin, crank degrees; NaN: not known
	ended   float64 // and that they end
	match   camMatch
	ok      bool
	sure    bool // that teeth begin at this slope
	edges   []float64
	seen    int // edges that come once in each cycle, at one slope
}

// readCam tries a channel as the cam sensor's, at every degree of smoothing.
func readCam(c *channel, index int, k clock, w wheel.Cam, job wheel.Sensor, f frame, sampleDeg, first float64) camReading {
	best := camReading{channel: index}
	for i := range edges.Smoothings {
		if sampleDeg*float64(int(1)<<(2*i)) > 2 && i > 0 {
			break // too coarse to place an edge
		}
		all := c.edges.Edges(i)
		r := readCamLevel(c, edges.Prune(all, leastEdge, edges.Scales(all)), index, k, w, f, sampleDeg, 1<<(2*i), job, first)
		if !r.ok { // hum or noise may be among its edges, which are fewer than theirs
			cycle := float64(w.Cycle) / (k.angle[len(k.angle)-1] - k.angle[0]) * (k.t[len(k.t)-1] - k.t[0])
			if o := readCamLevel(c, edges.Prune(all, leastTall, edges.Tallest(all, 0.75*cycle)), index, k, w, f, sampleDeg, 1<<(2*i), job, first); o.ok {
				r = o
			}
		}
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
		case r.match.told < 0.8*best.match.told:
			best = r
		}
	}
	return best
}

// leastTall of the tallest edge within three quarters of a cycle either way a cam tooth has.
const leastTall = 0.5

// couplingShare of how far the edges of an inductive sensor were moved to the level at
// rest is uncertain: where a recorder took away the steady part of a pulse the middle was
// as wrong the other way.
const couplingShare = 1.3

// clippedShare is the same where the pulses are cut off: the level at rest is then the better
// one.
const clippedShare = 0.5

// pulseClip is the least share of a cam channel's samples that are cut off: most are at rest.
const pulseClip = 0.001

// movedDeg is how far edges were moved, in degrees: the median.
func movedDeg(k clock, from, to []edges.Edge) float64 {
	var v []float64
	for i, e := range from {
		if a, ok := k.at(e.At); ok {
			if b, ok := k.at(to[i].At); ok {
				v = append(v, b-a)
			}
		}
	}
	if len(v) == 0 {
		return 0
	}
	return math.Abs(middleOf(v))
}

// levelShare of half a flank is how far the place of an inductive sensor's tooth is
// uncertain: its voltage there is not quite the one at rest. Our assumption.
const levelShare = 0.03

// flankDeg is half of the flank of a channel's edges, in degrees: the median.
func flankDeg(k clock, list []edges.Edge) float64 {
	var v []float64
	for _, e := range list {
		if from, ok := k.at(e.At); ok {
			if to, ok := k.at(e.At + float64(e.Flank)); ok {
				v = append(v, to-from)
			}
		}
	}
	return middleOf(v)
}

// Settings of telling a cam pulse's slopes, by trial: logarithms of odds.
const (
	pulseWeight = 4.0 // of the logarithm of the ways' ratio
	pulseLeast  = 1.5 // speaks against a steep slope,
	pulseAlone  = 2.5 // tells the slope where both are as steep,
	pulseSure   = 5.0 // and tells it whatever the slopes
)

// pulseOdds is the logarithm of the odds that an inductive sensor's teeth pass at the falling
// slope and not at the rising one: a tooth's extremes lie beside it, and from one of its
// extremes to the next tooth's it is far, wherever the middle is passed on that way.
func pulseOdds(k clock, falling, rising []edges.Edge) float64 {
	odds := pulseWeight * math.Log(wayDeg(k, rising)/wayDeg(k, falling))
	if odds != odds || math.IsInf(odds, 0) {
		return 0
	}
	return odds
}

// wayDeg is the way of a channel's edges from turning point to turning point, in degrees:
// the median.
func wayDeg(k clock, list []edges.Edge) float64 {
	const moment = 1e-3
	var v []float64
	for _, e := range list {
		from, ok := k.at(e.At - moment)
		to, also := k.at(e.At + moment)
		if ok && also {
			v = append(v, (to-from)/(2*moment)*float64(e.Way))
		}
	}
	return middleOf(v)
}

// shorter is the shorter of two flanks of which one or both may not be known, NaN; 0 if
// neither is.
func shorter(flanks [2]float64) float64 {
	switch a, b := flanks[0], flanks[1]; {
	case a == a && b == b:
		return min(a, b)
	case a == a:
		return a
	case b == b:
		return b
	}
	return 0
}

// camHall is the probability that a cam channel is of a Hall sensor. Its levels change
// at once at both slopes, and it stays at the one or the other; an inductive sensor's
// pulse is steep at the tooth's centre, slow on the way to the next tooth, and rests
// between its extremes. rest is where it mostly is, 0 and 1 being the extremes.
// The job's word counts too.
func camHall(falling, rising, rest, sampleDeg float64, job wheel.Sensor) float64 {
	odds := -jobSensor
	if job == wheel.Hall {
		odds = jobSensor
	}
	if slow := max(falling, rising); slow == slow {
		sharp := max(1.2, 1.8*sampleDeg) // crank degrees; by trial
		odds += min(max(3*math.Log(sharp/max(slow, 1e-3)), -6), 6)
	}
	if rest == rest {
		odds += 4 * min(max((math.Abs(rest-0.5)-0.27)/0.1, -1), 1)
	}
	return logistic(odds)
}

// atRest places the edges of an inductive sensor where they pass the level at which it
// rests between teeth: of pulses that are cut off at one end the middle lies elsewhere.
func atRest(list []edges.Edge, rest float64) []edges.Edge {
	moved := slices.Clone(list)
	for i, e := range moved {
		if off := rest - float64(e.Level); math.Abs(off) < 0.35*e.Size() {
			way := float64(e.To) - float64(e.From)
			moved[i].At += off * 2 * float64(e.Flank) / way
		}
	}
	return moved
}

// readCamLevel reads a cam wheel from edges that were found in means of so many samples.
func readCamLevel(c *channel, list []edges.Edge, index int, k clock, w wheel.Cam, f frame, sampleDeg float64, of int, job wheel.Sensor, first float64) camReading {
	falling, rising := edges.Split(list)
	flanks := [2]float64{flankDeg(k, falling), flankDeg(k, rising)}
	share, rest := c.thin.rest()
	hall := camHall(flanks[0], flanks[1], share, sampleDeg*float64(of), job)
	sensor := wheel.Inductive
	if hall >= 0.5 {
		sensor = wheel.Hall
	}
	var level [2]float64
	slopes := [2][]edges.Edge{falling, rising}
	if sensor == wheel.Inductive {
		moved := couplingShare
		if len(c.values.clips(pulseClip)) > 0 {
			moved = clippedShare
		}
		for i, list := range slopes {
			flank := flanks[i]
			if flank != flank {
				flank = shorter(flanks)
			}
			level[i] = levelShare * min(flank, widestTooth(w))
			if restored, ok := c.uncoupled(list, first); ok {
				slopes[i] = restored
				share := uncoupleShare
				if moved == clippedShare { // what was cut off is not known to have been taken away
					share = 1
				}
				level[i] = math.Hypot(level[i], share*min(movedDeg(k, list, restored), widestTooth(w)))
			} else if rest == rest {
				slopes[i] = atRest(list, rest)
				level[i] = math.Hypot(level[i], moved*min(movedDeg(k, list, slopes[i]), widestTooth(w)))
				if moved == clippedShare && c.takenAway(list, first) {
					level[i] = math.Hypot(level[i], takenShare*wayDeg(k, list))
				}
			}
		}
		falling, rising = slopes[0], slopes[1]
	}
	var tries [2]camReading
	for i, own := range slopes {
		r := camReading{channel: index, rising: i == 1, sensor: sensor, hall: hall, levels: c.edges.Stepped(), sure: true, edges: times(own)}
		teeth, cycles := camTeeth(k, r.edges, float64(w.Cycle))
		r.seen = len(teeth)
		r.match, r.ok = matchCam(teeth, w, f)
		r.match.cycles = cycles
		if r.match.teeth == nil {
			r.match.teeth = teeth
		}
		r.match.uncertainty(sampleDeg, level[i])
		tries[i] = r
	}
	r := chooseSlope(tries[0], tries[1], flanks, pulseOdds(k, falling, rising), w)
	r.begun, r.ended = camWidth(r, tries, float64(w.Cycle))
	if c.edges.Coupled() == 0 { // else they are seen as they left the sensor
		r.judgeLevels(k, tries, float64(w.Cycle), job)
	}
	return r
}

// camWidth is how long the level is that a tooth's edge begins, and how long the one
// that it ends, in crank degrees.
func camWidth(r camReading, tries [2]camReading, cycle float64) (begun, ended float64) {
	own, other := tries[0].match.teeth, tries[1].match.teeth
	if r.rising {
		own, other = other, own
	}
	if len(own) == 0 || len(other) == 0 {
		return math.NaN(), math.NaN()
	}
	return middleOf(levels(own, other, cycle)), middleOf(levels(other, own, cycle))
}

// chooseSlope picks the slope at which teeth pass.
//
// pulse is the logarithm of the odds that an inductive sensor's teeth pass at the slope of
// the first and not of the second, by how far the extremes lie apart.
func chooseSlope(a, b camReading, flanks [2]float64, pulse float64, w wheel.Cam) camReading {
	sensor := a.sensor
	if sensor == wheel.Inductive {
		// The zero crossing at a tooth's centre is the steep one; the other lies anywhere
		// between teeth. Where a signal is cut off or coupled the extremes know better.
		steep := 0.0
		switch {
		case flanks[0] < 0.6*flanks[1]:
			steep = 1
		case flanks[1] < 0.6*flanks[0]:
			steep = -1
		}
		own := a
		if steep < 0 || steep == 0 && pulse < 0 || pulse <= -pulseSure {
			own = b
		}
		switch {
		case math.Abs(pulse) >= pulseSure:
			if pulse > 0 {
				own = a
			}
			return own
		case steep != 0:
			own.sure = own.sure && steep*pulse > -pulseLeast
			return own
		case math.Abs(pulse) >= pulseAlone:
			return own
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
