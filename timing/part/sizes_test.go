package part

import (
	"fmt"
	"math"
	"testing"
)

// Fits worked out by hand from the limits of ISO 286-2 (N9 and P9 from memory):
// clearance at most and at least, in mm, and the play it gives.
func TestPlayOfStandardFits(t *testing.T) {
	for _, c := range []struct {
		name         string
		inner, outer Class
		size, radius float64
		most, least  float64
		play         float64
	}{
		{"key 8 in a hub, normal, shaft 30", KeyH9, HubJS9, 8, 15, 0.054, -0.018, 0.20626481},
		{"key 8 in a shaft, normal", KeyH9, ShaftN9, 8, 15, 0.036, -0.036, 0.13750987},
		{"key 8 in a shaft, tight", KeyH9, SlotP9, 8, 15, 0.021, -0.051, 0.080214091},
		{"key 12 in a hub, shaft 44", KeyH9, HubJS9, 12, 22, 0.0645, -0.0215, 0.16798081},
		{"dowel 6 at 20", PinM6, HoleH7, 6, 20, 0.008, -0.012, 0.022918312},
		{"dowel 8 at 25", PinM6, HoleH7, 8, 25, 0.009, -0.015, 0.020626481},
	} {
		f, ok := FitOf(c.inner, c.outer, c.size)
		if !ok {
			t.Fatalf("%s: not in the table", c.name)
		}
		near(t, c.name+", most", f.MostMM, c.most, 1e-12)
		near(t, c.name+", least", f.LeastMM, c.least, 1e-12)
		near(t, c.name+", play", float64(f.Play(c.radius)), c.play, 1e-8)
	}
	if p := (Fit{LeastMM: -0.03, MostMM: -0.01}).Play(20); p != 0 {
		t.Errorf("a pressed pin has play %g", float64(p))
	}
}

func TestStandardSizes(t *testing.T) {
	for shaft, width := range map[float64]float64{17.5: 6, 22: 6, 22.1: 8, 30: 8, 40: 12, 44: 12, 65: 18} {
		if k, ok := KeyFor(shaft); !ok || k.Width != width {
			t.Errorf("shaft %g: key %+v", shaft, k)
		}
	}
	for _, shaft := range []float64{17, 65.1, 0, -1, math.NaN()} {
		if k, ok := KeyFor(shaft); ok {
			t.Errorf("shaft %g: key %+v", shaft, k)
		}
	}
	for i, k := range Keys {
		if i > 0 && (k.Over != Keys[i-1].UpTo || k.Width <= Keys[i-1].Width) {
			t.Errorf("key %g does not follow the one before", k.Width)
		}
		// What is not in the shaft is in the hub, with a little room above.
		if room := k.ShaftSlot + k.HubSlot - k.Height; room < 0.1 || room > 0.5 {
			t.Errorf("key %g: %g mm above it", k.Width, room)
		}
	}
	for class, list := range tolerances {
		if len(list) != len(toleranceSizes)-1 {
			t.Errorf("%s: %d rows", class, len(list))
		}
		for i, l := range list {
			if l.Lower >= l.Upper || i > 0 && l.Upper-l.Lower <= list[i-1].Upper-list[i-1].Lower && class != PinM6 {
				t.Errorf("%s: limits %+v", class, l)
			}
		}
	}
	if _, ok := LimitsOf("k6", 8); ok {
		t.Error("a class that is not in the table")
	}
	if _, ok := LimitsOf(KeyH9, 30.1); ok {
		t.Error("a size that is not in the table")
	}
	l, _ := LimitsOf(PinM6, 8)
	near(t, "u of a dowel pin 8 m6", l.StandardU(), 0.009/math.Sqrt(12), 1e-12)
}

// A shaft of 42 mm: which key, and how far can it let the hub turn?
func ExampleFitOf() {
	key, _ := KeyFor(42)
	fit, _ := FitOf(KeyH9, HubJS9, key.Width)
	fmt.Printf("%g x %g mm key, at most %.3f mm loose: %.2f degrees\n", key.Width, key.Height, fit.MostMM, float64(fit.Play(21)))
	// Output: 12 x 8 mm key, at most 0.065 mm loose: 0.18 degrees
}
