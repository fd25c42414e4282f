package piston

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// Engines of general literature's kinds: a small car engine with swirl chamber's
// ratio, two of truck size, a slow large one, and the geometry of an open
// university single-cylinder data set (bore 104, stroke 85, rod 136.5 mm,
// 21.5:1). Turned by a starter at a mild temperature with injection where such
// engines have it they light; 40 degrees after top dead centre they do not.
func TestHealthyEnginesLight(t *testing.T) {
	for _, e := range []struct {
		name                string
		bore, stroke, rod   float64
		ratio, rpm, closes_ float64
		btdc                timing.Deg
	}{
		{"single cylinder of a university", 104, 85, 136.5, 21.5, 250, -135, 3.2},
		{"small car", 80, 86, 140, 19.5, 250, -145, 6},
		{"light truck", 100, 110, 180, 17, 200, -140, 8},
		{"heavy truck", 130, 150, 260, 16.5, 160, -140, 10},
		{"large and slow", 200, 240, 480, 15, 110, -145, 12},
	} {
		t.Run(e.name, func(t *testing.T) {
			cyl := Cylinder{SliderCrank{ThrowMM: e.stroke / 2, RodMM: e.rod}, e.bore, e.ratio}
			c := Charge{Cylinder: cyl, Closes: timing.Deg(e.closes_), Opens: 130, AtClosing: Gas{20 + 10 + 273.15, 1.013}, Exponent: DefaultExponent}
			if err := c.Check(); err != nil {
				t.Fatal(err)
			}
			p := c.Path()
			table := p.Integral(Wolfer(), Running{RPM: e.rpm, MeanPistonMS: cyl.MeanSpeedMS(e.rpm), Cetane: 50, Phi: 0.6, CetanePower: 1})
			if at, ok := table.Lights(-e.btdc); !ok || at > 25 {
				t.Errorf("injected %g before TDC it lights at %g (%v)", float64(e.btdc), float64(at), ok)
			}
			if at, ok := table.Lights(40); ok {
				t.Errorf("injected 40 after TDC it lights at %g", float64(at))
			}
			w, ok := p.Window(table)
			if !ok || !w.Holds(-e.btdc) || w.Holds(40) {
				t.Errorf("window %+v (%v) for %g before TDC", w, ok, float64(e.btdc))
			}
		})
	}
}

func TestWindow(t *testing.T) {
	mild, r := warmPath()
	c := mild.Charge()
	c.Exponent = DefaultExponent
	p := c.Path()
	w, ok := p.Window(p.Integral(Wolfer(), r))
	if !ok || w.Limit != ByCold {
		t.Fatalf("%+v, %v", w, ok)
	}
	near(t, "gas at the early end", p.At(w.Early).K, SprayK, 1e-2)
	// A hot engine lights long before top dead centre: kick-back sets the limit.
	hot := mild.Charge()
	hot.AtClosing.K = 345
	q := hot.Path()
	table := q.Integral(Wolfer(), r)
	w, ok = q.Window(table)
	if !ok || w.Limit != ByKickBack {
		t.Fatalf("hot: %+v, %v", w, ok)
	}
	at, _ := table.Lights(w.Early)
	near(t, "light from the early end", float64(at), -float64(KickBack), 1e-6)
	// A cold one has none, by the strictest correlation.
	cold, coldR := coldPath()
	if w, ok := cold.Window(cold.Integral(Stringer(), coldR)); ok {
		t.Errorf("cold: %+v", w)
	}
	for l, want := range map[EarlyLimit]string{ByCold: "cold", ByKickBack: "kick-back", ByClosing: "closing"} {
		if l.String() != want {
			t.Errorf("%d is %q", l, l)
		}
	}
}

// Inside the window fuel lights, and not before the kick-back limit; a charge
// that never warms up has its window begin at closing.
func TestWindowLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, r := anyCharge(t)
		p := c.Path()
		for _, k := range Correlations() {
			table := p.Integral(k, r)
			w, ok := p.Window(table)
			if !ok {
				continue
			}
			soi := w.Early + timing.Deg(rapid.Float64Range(0.001, 0.999).Draw(t, "in the window"))*(w.Late-w.Early)
			at, lights := table.Lights(soi)
			if !lights || at < -KickBack-1e-6 {
				t.Fatalf("%s from %g in the window %+v: lights at %g, %v", k.Name, float64(soi), w, float64(at), lights)
			}
			if _, hot := p.Hottest(); (w.Limit == ByClosing) != (hot.K < SprayK) && w.Limit != ByKickBack {
				t.Fatalf("%s: limit %v with %g K at most", k.Name, w.Limit, hot.K)
			}
			if math.IsNaN(float64(w.Early + w.Late)) {
				t.Fatalf("%+v", w)
			}
		}
	})
}

// By how much may injection be off on the warm path?
func ExamplePath_Window() {
	p, r := warmPath()
	w, _ := p.Window(p.Integral(Wolfer(), r))
	fmt.Printf("from %.0f before to %.0f after top dead centre\n", float64(-w.Early), float64(w.Late))
	// Output: from 22 before to 11 after top dead centre
}
