package part

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase/timing"
)

var noseClockwise = timing.View{From: timing.Nose, Rotation: timing.Clockwise}

func known(u float64) Given { return Given{u, true} }

func measure(t *testing.T, r Reading, v timing.View) Result {
	t.Helper()
	m, err := r.Measure(v)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tol)
	}
}

// Triangles with angles known from geometry (sides 30-40-50, equilateral,
// 7-8-13 and 3-7-8), and the chord slope dA/dc = c/(r1 r2 sin A).
func TestChordByKnownTriangles(t *testing.T) {
	for _, c := range []struct{ r1, r2, chord, angle, perMM float64 }{
		{40, 30, 50, 90, 2.3873241},
		{80, 80, 80, 60, 0},
		{8, 7, 13, 120, 0},
		{8, 3, 7, 60, 0},
		{100, 60, 75, 48.3496321995, 0.95848993},
		{62.5, 62.5, 10, 9.17713147157, 0},
	} {
		m := measure(t, Chord{ChordMM: c.chord, Radius1: c.r1, Radius2: c.r2, UChord: known(0.01), URadiusOwn: known(0)}, noseClockwise)
		near(t, "angle", float64(m.Value), c.angle, 1e-9)
		if c.perMM > 0 {
			near(t, "u for 0.01 mm of chord", float64(m.U), c.perMM/100, 1e-8)
		}
	}
}

// Chords of the unit circle: Machinery's Handbook, table of chords for spacing
// holes round a circle (from memory), 2 sin(180/n).
func TestChordTable(t *testing.T) {
	for n, chord := range map[float64]float64{3: 1.732050808, 5: 1.175570505, 7: 0.8677674782, 12: 0.5176380902, 36: 0.1743114855, 60: 0.1046719125} {
		m := measure(t, Chord{ChordMM: chord * 50, Radius1: 50}, noseClockwise)
		near(t, fmt.Sprintf("one of %g holes", n), float64(m.Value), 360/n, 1e-6)
	}
}

// The same 12.5 mm at a radius of 62.5 mm read as an arc and as a chord.
func TestArcAgainstChord(t *testing.T) {
	arc := measure(t, Arc{ArcMM: 12.5, RimRadiusMM: 62.5}, noseClockwise)
	near(t, "arc", float64(arc.Value), 11.4591559026, 1e-9)
	chord := measure(t, Chord{ChordMM: 12.5, Radius1: 62.5}, noseClockwise)
	near(t, "chord", float64(chord.Value), 11.4783409545, 1e-9)
	near(t, "arc u", float64(measure(t, Arc{ArcMM: 12.5, RimRadiusMM: 62.5, UArc: known(0.3), URadiusOwn: known(0)}, noseClockwise).U), 0.3/62.5*180/math.Pi, 1e-12)
}

// Inspection coordinates: centre (20,30), features (92.5,40) and (20,90.5) lie
// 82.1466866980 degrees apart, the second anticlockwise of the first.
func TestCoordinates(t *testing.T) {
	c := Coordinates{Centre: Point{20, 30}, From: Point{92.5, 40}, To: Point{20, 90.5}, U: known(0.05)}
	m := measure(t, c, noseClockwise)
	near(t, "seen from the nose", float64(m.Value), -82.1466866980, 1e-9)
	m = measure(t, c, timing.View{From: timing.Flywheel, Rotation: timing.Clockwise})
	near(t, "seen from the flywheel", float64(m.Value), 82.1466866980, 1e-9)
}

