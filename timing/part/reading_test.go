package part

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
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
	t.Parallel()
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
	t.Parallel()
	for n, chord := range map[float64]float64{3: 1.732050808, 5: 1.175570505, 7: 0.8677674782, 12: 0.5176380902, 13: 0.4786313286, 24: 0.2610523844, 36: 0.1743114855, 60: 0.1046719125} {
		m := measure(t, Chord{ChordMM: chord * 50, Radius1: 50}, noseClockwise)
		near(t, fmt.Sprintf("one of %g holes", n), float64(m.Value), 360/n, 1e-6)
	}
}

// The same 12.5 mm at a radius of 62.5 mm read as an arc and as a chord.
func TestArcAgainstChord(t *testing.T) {
	t.Parallel()
	arc := measure(t, Arc{ArcMM: 12.5, RimRadiusMM: 62.5}, noseClockwise)
	near(t, "arc", float64(arc.Value), 11.4591559026, 1e-9)
	chord := measure(t, Chord{ChordMM: 12.5, Radius1: 62.5}, noseClockwise)
	near(t, "chord", float64(chord.Value), 11.4783409545, 1e-9)
	// A locating hole 1 mm out at a radius of 25 mm, and of 40.
	near(t, "1 mm of arc at 25", float64(measure(t, Arc{ArcMM: 1, RimRadiusMM: 25}, noseClockwise).Value), 2.29183118, 1e-7)
	near(t, "1 mm of chord at 25", float64(measure(t, Chord{ChordMM: 1, Radius1: 25}, noseClockwise).Value), 2.29198400, 1e-7)
	near(t, "1 mm of arc at 40", float64(measure(t, Arc{ArcMM: 1, RimRadiusMM: 40}, noseClockwise).Value), 1.43239449, 1e-7)
	near(t, "arc u", float64(measure(t, Arc{ArcMM: 12.5, RimRadiusMM: 62.5, UArc: known(0.3), URadiusOwn: known(0)}, noseClockwise).U), 0.3/62.5*180/math.Pi, 1e-12)
}

// Inspection coordinates: centre (20,30), features (92.5,40) and (20,90.5) lie
// 82.1466866980 degrees apart, the second anticlockwise of the first.
func TestCoordinates(t *testing.T) {
	t.Parallel()
	c := Coordinates{Centre: Point{20, 30}, From: Point{92.5, 40}, To: Point{20, 90.5}, U: known(0.05)}
	m := measure(t, c, noseClockwise)
	near(t, "seen from the nose", float64(m.Value), -82.1466866980, 1e-9)
	m = measure(t, c, timing.View{From: timing.Flywheel, Rotation: timing.Clockwise})
	near(t, "seen from the flywheel", float64(m.Value), 82.1466866980, 1e-9)
}

// The propagated uncertainties against the slopes worked out by hand from the law
// of cosines and from atan2 (JCGM 100:2008, eq. 10).
func TestUncertaintyAgainstSlopesByHand(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		same := func(what string, got Result, err error, want float64) {
			if err != nil {
				t.Fatal(err)
			}
			if want *= 180 / math.Pi; got.Drawn == nil && math.Abs(float64(got.U)-want) > 1e-8*want {
				t.Fatalf("%s: u %g, by hand %g", what, float64(got.U), want)
			}
		}
		r1 := rapid.Float64Range(20, 60).Draw(t, "r1")
		r2 := rapid.Float64Range(20, 60).Draw(t, "r2")
		a := rapid.Float64Range(0.2, 2.8).Draw(t, "angle")
		sin, cos := math.Sincos(a)
		uc, ur := 0.05, 0.08

		chord := ChordFor(timing.FromRadians(a), r1, r2)
		dc := chord / (r1 * r2 * sin)
		d1, d2 := (cos/r1-1/r2)/sin, (cos/r2-1/r1)/sin
		m, err := Chord{ChordMM: chord, Radius1: r1, Radius2: r2, UChord: known(uc), URadiusOwn: known(ur)}.Measure(noseClockwise)
		same("chord", m, err, math.Sqrt(sq(dc*uc)+sq(d1*ur)+sq(d2*ur)))

		// On one radius A = 2 asin(c/2r).
		m, err = Chord{ChordMM: ChordFor(timing.FromRadians(a), r1, r1), Radius1: r1, UChord: known(uc), URadiusOwn: known(ur)}.Measure(noseClockwise)
		same("one radius", m, err, math.Hypot(uc/(r1*math.Cos(a/2)), ur*2*math.Tan(a/2)/r1))

		m, err = Arc{ArcMM: a * r1, RimRadiusMM: r1, UArc: known(uc), URadiusOwn: known(ur)}.Measure(noseClockwise)
		same("arc", m, err, math.Hypot(uc, a*ur)/r1)

		// Each feature enters with 1/r, the centre with the difference of their
		// gradients, whose length is chord/(r1 r2).
		m, err = Coordinates{Centre: Point{1, 2}, From: Point{1 + r1, 2}, To: Point{1 + r2*cos, 2 + r2*sin}, U: known(uc)}.Measure(noseClockwise)
		same("coordinates", m, err, uc*math.Sqrt(1/(r1*r1)+1/(r2*r2)+sq(chord/(r1*r2))))

		// sin A = (c − (p+k)/2)/r on the key.
		if a < 1.2 {
			k := Caliper{PinMM: 8, KeyMM: 10, Radius1: r1, UReading: known(uc), URadiusOwn: known(ur), USizeOwn: known(0.02)}
			if k.ReadingMM, err = k.For(timing.FromRadians(a)); err == nil {
				m, err = k.Measure(noseClockwise)
				same("caliper", m, err, math.Sqrt(sq(uc)+sq(ur*sin)+sq(0.02)/2)/(r1*cos))
			}
		}
	})
}

func TestInLine(t *testing.T) {
	t.Parallel()
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
	t.Parallel()
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
	t.Parallel()
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
