package trace

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/piston"
	"pinphase.org/pinphase/timing/trace/simulate"
	"pinphase.org/pinphase/timing/wheel"
)

var crudes = flag.Int("crude", 24, "how many recordings of the crude maker to try")

// crude is a second, cruder maker of recordings: the crank's speed is prescribed or
// follows from a torque law of few terms, slowest lag degrees after each top dead
// centre or as the law has it, and the sensors' voltages are simple curves of the
// angle.
type crude struct {
	law          law
	cylinders    int
	rpm, ripple  float64
	lag          float64 // degrees after top dead centre at which it is slowest, or by which the law is late
	brake        float64 // of the starter, over the flywheel's energy, a radian
	drift        float64 // share of the speed gained over the recording
	seconds      float64
	rate         float64
	noise        float64 // standard deviation over the signal's amplitude
	hall         bool    // crank sensor
	camHall      bool
	flip         bool
	shape        int // of an inductive tooth: 0 derivative of a bell, 1 a sine in each tooth's place, 2 narrow bell
	wheels       simulate.Wheels
	delta, gamma float64
	start        float64
	camWidth     float64 // crank degrees
	bits         int
	seed         uint64
}

func (p crude) scheme() timing.Scheme {
	e, err := timing.NewScheme(4, engineOrder[p.cylinders], nil)
	if err != nil {
		panic(err)
	}
	return e
}

func (p crude) play() (simulate.Signals, Known) {
	speedOf := p.speeds()
	random := rand.New(rand.NewPCG(p.seed, 77))
	n := int(p.seconds * p.rate)
	s := simulate.Signals{Rate: p.rate, Crank: make([]float64, n), Cam: make([]float64, n)}
	theta := p.start
	sign := 1.0
	if p.flip {
		sign = -1
	}
	camWidth := p.camWidth
	if camWidth == 0 {
		camWidth = 12
	}
	bell := func(d, width float64) float64 { x := d / width; return -x * math.Exp(0.5-x*x/2) }
	pitch := 360 / float64(p.wheels.Positions)
	gone := map[int]bool{}
	for _, m := range p.wheels.Missing {
		gone[m-1] = true
	}
	quantum := func(v float64) float64 {
		if p.bits == 0 {
			return v
		}
		step := 10 / math.Exp2(float64(p.bits))
		return math.Round(v/step) * step
	}
	for i := range n {
		speed := p.rpm * 6 * (1 + p.drift*float64(i)/float64(n)) * speedOf(theta)
		turned := math.Mod(theta+p.wheels.CrankFirst+p.delta+7200, 360)
		k := int(math.Floor(turned/pitch + 0.5))
		d := turned - float64(k)*pitch
		k %= p.wheels.Positions
		v := 0.0
		switch {
		case p.hall:
			k := int(math.Floor(turned / pitch))
			if !gone[k%p.wheels.Positions] && turned-float64(k)*pitch < pitch/2 {
				v = 5
			}
			if p.flip {
				v = 5 - v
			}
		case p.shape == 1:
			if !gone[k] {
				v = -sign * math.Sin(2*math.Pi*d/pitch) * speed / 1200
			}
		default:
			width := pitch / 5
			if p.shape == 2 {
				width = pitch / 10
			}
			for o := -1; o <= 1; o++ {
				if !gone[(k+o+p.wheels.Positions)%p.wheels.Positions] {
					v += sign * bell(d-float64(o)*pitch, width) * speed / 1200
				}
			}
		}
		amplitude := 1.0
		if p.hall {
			amplitude = 5
		}
		s.Crank[i] = quantum(v + p.noise*amplitude*random.NormFloat64())
		cam := 0.0
		for _, a := range p.wheels.Cam {
			d := math.Mod(theta+p.wheels.CamFirst-2*a+p.gamma+7200, 720)
			if p.camHall {
				if d < camWidth {
					cam = 5
				}
			} else {
				if d > 360 {
					d -= 720
				}
				cam += sign * bell(d, camWidth/4)
			}
		}
		if p.camHall {
			if p.flip {
				cam = 5 - cam
			}
			s.Cam[i] = quantum(cam + 5*p.noise*random.NormFloat64())
		} else {
			s.Cam[i] = quantum(cam + p.noise*random.NormFloat64())
		}
		theta += speed / p.rate
	}
	return s, p.known()
}

