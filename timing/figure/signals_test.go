package figure

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// signalRow is an invented trace: waves with a hole, over n columns of from..to.
func signalRow(label string, from, to float64, n int, wave float64) SignalRow {
	r := SignalRow{Label: label, Range: "±1 V", Min: -1.1, Max: 1.1}
	for i := range n {
		a := from + (to-from)*float64(i)/float64(n)
		b := from + (to-from)*float64(i+1)/float64(n)
		va, vb := math.Sin(a*math.Pi/wave), math.Sin(b*math.Pi/wave)
		if math.Mod(math.Mod(a, 360)+360, 360) > 340 {
			va, vb = 0, 0
		}
		r.Lo, r.Hi = append(r.Lo, min(va, vb)), append(r.Hi, max(va, vb))
	}
	return r
}

func signalsInput(from, to float64, n int) SignalsInput {
	in := SignalsInput{Heading: "Signals", Title: "Signals", Desc: "Crank and cam sensor", From: from, To: to,
		Finding: "Each signal by itself looks correct, but every cam edge comes 28° early among the crank teeth: 4.7 tooth spacings.",
		Axis:    SignalAxis{Title: "the controller's crank angle", Unit: "°", Degrees: true},
		Words: SignalWords{Gap: "gap", True: "firing TDC", Counted: "where the ECU counts it", Belongs: "from where a cam edge should be to where it is",
			Missing: "no tooth, correctly", Lost: "lost tooth", Extra: "extra edge"}}
	right := SignalGroup{Label: "correct"}
	is := SignalGroup{Label: "recording"}
	for a := math.Ceil(from/120) * 120; a <= to; a += 120 {
		right.Lines = append(right.Lines, SignalLine{At: a, Label: fmt.Sprintf("TDC %g", a/120+1)})
		is.Lines = append(is.Lines, SignalLine{At: a, Label: fmt.Sprintf("TDC %g", a/120+1), Counted: true})
		if a-28 >= from {
			is.Lines = append(is.Lines, SignalLine{At: a - 28, Label: fmt.Sprintf("TDC %g", a/120+1)})
		}
	}
	crank, cam := signalRow("crank", from, to, n, 5), signalRow("cam", from, to, n, 60)
	for a := math.Ceil(from/10) * 10; a <= to && to-from < 3000; a += 10 {
		if k := int(math.Mod(math.Mod(a, 360)+360, 360))/10 + 1; k < 36 {
			crank.Marks = append(crank.Marks, SignalMark{At: a, Label: fmt.Sprint(k)})
		} else {
			crank.Gaps = append(crank.Gaps, SignalSpan{a - 6, a + 6})
		}
	}
	for a := math.Ceil(from/120) * 120; a <= to && to-from < 3000; a += 120 {
		cam.Marks = append(cam.Marks, SignalMark{At: a, Label: fmt.Sprint(int(a/120) + 1)})
	}
	right.Rows = []SignalRow{crank, cam}
	crank.Marks = append([]SignalMark{}, crank.Marks...)
	if len(crank.Marks) > 8 {
		crank.Marks[3].State, crank.Marks[3].Says = MarkLost, "a tooth is lost"
		crank.Marks[5].State, crank.Marks[5].Says = MarkExtra, "an extra edge"
		crank.Marks[7].State = MarkMissing
	}
	for a := math.Ceil(from/120) * 120; a <= to; a += 120 {
		cam.Arrows = append(cam.Arrows, SignalArrow{From: a, To: a - 28, Label: "28° early"})
	}
	is.Rows = []SignalRow{crank, cam}
	in.Groups = []SignalGroup{right, is}
	return in
}

func TestGoldenSignals(t *testing.T) {
	t.Parallel()
	d, _ := Signals(signalsInput(0, 720, 180), Box{W: 842, H: 520})
	golden(t, "signals.txt", d.String())
	d, _ = Signals(signalsInput(300, 420, 120), Box{W: 360, H: 220})
	golden(t, "signals-small.txt", d.String())
	d, _ = Signals(signalsInput(0, 720, 842), Box{W: 842, H: 520})
	goldenPicture(t, "signals.png", d, Light())
	seconds := signalsInput(0.2, 0.7, 100)
	seconds.Axis = SignalAxis{Title: "time in seconds", Unit: " s"}
	d, _ = Signals(seconds, Box{W: 500, H: 300})
	golden(t, "signals-time.txt", d.String())
}

