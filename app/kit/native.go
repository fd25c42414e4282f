//go:build (linux || freebsd || openbsd || netbsd || windows || darwin) && !android && !ios && !ci

package kit

import (
	"reflect"
	"unsafe"

	"fyne.io/fyne/v2"
	_ "fyne.io/fyne/v2/app" // links the driver that processMouseMoved is of
	"github.com/go-gl/glfw/v3.4/glfw"
)

// ClickWhereItIs makes a shown window take a press, a release or a turn of the wheel for
// the place where the pointer is. The toolkit takes in once a frame where the pointer has
// moved to, after it has taken the buttons: one that comes in the same frame as a movement,
// as from a touch board, a remote control or a busy machine, would count for where the
// pointer was before, on another button.
func ClickWhereItIs(w fyne.Window) {
	driven := reflect.ValueOf(w)
	if driven.Type().String() != "*glfw.window" {
		return // another driver
	}
	field := driven.Elem().FieldByName
	viewport, taken, x, y := field("viewport"), field("mousePosUpdateProcessed"), field("newMousePosX"), field("newMousePosY")
	if !viewport.IsValid() || !taken.IsValid() || !x.IsValid() || !y.IsValid() || viewport.Type() != reflect.TypeFor[*glfw.Window]() || viewport.IsNil() {
		return
	}
	on, toolkits := (*glfw.Window)(viewport.UnsafePointer()), driven.UnsafePointer()

	catchUp := func() {
		if !taken.Bool() {
			processMouseMoved(toolkits, x.Float(), y.Float())
		}
	}
	buttons := on.SetMouseButtonCallback(nil)
	on.SetMouseButtonCallback(func(of *glfw.Window, b glfw.MouseButton, a glfw.Action, m glfw.ModifierKey) {
		catchUp()
		buttons(of, b, a, m)
	})
	wheel := on.SetScrollCallback(nil)
	on.SetScrollCallback(func(of *glfw.Window, byX, byY float64) {
		catchUp()
		wheel(of, byX, byY)
	})
}

// NameWindows gives the windows that are still to be shown the name by which a desktop
// knows which program they are of: that of its menu entry. The toolkit gives them none,
// and the library below it takes their titles.
func NameWindows(id string) {
	for _, hint := range []glfw.Hint{glfw.X11ClassName, glfw.X11InstanceName, glfw.WaylandAppID} {
		glfw.WindowHintString(hint, id)
	}
}

// processMouseMoved is what the toolkit does once a frame when the pointer has moved.
//
//go:linkname processMouseMoved fyne.io/fyne/v2/internal/driver/glfw.(*window).processMouseMoved
func processMouseMoved(window unsafe.Pointer, x, y float64)