// known is what the job says of its engine.
func (p crude) known() Known {
	scheme := p.scheme()
	k := Known{
		Cycle: 720, Scheme: scheme,
		Crank: wheel.Crank{Positions: p.wheels.Positions, Missing: p.wheels.Missing, FirstToothBTDC: timing.Deg(p.wheels.CrankFirst)},
		Cam:   &wheel.Cam{FirstToothBTDC: timing.Deg(p.wheels.CamFirst), Cycle: 720},
		Engine: &Engine{Scheme: scheme, Charge: piston.Charge{
			Cylinder: piston.Cylinder{SliderCrank: piston.SliderCrank{ThrowMM: 59, RodMM: 192}, BoreMM: 102, Ratio: 17.5},
			Closes:   -142, Opens: 136, AtClosing: piston.Gas{K: 298, Bar: 1.013}, Exponent: piston.DefaultExponent,
		}},
	}
	for _, a := range p.wheels.Cam {
		k.Cam.Teeth = append(k.Cam.Teeth, timing.CamDeg(a))
	}
	if p.hall {
		k.CrankSensor = wheel.Hall
	}
	if p.camHall {
		k.CamSensor = wheel.Hall
	}
	return k
}

// anyCrude draws a recording of the crude maker.
func anyCrude(seed uint64) crude {
	r := rand.New(rand.NewPCG(seed, 5))
	pick := func(list ...float64) float64 { return list[r.IntN(len(list))] }
	p := crude{cylinders: int(pick(3, 4, 5, 6, 8)), rpm: pick(150, 200, 250, 700), ripple: pick(0, 0.03, 0.08, 0.12), lag: pick(0, 0, -4),
		seconds: pick(1.5, 3, 5), rate: pick(10000, 20000, 50000), noise: pick(0.01, 0.03, 0.1, 0.2), hall: r.IntN(2) == 0, camHall: r.IntN(2) == 0,
		flip: r.IntN(2) == 0, shape: r.IntN(3), delta: pick(0, -25, 25, 40, -40, 10), gamma: pick(0, 0, 10, -10, 12), start: pick(0, 100, 500, -30), seed: seed,
		drift: pick(0, 0, 0.1), bits: int(pick(0, 8, 10, 12))}
	p.wheels = []func() simulate.Wheels{wheel60, wheel36, wheelUneven}[r.IntN(3)]()
	if r.IntN(3) == 0 {
		p.wheels.Cam = [][]float64{{0}, {0, 90, 180, 270, 285}, {0, 60, 120, 180, 240, 300, 330}, {0, 120, 150, 240}}[r.IntN(4)]
	}
	return p
}

// anyCruder draws a recording of the crude maker as an engine is cranked, by every
// law: a sine slowest up to 5 degrees either side of top dead centre, speeds of
// nearly compression's shape up to 1 degree (further off the shape itself misleads,
// and nothing in the speed tells).
func anyCruder(seed uint64) crude {
	r := rand.New(rand.NewPCG(seed, 8))
	pick := func(list ...float64) float64 { return list[r.IntN(len(list))] }
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	p := crude{law: law(r.IntN(int(laws))), cylinders: int(pick(3, 4, 5, 6, 8)), rpm: between(100, 300), ripple: between(0.02, 0.15), brake: between(0, 0.5),
		seconds: pick(3, 5), rate: pick(10000, 25000, 50000, 200000), noise: pick(0.003, 0.01, 0.03, 0.1), hall: r.IntN(2) == 0, camHall: r.IntN(2) == 0,
		flip: r.IntN(2) == 0, shape: r.IntN(2), delta: math.Round(between(-40, 40)), gamma: pick(0, 0, 10, -10, 360), start: between(0, 720), bits: int(pick(0, 8, 10, 12)), seed: seed}
	switch p.law {
	case sine:
		p.lag = between(-5, 5)
	case dip, shaped:
		p.lag = between(-1, 1)
	}
	p.wheels = []func() simulate.Wheels{wheel60, wheel36, wheelUneven}[r.IntN(3)]()
	return p
}

