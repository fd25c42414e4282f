package sheet

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

// entity is one of a DXF file: its kind, and its values by group code.
type entity struct {
	kind   string
	values map[int]string
}

func (e entity) num(t *testing.T, code int) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.values[code], 64)
	if err != nil {
		t.Fatalf("%s, group %d: %v", e.kind, code, err)
	}
	return v
}

// entities reads a DXF file by the rules of its reference: pairs of lines, a group code and
// a value; a group 0 begins an entity, and sections are kept apart.
func entities(t *testing.T, data []byte) (version string, list []entity) {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(string(data), "\r\n"), "\r\n")
	if len(lines)%2 != 0 {
		t.Fatalf("%d lines are no pairs", len(lines))
	}
	section, variable := "", ""
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		value := lines[i+1]
		switch {
		case err != nil:
			t.Fatalf("line %d: %v", i+1, err)
		case code == 0:
			list = append(list, entity{value, map[int]string{}})
		default:
			list[len(list)-1].values[code] = value
			if code == 2 && list[len(list)-1].kind == "SECTION" {
				section = value
			}
			if code == 9 {
				variable = value
			}
			if section == "HEADER" && variable == "$ACADVER" && code == 1 {
				version = value
			}
		}
	}
	if list[len(list)-1].kind != "EOF" {
		t.Error("the file does not end in EOF")
	}
	return version, list
}

// The drawing for the machine shop measures true: both dowels on the circle of 27 mm, the
// new one at the drawing's 14 degrees on its side of the keyway, 2 * 27 * sin(14 degrees)
// from the present one; seen from the other end it is its own mirror image.
func TestDXF(t *testing.T) {
	places := map[timing.End][2][2]float64{}
	for _, from := range []timing.End{timing.Nose, timing.Flywheel} {
		h, err := HoleOf(sample.Demo(t), from)
		if err != nil {
			t.Fatal(err)
		}
		version, list := entities(t, h.DXF())
		if version != "AC1009" {
			t.Errorf("the version is %q", version)
		}
		var at [2][2]float64
		for _, e := range list {
			for i, layer := range []string{layerIs, layerShould} {
				if e.kind == "CIRCLE" && e.values[8] == layer {
					at[i] = [2]float64{e.num(t, 10), e.num(t, 20)}
				}
			}
			if e.kind == "CIRCLE" && e.values[8] == layerAxis && e.num(t, 40) != 27 {
				t.Errorf("the circle has %v mm", e.num(t, 40))
			}
		}
		for i, p := range at {
			if r := math.Hypot(p[0], p[1]); math.Abs(r-27) > 1e-5 {
				t.Errorf("dowel %d is %v mm from the axis", i, r)
			}
		}
		if d := math.Hypot(at[0][0]-at[1][0], at[0][1]-at[1][1]); math.Abs(d-2*27*math.Sin(14*math.Pi/180)) > 0.005 {
			t.Errorf("they are %v mm apart", d)
		}
		// From the nose the engine turns clockwise and the new place is clockwise of the
		// keyway, which is up: to the right.
		if angle := math.Atan2(at[1][0], at[1][1]) * 180 / math.Pi; math.Abs(math.Abs(angle)-14) > 1e-3 || (angle > 0) != (from == timing.Nose) {
			t.Errorf("from the %s the new dowel is at %v degrees", from, angle)
		}
		places[from] = at
	}
	for i := range 2 {
		n, f := places[timing.Nose][i], places[timing.Flywheel][i]
		if math.Abs(n[0]+f[0]) > 1e-6 || math.Abs(n[1]-f[1]) > 1e-6 {
			t.Errorf("%v is not the mirror image of %v", f, n)
		}
	}
}

// The printed template is to true scale on both papers, also for a printer that is not.
func TestTemplateIsTrueToScale(t *testing.T) {
	h, err := HoleOf(sample.Demo(t), timing.Nose)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range Papers {
		for ruler, factor := range map[float64]float64{0: 1, 149.25: 150 / 149.25} {
			pages := pagesOf(t, pdfOf(t, func(in Scale, p Paper) (Document, error) { return Template(in, h, p) }, Scale{RulerMM: ruler}, p))
			rulersAreTrue(t, pages[0], factor)
			widest := 0.0
			for _, page := range pages {
				if r, _ := page.circle(); r > widest {
					widest = r
				}
			}
			if math.Abs(widest-27*factor) > hundredth {
				t.Errorf("on %s the circle has a radius of %.4f mm, want %.4f", p.Name, widest, 27*factor)
			}
		}
		d, err := Template(Scale{Date: someDay}, h, p)
		if err != nil {
			t.Fatal(err)
		}
		checkPages(t, d, p)
	}
}

// A part that is right has no template, and one needs the circle's radius.
func TestNoTemplate(t *testing.T) {
	j := sample.Demo(t)
	j.Dowel.Measured = j.Dowel.Drawing
	if _, err := HoleOf(j, timing.Nose); err == nil || !strings.Contains(err.Error(), "nothing to drill") {
		t.Errorf("%v", err)
	}
	j = sample.Demo(t)
	j.Dowel.Measured = &job.Reading{AngleDeg: job.Num(14), Side: "anticlockwise", UDeg: job.Num(0.3)}
	if _, err := HoleOf(j, timing.Nose); err == nil || !strings.Contains(err.Error(), "dowel.measured.dowel_radius_mm") {
		t.Errorf("%v", err)
	}
}
