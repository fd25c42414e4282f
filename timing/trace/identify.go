package trace

import (
	"math"
	"slices"
	"strings"

	"pinphase.org/pinphase/timing/wheel"
)

// Role is what a channel shows.
type Role string

// The roles.
const (
	Unknown          Role = ""
	CrankSensor      Role = "crank"
	CamSensor        Role = "cam"
	StarterCurrent   Role = "starter current"
	CylinderPressure Role = "cylinder pressure"
)

// Channel is a channel and what was found in it.
type Channel struct {
	Name     string
	Role     Role
	ByName   Role         // what its name says; Unknown: nothing
	Sensor   wheel.Sensor // of crank and cam
	Rising   bool         // a tooth passes at a rising edge
	Flat     bool
	Cylinder int // of a cylinder's pressure; 0: not said
	Lost     int64
}

// nameRole reads a channel's name and unit.
func nameRole(name, unit string) (r Role, cylinder int) {
	low := strings.ToLower(name)
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(low, w) })
	}
	pressureUnit := map[string]bool{"bar": true, "kpa": true, "mpa": true, "psi": true}[strings.ToLower(unit)]
	switch {
	case has("crank", "ckp", "crk", "flywheel", "engine speed"):
		return CrankSensor, 0
	case has("cam", "cmp", "phase", "cyl id"):
		return CamSensor, 0
	case has("pressure", "in-cylinder", "compression") || pressureUnit:
		for _, f := range strings.FieldsFunc(low, func(r rune) bool { return r < '0' || r > '9' }) {
			if n := int(f[0] - '0'); len(f) == 1 && n > 0 {
				cylinder = n
			}
		}
		return CylinderPressure, cylinder
	case has("current", "starter", "amp", "clamp") || strings.EqualFold(unit, "a"):
		return StarterCurrent, 0
	}
	return Unknown, 0
}

// reading is a crank wheel read from one channel by one slope.
type reading struct {
	channel int
	rising  bool
	sensor  wheel.Sensor
	from    *detector
	edges   []float64
	runs    []Run
	slips   []Slip
	turns   float64 // followed
	rough   float64 // how unevenly teeth follow one another
	found   Pattern
	support float64
}

// readCrank tries a channel as the crank sensor's: at every degree of smoothing and
// by both slopes, each against the job's wheel; what cannot be followed is read
// without the job.
func readCrank(c *channel, index int, w wheel.Crank, sensor wheel.Sensor) reading {
	best := reading{channel: index, sensor: sensor}
	for k := range c.levels {
		from := c.levels[k].detector(sensor)
		atLevel := reading{channel: index, sensor: sensor}
		for _, up := range []bool{false, true} {
			if r := readSlope(from, index, w, sensor, up); r.better(atLevel) {
				atLevel = r
			}
		}
		if sensor == wheel.Hall && atLevel.turns > 0 {
			atLevel = hallSide(from, atLevel, index, w)
		}
		if k == 0 || atLevel.smoother(best) {
			best = atLevel
		}
	}
	if best.turns >= leastTurns {
		return best
	}
	for k := range c.levels {
		from := c.levels[k].detector(sensor)
		for _, edges := range [][]float64{from.falling, from.rising} {
			if p, support := pattern(edges); support > best.support+0.02*float64(k) {
				best.found, best.support, best.edges = p, support, edges
			}
		}
	}
	return best
}

// readSlope follows the edges of one slope.
func readSlope(from *detector, index int, w wheel.Crank, sensor wheel.Sensor, up bool) reading {
	r := reading{channel: index, rising: up, sensor: sensor, from: from, edges: from.falling}
	if up {
		r.edges = from.rising
	}
	r.runs, r.slips = follow(r.edges, w)
	n := 0.0
	for _, run := range r.runs {
		r.turns += float64(run.At[len(run.At)-1]-run.At[0]) / float64(w.Positions)
		for i := 1; i+1 < len(run.At); i++ {
			before := (run.Time[i] - run.Time[i-1]) / float64(run.At[i]-run.At[i-1])
			after := (run.Time[i+1] - run.Time[i]) / float64(run.At[i+1]-run.At[i])
			r.rough += math.Abs(after-before) / (after + before)
			n++
		}
	}
	r.rough /= math.Max(n, 1)
	return r
}

