package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/app/page/cycle"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/widgets"
)

// The tests of this package work the window as a user does, on Fyne's driver
// without a screen. They share its one app: none of them runs in parallel.

// What tests of pages use too, under short names.
var (
	shown    = desktest.Shown
	words    = desktest.Words
	painted  = desktest.Painted
	contains = desktest.Contains
	without  = desktest.Without
	file     = desktest.File
	read     = desktest.Read

	photoFile   = desktest.PhotoFile
	marksOf     = desktest.MarksOf
	points      = desktest.Points
	copyFile    = desktest.CopyFile
	photoFolder = desktest.PhotoFolder
)

// window returns the program's window on the demo job, of a usual size. It does
// all its work in turn: what one test left running would touch the next one's
// window.
func window(t testing.TB) *ui {
	u := testUI(test.NewTempApp(t))
	t.Cleanup(desktest.ForgetWidgets)
	u.InTurn = true
	u.View = func(string) error { return nil } // nothing is to come up on the screen of whoever tests
	u.Window.SetPadded(false)
	u.Window.Resize(fyne.NewSize(1280, 800))
	return u
}

// on returns the window with a job file open.
func on(t testing.TB, text string) *ui {
	u := window(t)
	u.openFile(file(t, "job.toml", text))
	if u.Session.Path == "" {
		t.Fatalf("the job did not open: %q", said(u))
	}
	return u
}

// input returns the form's field of a key.
func inputOf(t testing.TB, f *form.Form, key string) *form.FieldInput {
	t.Helper()
	for _, in := range f.Active() {
		if i, ok := in.(*form.FieldInput); ok && i.Key == key {
			return i
		}
	}
	t.Fatalf("the form has no field for %s now", key)
	return nil
}

// fill types into a field, over what stands there, and goes on to the next.
func fill(t testing.TB, u *ui, key, text string) *widgets.Field {
	t.Helper()
	field := inputOf(t, cycleOf(u).Form, key).Field
	retype(u, field, text)
	u.Window.Canvas().Unfocus()
	return field
}

// paste puts text into a field at once, where fill does it letter by letter and
// the job follows.
func paste(t testing.TB, u *ui, key, text string) *widgets.Field {
	t.Helper()
	field := inputOf(t, cycleOf(u).Form, key).Field
	clip := test.NewClipboard()
	clip.SetContent(text)
	to := field.Focusable()
	u.Window.Canvas().Focus(to)
	to.(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutSelectAll{})
	if text == "" {
		to.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	} else {
		to.(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutPaste{Clipboard: clip})
	}
	u.Window.Canvas().Unfocus()
	return field
}

// framed is the window, the desk or the frame.
type framed interface{ Key(*fyne.KeyEvent) }

// frameOf is the frame of one of them.
func frameOf(in framed) *kit.Frame {
	switch in := in.(type) {
	case *ui:
		return in.Frame
	case *desk.Desk:
		return in.Frame
	}
	return in.(*kit.Frame)
}

// retype types over what stands in a field and stays there.
func retype(in framed, field *widgets.Field, text string) {
	to := field.Focusable()
	frameOf(in).Window.Canvas().Focus(to)
	to.(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutSelectAll{})
	if text == "" {
		to.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	}
	for _, r := range text {
		to.TypedRune(r)
	}
}

// pick chooses from one of the form's lists of words.
func pick(t testing.TB, u *ui, key, name string) {
	t.Helper()
	for _, in := range cycleOf(u).Form.Inputs {
		if i, ok := in.(*form.ChoiceInput); ok && i.Key == key {
			i.Sel.SetSelected(name)
			return
		}
	}
	t.Fatalf("the form has no choice for %s", key)
}

// editor returns the form of a reading.
func editor(t testing.TB, u *ui, section, which string) *form.ReadingEditor {
	t.Helper()
	for _, e := range cycleOf(u).Form.Editors {
		if e.Section == section && e.Which == which {
			return e
		}
	}
	t.Fatalf("the form has no reading %s.%s", section, which)
	return nil
}

