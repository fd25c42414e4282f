package uncertainty

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", what, got, want, tol)
	}
}

// Student's t: JCGM 100:2008, table G.2, and the normal factors of table G.1.
func TestCoverage(t *testing.T) {
	for _, c := range []struct{ p, dof, want, tol float64 }{
		{0.95, 0, 1.95996398454, 1e-10}, {0.99, 0, 2.57582930355, 1e-10},
		{0.95, 1, 12.71, 0.005}, {0.95, 2, 4.30, 0.005}, {0.95, 3, 3.18, 0.005}, {0.95, 4, 2.78, 0.005},
		{0.95, 10, 2.23, 0.005}, {0.95, 50, 2.01, 0.005}, {0.99, 1, 63.66, 0.005}, {0.99, 16, 2.92, 0.005},
		{0.95, 1e6, 1.95996398454, 5e-6}, {0.95, 1e9, 1.95996398454, 1e-8},
		// One degree of freedom is Cauchy's distribution: tan(pi p/2) exactly.
		{0.5, 1, 1, 1e-12}, {0.95, 1, math.Tan(0.95 * math.Pi / 2), 1e-9},
		// Two: t = p sqrt(2/(1-p^2)) exactly.
		{0.95, 2, 0.95 * math.Sqrt(2/(1-0.95*0.95)), 1e-11},
	} {
		near(t, "factor", Coverage(c.p, c.dof), c.want, c.tol)
	}
	// The density is one over the slope of the factor: d(p)/d(t) is twice it.
	for _, dof := range []float64{0, 1, 2.5, 7, 40} {
		for _, p := range []float64{0.1, 0.5, 0.95} {
			slope := 2e-5 / (Coverage(p+1e-5, dof) - Coverage(p-1e-5, dof)) / 2
			near(t, "density", StudentDensity(Coverage(p, dof), dof), slope, 1e-6)
		}
	}
}

// endGauge is the worked example H.1 of JCGM 100:2008: an end gauge compared with
// a standard of the same nominal length, in nm and degrees Celsius.
func endGauge() Quantity {
	comparison := math.Sqrt(sq(5.8) + sq(3.9) + sq(6.7))
	halfWidth := func(h float64) float64 { return h / math.Sqrt(3) }
	return Quantity{
		Inputs: []Input{
			{Name: "standard", Value: 50000623, U: 25, DOF: 18},
			{Name: "difference", Value: 215, U: comparison, DOF: 25.6},
			{Name: "difference of expansion", Value: 0, U: halfWidth(1e-6), DOF: 50},
			{Name: "temperature", Value: -0.1, U: 0.41},
			{Name: "expansion", Value: 11.5e-6, U: halfWidth(2e-6)},
			{Name: "difference of temperature", Value: 0, U: halfWidth(0.05), DOF: 2},
		},
		Model: func(x []float64) float64 {
			ls, d, da, theta, as, dt := x[0], x[1], x[2], x[3], x[4], x[5]
			return ls + d - ls*(da*theta+as*dt)
		},
	}
}

func TestEndGaugeH1(t *testing.T) {
	q := endGauge()
	l := q.Linear()
	near(t, "length", l.Value, 50000838, 0.5)
	near(t, "uc", l.U, 31.7, 0.1)
	for i, want := range []float64{25, 9.7, 2.9, 0, 0, 16.6} {
		near(t, l.Parts[i].Name, l.Parts[i].Contribution, want, 0.06)
	}
	near(t, "effective degrees of freedom", l.DOF, 16.7, 0.15)
	near(t, "t99", Coverage(0.99, math.Floor(l.DOF)), 2.92, 0.005)
	near(t, "U99", Coverage(0.99, math.Floor(l.DOF))*l.U, 93, 0.9)
	_, u := q.SecondOrder() // H.1.7
	near(t, "uc with second order", u, 33.91, 0.1)
	sum := 0.0
	for _, p := range l.Parts {
		sum += p.Share
	}
	near(t, "shares", sum, 1, 1e-12)
}

