package widgets

import (
	"image"
	"image/color"
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

// cycleView returns a view on a small engine, 900 by 300, that moves its cursor
// as it is told to and notes where to.
func cycleView(t *testing.T, cylinders ...int) (v *CycleView, asked *[]timing.Deg) {
	t.Helper()
	test.NewTempApp(t)
	v, asked = NewCycleView(), new([]timing.Deg)
	v.OnCursor = func(at timing.Deg) {
		*asked = append(*asked, at)
		v.MoveCursor(at, "here", make([]string, len(cylinders)))
	}
	v.SetFigure(cycleInput(t, cylinders...))
	w := test.NewTempWindow(t, v)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(900, 300))
	return v, asked
}

func cycleInput(t *testing.T, cylinders ...int) figure.CycleInput {
	t.Helper()
	e, err := timing.NewScheme(4, cylinders, nil)
	if err != nil {
		t.Fatal(err)
	}
	in := figure.CycleInput{Engine: e, Desc: "all that fires", ReadoutRoom: "compression, 188.8"}
	for i, w := range []string{"power", "exhaust", "intake", "compression"} {
		in.Strokes[i] = figure.Word{Full: w, Short: w[:3]}
	}
	for _, c := range cylinders {
		in.Rows = append(in.Rows, figure.CycleRow{Cylinder: c, Label: figure.Word{Full: "Cyl", Short: "C"}})
	}
	return in
}

func at(x, y float32) desktop.MouseEvent {
	return desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}, Button: desktop.MouseButtonPrimary}
}

func TestCursorGoesToThePointer(t *testing.T) {
	v, asked := cycleView(t, 1, 3, 4, 2)
	for _, want := range []timing.Deg{0, 37, 360, 700} {
		x := unit(v.layout.X(want))
		e := at(x, 50)
		v.MouseDown(&e)
		if got := (*asked)[len(*asked)-1]; got != want {
			t.Errorf("clicked where %v is, %v is asked for", want, got)
		}
		if got := v.cursor.line.Position1.X; math.Abs(float64(got-x)) > 0.5 || v.cursor.line.Position2.X != got {
			t.Errorf("the cursor is drawn at %g, the pointer is at %g", got, x)
		}
	}
	v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(unit(v.layout.X(123)), -40)}})
	v.DragEnd()
	if got := v.at; got != 123 {
		t.Errorf("dragged to 123, the cursor is at %v", got)
	}
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c.Focused() != fyne.Focusable(v) || v.ring.Hidden {
		t.Error("a click does not give the view the keyboard, or does not show it")
	}
}

func TestPointingIsKeptWithinTheCycle(t *testing.T) {
	v, asked := cycleView(t, 1, 2)
	for _, x := range []float32{-1000, 0, 899, 5000} {
		v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, 50)}})
	}
	if want := []timing.Deg{0, 0, 719.9, 719.9}; !slices.Equal(*asked, want) {
		t.Errorf("beyond the plot %v is asked for, want %v", *asked, want)
	}
}

func TestKeysAndWheelStepTheCursor(t *testing.T) {
	v, asked := cycleView(t, 1, 2)
	v.MoveCursor(100, "", nil)
	for _, k := range []fyne.KeyName{fyne.KeyRight, fyne.KeyUp, fyne.KeyLeft, fyne.KeyDown} {
		v.TypedKey(&fyne.KeyEvent{Name: k})
	}
	v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 25)})
	v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(-25, 0)})
	v.Scrolled(&fyne.ScrollEvent{})
	if want := []timing.Deg{101, 102, 101, 100, 99, 100}; !slices.Equal(*asked, want) {
		t.Errorf("%v is asked for, want %v", *asked, want)
	}
	var other []fyne.KeyName
	v.OnKey = func(e *fyne.KeyEvent) { other = append(other, e.Name) }
	v.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if !slices.Equal(other, []fyne.KeyName{fyne.KeySpace}) {
		t.Errorf("the keys %v are passed on", other)
	}
}

