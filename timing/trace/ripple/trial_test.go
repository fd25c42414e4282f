package ripple

import (
	"fmt"
	"math"
	"math/rand/v2"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/piston"
	"pinphase.org/pinphase/timing/trace/simulate"
	"pinphase.org/pinphase/timing/wheel"
)

// trial is one engine with its wheel and recorder, drawn at random within its class.
type trial struct {
	maker     int // 1 to 3: [simulate.Engine], [simulate.Second], [simulate.Third]
	cylinders int
	two       bool
	wheel     string
	hall      bool
	noisy     bool
	fault     string
	seconds   float64 // 0: 3 to 6
	seed      uint64
}

func (t trial) String() string {
	return fmt.Sprintf("maker %d, %d cyl, two %v, %s, hall %v, noisy %v, %q, seed %d", t.maker, t.cylinders, t.two, t.wheel, t.hall, t.noisy, t.fault, t.seed)
}

var orders = map[int][]int{1: {1}, 2: {1, 2}, 3: {1, 3, 2}, 4: {1, 3, 4, 2}, 5: {1, 2, 4, 5, 3}, 6: {1, 5, 3, 6, 2, 4}, 8: {1, 8, 4, 3, 6, 5, 7, 2}}

// wheels of the trials.
var wheels = map[string]simulate.Wheels{
	"60-2":   {Positions: 60, Missing: []int{59, 60}, CrankFirst: 84},
	"36-1":   {Positions: 36, Missing: []int{36}, CrankFirst: 90},
	"uneven": {Positions: 36, Missing: []int{18, 24, 35, 36}, CrankFirst: 84},
	"24-2":   {Positions: 24, Missing: []int{23, 24}, CrankFirst: 75},
	"12-1":   {Positions: 12, Missing: []int{12}, CrankFirst: 90},
	"8-1":    {Positions: 8, Missing: []int{8}, CrankFirst: 90},
	"120-2":  {Positions: 120, Missing: []int{119, 120}, CrankFirst: 84},
}

// made is what a trial comes to before the fit.
type made struct {
	in    Input
	delta float64
	swing float64 // of the true speed, over its mean, in the last two thirds
	rpm   float64
}

// block is the engine of a trial, as its builder knows it, and what the draws go on from.
type block struct {
	r                                *rand.Rand
	cycle, n                         float64
	fires                            []float64
	bore, throw, rod, offset, ratio  float64 // m
	closes, opens                    float64
	litres, inertia, mass, strongest float64 // of each cylinder; strongest in N m: what compression takes, roughly
	seconds, start                   float64
	weak                             int // cylinder from 0; -1 none
}

func (b block) between(lo, hi float64) float64 { return lo + (hi-lo)*b.r.Float64() }

// around is a factor from 1/f to f.
func (b block) around(f float64) float64 { return math.Exp(math.Log(f) * (2*b.r.Float64() - 1)) }

// block draws the engine.
func (t trial) block(scheme timing.Scheme) block {
	b := block{r: rand.New(rand.NewPCG(t.seed, uint64(100*t.maker+t.cylinders))), cycle: float64(scheme.Cycle()), n: float64(t.cylinders), weak: -1}
	for i := range t.cylinders {
		b.fires = append(b.fires, float64(scheme.FiresAt(i+1)))
	}
	b.bore = b.between(0.08, 0.13)
	b.throw = b.bore * b.between(0.5, 0.62)
	b.rod, b.ratio = b.throw*b.between(3.0, 3.6), b.between(15.5, 19.5)
	b.closes, b.opens = b.between(20, 50), b.between(40, 65)
	if t.two {
		b.closes, b.opens = b.between(55, 68), b.between(70, 90)
	}
	b.litres = math.Pi / 4 * b.bore * b.bore * 2 * b.throw * 1000
	b.inertia = b.litres * (0.25 + 0.2*b.n) * b.between(0.6, 2.5)
	if t.cylinders <= 3 {
		b.inertia = b.litres * b.between(0.6, 1.6) * (1 + 0.3*(3-b.n))
	}
	if b.r.IntN(4) == 0 {
		b.offset = b.between(-0.001, 0.001)
	}
	b.mass = b.bore * b.bore * b.bore * 1e9 * 1.8e-6 * b.between(0.7, 1.4)
	if b.seconds = t.seconds; b.seconds == 0 {
		b.seconds = b.between(3, 6)
	}
	if t.fault == "weak" || t.fault == "dead" {
		b.weak = b.r.IntN(t.cylinders)
	}
	b.strongest = 28e5 * math.Pi / 4 * b.bore * b.bore * b.throw * 0.45
	b.start = b.between(0, 720)
	return b
}

