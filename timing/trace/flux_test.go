package trace

import (
	"fmt"
	"math"
	"math/rand/v2"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/trace/simulate"
	"pinphase.org/pinphase/timing/wheel"
)

// flux is a third maker of recordings. It takes the crank's turning for granted (a
// speed that is prescribed) and the sensors not: an inductive sensor sees the flux of
// all teeth, which lie close, so that the wheel's gap and its runout move it as a whole;
// its voltage goes through an amplifier that clips, an alternating coupling or a
// converter that starts again at its other end; a Hall sensor has slow flanks, or its
// levels decay behind a sound card; a comparator with hysteresis may stand between
// either and the recorder. Nothing of it is shared with the other makers.
type flux struct {
	seed         uint64
	positions    int
	missing      []int
	first        float64 // degrees before top dead centre at which tooth 1 passes
	cam          []float64
	camFirst     float64
	delta, gamma float64
	hall, flip   bool
	camHall      bool
	camFlip      bool
	width        float64 // standard width of a tooth's flux, in pitches
	duty         float64 // of a Hall tooth
	camWidth     float64 // crank degrees
	runout       float64 // of the amplitude, once a turn
	place        float64 // teeth out of place by chance, degrees
	rpm          float64
	swing        float64 // of the speed
	firings      float64 // in a turn
	fromRest     bool
	stall        bool // the engine stops for a while and goes on
	seconds      float64
	rate         float64
	noise        float64 // over the tooth's amplitude
	hum          float64 // the same
	offset       float64 // the same
	clipLo       float64 // of the amplitude, 0: none
	clipHi       float64
	wraps        float64 // the converter at this share of the largest voltage; 0: never
	couple       float64 // seconds after which a steady voltage has decayed; 0: none
	slow         float64 // seconds of a low pass
	bits         int
	comparator   bool
	broken       int     // position of a tooth that is broken off; 0: none
	glitch       float64 // each second
}

// turned is the crank's angle at each sample, and its speed in degrees a second.
func (p flux) turned(n int) (theta, speed []float64) {
	r := rand.New(rand.NewPCG(p.seed, 31))
	now := r.Float64() * 720
	theta, speed = make([]float64, n), make([]float64, n)
	phase := r.Float64() * 360
	for i := range theta {
		t := float64(i) / p.rate
		w := p.rpm * 6 * (1 - p.swing*math.Cos((p.firings*now-phase)*math.Pi/180))
		if p.fromRest {
			w *= 1 - math.Exp(-(t+0.02)/0.25)
		}
		if p.stall && t > 0.55*p.seconds && t < 0.65*p.seconds {
			w *= 0
		}
		theta[i], speed[i] = now, w
		now += w / p.rate
	}
	return theta, speed
}

// teeth are where the crank sensor wheel's teeth are, in degrees of its turn.
func (p flux) teeth() []float64 {
	r := rand.New(rand.NewPCG(p.seed, 32))
	gone := map[int]bool{p.broken: true}
	for _, m := range p.missing {
		gone[m] = true
	}
	var list []float64
	for k := range p.positions {
		out := p.place * r.NormFloat64()
		if !gone[k+1] {
			list = append(list, float64(k)*360/float64(p.positions)+out)
		}
	}
	return list
}

// rimVolts is the voltage of teeth whose flux is a bell, as the change of the flux with
// the angle at each of the places of a turn, 50 to a degree; the first stands again at
// its end.
func rimVolts(teeth []float64, turn, width float64) []float64 {
	const each = 50
	n := int(turn) * each
	v := make([]float64, n+1)
	for _, c := range teeth {
		reach := int(6 * width * each)
		for k := int(c*each) - reach; k <= int(c*each)+reach; k++ {
			x := (float64(k)/each - c) / width
			v[((k%n)+n)%n] -= x * math.Exp(-x*x/2)
		}
	}
	v[n] = v[0]
	return v
}

