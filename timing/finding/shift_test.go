package finding

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

func shift(t testing.TB, j job.Job) Shift {
	t.Helper()
	s, err := ShiftOf(j)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// four is a four-cylinder engine that is asked to inject at 10 BTDC; in it the
// dead centres are 180 apart.
const four = "[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n[injection]\nstart_btdc_deg = 10\n"

// Worked by hand from the definitions: gear error = keyway measured − drawing,
// wheel error = gear error + dowel measured − drawing, each the short way round;
// injection happens at what is asked for plus the wheel error.
func TestShift(t *testing.T) {
	for _, c := range []struct {
		name, job   string
		gear, wheel float64
		direction   string
		actual      float64 // BTDC
		crank       float64 // of cylinder 3, which fires at 180
		stroke      string
	}{
		{"retarded by a mirrored dowel", `[dowel]
			drawing = { angle_deg = 12.5, side = "clockwise" }
			measured = { angle_deg = 12.5, side = "anticlockwise" }`, 0, -25, "retarded", -15, 195, "power"},
		{"advanced", `[dowel]
			drawing = { angle_deg = 12.5, side = "clockwise" }
			measured = { angle_deg = 15, side = "clockwise" }`, 0, 2.5, "advanced", 12.5, 167.5, "compression"},
		{"as drawn", `[dowel]
			drawing = { angle_deg = 12.5, side = "clockwise" }
			measured = { angle_deg = 12.5, side = "clockwise" }`, 0, 0, "none", 10, 170, "compression"},
		{"across the far side: 200 less is 160 more", `[dowel]
			drawing = { angle_deg = 100, side = "clockwise" }
			measured = { angle_deg = 100, side = "anticlockwise" }`, 0, 160, "advanced", 170, 10, "compression"},
		{"half a turn is 180, not −180", `[dowel]
			drawing = { angle_deg = 90, side = "clockwise" }
			measured = { angle_deg = 90, side = "anticlockwise" }`, 0, 180, "advanced", 190, -10, "intake"},
		{"keyway and dowel both wrong", `[dowel]
			drawing = { angle_deg = 20, side = "clockwise" }
			measured = { angle_deg = 10, side = "clockwise" }
			[keyway]
			drawing = { angle_deg = 60, side = "clockwise" }
			measured = { angle_deg = 63, side = "clockwise" }`, 3, -7, "retarded", 3, 177, "compression"},
		{"two errors that cancel", `[dowel]
			drawing = { angle_deg = 20, side = "clockwise" }
			measured = { angle_deg = 17, side = "clockwise" }
			[keyway]
			drawing = { angle_deg = 60, side = "clockwise" }
			measured = { angle_deg = 63, side = "clockwise" }`, 3, 0, "none", 10, 170, "compression"},
		{"keyway across the far side: 358 less is 2 more", `[dowel]
			drawing = { angle_deg = 0 }
			measured = { angle_deg = 1, side = "clockwise" }
			[keyway]
			drawing = { angle_deg = 179, side = "clockwise" }
			measured = { angle_deg = 179, side = "anticlockwise" }`, 2, 3, "advanced", 13, 167, "compression"},
		{"keyway measured, dowel not: the wheel error is the gear error, assumed", `[keyway]
			drawing = { angle_deg = 60, side = "clockwise" }
			measured = { angle_deg = 63, side = "clockwise" }`, 3, 3, "advanced", 13, 167, "compression"},
		{"keyway drawn, not measured: taken as drawn", `[dowel]
			drawing = { angle_deg = 0 }
			measured = { angle_deg = 4, side = "anticlockwise" }
			[keyway]
			drawing = { angle_deg = 60, side = "clockwise" }`, 0, -4, "retarded", 6, 174, "compression"},
		{"nothing measured", "", 0, 0, "none", 10, 170, "compression"},
		{"retarded to TDC itself: the power stroke has begun", `[dowel]
			drawing = { angle_deg = 0 }
			measured = { angle_deg = 10, side = "anticlockwise" }`, 0, -10, "retarded", 0, 180, "power"},
		{"the reading's end over the section's", `[dowel]
			seen_from = "nose"
			drawing = { angle_deg = 30, side = "clockwise" }
			measured = { seen_from = "flywheel", angle_deg = 30, side = "clockwise" }`, 0, -60, "retarded", -50, 230, "power"},
		{"the section's end for both", `[dowel]
			seen_from = "flywheel"
			drawing = { angle_deg = 30, side = "clockwise" }
			measured = { angle_deg = 26, side = "clockwise" }`, 0, 4, "advanced", 14, 166, "compression"},
	} {
		s := shift(t, sample.Read(t, four+c.job))
		in := s.Injections[2]
		if !near(s.GearErrorDeg, c.gear, 1e-9) || !near(s.WheelErrorDeg, c.wheel, 1e-9) || s.Direction != c.direction {
			t.Errorf("%s: gear error %g, wheel error %g, %s; want %g, %g, %s", c.name, s.GearErrorDeg, s.WheelErrorDeg, s.Direction, c.gear, c.wheel, c.direction)
		}
		if in.CommandedBTDCDeg != 10 || !near(in.ActualBTDCDeg, c.actual, 1e-9) || !near(in.ActualCrankDeg, math.Mod(c.crank+720, 720), 1e-9) || in.Stroke != c.stroke {
			t.Errorf("%s: cylinder 3 %+v; want %g BTDC at crank %g, %s", c.name, in, c.actual, c.crank, c.stroke)
		}
		if measured := strings.Contains(c.job, "[dowel]"); s.Assumed == measured {
			t.Errorf("%s: assumed %v", c.name, s.Assumed)
		}
	}
}

// The same angle of 36 degrees with rotation by each method: chord 2·50·sin 18°,
// arc 50·π/5 (chord and arc of a circle, Machinery's Handbook, segments of
// circles), and the points of a regular decagon's corner.
func TestEveryMethodGivesTheSameAngle(t *testing.T) {
	for _, rotation := range []string{"clockwise", "anticlockwise"} {
		for _, from := range []string{"nose", "flywheel"} {
			with := rotation // the side that lies in the direction of rotation, as seen
			x := 50 * math.Sin(math.Pi/5)
			if from == "flywheel" {
				with = map[string]string{"clockwise": "anticlockwise", "anticlockwise": "clockwise"}[rotation]
			}
			if with == "anticlockwise" {
				x = -x
			}
			for _, reading := range []string{
				fmt.Sprintf(`angle_deg = 36, side = %q`, with),
				fmt.Sprintf(`method = "chord", chord_mm = 30.901699437494742, dowel_radius_mm = 50, side = %q`, with),
				fmt.Sprintf(`method = "chord", chord_mm = 30.901699437494742, dowel_radius_mm = 50, keyway_radius_mm = 50, side = %q`, with),
				fmt.Sprintf(`method = "arc", arc_mm = 31.41592653589793, rim_radius_mm = 50, side = %q`, with),
				fmt.Sprintf(`method = "xy", centre = [7, -3], keyway = [7, 47], dowel = [%.17g, %.17g]`, 7+x, -3+50*math.Cos(math.Pi/5)),
			} {
				j := sample.Read(t, strings.Replace(four, "[injection]", fmt.Sprintf("rotation = %q\n[injection]", rotation), 1)+
					fmt.Sprintf("[dowel]\nseen_from = %q\ndrawing = { angle_deg = 0 }\nmeasured = { %s }\n", from, reading))
				if s := shift(t, j); !near(s.WheelErrorDeg, 36, 1e-9) {
					t.Errorf("%s engine from the %s, %s: %g, want 36", rotation, from, reading, s.WheelErrorDeg)
				}
			}
		}
	}
}

// The sample jobs, as worked by hand in their comments.
func TestSampleJobs(t *testing.T) {
	for _, c := range []struct {
		name         string
		wheel, tol   float64
		actual       float64
		cylinder     int
		crank        float64
		stroke       string
		gear         float64
		heightsKnown bool
	}{
		// 45.815 mm is 0.0001 mm more than 35 degrees: 1e-4 degrees.
		{"v16-uneven", -5, 2e-4, 10, 12, 680, "compression", 0, true},
		{"two-stroke", -30, 0, -26, 2, 266, "power", 0, true},
		// The chord is given to 0.0001 mm, 2e-4 degrees.
		{"keyway-and-dowel", -7, 3e-4, 4, 3, 176, "compression", 3, true},
		{"five-cylinder-flywheel-view", 6, 1e-3, 14, 5, 418, "compression", 0, false},
	} {
		s := shift(t, sample.File(t, c.name))
		in := s.Injections[c.cylinder-1]
		if !near(s.WheelErrorDeg, c.wheel, c.tol) || !near(s.GearErrorDeg, c.gear, c.tol) {
			t.Errorf("%s: wheel error %g, gear error %g; want %g and %g", c.name, s.WheelErrorDeg, s.GearErrorDeg, c.wheel, c.gear)
		}
		if !near(in.ActualBTDCDeg, c.actual, c.tol) || !near(in.ActualCrankDeg, c.crank, c.tol) || in.Stroke != c.stroke || (in.PistonMM != nil) != c.heightsKnown {
			t.Errorf("%s: %+v; want %g BTDC at %g on the %s stroke", c.name, in, c.actual, c.crank, c.stroke)
		}
	}
}

// JCGM 100:2008, 5.1.2: independent uncertainties add in quadrature (3-4-5 and
// 5-12-13 triangles). A drawing without one is exact; a reading without one takes
// its method's default, 0.25 degrees for an angle (common practice, no source).
func TestUncertaintyOfTheShift(t *testing.T) {
	for _, c := range []struct {
		job         string
		wheel, gear float64
	}{
		{`[dowel]
			drawing = { angle_deg = 0, u_deg = 0.3 }
			measured = { angle_deg = 9, side = "clockwise", u_deg = 0.4 }`, 0.5, 0},
		{`[dowel]
			drawing = { angle_deg = 0, u_deg = 0.3 }
			measured = { angle_deg = 9, side = "clockwise", u_deg = 0.4 }
			[keyway]
			drawing = { angle_deg = 9, side = "clockwise", u_deg = 1.2 }
			measured = { angle_deg = 9, side = "clockwise", u_deg = 0 }`, 1.3, 1.2},
		{`[dowel]
			drawing = { angle_deg = 0 }
			measured = { angle_deg = 9, side = "clockwise" }`, 2, 0},
		// Law of cosines: with radii of 100 and 60 mm a chord of 75 mm spans
		// 48.3496321995 degrees and grows by 0.95848993 degrees a millimetre (its
		// derivative c/(r1·r2·sin A)); the radii are taken as exact.
		{`[dowel]
			drawing = { angle_deg = 0 }
			measured = { method = "chord", chord_mm = 75, dowel_radius_mm = 100, keyway_radius_mm = 60, side = "clockwise", u_mm = 0.1, u_radius_mm = 0 }`, 0.095848993, 0},
	} {
		s := shift(t, sample.Read(t, four+c.job))
		if !near(uOf(s.WheelErrorUDeg), c.wheel, 1e-8) || !near(s.GearErrorUDeg, c.gear, 1e-9) || s.Basis != "measured" {
			t.Errorf("%s: u %g and %g on %s, want %g and %g", c.job, uOf(s.WheelErrorUDeg), s.GearErrorUDeg, s.Basis, c.wheel, c.gear)
		}
	}
}

// What a shift needs and the job lacks comes all at once, each with its key.
func TestShiftSaysWhatIsMissing(t *testing.T) {
	engine := "[engine]\nstrokes = 4\nfiring_order = [1]\n"
	start := "[injection]\nstart_btdc_deg = 10\n"
	dowel := "[dowel]\nmeasured = { angle_deg = 3, side = \"clockwise\" }\n"
	keyway := "[keyway]\nmeasured = { angle_deg = 3, side = \"clockwise\" }\n"
	photo := `[dowel]
		drawing = { angle_deg = 3, side = "clockwise" }
		measured = { method = "photo", file = "a.png", rim = [[0, 0], [1, 0], [2, 1], [1, 2], [0, 1]], keyway = [[0, 0], [1, 0]], dowel = [[1, 2]] }`
	for _, c := range []struct {
		job  string
		keys []string
	}{
		{engine, []string{"injection.start_btdc_deg"}},
		{engine + "[injection]\nair_c = 10\n", []string{"injection.start_btdc_deg"}},
		{engine + start + dowel, []string{"dowel.drawing"}},
		{engine + start + keyway, []string{"keyway.drawing"}},
		{engine + dowel + keyway, []string{"injection.start_btdc_deg", "keyway.drawing", "dowel.drawing"}},
		{engine + start + photo, []string{"dowel.measured"}},
	} {
		_, err := ShiftOf(sample.Read(t, c.job))
		var faults job.Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: %v, want faults", c.job, err)
			continue
		}
		var keys []string
		for _, f := range faults {
			keys = append(keys, f.Key)
			if f.Message == "" || strings.Contains(f.Message, "\n") {
				t.Errorf("%s: message %q", f.Key, f.Message)
			}
		}
		if !slices.Equal(keys, c.keys) {
			t.Errorf("%s: faults of %v, want %v", c.job, keys, c.keys)
		}
	}
}

