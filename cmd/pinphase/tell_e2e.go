//go:build e2e

package main

import (
	"encoding/json"
	"fmt"
	"image"
	"net"
	"os"
	"reflect"
	"strconv"
	"strings"
	"sync"
	"time"
	"unsafe"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// The program that the end-to-end tests drive is built with the tag e2e and then
// tells, when asked, what it shows and where: a test finds a button by its name,
// as a user does, at any size of window, and works it with the real mouse and
// keys. Nothing of this is in the program as released.

// tellAt names the socket on which the program tells: whoever connects gets one
// list of [shown] as JSON. Unset, nothing is told.
const tellAt = "PINPHASE_TELL"

// shown is what one window shows.
type shown struct {
	Title   string
	Size    image.Point // pixels
	Pointer image.Point // pixels, where the window last saw it
	Things  []thing     // what can be reached: of the topmost dialog or menu, or else of the page
}

// thing is something on the screen, in the order of painting.
type thing struct {
	Kind     string          // its type, without package
	Says     string          // its words, or what is said of it to those who cannot see it
	Value    string          // what is typed, chosen or set
	Place    image.Rectangle // pixels of the window, with what is scrolled out of sight
	Room     image.Rectangle // the part of the window in which it can be seen
	Focused  bool            // has the keyboard
	Wants    bool            // can be given the keyboard
	Disabled bool
	Chosen   bool // stands out, as the button of the page shown does
}

// readFyneApp is what the toolkit does when it is asked what program it is in before
// the program has told it: unless it was built for release, it reads the FyneApp.toml
// that lies where the program is started.
//
//go:linkname readFyneApp fyne.io/fyne/v2/app.checkLocalMetadata
func readFyneApp()

func init() {
	readFyneApp() // as a library might that is initialised first
	path := os.Getenv(tellAt)
	if path == "" {
		return
	}
	l, err := net.Listen("unix", path)
	if err != nil {
		fmt.Fprintln(os.Stderr, "pinphase:", err)
		os.Exit(1)
	}
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			frame()
			watchOnce.Do(func() { go watchStalls() })
			var list []shown
			fyne.DoAndWait(func() { list = tell() })
			if err := json.NewEncoder(c).Encode(list); err != nil {
				fmt.Fprintln(os.Stderr, "pinphase: telling:", err)
			}
			c.Close()
		}
	}()
}

// frame waits until the program has taken in what mouse and keys had done. It asks
// for them once a frame, before animations have their turn.
func frame() {
	past := make(chan struct{})
	fyne.Do(func() {
		var once sync.Once
		var a *fyne.Animation
		a = fyne.NewAnimation(time.Hour, func(float32) {
			once.Do(func() { close(past) })
			a.Stop()
		})
		a.Start()
	})
	<-past
}

// tell looks at all windows.
func tell() []shown {
	var list []shown
	for _, w := range fyne.CurrentApp().Driver().AllWindows() {
		c := w.Canvas()
		s := shown{Title: w.Title(), Size: pixels(c, fyne.NewPos(c.Size().Width, c.Size().Height)), Pointer: pixels(c, pointerOf(w))}
		if top := c.Overlays().Top(); top != nil {
			s.look(c, top)
		} else {
			s.look(c, c.Content())
			s.look(c, menuOf(c))
		}
		list = append(list, s)
	}
	return list
}

// look adds what an object and all below it show.
func (s *shown) look(c fyne.Canvas, root fyne.CanvasObject) {
	whole := image.Rectangle{Max: s.Size}
	walkVisible(root, func(o fyne.CanvasObject, pos, clipPos fyne.Position, clip fyne.Size) bool {
		if t, ok := thingOf(o); ok {
			t.Place = image.Rectangle{pixels(c, pos), pixels(c, pos.Add(o.Size()))}
			t.Room = whole
			if clip.Width < 1e6 { // without a clip it is as large as can be
				t.Room = whole.Intersect(image.Rectangle{pixels(c, clipPos), pixels(c, clipPos.Add(clip))})
			}
			f, wants := o.(fyne.Focusable)
			t.Wants = wants && !t.Disabled
			t.Focused = t.Focused || wants && c.Focused() == f
			s.Things = append(s.Things, t)
		}
		return false
	}, nil)
}

func pixels(c fyne.Canvas, p fyne.Position) image.Point {
	x, y := c.PixelCoordinateForPosition(p)
	return image.Pt(x, y)
}

