package cause

import "pinphase.org/pinphase/timing/phrase"

// Check is something that can be looked at or measured next. Minutes are those of
// a practised mechanic on an engine that stands free, and are common practice, no
// source: change them for yours.
type Check struct {
	Name     string      // for programs
	Title    phrase.Text // for people
	Kinds    []string    // what evidence it brings; at most two are numbers
	Minutes  float64
	Tools    phrase.Text
	Cautions []Caution

	opens string  // what it opens: other checks behind it then take less time
	once  float64 // minutes when that is open already
}

// Caution is what to mind at a check.
type Caution int

// The cautions.
const (
	Barring       Caution = iota // hands are in the engine, and it is turned
	Cranking                     // it is cranked and may start
	FuelOpen                     // the fuel system is opened or under pressure
	Running                      // parts are hot
	ValvesMayMeet                // valve timing may be off so far that the valves meet the pistons
	HighVoltage                  // at the injectors and their leads
	NoInjection                  // nothing must be injected while the compression is measured
	KicksBack                    // it has kicked back
	AirTurnsCrank                // compressed air in a cylinder

	LastCaution = AirTurnsCrank
)

// Text returns the caution in words. Common practice, no source.
func (c Caution) Text() phrase.Text {
	return [...]phrase.Text{
		"Disconnect the battery and turn the engine only by hand while hands are in it.",
		"It may start, run away or kick back: keep an air shut-off at hand, and stay clear of all that turns.",
		"Fuel under injection pressure pierces the skin: let the pressure drop first, and never search for a leak with your hand.",
		"Hot parts and pressurised coolant: let the engine cool before opening anything.",
		"The valves may hit the pistons: do not crank. Turn the engine by hand, slowly, and stop where it resists.",
		"High voltage at the injectors and their wiring: do not touch them while the ignition is on.",
		"Disable injection before you measure compression: a cylinder that fires destroys the gauge.",
		"It has kicked back: stop cranking at once if it does so again.",
		"Compressed air turns the crankshaft: lock it, and keep tools and hands off it.",
	}[c]
}

