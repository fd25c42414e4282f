package photo

import (
	"math"
	"slices"
	"testing"

	"pinphase.org/pinphase/timing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.10g, want %.10g ± %g", what, got, want, tol)
	}
}

// The points of Gander, Golub and Strebel, Least-squares fitting of circles and
// ellipses, BIT 34 (1994) 558-578 (point lists and results from memory).
var (
	ganderCircle  = []Point{{1, 7}, {2, 6}, {5, 8}, {7, 7}, {9, 5}, {3, 7}}
	ganderEllipse = append(slices.Clone(ganderCircle), Point{6, 2}, Point{8, 4})
)

func TestGeometricEllipse(t *testing.T) {
	// The paper prints 2.6996, 3.8160, 6.5187, 3.0319, 0.3596.
	c, ok := directFit(ganderEllipse)
	if !ok {
		t.Fatal("no start")
	}
	start, ok := c.oval()
	if !ok {
		t.Fatal("no start")
	}
	o, ssr := refine(start, ganderEllipse)
	a, b, angle := o.axes()
	near(t, "x", o.c.X, 2.69961, 2e-5)
	near(t, "y", o.c.Y, 3.81596, 2e-5)
	near(t, "a", a, 6.51872, 2e-5)
	near(t, "b", b, 3.03189, 2e-5)
	near(t, "angle", angle, 0.359624, 2e-5)
	near(t, "norm of the residuals", math.Sqrt(ssr), 1.17188120, 1e-8)
}

func TestDirectEllipse(t *testing.T) {
	// Fitzgibbon, Pilu and Fisher 1999 and Halir and Flusser 1998 print no
	// figures; these were computed apart, with 4AC - B² = 1.
	want := conic{0.401617429, 0.25435453, 0.662755243, -5.35699766, -8.00803061, 28.8746757}
	c, ok := directFit(ganderEllipse)
	if !ok {
		t.Fatal("no ellipse")
	}
	for i := range want {
		near(t, "ABCDEF"[i:i+1], c[i], want[i], 1e-6)
	}
	o, ok := c.oval()
	if !ok {
		t.Fatal("no ellipse")
	}
	a, b, angle := o.axes()
	near(t, "x", o.c.X, 5.06387772, 1e-7)
	near(t, "y", o.c.Y, 5.06975270, 1e-7)
	near(t, "a", a, 3.77566371, 1e-7)
	near(t, "b", b, 2.64233400, 1e-7)
	near(t, "angle", angle, -0.38612004, 1e-7)
}

func TestExactEllipse(t *testing.T) {
	// Nine points on centre (3, -1), half axes 5 and 2, turned by 20 degrees.
	e := Ellipse{Point{3, -1}, 5, 2, 20}
	var points []Point
	for i := range 9 {
		points = append(points, e.At(timing.Deg(40*i)))
	}
	got, rms, err := FitEllipse(points)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"x", got.Centre.X, 3}, {"y", got.Centre.Y, -1}, {"a", got.Major, 5}, {"b", got.Minor, 2}, {"turned", float64(got.Turned), 20}, {"rms", rms, 0}} {
		near(t, c.what, c.got, c.want, 1e-8)
	}
	c, _ := directFit(points)
	o, ok := c.oval()
	if !ok {
		t.Fatal("no direct ellipse")
	}
	a, b, angle := o.axes()
	near(t, "direct a", a, 5, 1e-8)
	near(t, "direct b", b, 2, 1e-8)
	near(t, "direct angle", angle, timing.Deg(20).Radians(), 1e-8)
}

func TestExactCircle(t *testing.T) {
	var points []Point
	for i := range 7 {
		sin, cos := math.Sincos(float64(i))
		points = append(points, Point{1000 + 300*cos, 800 + 300*sin})
	}
	e, rms, err := FitEllipse(points)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a", e.Major, 300, 1e-7)
	near(t, "b", e.Minor, 300, 1e-7)
	near(t, "rms", rms, 0, 1e-7)
}

