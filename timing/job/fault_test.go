package job

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/job/document"
)

// Each row is one mistake and the one fault it gives: its line, key and part of
// what is said. Rows without a line of [engine] stand below a sound one, which
// has lines 1 to 3.
func TestOneFault(t *testing.T) {
	t.Parallel()
	engine := func(lines string) string { return "[engine]\nstrokes = 4\nfiring_order = [1, 2]\n" + lines }
	reading := func(r string) string { return sound + "[dowel]\nmeasured = { " + r + " }" }
	keyway := func(r string) string { return sound + "[keyway]\ndrawing = { " + r + " }" }
	const rim = `rim = [[0,0],[1,0],[2,1],[1,2],[0,1]], `
	for _, row := range []struct {
		name, text string
		line       int
		key, says  string
	}{
		{"newer format", "format = 3\n" + sound, 1, "format", "is 3; this program reads formats 1 to 2"},
		{"a case in an old format", "format = 1\n[case]\ncustomer = \"Quay\"\n" + sound, 2, "case", "belongs to format 2: write format = 2"},
		{"ports of a four-stroke", "[engine]\nstrokes = 2\nfiring_order = [1]\n[engine.valves]\nintake_opens_btdc_deg = 12\nintake_closes_abdc_deg = 38\nexhaust_opens_bbdc_deg = 44\nexhaust_closes_atdc_deg = 10\n", 4, "engine.valves", "leave intake and exhaust open at firing TDC"},
		{"no day", "[case]\nmeasured_on = \"31.3.2026\"\n" + sound, 2, "case.measured_on", "\"31.3.2026\" is not a day; write it as in \"2026-03-31\""},
		{"hours", "[case]\nhours = -1\n" + sound, 2, "case.hours", "is -1; it must be at least 0 and at most 1000000 h"},
		{"format is text", "format = \"1\"\n" + sound, 1, "format", "a whole number"},
		{"no strokes", "# nothing\n[engine]\nfiring_order = [1]", 2, "engine.strokes", "is missing: write 4"},
		{"no order", "[engine]\nstrokes = 4", 1, "engine.firing_order", "is missing"},
		{"zero strokes", "[engine]\nstrokes = 0\nfiring_order = [1]", 2, "engine.strokes", "0 is neither 4"},
		{"float strokes", "[engine]\nstrokes = 4.0\nfiring_order = [1]", 2, "engine.strokes", "a whole number is required: write 4"},
		{"empty order", "[engine]\nstrokes = 4\nfiring_order = []", 3, "engine.firing_order", "lists 0 cylinders"},
		{"twice", "[engine]\nstrokes = 4\nfiring_order = [1, 3, 3]", 3, "engine.firing_order", "cylinder 3 is listed twice"},
		{"text in order", "[engine]\nstrokes = 4\nfiring_order = [1,\n 2,\n \"3\"]", 5, "engine.firing_order", "a whole number"},
		{"order and intervals", "[engine]\nstrokes = 4\nfiring_order = [1, 3, 3]\nfiring_intervals_deg = [240, 240, 240]", 3, "engine.firing_order", "twice"},
		{"intervals short", engine("firing_intervals_deg = [360, 350]"), 4, "engine.firing_intervals_deg", "sum to 710"},
		{"intervals without strokes", "[engine]\nstrokes = 3\nfiring_order = [1]\nfiring_intervals_deg = [700]", 2, "engine.strokes", "3 is neither"},
		{"rotation", engine(`rotation = "left"`), 4, "engine.rotation", `"clockwise" or "anticlockwise"`},
		{"empty rotation", engine(`rotation = ""`), 4, "engine.rotation", `"clockwise" or "anticlockwise"`},
		{"bore", engine("bore_mm = 0"), 4, "engine.bore_mm", "above 0 and at most 5000 mm"},
		{"not a number", engine("bore_mm = nan"), 4, "engine.bore_mm", "a number is required"},
		{"endless", engine("bore_mm = +inf"), 4, "engine.bore_mm", "a number is required"},
		{"beyond floats", engine("bore_mm = 1e999"), 4, "engine.bore_mm", "too large"},
		{"huge whole", engine("bore_mm = 99999999999999999999"), 4, "engine.bore_mm", "too large"},
		{"rod", engine("stroke_mm = 118\nrod_mm = 59"), 5, "engine.rod_mm", "longer than half the stroke, 59 mm"},
		{"rod with offset", engine("stroke_mm = 118\npin_offset_mm = -2\nrod_mm = 61"), 6, "engine.rod_mm", "pin offset together, 61 mm"},
		{"offset", engine("stroke_mm = 118\nrod_mm = 100\npin_offset_mm = 59"), 6, "engine.pin_offset_mm", "less than half the stroke, 59 mm"},
		{"ratio", engine("compression_ratio = 1"), 4, "engine.compression_ratio", "above 1"},
		{"exponent", engine("polytropic_exponent = 13"), 4, "engine.polytropic_exponent", "at most 1.4"},
		{"gauge", engine("compression_gauge_bar = 0"), 4, "engine.compression_gauge_bar", "above 0 and at most 100 bar"},
		{"gauge speed", engine("compression_gauge_rpm = 1800"), 4, "engine.compression_gauge_rpm", "at most 1000 rpm"},
		{"valve", engine("[engine.valves]\nintake_opens_btdc_deg = 361"), 5, "engine.valves.intake_opens_btdc_deg", "at most 360°"},
		{"start", sound + "[injection]\nstart_btdc_deg = -181", 5, "injection.start_btdc_deg", "at least -180"},
		{"date", sound + "[injection]\nair_c = 1979-05-27", 5, "injection.air_c", "date or time 1979-05-27; a number"},
		{"section as key", "injection = 3\n" + sound, 1, "injection", "a section is required"},
		{"engine as key", "engine = 3", 1, "engine", "a section is required"},
		{"engine as list", "[[engine]]\nstrokes = 4", 1, "engine", "single brackets"},
		{"evidence as key", "evidence = 3\n" + sound, 1, "evidence", "[[evidence]]"},
		{"dowel as text", "dowel = \"12°\"\n" + sound, 1, "dowel", "a section is required"},
		{"reading as number", sound + "[dowel]\nmeasured = 12", 5, "dowel.measured", "a reading is required"},
		{"last line open", "[engine]\nstrokes = 4\nfiring_order = ", 3, "engine.firing_order", "no value after the ="},
		{"double brackets", sound + "[[injection]]\nair_c = 3", 4, "injection", "single brackets"},
		{"single brackets", sound + "[evidence]\nkind = \"a\"\nvalue = 1", 4, "evidence", "double brackets"},
		{"no positions", sound + "[crank_wheel]\nmissing = []", 4, "crank_wheel.positions", "is missing"},
		{"positions", sound + "[crank_wheel]\npositions = 3601\nmissing = [3601]", 5, "crank_wheel.positions", "at most 3600"},
		{"no such position", sound + "[crank_wheel]\npositions = 36\nmissing = [37]", 6, "crank_wheel.missing", "no position 37; the wheel has positions 1 to 36"},
		{"missing twice", sound + "[crank_wheel]\npositions = 36\nmissing = [36, 36, 36]", 6, "crank_wheel.missing", "position 36 is listed twice"},
		{"all missing", sound + "[crank_wheel]\npositions = 2\nmissing = [1, 2]", 6, "crank_wheel.missing", "at least one tooth"},
		{"first missing", sound + "[crank_wheel]\npositions = 36\nmissing = [1]\nfirst_tooth_btdc_deg = 90", 6, "crank_wheel.missing", "position 2: missing = [36], and first_tooth_btdc_deg = 80"},
		{"gap inside", sound + "[crank_wheel]\npositions = 60\nmissing = [20, 21]", 6, "crank_wheel.missing", "position 22: missing = [59, 60]"},
		{"longer gap inside", sound + "[crank_wheel]\npositions = 60\nmissing = [20, 21, 60]", 6, "crank_wheel.missing", "position 22: missing = [39, 59, 60]"},
		{"sensor", sound + "[crank_wheel]\npositions = 36\nsensor = \"optical\"", 6, "crank_wheel.sensor", `"inductive" or "hall"`},
		{"no cam teeth", sound + "[cam_wheel]\nsensor = \"hall\"", 4, "cam_wheel.teeth_cam_deg", "is missing"},
		{"empty cam wheel", sound + "[cam_wheel]\nteeth_cam_deg = []", 5, "cam_wheel.teeth_cam_deg", "is empty"},
		{"first cam tooth", sound + "[cam_wheel]\nteeth_cam_deg = [10, 100]", 5, "cam_wheel.teeth_cam_deg", "10 must be subtracted from each"},
		{"cam teeth falling", sound + "[cam_wheel]\nteeth_cam_deg = [0, 100, 100]", 5, "cam_wheel.teeth_cam_deg", "tooth 3 at 100 does not come after tooth 2"},
		{"cam tooth beyond", sound + "[cam_wheel]\nteeth_cam_deg = [0, 360]", 5, "cam_wheel.teeth_cam_deg", "below 360"},
		{"cam first tooth", sound + "[cam_wheel]\nteeth_cam_deg = [0]\nfirst_tooth_btdc_deg = 721", 6, "cam_wheel.first_tooth_btdc_deg", "at most 720"},
		{"two-stroke cam", "[engine]\nstrokes = 2\nfiring_order = [1]\n[cam_wheel]\nteeth_cam_deg = [0]\nfirst_tooth_btdc_deg = 361", 6, "cam_wheel.first_tooth_btdc_deg", "at most 360"},
		{"end", sound + "[dowel]\nseen_from = \"front\"", 5, "dowel.seen_from", `"nose" or "flywheel"`},
		{"method", reading(`method = "eye", side = "left"`), 5, "dowel.measured.method", `"angle", "degree_wheel", "chord", "arc", "xy" or "photo"`},
		{"method left out", reading(`chord_mm = 15`), 5, "dowel.measured.method", `write method = "chord"`},
		{"no side", reading(`angle_deg = 12`), 5, "dowel.measured.side", `"clockwise" or "anticlockwise"`},
		{"side", reading(`angle_deg = 12, side = "left"`), 5, "dowel.measured.side", `"left" is not known`},
		{"no angle", reading(`side = "clockwise"`), 5, "dowel.measured.angle_deg", "0 to 180"},
		{"angle", reading(`angle_deg = -12, side = "clockwise"`), 5, "dowel.measured.angle_deg", "is -12; it must be at least 0 and at most 180°"},
		{"uncertainty", reading(`angle_deg = 12, side = "clockwise", u_deg = -0.1`), 5, "dowel.measured.u_deg", "at least 0"},
		{"no radius", reading(`method = "chord", chord_mm = 15, side = "clockwise"`), 5, "dowel.measured.keyway_radius_mm", "at least one distance from the shaft axis"},
		{"long chord", reading(`method = "chord", chord_mm = 70, dowel_radius_mm = 38, keyway_radius_mm = 24, side = "clockwise"`), 5, "dowel.measured.chord_mm", "at least 14 and at most 62 mm"},
		{"short chord", reading(`method = "chord", chord_mm = 13, dowel_radius_mm = 38, keyway_radius_mm = 24, side = "clockwise"`), 5, "dowel.measured.chord_mm", "at least 14 and at most 62 mm"},
		{"arc in chord", reading(`method = "chord", chord_mm = 13, dowel_radius_mm = 38, side = "clockwise", arc_mm = 4`), 5, "dowel.measured.arc_mm", "does not belong to method chord"},
		{"throw in dowel", reading(`method = "chord", chord_mm = 13, throw_radius_mm = 38, keyway_radius_mm = 38, side = "clockwise"`), 5, "dowel.measured.throw_radius_mm", "belongs to [keyway] only"},
		{"dowel in keyway", keyway(`method = "chord", chord_mm = 13, dowel_radius_mm = 38, keyway_radius_mm = 38, side = "clockwise"`), 5, "keyway.drawing.dowel_radius_mm", "belongs to [dowel] only"},
		{"long arc", reading(`method = "arc", arc_mm = 63, rim_radius_mm = 20, side = "clockwise"`), 5, "dowel.measured.arc_mm", "at most 62.83 mm"},
		{"no rim radius", reading(`method = "arc", arc_mm = 63, side = "clockwise"`), 5, "dowel.measured.rim_radius_mm", "is missing"},
		{"side of xy", reading(`method = "xy", centre = [0, 0], keyway = [1, 0], dowel = [0, 1], side = "clockwise"`), 5, "dowel.measured.side", "does not belong to method xy"},
		{"two centres", reading(`method = "xy", centre = [[0, 0], [1, 1]], keyway = [1, 0], dowel = [0, 1]`), 5, "dowel.measured.centre", "has 2 points"},
		{"empty list", reading(`method = "chord", chord_mm = [], dowel_radius_mm = 38, side = "clockwise"`), 5, "dowel.measured.chord_mm", "is an empty list"},
		{"text in a list", reading(`method = "chord", chord_mm = [15, "16"], dowel_radius_mm = 38, side = "clockwise"`), 5, "dowel.measured.chord_mm", "a number is required"},
		{"one of several", reading(`method = "chord", chord_mm = [15, 77, 78], dowel_radius_mm = 38, side = "clockwise"`), 5, "dowel.measured.chord_mm", "is 77 mm; at distances of 38 and 38"},
		{"one of several angles", reading(`angle_deg = [12, 181], side = "clockwise"`), 5, "dowel.measured.angle_deg", "is 181; it must be at least 0 and at most 180°"},
		{"one of several arcs", reading(`method = "arc", arc_mm = [10, 200], rim_radius_mm = 60, side = "clockwise"`), 5, "dowel.measured.arc_mm", "is 200 mm"},
		{"over what", reading(`method = "chord", over = "above", chord_mm = 28, dowel_radius_mm = 38, side = "clockwise"`), 5, "dowel.measured.over", `"centres", "outside" or "inside"`},
		{"no pin", reading(`method = "chord", over = "outside", chord_mm = 28, key_mm = 10, dowel_radius_mm = 38, side = "clockwise"`), 5, "dowel.measured.pin_mm", "diameter of the dowel or its hole"},
		{"no crankpin", keyway(`method = "chord", over = "outside", chord_mm = 28, key_mm = 10, throw_radius_mm = 38, side = "clockwise"`), 5, "keyway.drawing.pin_mm", "diameter of the crankpin"},
		{"no key", reading(`method = "chord", over = "inside", chord_mm = 28, pin_mm = 8, dowel_radius_mm = 38, side = "clockwise"`), 5, "dowel.measured.key_mm", "width of the key"},
		{"no pin radius", reading(`method = "chord", over = "inside", chord_mm = 28, pin_mm = 8, key_mm = 10, keyway_radius_mm = 24, side = "clockwise"`), 5, "dowel.measured.dowel_radius_mm", "middle of the dowel"},
		{"no edge radius", reading(`method = "chord", over = "inside", on = "keyway", chord_mm = 28, pin_mm = 8, key_mm = 10, dowel_radius_mm = 38, side = "clockwise"`), 5, "dowel.measured.keyway_radius_mm", "at the edges of the keyway"},
		{"over too far", reading(`method = "chord", over = "outside", chord_mm = 48, pin_mm = 8, key_mm = 10, dowel_radius_mm = 38, side = "clockwise"`), 5, "dowel.measured.chord_mm", "only 38 mm from the axis"},
		{"pin without over", reading(`method = "chord", chord_mm = 15, pin_mm = 8, dowel_radius_mm = 38, side = "clockwise"`), 5, "dowel.measured.pin_mm", `write over = "outside" or "inside"`},
		{"half a wheel", reading(`method = "degree_wheel", keyway_deg = 3, counts = "clockwise"`), 5, "dowel.measured.dowel_deg", "says at the dowel"},
		{"wheel without sense", reading(`method = "degree_wheel", keyway_deg = 3, dowel_deg = 15`), 5, "dowel.measured.counts", "which way"},
		{"wheel with a side", reading(`method = "degree_wheel", keyway_deg = 3, dowel_deg = 15, counts = "clockwise", side = "clockwise"`), 5, "dowel.measured.side", "does not belong to method degree_wheel"},
		{"wheel of the other section", keyway(`method = "degree_wheel", keyway_deg = 3, throw_deg = 4, dowel_deg = 15, counts = "clockwise"`), 5, "keyway.drawing.dowel_deg", "belongs to [dowel] only"},
		{"wheel past its end", reading(`method = "degree_wheel", keyway_deg = 3, dowel_deg = [15, 361], counts = "clockwise"`), 5, "dowel.measured.dowel_deg", "at most 360°"},
		{"wheel without method", reading(`keyway_deg = 3, dowel_deg = 15, counts = "clockwise"`), 5, "dowel.measured.method", `write method = "degree_wheel"`},
		{"at the centre", reading(`method = "xy", centre = [0, 0], keyway = [1, 0], dowel = [0, 0]`), 5, "dowel.measured.dowel", "same point as the centre"},
		{"half a point", reading(`method = "xy", centre = [0], keyway = [1, 0], dowel = [0, 1]`), 5, "dowel.measured.centre", "a point is two numbers"},
		{"keyway without throw", keyway(`method = "xy", centre = [0, 0], keyway = [1, 0]`), 5, "keyway.drawing.throw", "is missing"},
		{"no file", reading(`method = "photo", ` + rim + `keyway = [[0,0],[1,1]], dowel = [3, 3]`), 5, "dowel.measured.file", "name the photograph"},
		{"short rim", reading(`method = "photo", file = "a.png", rim = [[1,1],[2,2],[3,3],[4,4]], keyway = [[0,0],[1,1]], dowel = [3, 3]`), 5, "dowel.measured.rim", "has 4 points"},
		{"one corner", reading(`method = "photo", file = "a.png", ` + rim + `keyway = [1,1], dowel = [3, 3]`), 5, "dowel.measured.keyway", "two corners"},
		{"same corner", reading(`method = "photo", file = "a.png", ` + rim + `keyway = [[1,1],[1,1]], dowel = [3, 3]`), 5, "dowel.measured.keyway", "same point"},
		{"two on the dowel", reading(`method = "photo", file = "a.png", ` + rim + `keyway = [[1,1],[1,2]], dowel = [[3, 3], [4, 4]]`), 5, "dowel.measured.dowel", "three or more on its edge"},
		{"three bolts", reading(`method = "photo", file = "a.png", ` + rim + `keyway = [[1,1],[1,2]], dowel = [3, 3], bolts = [[1,1],[2,2],[3,1]]`), 5, "dowel.measured.bolts", "four at least"},
		{"gear ratio", sound + "[gears]\ncrank_teeth = 32\ncam_teeth = 65", 6, "gears.cam_teeth", "a crankshaft gear of 32 teeth goes with 64"},
		{"no crank gear", sound + "[gears]\ncam_teeth = 65", 4, "gears.crank_teeth", "is missing"},
		{"idler", sound + "[gears]\ncrank_teeth = 32\nidler_teeth = [0]\ncam_teeth = 64", 6, "gears.idler_teeth", "idler gear 1 has 0 teeth"},
		{"pump's driver", sound + "[gears]\ncrank_teeth = 32\ncam_teeth = 64\npump_teeth = 32\npump_driven_by = \"idler 1\"", 8, "gears.pump_driven_by", "\"idler 1\" is not known; it is \"crank\" or \"cam\""},
		{"pump's teeth", sound + "[gears]\ncrank_teeth = 32\ncam_teeth = 64\npump_teeth = 0", 7, "gears.pump_teeth", "at least 1"},
		{"no pump's teeth", sound + "[gears]\ncrank_teeth = 32\ncam_teeth = 64\npump_driven_by = \"cam\"", 4, "gears.pump_teeth", "is missing"},
		{"teeth out", sound + "[gears]\ncrank_teeth = 32\ncam_teeth = 64\ncam_teeth_out = -65", 7, "gears.cam_teeth_out", "has 64 teeth"},
		{"no kind", sound + "[[evidence]]\nkind = \"a\"\nvalue = 1\n[[evidence]]\nvalue = 1", 7, "evidence[2].kind", "is missing"},
		{"no value", sound + "[[evidence]]\nkind = \"a\"", 4, "evidence[1].value", "is missing"},
		{"evidence key", sound + "[[evidence]]\nkind = \"a\"\nvalue = 1\nunit = \"mm\"", 7, "evidence[1].unit", "kind, value, u"},
		{"unknown key", engine("colour = 3"), 4, "engine.colour", "known here: strokes, firing_order"},
		{"misspelt", engine("comperssion_ratio = 17"), 4, "engine.comperssion_ratio", "is compression_ratio meant?"},
		{"without unit", engine("bore = 102"), 4, "engine.bore", "is bore_mm meant?"},
		{"misspelt required", "[engine]\nstrokes = 4\nfireing_order = [1]", 3, "engine.fireing_order", "is firing_order meant?"},
		{"wrong section", engine("cetane = 48"), 4, "engine.cetane", "it belongs to [injection]"},
		{"misspelt section", "[engin]\nstrokes = 4\nfiring_order = [1]", 1, "engin", "is engine meant?"},
		{"odd key", "\"a\\nb\" = 1\n" + sound, 1, `"a\nb"`, "unknown key"},
		{"key twice", engine("strokes = 4"), 4, "engine.strokes", "is given twice; the first is on line 2"},
		{"section twice", sound + "[engine]\nstrokes = 4\nbore_mm = 100", 4, "engine", "section given twice; the first is on line 1"},
		{"dotted and section", "engine.strokes = 4\nengine.firing_order = [1]\n[engine]\nbore_mm = 100", 3, "engine", "section given twice"},
		{"inline and section", "engine = { strokes = 4, firing_order = [1] }\n[engine.valves]\nintake_opens_btdc_deg = 1", 2, "engine", "already has its value on line 1"},
		{"twice inline", "engine = { strokes = 4, strokes = 2, firing_order = [1] }", 1, "engine.strokes", "is given twice"},
		{"no =", "[engine]\nstrokes 4\nfiring_order = [1]", 2, "engine.strokes", "a line is a key, = and its value"},
		{"no value", "[engine]\nstrokes = # four\nfiring_order = [1]", 2, "engine.strokes", "no value after the ="},
		{"decimal comma", engine("bore_mm = 102,5\nstroke_mm = 118"), 4, "engine.bore_mm", "write decimals with a point"},
		{"no quotes", engine("rotation = clockwise"), 4, "engine.rotation", "quotation marks"},
		{"no quotes, false", engine("rotation = flywheel"), 4, "engine.rotation", "quotation marks"},
		{"unit", engine("bore_mm = 102mm"), 4, "engine.bore_mm", "leave the unit out"},
		{"minus sign", engine("pin_offset_mm = \u22121"), 4, "engine.pin_offset_mm", "keyboard's '-'"},
		{"curly quotes", engine("rotation = \u201cclockwise\u201d"), 4, "engine.rotation", "plain quotation marks"},
		{"no closing quote", engine("rotation = \"clockwise\nbore_mm = 100"), 4, "engine.rotation", "quotation mark that ends"},
		{"point first", engine("bore_mm = .5"), 4, "engine.bore_mm", "a digit on both sides"},
		{"point last", engine("bore_mm = 5.\nstroke_mm = 5"), 4, "engine.bore_mm", "a digit on both sides"},
		{"leading zero", engine("bore_mm = 05"), 4, "engine.bore_mm", "begin with 0"},
		{"open list", "[engine]\nfiring_order = [1, 3\nstrokes = 4\n[injection]\nair_c = 4", 3, "engine.firing_order", "is missing before this"},
		{"open list at the end", "[engine]\nstrokes = 4\nfiring_order = [1, 3", 3, "engine.firing_order", "the ] that ends this list is missing"},
		{"fault in a long list", "[engine]\nfiring_order = [\n1,\n2x,\n3\n]\nstrokes = 4", 4, "engine.firing_order", "quotation marks"},
		{"open text", sound + "[dowel]\nseen_from = \"\"\"nose\n[injection]\nair_c = 4", 7, "dowel.seen_from", "quotation mark that ends"},
		{"backslash", engine("[dowel]\nmeasured = { method = \"photo\", file = \"C:\\parts\\new.png\" }"), 5, "dowel.measured", "backslash"},
		{"open header", "[engine\nstrokes = 4\nfiring_order = [1]", 1, "engine", "square brackets"},
		{"not UTF-8", "title = \"K\xfchler\"\n" + sound, 1, "", "save the file as UTF-8"},
		{"not UTF-8 in two lines", "# \xfc\xfc\n" + sound + "# \xfc", 1, "", "this line and 1 more"},
		{"UTF-16", "\xff\xfef\x00o\x00", 1, "", "UTF-16"},
		{"bad escape of a date", sound + "[injection]\nair_c = 99:99:99", 5, "injection.air_c", "a number is required"},
	} {
		_, err := Read("job.toml", []byte(row.text))
		var fs Faults
		if !errors.As(err, &fs) {
			t.Errorf("%s: read without fault", row.name)
			continue
		}
		f := fs[0]
		if len(fs) > 1 || f.Line != row.line || f.Key != row.key || !strings.Contains(f.Message, row.says) {
			t.Errorf("%s: got\n%v\nwant job.toml:%d: %s: ...%s...", row.name, fs, row.line, row.key, row.says)
		}
		if want := fmt.Sprintf("job.toml:%d: ", row.line); !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: %q does not begin with %q", row.name, err, want)
		}
	}
}