func anySignals(t *rapid.T) SignalsInput {
	from := rapid.Float64Range(-1000, 1000).Draw(t, "from")
	to := from + rapid.SampledFrom([]float64{0.5, 5, 60, 720, 1440, 50000}).Draw(t, "span")
	in := signalsInput(from, to, rapid.IntRange(1, 300).Draw(t, "columns"))
	if rapid.Bool().Draw(t, "wrapped") {
		in.Axis.Wrap = 720
	}
	if rapid.Bool().Draw(t, "seconds") {
		in.Axis = SignalAxis{Title: "time", Unit: " s"}
	}
	if rapid.Bool().Draw(t, "long words") {
		in.Finding += " " + in.Finding + " " + in.Finding
		in.Groups[0].Rows[0].Label = "the crankshaft's sensor at the flywheel"
		in.Groups[1].Label += ", a name that is far too long for most of the boxes it has to stand in"
	}
	if rapid.Bool().Draw(t, "cursor") {
		v := rapid.Float64Range(-2000, 2000).Draw(t, "cursor at")
		in.Cursor = &v
	}
	if rapid.Bool().Draw(t, "holes") {
		in.Groups[1].Rows[0].Lo[0] = math.NaN()
	}
	return in
}

func TestSignalsTextsFit(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		box := anyBox(t)
		d, _ := Signals(anySignals(t), box)
		checkTexts(t, d, box)
	})
}

// Everything lies in the box, and the traces in their rows.
func TestSignalsStayInside(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		box := anyBox(t)
		in := anySignals(t)
		d, l := Signals(in, box)
		row := 0
		for _, s := range d.Shapes {
			b := s.Bounds()
			if b.X < -0.5 || b.Y < -0.5 || b.Right() > box.W+0.5 || b.Bottom() > box.H+0.5 {
				t.Fatalf("%v leaves the box of %g by %g", s, box.W, box.H)
			}
			if e, ok := s.(Envelope); ok {
				if r := l.Rows[row]; len(e.Hi) > 1 && (b.Y < r.Y-0.01 || b.Bottom() > r.Bottom()+0.01 || b.X < r.X-0.01 || b.Right() > r.Right()+0.01) {
					t.Fatalf("trace %d leaves its row %v: %v", row, r, b)
				}
				row++
			}
		}
		if row != 4 {
			t.Fatalf("%d traces", row)
		}
		v := rapid.Float64Range(in.From, in.To).Draw(t, "at")
		if got := l.At(l.X(v)); math.Abs(got-v) > 1e-6*(in.To-in.From) {
			t.Fatalf("At(X(%g)) = %g", v, got)
		}
	})
}

// Marks, lines and arrows stand where the input has them.
func TestSignalsMarks(t *testing.T) {
	t.Parallel()
	in := signalsInput(0, 720, 720)
	d, l := Signals(in, Box{W: 842, H: 520})
	kinds := map[MarkerKind]float64{}
	var ghosts []float64
	for _, s := range d.Shapes {
		switch s := s.(type) {
		case Marker:
			if s.Y < l.Plot.Bottom() {
				kinds[s.Kind] = math.Round(l.At(s.X)*1e6) / 1e6
			}
		case Path:
			if s.Stroke == Ghost && s.Weight == Fine && s.Bounds().Y > l.Plot.Y && s.Bounds().Bottom() < l.Plot.Bottom() {
				ghosts = append(ghosts, math.Round(l.At(s.Bounds().X)))
			}
		}
	}
	if kinds[Cross] != 30 || kinds[Plus] != 50 || kinds[Square] != 70 || kinds[Arrowhead] != 92 {
		t.Errorf("marks at %v", kinds)
	}
	if fmt.Sprint(ghosts) != "[0 120 240 360 480 600 720]" {
		t.Errorf("edges belong at %v", ghosts)
	}
	if h, ok := d.At(l.X(30), l.Rows[2].Bottom()-1); !ok || h.Label != "a tooth is lost" {
		t.Errorf("at the lost tooth there is %+v", h)
	}
	if h, ok := d.At(l.X(200), l.Rows[1].Y+1); !ok || h.Label != "cam" {
		t.Errorf("on the second row there is %+v", h)
	}
}

func TestSignalsWithoutData(t *testing.T) {
	t.Parallel()
	in := signalsInput(0, 720, 100)
	in.To = in.From
	if d, _ := Signals(in, Box{W: 500, H: 300}); len(d.Shapes) != 0 || d.Title != "Signals" {
		t.Errorf("no range, but %d shapes", len(d.Shapes))
	}
	if d, _ := Signals(SignalsInput{From: 0, To: 1, Heading: "None"}, Box{W: 500, H: 300}); len(d.Shapes) != 0 || d.Title != "None" {
		t.Error("no rows, but a figure")
	}
	in = signalsInput(0, 720, 100)
	for i := range in.Groups[0].Rows[0].Lo {
		in.Groups[0].Rows[0].Lo[i] = math.NaN()
	}
	in.Groups[0].Rows[1].Hi = in.Groups[0].Rows[1].Hi[1:]
	in.Groups[1].Rows[1].Arrows[0].To, in.Groups[1].Lines[0].At = math.NaN(), math.NaN()
	d, _ := Signals(in, Box{W: 500, H: 300})
	var svg bytes.Buffer
	if err := WriteSVG(&svg, d, Light()); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(svg.String(), "NaN") {
		t.Error("NaN is written to the SVG")
	}
	var r Raster
	for _, w := range []float64{-3, 0, 1, 40} { // boxes a window passes through while it is pulled small
		d, _ := Signals(signalsInput(0, 720, 300), Box{W: w, H: w})
		r.Render(d, Light(), int(w), int(w), 1)
	}
}

