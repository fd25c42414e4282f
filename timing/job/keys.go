package job

import (
	"math"

	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/timing/wheel"
)

// KeyInfo is a number of the job file with its unit and the values it may have.
// Limits are sanity limits: far outside what is built, near enough to catch a
// slipped decimal point or the wrong unit.
type KeyInfo struct {
	Key      string  // as in Fault.Key
	Unit     string  // "°", "mm", "rpm", ...; "" for ratios and counts
	Min, Max float64 // ±Inf where there is no limit
	AboveMin bool    // Min itself is not allowed
	Whole    bool    // whole numbers only
}

// Keys returns every key that takes one number, in the order of the file. Rules
// that rest on a second value (a rod longer than half the stroke) are for
// [Check] to say; evidence has none here.
func Keys() []KeyInfo {
	inf := math.Inf(1)
	list := []KeyInfo{
		{"case.hours", "h", 0, 1e6, false, false},
		{"engine.strokes", "", 2, 4, false, true},
		{"engine.bore_mm", "mm", 0, 5000, true, false},
		{"engine.stroke_mm", "mm", 0, 5000, true, false},
		{"engine.rod_mm", "mm", 0, 5000, true, false},
		{"engine.pin_offset_mm", "mm", -inf, inf, false, false},
		{"engine.compression_ratio", "", 1, 100, true, false},
		{"engine.polytropic_exponent", "", 1, 1.4, false, false},
		{"engine.compression_gauge_bar", "bar", 0, 100, true, false},
		{"engine.compression_gauge_rpm", "rpm", 0, 1000, true, false},
		{"engine.valves.intake_opens_btdc_deg", "°", -180, 360, false, false},
		{"engine.valves.intake_closes_abdc_deg", "°", -180, 360, false, false},
		{"engine.valves.exhaust_opens_bbdc_deg", "°", -180, 360, false, false},
		{"engine.valves.exhaust_closes_atdc_deg", "°", -180, 360, false, false},
		{"injection.start_btdc_deg", "°", -180, 180, false, false},
		{"injection.cranking_rpm", "rpm", 0, 6000, true, false},
		{"injection.air_c", "°C", -90, 150, false, false},
		{"injection.air_kpa", "kPa", 0, 1000, true, false},
		{"injection.cetane", "", 0, 150, true, false},
		{"crank_wheel.positions", "", 1, wheel.MaxNotated, false, true},
		{"crank_wheel.first_tooth_btdc_deg", "°", -360, 720, false, false},
		{"cam_wheel.first_tooth_btdc_deg", "°", 0, 720, false, false},
	}
	for _, feature := range []string{"dowel", "keyway"} {
		for _, reading := range []string{"drawing", "measured"} {
			list = append(list, readingKeys(feature, feature+"."+reading)...)
		}
	}
	for _, feature := range []string{"dowel", "keyway"} { // of each part
		list = append(list, readingKeys(feature, "part."+feature)...)
	}
	return append(list, []KeyInfo{
		{"gears.crank_teeth", "", 1, 10000, false, true},
		{"gears.cam_teeth", "", 1, 10000, false, true},
		{"gears.cam_teeth_out", "", -10000, 10000, false, true},
		{"gears.pump_teeth", "", 1, 10000, false, true},
	}...)
}

// holds tells whether v is allowed.
func (k KeyInfo) holds(v float64) bool {
	if math.IsNaN(v) || math.IsInf(v, 0) || k.Whole && v != math.Trunc(v) {
		return false
	}
	return v <= k.Max && (v > k.Min || v == k.Min && !k.AboveMin)
}

// wants says of a value which are allowed: "is 0; it must be above 0 and at most
// 5000 mm".
func (k KeyInfo) wants(v float64) phrase.Sentence {
	unit := quantity.Unit(k.Unit)
	is, low, high := phrase.Value{V: v, Unit: unit}.Plain(), phrase.Value{V: k.Min, Unit: unit}, phrase.Value{V: k.Max, Unit: unit}
	noLow, noHigh := math.IsInf(k.Min, -1), math.IsInf(k.Max, 1)
	switch {
	case noLow && noHigh:
		return phrase.Of("is %s; it must be a number", is)
	case noLow:
		return phrase.Of("is %s; it must be at most %s", is, high)
	case noHigh && k.AboveMin:
		return phrase.Of("is %s; it must be above %s", is, low)
	case noHigh:
		return phrase.Of("is %s; it must be at least %s", is, low)
	case k.AboveMin:
		return phrase.Of("is %s; it must be above %s and at most %s", is, low.Plain(), high)
	}
	return phrase.Of("is %s; it must be at least %s and at most %s", is, low.Plain(), high)
}
