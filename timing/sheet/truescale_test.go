package sheet

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"pinphase/timing"
	"pinphase/timing/figure"
	"pinphase/timing/job"
)

// printed is what a page of a PDF draws, in millimetres from its lower left
// corner: what a rule laid on the paper would measure.
type printed struct {
	lines  [][4]float64 // x0, y0, x1, y1
	curves [][][2]float64
}

// pagesOf reads the drawing operators of a PDF (ISO 32000-1, 8.5.2): numbers, then
// the operator's letter. User space is 1/72 inch (8.3.2.3) while no matrix is set.
func pagesOf(t *testing.T, pdf []byte) []printed {
	t.Helper()
	var pages []printed
	for _, part := range bytes.Split(pdf, []byte("endstream")) {
		_, body, ok := bytes.Cut(part, []byte("stream\n"))
		if !ok {
			continue
		}
		z, err := zlib.NewReader(bytes.NewReader(body))
		if err != nil {
			continue
		}
		content, err := io.ReadAll(z)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(content, []byte(" m\n")) {
			continue // a font
		}
		var page printed
		var numbers []float64
		var x, y float64
		mm := func(v float64) float64 { return v * 25.4 / 72 }
		var curve [][2]float64
		turned := 0 // inside a matrix, which only turned text has
		for _, l := range strings.Split(string(content), "\n") {
			if strings.Contains(l, "Tj") {
				continue
			}
			for _, word := range strings.Fields(l) {
				if v, err := strconv.ParseFloat(word, 64); err == nil {
					numbers = append(numbers, v)
					continue
				}
				n := len(numbers)
				switch word {
				case "cm":
					turned++
				case "Q":
					turned = 0
				case "m":
					x, y, curve = numbers[n-2], numbers[n-1], nil
				case "l":
					if turned == 0 {
						page.lines = append(page.lines, [4]float64{mm(x), mm(y), mm(numbers[n-2]), mm(numbers[n-1])})
					}
					x, y = numbers[n-2], numbers[n-1]
				case "c":
					for k := 0.0; k <= 1; k += 1.0 / 16 {
						a, b, c, d := (1-k)*(1-k)*(1-k), 3*k*(1-k)*(1-k), 3*k*k*(1-k), k*k*k
						curve = append(curve, [2]float64{mm(a*x + b*numbers[n-6] + c*numbers[n-4] + d*numbers[n-2]), mm(a*y + b*numbers[n-5] + c*numbers[n-3] + d*numbers[n-1])})
					}
					x, y = numbers[n-2], numbers[n-1]
				case "S", "f", "h", "s":
					if curve != nil {
						page.curves = append(page.curves, curve)
						curve = nil
					}
				}
				numbers = numbers[:0]
			}
		}
		pages = append(pages, page)
	}
	return pages
}

// level returns the lengths of the level lines of a page that are near a length.
func (p printed) level(length float64) (list []float64) {
	for _, l := range p.lines {
		if d := math.Abs(l[2] - l[0]); l[1] == l[3] && math.Abs(d-length) < 1 {
			list = append(list, d)
		}
	}
	return list
}

func (p printed) upright(length float64) (list []float64) {
	for _, l := range p.lines {
		if d := math.Abs(l[3] - l[1]); l[0] == l[2] && math.Abs(d-length) < 1 {
			list = append(list, d)
		}
	}
	return list
}

// circle returns the mean radius of the widest curve, and by how much it strays.
func (p printed) circle() (radius, stray float64) {
	for _, c := range p.curves {
		x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
		for _, q := range c {
			x0, x1, y0, y1 = min(x0, q[0]), max(x1, q[0]), min(y0, q[1]), max(y1, q[1])
		}
		if x1-x0 < 2*radius {
			continue
		}
		x, y := (x0+x1)/2, (y0+y1)/2
		sum, least, most := 0.0, math.Inf(1), 0.0
		for _, q := range c {
			r := math.Hypot(q[0]-x, q[1]-y)
			sum, least, most = sum+r, min(least, r), max(most, r)
		}
		radius, stray = sum/float64(len(c)), most-least
	}
	return radius, stray
}

