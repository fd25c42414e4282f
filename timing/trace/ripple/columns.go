package ripple

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// point is where a fit has come to.
type point struct {
	tdc, exponent float64
	heat          float64   // see gas
	leak          []float64 // of each cylinder
	inverse       float64   // 1/J
	travel        float64   // what the speed takes off, over J
	mass          float64   // what goes up and down, over what it was taken for, less 1
	curve         float64   // what the square of the speed's deviation gives, over J: torque-speed curves are bent
	rub           float64   // what friction of the pistons takes off, over J and over their speed's share of the crank pin's
	charge        float64   // what a unit of the starter's current gives, over J
}

// The columns of the fit's Jacobian, before the leaks of the cylinders.
const (
	ofInverse = iota
	ofTravel
	ofTDC
	ofExponent
	ofHeat
	ofMass
	ofCurve
	ofRub
	ofLeak // of the first cylinder; the starter's current follows the last, then the misfits
)

// work is the energy's course by the gas of all cylinders at a point, and how it
// changes with the point's numbers.
type work struct {
	total, later, stiffer, cooler []float64 // with what the pistons take up
	heavier                       []float64
	leaks                         [][]float64
	within                        [][]float64 // the total in each row of a coarse pitch at even steps, less its mean
}

// workAt works the gas out. sound cylinders that leak alike share a table.
func (f *fit) workAt(p point) work {
	const dn, dl, dh, dt = 0.01, 0.02, 0.02, 0.5
	rows, n := len(f.rows), len(f.fires)
	w := work{total: make([]float64, rows), later: make([]float64, rows), stiffer: make([]float64, rows), cooler: make([]float64, rows), within: make([][]float64, rows)}
	// Tables take time: cylinders that leak nearly alike share theirs.
	type set struct {
		leak                      float64
		here, leaking, hard, cold workTable
	}
	var sets []set
	of := func(leak float64) set {
		for _, s := range sets {
			if math.Abs(s.leak-leak) < dl {
				return s
			}
		}
		s := set{leak, f.engine.workOf(gas{p.exponent, leak, p.heat}), f.engine.workOf(gas{p.exponent, leak + dl, p.heat}),
			f.engine.workOf(gas{p.exponent + dn, leak, p.heat}), f.engine.workOf(gas{p.exponent, leak, p.heat + dh})}
		sets = append(sets, s)
		return s
	}
	of(median(p.leak))
	for c := range n {
		s := of(p.leak[c])
		leak := make([]float64, rows)
		for i, r := range f.rows {
			from, to := r.from-p.tdc-f.fires[c], r.to-p.tdc-f.fires[c]
			here := s.here.over(from, to)
			leak[i] = (s.leaking.over(from, to) - here) / dl
			w.total[i] += here + (p.leak[c]-s.leak)*leak[i]
			w.later[i] += (s.here.over(from-dt, to-dt) - here) / dt
			w.stiffer[i] += (s.hard.over(from, to) - here) / dn
			w.cooler[i] += (s.cold.over(from, to) - here) / dh
		}
		w.leaks = append(w.leaks, leak)
	}
	w.heavier = f.pistons(p.tdc)
	moved := f.pistons(p.tdc + dt)
	for i := range w.total {
		w.later[i] += (1 + p.mass) * (moved[i] - w.heavier[i]) / dt
		w.total[i] += (1 + p.mass) * w.heavier[i]
	}
	for i, r := range f.rows {
		if r.to-r.from < finePitch {
			continue
		}
		steps := int(math.Ceil((r.to - r.from) / withinStep))
		v := make([]float64, steps)
		sum := 0.0
		for k := range v {
			x := r.from + (r.to-r.from)*(float64(k)+0.5)/float64(steps) - p.tdc
			for c := range n {
				v[k] += of(p.leak[c]).here.at(x - f.fires[c])
			}
			sum += v[k] / float64(steps)
		}
		for k := range v {
			v[k] -= sum
		}
		w.within[i] = v
	}
	return w
}

// pistons is what the masses that go up and down give back, in joules: they take energy
// up while they move, little at this speed, so an estimate by the bore will do.
func (f *fit) pistons(tdc float64) []float64 {
	c := f.engine.Charge
	kilograms := pistonMass * c.BoreMM * c.BoreMM * c.BoreMM
	out := make([]float64, len(f.rows))
	for i, r := range f.rows {
		energy := -(r.to - r.from) / 2 / f.lever[i] // w^2/2 by the fit
		out[i] = -kilograms * energy * r.mean(func(x float64) float64 {
			sum := 0.0
			for _, at := range f.fires {
				v := c.Motion(timing.Deg(x-tdc-at)).SlopeMM * 1e-3
				sum += v * v
			}
			return sum
		})
	}
	return out
}

// rubbing is what a friction of 1 N m takes off that goes with the speed of each piston
// over that of its crank pin, in joules, from the start of each cycle on.
func (f *fit) rubbing(tdc float64) []float64 {
	c := f.engine.Charge
	out := make([]float64, len(f.rows))
	sum := 0.0
	for i, r := range f.rows {
		if i == f.begin[r.window] {
			sum = 0
		}
		torque := -r.mean(func(x float64) float64 {
			sum := 0.0
			for _, at := range f.fires {
				sum += math.Abs(c.Motion(timing.Deg(x-tdc-at)).SlopeMM) / c.ThrowMM
			}
			return sum
		})
		work := torque * (r.to - r.from) * math.Pi / 180
		out[i] = sum + work/2
		sum += work
	}
	return out
}