func (t trial) first(b block) simulate.Course {
	e := simulate.Typical(t.cylinders)
	e.Cycle, e.Fires, e.Bore, e.Throw, e.Rod, e.Offset, e.Ratio, e.Closes, e.Opens = b.cycle, b.fires, b.bore, b.throw, b.rod, b.offset, b.ratio, b.closes, b.opens
	e.Inertia, e.Mass = b.inertia, b.mass
	e.Dry, e.Viscous, e.Ring = 9*b.n*b.litres*b.around(1.4), 0.25*b.n*b.litres*b.around(1.5), 4*b.litres*b.around(1.5)
	e.Stall = max(95*b.n*b.litres*b.around(1.3), 0.85*b.strongest)
	e.FreeRPM = b.between(240, 400)
	e.Gamma, e.Heat, e.Leak, e.Throttle, e.Flutter = b.between(1.37, 1.4), b.between(50, 180), b.between(0.05e-6, 0.8e-6)*b.litres, b.between(0, 4000), b.between(0, 6)*b.litres
	e.AirK, e.WallK = b.between(270, 305), b.between(275, 320)
	e.AirPa = b.between(94000, 102000)
	if b.weak >= 0 {
		e.Strength = make([]float64, t.cylinders)
		for i := range e.Strength {
			e.Strength[i] = 1
		}
		e.Strength[b.weak] = b.between(0.6, 0.9)
		if t.fault == "dead" {
			e.Strength[b.weak] = -b.between(5, 60) // 8e-6 m2 times this much
		}
	}
	if t.fault == "released" {
		e.Strength = make([]float64, t.cylinders)
		k := -b.between(3, 40)
		for i := range e.Strength {
			e.Strength[i] = k
		}
	}
	return e.Crank(b.seconds, b.start, 0, b.r.NormFloat64)
}

func (t trial) second(b block) simulate.Course {
	e := simulate.Second{Cycle: b.cycle, Fires: b.fires, Bore: b.bore, Throw: b.throw, Rod: b.rod, Offset: b.offset, Ratio: b.ratio, Closes: b.closes, Opens: b.opens,
		Flywheel: b.inertia * 0.85, Nose: b.inertia * 0.13, Belt: b.inertia * 0.02, Twist: 3e5 * b.litres, BeltHold: b.inertia * 0.02 * math.Pow(2*math.Pi*b.between(20, 45), 2), Mass: b.mass,
		Swirl: b.between(0, 3), HeatTimes: b.between(0.6, 2.2), PistonK: b.between(275, 330), LinerK: b.between(272, 310), Throat: b.between(0.15e-6, 1.4e-6) * b.litres, RingRoom: 1.2e-6 * b.litres,
		Boundary: 14 * b.litres * b.around(1.3), Least: 6 * b.litres * b.around(1.3), Speed0: b.between(3, 8), Film: 0.35 * b.litres * b.around(1.4), Loaded: b.between(0, 0.004),
		Volts: 24, Ohm: 0.012, Internal: 0.010, SagSeconds: b.between(10, 60), FluxA: 300, Armature: b.between(0.002, 0.006), Gear: 0,
		AirK: b.between(270, 305), AirPa: b.between(94000, 102000), ValveArea: 4e-4 * b.litres, Roughness: b.between(0, 5) * b.litres,
	}
	e.Gear = b.between(10, 14) * b.between(1.5, 2.3)
	stall := max(90*b.n*b.litres*b.around(1.3), 0.85*b.strongest)
	top := b.between(20, 32) * stall * 1.2 / e.Volts // A, for so many rad/s without a load
	e.Ohm, e.Internal = e.Volts/top/2, e.Volts/top/2
	e.FluxA = 0.25 * top
	e.MotorK = stall / e.Gear / (top * top / (top + e.FluxA))
	if b.weak >= 0 || t.fault == "released" {
		e.Blow = make([]float64, t.cylinders)
		switch t.fault {
		case "weak":
			e.Blow[b.weak] = b.between(1e-6, 4e-6)
		case "dead":
			e.Blow[b.weak] = b.between(4e-5, 5e-4)
		default:
			k := b.between(3e-5, 4e-4)
			for i := range e.Blow {
				e.Blow[i] = k
			}
		}
	}
	return e.Crank(b.seconds, b.start, b.r.NormFloat64)
}