// TestLimitsAreIncluded reads values that lie exactly on a limit.
func TestLimitsAreIncluded(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"[engine]\nstrokes = 4\nfiring_order = [1]\nstroke_mm = 100\nrod_mm = 50.0001\nbore_mm = 5000",
		sound + "[injection]\nstart_btdc_deg = -180\ncranking_rpm = 6000\nair_c = -90\nair_kpa = 0.001\ncetane = 150",
		sound + "[crank_wheel]\npositions = 1\nfirst_tooth_btdc_deg = -360",
		sound + "[crank_wheel]\npositions = 60\nmissing = [20, 40, 60]",
		sound + "[crank_wheel]\npositions = 60\nmissing = [60, 59, 20, 40, 41]",
		sound + "[cam_wheel]\nteeth_cam_deg = [0, 359.9]\nfirst_tooth_btdc_deg = 720",
		sound + "[dowel]\nmeasured = { angle_deg = 180 }\ndrawing = { angle_deg = 0 }",
		sound + "[dowel]\nmeasured = { method = \"chord\", chord_mm = 62, dowel_radius_mm = 38, keyway_radius_mm = 24, side = \"clockwise\" }",
		sound + "[keyway]\nmeasured = { method = \"chord\", chord_mm = 14, throw_radius_mm = 38, keyway_radius_mm = 24, side = \"clockwise\", seen_from = \"flywheel\" }",
		sound + "[keyway]\nmeasured = { method = \"xy\", centre = [0, 0], keyway = [[1, 2]], throw = [3, 4], u_mm = 0 }",
		sound + "[keyway]\nmeasured = { method = \"photo\", file = \"a.jpg\", centre = [0, 0], keyway = [[1, 2], [2, 2]], throw = [[1,3], [3, 4], [3, 1]], rim = [[0,0],[1,0],[2,1],[1,2],[0,1]], bolts = [[1,1],[2,2],[3,1], [1, 0]], u_px = 2 }",
		"[engine]\nstrokes = 2\nfiring_order = [1]\n[gears]\ncrank_teeth = 30\ncam_teeth = 30\ncam_teeth_out = -30",
	} {
		if _, err := Read("job.toml", []byte(text)); err != nil {
			t.Errorf("%q:\n%v", text, err)
		}
	}
}

