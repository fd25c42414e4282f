package app

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/widgets"
)

// line is the cursor in the cycle figure.
func line(t *testing.T, v *widgets.CycleView) *canvas.Line {
	for _, o := range shown(v) {
		if l, ok := o.(*canvas.Line); ok {
			return l
		}
	}
	t.Fatal("there is no cursor")
	return nil
}

// tag is what stands on the cursor.
func tag(t *testing.T, v *widgets.CycleView) string {
	for _, o := range shown(v) {
		if x, ok := o.(*canvas.Text); ok {
			return x.Text
		}
	}
	t.Fatal("the cursor has no tag")
	return ""
}

func press1(v desktop.Mouseable, x, y float32) {
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	e.Position = fyne.NewPos(x, y)
	v.MouseDown(e)
	v.MouseUp(e)
}

func drag(v fyne.Draggable, x, y float32) {
	e := &fyne.DragEvent{}
	e.Position = fyne.NewPos(x, y)
	v.Dragged(e)
}

func TestCursorGoesWhereItIsClickedAndDragged(t *testing.T) {
	u := window(t)
	v := cycleOf(u).Cycle
	last := timing.Deg(-1)
	for _, x := range []float32{120, 200, 355.5, 420} {
		press1(v, x, 100)
		if got := line(t, v).Position1.X; math.Abs(float64(got-x)) > 1 {
			t.Errorf("clicked at %g, the cursor stands at %g", x, got)
		}
		if u.At <= last || u.At != timing.Deg(math.Round(float64(u.At))) {
			t.Errorf("clicked at %g, the crank stands at %v after %v", x, u.At, last)
		}
		last = u.At
	}
	press1(v, 200, 100)
	for _, x := range []float32{203, 250, 301, 260} {
		drag(v, x, 500) // on, though the pointer has left the figure
		if got := line(t, v).Position1.X; math.Abs(float64(got-x)) > 1 {
			t.Errorf("dragged to %g, the cursor stands at %g", x, got)
		}
	}
	v.DragEnd()
	drag(v, -500, 0)
	if u.At != 0 {
		t.Errorf("dragged beyond the left edge the crank stands at %v", u.At)
	}
	drag(v, 5000, 0)
	if u.At < 719 || u.At >= 720 {
		t.Errorf("dragged beyond the right edge the crank stands at %v", u.At)
	}
	if got := tag(t, v); got != desk.ShownAngle(u.At)+"°" {
		t.Errorf("the cursor says %q at %v", got, u.At)
	}
	if u.Window.Canvas().Focused() != fyne.Focusable(v) {
		t.Error("a click does not give the figure the keyboard")
	}
}

func TestOtherMouseButtonsLeaveTheCursor(t *testing.T) {
	u := window(t)
	e := &desktop.MouseEvent{Button: desktop.MouseButtonSecondary}
	e.Position = fyne.NewPos(300, 100)
	cycleOf(u).Cycle.MouseDown(e)
	if u.At != 0 {
		t.Errorf("the crank stands at %v", u.At)
	}
}

func TestMovingTheCursorPaintsNoFigureAnew(t *testing.T) {
	u := window(t)
	raster := rasters(cycleOf(u).Cycle)[0]
	first := raster.Generator(700, 300)
	for _, at := range []timing.Deg{10, 200.5, 719} {
		u.SetAt(at)
		if raster.Generator(700, 300) != first {
			t.Errorf("at %v the cycle figure was painted anew", at)
		}
	}
	was := painted(cycleOf(u).Cycle)
	fill(t, u, "injection.start_btdc_deg", "30")
	if painted(cycleOf(u).Cycle) == was {
		t.Error("after an edit it was not")
	}
}

func rasters(o fyne.CanvasObject) (list []*canvas.Raster) {
	for _, o := range shown(o) {
		if r, ok := o.(*canvas.Raster); ok {
			list = append(list, r)
		}
	}
	return list
}

