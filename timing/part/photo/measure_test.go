package photo

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/floats"
	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

func apart(a, b timing.Deg) float64 { return math.Abs(float64(timing.Difference(a, b, timing.Turn))) }

func (s *scene) info(stated bool) Info {
	i := Info{Width: s.Width, Height: s.Height}
	if stated {
		i.FocalPx = s.F
	}
	return i
}

// Without scatter the centre and the bolts give the angle back exactly, in any
// perspective, and say nothing they should not.
func TestPerspectiveTakenOut(t *testing.T) {
	for _, basis := range []Basis{RimAndCentre, BoltCircle} {
		r := rand.New(rand.NewPCG(1, 2))
		for range 200 {
			s := anyScene(r, 35*r.Float64())
			s.Distance = 1.6 + s.Distance/4 // nearer than anyone should
			s.Set()
			got, err := Measure(s.marks(r, 0, 9, r.IntN(2)*5, basis), Options{Picture: s.info(true), UPx: 0.01, Draws: 4})
			if err != nil {
				t.Fatal(err)
			}
			if d := apart(got.Clockwise.Value, timing.Deg(s.Dowel)); d > 1e-7 {
				t.Errorf("%v: off by %v°", basis, d)
			}
			near(t, "tilt", float64(got.Tilt.Value), s.Tilt, 1e-3)
			near(t, "centre", got.Centre.minus(s.at(0, 0)).length(), 0, 1e-5)
			near(t, "keyway drawn", got.KeywayAt.minus(s.at(s.Key, 1)).length(), 0, 1e-5)
			if basis == RimAndCentre {
				near(t, "distance", got.Distance[0], s.Distance*(1-normal95*statedFocalU), 0.05*s.Distance)
				near(t, "On", got.On(timing.Deg(s.Dowel), s.DowelAt).minus(s.at(s.Key+s.Dowel, s.DowelAt)).length(), 0, 1e-5)
			}
		}
	}
}

// One of the two poses of a rim seen by a known camera is the true one.
func TestPose(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 2))
	for range 200 {
		s := anyScene(r, 2+40*r.Float64())
		fit, err := fitRim(s.marks(r, 0, 11, 0, RimOnly).Rim)
		if err != nil {
			t.Fatal(err)
		}
		both, ok := lensOf(s.info(true), fit.ellipse()).nominal().poses(fit.face())
		if !ok {
			t.Fatal("no pose")
		}
		p := nearer(both, s.at(0, 0))
		near(t, "centre", p.centre.minus(s.at(0, 0)).length(), 0, 1e-4)
		near(t, "tilt", p.tilt*180/math.Pi, s.Tilt, 1e-4)
		near(t, "distance", p.distance, s.Distance, 1e-4*s.Distance)
	}
}

// Laguerre's formula with the circular points where the polar of the centre
// meets the rim's ellipse: the same angle, by complex numbers.
func TestCircularPoints(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 2))
	for range 100 {
		s := anyScene(r, 3+30*r.Float64())
		m := s.marks(r, 1, 9, 0, RimAndCentre)
		fit, err := fitRim(m.Rim)
		if err != nil {
			t.Fatal(err)
		}
		back, _ := fit.face().inverse()
		var c [3][3]float64 // the ellipse's matrix
		for i := range 3 {
			for j := range 3 {
				c[i][j] = back[i]*back[j] + back[3+i]*back[3+j] - back[6+i]*back[6+j]
			}
		}
		o := [3]float64{m.Centre[0].X, m.Centre[0].Y, 1}
		var polar [3]float64
		for i := range 3 {
			polar[i] = floats.Dot(c[i][:], o[:])
		}
		// Two points of the polar, and its meets with the ellipse, p + z q.
		q := unit([3]float64{-polar[1], polar[0], 0})
		p := [3]float64{-polar[2] * polar[0] / (polar[0]*polar[0] + polar[1]*polar[1]), -polar[2] * polar[1] / (polar[0]*polar[0] + polar[1]*polar[1]), 1}
		form := func(a, b [3]float64) float64 {
			v := 0.0
			for i := range 3 {
				v += a[i] * floats.Dot(c[i][:], b[:])
			}
			return v
		}
		A, B, C := form(q, q), form(p, q), form(p, p)
		z := (complex(-B, 0) + cmplx.Sqrt(complex(B*B-A*C, 0))) / complex(A, 0)
		// Directions from the centre, as coordinates on the pencil of lines
		// through it: where they meet the polar.
		meet := func(x Point) complex128 {
			l := cross(o, [3]float64{x.X, x.Y, 1})
			return complex(-floats.Dot(l[:], p[:])/floats.Dot(l[:], q[:]), 0)
		}
		k, err := m.place(mustFace(t, m), fitSteps)
		if err != nil {
			t.Fatal(err)
		}
		key, to := meet(mustOn(t, m, k.keyway)), meet(m.Dowel[0])
		ratio := (key - z) / (key - cmplx.Conj(z)) * (to - cmplx.Conj(z)) / (to - z)
		laguerre := timing.FromRadians(real(cmplx.Log(ratio) / 2i))
		got := k.to - k.keyway
		d := math.Min(math.Abs(float64(timing.WrapSigned(timing.FromRadians(got)-laguerre, 180))), math.Abs(float64(timing.WrapSigned(timing.FromRadians(got)+laguerre, 180))))
		near(t, "angle of the lines", d, 0, 1e-7)
	}
}