// TestFaultWithoutFile checks a job that came from no file, as a form does.
func TestFaultWithoutFile(t *testing.T) {
	t.Parallel()
	if fs := Check(example()); fs != nil {
		t.Errorf("sound job: %v", fs)
	}
	fs := Check(Job{})
	if len(fs) != 2 || fs[0].Key != "engine.strokes" || fs[1].Key != "engine.firing_order" || fs[0].Line != 0 || fs[0].File != "" {
		t.Errorf("empty job: %v", fs)
	}
	j := example()
	j.Format = 3
	j.Engine.RodMM = Num(59)
	j.CrankWheel.Missing = []int{1}
	j.Dowel.Measured.Side = ""
	j.Evidence = append(j.Evidence, Evidence{Kind: "a", Value: 3}) // an int is no float64
	var keys []string
	for _, f := range Check(j) {
		keys = append(keys, f.Key)
	}
	if got, want := strings.Join(keys, " "), "format engine.rod_mm crank_wheel.missing dowel.measured.side evidence[2].value"; got != want {
		t.Errorf("faults of %s, want %s", got, want)
	}
}

// allKeys returns every key of a job by its name; those of evidence go by
// "evidence", those of a part by "part".
func allKeys() map[string]document.Key {
	all := map[string]document.Key{}
	var walk func(path string, keys []document.Key)
	walk = func(path string, keys []document.Key) {
		for _, k := range keys {
			name := strings.TrimPrefix(path+"."+k.Name, ".")
			all[name] = k
			if sub, ok := k.To.(document.Section); ok {
				walk(name, sub.Open())
			}
		}
	}
	walk("", schema())
	walk("evidence", new(Evidence).slots())
	walk("part", new(Part).slots())
	return all
}

// TestKeysAreKeys holds the table of limits to the layout of the file.
func TestKeysAreKeys(t *testing.T) {
	t.Parallel()
	all := allKeys()
	limited := map[string]bool{"evidence.u": true} // refused by its name
	for _, k := range Keys() {
		limited[k.Key] = true
		s, ok := all[k.Key]
		if !ok {
			t.Errorf("%s is no key of a job", k.Key)
			continue
		}
		if _, whole := s.To.(*int); whole != k.Whole {
			t.Errorf("%s: whole is %v", k.Key, k.Whole)
		}
	}
	// And every number has its limits, but for those Check refuses by their name.
	for key, s := range all {
		of := strings.TrimPrefix(key, "part.")
		foreign := strings.HasPrefix(of, "dowel") && s.Name == "throw_radius_mm" || strings.HasPrefix(of, "keyway") && s.Name == "dowel_radius_mm"
		if _, number := s.To.(*Number); number && !foreign && !limited[key] {
			t.Errorf("%s has no limits", key)
		}
	}
}