// The analytic uncertainties against plain numerical differentiation, the
// method of JCGM 100:2008, 5.1.3 note 2.
func TestUncertaintyAgainstNumericalSlopes(t *testing.T) {
	slope := func(f func(x float64) float64, x float64) float64 {
		h := 1e-5
		return (f(x+h) - f(x-h)) / (2 * h)
	}
	angleOf := func(r Reading) float64 {
		m, err := r.Measure(noseClockwise)
		if err != nil {
			t.Fatal(err)
		}
		return float64(m.Value)
	}
	rapid.Check(t, func(rt *rapid.T) {
		r1 := rapid.Float64Range(20, 60).Draw(rt, "r1")
		r2 := rapid.Float64Range(20, 60).Draw(rt, "r2")
		angle := rapid.Float64Range(0.2, 2.8).Draw(rt, "angle")
		chord := math.Sqrt(r1*r1 + r2*r2 - 2*r1*r2*math.Cos(angle))
		uc, ur := 0.05, 0.08
		got, _ := Chord{ChordMM: chord, Radius1: r1, Radius2: r2, UChord: known(uc), URadiusOwn: known(ur)}.Measure(noseClockwise)
		if got.InLine {
			return // the law of propagation is not used there; TestInLine covers it
		}
		sc := slope(func(x float64) float64 { return angleOf(Chord{ChordMM: x, Radius1: r1, Radius2: r2}) }, chord)
		s1 := slope(func(x float64) float64 { return angleOf(Chord{ChordMM: chord, Radius1: x, Radius2: r2}) }, r1)
		s2 := slope(func(x float64) float64 { return angleOf(Chord{ChordMM: chord, Radius1: r1, Radius2: x}) }, r2)
		want := math.Sqrt(sq(sc*uc) + sq(s1*ur) + sq(s2*ur))
		if math.Abs(float64(got.U)-want) > 1e-4*want {
			rt.Fatalf("chord: u %g, numerically %g", float64(got.U), want)
		}

		one, _ := Chord{ChordMM: 2 * r1 * math.Sin(angle/2), Radius1: r1, UChord: known(uc), URadiusOwn: known(ur)}.Measure(noseClockwise)
		c1 := 2 * r1 * math.Sin(angle/2)
		sc = slope(func(x float64) float64 { return angleOf(Chord{ChordMM: x, Radius1: r1}) }, c1)
		s1 = slope(func(x float64) float64 { return angleOf(Chord{ChordMM: c1, Radius1: x}) }, r1)
		want = math.Hypot(sc*uc, s1*ur)
		if !one.InLine && math.Abs(float64(one.U)-want) > 1e-4*want {
			rt.Fatalf("one radius: u %g, numerically %g", float64(one.U), want)
		}

		at := func(p []float64) Coordinates {
			return Coordinates{Centre: Point{p[0], p[1]}, From: Point{p[2], p[3]}, To: Point{p[4], p[5]}, U: known(0.05)}
		}
		p := []float64{1, 2, 1 + r1, 2, 1 + r2*math.Cos(angle), 2 + r2*math.Sin(angle)}
		sum := 0.0
		for i := range p {
			sum += sq(0.05 * slope(func(x float64) float64 {
				q := append([]float64(nil), p...)
				q[i] = x
				return angleOf(at(q))
			}, p[i]))
		}
		xy, _ := at(p).Measure(noseClockwise)
		if math.Abs(float64(xy.U)-math.Sqrt(sum)) > 1e-4*math.Sqrt(sum) {
			rt.Fatalf("coordinates: u %g, numerically %g", float64(xy.U), math.Sqrt(sum))
		}
	})
}

func TestInLine(t *testing.T) {
	for _, c := range []Chord{
		{ChordMM: 14, Radius1: 38, Radius2: 24, UChord: known(0.1)},
		{ChordMM: 62, Radius1: 38, Radius2: 24, UChord: known(0.1)},
		{ChordMM: 76, Radius1: 38, UChord: known(0.1)},
	} {
		m := measure(t, c, noseClockwise)
		if !m.InLine || !(m.U > 1) || m.U > 30 {
			t.Errorf("%+v: in line %v, u %g: a chord can hardly tell there", c, m.InLine, float64(m.U))
		}
	}
}

func TestLengthsThatFitNoCrankshaft(t *testing.T) {
	for _, r := range []Reading{
		Chord{ChordMM: 13.9, Radius1: 38, Radius2: 24},
		Chord{ChordMM: 62.1, Radius1: 38, Radius2: 24},
		Chord{ChordMM: math.NaN(), Radius1: 38},
		Arc{ArcMM: 200, RimRadiusMM: 60},
		Coordinates{Centre: Point{1, 1}, From: Point{1, 1}, To: Point{2, 2}},
	} {
		if _, err := r.Measure(noseClockwise); !errors.Is(err, ErrNoTriangle) {
			t.Errorf("%+v: error %v", r, err)
		}
	}
}

// Every way of looking at one dowel gives the same angle on the part.
func TestSameDowelFromEveryEnd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := timing.Deg(rapid.Float64Range(0.01, 179.9).Draw(t, "angle"))
		side := timing.Sense(rapid.IntRange(0, 1).Draw(t, "side"))
		rot := timing.Sense(rapid.IntRange(0, 1).Draw(t, "rotation"))
		nose := timing.View{From: timing.Nose, Rotation: rot}
		fly := timing.View{From: timing.Flywheel, Rotation: rot}
		a, _ := Angle{Deg: angle, Side: side}.Measure(nose)
		b, _ := Angle{Deg: angle, Side: side.Other()}.Measure(fly)
		c, _ := Chord{ChordMM: 2 * 40 * math.Sin(angle.Radians()/2), Radius1: 40, Side: side}.Measure(nose)
		if a.Value != b.Value || math.Abs(float64(a.Value-c.Value)) > 1e-6 {
			t.Fatalf("nose %g, flywheel %g, chord %g", float64(a.Value), float64(b.Value), float64(c.Value))
		}
		if (a.Value > 0) != (side == rot) {
			t.Fatalf("side %v with rotation %v gave %g", side, rot, float64(a.Value))
		}
	})
}

// A dowel 38 mm out, a keyway 24 mm out, 15.47 mm between their centres.
func ExampleChord_Measure() {
	view := timing.View{From: timing.Nose, Rotation: timing.Clockwise}
	m, _ := Chord{
		ChordMM: 15.47, Radius1: 38, Radius2: 24, Side: timing.Anticlockwise,
		UChord: Given{U: 0.1, Known: true},
	}.Measure(view)
	fmt.Printf("%.2f ± %.2f degrees\n", float64(m.Value), float64(m.U))
	// Output: -12.51 ± 0.72 degrees
}
