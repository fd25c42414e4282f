package trace

import (
	"math"
	"slices"
	"strings"

	"pinphase/timing/wheel"
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
	edges   []float64
	runs    []Run
	slips   []Slip
	turns   float64 // followed
	found   Pattern
	support float64
}

// readCrank tries a channel as the crank sensor's: by both slopes, each against
// the job's wheel; what no slope can follow is read without the job.
func readCrank(c *channel, index int, w wheel.Crank) reading {
	falling, rising, sensor := c.edges()
	best := reading{channel: index, sensor: sensor}
	for _, up := range []bool{false, true} {
		edges := falling
		if up {
			edges = rising
		}
		r := reading{channel: index, rising: up, sensor: sensor, edges: edges}
		r.runs, r.slips = follow(edges, w)
		for _, run := range r.runs {
			r.turns += float64(run.At[len(run.At)-1]-run.At[0]) / float64(w.Positions)
		}
		r.found, r.support = pattern(edges)
		if r.better(best) {
			best = r
		}
	}
	if sensor == wheel.Hall && best.turns > 0 {
		return hallSide(falling, rising, best, index, w)
	}
	return best
}

func (r reading) better(o reading) bool {
	if math.Abs(r.turns-o.turns) > 0.5 {
		return r.turns > o.turns
	}
	if len(r.slips) != len(o.slips) && r.turns > 0 {
		return len(r.slips) < len(o.slips)
	}
	return r.support > o.support
}

// hallSide picks the slope at which teeth begin. Both slopes show the wheel; in
// the gap the sensor is at the level of no tooth, so the tooth before the gap ends
// near its beginning and the next begins at its end: of leading edges, the other
// slope follows soon after.
func hallSide(falling, rising []float64, r reading, index int, w wheel.Crank) reading {
	of := map[bool][]float64{false: falling, true: rising}
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
	o := reading{channel: index, rising: !r.rising, sensor: r.sensor, edges: other}
	o.runs, o.slips = follow(other, w)
	for _, run := range o.runs {
		o.turns += float64(run.At[len(run.At)-1]-run.At[0]) / float64(n)
	}
	o.found, o.support = pattern(other)
	return o
}

// camReading is a cam wheel read from one channel by one slope.
type camReading struct {
	channel int
	rising  bool
	sensor  wheel.Sensor
	match   camMatch
	ok      bool
	sure    bool // that teeth begin at this slope
	seen    int  // edges that come once in each cycle, at one slope
}

// readCam tries a channel as the cam sensor's.
func readCam(c *channel, index int, k clock, w wheel.Cam, sampleDeg float64) camReading {
	falling, rising, sensor := c.edges()
	var tries [2]camReading
	for i, edges := range [][]float64{falling, rising} {
		r := camReading{channel: index, rising: i == 1, sensor: sensor, sure: true}
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
	switch {
	case a.ok != b.ok:
		if b.ok {
			return b
		}
		return a
	case !a.ok:
		if b.seen > a.seen {
			return b
		}
		return a
	case sensor == wheel.Inductive:
		// The zero crossing at a tooth's centre is the steep one, and the other lies
		// anywhere between teeth: the wheel fits the steep one, clearly or not at all.
		if a.match.fit > 2*b.match.fit+0.3 {
			return b
		}
		if b.match.fit > 2*a.match.fit+0.3 {
			return a
		}
		return steeper(a, b, c)
	}
	return toothSide(a, b)
}

// toothSide picks the slope at which a Hall sensor's teeth begin, when both slopes
// show the wheel. Teeth are alike and the spaces are not: the level whose lengths
// vary least is the tooth. Where spaces are alike too, the shorter level is the
// tooth. Where neither tells, nothing does.
func toothSide(falling, rising camReading) camReading {
	if f, r := falling.match.fit, rising.match.fit; f > 3*r+0.5 {
		return rising
	} else if r > 3*f+0.5 {
		return falling
	}
	var high, low []float64 // lengths of the levels: from a rising edge to the next falling one, and back
	cycle := 0.0
	for _, r := range rising.match.teeth {
		best := math.Inf(1)
		for _, f := range falling.match.teeth {
			d := f.At - r.At
			if d < 0 {
				d += 720
			}
			best = min(best, d)
		}
		high = append(high, best)
		cycle += best
	}
	for _, f := range falling.match.teeth {
		best := math.Inf(1)
		for _, r := range rising.match.teeth {
			d := r.At - f.At
			if d < 0 {
				d += 720
			}
			best = min(best, d)
		}
		low = append(low, best)
	}
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

// steeper picks, of two slopes that fit alike, the one whose passings scatter
// less: it is the crossing at the tooth.
func steeper(a, b camReading, _ *channel) camReading {
	scatter := func(r camReading) float64 {
		sum := 0.0
		for _, t := range r.match.teeth {
			sum += t.Scatter
		}
		return sum / float64(max(len(r.match.teeth), 1))
	}
	sa, sb := scatter(a), scatter(b)
	switch {
	case sa < 0.6*sb:
		return a
	case sb < 0.6*sa:
		return b
	}
	if sb < sa {
		a, b = b, a
	}
	a.sure = false
	return a
}