func TestMovingTheCursorDoesNotPaintTheFigure(t *testing.T) {
	v, _ := cycleView(t, 1, 3, 4, 2)
	v.plane.raster.Generator(900, 300)
	if v.plane.paints != 1 {
		t.Fatalf("painted %d times to begin with", v.plane.paints)
	}
	for a := range 100 {
		v.MoveCursor(timing.Deg(a), "tag", []string{"a", "b", "c", "d"})
		v.plane.raster.Generator(900, 300)
	}
	if v.plane.paints != 1 {
		t.Errorf("a hundred steps of the cursor painted the figure %d times more", v.plane.paints-1)
	}
	v.SetFigure(cycleInput(t, 1, 2))
	v.plane.raster.Generator(900, 300)
	if v.plane.paints != 2 {
		t.Error("another figure was not painted")
	}
}

func TestReadoutsStandBesideTheirRows(t *testing.T) {
	v, _ := cycleView(t, 1, 3, 4, 2)
	v.MoveCursor(10, "10", []string{"one", "three", "four", "two"})
	for i, want := range []string{"one", "three", "four", "two"} {
		x := v.rows[i]
		row := v.layout.Rows[i].Row
		if middle := x.Position().Y + x.Size().Height/2; x.Text != want || x.Hidden || math.Abs(float64(middle-unit(row.Y+row.H/2))) > 1 {
			t.Errorf("row %d has %q at height %g, its middle is at %g", i, x.Text, middle, unit(row.Y+row.H/2))
		}
	}
	v.SetFigure(cycleInput(t, 1, 2)) // fewer rows than words
	if len(v.rows) != 2 {
		t.Errorf("%d readouts for two rows", len(v.rows))
	}
	in := cycleInput(t, 1, 2)
	in.ReadoutRoom = strings.Repeat("as wide as the figure ", 9)
	v.SetFigure(in)
	v.MoveCursor(10, "10", []string{"one", "two"})
	if !v.rows[0].Hidden {
		t.Error("readouts are shown where there is no room for them")
	}
}

func TestTagStaysInTheView(t *testing.T) {
	v, _ := cycleView(t, 1, 2)
	for _, a := range []timing.Deg{0, 719.9} {
		v.MoveCursor(a, "a long tag on the cursor, longer than the margin beside the plot is wide", nil)
		left, right := v.cursor.tag.box.Position().X, v.cursor.tag.box.Position().X+v.cursor.tag.box.Size().Width
		if left < 0 || right > v.Size().Width {
			t.Errorf("at %v the tag reaches from %g to %g of %g", a, left, right, v.Size().Width)
		}
	}
}

// ground is a theme with a background of its own.
type ground struct {
	fyne.Theme
	color color.Color
}

func (g ground) Color(n fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	if n == theme.ColorNameBackground {
		return g.color
	}
	return g.Theme.Color(n, v)
}

func TestFigureTakesTheThemesColours(t *testing.T) {
	v, _ := cycleView(t, 1, 2)
	corner := func() color.Color { return v.plane.raster.Generator(90, 30).(*image.RGBA).RGBAAt(1, 1) }
	test.ApplyTheme(t, ground{theme.DefaultTheme(), color.Black})
	v.Refresh()
	if got := corner(); got != (color.RGBA{A: 0xff}) {
		t.Errorf("on black the figure's corner is %v", got)
	}
	test.ApplyTheme(t, ground{theme.DefaultTheme(), color.White})
	v.Refresh()
	if got := corner(); got != (color.RGBA{0xff, 0xff, 0xff, 0xff}) {
		t.Errorf("on white the figure's corner is %v", got)
	}
}

func TestViewsSayWhatTheyShow(t *testing.T) {
	v, _ := cycleView(t, 1, 2)
	if got := v.AccessibilityLabel(); got != "all that fires" {
		t.Errorf("the label is %q", got)
	}
}
