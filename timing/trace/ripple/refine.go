package ripple

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// fit is one on the way.
type fit struct {
	in          Input
	engine      Engine
	rows        []row
	windows     int
	rpm         float64
	fires       []float64         // in order of angle
	y           []float64         // projected
	travel      []float64         // projected
	charge      []float64         // nil without a current
	begin       []int             // of each window in rows
	trend       [trends][]float64 // of each row: what a window's own slow change is made of, orthonormal in the window
	lever       []float64         // of each row: degrees a tooth would pass from its place for an energy of 1, over J
	frame       *frame
	play        play
	misfitCount int
	pulls       []pull  // of the priors at the last pass
	doubtful    [][]int // passings of each window that are not believed
}

// column evaluates over all rows and takes each window's own slow change off.
func (f *fit) column(of func(row) float64) []float64 {
	v := make([]float64, len(f.rows))
	for i, r := range f.rows {
		v[i] = of(r)
	}
	return f.projected(v)
}

// projected is a column less each window's own slow change.
func (f *fit) projected(v []float64) []float64 {
	v = slices.Clone(v)
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
// with the speed's own column beside it, and 1/J. A negative inertia explains nothing.
func (f *fit) misfit(w workTable, tdc float64) (left, inverse float64) {
	g := f.gas(w, -1, tdc)
	gg, gt, tt := dot(g, g), dot(g, f.travel), dot(f.travel, f.travel)
	gy, ty, yy := dot(g, f.y), dot(f.travel, f.y), dot(f.y, f.y)
	det := gg*tt - gt*gt
	if !(det > 1e-12*gg*tt) {
		return yy, 0
	}
	a, b := (gy*tt-ty*gt)/det, (ty*gg-gy*gt)/det
	if a <= 0 {
		return yy, 0
	}
	return yy - a*gy - b*ty, a
}

// solution is what a fit comes to.
type solution struct {
	point
	damping      float64   // see the constant
	rest         []float64 // of the rows' energy, with what is the wheel's and the misfits'
	places       []float64 // of the wheel's teeth, degrees
	placesU      []float64
	cov          *mat.SymDense // of the columns, then the teeth's places
	bound, alone float64       // degrees: see [fit.bounds]
	tension      float64       // see [fit.tensionOf]
	gain         float64       // twice the logarithm of how much more probable the recording is with the gas than without
	noise        []float64     // variance of each row by the scatter of passings and the wheel's teeth
	ok           bool
}

// passes of the fit, at the most; after the settled one its speed counts as known.
const (
	passes  = 16
	settled = 2
)

// refine goes from a first guess to the most probable values, by Gauss and Newton
// with the priors (a maximum a posteriori estimate). All cylinders are alike but
// for their leaks: a weak one is one that leaks, and a leak also moves its share of
// the ripple.
//
// A cylinder taken for weak to begin with, -1 for none, leads to where one is: from
// cylinders that are alike the way there may end before.
func (f *fit) refine(tdc float64, weak int) solution {
	before := f.engine.prior(f.rpm)
	n := len(f.fires)
	s := solution{point: point{tdc: tdc, exponent: before.exponent, heat: before.heat, leak: make([]float64, n)}}
	for c := range s.leak {
		s.leak[c] = before.leak
	}
	if weak >= 0 {
		s.leak[weak] += weakLeak
	}
	rest := make([]float64, len(f.rows))
	f.levers(rest)
	var d drive
	for pass := range passes {
		w := f.workAt(s.point)
		if pass <= settled {
			d = f.driveOf(f.projected(rest), s.tdc)
		}
		if pass == 0 && !f.begins(&s.point, w, d) {
			return solution{}
		}
		rest = f.left(s.point, w, d)
		if pass <= settled {
			f.levers(f.projected(rest))
		}
		straight := f.straight(rest)
		if pass == 0 || pass == 2 || pass == 4 {
			f.learnNoise(straight)
		}
		columns, misfit := f.jacobian(s.point, w, d)
		sys, ok := f.assemble(columns, straight)
		if !ok {
			return solution{}
		}
		f.addPriors(sys, s.point, before, misfit)
		if pass == 1 || pass == 3 || pass == 5 {
			f.play = f.learnWheel(sys)
		}
		step, cov, ok := f.solve(sys)
		if !ok {
			return solution{}
		}
		s.rest, s.cov = rest, cov
		if pass == 2 || pass == 4 {
			f.findBent(placesOf(step, sys.fit))
		}
		move := f.move(&s.point, step)
		s.ok = true
		if move < 0.02 && pass > 5 {
			f.conclude(&s, sys, columns, step)
			break
		}
		if pass == passes-1 {
			f.conclude(&s, sys, columns, step)
		}
	}
	s.damping = -s.travel / f.level()
	return s
}

// level is the mean speed over the rows, rad/s.
func (f *fit) level() float64 {
	sum := 0.0
	for _, r := range f.rows {
		sum += math.Sqrt(2*r.y) / float64(len(f.rows))
	}
	return sum
}

// levers settles them by the speed that the fit has, not the measured one: that
// depends on the teeth's errors.
func (f *fit) levers(rest []float64) {
	f.lever = make([]float64, len(f.rows))
	for i, r := range f.rows {
		f.lever[i] = -(r.to - r.from) / 2 / max(r.y-rest[i], r.y/4)
	}
}

// straight is what is left of the rows' energy, such that times a row's lever it is by
// how many degrees more the crank turned between two passings than their teeth are
// apart, also where that is much of a pitch.
func (f *fit) straight(rest []float64) []float64 {
	chance := f.projected(rest)
	out := make([]float64, len(rest))
	for i, r := range f.rows {
		model := max(r.y-chance[i], r.y/4)
		turned := (r.to - r.from) * (math.Sqrt(model/r.y) - 1)
		out[i] = rest[i] - chance[i] + turned/f.lever[i]
	}
	return out
}

// begins finds the linear factors to begin with.
func (f *fit) begins(p *point, w work, d drive) bool {
	linear := [][]float64{f.projected(w.total), f.projected(d.travel)}
	if f.charge != nil {
		linear = append(linear, f.projected(f.charge))
	}
	x, ok := leastSquares(linear, f.y)
	if !ok || !(x[0] > 0) {
		return false
	}
	p.inverse, p.travel = x[0], x[1]
	if f.charge != nil {
		p.charge = x[2]
	}
	return true
}

// left is what a point leaves of the rows' energy. The mean speed between two teeth
// far apart is less than the mean energy would have it.
func (f *fit) left(p point, w work, d drive) []float64 {
	rest := make([]float64, len(f.rows))
	for i, r := range f.rows {
		rest[i] = r.y + slower(r.y, p.inverse, w.within[i]) - p.inverse*w.total[i] - p.travel*d.travel[i] - p.curve*d.curve[i] - p.rub*d.rub[i]
		if f.charge != nil {
			rest[i] -= p.charge * f.charge[i]
		}
	}
	return rest
}

// jacobian are the columns of the fit at a point, and how large the misfits, the last
// of them, may be.
func (f *fit) jacobian(p point, w work, d drive) (columns [][]float64, misfit []float64) {
	columns = [][]float64{w.total, d.travel, times(w.later, p.inverse), times(w.stiffer, p.inverse), times(w.cooler, p.inverse), times(w.heavier, p.inverse), d.curve, d.rub}
	for _, v := range w.leaks {
		columns = append(columns, times(v, p.inverse))
	}
	if f.charge != nil {
		columns = append(columns, f.charge)
	}
	extra, misfit := f.misfits(p)
	return append(columns, extra...), misfit
}

// addPriors adds what is known before the fit.
func (f *fit) addPriors(s system, p point, before prior, misfit []float64) {
	add := func(i int, away, u float64) {
		f.pulls = append(f.pulls, pull{i, away / u, u})
		s.normal.SetSym(i, i, s.normal.At(i, i)+1/square(u))
		s.right.SetVec(i, s.right.AtVec(i)+away/square(u))
	}
	f.pulls = f.pulls[:0]
	level := f.level()
	litres := f.litres()
	brake := -crankTorque * brakes * litres / level * p.inverse
	if f.charge != nil {
		brake *= frictions // the current shows what the starter does
	}
	add(ofTravel, brake-p.travel, math.Hypot(brakeU*brake, brakeFloorU*level))
	hold := crankTorque * litres * p.inverse // what a starter overcomes, over J
	bent := hold / level
	if f.charge != nil {
		bent *= frictions
	}
	add(ofCurve, bends*bent-p.curve, bendsU*bent)
	rub := hold / float64(len(f.fires))
	add(ofRub, rubs*rub-p.rub, rubsU*rub)
	add(ofExponent, before.exponent-p.exponent, before.exponentU)
	add(ofHeat, before.heat-p.heat, before.heatU)
	add(ofMass, -p.mass, massU)
	addLeakPrior(s.normal, s.right, p.leak, before)
	f.pulls = append(f.pulls, pull{ofLeak, (before.leak - median(p.leak)) / before.leakU, before.leakU})
	f.misfitCount = len(misfit)
	first := s.fit - len(misfit)
	for i, u := range misfit {
		add(first+i, 0, u)
	}
}

// litres is the engine's displacement.
func (f *fit) litres() float64 {
	c := f.engine.Charge
	return math.Pi / 4 * c.BoreMM * c.BoreMM * 2 * c.ThrowMM * float64(len(f.fires)) * 1e-6
}

// solve solves the equations with what is taken of the wheel.
func (f *fit) solve(s system) (step *mat.VecDense, cov *mat.SymDense, ok bool) {
	v := f.play.covariance(f.frame.positions, f.frame.bent, f.in.Wheel.Positions)
	_, precision, ok := solveScaled(v, mat.NewVecDense(v.SymmetricDim(), nil))
	if !ok {
		return nil, nil, false
	}
	return solveScaled(s.withWheel(precision), s.right)
}

// move goes a step, all of it shortened by one factor where a part of it would leave
// what the columns hold for, and returns by how much top dead centre moves.
func (f *fit) move(p *point, step *mat.VecDense) float64 {
	n := len(p.leak)
	share := 1.0
	limit := func(i int, most float64) {
		if x := math.Abs(step.AtVec(i)); x > most {
			share = min(share, most/x)
		}
	}
	limit(ofTDC, 8)
	limit(ofExponent, 0.06)
	limit(ofHeat, 0.2)
	for c := range n {
		limit(ofLeak+c, 0.2+0.5*p.leak[c])
	}
	limit(ofInverse, p.inverse*2/3)
	p.inverse += share * step.AtVec(ofInverse)
	p.travel += share * step.AtVec(ofTravel)
	p.tdc += share * step.AtVec(ofTDC)
	p.exponent = min(max(p.exponent+share*step.AtVec(ofExponent), 1.05), 1.45)
	p.heat = min(max(p.heat+share*step.AtVec(ofHeat), 0), 1)
	p.curve += share * step.AtVec(ofCurve)
	p.rub += share * step.AtVec(ofRub)
	p.mass += share * step.AtVec(ofMass)
	for c := range n {
		p.leak[c] = min(max(p.leak[c]+share*step.AtVec(ofLeak+c), 0), 3)
	}
	if f.charge != nil {
		p.charge += share * step.AtVec(ofLeak+n)
	}
	return math.Abs(share * step.AtVec(ofTDC))
}

// conclude works out what is only wanted at the end.
func (f *fit) conclude(s *solution, sys system, columns [][]float64, step *mat.VecDense) {
	s.places = placesOf(step, sys.fit)
	for i := range s.places {
		s.placesU = append(s.placesU, math.Sqrt(s.cov.At(sys.fit+i, sys.fit+i)))
	}
	s.alone = 1 / math.Sqrt(sys.normal.At(ofTDC, ofTDC))
	s.noise = make([]float64, len(f.rows))
	for i := range s.noise {
		s.noise[i] = 2 * (f.frame.noise.passing + square(f.play.white)) / square(f.lever[i])
	}
	s.bound = f.boundOf(sys)
	s.tension = f.tensionOf(s, sys, step)
	s.gain = f.gainOf(s, columns)
}

// placesOf are the teeth's places in a solution, after so many parameters.
func placesOf(step *mat.VecDense, fit int) (list []float64) {
	for i := fit; i < step.Len(); i++ {
		list = append(list, step.AtVec(i))
	}
	return list
}