// A dowel drilled on the wrong side of the keyway, 12.5 degrees from it: when does
// an injection happen that the controller asks for 9 degrees before TDC?
func ExampleShiftOf() {
	d, _ := job.Read("job.toml", []byte(`
engine = { strokes = 4, firing_order = [1, 5, 3, 6, 2, 4] }
injection = { start_btdc_deg = 9 }
[dowel]
drawing  = { angle_deg = 12.5, side = "clockwise", u_deg = 0.1 }
measured = { angle_deg = 12.5, side = "anticlockwise", u_deg = 0.2 }
`))
	s, _ := ShiftOf(d.Job())
	fmt.Println(s.Says)
	fmt.Println(s.Notes[0])
	// Output:
	// Every injection starts 16° after TDC (power stroke): 25° later than commanded.
	// The wheel error is −25° ± 0.22° (standard uncertainty); the 95 % interval is −25.4° to −24.6°.
}

// uOf is an uncertainty, 0 where nobody knows it.
func uOf(u *float64) float64 {
	if u == nil {
		return 0
	}
	return *u
}

// Nothing is an all-clear that nobody measured: without a dowel the sentence says on
// what condition it holds, and the uncertainty is not 0 but unknown.
func TestNothingMeasuredIsNoAllClear(t *testing.T) {
	s := shift(t, sample.Read(t, four))
	if s.WheelErrorUDeg != nil || s.Basis != "assumed" || !s.Assumed {
		t.Errorf("u %v, basis %s", s.WheelErrorUDeg, s.Basis)
	}
	if got := s.Says.String(); !strings.HasPrefix(got, "If the sensor wheel is as drawn, every injection starts as commanded: ") {
		t.Errorf("it says: %s", got)
	}
}
