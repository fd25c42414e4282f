package cause

import (
	"math"
	"math/rand/v2"

	"pinphase.org/pinphase/timing"
)

// The jobs of these tests are made here, by rules of their own: thresholds and
// counts where the package has smooth curves, other noise, other rates. Only the
// names of faults, checks and kinds of evidence are the package's.

// bench is an invented engine with one fault, or two.
type bench struct {
	r                                      *rand.Rand
	e                                      Engine
	faults                                 []string
	keyway, dowel, wheel, slip, camWheel   float64
	camGear, damper                        float64
	reached, evenness, volts               float64 // rail share of its set-point, weakest cylinder, battery
	crankOut, camOut                       int
	bad                                    map[string]bool
	cuts, locked                           bool // builds no pressure without speed; immobilised
	crankAble, camAble                     bool // what this controller can do on one sensor
	earlyLimit, lateLimit, barOf, railOf   float64
	rpmOf                                  float64
	crankState, camState                   string
	dowelDrawing, tooth, interval, pitches float64
}

func short360(x, turn float64) float64 {
	x = math.Mod(x, turn)
	switch {
	case x > turn/2:
		return x - turn
	case x <= -turn/2:
		return x + turn
	}
	return x
}

// newBench draws an engine.
func newBench(r *rand.Rand, faults ...string) *bench {
	b := &bench{r: r, faults: faults, bad: map[string]bool{}, crankState: "good", camState: "good"}
	n := []int{3, 4, 5, 6, 8}[r.IntN(5)]
	b.interval = 720 / float64(n)
	teeth := 26 + r.IntN(16)
	b.tooth = 360 / float64(teeth)
	positions := []int{36, 60, 120}[r.IntN(3)]
	b.pitches = float64(positions)
	b.dowelDrawing = (6 + 34*r.Float64()) * float64(1-2*r.IntN(2))
	drawn := timing.Deg(b.dowelDrawing)
	b.e = Engine{Strokes: 4, Interval: timing.Deg(b.interval), CrankTeeth: teeth, Idlers: true, Dowel: &drawn,
		Positions: positions, OneGap: true, HallKnown: true, CompressionBar: 24 + 10*r.Float64(), CompressionUBar: 3}
	b.cuts = r.Float64() < 0.6
	b.crankAble, b.camAble = r.Float64() < 0.55, r.Float64() < 0.5
	b.earlyLimit, b.lateLimit = 22+3.5*r.NormFloat64(), -14+3.5*r.NormFloat64()
	b.barOf = b.e.CompressionBar + 3*r.NormFloat64()
	b.railOf = 330 * (1 + 0.2*r.NormFloat64())
	b.rpmOf = 200 * (1 + 0.11*r.NormFloat64())
	b.dowel, b.keyway = 0.25*r.NormFloat64(), 0.25*r.NormFloat64()
	b.reached, b.evenness, b.volts = 0.97+0.03*r.NormFloat64(), 0.93+0.03*r.NormFloat64(), 10.4+0.4*r.NormFloat64()
	for _, f := range faults {
		b.spoil(f)
	}
	return b
}

// mistake is an angle of a mistake: mostly small, at times any, and never too small
// to be called one.
func (b *bench) mistake(share, sd, reach float64) float64 {
	for {
		x := reach * (2*b.r.Float64() - 1)
		if b.r.Float64() < share {
			x = sd * b.r.NormFloat64()
		}
		if math.Abs(x) > 2 {
			return x
		}
	}
}

// slipOf is by how many teeth a gear goes in wrong.
func (b *bench) slipOf() int {
	k := 1
	if p := b.r.Float64(); p > 0.96 {
		k = 3
	} else if p > 0.85 {
		k = 2
	}
	return k * (1 - 2*b.r.IntN(2))
}

