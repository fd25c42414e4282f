package app

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
)

func TestOpensOnTheDemoWithAnAnswer(t *testing.T) {
	u := window(t)
	for where, want := range map[string]string{
		u.head.sentence.Text: "Every injection starts 18° after TDC (power stroke): 28° later than commanded.",
		u.head.notes.Text:    "most likely: dowel mirrored",
		u.Window.Title():     "Gravel barge Tern",
		words(u.Root):        "18° ATDC",
	} {
		if !strings.Contains(where, want) {
			t.Errorf("the window says %q, want %q in it", where, want)
		}
	}
	if s := words(u.Root); !strings.Contains(s, u.head.sentence.Text) || !strings.Contains(s, "Firing order") {
		t.Error("the answer and the form are not on the screen")
	}
	if len(rasters(u.Root)) != 2 {
		t.Error("the two figures are not on the screen")
	}
}

// The smallest screen the window is made for is 1024 by 640 with its menu bar,
// which is a line of text and its padding high.
func TestFitsTheSmallestScreen(t *testing.T) {
	u := window(t)
	const menuBar = 36
	fits := func(when string) { // without scrolling the page
		t.Helper()
		head, page := u.head.content.MinSize(), cycleOf(u).Main.MinSize()
		if page.Width > 1024 || head.Height+page.Height > 640-menuBar {
			t.Errorf("%s the page needs %v below a head of %v, more than 1024 by %d", when, page, head, 640-menuBar)
		}
	}
	fits("at ordinary size")
	u.Window.Resize(fyne.NewSize(1024, 640-menuBar))
	fill(t, u, "engine.compression_ratio", "0.5") // with a fault and its message too
	fits("with a fault")
}

// At the largest text every page still fits the smallest screen: what has no room
// is scrolled to and never made smaller than it needs.
func TestLargestTextOnTheSmallestScreen(t *testing.T) {
	u := window(t)
	u.InTurn = true
	u.Window.Resize(fyne.NewSize(1024, 604))
	choose(t, u, "View", "Text size", "200 %")
	for i, p := range u.pages.kinds {
		u.pages.show(i)
		if m := u.Root.MinSize(); m.Width > 1024 || m.Height > 604 {
			t.Errorf("%s: the window needs %v", p.Title, m)
		}
		if s, ok := u.pages.now().Body().(*container.Scroll); ok {
			for range 3 { // the driver for tests lays nothing out by itself, and words wrap one pass late
				s.Refresh()
			}
			if got, want := s.Content.Size(), s.Content.MinSize(); got.Height < want.Height {
				t.Errorf("%s: there is %v of the %v it needs", p.Title, got, want)
			}
		}
	}
}

func TestTextSize(t *testing.T) {
	u := window(t)
	before := u.Root.MinSize()
	was, at := u.Session.Job(), timing.Deg(123)
	u.SetAt(at)
	choose(t, u, "View", "Text size", "200 %")
	if m := u.Root.MinSize(); m.Height < before.Height*1.3 {
		t.Errorf("at double size the window needs %v, at ordinary size %v", m, before)
	}
	if w, wanted := cycleOf(u).Transport.Entry.MinSize().Width, fyne.MeasureText("188.8", 2*kit.BaseText, fyne.TextStyle{}).Width; cycleOf(u).Transport.Entry.Size().Width < max(w, wanted) {
		t.Errorf("the crank's angle has %g of the %g it needs", cycleOf(u).Transport.Entry.Size().Width, wanted)
	}
	if !menuItem(t, u, "View", "Text size", "200 %").Checked || menuItem(t, u, "View", "Text size", "100 %").Checked {
		t.Error("the menu does not mark the size")
	}
	is(t, u, was)
	if u.At != at {
		t.Errorf("the crank stands at %v", u.At)
	}
	if again := testUI(u.App); again.Look.Scale != 2 {
		t.Errorf("at the next start the size is %g", again.Look.Scale)
	}
	choose(t, u, "View", "Larger text") // there is none
	choose(t, u, "View", "Smaller text")
	if u.Look.Scale != 1.5 {
		t.Errorf("smaller than 2 is %g", u.Look.Scale)
	}
	choose(t, u, "View", "Text size", "100 %")
	if m := u.Root.MinSize(); m != before {
		t.Errorf("back at ordinary size the window needs %v, before %v", m, before)
	}
}

func TestTheme(t *testing.T) {
	u := window(t)
	choose(t, u, "View", "Theme", "light")
	light := painted(cycleOf(u).Cycle) + painted(cycleOf(u).Wheel)
	choose(t, u, "View", "Theme", "dark")
	if painted(cycleOf(u).Cycle)+painted(cycleOf(u).Wheel) == light {
		t.Error("the figures are as light as before")
	}
	if !menuItem(t, u, "View", "Theme", "dark").Checked || menuItem(t, u, "View", "Theme", "light").Checked {
		t.Error("the menu does not mark the theme")
	}
	choose(t, u, "View", "Theme", "light")
	if painted(cycleOf(u).Cycle)+painted(cycleOf(u).Wheel) != light {
		t.Error("light again, the figures differ")
	}
	if again := testUI(u.App); again.Look.Choice != "light" {
		t.Errorf("at the next start it is %q", again.Look.Choice)
	}
}

