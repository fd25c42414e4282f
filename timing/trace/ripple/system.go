package ripple

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// frame is what all cycles of a fit share: which teeth pass, and how their noise hangs
// together.
type frame struct {
	positions []int // of the wheel, from 0, that carry a tooth
	bent      []bool
	tooth     []int // of each passing of a cycle: index into positions
	inverse   *mat.Dense
	logDet    float64
	noise     chance
}

// newFrame is that of cycles that begin at a position. A cycle's last tooth is its
// first again.
func newFrame(in Input, place int, passings int) *frame {
	f := &frame{}
	n := in.Wheel.Positions
	index := map[int]int{}
	for p := range n {
		if !in.Wheel.IsMissing(p + 1) {
			index[p] = len(f.positions)
			f.positions = append(f.positions, p)
		}
	}
	f.bent = make([]bool, len(f.positions))
	p := ((place % n) + n) % n
	for len(f.tooth) < passings {
		if i, ok := index[p]; ok {
			f.tooth = append(f.tooth, i)
		}
		p = (p + 1) % n
	}
	return f
}

// summed turns a column of energies of a cycle's rows into degrees at its teeth: how
// far each would pass from its place. lever are degrees for an energy of 1.
func summed(column, lever, out []float64) {
	sum := 0.0
	out[0] = 0
	for i, v := range column {
		sum += lever[i] * v
		out[i+1] = sum
	}
}

// walkOf is the covariance at the teeth of a cycle of an energy that walks by chance,
// by 1 for each degree, over the energy itself.
func walkOf(span []float64) *mat.SymDense {
	n := len(span)
	b := mat.NewDense(n+1, n, nil)
	for i := range n {
		sum := 0.0
		for k := i; k < n; k++ {
			sum -= span[k] / 2
			b.Set(k+1, i, sum*math.Sqrt(span[i]))
		}
	}
	var k mat.SymDense
	k.SymOuterK(1, b)
	return &k
}

// settle takes a noise for that of all cycles.
func (f *frame) settle(c chance, walk *mat.SymDense) bool {
	n := len(f.tooth)
	cov := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			v := c.walk * walk.At(i, j)
			if i == j {
				v++
			}
			cov.SetSym(i, j, v)
		}
	}
	var ch mat.Cholesky
	if !ch.Factorize(cov) {
		return false
	}
	inverse := mat.NewSymDense(n, nil)
	if ch.InverseTo(inverse) != nil {
		return false
	}
	f.inverse, f.logDet, f.noise = mat.DenseCopyOf(inverse), ch.LogDet(), c
	return true
}

// system are the normal equations of a fit over its parameters and, after them, the
// places of the teeth, what each cycle has of its own taken out.
type system struct {
	normal *mat.SymDense
	right  *mat.VecDense
	fit    int // how many parameters come before the teeth
}

// own are the columns that each cycle has to itself, in degrees at its teeth: where its
// first tooth passes, and the slow change of its energy; and a passing that is not
// believed.
func (f *fit) own(w int) [][]float64 {
	size := len(f.frame.tooth)
	ones := make([]float64, size)
	for i := range ones {
		ones[i] = 1
	}
	list := [][]float64{ones}
	a, b := f.begin[w], f.begin[w+1]
	for k := range f.trend {
		v := make([]float64, size)
		summed(f.trend[k][a:b], f.lever[a:b], v)
		list = append(list, v)
	}
	for _, k := range f.doubtful[w] {
		v := make([]float64, size)
		v[k] = 1
		list = append(list, v)
	}
	return list
}

// assemble adds up the normal equations over all cycles.
func (f *fit) assemble(columns [][]float64, rest []float64) (system, bool) {
	p, teeth, size := len(columns), len(f.frame.positions), len(f.frame.tooth)
	all := p + teeth
	sum := mat.NewDense(all+1, all+1, nil) // the last is the rest's
	fold := f.frame.folded()
	for w := range f.windows {
		a, b := f.begin[w], f.begin[w+1]
		own := f.own(w)
		q := len(own)
		m := mat.NewDense(size, q+p+1, nil)
		for k, v := range own {
			m.SetCol(k, v)
		}
		v := make([]float64, size)
		for k := range columns {
			summed(columns[k][a:b], f.lever[a:b], v)
			m.SetCol(q+k, v)
		}
		summed(rest[a:b], f.lever[a:b], v)
		m.SetCol(q+p, v)
		var weighed, cross mat.Dense
		weighed.Mul(f.frame.inverse, m)
		cross.Mul(m.T(), &weighed)
		// Rows of all columns, teeth and the rest against the own ones and themselves.
		against := mat.NewDense(all+1, q, nil)
		at := func(i int) int { // of the columns of m in sum
			if i == p {
				return all
			}
			return i
		}
		for i := range p + 1 {
			for k := range q {
				against.Set(at(i), k, cross.At(q+i, k))
			}
			for j := range p + 1 {
				sum.Set(at(i), at(j), sum.At(at(i), at(j))+cross.At(q+i, q+j))
			}
		}
		for i, t := range f.frame.tooth {
			for k := range q {
				against.Set(p+t, k, against.At(p+t, k)+weighed.At(i, k))
			}
			for j := range p + 1 {
				x := weighed.At(i, q+j)
				sum.Set(p+t, at(j), sum.At(p+t, at(j))+x)
				sum.Set(at(j), p+t, sum.At(at(j), p+t)+x)
			}
		}
		for i := range teeth {
			for j := range teeth {
				sum.Set(p+i, p+j, sum.At(p+i, p+j)+fold.At(i, j))
			}
		}
		self := mat.NewSymDense(q, nil)
		for i := range q {
			for j := i; j < q; j++ {
				self.SetSym(i, j, cross.At(i, j))
			}
		}
		_, inverse, ok := solveScaled(self, mat.NewVecDense(q, nil))
		if !ok {
			return system{}, false
		}
		var taken, part mat.Dense
		taken.Mul(against, inverse)
		part.Mul(&taken, against.T())
		sum.Sub(sum, &part)
	}
	s := system{normal: mat.NewSymDense(all, nil), right: mat.NewVecDense(all, nil), fit: p}
	passing := f.frame.noise.passing
	for i := range all {
		for j := i; j < all; j++ {
			s.normal.SetSym(i, j, (sum.At(i, j)+sum.At(j, i))/2/passing)
		}
		s.right.SetVec(i, sum.At(i, all)/passing)
	}
	return s, true
}