// finePitch is up to how many degrees the speed between two teeth is as good as steady.
const finePitch = 7.0

// withinStep is the step in degrees where it is not.
const withinStep = 2.0

// slower is by how much w^2/2 by the time between two teeth is less than its mean over
// the angle: what is slow takes longer. energy is that by the time.
func slower(energy, inverse float64, within []float64) float64 {
	less := 0.0
	if len(within) == 0 {
		return 0
	}
	for range 3 {
		sum := 0.0
		for _, v := range within {
			sum += 1 / math.Sqrt(max(energy+less+inverse*v, energy/20))
		}
		less = max(less+energy-square(float64(len(within))/sum), 0)
	}
	return less
}

// misfits are the courses by which the gas may do otherwise than the model has it: a
// cosine and a sine of each harmonic of a cylinder's cycle, all cylinders alike, and
// how large it may be, in energy over J.
func (f *fit) misfits(p point) (columns [][]float64, size []float64) {
	cycle, n := float64(f.engine.Scheme.Cycle()), len(f.fires)
	table := f.engine.workOf(gas{p.exponent, median(p.leak), p.heat})
	largest := 0.0
	type wave struct{ amplitude, cos, sin float64 }
	harmonics := min(misfitHarmonics*n, len(f.frame.positions)/2*int(cycle/360))
	waves := make([]wave, harmonics+1)
	for m := 1; m <= harmonics; m++ {
		// Of all cylinders together: engines that fire evenly have only every nth.
		c, s := 0.0, 0.0
		for _, at := range f.fires {
			sin, cos := math.Sincos(2 * math.Pi * float64(m) * at / cycle)
			c, s = c+cos, s+sin
		}
		if math.Hypot(c, s) < 1e-3*float64(n) {
			continue
		}
		waves[m] = wave{table.harmonic(m), c, s}
		largest = max(largest, waves[m].amplitude*math.Hypot(c, s))
	}
	for m, v := range waves {
		all := math.Hypot(v.cos, v.sin)
		if all == 0 {
			continue
		}
		lag := math.Atan2(v.sin, v.cos)
		cos, sin := make([]float64, len(f.rows)), make([]float64, len(f.rows))
		for i, r := range f.rows {
			half := math.Pi * float64(m) * (r.to - r.from) / cycle
			sin[i], cos[i] = math.Sincos(2*math.Pi*float64(m)*((r.from+r.to)/2-p.tdc)/cycle - lag)
			sin[i] *= math.Sin(half) / half // the mean over the row
			cos[i] *= math.Sin(half) / half
		}
		columns = append(columns, cos, sin)
		of := p.inverse * math.Hypot(misfitShare*v.amplitude*all, misfitLeast*largest)
		size = append(size, of, of)
	}
	return columns, size
}

// How far the gas of a real engine may lie from the model's, over each harmonic of its
// work, and over the largest. Tried on engines of the first two makers.
const (
	misfitHarmonics = 4
	misfitShare     = 0.015
	misfitLeast     = 0.002
)

// harmonic is the size of one of a cylinder's work, per cycle.
func (w workTable) harmonic(m int) float64 {
	c, s := 0.0, 0.0
	n := len(w.joule) - 1
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(m) * float64(i) / float64(n))
		v := w.joule[i] - w.joule[n]*float64(i)/float64(n)
		c, s = c+v*cos, s+v*sin
	}
	return 2 * math.Hypot(c, s) / float64(n)
}

// newFit prepares a fit.
func newFit(in Input, spans []span, speed float64) *fit {
	e := in.Engine
	f := &fit{in: in, engine: e, rows: in.rows(spans), windows: len(spans), rpm: speed * 30 / math.Pi, play: play{0.06, usualRunout}, doubtful: make([][]int, len(spans))}
	for c := 1; c <= e.Scheme.Cylinders(); c++ {
		f.fires = append(f.fires, float64(e.Scheme.FiresAt(c)))
	}
	f.begin = make([]int, f.windows+1)
	for i := range f.rows {
		f.begin[f.rows[i].window+1] = i + 1
	}
	f.frame = newFrame(in, in.Runs[spans[0].run].Place[spans[0].from], f.begin[1]+1)
	f.slowChange()
	f.y = f.column(func(r row) float64 { return r.y })
	f.travel = f.column(func(r row) float64 { return r.travel })
	if in.Current != nil {
		f.charge = make([]float64, len(f.rows))
		for i, r := range f.rows {
			f.charge[i] = r.charge
		}
	}
	return f
}

// slowChange makes the trends: level, slope and bend of each cycle, orthonormal in it.
func (f *fit) slowChange() {
	for k := range f.trend {
		f.trend[k] = make([]float64, len(f.rows))
		for w := range f.windows {
			a, b := f.begin[w], f.begin[w+1]
			v := f.trend[k][a:b]
			start, end := f.rows[a].from, f.rows[b-1].to
			for i := range v {
				x := (f.rows[a+i].from + f.rows[a+i].to - start - end) / (end - start) // -1 to 1
				v[i] = math.Pow(x, float64(k))
			}
			for lower := range k {
				u := f.trend[lower][a:b]
				along := dot(u, v)
				for i := range v {
					v[i] -= along * u[i]
				}
			}
			if size := math.Sqrt(dot(v, v)); size > 1e-9 {
				for i := range v {
					v[i] /= size
				}
			} else {
				clear(v)
			}
		}
	}
}