func pdfOf(t *testing.T, make func(Scale, Paper) (Document, error), in Scale, p Paper) []byte {
	t.Helper()
	in.Date = someDay
	d, err := make(in, p)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := d.WritePDF(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const hundredth = 0.01 // mm

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

// The strips of a tape are together pi times the diameter long, to a hundredth of
// a millimetre, and go onto the paper.
func TestTapeIsTrueToScale(t *testing.T) {
	for _, p := range Papers {
		for _, c := range []struct {
			diameter float64
			strips   int
		}{{180, 4}, {20, 1}, {50.8, 1}, {412.3, 8}, {1999.9, 40}} {
			in := Scale{DiameterMM: c.diameter}
			if c.diameter == 412.3 {
				in.RulerMM = 150.6
			}
			factor := in.factor()
			pages := pagesOf(t, pdfOf(t, Tape, in, p))
			rulersAreTrue(t, pages[0], factor)
			sum, n := 0.0, 0
			for i, page := range pages {
				seen := map[float64]float64{} // the lower edge of each strip, by height
				for _, l := range page.lines {
					if l[1] != l[3] || math.Abs(l[0]-(side+1)*25.4/72) > 0.01 || l[2]-l[0] < 1 {
						continue
					}
					seen[l[1]] = l[2] - l[0]
					if l[2]*72/25.4 > p.W-side {
						t.Errorf("%g mm on %s: a strip reaches beside the text", c.diameter, p.Name)
					}
				}
				for y, long := range seen {
					if _, lower := seen[lowerEdge(seen, y)]; lower && math.Abs(long-150*factor) > 0.02 {
						sum += long
						n++
					}
				}
				_ = i
			}
			want := math.Pi * c.diameter * factor
			if math.Abs(sum-want) > hundredth {
				t.Errorf("%g mm on %s: %d strips are %.4f mm long, want %.4f", c.diameter, p.Name, n, sum, want)
			}
			if p == A4 && n != c.strips {
				t.Errorf("%g mm: %d strips, want %d", c.diameter, n, c.strips)
			}
		}
	}
}

// lowerEdge is where the lower edge of a strip lies whose upper one is at a
// height: a strip is 15 mm high. NaN where there is none, so that each strip
// counts once.
func lowerEdge(seen map[float64]float64, y float64) float64 {
	for other := range seen {
		if math.Abs(y-other-15) < 0.01 {
			return other
		}
	}
	return math.NaN()
}

// On the rim, worked out in space: a point of the tape is where the rim has come
// to, and the number under a fixed pointer grows with the crank.
func TestTapeReadsWithTheEngine(t *testing.T) {
	for _, v := range []timing.View{{From: timing.Nose, Rotation: timing.Clockwise}, {From: timing.Nose, Rotation: timing.Anticlockwise},
		{From: timing.Flywheel, Rotation: timing.Clockwise}, {From: timing.Flywheel, Rotation: timing.Anticlockwise}} {
		// The shaft lies along y, the nose at −y. Seen from the nose, looking along +y
		// with z up and x to the right, clockwise takes the top to the right: +x.
		movesToX := 1.0
		if v.Rotation == timing.Anticlockwise {
			movesToX = -1
		}
		// Who looks down on the top with their own end at the foot of the view has x to
		// the right from the nose, to the left from the flywheel.
		right := 1.0
		if v.From == timing.Flywheel {
			right = -1
		}
		// A degree later the place that was a degree further back is under the pointer.
		nextLies := -movesToX * right
		in := figure.TapeInput{View: v, DiameterMM: 100}
		at := map[string]float64{}
		for _, s := range in.Strips(2000)[0].Shapes {
			if text, ok := s.(figure.Text); ok {
				at[text.S] = text.X
			}
		}
		if got := at["110"] - at["100"]; math.Abs(got) < 10 || got*nextLies < 0 {
			t.Errorf("seen from the %v, turning %v: 110 lies %g to the right of 100, want the other way", v.From, v.Rotation, got)
		}
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
	v16, thin := file(t, "v16-uneven"), read(t, thin)
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
