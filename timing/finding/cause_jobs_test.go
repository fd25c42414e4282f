package finding

import (
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/internal/sample"
)

// launch is an invented six whose dowel is drawn at 12.5 degrees clockwise, with
// all that a job can say of the engine; DOWEL and KEYWAY are what was measured.
const launch = `title = "Harbour launch"
[engine]
strokes = 4
firing_order = [1, 5, 3, 6, 2, 4]
bore_mm = 102
stroke_mm = 118
rod_mm = 192
compression_ratio = 17.5
[engine.valves]
intake_opens_btdc_deg = 12
intake_closes_abdc_deg = 38
exhaust_opens_bbdc_deg = 44
exhaust_closes_atdc_deg = 10
[injection]
start_btdc_deg = 9
cranking_rpm = 190
air_c = 15
air_kpa = 101.3
cetane = 48
[crank_wheel]
positions = 36
missing = [36]
first_tooth_btdc_deg = 90
sensor = "inductive"
[cam_wheel]
teeth_cam_deg = [0, 60, 120, 180, 240, 300, 330]
first_tooth_btdc_deg = 40
sensor = "hall"
[gears]
crank_teeth = 32
idler_teeth = [49]
cam_teeth = 64
[dowel]
drawing = { angle_deg = 12.5, side = "clockwise", u_deg = 0.1 }
DOWEL
[keyway]
drawing = { angle_deg = 40, side = "clockwise", u_deg = 0.1 }
KEYWAY
`

const (
	dowelChord  = `measured = { method = "chord", chord_mm = 15.47, dowel_radius_mm = 38.0, keyway_radius_mm = 24.0, side = "anticlockwise", u_mm = 0.1 }`
	dowelRight  = `measured = { angle_deg = 12.6, side = "clockwise", u_deg = 0.25 }`
	keywayRight = `measured = { angle_deg = 40.1, side = "clockwise", u_deg = 0.25 }`
	keywayOff   = `measured = { angle_deg = 46, side = "clockwise", u_deg = 0.25 }`
)

// What anybody would suspect first comes first, from whole job files.
func TestCausesOfJobs(t *testing.T) {
	bare := causeSix
	with := func(dowel, keyway string) string {
		return strings.NewReplacer("DOWEL\n", dowel+"\n", "KEYWAY\n", keyway+"\n").Replace(launch)
	}
	drawn, measured := with("", ""), with(dowelRight, keywayRight)
	anyWheel := []string{"wheel slipped", "wheel of another part number", "wheel back to front", "cam wheel slipped"}
	for _, c := range []struct {
		name, job string
		want      []string // any of these
	}{
		{"nothing", bare, []string{cause.TimingRight}},
		{"a whole job, nothing measured", drawn, []string{cause.TimingRight}},
		{"a whole job, measured right", measured, []string{cause.TimingRight, "no fuel pressure"}},
		{"dowel on the other side", with(dowelChord, ""), []string{"dowel mirrored"}},
		{"and the keyway is right", with(dowelChord, keywayRight), []string{"dowel mirrored"}},
		{"and the signals say the same", with(dowelChord, keywayRight) + saw("correlation_error_deg", "-25.3") + saw("tdc_offset_deg", "-25"), []string{"dowel mirrored"}},
		{"correlation of a mirrored dowel", drawn + saw("correlation_error_deg", "-25.3"), []string{"dowel mirrored"}},
		{"the same, dowel measured right", measured + saw("correlation_error_deg", "-25"), anyWheel},
		{"the same, wheel looked at", measured + saw("correlation_error_deg", "-25") + saw("wheel_side", `"right"`) + saw("wheel_number", `"right"`) + saw("wheel_seat", `"moved"`), []string{"wheel slipped"}},
		{"the same, true TDC right", measured + saw("correlation_error_deg", "-25") + saw("tdc_offset_deg", "0"), []string{"cam wheel slipped"}},
		{"keyway off", with(dowelRight, keywayOff), []string{"keyway off"}},
		{"a tooth of 32", drawn + saw("correlation_error_deg", "11.25"), []string{"cam gear out by teeth", "crank gear out by teeth"}},
		{"a tooth of 32, true TDC right", measured + saw("correlation_error_deg", "-11.2") + saw("tdc_offset_deg", "0.3"), []string{"cam gear out by teeth", "crank gear out by teeth"}},
		{"teeth out by the job", strings.Replace(drawn, "cam_teeth = 64\n", "cam_teeth = 64\ncam_teeth_out = -1\n", 1), []string{"cam gear out by teeth"}},
		{"half a turn", measured + saw("correlation_error_deg", "360"), []string{"cam wheel half a turn out"}},
		{"half a turn, bare", bare + saw("correlation_error_deg", "360"), []string{"cam wheel half a turn out"}},
		{"half a turn the other way", bare + saw("correlation_error_deg", "-360"), []string{"cam wheel half a turn out"}},
		{"cranking at 80", bare + saw("cranking_rpm", "80"), []string{"cranks too slowly"}},
		{"cranking at 80, whole job", measured + saw("cranking_rpm", "80"), []string{"cranks too slowly"}},
		{"rail pressure 0", bare + saw("rail_pressure_bar", "0"), []string{"no fuel pressure"}},
		{"rail pressure 0, whole job", measured + saw("rail_pressure_bar", "0") + saw("starts", "false"), []string{"no fuel pressure"}},
		{"low compression, timing right", measured + saw("correlation_error_deg", "0") + saw("tdc_offset_deg", "0") + saw("compression_bar", "15"), []string{"poor compression"}},
		{"low compression, bare", bare + saw("correlation_error_deg", "0") + saw("tdc_offset_deg", "0") + saw("compression_bar", "14"), []string{"poor compression"}},
		{"white smoke, all measured right", measured + saw("correlation_error_deg", "0") + saw("tdc_offset_deg", "0") + saw("compression_bar", "30") + saw("rail_pressure_bar", "330") +
			saw("cranking_rpm", "195") + saw("smoke", `"white"`) + saw("starts", "false"),
			[]string{cause.TimingRight, "bad fuel", "injectors or their leads crossed", "wrong firing order set", "cam wheel half a turn out"}}, // the last shows in no recording of an even engine
		{"no crank signal", bare + saw("crank_signal", `"none"`), []string{"crank sensor dead or its gap wrong"}},
		{"no cam signal, it runs", measured + saw("cam_signal", `"none"`) + saw("starts", "true"), []string{"cam sensor dead or its gap wrong"}},
		{"runs without the cam sensor only", drawn + saw("correlation_error_deg", "30") + saw("starts", "false") + saw("starts_cam_unplugged", "true"), []string{"cam wheel slipped"}},
		{"bent tooth", bare + saw("teeth_inspected", `"bent"`), []string{"wheel tooth bent"}},
		{"half a pitch of 36", drawn + saw("correlation_error_deg", "5") + saw("sensor_wires", `"reversed"`), []string{"crank sensor wires reversed"}},
	} {
		got := causesOf(t, sample.Read(t, c.job))
		if !slices.Contains(c.want, got.Causes[0].Cause) {
			t.Errorf("%s: %s %.3f, %s %.3f, want %v", c.name, got.Causes[0].Cause, got.Causes[0].Probability, got.Causes[1].Cause, got.Causes[1].Probability, c.want)
		}
		for _, k := range got.Causes {
			if len(k.Predicts) == 0 && k.Cause != rest {
				t.Errorf("%s: %s predicts nothing", c.name, k.Cause)
			}
		}
	}
}
