package cause

import (
	"slices"
	"testing"
)

func TestContradictions(t *testing.T) {
	for _, c := range []struct {
		name     string
		evidence []Evidence
		want     []int
	}{
		{"two numbers", []Evidence{says("smoke", "white"), num("correlation_error_deg", -25, 1), num("correlation_error_deg", 3, 1)}, []int{1, 2}},
		{"two words", []Evidence{says("wheel_side", "right"), says("wheel_side", "back to front")}, []int{0, 1}},
		{"it starts and does not", []Evidence{says("starts", true), says("starts", false)}, []int{0, 1}},
		{"the dowel measured right, seen on the other side", []Evidence{num("dowel_error_deg", 0, 0.5), says("smoke", "white"), says("dowel_side", "other side")}, []int{0, 2}},
		{"it starts without rail pressure", []Evidence{num("rail_pressure_bar", 0, 15), says("starts", true)}, []int{0, 1}},
		{"the keyway is off, the valves are not", []Evidence{num("keyway_error_deg", 10, 0.5), num("valve_timing_error_deg", 0, 1)}, []int{0, 1}},
		{"wheel and TDC", []Evidence{num("dowel_error_deg", -25, 0.3), num("tdc_offset_deg", 10, 1), num("correlation_error_deg", -25, 1), num("keyway_error_deg", 0, 0.3),
			says("wheel_seat", "tight"), says("wheel_number", "right"), says("wheel_side", "right")}, []int{0, 1}},
		{"more rail pressure than there is", []Evidence{says("starts", false), num("rail_pressure_bar", 2500, 15)}, []int{1}},
		{"an angle is off, and all that could be is right", []Evidence{says("starts", false), says("dowel_side", "same side"), num("dowel_error_deg", 0, 0.3), num("correlation_error_deg", -40.8, 0.5),
			says("wheel_seat", "tight"), says("wheel_side", "right"), says("wheel_number", "right"), num("valve_timing_error_deg", 0, 1), says("cam_wheel_seat", "right"), says("crank_key", "good"), says("cam_gear_seat", "tight")}, nil},
		{"three faults seen", []Evidence{says("injector_leads", "crossed"), says("order_set", "wrong"), says("fuel_sample", "bad"), says("crank_key", "sheared")}, nil},
	} {
		r := rank(t, six(), Options{}, c.evidence...)
		k := r.Clash()
		if k == nil {
			all, each := r.explained()
			t.Errorf("%s: is not called contradictory: %s %.3f, %s %.3f, explained %.3f %.3f", c.name, r.Causes[0].Name(), r.Causes[0].Probability, r.Causes[1].Name(), r.Causes[1].Probability, all, each)
			continue
		}
		if c.want != nil && !slices.Equal(k.Evidence, c.want) {
			t.Errorf("%s: %v, want %v", c.name, k.Evidence, c.want)
		}
	}
	rare := map[string]float64{"wrong firing order set": 0.0005}
	for name, r := range map[string]*Ranking{
		"two readings a degree apart": rank(t, six(), Options{}, num("correlation_error_deg", -25, 1), num("correlation_error_deg", -24, 1)),
		"a rare cause seen":           rank(t, six(), Options{Priors: rare}, says("order_set", "wrong"), says("starts", false)),
		"two faults at once":          rank(t, six(), Options{}, num("dowel_error_deg", -25, 0.3), num("rail_pressure_bar", 40, 10), says("fault_code", "P0087")),
		"two codes":                   rank(t, six(), Options{}, says("fault_code", "P0016"), says("fault_code", "P0336")),
	} {
		if k := r.Clash(); k != nil {
			t.Errorf("%s: %+v", name, k)
		}
	}
}