func TestKeysMoveTheCrank(t *testing.T) {
	u := window(t)
	for _, tt := range []struct {
		name string
		from timing.Deg
		keys []fyne.KeyName
		want timing.Deg
	}{
		{"on by a degree", 10, []fyne.KeyName{fyne.KeyRight, fyne.KeyUp}, 12},
		{"back over 0", 1, []fyne.KeyName{fyne.KeyLeft, fyne.KeyDown}, 719},
		{"over the cycle", 719.5, []fyne.KeyName{fyne.KeyRight}, 0.5},
		{"to the next firing TDC", 130, []fyne.KeyName{fyne.KeyPageDown}, 240},
		{"on from a firing TDC", 240, []fyne.KeyName{fyne.KeyPageDown}, 360},
		{"round", 650, []fyne.KeyName{fyne.KeyPageDown}, 0},
		{"to the previous firing TDC", 130, []fyne.KeyName{fyne.KeyPageUp}, 120},
		{"round backwards", 0, []fyne.KeyName{fyne.KeyPageUp}, 600},
		{"home", 130, []fyne.KeyName{fyne.KeyHome}, 0},
		{"end", 130, []fyne.KeyName{fyne.KeyEnd}, 600},
		{"nothing", 130, []fyne.KeyName{fyne.KeyA, fyne.KeyReturn}, 130},
	} {
		t.Run(tt.name, func(t *testing.T) {
			u.Window.Canvas().Unfocus()
			u.SetAt(tt.from)
			typedKeys(u, tt.keys...)
			if u.At != tt.want {
				t.Errorf("nothing focused: at %v, want %v", u.At, tt.want)
			}
			for _, v := range []fyne.Focusable{cycleOf(u).Cycle, cycleOf(u).Wheel} {
				u.SetAt(tt.from)
				for _, k := range tt.keys {
					v.TypedKey(&fyne.KeyEvent{Name: k})
				}
				if u.At != tt.want {
					t.Errorf("%T: at %v, want %v", v, u.At, tt.want)
				}
			}
		})
	}
}

func TestMouseWheelMovesTheCrank(t *testing.T) {
	u := window(t)
	for _, v := range []fyne.Scrollable{cycleOf(u).Cycle, cycleOf(u).Wheel} {
		u.SetAt(100)
		v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -25)})
		v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -25)})
		v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 25)})
		if u.At != 101 {
			t.Errorf("%T: two notches down and one up lead to %v, want 101", v, u.At)
		}
	}
}

func TestTypedCrankAngle(t *testing.T) {
	u := window(t)
	for _, tt := range []struct {
		text string
		want timing.Deg
	}{
		{"430", 430}, {"-90", 630}, {"−90", 630}, {"430,5", 430.5}, {" 12.25° ", 12.25}, {"1450", 10}, {"x", 200}, {"", 200},
	} {
		u.SetAt(200)
		retype(u, cycleOf(u).Transport.Entry, tt.text)
		if u.At != 200 {
			t.Errorf("%q moves the crank while it is typed", tt.text)
		}
		cycleOf(u).Transport.Entry.Focusable().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		if u.At != tt.want || cycleOf(u).Transport.Entry.Text() != desk.ShownAngle(tt.want) {
			t.Errorf("%q leads to %v and is shown as %q, want %v", tt.text, u.At, cycleOf(u).Transport.Entry.Text(), tt.want)
		}
	}
}

func TestEntryLeftAloneDoesNotTurnTheCrankBack(t *testing.T) {
	u := window(t)
	retype(u, cycleOf(u).Transport.Entry, "100")
	cycleOf(u).Transport.Entry.Focusable().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	choose(t, u, "Crankshaft", "To the next firing TDC")
	if got := cycleOf(u).Transport.Entry.Text(); got != "120" {
		t.Errorf("the entry, with the keyboard in it, shows %s at 120", got)
	}
	u.Window.Canvas().Unfocus()
	if u.At != 120 {
		t.Errorf("leaving the entry turned the crank to %v", u.At)
	}
	u.SetAt(33.333)
	u.Window.Canvas().Focus(cycleOf(u).Transport.Entry.Focusable())
	u.Window.Canvas().Unfocus()
	if u.At != 33.333 {
		t.Errorf("passing through the entry turned the crank to %v", u.At)
	}
}

