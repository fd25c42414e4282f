package desktest

import (
	"hash/fnv"
	"image"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/widgets"
)

// Shown are the objects on the screen below one, in the order of painting: what lies in
// something hidden is not.
func Shown(o fyne.CanvasObject) (list []fyne.CanvasObject) {
	test.LaidOutObjects(o)
	return shown(nil, o)
}

func shown(list []fyne.CanvasObject, o fyne.CanvasObject) []fyne.CanvasObject {
	if !o.Visible() {
		return list
	}
	list = append(list, o)
	var inside []fyne.CanvasObject
	switch o := o.(type) {
	case fyne.Widget:
		inside = test.WidgetRenderer(o).Objects()
	case *fyne.Container:
		inside = o.Objects
	}
	for _, o := range inside {
		list = shown(list, o)
	}
	return list
}

// Words are the texts and buttons on the screen below an object.
func Words(o fyne.CanvasObject) string {
	var list []string
	for _, o := range Shown(o) {
		switch o := o.(type) {
		case *widget.Label:
			list = append(list, o.Text)
		case *widget.Button:
			list = append(list, "["+o.Text+"]")
		case *kit.DialogButton:
			list = append(list, "["+o.Text+"]")
		}
	}
	return strings.Join(list, "\n")
}

// Texts are the texts that lie over a figure.
func Texts(o fyne.CanvasObject) (list []string) {
	for _, o := range Shown(o) {
		if text, ok := o.(*canvas.Text); ok {
			list = append(list, text.Text)
		}
	}
	return list
}

// Rasters are the pictures below an object.
func Rasters(o fyne.CanvasObject) (list []*canvas.Raster) {
	for _, o := range test.LaidOutObjects(o) {
		if r, ok := o.(*canvas.Raster); ok {
			list = append(list, r)
		}
	}
	return list
}

// Painted is what is on the screen of a figure, as a short number.
func Painted(o fyne.CanvasObject) string {
	h := fnv.New64a()
	for _, o := range Shown(o) {
		switch o := o.(type) {
		case *canvas.Raster:
			s := o.Size()
			h.Write(o.Generator(int(s.Width), int(s.Height)).(*image.RGBA).Pix)
		case *canvas.Text:
			h.Write([]byte(o.Text))
		}
	}
	return string(h.Sum(nil))
}

// Contains fails the test where a text lacks something that is wanted in it.
func Contains(t testing.TB, what, got string, want ...string) {
	t.Helper()
	for _, w := range want {
		if !strings.Contains(got, w) {
			t.Errorf("%s: %q lacks %q", what, got, w)
		}
	}
}

// Said is every text of the question or message on top of the window, "" when there is
// none.
func (b *Bench) Said() string {
	if top := b.Window.Canvas().Overlays().Top(); top != nil {
		return Words(top)
	}
	return ""
}

// Press presses a button of what is on top of the window.
func (b *Bench) Press(t testing.TB, name string) {
	t.Helper()
	if top := b.Window.Canvas().Overlays().Top(); top != nil {
		for _, o := range Shown(top) {
			w, ok := o.(*widget.Button)
			if d, is := o.(*kit.DialogButton); is {
				w, ok = &d.Button, true
			}
			if ok && w.Text == name && !w.Disabled() {
				test.Tap(w)
				return
			}
		}
	}
	t.Fatalf("there is no button %q; the window says %q", name, b.Said())
}

// Entries are the fields of what is on top of the window.
func (b *Bench) Entries(t testing.TB) []*kit.DialogEntry {
	t.Helper()
	top := b.Window.Canvas().Overlays().Top()
	if top == nil {
		t.Fatal("nothing is asked")
	}
	var list []*kit.DialogEntry
	for _, o := range Shown(top) {
		if e, ok := o.(*kit.DialogEntry); ok {
			list = append(list, e)
		}
	}
	return list
}

// TapButton taps the button of a name below an object.
func TapButton(t testing.TB, o fyne.CanvasObject, name string) {
	t.Helper()
	for _, o := range Shown(o) {
		var w *widget.Button
		switch o := o.(type) {
		case *widget.Button:
			w = o
		case *kit.DialogButton:
			w = &o.Button
		case *kit.KeyButton:
			w = &o.Button
		}
		if w != nil && w.Text == name && !w.Disabled() {
			test.Tap(w)
			return
		}
	}
	t.Fatalf("there is no button %q that can be pressed", name)
}

// Retype types over what stands in a field and stays there.
func Retype(c fyne.Canvas, field *widgets.Field, text string) {
	to := field.Focusable()
	c.Focus(to)
	to.(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutSelectAll{})
	if text == "" {
		to.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	}
	for _, r := range text {
		to.TypedRune(r)
	}
}

// Keys sends keys to the window while nothing else wants them.
func (b *Bench) Keys(names ...fyne.KeyName) {
	for _, n := range names {
		b.OtherKey(&fyne.KeyEvent{Name: n})
	}
}

// Is fails the test when the open job differs from what it should be.
func (b *Bench) Is(t testing.TB, want job.Job) {
	t.Helper()
	if got := b.Session.Job(); !got.Equal(want) {
		t.Errorf("the job is %+v, want %+v", got, want)
	}
}

// DragTo drags a slider's knob to where a value is, in three moves.
func DragTo(v *kit.ValueSlider, to float64) {
	s := v.Slider
	at := func(x float32) float64 {
		e := &fyne.DragEvent{}
		e.Position = fyne.NewPos(x, 5)
		s.Dragged(e)
		return s.Value
	}
	x0, x1 := s.Size().Width/4, s.Size().Width*3/4
	v0, v1 := at(x0), at(x1)
	at(x0 + float32((to-v0)/(v1-v0))*(x1-x0))
}

// Without is the demo job without some keys.
func Without(keys ...string) string {
	var out []string
	for _, line := range strings.Split(string(assets.DemoJob), "\n") {
		if key, _, _ := strings.Cut(line, " "); !slices.Contains(keys, key) {
			out = append(out, line)
		}
	}
	return strings.Join(out, "\n")
}

// KeyOn finds a key that stands on the screen by what is on it.
func KeyOn(t testing.TB, in fyne.CanvasObject, name string) *widgets.Key {
	t.Helper()
	for _, o := range Shown(in) {
		if k, ok := o.(*widgets.Key); ok && k.AccessibilityLabel() == name {
			return k
		}
	}
	t.Fatalf("there is no key %q", name)
	return nil
}
