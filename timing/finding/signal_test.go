package finding

import (
	"bytes"
	"encoding/csv"
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// signalled is an engine worked by hand: 60-2, B = 84, F = 50, seven cam teeth.
const signalled = `[engine]
strokes = 4
firing_order = [1, 5, 3, 6, 2, 4]
[injection]
cranking_rpm = 180
[crank_wheel]
positions = 60
missing = [59, 60]
first_tooth_btdc_deg = 84
[cam_wheel]
teeth_cam_deg = [0, 60, 120, 180, 240, 300, 330]
first_tooth_btdc_deg = 50
`

const behind28 = "[dowel]\ndrawing = { angle_deg = 14, side = \"clockwise\" }\nmeasured = { angle_deg = 14, side = \"anticlockwise\" }\n"

func signals(t testing.TB, text string, o SignalOptions) Signals {
	t.Helper()
	s, err := SignalsOf(sample.Read(t, text), o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// By hand: cam tooth 1 belongs at -50, two thirds of the way from crank tooth 6 (at
// -54) to 7; with the wheel 28 behind tooth 2 is there: 28 degrees, 4.7 spacings early.
func TestSignalsSay(t *testing.T) {
	number := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		name, job   string
		o           SignalOptions
		says        string
		notes       []string
		correlation any
		tdc         float64
	}{
		{"right", signalled, SignalOptions{Fault: Right}, string(signalAsDrawn), []string{"Cam edge 1 is between crank teeth 6 and 7."}, 0.0, 0},
		{"as measured, nothing measured", signalled, SignalOptions{}, string(signalAsDrawn), []string{string(noteAssumed)}, 0.0, 0},
		{"as measured", signalled + behind28, SignalOptions{},
			"Each signal by itself looks correct, but every cam edge comes 28° early among the crank teeth: 4.7 tooth spacings.",
			[]string{"Cam edge 1 is at crank tooth 2.", "With correct timing cam edge 1 is between crank teeth 6 and 7.",
				"When the ECU counts TDC of cylinder 1, the crankshaft is 28° after it."}, -28.0, -28},
		{"measured, but supposed right", signalled + behind28, SignalOptions{Fault: Right}, string(signalAsDrawn), nil, 0.0, 0},
		{"supposed errors", signalled, SignalOptions{WheelErrorDeg: number(10), CamErrorDeg: number(-5)},
			"Each signal by itself looks correct, but every cam edge comes 15° late among the crank teeth: 2.5 tooth spacings.",
			[]string{"Cam edge 1 is between crank teeth 9 and 10; with correct timing between 6 and 7.",
				"When the ECU counts TDC of cylinder 1, the crankshaft is 10° before it."}, 15.0, 10},
		{"one tooth spacing, rounded", signalled, SignalOptions{WheelErrorDeg: number(-5.9)},
			"Each signal by itself looks correct, but every cam edge comes 5.9° early among the crank teeth: 1 tooth spacing.", nil, -5.9, -5.9},
		{"together", signalled, SignalOptions{WheelErrorDeg: number(10), CamErrorDeg: number(10)},
			"Crank and cam sensor wheel are 10° ahead together: every cam edge is in its place among the crank teeth, and only true TDC shows the fault.", nil, 0.0, 10},
		{"together behind", signalled, SignalOptions{WheelErrorDeg: number(-3), CamErrorDeg: number(-3)},
			"Crank and cam sensor wheel are 3° behind together: every cam edge is in its place among the crank teeth, and only true TDC shows the fault.", nil, 0.0, -3},
		{"a keyway off, no dowel measured", signalled + "[keyway]\ndrawing = { angle_deg = 90, side = \"clockwise\" }\nmeasured = { angle_deg = 97, side = \"clockwise\", u_deg = 0.3 }\n", SignalOptions{},
			"If the dowel was set out from that keyway: Crank and cam sensor wheel are 7° ahead together: every cam edge is in its place among the crank teeth, and only true TDC shows the fault.", nil, 0.0, 7},
		{"a cam tooth out", signalled + "[gears]\ncrank_teeth = 36\ncam_teeth = 72\ncam_teeth_out = 1\n", SignalOptions{},
			"If the sensor wheel is as drawn: Each signal by itself looks correct, but every cam edge comes 10° early among the crank teeth: 1.7 tooth spacings.", nil, -10.0, 0},
		{"in the gap", signalled, SignalOptions{WheelErrorDeg: number(-40)}, "", []string{"Cam edge 1 is in the gap, between crank teeth 58 and 1."}, -40.0, -40},
		{"half a turn", signalled, SignalOptions{Fault: HalfTurnedCam}, string(signalHalf), nil, 360.0, 0},
		{"half a turn of four alike", strings.Replace(signalled, "0, 60, 120, 180, 240, 300, 330", "0, 90, 180, 270", 1), SignalOptions{Fault: HalfTurnedCam},
			string(signalHalf), []string{"The cam sensor wheel looks the same 4 times a turn: an error of 1/4 turn does not show."}, 360.0, 0},
		{"half a turn of a two-stroke's cam", strings.Replace(strings.Replace(signalled, "strokes = 4", "strokes = 2", 1), "cycle", "", 1), SignalOptions{Fault: HalfTurnedCam},
			"Every cam edge comes half a camshaft turn out, 180 crank degrees.", nil, 180.0, 0},
		{"wires", signalled, SignalOptions{Fault: WiresReversed}, string(signalWires), nil, -3.0, -3},
		{"wires, no gap", strings.Replace(signalled, "missing = [59, 60]\n", "", 1), SignalOptions{Fault: WiresReversed}, string(signalWiresNoGap), nil, -3.0, -3},
		{"output", strings.Replace(signalled, "[cam_wheel]", "sensor = \"hall\"\n[cam_wheel]", 1), SignalOptions{Fault: WiresReversed}, string(signalOutput), nil, -3.0, -3},
		{"cam output", signalled, SignalOptions{Fault: CamWiresReversed},
			"A camshaft sensor with inverted output is counted at the trailing edges: every cam edge comes 24° late, the width of a tooth.", nil, nil, 0},
		{"cam wires", signalled + "sensor = \"inductive\"\n", SignalOptions{Fault: CamWiresReversed}, string(signalCamWires), nil, nil, 0},
		{"back to front, one gap", signalled, SignalOptions{Fault: BackToFront}, string(signalBehind), nil, 0.0, 0},
		{"back to front, odd gaps", strings.Replace(signalled, "[59, 60]", "[20, 59, 60]", 1), SignalOptions{Fault: BackToFront}, string(signalBehindOdd), nil, 0.0, 0},
		{"no cam wheel", signalled[:strings.Index(signalled, "[cam_wheel]")], SignalOptions{CrankAlone: true}, string(signalCrankOnly), nil, nil, 0},
	} {
		s := signals(t, c.job, c.o)
		if c.says != "" && s.Says.String() != c.says {
			t.Errorf("%s: %q, want %q", c.name, s.Says, c.says)
		}
		var all []string
		for _, n := range slices.Concat([]phrase.Sentence{s.Says}, s.Notes, s.Steps) {
			all = append(all, n.String())
			if spoilt.MatchString(n.String()) {
				t.Errorf("%s: %q from %q", c.name, n, n.Text)
			}
		}
		for _, want := range c.notes {
			if !slices.Contains(all, want) {
				t.Errorf("%s does not say %q but\n%s", c.name, want, strings.Join(all, "\n"))
			}
		}
		switch want, known := c.correlation.(float64); {
		case known != (s.Correlation != nil):
			t.Errorf("%s: correlation %v, want %v", c.name, s.Correlation, c.correlation)
		case known && !near(*s.Correlation, want, 1e-6):
			t.Errorf("%s: correlation %g, want %g", c.name, *s.Correlation, want)
		}
		if !near(s.TDCOffsetDeg, c.tdc, 1e-6) {
			t.Errorf("%s: TDC offset %g, want %g", c.name, s.TDCOffsetDeg, c.tdc)
		}
		if len(s.Crank.Edges) != (60-len(s.Crank.Missing))*int(s.CycleDeg)/360 || s.Cam != nil && len(s.Cam.Edges) < 4 {
			t.Errorf("%s: %d crank edges", c.name, len(s.Crank.Edges))
		}
	}
}

// At 180 rpm a degree takes 1/1080 s; hand calculation.
func TestSignalEdgeTimes(t *testing.T) {
	s := signals(t, signalled, SignalOptions{Fault: Right})
	if s.RPM != 180 {
		t.Errorf("%g rpm", s.RPM)
	}
	for _, e := range s.Cam.Edges {
		if e.Tooth == 2 && (!near(e.TimeS, 70.0/1080, 1e-9) || e.CrankDeg != 70 || e.ExpectedDeg != 70 || e.ControllerDeg != 70) {
			t.Errorf("%+v", e)
		}
	}
	if s := signals(t, strings.Replace(signalled, "cranking_rpm = 180", "", 1), SignalOptions{}); s.RPM != 200 {
		t.Errorf("%g rpm where the job has none", s.RPM)
	}
}

func TestSignalsNeed(t *testing.T) {
	for _, c := range []struct {
		name, job string
		o         SignalOptions
		keys      string
	}{
		{"wheels", "[engine]\nstrokes = 4\nfiring_order = [1]\n", SignalOptions{}, "crank_wheel cam_wheel"},
		{"first teeth", "[engine]\nstrokes = 4\nfiring_order = [1]\n[crank_wheel]\npositions = 36\nmissing = [36]\n[cam_wheel]\nteeth_cam_deg = [0]\n", SignalOptions{},
			"crank_wheel.first_tooth_btdc_deg cam_wheel.first_tooth_btdc_deg"},
		{"drawing", signalled + "[dowel]\nmeasured = { angle_deg = 14, side = \"anticlockwise\" }\n", SignalOptions{}, "dowel.drawing"},
		{"the cam alone", signalled[:strings.Index(signalled, "[cam_wheel]")], SignalOptions{}, "cam_wheel"},
	} {
		_, err := SignalsOf(sample.Read(t, c.job), c.o)
		var faults job.Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var keys []string
		for _, f := range faults {
			keys = append(keys, f.Key)
		}
		if got := strings.Join(keys, " "); got != c.keys {
			t.Errorf("%s: lacks %q, want %q", c.name, got, c.keys)
		}
	}
	far := 1e4
	for name, o := range map[string]SignalOptions{"fault": {Fault: "upside-down"}, "rpm": {RPM: 0.1}, "nan": {RPM: math.NaN()}, "error": {WheelErrorDeg: &far}} {
		var faults job.Faults
		if _, err := SignalsOf(sample.Read(t, signalled), o); err == nil || errors.As(err, &faults) {
			t.Errorf("%s: %v", name, err)
		}
	}
	// What is supposed needs no drawing.
	if _, err := SignalsOf(sample.Read(t, signalled+"[dowel]\nmeasured = { angle_deg = 14, side = \"anticlockwise\" }\n"), SignalOptions{Fault: Right}); err != nil {
		t.Error(err)
	}
}

// Whatever the job, all cam edges are late by wheel error less cam error, and the
// sentences are whole.
func TestSignalLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob().Draw(t, "job")
		if j.CrankWheel == nil || !j.CrankWheel.FirstToothBTDCDeg.Given {
			t.Skip("no crank wheel")
		}
		if rapid.Bool().Draw(t, "cam") {
			j.CamWheel = &job.CamWheel{TeethCamDeg: []float64{0, 70, 150, 290}, FirstToothBTDCDeg: job.Num(value(t, "F", 0, 360))}
		}
		names := SignalFaults()
		o := SignalOptions{Fault: rapid.SampledFrom(names).Draw(t, "fault").Name, CrankAlone: true}
		s, err := SignalsOf(j, o)
		if err != nil {
			t.Fatal(err)
		}
		if s.Cam != nil && s.Correlation != nil && !s.Fitting.CrankReversed {
			want := timing.Deg(s.WheelErrorDeg - s.CamErrorDeg)
			for _, e := range s.Cam.Edges {
				if off := timing.Difference(want, timing.Deg(e.LateDeg), timing.Deg(s.CycleDeg)); math.Abs(float64(off)) > 1e-6 {
					t.Fatalf("cam edge %d is %g late, want %g", e.Tooth, e.LateDeg, float64(want))
				}
			}
		}
		for _, sentence := range slices.Concat([]phrase.Sentence{s.Says}, s.Notes, s.Steps) {
			if got := sentence.String(); got == "" || spoilt.MatchString(got) {
				t.Fatalf("%q from %q", got, sentence.Text)
			}
		}
	})
}