func (t trial) third(b block) simulate.Course {
	e := simulate.Third{Cycle: b.cycle, Fires: b.fires, Bore: b.bore, Throw: b.throw, Rod: b.rod, Offset: b.offset, Ratio: b.ratio, Closes: b.closes, Opens: b.opens,
		Up: b.between(1.30, 1.36), Gap: b.between(0, 0.015), Inertia: b.inertia, Mass: b.mass, Rub: b.between(0.02, 0.08), Drag: 10 * b.n * b.litres * b.around(1.4),
		Most: max(75*b.n*b.litres*b.around(1.3), 0.9*b.strongest), Pump: b.between(0, 3000), AirPa: b.between(94000, 102000), Gust: b.between(0, 4) * b.litres}
	e.Down = e.Up + b.between(0.0, 0.05)
	if b.r.IntN(2) == 0 {
		e.Watt = 20 * (20 * b.n * b.litres) * b.between(0.6, 1.0)
		e.Most *= 1.3
	} else {
		e.Hydraulic = b.between(0.85, 1.3)
	}
	if b.weak >= 0 || t.fault == "released" {
		e.Weak = make([]float64, t.cylinders)
		e.Gap = max(e.Gap, 0.01)
		k := b.between(20, 200)
		for i := range e.Weak {
			e.Weak[i] = 1
			if t.fault == "released" {
				e.Weak[i] = k
			}
		}
		switch t.fault {
		case "weak":
			e.Weak[b.weak] = b.between(3, 10)
		case "dead":
			e.Weak[b.weak] = b.between(100, 1000)
		}
	}
	return e.Crank(b.seconds, b.start, b.r.NormFloat64)
}

// sensors draws the wheel and how its teeth are seen.
func (t trial) sensors(b block) (simulate.Wheels, simulate.Edges) {
	w := wheels[t.wheel]
	w.Delta = math.Round(b.between(-170, 170))
	g := simulate.Edges{}
	w.ToothError, w.RunOut = b.between(0.005, 0.03), b.between(0, 0.05)
	g.Jitter = 2e-6
	if t.noisy {
		w.ToothError, w.RunOut, g.Oval = b.between(0.05, 0.1), b.between(0.05, 0.3), b.between(0, 0.02)
		g.Jitter = b.between(5e-6, 40e-6)
	}
	if t.hall {
		g.Quantum = []float64{1e-6, 1e-5, 2e-5, 1e-4}[b.r.IntN(4)]
	}
	if t.fault == "bent" {
		teeth := w.Positions - len(w.Missing)
		g.Bent, g.BentBy = 2+b.r.IntN(teeth-2), b.between(0.8, 2)*[]float64{-1, 1}[b.r.IntN(2)]
		if w.Positions < 30 {
			g.BentBy *= 2
		}
	}
	return w, g
}

// play makes the trial.
func (t trial) play() made {
	strokes := 4
	if t.two {
		strokes = 2
	}
	scheme, err := timing.NewScheme(strokes, orders[t.cylinders], nil)
	if err != nil {
		panic(err)
	}
	b := t.block(scheme)
	c := []func(trial, block) simulate.Course{trial.first, trial.second, trial.third}[t.maker-1](t, b)
	w, g := t.sensors(b)
	in := t.known(scheme, b)
	at, place := g.Pass(c, w, b.r.NormFloat64)
	in.Runs = []Run{{Time: at, Place: place}}
	lo, hi, sum, count := math.Inf(1), 0.0, 0.0, 0.0
	for i := len(c.Omega) / 3; i < len(c.Omega); i++ {
		lo, hi = min(lo, c.Omega[i]), max(hi, c.Omega[i])
		sum += c.Omega[i]
		count++
	}
	return made{delta: w.Delta, swing: (hi - lo) / (sum / count), rpm: sum / count * 30 / math.Pi, in: in}
}

// known is what the job says of the engine.
func (t trial) known(scheme timing.Scheme, b block) Input {
	w := wheels[t.wheel]
	return Input{
		Engine: Engine{Scheme: scheme, Charge: piston.Charge{
			Cylinder: piston.Cylinder{SliderCrank: piston.SliderCrank{ThrowMM: b.throw * 1000, RodMM: b.rod * 1000, OffsetMM: b.offset * 1000}, BoreMM: b.bore * 1000, Ratio: b.ratio},
			Closes:   timing.Deg(b.closes - 180), Opens: timing.Deg(180 - b.opens),
			AtClosing: piston.Gas{K: 298, Bar: 1.013}, Exponent: piston.DefaultExponent,
		}},
		Wheel:  wheel.Crank{Positions: w.Positions, Missing: w.Missing, FirstToothBTDC: timing.Deg(w.CrankFirst)},
		Modulo: scheme.Cycle() / timing.Deg(t.cylinders),
	}
}
