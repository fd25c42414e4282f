package widgets

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"

	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/figure"
)

// waves is a figure of two invented traces.
func waves(from, to float64, n int) figure.SignalsInput {
	in := figure.SignalsInput{From: from, To: to, Desc: "two waves", Axis: figure.SignalAxis{Unit: "°", Degrees: true}}
	g := figure.SignalGroup{Label: "recording"}
	for _, period := range []float64{12, 90} {
		r := figure.SignalRow{Label: "wave", Min: -1.1, Max: 1.1}
		for i := range n {
			a := math.Sin((from + (to-from)*float64(i)/float64(n)) * 2 * math.Pi / period)
			r.Lo, r.Hi = append(r.Lo, a), append(r.Hi, a)
		}
		g.Rows = append(g.Rows, r)
	}
	g.Rows[0].Marks = []figure.SignalMark{{At: 100, State: figure.MarkLost, Says: "a tooth is lost"}}
	in.Groups = []figure.SignalGroup{g}
	return in
}

// traceView returns a view of 720 degrees, 700 by 300, and what it has asked for.
func traceView(t testing.TB) (v *TraceView, asked *[]float64) {
	t.Helper()
	test.NewTempApp(t)
	v, asked = NewTraceView(), new([]float64)
	v.Window = waves
	v.OnCursor = func(at float64) {
		*asked = append(*asked, at)
		v.MoveCursor(at, "here")
	}
	v.SetAxis(0, 720, 5)
	w := test.NewTempWindow(t, v)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(700, 300))
	return v, asked
}

func isNear(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

func TestTraceZoomAtThePointer(t *testing.T) {
	v, _ := traceView(t)
	if !v.Whole() {
		t.Fatalf("begins with %g to %g", v.from, v.to)
	}
	p := fyne.NewPos(unit(v.layout.X(200)), 100)
	scroll := func(dx, dy float32) {
		v.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: p}, Scrolled: fyne.NewDelta(dx, dy)})
	}
	scroll(0, 25)
	if got := v.to - v.from; !isNear(got, 720/zoomStep, 1e-6) || !isNear(v.axisAt(p), 200, 0.5) {
		t.Errorf("a notch shows %g degrees, %g under the pointer", got, v.axisAt(p))
	}
	for range 100 {
		scroll(0, 25)
	}
	if got := v.to - v.from; !isNear(got, 5, 1e-9) || !isNear(v.axisAt(p), 200, 0.5) {
		t.Errorf("zoomed to %g degrees, %g under the pointer", got, v.axisAt(p))
	}
	from := v.from
	scroll(-25, 0)
	if !isNear(v.from, from+0.5, 1e-6) {
		t.Errorf("sideways moves from %g to %g", from, v.from)
	}
	for range 100 {
		scroll(0, -25)
	}
	if !v.Whole() || v.from != 0 || v.to != 720 {
		t.Errorf("all of it is %g to %g", v.from, v.to)
	}
}

func TestTraceKeys(t *testing.T) {
	v, _ := traceView(t)
	var steps []float64
	var keys []fyne.KeyName
	v.OnStep = func(by float64) { steps = append(steps, by) }
	v.OnKey = func(e *fyne.KeyEvent) { keys = append(keys, e.Name) }
	v.MoveCursor(100, "here")
	v.TypedRune('+')
	v.TypedRune('+')
	share := (100 - v.from) / (v.to - v.from)
	if got := v.to - v.from; !isNear(got, 720/zoomStep/zoomStep, 1e-6) || !isNear(share, 100.0/720, 1e-6) {
		t.Errorf("zoomed to %g to %g", v.from, v.to)
	}
	from := v.from
	v.TypedRune('>')
	if !isNear(v.from, from+0.2*(v.to-v.from), 1e-6) {
		t.Errorf("moved from %g to %g", from, v.from)
	}
	v.TypedRune('<')
	v.TypedRune('-')
	v.TypedRune('0')
	if !v.Whole() {
		t.Errorf("0 shows %g to %g", v.from, v.to)
	}
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if len(steps) != 1 || steps[0] != -1 || len(keys) != 1 || keys[0] != fyne.KeySpace {
		t.Errorf("steps %v, other keys %v", steps, keys)
	}
}

