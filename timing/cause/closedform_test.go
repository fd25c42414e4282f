package cause

import (
	"math"
	"slices"
	"testing"

	"pinphase.org/pinphase/timing"
)

// An unknown angle is integrated over: the sum over the nodes against the closed
// form, a bell of 15 degrees widened by the reading's and an even share.
func TestUnknownAngleAgainstClosedForm(t *testing.T) {
	e := six().withDefaults()
	for _, at := range []float64{0, 3.3, -25, 90, 171} {
		for _, u := range []float64{0.1, 0.5, 2, 9} {
			ev := Evidence{"dowel_error_deg", at, u}
			s, err := ev.ready(&e)
			if err != nil {
				t.Fatal(err)
			}
			r := rank(t, six(), Options{})
			sd := math.Hypot(u, makingSD)
			wide := math.Hypot(15, sd)
			bellAt := math.Exp(-at*at/2/wide/wide) / wide / math.Sqrt(2*math.Pi)
			evenAt := 1.0 / 360 // round the circle nothing is lost at the ends
			want := 0.99*(0.6*bellAt+0.4*evenAt) + 0.01/360
			if got := r.alone(r.Find("dowel at a wrong angle"), s); !near(got/want, 1, 0.02) {
				t.Errorf("%g ± %g: %g, want %g", at, u, got, want)
			}
		}
	}
}

// A reading taken nine times with u of 1.5 is worth one with u of 0.5, were the
// sensors' own spread not taken as new each time: 0.5 degrees in quadrature with
// 1.5, over three.
func TestRepeatedReadings(t *testing.T) {
	var nine []Evidence
	for range 9 {
		nine = append(nine, Evidence{"correlation_error_deg", 33.0, 1.5})
	}
	u := math.Sqrt((1.5*1.5+signalSD*signalSD)/9 - signalSD*signalSD + 1e-12)
	many := rank(t, six(), Options{PairShare: &alone}, nine...)
	once := rank(t, six(), Options{PairShare: &alone}, Evidence{"correlation_error_deg", 33.0, u})
	// The one's misreading counts once, the nine's not at all: compare what reads right.
	for _, names := range [][2]string{{"wheel slipped", "wheel back to front"}, {"dowel at a wrong angle", "cam wheel slipped"}} {
		a := many.Find(names[0]).Probability / many.Find(names[1]).Probability
		b := once.Find(names[0]).Probability / once.Find(names[1]).Probability
		if !near(a/b, 1, 0.05) {
			t.Errorf("%s against %s: %g from nine readings, %g from one", names[0], names[1], a, b)
		}
	}
}

// Two unknown angles at once, against a plain sum over a fine square of both.
func TestTwoUnknownAnglesAgainstAFineSum(t *testing.T) {
	e := six().withDefaults()
	evidence := []Evidence{{"correlation_error_deg", 33.0, 1}, {"tdc_offset_deg", 12.0, 2}}
	var list []seen
	for _, ev := range evidence {
		s, err := ev.ready(&e)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, s)
	}
	at := func(name string) int { return slices.IndexFunc(faults, func(f Fault) bool { return f.Name == name }) }
	a, b := at("wheel slipped"), at("cam wheel slipped")
	in := integrator{e: &e, seen: list}
	got := 0.0
	in.visit([]int{a, b}, func(share float64, s *State) {
		got += share * list[0].likelihood(&e, s) * list[1].likelihood(&e, s)
	})
	wheel, cam := nearZero(0.5, 12, 180), nearZero(0.6, 20, 360)
	want := 0.0
	const step = 0.25
	for x := -180 + step/2; x < 180; x += step {
		l := list[1].likelihood(&e, &State{Wheel: timing.Deg(x)}) * wheel.density(x) * step
		if l < 1e-9 {
			continue
		}
		for y := -360 + step/2; y < 360; y += step {
			want += l * cam.density(y) * step * list[0].likelihood(&e, &State{Wheel: timing.Deg(x), CamWheel: timing.Deg(y)})
		}
	}
	if !near(got/want, 1, 0.06) {
		t.Errorf("%g, want %g", got, want)
	}
}
