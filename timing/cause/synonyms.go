package cause

import (
	"slices"
	"strings"
)

// synonyms are other names that a job file may give to a kind of evidence. Only
// names that can mean nothing else are here: "dowel_deg" might be the dowel's angle
// as well as its error.
var synonyms = map[string][]string{
	"starts":                 {"start", "engine_starts", "it_starts"},
	"starts_cam_unplugged":   {"starts_cam_sensor_unplugged", "starts_with_cam_unplugged", "starts_with_cam_sensor_unplugged", "starts_without_cam_sensor", "starts_on_crank_sensor"},
	"starts_crank_unplugged": {"starts_crank_sensor_unplugged", "starts_with_crank_unplugged", "starts_with_crank_sensor_unplugged", "starts_without_crank_sensor", "starts_on_cam_sensor"},
	"kicks_back":             {"kick_back", "kickback", "kicks"},
	"smoke":                  {"smoke_colour", "smoke_color", "exhaust_smoke"},
	"runs_rough":             {"rough", "misfires"}, "lacks_power": {"low_power", "no_power"}, "dead_cylinder": {"cylinder_dead"}, "began": {"trouble_began", "when_it_began"},
	"code_active": {"fault_code_active"}, "synchronised": {"synchronized", "sync", "in_sync"}, "controller_speed": {"shown_speed", "speed_shown"},
	"injectors_fire": {"injectors_click", "injection_current"}, "damper_mark_error_deg": {"damper_mark_error", "damper_mark_deg"},
	"compression_weakest_percent": {"weakest_cylinder_percent"}, "rail_reached_percent": {"rail_pressure_percent"}, "cranking_volts": {"battery", "battery_cranking"},
	"starts_boosted": {"starts_with_booster", "jump_start"}, "starts_clean_fuel": {"starts_on_clean_fuel"}, "cam_gear_seat": {"cam_gear"},
	"crank_sensor_test": {"crank_sensor"}, "cam_sensor_test": {"cam_sensor"}, "sensor_supply": {"sensor_earth"}, "sensor_plugs": {"sensor_connectors"},
	"controller_power": {"ecu_power", "immobiliser"}, "fuel_lines": {"fuel_filter"}, "injector_return": {"return_flow", "leak_off"}, "leak_down": {"leakdown"},
	"fault_code":             {"code", "dtc", "trouble_code", "fault_codes"},
	"crank_signal":           {"crank_sensor_signal"},
	"cam_signal":             {"cam_sensor_signal"},
	"correlation_error_deg":  {"correlation", "correlation_error", "correlation_deg", "crank_cam_correlation_deg", "cam_crank_correlation_deg"},
	"tdc_offset_deg":         {"tdc_offset", "tdc_error", "tdc_error_deg", "true_tdc_offset_deg"},
	"dowel_error_deg":        {"dowel_error", "dowel_offset_deg"},
	"keyway_error_deg":       {"keyway_error", "keyway_offset_deg", "gear_error_deg"},
	"valve_timing_error_deg": {"valve_timing_error", "valve_timing_deg", "valve_timing"},
	"crank_gear_marks_teeth": {"crank_gear_marks", "crank_gear_teeth_out", "crank_teeth_out", "crank_marks_teeth"},
	"cam_gear_marks_teeth":   {"cam_gear_marks", "cam_gear_teeth_out", "cam_teeth_out", "cam_marks_teeth", "gear_marks_teeth", "gear_marks"},
	"compression_bar":        {"compression", "compression_pressure_bar", "compression_gauge_bar"},
	"rail_pressure_bar":      {"rail_pressure", "fuel_pressure_bar", "fuel_pressure"},
	"cranking_rpm":           {"cranking_speed_rpm", "cranking_speed", "crank_rpm"},
	"wheel_side":             {"crank_wheel_side"},
	"wheel_number":           {"wheel_part_number", "crank_wheel_number"},
	"wheel_seat":             {"crank_wheel_seat"},
	"wheel_teeth":            {"crank_wheel_teeth", "teeth_inspected", "teeth"},
	"dowel_side":             {"dowel_compared"},
	"crank_key":              {"key", "crank_gear_key"},
	"cam_wheel_seat":         {"cam_wheel"},
	"sensor_wires":           {"crank_sensor_wires", "sensor_wiring"},
	"injector_leads":         {"injector_wires", "injector_harness", "injector_wiring"},
	"order_set":              {"firing_order_set", "firing_order"},
	"fuel_sample":            {"fuel", "fuel_quality"},
	"replaced":               {"replaced_before", "part_replaced", "replaced_part"},
	"replaced_in_vain":       {"replaced_no_change", "replaced_nothing_changed", "replaced_without_effect"},
}

// plain is a name as it stands in the tables: in small letters, its words joined
// by "_".
func plain(name string) string {
	return strings.NewReplacer(" ", "_", "-", "_").Replace(strings.ToLower(strings.TrimSpace(name)))
}

// KindNamed returns the kind of a name, or of another name for the same: [Kind]
// then has the name that counts.
func KindNamed(name string) (*Kind, bool) {
	name = plain(name)
	for i := range kinds {
		if kinds[i].Name == name || slices.Contains(synonyms[kinds[i].Name], name) {
			return &kinds[i], true
		}
	}
	return nil, false
}

// In a look at a part these say that it is as it should be, and that it is not,
// besides what the kind's own aliases are.
var (
	good = []string{"good", "right", "ok", "correct", "fine", "as it should be", "undamaged"}
	bad  = []string{"bad", "wrong", "not ok", "incorrect", "faulty"}
)

// alias returns the word that counts for another that says the same.
func (k *Kind) alias(v string) string {
	switch of, ok := k.Aliases[v]; {
	case ok:
		return of
	case !k.look || slices.Contains(k.Words, v):
	case slices.Contains(good, v):
		return k.Words[0]
	case slices.Contains(bad, v):
		return k.Words[len(k.Words)-1]
	}
	return v
}

// Words for a part that was replaced.
var partAliases = map[string]string{
	"crank": "crankshaft", "crank sensor wheel": "crank wheel", "reluctor": "crank wheel", "reluctor wheel": "crank wheel", "trigger wheel": "crank wheel", "tone wheel": "crank wheel",
	"gears": "timing gears", "timing gear": "timing gears", "cam": "camshaft", "cam gear": "timing gears", "crank gear": "timing gears", "cam sensor wheel": "cam wheel",
	"crankshaft sensor": "crank sensor", "camshaft sensor": "cam sensor", "wiring": "harness", "wiring harness": "harness", "loom": "harness", "injector harness": "harness",
	"injector": "injectors", "control unit": "controller", "ecu": "controller", "ecm": "controller",
	"injection pump": "pump", "fuel pump": "pump", "high pressure pump": "pump", "high-pressure pump": "pump", "starter motor": "starter", "batteries": "battery",
	"pistons": "pistons and rings", "rings": "pistons and rings", "piston rings": "pistons and rings", "head": "cylinder head", "head gasket": "cylinder head",
}