// The written recording has the samples asked for, begins at TDC, and crosses
// where the edges are.
func TestSignalCSV(t *testing.T) {
	s := signals(t, signalled+behind28, SignalOptions{})
	var b bytes.Buffer
	if err := s.WriteCSV(&b, Sampling{Cycles: 1, RateHz: 10000}); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(rows[0], " "); got != "time_s angle_deg crank_V cam_V" {
		t.Errorf("headed %q", got)
	}
	// Two turns at 180 rpm take 2/3 s.
	if len(rows)-1 != 6667 {
		t.Errorf("%d samples, want 6667", len(rows)-1)
	}
	number := func(r, c int) float64 {
		v, err := strconv.ParseFloat(rows[r][c], 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	var crank, cam []float64
	for r := 2; r < len(rows); r++ {
		before, after := number(r-1, 2), number(r, 2)
		if before > 0.01 && after <= 0 || before > 0 && after < -0.01 {
			crank = append(crank, number(r-1, 1)+(number(r, 1)-number(r-1, 1))*before/(before-after))
		}
		if number(r-1, 3) == 0 && number(r, 3) == 5 {
			cam = append(cam, number(r, 1))
		}
	}
	if len(crank) != len(s.Crank.Edges) || len(cam) != len(s.Cam.Edges) {
		t.Fatalf("%d crank and %d cam edges, want %d and %d", len(crank), len(cam), len(s.Crank.Edges), len(s.Cam.Edges))
	}
	for i, e := range s.Crank.Edges {
		if !near(crank[i], e.CrankDeg, 0.02) {
			t.Errorf("crank tooth %d crosses at %g, want %g", e.Tooth, crank[i], e.CrankDeg)
		}
	}
	for i, e := range s.Cam.Edges {
		if cam[i] < e.CrankDeg-1e-3 || cam[i] > e.CrankDeg+0.11 { // a sample is 0.108 degrees
			t.Errorf("cam tooth %d rises at %g, want %g", e.Tooth, cam[i], e.CrankDeg)
		}
	}
	for _, p := range []Sampling{{0, 1000}, {4, 1}, {10000, 1e6}, {math.NaN(), 1000}, {1, math.Inf(1)}} {
		if err := s.WriteCSV(&b, p); err == nil {
			t.Errorf("%+v is taken", p)
		}
	}
}

// What the signals are called says how it is known where the wheel is: what nobody
// measured is not called measured.
func TestSignalsAreCalledByHowTheyAreKnown(t *testing.T) {
	ten := 10.0
	keyway := "[keyway]\ndrawing = { angle_deg = 90, side = \"clockwise\" }\nmeasured = { angle_deg = 97, side = \"clockwise\", u_deg = 0.3 }\n"
	read := "[[evidence]]\nkind = \"correlation_error_deg\"\nvalue = -28.2\nu = 0.5\n[[evidence]]\nkind = \"tdc_offset_deg\"\nvalue = -28\nu = 0.5\n"
	drawn := "[dowel]\ndrawing = { angle_deg = 14, side = \"clockwise\" }\n"
	for _, c := range []struct {
		name, job string
		o         SignalOptions
		want      phrase.Text
	}{
		{"nothing", signalled, SignalOptions{}, "not measured, as drawn"},
		{"drawn only", signalled + drawn, SignalOptions{}, "not measured, as drawn"},
		{"the dowel", signalled + behind28, SignalOptions{}, "as measured"},
		{"the keyway alone", signalled + keyway, SignalOptions{}, "not measured, as assumed"},
		{"a recording", signalled + drawn + read, SignalOptions{}, "as read from a recording"},
		{"a fault tried", signalled + behind28, SignalOptions{Fault: WiresReversed}, "crankshaft sensor wires swapped"},
		{"an error of the camshaft tried", signalled + behind28, SignalOptions{CamErrorDeg: &ten}, "what-if"},
		{"an error tried", signalled + behind28, SignalOptions{WheelErrorDeg: &ten}, "what-if"},
	} {
		if got := signals(t, c.job, c.o).Title(); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