// at is the voltage at an angle of the turn.
func at(v []float64, turn, angle float64) float64 {
	x := math.Mod(angle+10*turn, turn) / turn * float64(len(v)-1)
	k := min(int(x), len(v)-2)
	return v[k] + (x-float64(k))*(v[k+1]-v[k])
}

// play makes the recording, of the crank alone without a cam wheel, and the job.
func (p flux) play() (simulate.Signals, Known) {
	n := int(p.seconds * p.rate)
	theta, speed := p.turned(n)
	teeth := p.teeth()
	pitch := 360 / float64(p.positions)
	s := simulate.Signals{Rate: p.rate, Crank: make([]float64, n)}
	if len(p.cam) > 0 {
		s.Cam = make([]float64, n)
	}
	mean := p.rpm * 6
	crank, cam := rimVolts(teeth, 360, p.width*pitch), rimVolts(p.camTeeth(), 720, p.camWidth/2)
	amplitude := 0.0 // of a tooth in the middle of the wheel
	for x := 0.0; x < pitch; x += pitch / 40 {
		amplitude = math.Max(amplitude, at(crank, 360, pitch*math.Floor(float64(p.positions)/3)+x))
	}
	for i := range n {
		turned := math.Mod(theta[i]+p.first+p.delta+7200, 360)
		if p.hall {
			for _, c := range teeth {
				if d := math.Mod(turned-c+720, 360); d < p.duty*pitch {
					s.Crank[i] = 2
				}
			}
			s.Crank[i]--
		} else {
			near := 1 + p.runout*math.Cos(turned*math.Pi/180)
			s.Crank[i] = at(crank, 360, turned) / amplitude * near * speed[i] / mean
		}
		if s.Cam != nil {
			s.Cam[i] = p.camAt(cam, theta[i], speed[i]/mean)
		}
	}
	p.record(s.Crank, p.flip, 33)
	if s.Cam != nil {
		p.record(s.Cam, p.camFlip, 34)
	}
	return s, p.known()
}

// camTeeth are where the cam's teeth are, in crank degrees.
func (p flux) camTeeth() []float64 {
	var teeth []float64
	for _, a := range p.cam {
		teeth = append(teeth, 2*a)
	}
	return teeth
}

// camAt is the cam sensor's signal.
func (p flux) camAt(volts []float64, theta, speed float64) float64 {
	turned := theta + p.camFirst + p.gamma
	if !p.camHall {
		return at(volts, 720, turned) * speed * 1.6
	}
	for _, c := range p.camTeeth() {
		if d := math.Mod(turned-c+7200, 720); d < p.camWidth {
			return 1
		}
	}
	return -1
}

// record takes a signal through what stands between sensor and file.
func (p flux) record(v []float64, flip bool, stream uint64) {
	r := rand.New(rand.NewPCG(p.seed, stream))
	low, high, last, state := 0.0, 0.0, 0.0, 1.0
	phase, peak := r.Float64(), 0.0
	for _, x := range v {
		peak = max(peak, math.Abs(x))
	}
	for i, x := range v {
		if flip {
			x = -x
		}
		x += p.hum * math.Sin(2*math.Pi*(50*float64(i)/p.rate+phase))
		if p.slow > 0 {
			if i == 0 {
				low = x
			}
			low += (x - low) * min(1/(p.rate*p.slow), 1)
			x = low
		}
		if p.couple > 0 {
			if i > 0 {
				high = (high + x - last) * math.Exp(-1/(p.rate*p.couple))
			}
			last = x
			x = high
		}
		x += p.offset + p.noise*r.NormFloat64()
		if p.glitch > 0 && r.Float64() < p.glitch/p.rate {
			x += 3 * (r.Float64() - 0.5)
		}
		if p.comparator {
			if x > p.offset+0.15 {
				state = 1
			} else if x < p.offset-0.15 {
				state = -1
			}
			x = 2 * state
		}
		range8 := 12.0
		if p.wraps > 0 {
			range8 = 2 * p.wraps * peak
			x = math.Mod(x+range8/2+8*range8, range8) - range8/2
		} else {
			if p.clipLo > 0 {
				x = max(x, -p.clipLo)
			}
			if p.clipHi > 0 {
				x = min(x, p.clipHi)
			}
		}
		if p.bits > 0 {
			step := range8 / math.Exp2(float64(p.bits))
			x = math.Round(x/step) * step
		}
		v[i] = x
	}
}