// The same gauge by Monte Carlo: JCGM 101:2008, 9.5 (the forms of its table 10
// from memory: arc sine for the swing of the temperature, a trapezium of inexact
// limits for the two differences).
func TestEndGaugeSupplement1(t *testing.T) {
	inexact := func(a, b, d float64) func(*rand.Rand) float64 { // JCGM 101:2008, 6.4.3.4
		return func(r *rand.Rand) float64 {
			as := a - d + 2*d*r.Float64()
			return as + (a+b-2*as)*r.Float64()
		}
	}
	q := Quantity{
		Inputs: []Input{
			{Name: "standard", Value: 50000623, U: 25, DOF: 18},
			{Name: "difference", Value: 215, U: 5.8, DOF: 24},
			{Name: "random effects", U: 3.9, DOF: 5},
			{Name: "systematic effects", U: 6.7, DOF: 8},
			Rectangular("expansion", 9.5e-6, 13.5e-6),
			{Name: "mean temperature", Value: -0.1, U: 0.2},
			{Name: "swing of the temperature", U: 0.5 / math.Sqrt2, Draw: func(r *rand.Rand) float64 { return 0.5 * math.Sin(2*math.Pi*r.Float64()) }},
			{Name: "difference of expansion", U: 1e-6, Draw: inexact(-1e-6, 1e-6, 0.1e-6)},
			{Name: "difference of temperature", U: 0.05, Draw: inexact(-0.05, 0.05, 0.025)},
		},
		Model: func(x []float64) float64 {
			ls := x[0]
			return ls + x[1] + x[2] + x[3] - ls*(x[7]*(x[5]+x[6])+x[4]*x[8])
		},
	}
	s := q.Draw(1_000_000, 1)
	near(t, "mean", s.Mean()-50000000, 838, 0.3)
	near(t, "u", s.U(), 35.8, 0.3)
	lo, hi := s.Shortest(0.99)
	near(t, "shortest 99 %, lower end", lo-50000000, 745, 2)
	near(t, "shortest 99 %, upper end", hi-50000000, 932, 2)
}

// Resistance, reactance and impedance from five sets of readings taken together:
// JCGM 100:2008, H.2.
func TestImpedanceH2(t *testing.T) {
	volts := Series{5.007, 4.994, 5.005, 4.990, 4.999}
	milliamps := Series{19.663, 19.639, 19.640, 19.685, 19.678}
	phase := Series{1.0456, 1.0438, 1.0468, 1.0428, 1.0433}
	all := []Series{volts, milliamps, phase}
	correlation := mat.NewSymDense(3, nil)
	for i, a := range all {
		for j, b := range all[:i+1] { // JCGM 100:2008, eqs 14 and 17
			sum := 0.0
			for k := range a {
				sum += (a[k] - a.Mean()) * (b[k] - b.Mean())
			}
			correlation.SetSym(i, j, sum/4/(a.SD()*b.SD()))
		}
	}
	near(t, "V", volts.Mean(), 4.9990, 1e-9)
	near(t, "u(V)", volts.U(), 0.0032, 5e-5)
	near(t, "I", milliamps.Mean(), 19.6610, 1e-9)
	near(t, "u(I)", milliamps.U(), 0.0095, 5e-5)
	near(t, "phi", phase.Mean(), 1.04446, 1e-9)
	near(t, "u(phi)", phase.U(), 0.00075, 5e-6)
	near(t, "r(V,I)", correlation.At(0, 1), -0.355, 0.001)
	near(t, "r(V,phi)", correlation.At(0, 2), 0.858, 0.001)
	near(t, "r(I,phi)", correlation.At(1, 2), -0.645, 0.001)

	inputs := []Input{
		{Name: "V", Value: volts.Mean(), U: volts.U(), DOF: volts.DOF()},
		{Name: "I", Value: milliamps.Mean(), U: milliamps.U(), DOF: milliamps.DOF()},
		{Name: "phi", Value: phase.Mean(), U: phase.U(), DOF: phase.DOF()},
	}
	models := map[string]func(x []float64) float64{
		"R": func(x []float64) float64 { return x[0] / x[1] * 1000 * math.Cos(x[2]) },
		"X": func(x []float64) float64 { return x[0] / x[1] * 1000 * math.Sin(x[2]) },
		"Z": func(x []float64) float64 { return x[0] / x[1] * 1000 },
	}
	found := map[string]Linear{}
	for name, want := range map[string]struct{ value, u, apart float64 }{
		"R": {127.732, 0.071, 0.195}, "X": {219.847, 0.295, 0.201}, "Z": {254.260, 0.236, 0.204},
	} {
		q := Quantity{Inputs: inputs, Model: models[name], Correlation: correlation}
		l := q.Linear()
		near(t, name, l.Value, want.value, 0.001)
		near(t, "u("+name+")", l.U, want.u, 0.001)
		near(t, "u("+name+") by draws", q.Draw(200_000, 2).U(), want.u, 0.002)
		found[name] = l
		q.Correlation = nil // wrong on purpose: the readings were taken together
		near(t, "u("+name+") as if independent", q.Linear().U, want.apart, 0.001)
	}
	between := func(a, b string) float64 { // JCGM 100:2008, eq. H.9
		sum := 0.0
		for i, p := range found[a].Parts {
			for j, s := range found[b].Parts {
				sum += p.Slope * s.Slope * p.U * s.U * correlation.At(i, j)
			}
		}
		return sum / (found[a].U * found[b].U)
	}
	near(t, "r(R,X)", between("R", "X"), -0.588, 0.001)
	near(t, "r(R,Z)", between("R", "Z"), -0.485, 0.001)
	near(t, "r(X,Z)", between("X", "Z"), 0.993, 0.001)
}

