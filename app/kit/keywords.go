package kit

import (
	"regexp"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

// keyWords are what the window calls the keys of a job file, by their last name, and its
// sections: as their fields are labelled.
var keyWords = map[string]phrase.Text{
	"engine": "Engine", "injection": "Injection", "crank_wheel": "Crank sensor wheel", "cam_wheel": "Cam sensor wheel",
	"dowel": "Dowel", "keyway": "Keyway", "gears": "Gears", "case": "The case",
	"firing_order": "Firing order", "firing_intervals_deg": "Intervals", "bore_mm": "Bore", "stroke_mm": "Stroke", "rod_mm": "Rod length",
	"pin_offset_mm": "Piston-pin offset", "compression_ratio": "Compression ratio", "polytropic_exponent": "Exponent",
	"compression_gauge_bar": "Gauge reading", "compression_gauge_rpm": "Gauge read at",
	"intake_opens_btdc_deg": "Intake opens", "intake_closes_abdc_deg": "Intake closes",
	"exhaust_opens_bbdc_deg": "Exhaust opens", "exhaust_closes_atdc_deg": "Exhaust closes",
	"start_btdc_deg": "Commanded at", "cranking_rpm": "Cranking speed", "air_c": "Air", "air_kpa": "Air pressure",
	"teeth_cam_deg": "Teeth, cam degrees", "first_tooth_btdc_deg": "Tooth 1 passes at",
	"crank_teeth": "Crankshaft gear, teeth", "idler_teeth": "Idler gears, teeth", "cam_teeth": "Camshaft gear, teeth",
	"cam_teeth_out": "Gear found out by", "pump_teeth": "Pump gear, teeth", "pump_driven_by": "Pump driven by",
	"seen_from": "Seen from",
}

// aKey is what may be a key or a section of a job file.
var aKey = regexp.MustCompile(`\[[a-z_]+\]|\b(?:[a-z_]+\.)*[a-z]+(?:_[a-z]+)+\b`)

// WithoutKeys is a text of the window, with the names of fields in place of the keys of
// the job file, which belong to the command line.
func WithoutKeys(text string) string {
	if !strings.ContainsAny(text, "_[") {
		return text
	}
	var b strings.Builder
	from := 0
	for _, at := range aKey.FindAllStringIndex(text, -1) {
		key := strings.Trim(text[at[0]:at[1]], "[]")
		word, ok := keyWords[key[strings.LastIndexByte(key, '.')+1:]]
		if !ok || inPath.MatchString(text[:at[0]]) || ofPath.MatchString(text[at[1]:]) {
			continue
		}
		b.WriteString(text[from:at[0]])
		b.WriteString(With("“{{.Name}}”", map[string]any{"Name": word}))
		from = at[1]
	}
	return b.String() + text[from:]
}

// What stands right before or behind a name that belongs to a file or a folder, which is
// called what it is called.
var (
	inPath = regexp.MustCompile(`[\p{L}\p{N}/\\-]$`)
	ofPath = regexp.MustCompile(`^(?:[\p{L}\p{N}/\\_-]|\.[\p{L}\p{N}])`)
)

// KeyWord is what the window calls a key of the job file that no field is labelled for: by
// its last name, else by its section.
func KeyWord(key string) (string, bool) {
	names := strings.Split(key, ".")
	for _, name := range []string{names[len(names)-1], names[0]} {
		if word, ok := keyWords[name]; ok {
			return Tr(word), true
		}
	}
	return "", false
}
