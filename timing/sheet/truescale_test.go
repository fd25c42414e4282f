package sheet

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

func rulersAreTrue(t *testing.T, page printed, factor float64) {
	t.Helper()
	for _, c := range []struct {
		name  string
		lines []float64
		want  float64
	}{{"level", page.level(150 * factor), 150 * factor}, {"upright", page.upright(80 * factor), 80 * factor}} {
		if len(c.lines) != 1 || math.Abs(c.lines[0]-c.want) > hundredth {
			t.Errorf("the %s ruler is %v mm long, want %g", c.name, c.lines, c.want)
		}
	}
}

// In the PDF's own units the wheel, its hole and the rulers are as large as they say.
func TestDegreeWheelIsTrueToScale(t *testing.T) {
	for _, p := range Papers {
		for _, c := range []struct{ diameter, hole, ruler float64 }{{200, 20, 0}, {150, 0, 0}, {63.5, 12.7, 0}, {180, 30, 149.25}, {40, 0, 0}} {
			name := fmt.Sprintf("%g mm on %s", c.diameter, p.Name)
			factor := 1.0
			if c.ruler != 0 {
				factor = 150 / c.ruler
			}
			pages := pagesOf(t, pdfOf(t, DegreeWheel, Scale{DiameterMM: c.diameter, HoleMM: c.hole, RulerMM: c.ruler}, p))
			rulersAreTrue(t, pages[0], factor)
			r, stray := pages[len(pages)-1].circle()
			if math.Abs(2*r-c.diameter*factor) > hundredth || stray > hundredth {
				t.Errorf("%s: the circle is %.4f mm across and strays by %.4f, want %g", name, 2*r, stray, c.diameter*factor)
			}
			if c.hole == 0 {
				continue
			}
			hole := printed{}
			for _, curve := range pages[len(pages)-1].curves {
				if len(curve) < 24*17 || math.Abs(curve[0][0]-curve[len(curve)/2][0]) > c.hole {
					continue
				}
				one := printed{curves: [][][2]float64{curve}}
				if r, _ := one.circle(); r < c.diameter/3 {
					hole = one
				}
			}
			if r, stray := hole.circle(); math.Abs(2*r-c.hole*factor) > hundredth || stray > hundredth {
				t.Errorf("%s: the hole is %.4f mm across, want %g", name, 2*r, c.hole*factor)
			}
		}
	}
}

// A wheel larger than the paper comes in pieces; together they hold every tick's
// outer end, each where it belongs.
func TestDegreeWheelInPieces(t *testing.T) {
	d, err := DegreeWheel(Scale{DiameterMM: 400, HoleMM: 30, Date: someDay}, A4)
	if err != nil {
		t.Fatal(err)
	}
	checkPages(t, d, A4)
	n := 0
	for _, b := range d.Blocks {
		if f, ok := b.(Figure); ok && f.Name == "wheel" {
			n++
			for _, s := range f.Drawing.Shapes {
				if b := s.Bounds(); b.X < -1e-6 || b.Y < -1e-6 || b.Right() > f.Drawing.W+1e-6 || b.Bottom() > f.Drawing.H+1e-6 {
					t.Errorf("piece %d: %.80s reaches over its edge", n, s)
				}
			}
		}
	}
	if n != 6 { // 400 mm is three times 166 and twice 204
		t.Errorf("%d pieces", n)
	}
}

// On the wheel too: turned by 100 degrees with the engine, 100 is at the top.
func TestWheelReadsWithTheEngine(t *testing.T) {
	for _, v := range []timing.View{{From: timing.Nose, Rotation: timing.Clockwise}, {From: timing.Flywheel, Rotation: timing.Clockwise}} {
		d := figure.DegreeWheel(figure.DegreeWheelInput{View: v, DiameterMM: 200})
		for _, s := range d.Shapes {
			text, ok := s.(figure.Text)
			if !ok || text.S != "100" {
				continue
			}
			clockwise := math.Atan2(text.X-d.W/2, d.H/2-text.Y) * 180 / math.Pi // now
			turn := 100.0
			if v.Rotates() == timing.Anticlockwise {
				turn = -100
			}
			if off := math.Remainder(clockwise+turn, 360); math.Abs(off) > 0.01 {
				t.Errorf("from the %v: 100 ends %g degrees from the top", v.From, off)
			}
		}
	}
}

// Every size within the limits can be printed, and nothing lies over anything;
// beyond them the error says what is allowed.
func TestScaleSizes(t *testing.T) {
	v16, thin := sample.File(t, "v16-uneven"), sample.Read(t, thin)
	many := v16.Clone()
	many.Engine.FiringOrder, many.Engine.FiringIntervalsDeg = nil, nil
	for i := range 24 {
		many.Engine.FiringOrder = append(many.Engine.FiringOrder, i*7%24+1)
		many.Engine.FiringIntervalsDeg = append(many.Engine.FiringIntervalsDeg, [...]float64{29, 31}[i%2])
	}
	for _, p := range Papers {
		for _, j := range []*job.Job{nil, &v16, &thin, &many} {
			for _, end := range []timing.End{timing.Nose, timing.Flywheel} {
				for _, d := range []float64{40, 55, 80, 120, 200, 201, 330, 600} {
					in := Scale{DiameterMM: d, HoleMM: 12, Job: j, From: end, Date: someDay}
					doc, err := DegreeWheel(in, p)
					if err != nil {
						t.Fatal(err)
					}
					checkPages(t, doc, p)
					checkTexts(t, doc, fmt.Sprintf("wheel of %g", d))
					if doc, err = Tape(in, p); err != nil {
						t.Fatal(err)
					}
					checkPages(t, doc, p)
					checkTexts(t, doc, fmt.Sprintf("tape for %g", d))
				}
			}
		}
	}
	for _, in := range []Scale{{DiameterMM: 39}, {DiameterMM: 601}, {DiameterMM: math.NaN()}, {DiameterMM: 100, HoleMM: 60}, {DiameterMM: 100, HoleMM: -1},
		{DiameterMM: 100, RulerMM: 130}, {DiameterMM: 100, RulerMM: math.NaN()}} {
		if _, err := DegreeWheel(in, A4); err == nil {
			t.Errorf("%+v was printed", in)
		}
	}
	if _, err := Tape(Scale{DiameterMM: 2001}, A4); err == nil {
		t.Error("a tape for 2001 mm was printed")
	}
	var faults job.Faults
	if _, err := Tape(Scale{DiameterMM: 100, Job: &job.Job{}}, A4); err == nil || errors.As(err, &faults) && len(faults) == 0 {
		t.Errorf("a job without an engine: %v", err)
	}
}

// checkTexts fails where words of a figure lie over one another.
func checkTexts(t *testing.T, d Document, name string) {
	t.Helper()
	for _, b := range d.Blocks {
		f, ok := b.(Figure)
		if !ok {
			continue
		}
		var list []figure.Text
		for _, s := range f.Drawing.Shapes {
			if text, ok := s.(figure.Text); ok && text.Turn == 0 {
				list = append(list, text)
			}
		}
		for i, a := range list {
			for _, c := range list[:i] {
				ra, rc := a.Bounds().Grown(-0.2*a.Size), c.Bounds().Grown(-0.2*c.Size)
				if ra.Meets(rc) {
					t.Errorf("%s: %q lies over %q", name, a.S, c.S)
				}
			}
		}
	}
}