// better tells whether one slope shows the wheel better than the other.
func (r reading) better(o reading) bool {
	if math.Abs(r.turns-o.turns) > 0.5 {
		return r.turns > o.turns
	}
	if len(r.slips) != len(o.slips) {
		return len(r.slips) < len(o.slips)
	}
	return r.rough < o.rough
}

// smoother tells whether a reading with more smoothing is better than one with
// less: it follows more of the recording, with far fewer slips, or the same much
// more evenly.
func (r reading) smoother(o reading) bool {
	switch {
	case r.turns > o.turns+0.5 && r.turns > 1.02*o.turns:
		return true
	case r.turns < o.turns-0.5 && r.turns < 0.98*o.turns:
		return false
	case len(r.slips) > len(o.slips):
		return false
	case float64(len(o.slips)) > math.Max(4, o.turns/5): // more than a damaged tooth or a spike here and there
		return len(r.slips) < len(o.slips)
	}
	return len(r.slips) == len(o.slips) && r.rough < 0.8*o.rough
}

// gapLevel tells which sensor a crank channel is of by where the signal stays while
// a gap passes: that of an inductive sensor at rest in the middle, that of a Hall
// sensor at one of its levels. ok is false where neither is clear.
func gapLevel(c *channel, runs []Run, w wheel.Crank, first float64) (s wheel.Sensor, ok bool) {
	longest := slices.Max(stepsOf(w))
	lo, hi := c.values.quantile(0.1), c.values.quantile(0.9)
	var at []float64
	for _, run := range runs {
		for i := 1; i < len(run.At) && len(at) < 400; i++ {
			if run.At[i]-run.At[i-1] != longest || run.Time[i]-run.Time[i-1] < 6*c.thin.width*float64(longest) {
				continue
			}
			// Three quarters of a pitch before the next tooth no tooth is near, whichever
			// edge the times are of.
			pitch := (run.Time[i] - run.Time[i-1]) / float64(longest)
			if v := c.thin.value(run.Time[i] - 0.75*pitch - first); v == v {
				at = append(at, (v-lo)/(hi-lo))
			}
		}
	}
	if len(at) < 2 || !(hi > lo) {
		return 0, false
	}
	middle := median(at)
	if away := math.Abs(middle - 0.5); away < 0.2 {
		return wheel.Inductive, true
	} else if away > 0.35 {
		return wheel.Hall, true
	}
	return 0, false
}

// hallSide picks the slope at which teeth begin. Both slopes show the wheel; in
// the gap the sensor is at the level of no tooth, so the tooth before the gap ends
// near its beginning and the next begins at its end: of leading edges, the other
// slope follows soon after.
func hallSide(from *detector, r reading, index int, w wheel.Crank) reading {
	of := map[bool][]float64{false: from.falling, true: from.rising}
	other := of[!r.rising]
	step := stepsOf(w)
	longest := slices.Max(step)
	n := w.Positions
	soon, late := 0, 0
	for _, run := range r.runs {
		for i := 1; i < len(run.At); i++ {
			if run.At[i]-run.At[i-1] != longest || step[((run.At[i-1]%n)+n)%n] != longest {
				continue
			}
			k, _ := slices.BinarySearch(other, run.Time[i-1])
			if k >= len(other) || other[k] > run.Time[i] {
				continue
			}
			if other[k]-run.Time[i-1] < (run.Time[i]-run.Time[i-1])/2 {
				soon++
			} else {
				late++
			}
		}
	}
	if soon >= late {
		return r
	}
	return readSlope(from, index, w, r.sensor, !r.rising)
}

// median returns the upper middle of some values; there must be one.
func median(v []float64) float64 {
	s := slices.Clone(v)
	slices.Sort(s)
	return s[len(s)/2]
}
