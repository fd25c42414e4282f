package widgets

import (
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
)

// fieldIn returns a field in a window, what it was told, and how often it was
// left.
func fieldIn(t *testing.T, unit string, lines int) (f *Field, w fyne.Window, changes *[]string, done *int) {
	test.NewTempApp(t)
	f, changes, done = NewField(unit, lines), new([]string), new(int)
	f.OnChanged = func(s string) { *changes = append(*changes, s) }
	f.OnDone = func() { *done++ }
	w = test.NewTempWindow(t, f)
	w.Resize(fyne.NewSize(300, 120))
	return f, w, changes, done
}

func TestFieldTellsWhatIsTyped(t *testing.T) {
	f, w, changes, done := fieldIn(t, "mm", 1)
	w.Canvas().Focus(f.Focusable())
	test.Type(f.Focusable(), "12")
	if !slices.Equal(*changes, []string{"1", "12"}) || f.Text() != "12" || !f.Focused() {
		t.Errorf("told of %q, the field holds %q", *changes, f.Text())
	}
	f.SetText("99")
	if len(*changes) != 2 || f.Text() != "99" {
		t.Errorf("set from outside, it tells of %q", *changes)
	}
	f.Focusable().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if *done != 1 {
		t.Error("Enter does not end an input")
	}
	w.Canvas().Unfocus()
	if *done != 2 || f.Focused() {
		t.Error("leaving does not end an input")
	}
}

func TestFieldOfSeveralLines(t *testing.T) {
	f, w, changes, done := fieldIn(t, "", 3)
	one := NewField("", 1)
	if f.MinSize().Height < 2*one.MinSize().Height {
		t.Errorf("three lines take %g, one %g", f.MinSize().Height, one.MinSize().Height)
	}
	w.Canvas().Focus(f.Focusable())
	test.Type(f.Focusable(), "a")
	f.Focusable().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if *done != 0 || !slices.Equal(*changes, []string{"a", "a\n"}) {
		t.Errorf("Enter gives %q, input ended %d times", *changes, *done)
	}
}

func TestTabLeavesAField(t *testing.T) {
	for _, lines := range []int{1, 3} {
		test.NewTempApp(t)
		first, second := NewField("", lines), NewField("", lines)
		w := test.NewTempWindow(t, container.NewVBox(first, second))
		w.Canvas().Focus(first.Focusable())
		if e := first.Focusable().(fyne.Tabbable); e.AcceptsTab() {
			t.Errorf("a field of %d lines keeps the Tab key to itself", lines)
		}
		w.Canvas().FocusNext()
		if !second.Focused() {
			t.Errorf("from a field of %d lines the keyboard does not go on", lines)
		}
	}
}

func TestFaultMakesRoomForItself(t *testing.T) {
	f, _, _, _ := fieldIn(t, "mm", 1)
	before := f.MinSize().Height
	f.SetFault("“12x” is not a number")
	if f.Fault() != "“12x” is not a number" || f.MinSize().Height <= before {
		t.Errorf("with the fault %q the field is %g high, before %g", f.Fault(), f.MinSize().Height, before)
	}
	var seen []string
	for _, o := range test.LaidOutObjects(f) {
		if x, ok := o.(*canvas.Text); ok && x.Visible() {
			seen = append(seen, x.Text)
		}
	}
	if !strings.Contains(strings.Join(seen, "|"), "is not a number") {
		t.Errorf("on the screen stands %q", seen)
	}
	f.SetFault("")
	if f.MinSize().Height != before {
		t.Error("without a fault the room stays")
	}
}

func TestDisabledField(t *testing.T) {
	f, _, changes, _ := fieldIn(t, "mm", 1)
	f.SetPlaceHolder("how long")
	f.Disable()
	test.Type(f.Focusable(), "1")
	if f.Text() != "" || len(*changes) != 0 {
		t.Error("a disabled field can be typed into")
	}
	f.Enable()
	test.Type(f.Focusable(), "1")
	if f.Text() != "1" {
		t.Error("enabled again it cannot")
	}
}

func TestMouseWheelGoesThroughAField(t *testing.T) {
	for lines, want := range map[int]float32{1: -25, 3: 0} { // prose scrolls itself
		f, w, _, _ := fieldIn(t, "mm", lines)
		var got float32
		f.OnWheel = func(e *fyne.ScrollEvent) { got += e.Scrolled.DY }
		test.Scroll(w.Canvas(), fyne.NewPos(40, 20), 0, -25)
		if got != want {
			t.Errorf("over a field of %d lines the wheel passes on %g, want %g", lines, got, want)
		}
	}
}

