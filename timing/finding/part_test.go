package finding

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// bare is the least an engine can be.
const bare = "[engine]\nstrokes = 4\nfiring_order = [1]\n"

func partOf(t testing.TB, text string) Part {
	t.Helper()
	p, err := PartOf(sample.Read(t, bare+text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Closed forms: Pythagorean and 60- and 120-degree triangles by the law of
// cosines; 12.5 mm at a radius of 62.5 mm read as arc and as chord; two points
// seen from a third. Clockwise from the nose of a clockwise engine is with
// rotation.
func TestAnglesOfReadings(t *testing.T) {
	for _, c := range []struct {
		reading string
		want    float64
	}{
		{`method = "chord", side = "clockwise", dowel_radius_mm = 40, keyway_radius_mm = 30, chord_mm = 50`, 90},
		{`method = "chord", side = "clockwise", dowel_radius_mm = 80, chord_mm = 80`, 60},
		{`method = "chord", side = "clockwise", keyway_radius_mm = 80, chord_mm = 80`, 60},
		{`method = "chord", side = "anticlockwise", dowel_radius_mm = 8, keyway_radius_mm = 7, chord_mm = 13`, -120},
		{`method = "chord", side = "anticlockwise", dowel_radius_mm = 8, keyway_radius_mm = 3, chord_mm = 7`, -60},
		{`method = "chord", side = "clockwise", dowel_radius_mm = 100, keyway_radius_mm = 60, chord_mm = 75`, 48.3496321995},
		{`method = "chord", side = "clockwise", dowel_radius_mm = 62.5, chord_mm = 12.5`, 11.4783409545},
		{`method = "chord", side = "anticlockwise", dowel_radius_mm = 62.5, chord_mm = 10`, -9.17713147157},
		{`method = "arc", side = "clockwise", rim_radius_mm = 62.5, arc_mm = 12.5`, 11.4591559026},
		{`method = "xy", centre = [20, 30], keyway = [92.5, 40], dowel = [20, 90.5]`, -82.1466866980},
		{`method = "xy", centre = [20, 30], keyway = [20, 90.5], dowel = [92.5, 40]`, 82.1466866980},
		{`angle_deg = 180, side = "anticlockwise"`, 180},
		{`method = "xy", centre = [0, 0], keyway = [0, 40], dowel = [-1e-12, -40]`, 180}, // a hair short of −180
		{`angle_deg = 0`, 0},
	} {
		f := partOf(t, "[dowel]\nmeasured = { "+c.reading+" }\n").Dowel
		if !near(*f.MeasuredDeg, c.want, 1e-9) {
			t.Errorf("%s: %.12g, want %.12g", c.reading, *f.MeasuredDeg, c.want)
		}
		if f.DrawingDeg != nil || f.DrawingUDeg != nil {
			t.Errorf("%s: a drawing from nowhere", c.reading)
		}
	}
}

// In [keyway] the angle runs from the throw to the keyway.
func TestKeywayFromTheThrow(t *testing.T) {
	for reading, want := range map[string]float64{
		`method = "xy", centre = [0, 0], throw = [0, 55], keyway = [30, 0]`:                                                 90,
		`method = "chord", side = "anticlockwise", throw_radius_mm = 40, keyway_radius_mm = 30, chord_mm = 50`:              -90,
		`seen_from = "flywheel", method = "chord", side = "anticlockwise", throw_radius_mm = 80, chord_mm = 80`:             60,
		`seen_from = "flywheel", method = "xy", centre = [0, 0], throw = [0, 55], keyway = [30, 0]`:                         -90,
		`seen_from = "flywheel", method = "arc", side = "clockwise", rim_radius_mm = 62.5, arc_mm = 12.5, u_mm = 0`:         -11.4591559026,
		`seen_from = "nose", method = "angle", side = "clockwise", angle_deg = 90`:                                          90,
		`seen_from = "nose", method = "chord", side = "clockwise", keyway_radius_mm = 80, chord_mm = 80, u_mm = 0.0`:        60,
		`seen_from = "nose", method = "chord", side = "clockwise", throw_radius_mm = 8, keyway_radius_mm = 7, chord_mm = 1`: 0,
	} {
		f := partOf(t, "[keyway]\nmeasured = { "+reading+" }\n").Keyway
		if !near(*f.MeasuredDeg, want, 1e-9) {
			t.Errorf("%s: %.12g, want %.12g", reading, *f.MeasuredDeg, want)
		}
	}
}

// part gives the measurement's own uncertainty, not the drawing's, and the
// normal 95 % interval of 1.959964 of it (JCGM 100:2008, table G.1).
func TestUncertaintyOfThePart(t *testing.T) {
	p := partOf(t, `[dowel]
		drawing = { angle_deg = 20, side = "clockwise", u_deg = 3 }
		measured = { angle_deg = 10, side = "clockwise", u_deg = 0.5 }`)
	d := p.Dowel
	if *d.UDeg != 0.5 || *d.DrawingUDeg != 3 || !near(d.Interval95Deg[0], 9.020018, 1e-6) || !near(d.Interval95Deg[1], 10.979982, 1e-6) {
		t.Errorf("u %g of the measurement, %g of the drawing, interval %v", *d.UDeg, *d.DrawingUDeg, *d.Interval95Deg)
	}
	if p.Keyway != nil {
		t.Error("a keyway from nowhere")
	}
}

func TestPartOfHalfASection(t *testing.T) {
	p := partOf(t, "[dowel]\ndrawing = { angle_deg = 20, side = \"clockwise\" }\n[keyway]\nseen_from = \"nose\"\n")
	if d := p.Dowel; *d.DrawingDeg != 20 || d.MeasuredDeg != nil || d.UDeg != nil || d.Interval95Deg != nil {
		t.Errorf("a dowel that was not measured: %+v", d)
	}
	if k := p.Keyway; k == nil || k.DrawingDeg != nil || k.MeasuredDeg != nil {
		t.Errorf("an empty [keyway]: %+v", k)
	}
	if p.Mirrored || p.Verdict != nil {
		t.Errorf("mirrored %v, verdict %v without a measurement", p.Mirrored, p.Verdict)
	}
	_, err := PartOf(sample.Read(t, bare))
	var faults job.Faults
	if !errors.As(err, &faults) || len(faults) != 1 || faults[0].Key != "dowel" {
		t.Errorf("a job without [dowel] and [keyway]: %v", err)
	}
}

// A dowel on the wrong side is called mirrored, one as drawn or anywhere else is
// not, and one on the keyway's own line cannot be mirrored.
func TestMirrored(t *testing.T) {
	for _, c := range []struct {
		drawing, measured float64
		side              string
		want              bool
	}{
		{12.5, 12.5, "anticlockwise", true},
		{12.5, 12.1, "anticlockwise", true},
		{12.5, 12.5, "clockwise", false},
		{12.5, 40, "anticlockwise", false},
		{0, 0, "clockwise", false},
		{180, 180, "anticlockwise", false},
		{0.2, 0.2, "anticlockwise", false}, // too near to tell
	} {
		p := partOf(t, fmt.Sprintf("[dowel]\ndrawing = { angle_deg = %g, side = \"clockwise\" }\nmeasured = { angle_deg = %g, side = %q, u_deg = 0.2 }\n",
			c.drawing, c.measured, c.side))
		if p.Mirrored != c.want {
			t.Errorf("drawn at %g, measured %g %s: mirrored %v", c.drawing, c.measured, c.side, p.Mirrored)
		}
		if v := p.Verdict; !near(v.AsDrawn+v.Mirrored+v.Other, 1, 1e-8) {
			t.Errorf("drawn at %g, measured %g %s: %+v does not sum to 1", c.drawing, c.measured, c.side, *v)
		}
		told := false
		for _, n := range p.Notes {
			told = told || n.Text == noteVerdict && n.Data["Cause"] == phrase.Text("dowel mirrored")
		}
		if told != c.want {
			t.Errorf("drawn at %g, measured %g %s: mirrored is in the notes: %v", c.drawing, c.measured, c.side, told)
		}
	}
}

// A photograph is no angle until [WithPhotos] has taken one from it.
func TestPhotographsMustBeWorkedOutFirst(t *testing.T) {
	j := sample.Read(t, bare+`[dowel]
		measured = { method = "photo", file = "a.png", rim = [[0, 0], [1, 0], [2, 1], [1, 2], [0, 1]], keyway = [[0, 0], [1, 0]], dowel = [[1, 2]] }`)
	_, err := PartOf(j)
	var faults job.Faults
	if !errors.As(err, &faults) || faults[0].Key != "dowel.measured" || !strings.Contains(faults[0].Message, "not been evaluated") {
		t.Errorf("a photograph: %v", err)
	}
	if CanRemeasure(j) {
		t.Error("a photograph cannot be moved by hand")
	}
}

// How far from the keyway is the dowel, and on which side?
func ExamplePartOf() {
	d, _ := job.Read("job.toml", []byte(`
engine = { strokes = 4, firing_order = [1] }
[dowel]
seen_from = "nose"
drawing  = { angle_deg = 60, side = "clockwise" }
measured = { method = "chord", chord_mm = 80, dowel_radius_mm = 80, side = "anticlockwise", u_mm = 0.05, u_radius_mm = 0 }
`))
	p, _ := PartOf(d.Job())
	fmt.Printf("drawing %.0f, measured %.0f ± %.2f, mirrored: %v\n", *p.Dowel.DrawingDeg, *p.Dowel.MeasuredDeg, *p.Dowel.UDeg, p.Mirrored)
	// Output: drawing 60, measured -60 ± 0.04, mirrored: true
}