func (p flux) known() Known {
	scheme, err := timing.NewScheme(4, engineOrder[4], nil)
	if err != nil {
		panic(err)
	}
	k := Known{Cycle: 720, Scheme: scheme, Crank: wheel.Crank{Positions: p.positions, Missing: p.missing, FirstToothBTDC: timing.Deg(p.first)}}
	if p.hall {
		k.CrankSensor = wheel.Hall
	}
	if len(p.cam) > 0 {
		k.Cam = &wheel.Cam{FirstToothBTDC: timing.Deg(p.camFirst), Cycle: 720}
		for _, a := range p.cam {
			k.Cam.Teeth = append(k.Cam.Teeth, timing.CamDeg(a))
		}
		if p.camHall {
			k.CamSensor = wheel.Hall
		}
	}
	return k
}

func (p flux) String() string {
	type plain flux
	return fmt.Sprintf("%+v", plain(p))
}

// anyFlux draws a recording.
func anyFlux(seed uint64) flux {
	r := rand.New(rand.NewPCG(seed, 30))
	pick := func(list ...float64) float64 { return list[r.IntN(len(list))] }
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	even := func() bool { return r.IntN(2) == 0 }
	p := flux{
		seed: seed, first: math.Round(between(0, 360)), camFirst: math.Round(between(0, 720)), delta: math.Round(between(-30, 30)), gamma: pick(0, 0, 0, 10, -10),
		hall: even(), flip: even(), camHall: even(), camFlip: even(), width: between(0.22, 0.42), duty: between(0.3, 0.6), camWidth: between(8, 24),
		runout: between(0, 0.4), place: pick(0, 0.03, 0.08), rpm: between(90, 300), swing: between(0, 0.2), firings: pick(1, 1.5, 2, 3, 4), fromRest: even(),
		stall: r.IntN(8) == 0, seconds: between(3, 6), rate: pick(10000, 20000, 44100, 100000), noise: pick(0, 0.01, 0.03, 0.08), hum: pick(0, 0, 0.1, 0.2),
		offset: pick(0, 0, 0.5, -2), bits: int(pick(0, 8, 10, 12)),
	}
	wheels := []struct {
		positions int
		missing   []int
		cam       []float64
	}{
		{60, []int{59, 60}, []float64{0, 120, 240, 270}}, {36, []int{36}, []float64{0, 90, 180, 300}}, {36, []int{35, 36}, []float64{0, 120, 250}},
		{120, []int{119, 120}, []float64{0}}, {24, []int{24}, []float64{0, 90, 180, 270, 285}}, {36, []int{18, 24, 35, 36}, []float64{0, 200}}, {30, []int{29, 30}, []float64{0, 150}},
	}
	w := wheels[r.IntN(len(wheels))]
	p.positions, p.missing, p.cam = w.positions, w.missing, w.cam
	if p.hall {
		p.hum /= 4
	}
	switch r.IntN(6) {
	case 0:
		p.clipLo = between(0.6, 2)
	case 1:
		p.clipHi = between(0.6, 2)
	case 2:
		p.clipLo, p.clipHi = between(0.5, 1), between(0.5, 1)
	case 3:
		p.couple = between(0.05, 0.3)
	case 4:
		p.comparator = true
		p.hum, p.noise = min(p.hum, 0.1), min(p.noise, 0.03) // more, and it switches with them
	}
	if p.clipLo+p.clipHi > 0 {
		p.offset = 0
	}
	if r.IntN(4) == 0 {
		p.slow = pitchSeconds(p) / 40
	}
	return p
}

// pitchSeconds is how long a position takes.
func pitchSeconds(p flux) float64 { return 10 / p.rpm * 6 / float64(p.positions) }