func TestFieldTellsThatTheKeyboardCame(t *testing.T) {
	f, w, _, _ := fieldIn(t, "", 1)
	came := 0
	f.OnFocus = func() { came++ }
	w.Canvas().Focus(f.Focusable())
	if came != 1 {
		t.Errorf("told %d times", came)
	}
}

func TestFieldsObjects(t *testing.T) {
	f, w, _, _ := fieldIn(t, "mm", 1)
	test.ApplyTheme(t, test.Theme())
	f.SetText("12x")
	f.SetFault("“12x” is not a number")
	w.Resize(fyne.NewSize(301, 120))
	test.AssertRendersToMarkup(t, "field.xml", w.Canvas())
}

func TestFieldTellsWhatIsMerelyWanted(t *testing.T) {
	f, _, _, _ := fieldIn(t, "mm", 1)
	f.SetFault("give the diameter")
	mistake := f.fault.Importance
	f.SetWanted(true)
	if f.fault.Importance == mistake || !f.fault.Visible() || f.Fault() != "give the diameter" {
		t.Error("what is yet to be typed is shown like a mistake")
	}
	f.SetWanted(false)
	if f.fault.Importance != mistake {
		t.Error("a mistake is shown like what is yet to be typed")
	}
}

// Of a text that is too long to be edited the beginning is shown, to the last whole
// character; the field has all of it and takes a shorter one again.
func TestFieldShowsTheBeginningOfALongText(t *testing.T) {
	test.NewTempApp(t)
	f := NewField("", 3)
	f.SetCutWords("too long", "not all")
	long := strings.Repeat("ü", mostShown)
	f.OnChanged = func(string) { t.Error("the user changed nothing") }
	f.SetText(long)
	if f.Text() != long || f.entry.Text != strings.Repeat("ü", mostShown/2)+"…" || !f.entry.Disabled() || f.cut.Hidden {
		t.Errorf("%d bytes, shown %d, %t, %t", len(f.Text()), len(f.entry.Text), f.entry.Disabled(), f.cut.Hidden)
	}
	f.Disable()
	f.SetText("short")
	if f.Text() != "short" || !f.entry.Disabled() || !f.cut.Hidden {
		t.Errorf("%q, %t, %t", f.Text(), f.entry.Disabled(), f.cut.Hidden)
	}
	f.Enable()
	if f.entry.Disabled() {
		t.Error("it cannot be edited again")
	}
}

// Of a text without end that is pasted the beginning is taken, in no time, and that is
// said until the next change.
func TestNoMoreIsPastedThanCanBeEdited(t *testing.T) {
	for _, lines := range []int{1, 4} {
		f, w, changes, _ := fieldIn(t, "", lines)
		f.SetCutWords("too long", "not all")
		w.Canvas().Focus(f.Focusable())
		test.Type(f.Focusable(), "ab")
		e := f.Focusable().(*fieldEntry)
		paste := func(text string) { e.TypedShortcut(&fyne.ShortcutPaste{Clipboard: held(text)}) }
		paste("cd")
		if f.Text() != "abcd" || !f.cut.Hidden {
			t.Errorf("%d lines: it holds %q", lines, f.Text())
		}
		began := time.Now()
		paste(strings.Repeat("ü", 200_000))
		if took := time.Since(began); took > 5*time.Second { // the toolkit alone takes most of a minute
			t.Errorf("%d lines: pasting took %v", lines, took)
		}
		want := "abcd" + strings.Repeat("ü", (mostShown-4)/2)
		if f.Text() != want || e.Disabled() || f.cut.Hidden || f.cut.Text != "not all" || (*changes)[len(*changes)-1] != want {
			t.Errorf("%d lines: %d bytes, %q", lines, len(f.Text()), f.cut.Text)
		}
		e.TypedShortcut(&fyne.ShortcutSelectAll{})
		paste(strings.Repeat("x", mostShown))
		if f.Text() != strings.Repeat("x", mostShown) || !f.cut.Hidden {
			t.Errorf("%d lines: in place of all, %d bytes, %q", lines, len(f.Text()), f.cut.Text)
		}
		paste("y")
		if len(f.Text()) != mostShown || f.cut.Hidden {
			t.Errorf("%d lines: into a full field, %d bytes", lines, len(f.Text()))
		}
	}
}