// Checks are all that can be proposed.
var checks = []Check{
	{Name: "read the fault codes", Title: "read the fault codes", Kinds: []string{"fault_code"}, Minutes: 6, Tools: "scan tool"},
	{Name: "watch the exhaust while cranking", Title: "watch the exhaust while cranking", Kinds: []string{"smoke"}, Minutes: 4, Tools: "none", Cautions: []Caution{Cranking}},
	{Name: "read what the controller shows while cranking", Title: "read what the ECU shows while cranking", Kinds: []string{"synchronised", "controller_speed"}, Minutes: 5, Tools: "scan tool", Cautions: []Caution{Cranking}},
	{Name: "compare the sensors' connectors", Title: "compare the sensors' connectors", Kinds: []string{"sensor_plugs"}, Minutes: 5, Tools: "wiring diagram"},
	{Name: "read the cranking speed", Title: "read the cranking speed", Kinds: []string{"cranking_rpm"}, Minutes: 5, Tools: "scan tool or tachometer", Cautions: []Caution{Cranking}},
	{Name: "measure the battery while cranking", Title: "measure the battery while cranking", Kinds: []string{"cranking_volts"}, Minutes: 6, Tools: "multimeter", Cautions: []Caution{Cranking}},
	{Name: "crank with a booster battery", Title: "crank with a booster battery", Kinds: []string{"starts_boosted"}, Minutes: 12, Tools: "second battery and jump leads", Cautions: []Caution{Cranking}},
	{Name: "read the rail pressure while cranking", Title: "read the rail pressure while cranking", Kinds: []string{"rail_pressure_bar"}, Minutes: 6, Tools: "scan tool", Cautions: []Caution{Cranking, FuelOpen}},
	{Name: "compare rail pressure and set-point while cranking", Title: "compare rail pressure with its set-point while cranking", Kinds: []string{"rail_reached_percent"}, Minutes: 6, Tools: "scan tool", Cautions: []Caution{Cranking, FuelOpen}},
	{Name: "crank with the cam sensor unplugged", Title: "crank with the camshaft sensor unplugged", Kinds: []string{"starts_cam_unplugged"}, Minutes: 6, Tools: "none", Cautions: []Caution{Cranking}},
	{Name: "crank with the crank sensor unplugged", Title: "crank with the crankshaft sensor unplugged", Kinds: []string{"starts_crank_unplugged"}, Minutes: 6, Tools: "none", Cautions: []Caution{Cranking}},
	{Name: "see whether the injectors fire", Title: "check whether the injectors are driven", Kinds: []string{"injectors_fire"}, Minutes: 10, Tools: "current clamp", Cautions: []Caution{Cranking, HighVoltage}},
	{Name: "check the controller's power and immobiliser", Title: "check the ECU's power and immobiliser", Kinds: []string{"controller_power"}, Minutes: 12, Tools: "wiring diagram, multimeter"},
	{Name: "check the sensors' supply and earth", Title: "check the sensors' supply and earth", Kinds: []string{"sensor_supply"}, Minutes: 12, Tools: "wiring diagram, multimeter"},
	{Name: "look at a fuel sample", Title: "inspect a fuel sample", Kinds: []string{"fuel_sample"}, Minutes: 12, Tools: "clear jar", Cautions: []Caution{FuelOpen}},
	{Name: "compare the firing order set in the controller", Title: "compare the firing order set in the ECU", Kinds: []string{"order_set"}, Minutes: 10, Tools: "scan tool"},
	{Name: "test the crank sensor by itself", Title: "test the crankshaft sensor by itself", Kinds: []string{"crank_sensor_test"}, Minutes: 15, Tools: "multimeter, feeler gauge"},
	{Name: "test the cam sensor by itself", Title: "test the camshaft sensor by itself", Kinds: []string{"cam_sensor_test"}, Minutes: 15, Tools: "multimeter, feeler gauge"},
	{Name: "trace the leads to the injectors", Title: "trace the injector wiring", Kinds: []string{"injector_leads"}, Minutes: 20, Tools: "wiring diagram", Cautions: []Caution{HighVoltage}},
	{Name: "look for air in the fuel and a blocked filter", Title: "check for air in the fuel and a blocked filter", Kinds: []string{"fuel_lines"}, Minutes: 20, Tools: "clear hose, new filter", Cautions: []Caution{FuelOpen}},
	{Name: "run it on clean fuel from a can", Title: "run it on clean fuel from a can", Kinds: []string{"starts_clean_fuel"}, Minutes: 25, Tools: "can, hoses", Cautions: []Caution{Cranking, FuelOpen}},
	{Name: "measure the injectors' return flow", Title: "measure the injectors' return flow", Kinds: []string{"injector_return"}, Minutes: 30, Tools: "measuring glasses, hoses", Cautions: []Caution{Cranking, FuelOpen, HighVoltage}},
	{Name: "check the crank sensor's wires", Title: "check the crankshaft sensor's wires", Kinds: []string{"sensor_wires"}, Minutes: 15, Tools: "wiring diagram, multimeter"},
	{Name: "look at the wheel's teeth through the sensor's hole", Title: "inspect the sensor wheel's teeth through the sensor's hole", Kinds: []string{"wheel_teeth"}, Minutes: 25, Tools: "lamp, tool for turning the engine by hand", Cautions: []Caution{Barring}},
	{Name: "record both sensors while cranking", Title: "record both sensors while cranking", Kinds: []string{"crank_signal", "cam_signal", "correlation_error_deg"}, Minutes: 30, Tools: "oscilloscope with two channels", Cautions: []Caution{Cranking}},
	{Name: "find true TDC and compare it with the recording", Title: "find true TDC and compare it with the recording", Kinds: []string{"tdc_offset_deg"}, Minutes: 60, Tools: "piston stop, degree wheel, oscilloscope", Cautions: []Caution{Barring, Cranking}},
	{Name: "compare the damper's mark with a piston stop", Title: "compare the vibration damper's mark with a piston stop", Kinds: []string{"damper_mark_error_deg"}, Minutes: 45, Tools: "piston stop, degree wheel", Cautions: []Caution{Barring}},
	{Name: "measure the compression", Title: "measure the compression", Kinds: []string{"compression_bar"}, Minutes: 60, Tools: "compression gauge and adapter", Cautions: []Caution{NoInjection, Cranking, Running, FuelOpen}},
	{Name: "compare the compression of all cylinders", Title: "compare the compression of all cylinders", Kinds: []string{"compression_weakest_percent"}, Minutes: 90, Tools: "compression gauge and adapter", Cautions: []Caution{NoInjection, Cranking, Running, FuelOpen}},
	{Name: "make a leak-down test", Title: "make a leak-down test", Kinds: []string{"leak_down"}, Minutes: 70, Tools: "leak-down tester, compressed air", Cautions: []Caution{AirTurnsCrank, FuelOpen}},
	{Name: "look at the cam wheel on its shaft", Title: "inspect the cam sensor wheel on its shaft", Kinds: []string{"cam_wheel_seat"}, Minutes: 45, Tools: "lamp, tool for turning the engine by hand", Cautions: []Caution{Barring}},
	{Name: "measure the valve timing", Title: "measure the valve timing", Kinds: []string{"valve_timing_error_deg"}, Minutes: 80, Tools: "dial gauge, degree wheel, piston stop", Cautions: []Caution{Barring}},
	{Name: "take the damper off and look at the crank wheel", Title: "take off the vibration damper and inspect the crank sensor wheel", Kinds: []string{"wheel_side", "wheel_number", "wheel_seat"}, Minutes: 90, Tools: "puller", Cautions: []Caution{Barring}, opens: "damper", once: 10},
	{Name: "measure the dowel from the keyway", Title: "measure the dowel from the keyway", Kinds: []string{"dowel_error_deg"}, Minutes: 110, Tools: "puller, degree wheel or caliper", Cautions: []Caution{Barring}, opens: "damper", once: 30},
	{Name: "hold the crankshaft's nose against the old one", Title: "hold the front end of the crankshaft against that of the old one", Kinds: []string{"dowel_side"}, Minutes: 100, Tools: "puller, the old crankshaft", Cautions: []Caution{Barring}, opens: "damper", once: 15},
	{Name: "open the front and look at the gear marks", Title: "remove the timing cover and inspect the timing marks of the gears", Kinds: []string{"crank_gear_marks_teeth", "cam_gear_marks_teeth"}, Minutes: 180, Tools: "puller, front seal and gasket", Cautions: []Caution{Barring}, opens: "front", once: 15},
	{Name: "open the front and look at the crank gear's key", Title: "remove the timing cover and inspect the crankshaft gear's key", Kinds: []string{"crank_key"}, Minutes: 200, Tools: "puller, front seal and gasket", Cautions: []Caution{Barring}, opens: "front", once: 35},
	{Name: "open the front and look at the cam gear on its shaft", Title: "remove the timing cover and inspect the camshaft gear on its shaft", Kinds: []string{"cam_gear_seat"}, Minutes: 190, Tools: "puller, front seal and gasket", Cautions: []Caution{Barring}, opens: "front", once: 25},
	{Name: "measure the keyway from the No. 1 throw", Title: "measure the keyway from the No. 1 throw", Kinds: []string{"keyway_error_deg"}, Minutes: 160, Tools: "puller, piston stop, degree wheel", Cautions: []Caution{Barring}, opens: "front", once: 60},
}

// again is the check that doubtful evidence asks for first.
const again = "take a doubtful reading again"

const againTitle phrase.Text = "repeat a doubtful reading"

// Checks returns every check, with the usual minutes.
func Checks() []Check { return append([]Check(nil), checks...) }

// Again is the name of the check that is proposed first where the evidence
// contradicts itself: a doubtful reading taken once more.
func Again() string { return again }
