package cause

import (
	"fmt"
	"slices"
	"testing"

	"pinphase.org/pinphase/timing"
)

// six is an invented even six: a dowel drawn at 12.5 degrees, teeth of 10 crank
// degrees, a 60-tooth wheel.
func six() Engine {
	a := timing.Deg(12.5)
	return Engine{Strokes: 4, Interval: 120, CrankTeeth: 36, Idlers: true, Dowel: &a, Positions: 60, OneGap: true}
}

func rank(t testing.TB, e Engine, o Options, evidence ...Evidence) *Ranking {
	t.Helper()
	r, err := Rank(e, evidence, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestNoEvidenceLeavesThePriors(t *testing.T) {
	for name, o := range map[string]Options{"": {}, "own": {Priors: map[string]float64{"bad fuel": 0.3, "keyway off": 0}}} {
		r := rank(t, six(), o)
		all := 0.0
		for _, c := range r.Causes {
			all += c.Probability
			if !near(c.Probability, c.Prior, 1e-9) {
				t.Errorf("%s: %s is %g, its prior %g", name, c.Name(), c.Probability, c.Prior)
			}
		}
		if !near(all, 1, 1e-9) {
			t.Errorf("%s: they add up to %g", name, all)
		}
	}
	r := rank(t, six(), Options{Priors: map[string]float64{"bad fuel": 0.3, "keyway off": 0}})
	if c := r.Find("bad fuel"); !near(c.Prior, 0.3*(1-PairShare), 1e-12) || r.Find("keyway off") != nil {
		t.Errorf("bad fuel %g, keyway off %v", c.Prior, r.Find("keyway off"))
	}
}

// Hand calculation: looked at, bad fuel is seen in 0.93 and taken for bad in 0.002,
// and one look in 1000 is worth nothing; odds against no fuel pressure 0.025 to 0.07.
func TestOneLook(t *testing.T) {
	r := rank(t, six(), Options{PairShare: &alone}, Evidence{Kind: "fuel_sample", Value: "bad"})
	want := 0.025 / 0.07 * (0.999*0.93 + 0.001/2) / (0.999*0.002 + 0.001/2)
	if got := r.Find("bad fuel").Probability / r.Find("no fuel pressure").Probability; !near(got/want, 1, 1e-9) {
		t.Errorf("odds %g, want %g", got, want)
	}
	all := 0.975*(0.999*0.002+0.001/2) + 0.025*(0.999*0.93+0.001/2)
	if got := r.Find("bad fuel").Probability; !near(got, 0.025*(0.999*0.93+0.001/2)/all, 1e-9) {
		t.Errorf("probability %g", got)
	}
}

// By hand, design of the signs: wheel error delta = keyway + dowel + wheel, cam
// error gamma = keyway + slip + teeth + cam wheel, correlation delta - gamma.
func TestSigns(t *testing.T) {
	e := six().withDefaults()
	for _, c := range []struct {
		name                              string
		s                                 State
		correlation, tdc, valves, cam, wh float64
	}{
		{"dowel mirrored", State{Dowel: -25}, -25, -25, 0, 0, -25},
		{"cam gear a tooth ahead", State{CamOut: 1}, -10, 0, 10, 10, 0},
		{"crank gear a tooth behind", State{CrankOut: -1}, 10, 0, -10, -10, 0},
		{"keyway ahead, dowel set out from it", State{Keyway: 4}, 0, 4, 4, 4, 4},
		{"keyway ahead, dowel right", State{Keyway: 4, Dowel: -4}, -4, 0, 4, 4, 0},
		{"key sheared, gear behind", State{Slip: -7}, 7, 0, -7, -7, 0},
		{"cam wheel behind", State{CamWheel: -12}, 12, 0, 0, -12, 0},
		{"half a turn", State{CamWheel: 360}, -360, 0, 0, 360, 0},
	} {
		got := []float64{correlation(&e, &c.s).at, tdcOffset(&e, &c.s).at, valveTiming(&e, &c.s).at}
		if want := []float64{c.correlation, c.tdc, c.valves}; !slices.Equal(got, want) {
			t.Errorf("%s: correlation, TDC and valves %v, want %v", c.name, got, want)
		}
		w, cam, v := c.s.Errors(six())
		if float64(w) != c.wh || float64(cam) != c.cam || float64(v) != c.valves {
			t.Errorf("%s: wheel %g, cam %g, valves %g", c.name, float64(w), float64(cam), float64(v))
		}
	}
}

// Plain cases that anybody can follow.
func TestPlainCases(t *testing.T) {
	no := Evidence{Kind: "starts", Value: false}
	for _, c := range []struct {
		want     string
		evidence []Evidence
	}{
		{"dowel mirrored", []Evidence{{"correlation_error_deg", -25.3, 1}, no}},
		{"dowel mirrored", []Evidence{{"dowel_error_deg", -25.0, 0.4}}},
		{"cam gear out by teeth", []Evidence{{"correlation_error_deg", -10.2, 1}, {Kind: "cam_gear_marks_teeth", Value: 1.0}}},
		{"crank gear out by teeth", []Evidence{{"correlation_error_deg", 10.2, 1}, {Kind: "crank_gear_marks_teeth", Value: -1.0}}},
		{"keyway off", []Evidence{{"keyway_error_deg", 6.0, 0.4}, {"correlation_error_deg", 0.2, 1}}},
		{"key sheared or stepped", []Evidence{{"correlation_error_deg", 17.0, 1}, {Kind: "crank_key", Value: "sheared"}}},
		{"cam wheel half a turn out", []Evidence{{"correlation_error_deg", 359.5, 1}, {Kind: "starts_cam_unplugged", Value: true}}},
		{"wheel of another part number", []Evidence{{"correlation_error_deg", 42.0, 0.3}, {Kind: "wheel_number", Value: "other"}}},
		{"wheel back to front", []Evidence{{"correlation_error_deg", 137.4, 0.3}, {Kind: "wheel_side", Value: "back to front"}}},
		{"crank sensor dead or its gap wrong", []Evidence{{Kind: "crank_signal", Value: "none"}, {Kind: "sensor_supply", Value: "good"}, no}},
		{"cam sensor dead or its gap wrong", []Evidence{{Kind: "cam_signal", Value: "none"}, {Kind: "starts", Value: true}}},
		{"no fuel pressure", []Evidence{no, {"rail_pressure_bar", 45.0, 10}, {Kind: "smoke", Value: "none"}, {Kind: "controller_speed", Value: "as cranked"}, {Kind: "fuel_lines", Value: "good"}}},
		{"poor compression", []Evidence{no, {"compression_bar", 13.0, 1}, {Kind: "leak_down", Value: "past the rings"}}},
		{"cranks too slowly", []Evidence{no, {"cranking_rpm", 85.0, 5}}},
		{"injectors or their leads crossed", []Evidence{no, {Kind: "injector_leads", Value: "crossed"}}},
	} {
		r := rank(t, six(), Options{}, c.evidence...)
		if got := r.Causes[0]; got.Name() != c.want || got.Probability < 0.5 {
			t.Errorf("%v: %s %.3f, want %s", c.evidence, got.Name(), got.Probability, c.want)
		}
		if k := r.Clash(); k != nil {
			t.Errorf("%v: contradictory: %+v", c.evidence, k)
		}
	}
	// Two at once, each seen by itself.
	r := rank(t, six(), Options{}, Evidence{"dowel_error_deg", -25.0, 0.3}, Evidence{"rail_pressure_bar", 40.0, 10}, Evidence{Kind: "fault_code", Value: "P0087"})
	if got := r.Causes[0].Name(); got != "dowel mirrored and no fuel pressure" {
		t.Errorf("two at once: %s", got)
	}
}

func TestReplacedParts(t *testing.T) {
	bare := rank(t, six(), Options{})
	crank := rank(t, six(), Options{}, Evidence{Kind: "replaced", Value: "crankshaft"})
	pump := rank(t, six(), Options{}, Evidence{Kind: "replaced_in_vain", Value: "pump"})
	if a, b := bare.Single("dowel mirrored"), crank.Single("dowel mirrored"); b < 2.5*a || b > 4*a {
		t.Errorf("a new crankshaft takes the dowel from %g to %g", a, b)
	}
	if a, b := bare.Single("no fuel pressure"), pump.Single("no fuel pressure"); b > a/5 {
		t.Errorf("a pump replaced in vain takes fuel pressure from %g to %g", a, b)
	}
	if reasons := crank.Reasons(crank.Find("dowel mirrored")); len(reasons) != 1 || reasons[0].Factor < 2 {
		t.Errorf("reasons %+v", reasons)
	}
	for _, p := range parts {
		for _, name := range append(slices.Clone(p.brings), p.cures...) {
			if !slices.ContainsFunc(faults, func(f Fault) bool { return f.Name == name }) {
				t.Errorf("%s: there is no fault %q", p.name, name)
			}
		}
	}
}

// It cranks and will not start, and the cam's edges come 25 degrees late. What is
// it, and what to check?
func ExampleRank() {
	dowel := timing.Deg(12.5) // from the keyway, by the drawing
	e := Engine{Strokes: 4, Interval: 120, CrankTeeth: 36, Idlers: true, Dowel: &dowel, Positions: 60, OneGap: true}
	r, err := Rank(e, []Evidence{{Kind: "starts", Value: false}, {Kind: "correlation_error_deg", Value: -25.3, U: 1}}, Options{})
	if err != nil {
		panic(err)
	}
	fault, p := r.Leading()
	fmt.Printf("%s: %.2f\n", fault, p)
	// Output:
	// dowel mirrored: 0.96
}
