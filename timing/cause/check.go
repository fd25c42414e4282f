package cause

// Check is something that can be looked at or measured next. Minutes are those of
// a practised mechanic on an engine that stands free, and are common practice, no
// source: change them for yours.
type Check struct {
	Name     string
	Kinds    []string // what evidence it brings; at most two are numbers
	Minutes  float64
	Tools    string
	Cautions []Caution
}

// Caution is what to mind at a check.
type Caution int

// The cautions.
const (
	Barring  Caution = iota // hands are in the engine, and it is turned
	Cranking                // it is cranked and may start
	FuelOpen                // the fuel system is opened or under pressure
	Running                 // parts are hot
)

// String returns the caution in words. Common practice, no source.
func (c Caution) String() string {
	return [...]string{
		"Battery disconnected, and the engine barred over by hand, while hands are in it.",
		"It may start, run away or kick back: be able to shut its air, and keep clear of all that turns.",
		"Injection pressure pierces skin: let it drop first, and never feel for a leak.",
		"Hot parts, and coolant under pressure.",
	}[c]
}

// Checks are all that can be proposed.
var checks = []Check{
	{"read the fault codes", []string{"fault_code"}, 6, "scan tool", nil},
	{"watch the exhaust while cranking", []string{"smoke"}, 4, "none", []Caution{Cranking}},
	{"read the cranking speed", []string{"cranking_rpm"}, 5, "scan tool or tachometer", []Caution{Cranking}},
	{"read the rail pressure while cranking", []string{"rail_pressure_bar"}, 6, "scan tool", []Caution{Cranking, FuelOpen}},
	{"crank with the cam sensor unplugged", []string{"starts_cam_unplugged"}, 6, "none", []Caution{Cranking}},
	{"crank with the crank sensor unplugged", []string{"starts_crank_unplugged"}, 6, "none", []Caution{Cranking}},
	{"look at a fuel sample", []string{"fuel_sample"}, 12, "clear jar", []Caution{FuelOpen}},
	{"compare the firing order set in the controller", []string{"order_set"}, 10, "scan tool", nil},
	{"trace the leads to the injectors", []string{"injector_leads"}, 20, "wiring diagram", nil},
	{"check the crank sensor's wires", []string{"sensor_wires"}, 15, "wiring diagram, multimeter", nil},
	{"look at the wheel's teeth through the sensor's hole", []string{"wheel_teeth"}, 25, "lamp, barring tool", []Caution{Barring}},
	{"record both sensors while cranking", []string{"crank_signal", "cam_signal", "correlation_error_deg"}, 30, "oscilloscope with two channels", []Caution{Cranking}},
	{"find true TDC and compare it with the recording", []string{"tdc_offset_deg"}, 60, "piston stop, degree wheel, oscilloscope", []Caution{Barring, Cranking}},
	{"measure the compression", []string{"compression_bar"}, 60, "compression gauge and adapter", []Caution{Cranking, Running, FuelOpen}},
	{"look at the cam wheel on its shaft", []string{"cam_wheel_seat"}, 45, "lamp, barring tool", []Caution{Barring}},
	{"measure the valve timing", []string{"valve_timing_error_deg"}, 80, "dial gauge, degree wheel, piston stop", []Caution{Barring}},
	{"take the damper off and look at the crank wheel", []string{"wheel_side", "wheel_number", "wheel_seat"}, 90, "puller", []Caution{Barring}},
	{"measure the dowel from the keyway", []string{"dowel_error_deg"}, 110, "puller, degree wheel or caliper", []Caution{Barring}},
	{"hold the crankshaft's nose against the old one", []string{"dowel_side"}, 100, "puller, the old crankshaft", []Caution{Barring}},
	{"open the front and look at the gear marks", []string{"crank_gear_marks_teeth", "cam_gear_marks_teeth"}, 180, "puller, front seal and gasket", []Caution{Barring}},
	{"open the front and look at the crank gear's key", []string{"crank_key"}, 200, "puller, front seal and gasket", []Caution{Barring}},
	{"measure the keyway from the No. 1 throw", []string{"keyway_error_deg"}, 160, "puller, piston stop, degree wheel", []Caution{Barring}},
}

// Checks returns every check, with the usual minutes.
func Checks() []Check { return append([]Check(nil), checks...) }
