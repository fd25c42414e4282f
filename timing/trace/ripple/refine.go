package ripple

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/piston"
)

// Limits and priors of the fit.
const (
	isentropicU = 0.03   // of the exponent without loss: the air's temperature and water are not known
	exponentU   = 0.05   // of the exponent a cranked compression shows, as [piston.DefaultExponentU]
	leakRPM     = 200.0  // at which that is so. Our assumption: an engine as its starter turns it
	leakSlowest = 160.0  // rpm: slower than that turn large engines, with less gap to their volume. Our assumption
	leakShare   = 2. / 3 // of what is lost, in the pressure's logarithm, that goes as a leak. Our assumption
	leakSpread  = 0.03   // of the leaks of sound cylinders about their mean. Our assumption
	tdcFloorU   = 1.0    // degrees: what the model leaves out and how exactly wheels are made. Tried on simulated engines
	weakU       = 2.0    // degrees, by the share of pressure the weakest cylinder lacks: how it loses it is not known. Tried on simulated engines
	trends      = 3      // terms of a cycle's own slow change: level, slope, bend
	mostCycles  = 60     // that are fitted, spread over the recording
	crankTorque = 30.0   // N m a litre that a starter overcomes, friction and what the gas loses. Common practice, no source
	brakes      = 2.5    // of that torque, over the relative speed: by 2 falls the starter's at 2/3 of its free speed, by 1/2 grows the friction. Our assumption
	frictions   = 0.2    // share of the friction in that
	brakeU      = 0.7    // of their product, relative,
	brakeFloorU = 0.15   // and of the damping (see [Ripple]), absolute: an estimate by the displacement knows no flywheel
	pistonMass  = 1.8e-6 // kg over the bore cubed in mm: piston, pin and the rod's small end. Common practice, no source
)

// prior is what is taken of the gas before the fit. A cranked compression shows a
// lower exponent than air without loss has, 1.30 ± 0.05 (Heywood 1988; from
// memory), because heat and gas leave. They go on leaving while the piston comes
// down, which is what moves the ripple against top dead centre; so the air's own
// exponent is used, and the difference is shared between leak and heat: what walls take
// while the charge is dense goes as a leak does.
type prior struct{ exponent, exponentU, leak, leakU, heat, heatU float64 }

func (e Engine) prior(rpm float64) prior {
	ratio := max(e.Charge.ClosedRatio(), 2)
	n := piston.DryAir.Exponent(e.Charge.AtClosing.K, ratio)
	shown := min(e.Charge.Exponent, n)
	slow := math.Log(ratio) * leakRPM / max(rpm, leakSlowest) // they have as much time as the speed leaves them
	lost, lostU := (n-shown)*slow, exponentU*slow
	leakU, heatU := lostU*math.Sqrt(leakShare), lostU*math.Sqrt(1-leakShare) // independent
	return prior{n, isentropicU, lost * leakShare / n, leakU / n, lost * (1 - leakShare), heatU}
}

// gas is the most probable one before the fit.
func (p prior) gas() gas { return gas{p.exponent, p.leak, p.heat} }

// tight is the same gas without any loss.
func (p prior) tight() gas {
	return gas{exponent: p.exponent}
}

// fit is one on the way.
type fit struct {
	engine  Engine
	rows    []row
	windows int
	rpm     float64
	fires   []float64 // in order of angle
	y       []float64 // projected
	travel  []float64
	charge  []float64         // nil without a current
	mass    []float64         // what 1 kg at each wrist pin takes up, over J
	begin   []int             // of each window in rows
	trend   [trends][]float64 // of each row: what a window's own slow change is made of, orthonormal in the window
}