func (b *bench) spoil(fault string) {
	b.bad[fault] = true
	switch fault {
	case "dowel mirrored":
		b.dowel -= 2 * b.dowelDrawing
	case "dowel at a wrong angle":
		b.dowel += b.mistake(0.6, 15, 180)
	case "keyway off":
		x := b.mistake(0.6, 10, 180)
		b.keyway += x
		if b.r.IntN(2) == 0 {
			b.dowel -= x
		}
	case "key sheared or stepped":
		b.slip = b.mistake(0.6, 8, 180)
	case "wheel back to front":
		b.wheel += 360*b.r.Float64() - 180
	case "wheel of another part number":
		b.wheel += 360 / b.pitches * float64(1+b.r.IntN(int(b.pitches)-1))
		if b.r.Float64() < 0.25 {
			b.crankState = "wrong pattern"
		}
	case "wheel slipped":
		b.wheel += b.mistake(0.5, 12, 180)
	case "wheel tooth bent":
		b.crankState = []string{"good", "good", "weak", "weak", "weak", "weak", "weak", "wrong pattern", "wrong pattern", "wrong pattern"}[b.r.IntN(10)]
	case "crank gear out by teeth":
		b.crankOut = b.slipOf()
	case "cam gear out by teeth":
		b.camOut = b.slipOf()
	case "cam wheel half a turn out":
		b.camWheel += 360
	case "cam wheel slipped":
		b.camWheel += b.mistake(0.6, 20, 360)
	case "crank sensor wires reversed":
		b.wheel += 180 / b.pitches * float64(1-2*b.r.IntN(2))
		b.crankState = []string{"good", "good", "good", "good", "weak", "weak", "wrong pattern", "wrong pattern", "wrong pattern", "wrong pattern"}[b.r.IntN(10)]
	case "crank sensor dead or its gap wrong":
		b.crankState = []string{"none", "none", "none", "weak", "weak"}[b.r.IntN(5)]
	case "cam sensor dead or its gap wrong":
		b.camState = []string{"none", "none", "none", "weak", "weak"}[b.r.IntN(5)]
	case "cam gear moved on its shaft":
		b.camGear = b.mistake(0.6, 10, 180)
	case "damper ring slipped":
		b.damper = b.mistake(0.6, 15, 180)
	case "sensor supply or earth":
		b.crankState, b.camState = []string{"none", "none", "none", "weak"}[b.r.IntN(4)], []string{"none", "none", "none", "weak"}[b.r.IntN(4)]
	case "sensor connectors swapped":
		b.crankState, b.camState = []string{"wrong pattern", "wrong pattern", "wrong pattern", "none"}[b.r.IntN(4)], []string{"wrong pattern", "wrong pattern", "wrong pattern", "none"}[b.r.IntN(4)]
	case "injector leaking back":
		b.reached *= 0.3 + 0.6*b.r.Float64()
	case "air in the fuel or a blocked filter":
		b.reached *= 0.15 + 0.75*b.r.Float64()
	case "controller without power or immobilised":
		if b.locked = b.r.IntN(2) == 0; !b.locked || b.r.IntN(5) < 2 {
			b.reached *= 0.1 * b.r.Float64()
		}
	case "bent valves":
		b.evenness *= 0.7 * b.r.Float64()
		b.barOf *= 0.5 + 0.45*b.r.Float64()
	case "bad fuel":
		if b.r.IntN(4) == 0 { // gelled
			b.reached *= 0.1 + 0.3*b.r.Float64()
		}
	case "poor compression":
		b.evenness *= 0.65 + 0.35*b.r.Float64()
		b.barOf *= 0.4 + 0.35*b.r.Float64()
		b.rpmOf *= 1.08
	case "no fuel pressure":
		b.reached *= 0.35 * b.r.Float64()
	case "cranks too slowly":
		b.rpmOf *= 0.3 + 0.4*b.r.Float64()
		b.barOf *= 0.86
		b.reached *= 0.8
		if b.r.IntN(3) > 0 {
			b.volts = 7 + 2*b.r.Float64()
		}
	}
}

// rail is the pressure while cranking: of the controllers six in ten build none while
// they see no speed.
func (b *bench) rail() float64 {
	if b.noSpeed() {
		return 0.05 * b.railOf
	}
	return b.railOf * b.reached
}

// dark tells whether the controller has no power.
func (b *bench) dark() bool { return b.bad["controller without power or immobilised"] && !b.locked }

func (b *bench) noSpeed() bool { return b.crankState == "none" && b.cuts }

// delta is the short way round: a wheel 333° ahead is 27° behind.
func (b *bench) delta() float64 { return short360(b.keyway+b.dowel+b.wheel, 360) }
func (b *bench) valves() float64 {
	return b.keyway + b.slip + b.camGear + float64(b.crankOut+b.camOut)*b.tooth
}

func (b *bench) gamma() float64 { return b.valves() + b.camWheel }

// sparks tells whether an injection early by err lights.
func (b *bench) sparks(err float64) bool {
	err = short360(err, 360)
	return err < b.earlyLimit && err > b.lateLimit
}

// sound tells whether nothing but timing stands in the way today.
func (b *bench) sound() bool {
	p := 0.97
	for fault, by := range map[string]float64{"no fuel pressure": 0.02, "poor compression": 0.12, "bad fuel": 0.1, "cranks too slowly": 0.08,
		"injectors or their leads crossed": 0.08, "wrong firing order set": 0.08, "bent valves": 0.2, "controller without power or immobilised": 0.01} {
		if b.bad[fault] {
			p *= by
		}
	}
	if b.noSpeed() || b.reached < 0.5 {
		p *= 0.04
	} else if b.reached < 0.9 {
		p *= 0.6
	}
	if v := math.Abs(short360(b.valves(), 720)); v > 60 {
		p = 0
	} else if v > 25 {
		p *= 0.6
	}
	return b.r.Float64() < p
}

func (b *bench) serves(state string) bool {
	switch state {
	case "none":
		return false
	case "good":
		return true
	}
	return b.r.IntN(2) == 0
}

func (b *bench) starts(crank, cam bool) bool {
	crank, cam = crank && b.serves(b.crankState), cam && b.serves(b.camState)
	if b.bad[TimingRight] {
		return b.r.Float64() < 0.3
	}
	if !b.sound() {
		return false
	}
	switch apart := math.Abs(short360(b.delta()-b.gamma(), 720)); {
	case crank && cam && apart > 180:
		return false
	case crank && cam:
		return b.sparks(b.delta()) && (apart < 12 || b.r.Float64() < 0.6)
	case crank:
		return b.crankAble && b.sparks(b.delta())
	case cam:
		return b.camAble && b.sparks(b.gamma())
	}
	return false
}
