package finding

import (
	"math"

	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// EvidenceGroup is kinds of evidence that are got in the same way, by name.
type EvidenceGroup struct {
	Title phrase.Text
	Kinds []string
}

// EvidenceGroups returns every kind of evidence, by how it is got, what costs least
// first.
func EvidenceGroups() []EvidenceGroup {
	return []EvidenceGroup{
		{"Heard and seen", []string{"starts", "began", "kicks_back", "smoke", "runs_rough", "lacks_power", "dead_cylinder", "fault_code", "code_active"}},
		{"Tried", []string{"starts_cam_unplugged", "starts_crank_unplugged", "starts_boosted", "starts_clean_fuel"}},
		{"Replaced", []string{"replaced", "replaced_in_vain"}},
		{"Read while cranking", []string{"cranking_rpm", "cranking_volts", "synchronised", "controller_speed", "injectors_fire", "rail_pressure_bar", "rail_reached_percent", "compression_bar", "compression_weakest_percent", "leak_down"}},
		{"From a recording", []string{"crank_signal", "cam_signal", "correlation_error_deg", "tdc_offset_deg"}},
		{"External inspection", []string{"sensor_plugs", "sensor_supply", "crank_sensor_test", "cam_sensor_test", "sensor_wires", "controller_power", "injector_leads", "order_set", "fuel_sample", "fuel_lines", "injector_return", "wheel_teeth", "cam_wheel_seat"}},
		{"Timing cover off", []string{"wheel_side", "wheel_number", "wheel_seat", "dowel_side", "crank_key", "cam_gear_seat", "crank_gear_marks_teeth", "cam_gear_marks_teeth"}},
		{"Measured on the part", []string{"dowel_error_deg", "keyway_error_deg", "valve_timing_error_deg", "damper_mark_error_deg"}},
	}
}

// Ways are the words for the two ways in which a number with a sign can be off, the
// positive one first; ok is false for a kind whose numbers have no sign.
func Ways(kind string) (ways [2]phrase.Text, ok bool) {
	ways, ok = waysOf[kind]
	return ways, ok
}

var waysOf = map[string][2]phrase.Text{
	"correlation_error_deg":  {"cam edges late", "cam edges early"},
	"tdc_offset_deg":         {"after TDC", "before TDC"},
	"dowel_error_deg":        {"ahead", "behind"},
	"keyway_error_deg":       {"ahead", "behind"},
	"damper_mark_error_deg":  {"after TDC", "before TDC"},
	"valve_timing_error_deg": {"advanced", "retarded"},
	"crank_gear_marks_teeth": {"camshaft ahead", "camshaft behind"},
	"cam_gear_marks_teeth":   {"camshaft ahead", "camshaft behind"},
}

// What a kind is taken for, where its title leaves it open.
var evidenceHints = map[string]phrase.Text{
	"correlation_error_deg":       "How far the camshaft sensor's edges are from their correct places, counted on the crank sensor wheel.",
	"tdc_offset_deg":              "Crank angle in the ECU when cylinder 1 is at true TDC.",
	"dowel_error_deg":             "Ahead means in the direction of rotation.",
	"keyway_error_deg":            "Ahead means in the direction of rotation.",
	"crank_gear_marks_teeth":      "Without an idler gear, the only mesh there is; 0 where the marks are correct.",
	"cam_gear_marks_teeth":        "0 where the marks are correct.",
	"compression_bar":             "Gauge pressure.",
	"cranking_volts":              "Good means at least 9.6 V of a 12 V battery, 19.2 V of 24 V.",
	"damper_mark_error_deg":       "Where the mark is when a piston stop gives TDC of cylinder 1.",
	"compression_weakest_percent": "Gauge readings of all cylinders: the lowest divided by the highest.",
	"rail_reached_percent":        "Actual pressure divided by the set-point, both from the scan tool.",
	"crank_sensor_test":           "Its resistance or switching, and its air gap.",
	"cam_sensor_test":             "Its resistance or switching, and its air gap.",
	"injector_return":             "How much fuel each injector returns to the tank.",
	"replaced":                    "Tick what is new since the engine last ran well.",
	"replaced_in_vain":            "Tick what was replaced without curing it.",
}

// EvidenceHint is what to know of a kind before answering; "" where its title says
// it all.
func EvidenceHint(kind string) phrase.Text { return evidenceHints[kind] }

// Implied returns the evidence that the job holds elsewhere than in [[evidence]]: a
// dowel or keyway measured against its drawing, a compression gauge's reading, and
// gear teeth found out. What [[evidence]] says of the same kind counts before it.
func Implied(j job.Job) ([]Clue, error) {
	dowel, keyway, err := features(j)
	if err != nil {
		return nil, err
	}
	j.Evidence = nil
	return clues(j, dowel, keyway), nil
}

// The texts of a clue's value.
const (
	clueNumber    phrase.Text = "{{.Size}}{{.Unit}}"
	clueNumberU   phrase.Text = "{{.Size}}{{.Unit}} ± {{.U}}{{.Unit}}"
	clueOff       phrase.Text = "{{.Size}}{{.Unit}} {{.Way}}"
	clueOffU      phrase.Text = "{{.Size}}{{.Unit}} {{.Way}} ± {{.U}}{{.Unit}}"
	clueWord      phrase.Text = "{{.Word}}"
	clueUnit      phrase.Text = "{{.Size}} {{.Unit}}"
	clueUnitU     phrase.Text = "{{.Size}} {{.Unit}} ± {{.U}} {{.Unit}}"
	clueTeeth     phrase.Text = "{{.Size}} teeth, {{.Way}}"
	clueTooth     phrase.Text = "1 tooth, {{.Way}}"
	clueTeethNone phrase.Text = "right"
	cluePressure  phrase.Text = "{{.P}}"
	cluePressureU phrase.Text = "{{.P}} ± {{.U}}"
)

// Says is what was seen in words, a number with which way it is off.
func (c Clue) Says() phrase.Sentence {
	k, ok := cause.KindNamed(c.Kind)
	v, isNumber := c.Value.(float64)
	if !ok || !isNumber { // also a number called good or not good
		return phrase.Sentence{Text: clueWord, Data: map[string]any{"Word": c.value()}}
	}
	ways, signed := Ways(k.Name)
	way := ways[0]
	if v < 0 {
		way = ways[1]
	}
	if k.Unit == "bar" {
		return c.pressure(v)
	}
	data := map[string]any{"Size": phrase.Num{Value: v, Decimals: 1}, "Unit": k.Unit}
	if signed {
		data["Size"], data["Way"] = phrase.Num{Value: math.Abs(v), Decimals: 1}, way
	}
	if c.U != nil {
		data["U"] = phrase.Num{Value: *c.U, Decimals: 1}
		if *c.U < 0.095 {
			data["U"] = phrase.Num{Value: *c.U, Decimals: 2}
		}
	}
	text, textU := clueUnit, clueUnitU
	switch {
	case k.Whole && v == 0:
		return phrase.Sentence{Text: clueTeethNone}
	case k.Whole && math.Abs(v) == 1:
		return phrase.Sentence{Text: clueTooth, Data: data}
	case k.Whole:
		return phrase.Sentence{Text: clueTeeth, Data: data}
	case k.Unit == "°" && signed && (phrase.Num{Value: v, Decimals: 1}).String() != "0":
		text, textU = clueOff, clueOffU
	case k.Unit == "°":
		text, textU = clueNumber, clueNumberU
	}
	if c.U != nil {
		text = textU
	}
	return phrase.Sentence{Text: text, Data: data}
}

// The texts of a band of numbers that a check may show.
const (
	foundWord  phrase.Text = "{{.Kind}}: {{.Word}}"
	foundTeeth phrase.Text = "{{.Kind}}: {{.Teeth}}"
	foundBand  phrase.Text = "{{.Kind}}: {{.From}} to {{.To}}"
	foundOff   phrase.Text = "{{.Kind}}: {{.From}} to {{.To}}{{.Unit}} {{.Way}}"
	foundOther phrase.Text = "{{.Kind}}: anything else"
	foundOver  phrase.Text = "{{.Kind}}: {{.From}} to {{.To}} {{.Unit}}"
)

// foundSays is what a check may show, a sentence for each kind of evidence.
func foundSays(values []cause.Found) []phrase.Sentence {
	var list []phrase.Sentence
	for _, f := range values {
		if k, ok := cause.KindNamed(f.Kind); ok {
			list = append(list, kindSays(k, f))
		}
	}
	return list
}

// kindSays is what a check may show of one kind: a number that can be off either way
// is said with its way.
func kindSays(k *cause.Kind, f cause.Found) phrase.Sentence {
	data := map[string]any{"Kind": k.Title}
	if f.Word != "" {
		data["Word"] = k.Text(f.Word)
		return phrase.Sentence{Text: foundWord, Data: data}
	}
	at := func(v float64) phrase.Sentence { return Clue{Kind: k.Name, Value: math.Round(v)}.Says() }
	data["From"], data["To"], data["Unit"] = phrase.Num{Value: f.From}, phrase.Num{Value: f.To}, k.Unit
	ways, signed := Ways(k.Name)
	text := foundOver
	switch {
	case f.Other:
		text = foundOther
	case k.Whole:
		text, data["Teeth"] = foundTeeth, at(f.Likely)
	case k.Unit == "bar":
		text, data["From"], data["To"] = foundBand, quantity.Pressure(f.From, 0).Plain(), quantity.Pressure(f.To, 0)
	case signed && f.To <= 0:
		text, data["From"], data["To"], data["Way"] = foundOff, phrase.Num{Value: -f.To}, phrase.Num{Value: -f.From}, ways[1]
	case signed && f.From >= 0:
		text, data["Way"] = foundOff, ways[0]
	case signed:
		text, data["From"], data["To"] = foundBand, at(f.From), at(f.To)
	}
	return phrase.Sentence{Text: text, Data: data}
}

// pressure is a pressure that was read, in the reader's unit.
func (c Clue) pressure(v float64) phrase.Sentence {
	if c.U == nil {
		return phrase.Sentence{Text: cluePressure, Data: map[string]any{"P": quantity.Pressure(v, 1)}}
	}
	return phrase.Sentence{Text: cluePressureU, Data: map[string]any{"P": quantity.Pressure(v, 1), "U": quantity.Pressure(*c.U, 1).Wide()}}
}