// The ticks of any range are round, few, and none leaves the range.
func TestSignalTicks(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from, to float64
		wrap     float64
		seconds  bool
		want     string
	}{
		{0, 720, 0, false, "0° 60° 120° 180° 240° 300° 360° 420° 480° 540° 600° 660° 720°"},
		{700, 790, 720, false, "700° 710° 0° 10° 20° 30° 40° 50° 60° 70°"},
		{0, 2, 0, false, "0.0° 0.2° 0.4° 0.6° 0.8° 1.0° 1.2° 1.4° 1.6° 1.8° 2.0°"},
		{0, 14400, 720, false, "0×720° 2×720° 4×720° 6×720° 8×720° 10×720° 12×720° 14×720° 16×720° 18×720° 20×720°"},
		{0.5, 1, 0, true, "0.50 s 0.55 s 0.60 s 0.65 s 0.70 s 0.75 s 0.80 s 0.85 s 0.90 s 0.95 s 1.00 s"},
	} {
		in := signalsInput(c.from, c.to, 10)
		in.Axis = SignalAxis{Unit: "°", Wrap: c.wrap, Degrees: !c.seconds}
		if c.seconds {
			in.Axis.Unit = " s"
		}
		f := signalsFigure{in: in, box: Box{W: 842, H: 520}, small: 10}
		f.l.Plot.W = 740
		at, text := f.ticks()
		var got []string
		for _, v := range at {
			got = append(got, text(v))
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%g to %g: %s, want %s", c.from, c.to, strings.Join(got, " "), c.want)
		}
	}
}

// The pixels of a trace: a level line is as thick as its weight, an upright one too,
// and between them the trace hangs together.
func TestEnvelopePixels(t *testing.T) {
	t.Parallel()
	st := Paper()
	e := Envelope{X: 10, W: 100, Role: Ink, Weight: Medium, Hi: make([]float64, 100), Lo: make([]float64, 100)}
	for i := range e.Hi {
		e.Hi[i] = 20
		if i >= 50 {
			e.Hi[i] = 60
		}
		e.Lo[i] = e.Hi[i]
	}
	d := Drawing{W: 120, H: 80}
	d.add(e)
	var r Raster
	const scale = 2
	img := r.Render(d, st, 240, 160, scale)
	dark := func(x, y int) bool { return img.RGBAAt(x, y).R < 128 }
	thick := func(x0, y0, dx, dy, n int) int {
		count := 0
		for i := range n {
			if dark(x0+i*dx, y0+i*dy) {
				count++
			}
		}
		return count
	}
	want := int(math.Round(st.Width(Medium) * scale))
	if got := thick(60, 20, 0, 1, 60); got < want-1 || got > want+1 {
		t.Errorf("a level line is %d pixels thick, want %d", got, want)
	}
	if got := thick(100, 80, 1, 0, 60); got < want-1 || got > want+1 {
		t.Errorf("an upright line is %d pixels thick, want %d", got, want)
	}
	for y := 42; y < 118; y++ {
		if thick(100, y, 1, 0, 60) == 0 {
			t.Fatalf("the trace is torn at row %d", y)
		}
	}
	if dark(15, 40) || dark(225, 120) {
		t.Error("the trace reaches beyond its ends")
	}
}

// What is drawn column by column and what is drawn as a line look alike.
func TestEnvelopeAsALine(t *testing.T) {
	t.Parallel()
	in := signalsInput(0, 360, 900)
	d, _ := Signals(in, Box{W: 900, H: 500})
	lines := Drawing{W: d.W, H: d.H}
	for _, s := range d.Shapes {
		if e, ok := s.(Envelope); ok {
			s = e.path()
		}
		lines.add(s)
	}
	var a, b Raster
	if mean := meanDifference(t, a.Render(d, Light(), 900, 500, 1), b.Render(lines, Light(), 900, 500, 1)); mean > 6 {
		t.Errorf("they differ by %.2f on average", mean)
	}
	moved := Drawing{W: 900, H: 500}
	moved.Place(d, 3, 4)
	for i, s := range moved.Shapes {
		was, is := d.Shapes[i].Bounds(), s.Bounds()
		if math.Abs(is.X-was.X-3) > 1e-9 || math.Abs(is.Y-was.Y-4) > 1e-9 {
			t.Fatalf("%v moved to %v", was, is)
		}
	}
}

func BenchmarkSignals(b *testing.B) {
	in := signalsInput(0, 720, 1800)
	in.Groups = append(in.Groups, in.Groups[1])
	var r Raster
	for b.Loop() {
		d, _ := Signals(in, Box{W: 1800, H: 900})
		r.Render(d, Light(), 1800, 900, 1)
	}
}