func newFit(e Engine, list []row, windows int, rpm float64, current bool) *fit {
	f := &fit{engine: e, rows: list, windows: windows, rpm: rpm}
	for c := 1; c <= e.Scheme.Cylinders(); c++ {
		f.fires = append(f.fires, float64(e.Scheme.FiresAt(c)))
	}
	f.begin = make([]int, windows+1)
	for i := range list {
		f.begin[list[i].window+1] = i + 1
	}
	for k := range f.trend {
		f.trend[k] = make([]float64, len(list))
		for w := range windows {
			a, b := f.begin[w], f.begin[w+1]
			if a == b {
				continue
			}
			v := f.trend[k][a:b]
			start, end := list[a].from, list[b-1].to
			for i := range v {
				x := (list[a+i].from + list[a+i].to - start - end) / (end - start) // -1 to 1
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
	f.y = f.column(func(r row) float64 { return r.y })
	f.travel = f.column(func(r row) float64 { return r.travel })
	link := e.Charge.SliderCrank
	f.mass = f.column(func(r row) float64 {
		sum := 0.0
		for _, at := range f.fires {
			v := link.Motion(timing.Deg((r.from+r.to)/2-at)).SlopeMM * 1e-3
			sum += v * v
		}
		return r.y * sum
	})
	if current {
		f.charge = f.column(func(r row) float64 { return r.charge })
	}
	return f
}

// column evaluates over all rows and takes each window's own slow change off.
func (f *fit) column(of func(row) float64) []float64 {
	v := make([]float64, len(f.rows))
	for i, r := range f.rows {
		v[i] = of(r)
	}
	for w := range f.windows {
		a, b := f.begin[w], f.begin[w+1]
		for k := range f.trend {
			u := f.trend[k][a:b]
			along := dot(u, v[a:b])
			for i := range u {
				v[a+i] -= along * u[i]
			}
		}
	}
	return v
}

// gas is the column of one cylinder's work, or of all (-1), with top dead centre at
// tdc in the controller's angle.
func (f *fit) gas(w workTable, cylinder int, tdc float64) []float64 {
	return f.column(func(r row) float64 {
		if cylinder >= 0 {
			return w.over(r.from-tdc-f.fires[cylinder], r.to-tdc-f.fires[cylinder])
		}
		sum := 0.0
		for _, at := range f.fires {
			sum += w.over(r.from-tdc-at, r.to-tdc-at)
		}
		return sum
	})
}

// misfit is the sum of squares left when all cylinders are alike, by least squares
// with the speed's own column beside it. A negative inertia explains nothing.
func (f *fit) misfit(w workTable, tdc float64) float64 {
	g := f.gas(w, -1, tdc)
	gg, gt, tt := dot(g, g), dot(g, f.travel), dot(f.travel, f.travel)
	gy, ty, yy := dot(g, f.y), dot(f.travel, f.y), dot(f.y, f.y)
	det := gg*tt - gt*gt
	if !(det > 1e-12*gg*tt) {
		return yy
	}
	a, b := (gy*tt-ty*gt)/det, (ty*gg-gy*gt)/det
	if a <= 0 {
		return yy
	}
	return yy - a*gy - b*ty
}

// solution is a point the fit has come to.
type solution struct {
	tdc, exponent float64
	heat          float64   // see gas
	leak          []float64 // of each cylinder
	inverse       float64   // 1/J
	damping       float64   // see the constant
	rest          []float64
	sigma2        float64 // effective variance of one row
	noise2        float64 // of that, what is noise from row to row
	bound, alone  float64 // degrees: see boundOf
	cov           *mat.SymDense
	ok            bool
}

// The columns of the fit's Jacobian, before the leaks of the cylinders.
const (
	ofInverse = iota
	ofTravel
	ofTDC
	ofExponent
	ofHeat
	ofLeak // of the first cylinder; the starter's current follows the last
)

// refine goes from a first guess to the most probable values, by Gauss and Newton
// with the priors (a maximum a posteriori estimate). All cylinders are alike but
// for their leaks: a weak one is one that leaks, and a leak also moves its share of
// the ripple. The rows' effective variance comes from what is left over: see
// [fit.spread].
func (f *fit) refine(tdc float64) solution {
	before := f.engine.prior(f.rpm)
	n := len(f.fires)
	s := solution{tdc: tdc, exponent: before.exponent, heat: before.heat, leak: make([]float64, n), sigma2: math.NaN()}
	for c := range s.leak {
		s.leak[c] = before.leak
	}
	// Masses that go up and down take up energy too, little at this speed: an
	// estimate by the bore will do.
	bore := f.engine.Charge.BoreMM
	kilograms := pistonMass * bore * bore * bore
	y, travel := f.y, f.travel
	level := 0.0
	for _, r := range f.rows {
		level += math.Sqrt(2*r.y) / float64(len(f.rows))
	}
	litres := math.Pi / 4 * bore * bore * 2 * f.engine.Charge.ThrowMM * float64(n) * 1e-6
	var factors []float64 // of the linear columns
	for pass := range 12 {
		const dn, dl, dh, dt = 0.01, 0.02, 0.02, 0.5
		work, later, stiffer, cooler := make([]float64, len(f.rows)), make([]float64, len(f.rows)), make([]float64, len(f.rows)), make([]float64, len(f.rows))
		leaks := make([][]float64, n)
		for c := range n {
			at := gas{s.exponent, s.leak[c], s.heat}
			w := f.engine.workOf(at)
			here := f.gas(w, c, s.tdc)
			leaks[c] = f.gas(f.engine.workOf(gas{at.exponent, at.leak + dl, at.heat}), c, s.tdc)
			moved := f.gas(w, c, s.tdc+dt)
			harder := f.gas(f.engine.workOf(gas{at.exponent + dn, at.leak, at.heat}), c, s.tdc)
			colder := f.gas(f.engine.workOf(gas{at.exponent, at.leak, at.heat + dh}), c, s.tdc)
			for i := range work {
				work[i] += here[i]
				later[i] += (moved[i] - here[i]) / dt
				stiffer[i] += (harder[i] - here[i]) / dn
				cooler[i] += (colder[i] - here[i]) / dh
				leaks[c][i] = (leaks[c][i] - here[i]) / dl
			}
		}
		linear := [][]float64{work, travel}
		if f.charge != nil {
			linear = append(linear, f.charge)
		}
		if factors == nil {
			var ok bool
			if factors, ok = leastSquares(linear, y); !ok || !(factors[0] > 0) {
				return solution{}
			}
		}
		rest := make([]float64, len(f.rows))
		for i := range rest {
			rest[i] = y[i]
			for k, v := range linear {
				rest[i] -= factors[k] * v[i]
			}
		}
		s.rest = rest
		columns := [][]float64{work, travel, times(later, factors[0]), times(stiffer, factors[0]), times(cooler, factors[0])}
		for _, v := range leaks {
			columns = append(columns, times(v, factors[0]))
		}
		if f.charge != nil {
			columns = append(columns, f.charge)
		}
		s.sigma2, s.noise2 = f.spread(rest, len(columns))
		if !(s.sigma2 > 0) {
			return solution{}
		}
		normal, right := normalEquations(columns, rest, s.sigma2)
		normal.SetSym(ofExponent, ofExponent, normal.At(ofExponent, ofExponent)+1/square(before.exponentU))
		right.SetVec(ofExponent, right.AtVec(ofExponent)+(before.exponent-s.exponent)/square(before.exponentU))
		brake := -crankTorque * brakes * litres / level * factors[0]
		if f.charge != nil {
			brake *= frictions // the current shows what the starter does
		}
		brakeU := math.Hypot(brakeU*brake, brakeFloorU*level)
		normal.SetSym(ofTravel, ofTravel, normal.At(ofTravel, ofTravel)+1/square(brakeU))
		right.SetVec(ofTravel, right.AtVec(ofTravel)+(brake-factors[1])/square(brakeU))
		normal.SetSym(ofHeat, ofHeat, normal.At(ofHeat, ofHeat)+1/square(before.heatU))
		right.SetVec(ofHeat, right.AtVec(ofHeat)+(before.heat-s.heat)/square(before.heatU))
		addLeakPrior(normal, right, s.leak, before)
		step, cov, ok := solveScaled(normal, right)
		if !ok {
			return solution{}
		}
		s.bound, s.alone = boundOf(normal, columns, s.sigma2, s.noise2)
		factors[0] = max(factors[0]+step.AtVec(ofInverse), factors[0]/3)
		factors[1] += step.AtVec(ofTravel)
		if f.charge != nil {
			factors[2] += step.AtVec(ofLeak + n)
		}
		s.inverse, s.damping = factors[0], -factors[1]/level
		s.cov = cov
		move := min(max(step.AtVec(ofTDC), -8), 8)
		s.tdc += move
		s.exponent = min(max(s.exponent+min(max(step.AtVec(ofExponent), -0.05), 0.05), 1.05), 1.45)
		s.heat = min(max(s.heat+min(max(step.AtVec(ofHeat), -0.15), 0.15), 0), 1)
		for c := range n {
			s.leak[c] = min(max(s.leak[c]+min(max(step.AtVec(ofLeak+c), -0.15), 0.15), 0), 3)
		}
		travel = f.steadyTravel(rest)
		y = make([]float64, len(f.y))
		for i := range y {
			y[i] = f.y[i] + s.inverse*kilograms*f.mass[i]
		}
		s.ok = true
		if math.Abs(move) < 0.01 && pass > 3 {
			break
		}
	}
	return s
}

// boundOf is the standard uncertainty of top dead centre were the model right, and
// only noise of the teeth in the way and what is not known of leak, loss of heat and
// the starter's torque: the posterior's width, with the noise's variance in place of
// the effective one. The information of the prior added to Fisher's is what bounds a
// mean square error (Van Trees, Detection, Estimation, and Modulation Theory, 1968,
// sec. 2.4; from memory). alone is Cramer and Rao's bound were all of that known and
// only the noise left.
func boundOf(normal *mat.SymDense, columns [][]float64, sigma2, noise2 float64) (bound, alone float64) {
	data, right := normalEquations(columns, columns[0], 1)
	noise2 = max(noise2, 1e-6*sigma2)
	alone = math.Sqrt(noise2 / data.At(ofTDC, ofTDC))
	for a := range columns {
		for b := a; b < len(columns); b++ {
			data.SetSym(a, b, normal.At(a, b)+data.At(a, b)*(1/noise2-1/sigma2))
		}
	}
	_, cov, ok := solveScaled(data, right)
	if !ok {
		return math.NaN(), alone
	}
	return math.Sqrt(cov.At(ofTDC, ofTDC)), alone
}

// addLeakPrior adds what is taken of the leaks: their common mean is that of the
// prior; sound cylinders lie close about it, and a weak one may lie anywhere. The
// last two make the weights fall with the way from the mean, as with Cauchy's
// distribution.
func addLeakPrior(normal *mat.SymDense, right *mat.VecDense, leak []float64, before prior) {
	middle := median(leak)
	w := make([]float64, len(leak))
	sum := 0.0
	for c, l := range leak {
		w[c] = 1 / (square(leakSpread) + square(l-middle))
		sum += w[c]
	}
	mean := 0.0
	for c, l := range leak {
		mean += w[c] * l / sum
	}
	for a := range leak {
		for b := a; b < len(leak); b++ {
			v := w[a] * w[b] / sum * (1/(sum*square(before.leakU)) - 1)
			if a == b {
				v += w[a]
			}
			normal.SetSym(ofLeak+a, ofLeak+b, normal.At(ofLeak+a, ofLeak+b)+v)
		}
		pull := w[a]*(mean-leak[a]) + w[a]/sum*(before.leak-mean)/square(before.leakU)
		right.SetVec(ofLeak+a, right.AtVec(ofLeak+a)+pull)
	}
}

// steadyTravel is the column of the speed's integral, the speed being the fit's and
// not the measured one. A chance torque drives the measured speed up and the
// energy with it; beside that column it would pass for less braking by the speed,
// and top dead centre would seem degrees early (a regressor that depends on the
// error). rest is what the fit leaves.
func (f *fit) steadyTravel(rest []float64) []float64 {
	level := 0.0
	for _, r := range f.rows {
		level += r.y / float64(len(f.rows))
	}
	travel := make([]float64, len(f.rows))
	last := 0.0
	for i, r := range f.rows {
		speed := math.Sqrt(2 * max(r.y-rest[i], 0.02*level))
		if i > 0 && f.rows[i-1].window == r.window {
			before := f.rows[i-1]
			travel[i] = travel[i-1] + (last+speed)/2*((r.from+r.to)-(before.from+before.to))/2*math.Pi/180
		}
		last = speed
	}
	at := 0
	return f.column(func(row) float64 { at++; return travel[at-1] })
}

// spread is the effective variance of a row: that of noise, times the number of
// rows over which it hangs together, and that of what the model gets wrong, which
// comes again with every firing and no number of cycles averages out.
func (f *fit) spread(rest []float64, parameters int) (sigma2, noise2 float64) {
	interval := float64(f.engine.Scheme.Cycle()) / float64(len(f.fires))
	const bins = 24
	var sum [bins]float64
	var count [bins]float64
	bin := func(r row) int {
		own := float64(timing.Wrap(timing.Deg((r.from+r.to)/2), timing.Deg(interval)))
		return min(int(own/interval*bins), bins-1)
	}
	for i, r := range f.rows {
		b := bin(r)
		sum[b] += rest[i]
		count[b]++
	}
	system2, noise, used := 0.0, 0.0, 0.0
	for b := range sum {
		if count[b] > 0 {
			sum[b] /= count[b]
		}
	}
	rough := make([]float64, len(rest))
	for i, r := range f.rows {
		rough[i] = rest[i] - sum[bin(r)]
		noise += rough[i] * rough[i]
	}
	noise /= math.Max(float64(len(rest)-parameters-trends*f.windows), 1)
	for b := range sum {
		if count[b] > 0 {
			system2 += sum[b]*sum[b] - noise/count[b]
			used++
		}
	}
	system2 = math.Max(system2/math.Max(used, 1), 0)
	noise2 = noise * hangsTogether(rough, f.begin)
	// Each firing repeats the systematic part, over a quarter of its interval.
	repeats := float64(len(rest)) / math.Max(used, 1)
	return noise2 + system2*repeats*used/4, noise2
}

// hangsTogether is 1 and twice the sum of the autocorrelations until they first
// vanish: over how many rows one deviation counts as one.
func hangsTogether(v []float64, begin []int) float64 {
	total := 0.0
	for _, x := range v {
		total += x * x
	}
	if total == 0 {
		return 1
	}
	length := 1.0
	for lag := 1; lag < 40; lag++ {
		sum := 0.0
		for w := 0; w+1 < len(begin); w++ {
			for i := begin[w]; i+lag < begin[w+1]; i++ {
				sum += v[i] * v[i+lag]
			}
		}
		if sum <= 0 {
			break
		}
		length += 2 * sum / total
	}
	return length
}
