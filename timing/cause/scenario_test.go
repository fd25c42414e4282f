package cause

import (
	"slices"
	"testing"
)

// scenario is what a mechanic has seen and what he would suspect first: any of the
// faults wanted, where he could not tell them apart.
type scenario struct {
	name     string
	evidence []Evidence
	want     []string
}

func num(kind string, value, u float64) Evidence { return Evidence{kind, value, u} }
func says(kind string, value any) Evidence       { return Evidence{Kind: kind, Value: value} }

var scenarios = []scenario{
	{"nothing seen", nil, []string{TimingRight}},
	{"all measured right", []Evidence{num("correlation_error_deg", 0, 1), num("tdc_offset_deg", 0, 2), num("compression_bar", 27, 1), num("rail_pressure_bar", 330, 15), num("cranking_rpm", 200, 8), says("starts", false)}, []string{TimingRight}},
	{"it runs and all is right", []Evidence{num("correlation_error_deg", 0.2, 1), says("starts", true), says("smoke", "none")}, []string{TimingRight}},

	{"dowel measured on the other side", []Evidence{num("dowel_error_deg", -25, 0.5)}, []string{"dowel mirrored"}},
	{"dowel seen on the other side", []Evidence{says("dowel_side", "other side")}, []string{"dowel mirrored"}},
	{"correlation as a mirrored dowel makes it", []Evidence{num("correlation_error_deg", -25.3, 1), says("starts", false)}, []string{"dowel mirrored"}},
	{"new crankshaft, correlation as mirrored", []Evidence{num("correlation_error_deg", -24.6, 1), says("replaced", "crankshaft")}, []string{"dowel mirrored"}},
	{"correlation and true TDC as mirrored", []Evidence{num("correlation_error_deg", -25, 1), num("tdc_offset_deg", -25, 2)}, []string{"dowel mirrored"}},
	{"white smoke, a code, correlation as mirrored", []Evidence{num("correlation_error_deg", -25, 1), says("smoke", "white"), says("fault_code", "P0016"), says("starts", false)}, []string{"dowel mirrored"}},
	{"dowel 6 out", []Evidence{num("dowel_error_deg", 6, 0.5)}, []string{"dowel at a wrong angle"}},
	{"dowel 6 out, and the signals say so", []Evidence{num("dowel_error_deg", 6, 0.5), num("correlation_error_deg", 6.3, 1), num("tdc_offset_deg", 5, 2)}, []string{"dowel at a wrong angle"}},
	{"keyway 5 out", []Evidence{num("keyway_error_deg", 5, 0.5)}, []string{"keyway off"}},
	{"keyway out and the dowel with it", []Evidence{num("keyway_error_deg", 8, 0.5), num("correlation_error_deg", 0, 1), num("tdc_offset_deg", 8, 2)}, []string{"keyway off"}},
	{"signals agree, true TDC off, valves off", []Evidence{num("correlation_error_deg", 0, 1), num("tdc_offset_deg", 9, 1), num("valve_timing_error_deg", 9, 1)}, []string{"keyway off"}},

	{"key found sheared", []Evidence{says("crank_key", "sheared")}, []string{"key sheared or stepped"}},
	{"valves 14 late, gear marks right", []Evidence{num("valve_timing_error_deg", -14, 2), says("crank_gear_marks_teeth", 0.0), says("cam_gear_marks_teeth", 0.0), num("correlation_error_deg", 14, 1), num("keyway_error_deg", 0, 0.5)}, []string{"key sheared or stepped", "cam gear moved on its shaft"}},
	{"valves late by no whole tooth, wheel right", []Evidence{num("valve_timing_error_deg", -6, 1), num("tdc_offset_deg", 0, 1), num("correlation_error_deg", 6, 1)}, []string{"key sheared or stepped"}},

	{"wheel seen back to front", []Evidence{says("wheel_side", "back to front")}, []string{"wheel back to front"}},
	{"wheel's number another", []Evidence{says("wheel_number", "other")}, []string{"wheel of another part number"}},
	{"wheel's number another, correlation by whole teeth", []Evidence{says("wheel_number", "other"), num("correlation_error_deg", 36, 0.5)}, []string{"wheel of another part number"}},
	{"wheel moved on its seat", []Evidence{says("wheel_seat", "moved")}, []string{"wheel slipped"}},
	{"dowel and keyway measured right, wheel moved", []Evidence{num("dowel_error_deg", 0, 0.5), num("keyway_error_deg", 0, 0.5), num("correlation_error_deg", -25.3, 1), says("wheel_seat", "moved")}, []string{"wheel slipped"}},
	{"dowel and keyway measured right, true TDC right", []Evidence{num("dowel_error_deg", 0, 0.5), num("keyway_error_deg", 0, 0.5), num("correlation_error_deg", -25.3, 1), num("tdc_offset_deg", 0, 2)}, []string{"cam wheel slipped"}},
	{"dowel and keyway measured right, true TDC off", []Evidence{num("dowel_error_deg", 0, 0.5), num("keyway_error_deg", 0, 0.5), num("correlation_error_deg", -25.3, 1), num("tdc_offset_deg", -25, 2)}, []string{"wheel slipped", "wheel of another part number", "wheel back to front"}},
	{"dowel and keyway measured right, correlation -25", []Evidence{num("dowel_error_deg", 0, 0.5), num("keyway_error_deg", 0, 0.5), num("correlation_error_deg", -25, 1)}, []string{"wheel slipped", "cam wheel slipped", "wheel of another part number", "wheel back to front"}},
	{"tooth seen damaged", []Evidence{says("wheel_teeth", "damaged")}, []string{"wheel tooth bent"}},
	{"tooth damaged, crank sensor code", []Evidence{says("wheel_teeth", "damaged"), says("fault_code", "P0336"), says("crank_signal", "wrong pattern")}, []string{"wheel tooth bent"}},

	{"correlation of one tooth, late cam", []Evidence{num("correlation_error_deg", 10.2, 0.5)}, []string{"cam gear out by teeth", "crank gear out by teeth"}},
	{"correlation of one tooth, early cam", []Evidence{num("correlation_error_deg", -10, 0.5), num("tdc_offset_deg", 0, 1)}, []string{"cam gear out by teeth"}},
	{"correlation of two teeth, new camshaft", []Evidence{num("correlation_error_deg", -20, 0.5), num("tdc_offset_deg", 0, 1), says("replaced", "camshaft")}, []string{"cam gear out by teeth"}},
	{"cam gear marks a tooth out", []Evidence{says("cam_gear_marks_teeth", 1.0)}, []string{"cam gear out by teeth"}},
	{"crank gear marks a tooth out", []Evidence{says("crank_gear_marks_teeth", -1.0)}, []string{"crank gear out by teeth"}},
	{"valve timing a tooth out, cam mark right", []Evidence{num("valve_timing_error_deg", 10, 1), says("cam_gear_marks_teeth", 0.0)}, []string{"crank gear out by teeth"}},

	{"correlation 360", []Evidence{num("correlation_error_deg", 360, 1)}, []string{"cam wheel half a turn out"}},
	{"correlation -359.4, does not start", []Evidence{num("correlation_error_deg", -359.4, 1), says("starts", false)}, []string{"cam wheel half a turn out"}},
	{"cam wheel seen half a turn out", []Evidence{says("cam_wheel_seat", "half a turn out")}, []string{"cam wheel half a turn out"}},
	{"cam wheel seen moved", []Evidence{says("cam_wheel_seat", "moved")}, []string{"cam wheel slipped"}},
	{"starts without the cam sensor only", []Evidence{says("starts", false), says("starts_cam_unplugged", true), num("correlation_error_deg", 33, 1)}, []string{"cam wheel slipped"}},
	{"starts without the crank sensor only", []Evidence{says("starts", false), says("starts_crank_unplugged", true), num("correlation_error_deg", -25, 1)}, []string{"dowel mirrored"}},

	{"wires seen reversed", []Evidence{says("sensor_wires", "reversed")}, []string{"crank sensor wires reversed"}},
	{"half a pitch of correlation, new harness", []Evidence{num("correlation_error_deg", 3, 0.3), num("tdc_offset_deg", 3, 0.5), says("replaced", "harness")}, []string{"crank sensor wires reversed"}},
	{"no crank signal", []Evidence{says("crank_signal", "none"), says("starts", false)}, []string{"crank sensor dead or its gap wrong"}},
	{"weak crank signal", []Evidence{says("crank_signal", "weak")}, []string{"crank sensor dead or its gap wrong"}},
	{"code P0335", []Evidence{says("fault_code", "P0335"), says("starts", false)}, []string{"crank sensor dead or its gap wrong"}},
	{"no cam signal", []Evidence{says("cam_signal", "none")}, []string{"cam sensor dead or its gap wrong"}},
	{"code P0340", []Evidence{says("fault_code", "P0340")}, []string{"cam sensor dead or its gap wrong"}},

	{"leads crossed", []Evidence{says("injector_leads", "crossed")}, []string{"injectors or their leads crossed"}},
	{"new harness, all measured right, kicks back", []Evidence{says("replaced", "harness"), num("correlation_error_deg", 0, 1), num("tdc_offset_deg", 0, 1), says("kicks_back", true), says("starts", false), says("smoke", "black")}, []string{"injectors or their leads crossed"}},
	{"firing order wrong", []Evidence{says("order_set", "wrong")}, []string{"wrong firing order set"}},
	{"new controller, all measured right, kicks back", []Evidence{says("replaced", "controller"), num("correlation_error_deg", 0, 1), num("tdc_offset_deg", 0, 1), says("kicks_back", true), says("starts", false), says("injector_leads", "right")}, []string{"wrong firing order set"}},

	{"rail pressure 0", []Evidence{num("rail_pressure_bar", 0, 15)}, []string{"no fuel pressure"}},
	{"no smoke, no start, rail code", []Evidence{says("smoke", "none"), says("starts", false), says("fault_code", "P0087")}, []string{"no fuel pressure"}},
	{"low compression", []Evidence{num("correlation_error_deg", 0, 1), num("tdc_offset_deg", 0, 2), num("compression_bar", 14, 1)}, []string{"poor compression"}},
	{"very low compression alone", []Evidence{num("compression_bar", 11, 1)}, []string{"poor compression"}},
	{"fuel seen bad", []Evidence{says("fuel_sample", "bad"), says("starts", false)}, []string{"bad fuel"}},
	{"new fuel just before", []Evidence{says("replaced", "fuel"), says("starts", false), num("correlation_error_deg", 0, 1), num("tdc_offset_deg", 0, 1), num("compression_bar", 27, 1), num("rail_pressure_bar", 320, 15), num("cranking_rpm", 195, 8)}, []string{"bad fuel"}},
	{"cranking at 80", []Evidence{num("cranking_rpm", 80, 5)}, []string{"cranks too slowly"}},
	{"cranking at 90, a little less compression", []Evidence{num("cranking_rpm", 90, 5), num("compression_bar", 23, 1), says("starts", false)}, []string{"cranks too slowly"}},

	{"cam gear seen moved", []Evidence{says("cam_gear_seat", "moved")}, []string{"cam gear moved on its shaft"}},
	{"valves late, the crankshaft gear's key good, marks right", []Evidence{num("valve_timing_error_deg", -14, 2), says("crank_key", "good"), says("crank_gear_marks_teeth", 0.0), says("cam_gear_marks_teeth", 0.0), num("keyway_error_deg", 0, 0.5), num("correlation_error_deg", 14, 1)}, []string{"cam gear moved on its shaft"}},
	{"damper's mark off, signals right, it runs", []Evidence{num("damper_mark_error_deg", 11, 0.5), num("correlation_error_deg", 0, 1), says("starts", true)}, []string{"damper ring slipped"}},
	{"TDC by the mark contradicts the signals, mark off", []Evidence{num("damper_mark_error_deg", -9, 0.5), num("tdc_offset_deg", 9, 1), num("correlation_error_deg", 0, 1), num("dowel_error_deg", 0, 0.4), says("starts", true)}, []string{"damper ring slipped"}},
	{"both signals gone, supply missing", []Evidence{says("crank_signal", "none"), says("cam_signal", "none"), says("starts", false)}, []string{"sensor supply or earth"}},
	{"both signals wrong after work on the harness", []Evidence{says("crank_signal", "wrong pattern"), says("cam_signal", "wrong pattern"), says("began", "after work on the engine"), says("starts", false)}, []string{"sensor connectors swapped"}},
	{"rail below its set-point, return too much", []Evidence{num("rail_reached_percent", 45, 4), says("injector_return", "too much"), says("starts", false)}, []string{"injector leaking back"}},
	{"starts on clean fuel only, lines with air", []Evidence{says("starts", false), says("starts_clean_fuel", true), says("fuel_lines", "air")}, []string{"air in the fuel or a blocked filter"}},
	{"starts on clean fuel only, lacks power, came slowly", []Evidence{says("starts", false), says("starts_clean_fuel", true), says("lacks_power", true), says("began", "slowly"), says("fuel_sample", "good")}, []string{"air in the fuel or a blocked filter"}},
	{"starts on clean fuel only, since filling up", []Evidence{says("starts", false), says("starts_clean_fuel", true), says("began", "after filling up")}, []string{"bad fuel"}},
	{"gelled in the cold", []Evidence{says("starts", false), says("began", "in the cold"), says("starts_clean_fuel", true), num("rail_pressure_bar", 70, 15), says("fuel_lines", "good")}, []string{"bad fuel"}},
	{"air past the valves after the gear slipped", []Evidence{says("leak_down", "past the valves"), num("compression_weakest_percent", 20, 3), says("dead_cylinder", true)}, []string{"bent valves"}},
	{"one cylinder dead, rough, weakest at a fifth", []Evidence{says("runs_rough", true), says("dead_cylinder", true), num("compression_weakest_percent", 18, 3)}, []string{"bent valves"}},
	{"no speed shown, injectors dead, sensor tested good, no power", []Evidence{says("starts", false), says("controller_speed", "none"), says("injectors_fire", false), says("crank_sensor_test", "good"), says("sensor_supply", "good"), says("controller_power", "missing")}, []string{"controller without power or immobilised"}},
	{"speed shown, synchronised, rail up, nothing fires", []Evidence{says("starts", false), says("smoke", "none"), says("controller_speed", "as cranked"), says("synchronised", true), says("injectors_fire", false), num("rail_pressure_bar", 330, 15)}, []string{"controller without power or immobilised"}},
	{"immobiliser lamp on", []Evidence{says("starts", false), says("controller_power", "immobilised")}, []string{"controller without power or immobilised"}},
	{"cranks well, nothing shown, no codes, nothing fires", []Evidence{says("starts", false), says("controller_speed", "none"), says("synchronised", false), says("injectors_fire", false), says("crank_signal", "good"), says("cam_signal", "good"), says("fault_code", "none")}, []string{"controller without power or immobilised"}},
	{"starts with a booster", []Evidence{says("starts", false), says("starts_boosted", true), says("cranking_volts", "low")}, []string{"cranks too slowly"}},
	{"low rail code at slow cranking", []Evidence{says("starts", false), says("fault_code", "P0087"), num("cranking_rpm", 85, 5), says("cranking_volts", "low")}, []string{"cranks too slowly"}},
	{"no rail pressure, no speed shown, crank sensor open", []Evidence{num("rail_pressure_bar", 10, 10), says("controller_speed", "none"), says("crank_sensor_test", "open"), says("starts", false)}, []string{"crank sensor dead or its gap wrong"}},
	{"little rail pressure, the speed comes and goes, the sensor's gap wrong", []Evidence{says("starts", false), num("rail_pressure_bar", 25, 10), says("controller_speed", "erratic"), says("crank_signal", "weak"), says("crank_sensor_test", "gap wrong")}, []string{"crank sensor dead or its gap wrong"}},
	{"compression called not good", []Evidence{says("compression_bar", "not good"), says("cranking_rpm", "good"), says("leak_down", "past the rings")}, []string{"poor compression"}},
	{"wheel of another number, off by no whole tooth", []Evidence{says("wheel_number", "other"), num("correlation_error_deg", 21.4, 0.4)}, []string{"wheel of another part number"}},
}

// What anybody would suspect first comes first; nothing of it is contradictory, and
// the probabilities add up to 1.
func TestScenarios(t *testing.T) {
	for _, s := range scenarios {
		r := rank(t, six(), Options{}, s.evidence...)
		if first := r.Causes[0]; !slices.Contains(s.want, first.Name()) {
			t.Errorf("%s: %s %.3f, %s %.3f, want %v", s.name, first.Name(), first.Probability, r.Causes[1].Name(), r.Causes[1].Probability, s.want)
		}
		sum := 0.0
		for _, c := range r.Causes {
			sum += c.Probability
		}
		if !near(sum, 1, 1e-9) {
			t.Errorf("%s: the probabilities add up to %g", s.name, sum)
		}
		if k := r.Clash(); k != nil {
			t.Errorf("%s: contradictory: %+v", s.name, k)
		}
	}
}