// Sums of four: JCGM 101:2008, 9.2.2 to 9.2.4. The ends for rectangular inputs
// are exact (Irwin and Hall's distribution), not those of the document's draws.
func TestSumsOfFour(t *testing.T) {
	sum := func(x []float64) float64 { return x[0] + x[1] + x[2] + x[3] }
	unit := Rectangular("x", -math.Sqrt(3), math.Sqrt(3))
	wide := Rectangular("x", -10*math.Sqrt(3), 10*math.Sqrt(3))
	normal := Input{Name: "x", U: 1}
	for _, c := range []struct {
		name           string
		inputs         []Input
		u, linear, end float64
		tol            float64
	}{
		{"9.2.2", []Input{normal, normal, normal, normal}, 2, 3.91992797, 3.91992797, 0.02},
		{"9.2.3", []Input{unit, unit, unit, unit}, 2, 3.91992797, 3.87940674, 0.02},
		{"9.2.4", []Input{unit, unit, unit, wide}, 10.1488916, 19.8914620, 17.0158141, 0.1},
	} {
		q := Quantity{Inputs: c.inputs, Model: sum}
		l := q.Linear()
		near(t, c.name+" u", l.U, c.u, 1e-6)
		near(t, c.name+" end, propagated", Coverage(0.95, l.DOF)*l.U, c.linear, 1e-6)
		s := q.Draw(1_000_000, 3)
		near(t, c.name+" u, drawn", s.U(), c.u, c.tol)
		lo, hi := s.Symmetric(0.95)
		near(t, c.name+" lower end, drawn", lo, -c.end, c.tol)
		near(t, c.name+" upper end, drawn", hi, c.end, c.tol)
		if b := q.Bend(); b > 1e-6 {
			t.Errorf("%s: a sum has a bend of %g", c.name, b)
		}
	}
}

// The sum of two squares: JCGM 101:2008, 9.4, in units of 1e-6. What is drawn is
// compared with the exact noncentral chi-square distribution.
func TestTwoSquares(t *testing.T) {
	for _, c := range []struct {
		x1               float64
		mean, u, lo, hi  float64
		first, u1        float64
		tol, tolEnds     float64
		mustNotPropagate bool
	}{
		{0, 50, 50, 0, 149.787, 0, 0, 1.5, 1.5, true},
		{0.010, 150, 111.803, 0, 366.0, 100, 100, 2, 2, true},
		{0.050, 2550, 502.494, 1593.6, 3548.6, 2500, 500, 5, 15, false},
	} {
		q := Quantity{
			Inputs: []Input{{Name: "x1", Value: c.x1, U: 0.005}, {Name: "x2", U: 0.005}},
			Model:  func(x []float64) float64 { return 1e6 * (x[0]*x[0] + x[1]*x[1]) },
		}
		l := q.Linear()
		near(t, "first order", l.Value, c.first, 1e-6)
		near(t, "u, first order", l.U, c.u1, 1e-6)
		shift, u := q.SecondOrder()
		near(t, "mean, second order", l.Value+shift, c.mean, 1e-6)
		near(t, "u, second order", u, c.u, 0.01)
		s := q.Draw(1_000_000, 4)
		near(t, "mean, drawn", s.Mean(), c.mean, c.tol)
		near(t, "u, drawn", s.U(), c.u, c.tol)
		lo, hi := s.Shortest(0.95)
		if c.x1 == 0.050 {
			near(t, "width", hi-lo, 1955.0, 5)
		}
		near(t, "lower end", lo, c.lo, c.tolEnds)
		near(t, "upper end", hi, c.hi, c.tolEnds)
		if b := q.Bend(); b > 0.5 != c.mustNotPropagate {
			t.Errorf("x1 = %g: bend %g", c.x1, b)
		}
	}
}