// thingOf describes an object that says something or can be worked; containers
// and mere decoration do not.
func thingOf(o fyne.CanvasObject) (thing, bool) {
	w, ok := o.(fyne.Widget)
	if !ok {
		return thing{}, false
	}
	t := thing{Kind: reflect.TypeOf(w).Elem().Name()}
	field := func(name string) (v reflect.Value) {
		if e := reflect.ValueOf(w).Elem(); e.Kind() == reflect.Struct {
			v = e.FieldByName(name)
		}
		return v
	}
	if d, ok := w.(fyne.Disableable); ok {
		t.Disabled = d.Disabled()
	}
	switch w := w.(type) {
	case *widget.RichText, *widget.Separator, *widget.Icon:
		return thing{}, false
	default:
		if v := field("Value"); v.IsValid() && v.CanFloat() { // a slider
			t.Value = strconv.FormatFloat(v.Float(), 'g', -1, 64)
		}
		if v := field("Selected"); v.IsValid() && v.Kind() == reflect.String {
			t.Value = v.String()
		}
		for _, name := range []string{"Text", "text"} { // a tab of the toolkit has no name for it
			if v := field(name); v.IsValid() && v.Kind() == reflect.String && t.Says == "" {
				t.Says = v.String()
			}
		}
		if v := field("Checked"); v.IsValid() && v.Kind() == reflect.Bool { // a box to be ticked
			t.Value, t.Chosen = strconv.FormatBool(v.Bool()), v.Bool()
		}
		if v := field("PlaceHolder"); v.IsValid() && field("OnSubmitted").IsValid() { // an entry
			t.Says, t.Value = v.String(), t.Says
		}
		if v := field("Item"); v.IsValid() {
			m := v.Interface().(*fyne.MenuItem)
			t.Says, t.Disabled, t.Chosen = m.Label, m.Disabled, m.Checked
			t.Focused = field("parent").Elem().FieldByName("activeItem").Pointer() == reflect.ValueOf(w).Pointer()
		}
		if v := field("selected"); v.IsValid() && v.Kind() == reflect.Bool { // one of a list, a card, a bar
			t.Chosen = v.Bool()
		}
		if v := field("Menu"); v.IsValid() {
			if m, ok := v.Interface().(*fyne.Menu); ok {
				t.Says = m.Label
			}
		}
		if v := field("Importance"); v.IsValid() {
			t.Chosen = t.Chosen || widget.Importance(v.Int()) == widget.HighImportance
		}
	}
	icon := field("Icon") // the toolkit's button asks the icon, whether it has one or not
	blank := icon.IsValid() && icon.Kind() == reflect.Interface && icon.IsNil()
	if a, ok := w.(interface{ AccessibilityLabel() string }); ok && t.Says == "" && !blank {
		t.Says = strings.TrimSpace(a.AccessibilityLabel())
	}
	_, wants := w.(fyne.Focusable)
	_, taps := w.(fyne.Tappable)
	return t, t.Says != "" || t.Value != "" || wants || taps
}

// walkVisible is the toolkit's own walk over what is seen, by which it finds what
// is under the pointer: where each object is and what cuts it off.
//
//go:linkname walkVisible fyne.io/fyne/v2/internal/driver.WalkVisibleObjectTree
func walkVisible(o fyne.CanvasObject, before func(o fyne.CanvasObject, pos, clipPos fyne.Position, clip fyne.Size) bool,
	after func(o fyne.CanvasObject, pos fyne.Position, parent fyne.CanvasObject)) bool

// menuOf returns a window's menu bar, nil when it has none. The toolkit keeps it
// to itself.
func menuOf(c fyne.Canvas) fyne.CanvasObject {
	v := reflect.ValueOf(c).Elem().FieldByName("menu")
	m, _ := reflect.NewAt(v.Type(), unsafe.Pointer(v.UnsafeAddr())).Elem().Interface().(fyne.CanvasObject)
	return m
}

// pointerOf is where a window saw the pointer last, which the toolkit keeps to
// itself too.
func pointerOf(w fyne.Window) fyne.Position {
	at := reflect.ValueOf(w).Elem().FieldByName("mousePos")
	return fyne.NewPos(float32(at.Field(0).Float()), float32(at.Field(1).Float()))
}