// A click puts the cursor, a drag moves the traces, and a drag of the cursor the
// cursor.
func TestTraceMouse(t *testing.T) {
	v, asked := traceView(t)
	v.ShowRange(100, 300)
	p := fyne.NewPos(unit(v.layout.X(220)), 80)
	v.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: p}, Button: desktop.MouseButtonPrimary})
	v.Tapped(&fyne.PointEvent{Position: p})
	if got := (*asked)[len(*asked)-1]; !isNear(got, 220, 0.2) || v.cursor.line.Hidden || !isNear(float64(v.cursor.line.Position1.X), float64(p.X), 0.5) {
		t.Errorf("clicked at 220, %g is asked for", got)
	}
	drag := func(from, by float32) {
		v.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(from, 80)}, Button: desktop.MouseButtonPrimary})
		v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(from+by, 80)}, Dragged: fyne.NewDelta(by, 0)})
		v.DragEnd()
	}
	before := v.axisAt(fyne.NewPos(150, 80))
	n := len(*asked)
	drag(150, 60)
	if got := v.axisAt(fyne.NewPos(210, 80)); !isNear(got, before, 0.5) || len(*asked) != n {
		t.Errorf("%g was pulled along and is now %g", before, got)
	}
	x := unit(v.layout.X(v.at))
	drag(x+3, 50)
	if got := (*asked)[len(*asked)-1]; len(*asked) != n+1 || !isNear(got, v.layout.At(float64(x+53)/unitsPerPoint), 0.5) {
		t.Errorf("the cursor was pulled to %g", got)
	}
	v.HideCursor()
	if _, on := v.CursorAt(); on || !v.cursor.line.Hidden || !v.cursor.tag.box.Hidden {
		t.Error("the cursor is still there")
	}
}

// The window goes with a cursor that leaves it.
func TestTraceFollowsTheCursor(t *testing.T) {
	v, _ := traceView(t)
	v.ShowRange(100, 200)
	for _, at := range []float64{205, 195, 90, 600, 0, 720} {
		v.MoveCursor(at, "here")
		if at < v.from || at > v.to || !isNear(v.to-v.from, 100, 1e-6) {
			t.Errorf("the cursor is at %g, the window shows %g to %g", at, v.from, v.to)
		}
	}
	v.MoveCursor(900, "beyond")
	if !v.cursor.line.Hidden {
		t.Error("a cursor beyond the axis is drawn")
	}
}

func TestTraceSaysWhatAMarkIs(t *testing.T) {
	v, _ := traceView(t)
	p := fyne.NewPos(unit(v.layout.X(100)), unit(v.layout.Rows[0].Y)+5)
	v.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: p}})
	if v.note.text.Hidden || v.note.text.Text != "a tooth is lost" {
		t.Errorf("over the mark it says %q", v.note.text.Text)
	}
	v.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: p.AddXY(120, 0)}})
	if !v.note.text.Hidden {
		t.Errorf("beside the mark it says %q", v.note.text.Text)
	}
}

// Whatever window is asked for lies on the axis and is as wide as may be.
func TestTraceWindows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(-1e4, 1e4).Draw(t, "lo")
		hi := lo + rapid.Float64Range(1e-3, 1e5).Draw(t, "long")
		least := rapid.Float64Range(1e-4, 100).Draw(t, "least")
		from := rapid.Float64Range(-2e5, 2e5).Draw(t, "from")
		to := from + rapid.Float64Range(0, 2e5).Draw(t, "wide")
		a, b := withinAxis(from, to, lo, hi, least)
		slack := 1e-9 * (1 + math.Abs(lo) + math.Abs(hi) + math.Abs(from) + to - from)
		if a < lo-slack || b > hi+slack || b-a < min(least, hi-lo)-slack {
			t.Fatalf("%g..%g on %g..%g became %g..%g", from, to, lo, hi, a, b)
		}
		if from >= lo && to <= hi && to-from >= least && (math.Abs(a-from) > slack || math.Abs(b-to) > slack) {
			t.Fatalf("%g..%g on %g..%g became %g..%g", from, to, lo, hi, a, b)
		}
	})
}

// Moving the cursor paints no trace; another window paints them once.
func TestTracePaintsOnlyWhatChanged(t *testing.T) {
	v, _ := traceView(t)
	paint := func() {
		v.plane.raster.Generator(700, 300)
	}
	paint()
	n := v.plane.paints
	v.MoveCursor(50, "there")
	paint()
	if v.plane.paints != n {
		t.Error("the cursor painted the traces anew")
	}
	v.Zoom(0.5)
	paint()
	if v.plane.paints != n+1 {
		t.Errorf("another window was painted %d times", v.plane.paints-n)
	}
	if v.AccessibilityLabel() != "two waves" {
		t.Errorf("it is described as %q", v.AccessibilityLabel())
	}
}