func mustFace(t *testing.T, m Marks) mat3 {
	t.Helper()
	s := sight{marks: m}
	var r Result
	if err := s.fit(&r); err != nil {
		t.Fatal(err)
	}
	face, err := s.face(s.nominal(), Point{})
	if err != nil {
		t.Fatal(err)
	}
	return face
}

func mustOn(t *testing.T, m Marks, direction float64) Point {
	t.Helper()
	out, _ := mustFace(t, m).inverse()
	p, ok := out.apply(Point{math.Cos(direction), math.Sin(direction)})
	if !ok {
		t.Fatal("beyond the horizon")
	}
	return p
}

// The edge of the dowel is fitted in steps whose weights change with the circle: where
// they end must not depend on how the picture lies.
func TestFitSettlesAlikeHoweverTurned(t *testing.T) {
	r := rand.New(rand.NewPCG(10, 1))
	s := anyScene(r, 13.783116819181863)
	m := s.marks(r, 1, 12, 6, RimOnly)
	o := Options{Picture: s.info(false), UPx: 1, Draws: 2}
	want, err := Measure(m, o)
	if err != nil {
		t.Fatal(err)
	}
	w, h := float64(s.Width), float64(s.Height)
	for _, turn := range []float64{10, 30, 45, 90, -120, -150} {
		sin, cos := math.Sincos(turn * math.Pi / 180)
		got, err := Measure(m.moved(func(p Point) Point {
			x, y := p.X-w/2, p.Y-h/2
			return Point{w/2 + x*cos - y*sin, h/2 + x*sin + y*cos}
		}), o)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "turned", float64(got.Clockwise.Value), float64(want.Clockwise.Value), 1e-8)
	}
}

// Turning, scaling and mirroring the picture, and the order of the points,
// change nothing that they should not.
func TestLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		basis := Basis(rapid.IntRange(0, 2).Draw(t, "basis"))
		s := anyScene(r, rapid.Float64Range(0, 35).Draw(t, "tilt"))
		m := s.marks(r, 1, rapid.IntRange(8, 14).Draw(t, "rim"), rapid.SampledFrom([]int{0, 3, 6}).Draw(t, "edge"), basis)
		o := Options{Picture: s.info(rapid.Bool().Draw(t, "lens stated")), UPx: 1, Draws: 400}
		want, err := Measure(m, o)
		if err != nil {
			t.Fatal(err)
		}
		w, h := float64(s.Width), float64(s.Height)
		turn := rapid.Float64Range(-180, 180).Draw(t, "turn") * math.Pi / 180
		sin, cos := math.Sincos(turn)
		check := func(what string, m Marks, o Options, sign timing.Deg) {
			got, err := Measure(m, o)
			if err != nil {
				t.Fatalf("%s: %v", what, err)
			}
			if d := apart(got.Clockwise.Value, sign*want.Clockwise.Value); d > 1e-6 {
				t.Errorf("%s: %v, want %v", what, got.Clockwise.Value, sign*want.Clockwise.Value)
			}
			// 400 draws twice: 5 %, and the heavy tail of distances.
			if q := float64(got.Clockwise.U / want.Clockwise.U); q < 0.75 || q > 1.33 {
				t.Errorf("%s: uncertainty %v, was %v", what, got.Clockwise.U, want.Clockwise.U)
			}
			if d := math.Abs(float64(got.Tilt.Value - want.Tilt.Value)); d > 1e-4 {
				t.Errorf("%s: tilt %v, was %v", what, got.Tilt.Value, want.Tilt.Value)
			}
		}
		check("turned", m.moved(func(p Point) Point {
			x, y := p.X-w/2, p.Y-h/2
			return Point{w/2 + x*cos - y*sin, h/2 + x*sin + y*cos}
		}), o, 1)
		check("mirrored", m.moved(func(p Point) Point { return Point{w - p.X, p.Y} }), o, -1)
		n := float64(rapid.IntRange(2, 4).Draw(t, "scale"))
		larger := o
		larger.UPx, larger.Picture = n, Info{Width: int(n) * s.Width, Height: int(n) * s.Height, FocalPx: n * o.Picture.FocalPx}
		check("scaled", m.moved(func(p Point) Point { return Point{n * p.X, n * p.Y} }), larger, 1)
		shuffled := m.moved(func(p Point) Point { return p })
		for _, l := range [][]Point{shuffled.Rim, shuffled.Keyway, shuffled.Dowel, shuffled.Bolts} {
			r.Shuffle(len(l), func(i, j int) { l[i], l[j] = l[j], l[i] })
		}
		check("shuffled", shuffled, o, 1)
		throw := m
		throw.Throw, throw.Dowel = m.Dowel, nil
		check("throw", throw, o, -1)
		again, err := Measure(m, o)
		if err != nil || again.Clockwise != want.Clockwise || again.Tilt != want.Tilt {
			t.Errorf("the same seed gave %+v and %+v", want.Clockwise, again.Clockwise)
		}
	})
}
