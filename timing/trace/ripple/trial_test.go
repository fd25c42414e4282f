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

// play makes the trial.
func (t trial) play() made {
	r := rand.New(rand.NewPCG(t.seed, uint64(100*t.maker+t.cylinders)))
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	around := func(f float64) float64 { return math.Exp(math.Log(f) * (2*r.Float64() - 1)) } // 1/f to f
	strokes := 4
	if t.two {
		strokes = 2
	}
	scheme, err := timing.NewEngine(strokes, orders[t.cylinders], nil)
	if err != nil {
		panic(err)
	}
	n := float64(t.cylinders)
	fires := make([]float64, t.cylinders)
	for i := range fires {
		fires[i] = float64(scheme.FiresAt(i + 1))
	}
	cycle := float64(scheme.Cycle())
	bore := between(0.08, 0.13)
	throw := bore * between(0.5, 0.62)
	rod, ratio := throw*between(3.0, 3.6), between(15.5, 19.5)
	closes, opens := between(20, 50), between(40, 65)
	if t.two {
		closes, opens = between(55, 68), between(70, 90)
	}
	litres := math.Pi / 4 * bore * bore * 2 * throw * 1000 // of each cylinder
	inertia := litres * (0.25 + 0.2*n) * between(0.6, 2.5)
	if t.cylinders <= 3 {
		inertia = litres * between(0.6, 1.6) * (1 + 0.3*(3-n))
	}
	offset := 0.0
	if r.IntN(4) == 0 {
		offset = between(-0.001, 0.001)
	}
	mass := bore * bore * bore * 1e9 * 1.8e-6 * between(0.7, 1.4)
	seconds := t.seconds
	if seconds == 0 {
		seconds = between(3, 6)
	}
	weak := -1
	if t.fault == "weak" || t.fault == "dead" {
		weak = r.IntN(t.cylinders)
	}
	strongest := func() float64 { // N m that compression takes at its most, roughly
		return 28e5 * math.Pi / 4 * bore * bore * throw * 0.45
	}()
	start := between(0, 720)
	var c simulate.Course
	noise := r.NormFloat64
	switch t.maker {
	case 1:
		e := simulate.Typical(t.cylinders)
		e.Cycle, e.Fires, e.Bore, e.Throw, e.Rod, e.Offset, e.Ratio, e.Closes, e.Opens = cycle, fires, bore, throw, rod, offset, ratio, closes, opens
		e.Inertia, e.Mass = inertia, mass
		e.Dry, e.Viscous, e.Ring = 9*n*litres*around(1.4), 0.25*n*litres*around(1.5), 4*litres*around(1.5)
		e.Stall = max(95*n*litres*around(1.3), 0.85*strongest)
		e.FreeRPM = between(240, 400)
		e.Gamma, e.Heat, e.Leak, e.Throttle, e.Flutter = between(1.37, 1.4), between(50, 180), between(0.05e-6, 0.8e-6)*litres, between(0, 4000), between(0, 6)*litres
		e.AirK, e.WallK = between(270, 305), between(275, 320)
		e.AirPa = between(94000, 102000)
		if weak >= 0 {
			e.Strength = make([]float64, t.cylinders)
			for i := range e.Strength {
				e.Strength[i] = 1
			}
			e.Strength[weak] = between(0.6, 0.9)
			if t.fault == "dead" {
				e.Strength[weak] = -between(5, 60) // 8e-6 m2 times this much
			}
		}
		if t.fault == "released" {
			e.Strength = make([]float64, t.cylinders)
			k := -between(3, 40)
			for i := range e.Strength {
				e.Strength[i] = k
			}
		}
		c = e.Crank(seconds, start, 0, noise)
	case 2:
		e := simulate.Second{Cycle: cycle, Fires: fires, Bore: bore, Throw: throw, Rod: rod, Offset: offset, Ratio: ratio, Closes: closes, Opens: opens,
			Flywheel: inertia * 0.85, Nose: inertia * 0.13, Belt: inertia * 0.02, Twist: 3e5 * litres, BeltHold: inertia * 0.02 * math.Pow(2*math.Pi*between(20, 45), 2), Mass: mass,
			Swirl: between(0, 3), HeatTimes: between(0.6, 2.2), PistonK: between(275, 330), LinerK: between(272, 310), Throat: between(0.15e-6, 1.4e-6) * litres, RingRoom: 1.2e-6 * litres,
			Boundary: 14 * litres * around(1.3), Least: 6 * litres * around(1.3), Speed0: between(3, 8), Film: 0.35 * litres * around(1.4), Loaded: between(0, 0.004),
			Volts: 24, Ohm: 0.012, Internal: 0.010, SagSeconds: between(10, 60), FluxA: 300, Armature: between(0.002, 0.006), Gear: 0,
			AirK: between(270, 305), AirPa: between(94000, 102000), ValveArea: 4e-4 * litres, Roughness: between(0, 5) * litres,
		}
		e.Gear = between(10, 14) * between(1.5, 2.3)
		stall := max(90*n*litres*around(1.3), 0.85*strongest)
		top := between(20, 32) * stall * 1.2 / e.Volts // A, for so many rad/s without a load
		e.Ohm, e.Internal = e.Volts/top/2, e.Volts/top/2
		e.FluxA = 0.25 * top
		e.MotorK = stall / e.Gear / (top * top / (top + e.FluxA))
		if weak >= 0 || t.fault == "released" {
			e.Blow = make([]float64, t.cylinders)
			switch t.fault {
			case "weak":
				e.Blow[weak] = between(1e-6, 4e-6)
			case "dead":
				e.Blow[weak] = between(4e-5, 5e-4)
			default:
				k := between(3e-5, 4e-4)
				for i := range e.Blow {
					e.Blow[i] = k
				}
			}
		}
		c = e.Crank(seconds, start, noise)
	case 3:
		e := simulate.Third{Cycle: cycle, Fires: fires, Bore: bore, Throw: throw, Rod: rod, Offset: offset, Ratio: ratio, Closes: closes, Opens: opens,
			Up: between(1.30, 1.36), Gap: between(0, 0.015), Inertia: inertia, Mass: mass, Rub: between(0.02, 0.08), Drag: 10 * n * litres * around(1.4),
			Most: max(75*n*litres*around(1.3), 0.9*strongest), Pump: between(0, 3000), AirPa: between(94000, 102000), Gust: between(0, 4) * litres}
		e.Down = e.Up + between(0.0, 0.05)
		if r.IntN(2) == 0 {
			e.Watt = 20 * (20 * n * litres) * between(0.6, 1.0)
			e.Most *= 1.3
		} else {
			e.Hydraulic = between(0.85, 1.3)
		}
		if weak >= 0 || t.fault == "released" {
			e.Weak = make([]float64, t.cylinders)
			e.Gap = max(e.Gap, 0.01)
			k := between(20, 200)
			for i := range e.Weak {
				e.Weak[i] = 1
				if t.fault == "released" {
					e.Weak[i] = k
				}
			}
			switch t.fault {
			case "weak":
				e.Weak[weak] = between(3, 10)
			case "dead":
				e.Weak[weak] = between(100, 1000)
			}
		}
		c = e.Crank(seconds, start, noise)
	}
	w := wheels[t.wheel]
	w.Delta = math.Round(between(-170, 170))
	g := simulate.Edges{}
	w.ToothError, w.RunOut = between(0.005, 0.03), between(0, 0.05)
	g.Jitter = 2e-6
	if t.noisy {
		w.ToothError, w.RunOut, g.Oval = between(0.05, 0.1), between(0.05, 0.3), between(0, 0.02)
		g.Jitter = between(5e-6, 40e-6)
	}
	if t.hall {
		g.Quantum = []float64{1e-6, 1e-5, 2e-5, 1e-4}[r.IntN(4)]
	}
	if t.fault == "bent" {
		teeth := w.Positions - len(w.Missing)
		g.Bent, g.BentBy = 2+r.IntN(teeth-2), between(0.8, 2)*[]float64{-1, 1}[r.IntN(2)]
		if w.Positions < 30 {
			g.BentBy *= 2
		}
	}
	at, place := g.Pass(c, w, noise)
	lo, hi, sum, count := math.Inf(1), 0.0, 0.0, 0.0
	for i := len(c.Omega) / 3; i < len(c.Omega); i++ {
		lo, hi = min(lo, c.Omega[i]), max(hi, c.Omega[i])
		sum += c.Omega[i]
		count++
	}
	in := t.known(scheme, bore, throw, rod, offset, ratio, closes, opens)
	in.Runs = []Run{{Time: at, Place: place}}
	return made{delta: w.Delta, swing: (hi - lo) / (sum / count), rpm: sum / count * 30 / math.Pi, in: in}
}

// known is what the job says of the engine.
func (t trial) known(scheme timing.Engine, bore, throw, rod, offset, ratio, closes, opens float64) Input {
	w := wheels[t.wheel]
	return Input{
		Engine: Engine{Scheme: scheme, Charge: piston.Charge{
			Cylinder: piston.Cylinder{SliderCrank: piston.SliderCrank{ThrowMM: throw * 1000, RodMM: rod * 1000, OffsetMM: offset * 1000}, BoreMM: bore * 1000, Ratio: ratio},
			Closes:   timing.Deg(closes - 180), Opens: timing.Deg(180 - opens),
			AtClosing: piston.Gas{K: 298, Bar: 1.013}, Exponent: piston.DefaultExponent,
		}},
		Wheel:  wheel.Crank{Positions: w.Positions, Missing: w.Missing, FirstToothBTDC: timing.Deg(w.CrankFirst)},
		Modulo: scheme.Cycle() / timing.Deg(t.cylinders),
	}
}
