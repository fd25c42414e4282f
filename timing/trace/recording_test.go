package trace

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sync"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/piston"
	"pinphase.org/pinphase/timing/trace/samples"
	"pinphase.org/pinphase/timing/trace/simulate"
	"pinphase.org/pinphase/timing/wheel"
)

// tryout is one simulated recording and what it was made with.
type tryout struct {
	name      string
	cylinders int
	intervals []timing.Deg // nil: even
	two       bool         // a two-stroke: ports, and a cam that turns with the crank
	seconds   float64      // 0: 5
	start     float64      // where the crank stands before the starter turns it
	rpm       float64      // turning at the start; 0: from rest
	wheels    simulate.Wheels
	scope     simulate.Scope
	change    func(*simulate.Engine)
	changed   string // names the change
	seed      uint64
}

// engineOrder is a firing order of so many cylinders as it is usually built.
var engineOrder = map[int][]int{1: {1}, 2: {1, 2}, 3: {1, 3, 2}, 4: {1, 3, 4, 2}, 5: {1, 2, 4, 5, 3}, 6: {1, 5, 3, 6, 2, 4}, 8: {1, 8, 4, 3, 6, 5, 7, 2}}

// Wheels that the tests use, their teeth by design.
func wheel60() simulate.Wheels {
	return simulate.Wheels{Positions: 60, Missing: []int{59, 60}, CrankFirst: 84, Cam: []float64{0, 60, 120, 180, 240, 300, 330}, CamFirst: 50, CamHall: true}
}

func wheel36() simulate.Wheels {
	w := wheel60()
	w.Positions, w.Missing, w.CrankFirst = 36, []int{36}, 90
	w.Cam = []float64{0, 90, 135, 180, 270}
	return w
}

func wheelUneven() simulate.Wheels {
	w := wheel60()
	w.Positions, w.Missing = 36, []int{18, 24, 35, 36}
	w.Cam = []float64{0, 40, 180, 300}
	return w
}

// courses are kept: many recordings are made of one.
var courses = struct {
	sync.Mutex
	of map[string]simulate.Course
}{of: map[string]simulate.Course{}}

// typical is the engine as its builder knows it.
func (c tryout) typical() simulate.Engine {
	e := simulate.Typical(c.cylinders)
	if c.two {
		e.Cycle, e.Closes, e.Opens = 360, 62, 80
	}
	return e
}

// engine is the simulated engine and its firing scheme.
func (c tryout) engine() (simulate.Engine, timing.Scheme) {
	e := c.typical()
	e.CamLate = -c.wheels.Gamma
	if math.Abs(c.wheels.Gamma) > 100 || c.two {
		e.CamLate = 0 // the sensor wheel alone is turned: valves so far out would meet the pistons, and ports stay where they are
	}
	strokes := 4
	if c.two {
		strokes = 2
	}
	scheme, err := timing.NewScheme(strokes, engineOrder[c.cylinders], c.intervals)
	if err != nil {
		panic(err)
	}
	for i := range e.Fires {
		e.Fires[i] = float64(scheme.FiresAt(i + 1))
	}
	if c.change != nil {
		c.change(&e)
	}
	return e, scheme
}

// play makes the recording and what the job says of its engine.
func (c tryout) play() (simulate.Signals, Known) {
	e, scheme := c.engine()
	seconds := c.seconds
	if seconds == 0 {
		seconds = 5
	}
	key := fmt.Sprint(c.cylinders, c.intervals, c.two, c.changed, seconds, c.start, c.rpm, e.CamLate, c.seed)
	courses.Lock()
	course, ok := courses.of[key]
	courses.Unlock()
	ok = ok && (c.change == nil || c.changed != "")
	if !ok {
		course = e.Crank(seconds, c.start, c.rpm, rand.New(rand.NewPCG(c.seed, 10)).NormFloat64)
		if c.change == nil || c.changed != "" {
			courses.Lock()
			courses.of[key] = course
			courses.Unlock()
		}
	}
	random := rand.New(rand.NewPCG(c.seed, 20)) // of its own: the course may be an older one
	scope := c.scope
	if scope.Rate == 0 {
		scope.Rate = 50000
	}
	return scope.Record(course, e, c.wheels, random.NormFloat64), known(scheme, c.wheels, c.typical())
}

// known is the job of a simulated engine: what its builder would have written.
func known(scheme timing.Scheme, w simulate.Wheels, e simulate.Engine) Known {
	k := Known{
		Cycle:  scheme.Cycle(),
		Scheme: scheme,
		Crank:  wheel.Crank{Positions: w.Positions, Missing: w.Missing, FirstToothBTDC: timing.Deg(w.CrankFirst)},
		Engine: &Engine{Scheme: scheme, Charge: piston.Charge{
			Cylinder: piston.Cylinder{SliderCrank: piston.SliderCrank{ThrowMM: e.Throw * 1000, RodMM: e.Rod * 1000, OffsetMM: e.Offset * 1000}, BoreMM: e.Bore * 1000, Ratio: e.Ratio},
			Closes:   timing.Deg(e.Closes - 180), Opens: timing.Deg(180 - e.Opens),
			AtClosing: piston.Gas{K: 298, Bar: 1.013}, Exponent: piston.DefaultExponent,
		}},
	}
	if w.CrankHall {
		k.CrankSensor = wheel.Hall
	}
	if len(w.Cam) > 0 {
		k.Cam = &wheel.Cam{FirstToothBTDC: timing.Deg(w.CamFirst), Cycle: scheme.Cycle()}
		for _, a := range w.Cam {
			k.Cam.Teeth = append(k.Cam.Teeth, timing.CamDeg(a))
		}
		if w.CamHall {
			k.CamSensor = wheel.Hall
		}
	}
	return k
}

// collect hands samples to a collector as a reader would.
func collect(s simulate.Signals, names ...string) *Collector {
	var channels [][]float64
	for _, v := range [][]float64{s.Crank, s.Cam, s.Pressure, s.Current} {
		if v != nil {
			channels = append(channels, v)
		}
	}
	for len(names) < len(channels) {
		names = append(names, "")
	}
	called := make([]samples.Channel, len(channels))
	for i := range called {
		called[i].Name = names[i]
	}
	c := NewCollector(called)
	b := samples.Block{Time: make([]float64, 0, samples.BlockRows), Values: make([][]float64, len(channels))}
	n := len(channels[0])
	for from := 0; from < n; from += samples.BlockRows {
		to := min(from+samples.BlockRows, n)
		b.Time = b.Time[:0]
		for i := from; i < to; i++ {
			b.Time = append(b.Time, float64(i)/s.Rate)
		}
		for k := range channels {
			b.Values[k] = channels[k][from:to]
		}
		c.Add(&b)
	}
	c.finish()
	return c
}

// kinds are the kinds of an analysis's faults.
func kinds(a *Analysis) map[Kind]int {
	m := map[Kind]int{}
	for _, f := range a.Faults {
		m[f.Kind]++
	}
	return m
}
