package trace

import (
	"math"
	"math/rand/v2"

	"pinphase/timing"
	"pinphase/timing/piston"
	"pinphase/timing/trace/simulate"
	"pinphase/timing/wheel"
)

// tryout is one simulated recording and what it was made with.
type tryout struct {
	Name      string
	Cylinders int
	Order     []int // nil: 1, 2, 3, ...
	Seconds   float64
	Start     float64
	RPM       float64 // turning at the start; 0: from rest
	Wheels    simulate.Wheels
	Scope     simulate.Scope
	Change    func(*simulate.Engine)
	Seed      uint64
}

// engineOrder is a firing order of so many cylinders as it is usually built.
var engineOrder = map[int][]int{1: {1}, 2: {1, 2}, 3: {1, 3, 2}, 4: {1, 3, 4, 2}, 5: {1, 2, 4, 5, 3}, 6: {1, 5, 3, 6, 2, 4}, 8: {1, 8, 4, 3, 6, 5, 7, 2}}

// play makes the recording and what the job says of its engine.
func (c tryout) play() (simulate.Signals, Known) {
	random := rand.New(rand.NewPCG(c.Seed, 20))
	e := simulate.Typical(c.Cylinders)
	e.CamLate = -c.Wheels.Gamma
	if math.Abs(c.Wheels.Gamma) > 100 {
		e.CamLate = 0 // valves half a turn out would bend; the sensor wheel alone is turned
	}
	order := engineOrder[c.Cylinders]
	scheme, err := timing.NewEngine(4, order, nil)
	if err != nil {
		panic(err)
	}
	for i := range e.Fires {
		e.Fires[i] = float64(scheme.FiresAt(i + 1))
	}
	if c.Change != nil {
		c.Change(&e)
	}
	seconds := c.Seconds
	if seconds == 0 {
		seconds = 6
	}
	course := e.Crank(seconds, c.Start, c.RPM, random.NormFloat64)
	scope := c.Scope
	if scope.Rate == 0 {
		scope.Rate = 50000
	}
	s := scope.Record(course, e, c.Wheels, random.NormFloat64)
	return s, known(scheme, c.Wheels, simulate.Typical(c.Cylinders))
}

// known is the job of a simulated engine: what its builder would have written.
func known(scheme timing.Engine, w simulate.Wheels, e simulate.Engine) Known {
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
	all := [][]float64{s.Crank, s.Cam, s.Pressure, s.Current}
	var channels [][]float64
	for _, v := range all {
		if v != nil {
			channels = append(channels, v)
		}
	}
	for len(names) < len(channels) {
		names = append(names, "")
	}
	c := NewCollector(names, make([]string, len(channels)))
	b := Block{Time: make([]float64, 0, blockRows), Values: make([][]float64, len(channels))}
	n := len(channels[0])
	for from := 0; from < n; from += blockRows {
		to := min(from+blockRows, n)
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