func TestButtonsMoveTheCrank(t *testing.T) {
	u := window(t)
	var got []string
	for _, o := range shown(cycleOf(u).Transport.Content) {
		b, ok := o.(*widget.Button)
		if tip, is := o.(*kit.TipButton); is && tip != cycleOf(u).Transport.Run {
			b, ok = &tip.Button, true
		}
		if ok {
			u.SetAt(300)
			b.OnTapped()
			got = append(got, desk.ShownAngle(u.At))
		}
	}
	if want := []string{"240", "290", "299", "301", "310", "360"}; !slices.Equal(got, want) {
		t.Errorf("from 300 they lead to %v, want %v", got, want)
	}
}

func TestSpaceRunsTheCrank(t *testing.T) {
	u := window(t)
	u.SetAt(700)
	typedKeys(u, fyne.KeySpace)
	if !u.Run.On() {
		t.Fatal("it does not run")
	}
	at := u.At
	u.Run.Advance(100 * time.Millisecond)
	if got, want := float64(u.At-at), u.Run.Speed*0.1; math.Abs(got-want) > 1e-9 {
		t.Errorf("in a tenth of a second it turns by %g, want %g", got, want)
	}
	u.Run.Advance(time.Hour) // the program was asleep
	if got := timing.Wrap(u.At-at, 720); got > 12 {
		t.Errorf("after a long pause it has jumped by %v", got)
	}
	for range 10 {
		u.Run.Advance(200 * time.Millisecond)
	}
	if u.At < 0 || u.At >= 300 {
		t.Errorf("past the end of the cycle it stands at %v", u.At)
	}
	typedKeys(u, fyne.KeySpace)
	at = u.At
	u.Run.Advance(100 * time.Millisecond)
	if u.Run.On() || u.At != at {
		t.Error("it does not stop")
	}
	typedKeys(u, fyne.KeySpace, fyne.KeyEscape)
	if u.Run.On() {
		t.Error("Escape does not stop it")
	}
	choose(t, u, "Crankshaft", "Turn or stop")
	choose(t, u, "File", "Open the demo job")
	if u.Run.On() {
		t.Error("it runs on in another job")
	}
}

func TestSpeed(t *testing.T) {
	u := window(t)
	choose(t, u, "Crankshaft", "Speed", "180°/s")
	typedKeys(u, fyne.KeySpace)
	at := u.At
	u.Run.Advance(100 * time.Millisecond)
	if got := u.At - at; math.Abs(float64(got)-18) > 1e-9 {
		t.Errorf("in a tenth of a second it turns by %v, want 18", got)
	}
	if !menuItem(t, u, "Crankshaft", "Speed", "180°/s").Checked || menuItem(t, u, "Crankshaft", "Speed", "30°/s").Checked {
		t.Error("the menu does not mark it")
	}
	if again := testUI(u.App); again.Run.Speed != 180 {
		t.Errorf("at the next start it is %g", again.Run.Speed)
	}
}

func TestReadoutsBesideTheRows(t *testing.T) {
	u := window(t)
	u.SetAt(430)
	var got []string
	for _, o := range shown(cycleOf(u).Cycle) {
		if x, ok := o.(*canvas.Text); ok && strings.Contains(x.Text, ",") {
			got = append(got, x.Text)
		}
	}
	// 1-5-3-6-2-4 fire at 0, 120, 240, 360, 480, 600: hand calculation.
	want := []string{"intake, 290° BTDC", "exhaust, 310° ATDC", "exhaust, 190° ATDC", "power, 70° ATDC", "compression, 50° BTDC", "compression, 170° BTDC"}
	if !slices.Equal(got, want) {
		t.Errorf("at 430 stands %q, want %q", got, want)
	}
	choose(t, u, "View", "Cylinders in number order")
	if !slices.Equal(cycleOf(u).Rows, []int{1, 2, 3, 4, 5, 6}) {
		t.Errorf("in number order the rows are %v", cycleOf(u).Rows)
	}
	got = nil
	for _, o := range shown(cycleOf(u).Cycle) {
		if x, ok := o.(*canvas.Text); ok && strings.Contains(x.Text, ",") {
			got = append(got, x.Text)
		}
	}
	if want := []string{want[0], want[4], want[2], want[5], want[1], want[3]}; !slices.Equal(got, want) {
		t.Errorf("in number order stands %q, want %q", got, want)
	}
}