func TestMenuMarksWhatIsChosen(t *testing.T) {
	u := window(t)
	checked := func(names ...string) bool { return menuItem(t, u, names...).Checked }
	if !checked("View", "Cylinders in firing order") || checked("View", "Cylinders in number order") {
		t.Error("the order of the rows is not marked")
	}
	choose(t, u, "View", "Cylinders in number order")
	if checked("View", "Cylinders in firing order") || !checked("View", "Cylinders in number order") {
		t.Error("the other order of the rows is not marked")
	}
	before := painted(cycleOf(u).Wheel)
	choose(t, u, "View", "Sensor wheel seen from the flywheel end")
	if checked("View", "Sensor wheel seen from the nose") || !checked("View", "Sensor wheel seen from the flywheel end") {
		t.Error("the end is not marked")
	}
	if painted(cycleOf(u).Wheel) == before {
		t.Error("the wheel is seen from the same end as before")
	}
	choose(t, u, "View", "Job form")
	if checked("View", "Job form") || slices.Contains(shown(u.Root), fyne.CanvasObject(cycleOf(u).Form.Content)) {
		t.Error("the form is still there")
	}
	again := testUI(u.App)
	if !again.ByNumber || again.From != timing.Flywheel || cycleOf(again).FormShown() {
		t.Error("the choices are not kept for the next start")
	}
	choose(t, u, "View", "Job form")
	if !slices.Contains(shown(u.Root), fyne.CanvasObject(cycleOf(u).Form.Content)) {
		t.Error("the form does not come back")
	}
	choose(t, u, "View", "Full screen")
	if !u.Window.FullScreen() || !checked("View", "Full screen") {
		t.Error("the window is not on the full screen")
	}
	typedKeys(u, fyne.KeyEscape)
	if u.Window.FullScreen() || checked("View", "Full screen") {
		t.Error("Escape does not leave the full screen")
	}
}

func TestUndoInTheMenu(t *testing.T) {
	u := window(t)
	undo, redo := menuItem(t, u, "Edit", "Undo"), menuItem(t, u, "Edit", "Redo")
	if !undo.Disabled || !redo.Disabled {
		t.Error("with nothing done there is something to undo")
	}
	fill(t, u, "title", "x")
	if undo.Disabled || !redo.Disabled {
		t.Error("after an edit there is nothing to undo")
	}
	undo.Action()
	if !undo.Disabled || redo.Disabled {
		t.Error("after undoing there is nothing to redo")
	}
}

func TestFaultOpensItsGroup(t *testing.T) {
	u := window(t)
	cycleOf(u).Form.Groups.ShowAll(false)
	u.Show("dowel.measured.chord_mm")
	field := inputOf(t, cycleOf(u).Form, "dowel.measured.chord_mm").Field
	if u.Window.Canvas().Focused() != field.Focusable() || !slices.Contains(shown(u.Root), fyne.CanvasObject(field)) {
		t.Error("the field cannot be seen, or has not the keyboard")
	}
}

func TestHelp(t *testing.T) {
	u := window(t)
	for item, want := range map[string]string{"Keys": "to the next firing TDC", "Cautions": "pierces the skin", "About": "positive in the direction of rotation"} {
		choose(t, u, "Help", item)
		if item != "Keys" && !strings.Contains(said(u), want) {
			t.Errorf("%s says %q", item, said(u))
		}
		press(t, u, "Close")
		if said(u) != "" {
			t.Errorf("%s does not close", item)
		}
	}
}

func TestTwoStroke(t *testing.T) {
	u := on(t, "[engine]\nstrokes = 2\nfiring_order = [1, 3, 2]\n[injection]\nstart_btdc_deg = 8\n")
	u.SetAt(430)
	if u.At != 70 {
		t.Errorf("430 in a cycle of 360 is %v", u.At)
	}
	fill(t, u, "engine.firing_order", "1-2")
	if got := cycleOf(u).Results.Table.Cells[2][3].Text; got != "172°" {
		t.Errorf("cylinder 2 of two is injected at %s, want 172°", got)
	}
}

func TestSixteenUnevenCylinders(t *testing.T) {
	u := window(t)
	u.openFile("../testdata/jobs/v16-uneven.toml")
	if got := len(cycleOf(u).Rows); got != 16 {
		t.Fatalf("the figure has %d rows; the window says %q", got, said(u))
	}
	if len(cycleOf(u).Results.Table.Cells) != 17 {
		t.Errorf("the table has %d rows", len(cycleOf(u).Results.Table.Cells))
	}
}

// What had the keyboard on a page does not keep it when another is shown.
func TestHiddenPageTakesNoKeys(t *testing.T) {
	u := window(t)
	fill(t, u, "title", "Tug Wren")
	u.Window.Canvas().Focus(inputOf(t, cycleOf(u).Form, "title").Field.Focusable())
	u.pages.show(len(u.pages.kinds) - 1)
	u.pages.show(1)
	if f := u.Window.Canvas().Focused(); f != nil {
		t.Errorf("%T of a hidden page has the keyboard", f)
	}
}
