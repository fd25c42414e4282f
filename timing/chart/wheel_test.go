package chart

import (
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

func TestWheelOfTheDemo(t *testing.T) {
	t.Parallel()
	in, err := Wheel(sample.Demo(t), WheelOptions{At: 18 - 720, From: timing.Flywheel})
	if err != nil {
		t.Fatal(err)
	}
	if in.View != (timing.View{From: timing.Flywheel, Rotation: timing.Clockwise}) || in.Theta != 18 {
		t.Errorf("view %+v at %g", in.View, float64(in.Theta))
	}
	if in.Words.Rotation != "turns anticlockwise, seen from the flywheel" {
		t.Error(in.Words.Rotation)
	}
	if in.Positions != 60 || !slices.Equal(in.Missing, []int{59, 60}) || in.FirstBTDC != 84 {
		t.Errorf("%d positions without %v, the first at %g", in.Positions, in.Missing, float64(in.FirstBTDC))
	}
	if *in.DowelDrawing != 14 || *in.KeywayDrawing != 90 || *in.KeywayMeasured != 90 || *in.DowelMeasured > -13.99 || *in.DowelMeasured < -14.01 {
		t.Errorf("dowel %g drawn, %g measured; keyway %g and %g", float64(*in.DowelDrawing), float64(*in.DowelMeasured), float64(*in.KeywayDrawing), float64(*in.KeywayMeasured))
	}
	if in.Error > -27.99 || in.Error < -28.01 || in.Words.Error != "−28°" {
		t.Errorf("off by %g, shown as %s", float64(in.Error), in.Words.Error)
	}
	if in.Words.Commanded != "commanded, 10° BTDC" || in.Words.Actual != "actual, 18° ATDC" {
		t.Errorf("%s; %s", in.Words.Commanded, in.Words.Actual)
	}
	// At 18 the wheel as drawn shows tooth (18+84)/6+1 = 18; this one, 28 behind,
	// stands 74.003 on, and position 13 (72) is nearest.
	if got := strings.Join(in.Caption, " "); !strings.Contains(got, "At the sensor: tooth 13. On a wheel as drawn: tooth 18.") {
		t.Error(got)
	}
	if !strings.Contains(in.Desc, "crankshaft at 18°. Every injection starts 18° after TDC") {
		t.Error(in.Desc)
	}
}

// What the job does not say is left out, and the caption says so.
func TestWheelOfThinJobs(t *testing.T) {
	t.Parallel()
	const crankWheel = "[crank_wheel]\npositions = 36\nmissing = [36]\nfirst_tooth_btdc_deg = 90\n"
	const measured = "[dowel]\nmeasured = { angle_deg = 3, side = \"clockwise\" }\n"
	for _, c := range []struct {
		name, job     string
		says, doesNot []string
	}{
		{"engine only", thin, []string{string(wordKeywayUnknown), string(wordNoWheel)}, []string{string(wordNotMeasured), string(wordNotWorkedOut), string(wordSensorPlace)}},
		{"wheel, no dowel", thin + crankWheel, []string{string(wordKeywayUnknown), string(wordSensorPlace), string(wordNotMeasured), "At the sensor: tooth 10."}, []string{string(wordNoWheel), "as drawn: tooth"}},
		{"dowel without a drawing", thin + crankWheel + measured, []string{string(wordNotWorkedOut), "At the sensor of a wheel as drawn: tooth 10."}, []string{string(wordNotMeasured), "At the sensor: "}},
		{"first tooth not known", thin + "[crank_wheel]\npositions = 36\n", []string{string(wordNoWheel)}, []string{"At the sensor"}},
		{"keyway drawn", thin + "[keyway]\ndrawing = { angle_deg = 90, side = \"clockwise\" }\n", nil, []string{string(wordKeywayUnknown)}},
	} {
		in, err := Wheel(sample.Read(t, c.job), WheelOptions{})
		if err != nil {
			t.Fatal(err)
		}
		caption := strings.Join(in.Caption, " ")
		for _, want := range c.says {
			if !strings.Contains(caption, want) {
				t.Errorf("%s: does not say %q in %q", c.name, want, caption)
			}
		}
		for _, not := range c.doesNot {
			if strings.Contains(caption, not) {
				t.Errorf("%s: says %q in %q", c.name, not, caption)
			}
		}
		if in.Error != 0 || in.Words.Error != "" || in.Commanded != nil || in.Actual != nil {
			t.Errorf("%s: error %g (%s), injection %v and %v", c.name, float64(in.Error), in.Words.Error, in.Commanded, in.Actual)
		}
		if in.Title != string(wordWheelUntitled) {
			t.Errorf("%s: title %q", c.name, in.Title)
		}
	}
	// The wheel is off even where no start of injection is given.
	j := sample.Demo(t)
	j.Injection = nil
	in, err := Wheel(j, WheelOptions{})
	if err != nil || in.Error > -27.99 || slices.Contains(in.Caption, string(wordNotMeasured)) {
		t.Errorf("without [injection] the wheel is off by %g: %q, %v", float64(in.Error), in.Caption, err)
	}
	if _, err := Wheel(job.Job{}, WheelOptions{}); err == nil {
		t.Error("a job without an engine has a wheel")
	}
}

func TestBTDC(t *testing.T) {
	t.Parallel()
	for at, want := range map[float64]string{
		10: "10° BTDC", -18.003: "18° ATDC", 0: "TDC", 0.04: "0.04° BTDC", -0.04: "0.04° ATDC", -179.9999: "179.9999° ATDC", 0.06: "0.1° BTDC", -188.8: "188.8° ATDC", 360: "360° BTDC",
	} {
		if got := Say(nil).BTDC(at); got != want {
			t.Errorf("%g: %s, want %s", at, got, want)
		}
	}
}

func TestSensor(t *testing.T) {
	t.Parallel()
	gap := finding.Tooth{Position: 36, Missing: true}
	five := finding.Tooth{Position: 5}
	for _, c := range []struct {
		w    finding.WheelPhase
		want string
	}{
		{finding.WheelPhase{Right: five, Actual: &five}, "At the sensor: tooth 5."},
		{finding.WheelPhase{Right: five, Actual: &gap}, "At the sensor: the gap (position 36). On a wheel as drawn: tooth 5."},
		{finding.WheelPhase{Right: gap}, "At the sensor of a wheel as drawn: the gap (position 36)."},
	} {
		if got := Say(nil).Sensor(c.w); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