func (p crude) String() string {
	return fmt.Sprintf("seed %d: %v, %d cylinders, %g rpm, ripple %g, lag %g, %g s at %g Hz, noise %g, hall %v, cam hall %v, flipped %v, shape %d, %d positions, cam %v, delta %g, gamma %g",
		p.seed, p.law, p.cylinders, p.rpm, p.ripple, p.lag, p.seconds, p.rate, p.noise, p.hall, p.camHall, p.flip, p.shape, p.wheels.Positions, p.wheels.Cam, p.delta, p.gamma)
}

// Recordings of the crude maker give their correlation back, whatever the sensors,
// up to noise of a fifth of the signal; where it is too much they give none. A speed
// that ripples as a plain sine is not what compression makes: top dead centre comes
// back with an uncertainty that holds it, or not at all.
func TestCrudeRecordings(t *testing.T) {
	n, silent, right, told, held := 0, 0, 0, 0, 0
	for seed := range uint64(*crudes) {
		p := anyCrude(seed)
		s, k := p.play()
		a, err := collect(s).Analyse(k)
		n++
		if err != nil || a.Correlation == nil {
			silent++
			if p.noise < 0.1 {
				t.Errorf("no correlation: %v; %v", err, p)
			}
			continue
		}
		off := math.Abs(signed(float64(a.Correlation.Value)-(p.delta-p.gamma), 360))
		if off <= 1.96*float64(a.Correlation.U) {
			right++
		}
		if off > 1 || off > 0.3 && p.noise < 0.1 || off > 3*float64(a.Correlation.U) {
			t.Errorf("correlation off by %.2f ± %.2f; %v", off, a.Correlation.U, p)
		}
		if a.TDC == nil {
			continue
		}
		if p.ripple == 0 || p.rpm > 450 {
			t.Errorf("top dead centre from a speed without ripple, or of a running engine; %v", p)
		}
		told++
		off = math.Abs(signed(float64(a.TDC.Value)-p.delta, float64(a.Modulo)))
		if off <= 1.96*float64(a.TDC.U) {
			held++
		}
		if off > 3*float64(a.TDC.U) || off > 10 {
			t.Errorf("TDC off by %.2f ± %.2f, explained %.2f; %v", off, a.TDC.U, a.Ripple.Explained, p)
		}
	}
	t.Logf("%d recordings: no correlation from %d, of the rest %d within 1.96 u; top dead centre from %d, %d within 1.96 u", n, silent, right, told, held)
	if 100*silent > 5*n || 100*right < 90*(n-silent) || 100*held < 90*told || told < n/10 {
		t.Errorf("of %d recordings %d gave no correlation, %d a right one; %d of %d top dead centres lie within 1.96 u", n, silent, right, held, told)
	}
}

// Of cranked crude recordings top dead centre lies within what is stated, and what is
// stated is of use; a plain sine is called strange.
func TestCrudeTDC(t *testing.T) {
	var told, held, named [laws]int
	for seed := range uint64(*crudes / 2) {
		p := anyCruder(seed)
		s, k := p.play()
		a, err := collect(s).Analyse(k)
		if err != nil || a.TDC == nil {
			t.Errorf("no top dead centre: %v, %+v; %v", err, a, p)
			continue
		}
		told[p.law]++
		off := math.Abs(signed(float64(a.TDC.Value)-p.delta, float64(a.Modulo)))
		if off <= 1.96*float64(a.TDC.U) {
			held[p.law]++
		}
		if off > 2.5*float64(a.TDC.U) || a.TDC.U >= 5 {
			t.Errorf("TDC off by %.2f ± %.2f, strange %.2f; %v", off, a.TDC.U, a.Ripple.Strange, p)
		}
		strange := kinds(a)[StrangeRipple] > 0
		if strange {
			named[p.law]++
		}
		if physical := p.law >= flywheel; physical && strange || p.law == sine && !strange {
			t.Errorf("called strange: %v, %.2f; %v", strange, a.Ripple.Strange, p)
		}
	}
	all, in := 0, 0
	for l := range laws {
		t.Logf("%v: top dead centre from %d, %d within 1.96 u, %d called strange", l, told[l], held[l], named[l])
		all, in = all+told[l], in+held[l]
	}
	if 100*in < 95*all {
		t.Errorf("%d of %d top dead centres lie within 1.96 u", in, all)
	}
}
