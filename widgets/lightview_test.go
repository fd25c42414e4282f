package widgets

import (
	"math"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

// lightInput is an invented gas from 60 degrees before TDC to 60 after it.
func lightInput() figure.LightOffInput {
	in := figure.LightOffInput{Title: "Fuel ignition", Desc: "gas and injections", From: -60, To: 60, Window: &timing.Span{From: -29, To: 7},
		Bars:    []figure.LightBar{{Label: "commanded", Role: figure.Commanded, Start: -10, Says: "does not ignite"}},
		Spreads: []figure.LightSpread{{Label: "one way", Window: &timing.Span{From: -29, To: 7}}, {Label: "another", None: "none"}},
		Words:   figure.LightWords{Temperature: "gas temperature, °C", Pressure: "gas pressure, bar", CelsiusUnit: "°C", BarUnit: "bar", TDC: "TDC"},
	}
	for a := timing.Deg(-60); a <= 60; a++ {
		x := math.Exp(-float64(a*a) / 1200)
		in.Gas = append(in.Gas, figure.GasPoint{At: a, C: 400 * x, Bar: 1 + 36*x*x})
	}
	return in
}

// lightView returns a view, 700 by so much, that moves its cursor as it is told
// to and notes where to.
func lightView(t *testing.T, height float32) (v *LightView, asked *[]timing.Deg) {
	t.Helper()
	test.NewTempApp(t)
	v, asked = NewLightView(), new([]timing.Deg)
	v.OnCursor = func(at timing.Deg) {
		*asked = append(*asked, at)
		v.MoveCursor(at, "here")
	}
	v.SetFigure(lightInput())
	w := test.NewTempWindow(t, v)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(700, height))
	return v, asked
}

func TestLightCursorGoesToThePointer(t *testing.T) {
	v, asked := lightView(t, 500)
	for _, want := range []timing.Deg{-60, -12, 0, 41} {
		x := unit(v.layout.X(want))
		e := at(x, 50)
		v.MouseDown(&e)
		if got := (*asked)[len(*asked)-1]; got != want {
			t.Errorf("clicked where %v is, %v is asked for", want, got)
		}
		if got := v.cursor.line.Position1.X; math.Abs(float64(got-x)) > 0.5 || v.cursor.line.Hidden || v.cursor.tag.box.Hidden {
			t.Errorf("the cursor is drawn at %g, the pointer is at %g", got, x)
		}
		if left, right := v.cursor.tag.box.Position().X, v.cursor.tag.box.Position().X+v.cursor.tag.box.Size().Width; left < 0 || right > 700 || v.cursor.tag.text.Text != "here" {
			t.Errorf("the tag %q reaches from %g to %g", v.cursor.tag.text.Text, left, right)
		}
	}
	*asked = nil
	for _, x := range []float32{-1000, 5000} {
		v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, 50)}})
	}
	if want := []timing.Deg{-60, 60}; !slices.Equal(*asked, want) {
		t.Errorf("beyond the plot %v is asked for, want %v", *asked, want)
	}
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c.Focused() != fyne.Focusable(v) || v.ring.Hidden {
		t.Error("a click does not give the view the keyboard, or does not show it")
	}
}

func TestLightCursorSteps(t *testing.T) {
	v, asked := lightView(t, 500)
	other := fyne.KeyName("")
	v.OnKey = func(e *fyne.KeyEvent) { other = e.Name }
	v.MoveCursor(10, "here")
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -25)})
	v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 25)})
	v.Scrolled(&fyne.ScrollEvent{})
	if want := []timing.Deg{9, 10, 11, 10}; !slices.Equal(*asked, want) {
		t.Errorf("stepped to %v, want %v", *asked, want)
	}
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if other != fyne.KeySpace {
		t.Errorf("Space is kept; %q was handed on", other)
	}
}

func TestLightCursorOutsideTheFigureIsNotShown(t *testing.T) {
	v, _ := lightView(t, 500)
	for _, c := range []struct {
		at    timing.Deg
		label string
		shown bool
	}{{60, "here", true}, {60.5, "here", false}, {-170, "here", false}, {0, "", false}, {0, "here", true}} {
		v.MoveCursor(c.at, c.label)
		if v.cursor.line.Visible() != c.shown || v.cursor.tag.box.Visible() != c.shown || v.cursor.tag.text.Visible() != c.shown {
			t.Errorf("at %v with %q the cursor is shown: %v", c.at, c.label, v.cursor.line.Visible())
		}
	}
}

func TestLightFigureIsPaintedOnlyWhenItChanges(t *testing.T) {
	v, _ := lightView(t, 500)
	paint := func() int {
		v.plane.raster.Generator(700, 500)
		return v.plane.paints
	}
	first := paint()
	for a := timing.Deg(-60); a <= 60; a += 5 {
		v.MoveCursor(a, "here")
		if paint() != first {
			t.Fatal("moving the cursor paints the figure")
		}
	}
	v.SetFigure(lightInput())
	if paint() != first+1 {
		t.Error("another figure is not painted")
	}
	was := v.plane.style.Color(figure.Ink)
	test.ApplyTheme(t, theme.DefaultTheme())
	fyne.CurrentApp().Settings().SetTheme(test.NewTheme())
	v.Refresh()
	if paint() == first+1 {
		t.Errorf("after a change of theme the figure, whose ink was %v, is not painted", was)
	}
}

// A low view keeps its room for the curves.
func TestLowLightViewLeavesTheSpreadsOut(t *testing.T) {
	count := func(height float32) (n int) {
		v, _ := lightView(t, height)
		for _, h := range v.plane.drawing.Hits {
			if h.Label == "one way" || h.Label == "another" {
				n++
			}
		}
		return n
	}
	if high, low := count(500), count(320); high != 2 || low != 0 {
		t.Errorf("a high view shows %d windows by other ways, a low one %d", high, low)
	}
}

func mapInput() figure.LightMapInput {
	in := figure.LightMapInput{Desc: "whether it lights", X: []float64{-20, 0, 20}, Y: []float64{-10, 10}}
	for range in.Y {
		in.Cells = append(in.Cells, make([]figure.LightOn, len(in.X)))
	}
	for _, row := range in.Cells {
		for i := range row {
			row[i] = figure.LightOn{Lit: i, Of: 2}
		}
	}
	return in
}

func TestMapTellsTheCellPointedAt(t *testing.T) {
	test.NewTempApp(t)
	v := NewMapView()
	var column, row int
	var on bool
	v.OnPoint = func(c, r int, ok bool) { column, row, on = c, r, ok }
	v.SetFigure(mapInput())
	w := test.NewTempWindow(t, v)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(400, 300))
	plot := v.layout.Plot
	point := func(x, y float64) {
		v.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(unit(plot.X+x*plot.W), unit(plot.Y+y*plot.H))}})
	}
	for _, c := range []struct {
		x, y        float64
		column, row int
	}{{0.1, 0.9, 0, 0}, {0.5, 0.9, 1, 0}, {0.9, 0.1, 2, 1}} {
		if point(c.x, c.y); !on || column != c.column || row != c.row {
			t.Errorf("at %g, %g of the map there is column %d, row %d, %v", c.x, c.y, column, row, on)
		}
	}
	if point(1.02, 0.5); on {
		t.Error("beside the map there is a cell")
	}
	point(0.5, 0.5)
	if v.MouseOut(); on {
		t.Error("the pointer has left and there is a cell")
	}
	v.SetFigure(figure.LightMapInput{})
	if point(0.5, 0.5); on {
		t.Error("an empty map has cells")
	}
}