// folded is the inverse covariance of a cycle's passings, those of one tooth added up.
func (f *frame) folded() *mat.Dense {
	n := len(f.positions)
	m := mat.NewDense(n, n, nil)
	for i, a := range f.tooth {
		for j, b := range f.tooth {
			m.Set(a, b, m.At(a, b)+f.inverse.At(i, j))
		}
	}
	return m
}

// withWheel adds what is taken of the teeth's places.
func (s system) withWheel(precision *mat.SymDense) *mat.SymDense {
	n := s.normal.SymmetricDim()
	out := mat.NewSymDense(n, nil)
	out.CopySym(s.normal)
	for i := range n - s.fit {
		for j := i; j < n-s.fit; j++ {
			out.SetSym(s.fit+i, s.fit+j, out.At(s.fit+i, s.fit+j)+precision.At(i, j))
		}
	}
	return out
}

// learnWheel finds how far the teeth are out of place as a rule: the standard
// deviations under which the recording is most probable.
func (f *fit) learnWheel(s system) play {
	best, most := f.play, math.Inf(-1)
	for _, white := range whites {
		for _, runout := range runouts {
			p := play{white, runout}
			v := p.covariance(f.frame.positions, f.frame.bent, f.in.Wheel.Positions)
			var prior, post mat.Cholesky
			if !prior.Factorize(v) {
				continue
			}
			precision := mat.NewSymDense(v.SymmetricDim(), nil)
			if prior.InverseTo(precision) != nil {
				continue
			}
			if !post.Factorize(s.withWheel(precision)) {
				continue
			}
			var x mat.VecDense
			if post.SolveVecTo(&x, s.right) != nil {
				continue
			}
			l := (mat.Dot(&x, s.right) - prior.LogDet() - post.LogDet() - square(math.Log(runout/usualRunout)/runoutLog)) / 2
			if l > most {
				best, most = p, l
			}
		}
	}
	return best
}

// learnNoise finds how much the passings scatter, and how much the energy walks by
// chance, from what differs between cycles in what the fit leaves: what is the
// wheel's, or the model's, is the same in all.
func (f *fit) learnNoise(rest []float64) {
	size := len(f.frame.tooth)
	left := make([][]float64, f.windows)
	mean := make([]float64, size)
	spanOf := make([]float64, size-1)
	for w := range left {
		a, b := f.begin[w], f.begin[w+1]
		left[w] = make([]float64, size)
		summed(rest[a:b], f.lever[a:b], left[w])
		for i, v := range left[w] {
			mean[i] += v / float64(f.windows)
		}
		for i := range spanOf {
			spanOf[i] = f.rows[a+i].to - f.rows[a+i].from
		}
	}
	f.findDoubtful(left, mean)
	walk := walkOf(spanOf)
	scale := 0.0
	for i := range size {
		scale += walk.At(i, i) / float64(size) / 30 // trends take off most of it
	}
	best, most := chance{}, math.Inf(-1)
	for _, k := range walks {
		trial := chance{passing: 1, walk: k / scale}
		if !f.frame.settle(trial, walk) {
			continue
		}
		l, passing, ok := f.chanceOf(left, mean)
		if ok && l > most {
			best, most = chance{max(passing, square(leastPassing)), trial.walk}, l
		}
	}
	f.frame.settle(best, walk)
}

// leastPassing is the least scatter of a passing that is believed, in degrees: sensors
// and clocks are not better.
const leastPassing = 0.0005

// chanceOf is how probable what is left is under the frame's covariance, in logarithm,
// with the variance that makes it most so.
func (f *fit) chanceOf(left [][]float64, mean []float64) (l, passing float64, ok bool) {
	size := len(mean)
	total, dof, logs := 0.0, 0.0, 0.0
	share := float64(f.windows-1) / float64(f.windows) // the mean has taken its part
	for w, v := range left {
		own := f.own(w)
		q := len(own)
		m := mat.NewDense(size, q+1, nil)
		for k, o := range own {
			m.SetCol(k, o)
		}
		for i := range v {
			m.Set(i, q, v[i]-mean[i])
		}
		var weighed, cross mat.Dense
		weighed.Mul(f.frame.inverse, m)
		cross.Mul(m.T(), &weighed)
		self, right := mat.NewSymDense(q, nil), mat.NewVecDense(q, nil)
		for i := range q {
			for j := i; j < q; j++ {
				self.SetSym(i, j, cross.At(i, j))
			}
			right.SetVec(i, cross.At(i, q))
		}
		x, inverse, okay := solveScaled(self, right)
		if !okay {
			return 0, 0, false
		}
		total += cross.At(q, q) - mat.Dot(x, right)
		dof += share * float64(size-q)
		var ch mat.Cholesky
		if ch.Factorize(inverse) {
			logs += share * (f.frame.logDet - ch.LogDet())
		}
	}
	passing = total / dof
	return -(dof*math.Log(passing) + logs) / 2, passing, true
}
