package part

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// A second way to the reading: the outlines of pin and key as points, and how far
// they reach. On the key the jaws are two planes square to its flank; at the
// keyway the caliper's line passes from the edge through the pin's centre.
func TestCaliperAgainstOutlines(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(20, 85).Draw(t, "angle")
		c := Caliper{
			Over: Over(rapid.IntRange(0, 1).Draw(t, "over")), On: Seat(rapid.IntRange(0, 1).Draw(t, "on")),
			PinMM: rapid.Float64Range(3, 10).Draw(t, "pin"), KeyMM: rapid.Float64Range(4, 12).Draw(t, "key"),
			Radius1: rapid.Float64Range(40, 60).Draw(t, "pin radius"), Radius2: rapid.Float64Range(20, 35).Draw(t, "shaft radius"),
		}
		// x out along the keyway, y square to it.
		sin, cos := math.Sincos(a * math.Pi / 180)
		px, py := c.Radius1*cos, c.Radius1*sin
		sign := c.Over.sign()
		edgeY := -sign * c.KeyMM / 2
		edgeX := math.Sqrt(c.Radius2*c.Radius2 - edgeY*edgeY)
		furthest, nearest := math.Inf(-1), math.Inf(1)
		for i := range 20000 {
			s, k := math.Sincos(float64(i) * 2 * math.Pi / 20000)
			x, y := px+c.PinMM/2*k, py+c.PinMM/2*s
			d := y - edgeY
			if c.On == OnKeyway {
				d = math.Hypot(x-edgeX, y-edgeY)
			}
			furthest, nearest = math.Max(furthest, d), math.Min(nearest, d)
		}
		want := furthest
		if c.Over == Inside {
			want = nearest
		}
		got, err := c.For(timing.Deg(a))
		if err != nil {
			t.Skip(err) // the pin is in the key's way
		}
		if math.Abs(got-want) > 1e-4 {
			t.Fatalf("reads %g, by the outlines %g", got, want)
		}
		c.ReadingMM = got
		m, err := c.Measure(noseClockwise)
		if err != nil || math.Abs(float64(m.Value)-a) > 1e-7 {
			t.Fatalf("angle %g, want %g (%v)", float64(m.Value), a, err)
		}
	})
}

// On the key u(A) = u(reading)/(r cos A): how deep the keyway is cut does not
// enter, and the pin's radius only with tan A.
func TestCaliperOnTheKeyIsSure(t *testing.T) {
	t.Parallel()
	c := Caliper{PinMM: 8, KeyMM: 10, Radius1: 38, UReading: known(0.1), URadiusOwn: known(0), USizeOwn: known(0)}
	c.ReadingMM, _ = c.For(30)
	near(t, "u", float64(measure(t, c, noseClockwise).U), 0.1/(38*math.Cos(math.Pi/6))*180/math.Pi, 1e-9)
	c.URadiusOwn = known(0.1)
	sure := measure(t, c, noseClockwise)
	chord := Chord{ChordMM: ChordFor(30, 38, 24), Radius1: 38, Radius2: 24, UChord: known(0.1)}
	if rough := measure(t, chord, noseClockwise); rough.U < 1.3*sure.U {
		t.Errorf("from centre to centre %g, over the key %g", float64(rough.U), float64(sure.U))
	}
	c.Side = timing.Anticlockwise
	near(t, "on the other side", float64(measure(t, c, noseClockwise).Value), -30, 1e-9)
}

func TestCaliperReadingsThatFitNothing(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		Caliper
		says string
	}{
		{Caliper{ReadingMM: 60, PinMM: 8, KeyMM: 10, Radius1: 38}, "only 38 mm from the axis"},
		{Caliper{ReadingMM: 10, PinMM: 8, KeyMM: 10, Radius1: 38}, "more than either"},
		{Caliper{ReadingMM: 7, PinMM: 8, KeyMM: 6, Radius1: 38}, "more than either"},
		{Caliper{ReadingMM: 0, Over: Inside, PinMM: 8, KeyMM: 6, Radius1: 38}, "reads 0 mm"},
		{Caliper{ReadingMM: math.NaN(), PinMM: 8, KeyMM: 6, Radius1: 38}, "reads NaN mm"},
		{Caliper{ReadingMM: 20, On: OnKeyway, PinMM: 8, KeyMM: 50, Radius1: 38, Radius2: 24}, "more than either"},
		{Caliper{ReadingMM: 20, Over: Inside, On: OnKeyway, PinMM: 8, KeyMM: 50, Radius1: 38, Radius2: 24}, "does not fit"},
		{Caliper{ReadingMM: 90, On: OnKeyway, PinMM: 8, KeyMM: 10, Radius1: 38, Radius2: 24}, "between 14 and 62"},
		{Caliper{ReadingMM: 20, Again: []float64{20, 60}, PinMM: 8, KeyMM: 10, Radius1: 38}, "only 38 mm"},
	} {
		_, err := c.Measure(noseClockwise)
		if !errors.Is(err, ErrNoTriangle) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: error %v, want %q", c.Caliper, err, c.says)
		}
	}
	if _, err := (Caliper{PinMM: 8, KeyMM: 10, Radius1: 38}).For(120); err == nil {
		t.Error("beyond a right angle the jaw on the key reads as before it")
	}
}

// Outside over an 8 mm dowel and the far side of a 10 mm key the caliper reads
// 28.0 mm; the dowel's centre is 38 mm out. Where is the dowel, and what would
// make it surer?
func ExampleCaliper_Measure() {
	view := timing.View{From: timing.Nose, Rotation: timing.Clockwise}
	m, _ := Caliper{
		ReadingMM: 28.0, Over: Outside, On: OnKey, PinMM: 8, KeyMM: 10, Radius1: 38, Side: timing.Clockwise,
		UReading: Given{U: 0.05, Known: true}, URadiusOwn: Given{U: 0.2, Known: true}, USizeOwn: Given{U: 0.01, Known: true},
	}.Measure(view)
	fmt.Printf("%.2f ± %.2f degrees\n", float64(m.Value), float64(m.U))
	for _, s := range m.Budget {
		fmt.Printf("%-8s %5.1f %%\n", s.Reading, 100*s.Share)
	}
	// Output:
	// 30.00 ± 0.20 degrees
	// radius 1  79.7 %
	// chord     19.9 %
	// pin        0.2 %
	// key        0.2 %
}