// measureBy chooses a method, as the job file calls it.
func measureBy(t testing.TB, e *form.ReadingEditor, method string) {
	t.Helper()
	i := job.MethodOf(&job.Reading{Method: method})
	if i < 0 {
		t.Fatalf("the form does not offer %q", method)
	}
	e.Method.SetSelectedIndex(i)
}

// typedKeys sends keys to the window while nothing else wants them.
func typedKeys(u *ui, names ...fyne.KeyName) {
	for _, n := range names {
		u.Window.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: n})
	}
}

// choose carries out a menu item, given by its place in the menu bar.
func choose(t testing.TB, u *ui, names ...string) {
	t.Helper()
	m := menuItem(t, u, names...)
	if m.Disabled {
		t.Fatalf("%v is greyed out", names)
	}
	m.Action()
}

func menuItem(t testing.TB, u *ui, names ...string) *fyne.MenuItem {
	t.Helper()
	var items []*fyne.MenuItem
	for _, m := range u.menu.main.Items {
		if m.Label == names[0] {
			items = m.Items
		}
	}
	for _, name := range names[1 : len(names)-1] {
		for _, m := range items {
			if m.Label == name {
				items = m.ChildMenu.Items
				break
			}
		}
	}
	for _, m := range items {
		if m.Label == names[len(names)-1] {
			return m
		}
	}
	t.Fatalf("the menu has no %v", names)
	return nil
}

// said is every text of the question or message on top of the window, "" when
// there is none.
func said(u *ui) string {
	top := u.Window.Canvas().Overlays().Top()
	if top == nil {
		return ""
	}
	return words(top)
}

// press presses a button of what is on top of the window.
func press(t testing.TB, u *ui, name string) {
	t.Helper()
	if top := u.Window.Canvas().Overlays().Top(); top != nil {
		for _, o := range shown(top) {
			b, ok := o.(*widget.Button)
			if d, is := o.(*kit.DialogButton); is {
				b, ok = &d.Button, true
			}
			if ok && b.Text == name && !b.Disabled() {
				test.Tap(b)
				return
			}
		}
	}
	t.Fatalf("there is no button %q; the window says %q", name, said(u))
}

// entries are the fields of what is on top of the window.
func entries(t testing.TB, u *ui) []*kit.DialogEntry {
	t.Helper()
	top := u.Window.Canvas().Overlays().Top()
	if top == nil {
		t.Fatal("nothing is asked")
	}
	var list []*kit.DialogEntry
	for _, o := range shown(top) {
		if e, ok := o.(*kit.DialogEntry); ok {
			list = append(list, e)
		}
	}
	return list
}

// answers is all the window says of the job: sentence, tables, the
// figures as they are painted.
func answers(u *ui) string {
	p := cycleOf(u)
	list := []string{u.head.sentence.Text, u.head.notes.Text, p.Dowel.Words.Text, p.Transport.Sensor.Text}
	for _, row := range p.Results.Table.Cells {
		for _, c := range row {
			list = append(list, c.Text)
		}
	}
	list = append(list, p.Results.Steps.Text, p.Results.Notes.Text)
	return strings.Join(append(list, painted(p.Cycle), painted(p.Wheel)), "\n")
}

// is fails the test when the open job differs from what it should be.
func is(t testing.TB, u *ui, want job.Job) {
	t.Helper()
	if got := u.Session.Job(); !got.Equal(want) {
		t.Errorf("the job is %+v, want %+v", got, want)
	}
}

// pageOf is a page of the window's, built where it was not yet.
func pageOf[P desk.Page](u *ui, name string) P { return u.pages.at(u.pages.place(name)).(P) }

func cycleOf(u *ui) *cycle.Page { return pageOf[*cycle.Page](u, "cycle") }

// onPage presses a button of the page that is shown.
func onPage(t testing.TB, u *ui, name string) {
	t.Helper()
	desktest.TapButton(t, u.pages.now().Body(), name)
}

// testUI builds the window with the choices that the test's app keeps.
func testUI(a fyne.App) *ui {
	u := newUI(a, a.Preferences(), "")
	u.InTurn = true
	return u
}

// startRecovery does at once what the program does on another goroutine.
func (u *ui) startRecovery(folder string) []*desk.Leftover {
	r, left, err := desk.StartRecovery(u.Files, folder)
	u.KeepIn(r, err)
	return left
}