func TestCircles(t *testing.T) {
	// Gander, Golub and Strebel 1994 print 4.7398, 2.9835, 4.7142. The other two
	// sets and their geometric fits to fewer digits: SciPy Cookbook, Least
	// squares circle. The digits beyond print were computed apart.
	full := []Point{{9, 34}, {35, 10}, {-13, 6}, {10, -14}, {23, 27}, {0, -10}}
	arc := []Point{{36, 14}, {36, 10}, {19, 28}, {18, 31}, {33, 18}, {26, 26}}
	for _, c := range []struct {
		name            string
		points          []Point
		kasaX, kasaY, k float64
		x, y, r, ssr    float64
	}{
		{"paper", ganderCircle, 4.74233129, 3.83512270, 4.10876152, 4.73978241, 2.98353271, 4.71422603, 1.22759908},
		{"full circle", full, 10.55231, 9.70590, 23.36241056, 10.50008622, 9.65994950, 23.33352765, 7.711852},
		{"short arc", arc, 15.05503, 8.83615, 20.85072309, 9.88756596, 3.68749668, 27.35044397, 4.042522},
	} {
		lin, ok := kasa(c.points)
		if !ok {
			t.Fatal(c.name)
		}
		near(t, c.name+", Kasa x", lin.c.X, c.kasaX, 6e-6)
		near(t, c.name+", Kasa y", lin.c.Y, c.kasaY, 6e-6)
		near(t, c.name+", Kasa r", lin.r, c.k, 1e-7)
		geo, ok := fitCircle(c.points, nil, fitSteps)
		if !ok {
			t.Fatal(c.name)
		}
		near(t, c.name+", x", geo.c.X, c.x, 1e-6)
		near(t, c.name+", y", geo.c.Y, c.y, 1e-6)
		near(t, c.name+", r", geo.r, c.r, 1e-6)
		_, ssr := geo.distances(c.points, geo.weights(nil, c.points, nil))
		near(t, c.name+", sum of squares", ssr, c.ssr, 1e-6)
	}
}

// A circle seen at a tilt t without perspective squeezes it to cos t across the
// axis of tilt; hand calculation.
func TestTiltTakenOut(t *testing.T) {
	for _, c := range []struct{ tilt, truth, apparent float64 }{
		{30, 15, 13.06431343}, {30, 45, 40.89339465}, {30, 120, 123.6900675}, {20, 45, 43.21917889}, {10, 45, 44.56145141},
	} {
		cos := math.Cos(c.tilt * math.Pi / 180)
		o := oval{Point{500, 400}, [3]float64{200, 0, 200 * cos}}
		back, _ := o.face().inverse()
		sin, cs := math.Sincos(c.apparent * math.Pi / 180)
		p, _ := back.apply(Point{500 + 100*cs, 400 + 100*sin})
		// printed to seven decimals
		near(t, "true direction", math.Atan2(p.Y, p.X)*180/math.Pi, c.truth, 1e-7)
	}
	// The largest error that leaving the tilt in makes: asin((1-cos t)/(1+cos t)).
	for tilt, want := range map[float64]float64{10: 0.438561434, 20: 1.78168190, 30: 4.11719427} {
		o := oval{Point{}, [3]float64{1, 0, math.Cos(tilt * math.Pi / 180)}}
		back, _ := o.face().inverse()
		worst := 0.0
		for i := range 18000 {
			a := float64(i) * math.Pi / 18000
			p, _ := back.apply(Point{math.Cos(a), math.Sin(a)})
			worst = math.Max(worst, math.Abs(math.Atan2(p.Y, p.X)-a)*180/math.Pi)
		}
		near(t, "largest error", worst, want, 1e-6)
	}
}

func TestNearestPoint(t *testing.T) {
	// Against a search in steps.
	o := oval{Point{3, -2}, [3]float64{5, 1.2, 2}}
	for _, p := range []Point{{3, -2}, {3.1, -2}, {9, 9}, {3, 0}, {4, -1.7}, {-8, -2}, {20, -30}} {
		_, n, d := o.nearest(p)
		best := math.Inf(1)
		for i := range 200000 {
			sin, cos := math.Sincos(float64(i) * math.Pi / 100000)
			q := Point{o.c.X + o.s[0]*cos + o.s[1]*sin, o.c.Y + o.s[1]*cos + o.s[2]*sin}
			best = math.Min(best, q.minus(p).length())
		}
		near(t, "distance", math.Abs(d), best, 1e-7)
		near(t, "normal", n.length(), 1, 1e-12)
	}
}

func TestStudent(t *testing.T) {
	// JCGM 100:2008, table G.2, 95 %: two decimals.
	for n, want := range map[float64]float64{3: 3.18, 4: 2.78, 5: 2.57, 6: 2.45, 8: 2.31, 10: 2.23, 20: 2.09, 50: 2.01, 100: 1.984} {
		near(t, "t", student95(n), want, 0.006)
	}
}
