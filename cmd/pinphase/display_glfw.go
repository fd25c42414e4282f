//go:build (linux || freebsd || openbsd || netbsd || windows) && !android && !ci

package main

import (
	"cmp"
	"image"
	"io"
	"log"

	"github.com/go-gl/glfw/v3.4/glfw"
)

// tryWindow opens a window that nobody sees with the library and the wishes that the
// toolkit has, and tells how much room there is on the display, in pixels, without panels
// and a frame; or why no window can open. The library stays as it is: a virtual display
// begins anew when the last program leaves it, and hears nobody meanwhile.
func tryWindow() (room image.Point, why string) {
	// Some answers of the system are written to the log rather than returned.
	defer log.SetOutput(log.Writer())
	log.SetOutput(io.Discard)
	if err := glfw.Init(); err != nil || !initialised() {
		_, said := glfw.GetError()
		return room, cmp.Or(said, "it does not answer")
	}
	defer glfw.DefaultWindowHints()
	glfw.WindowHint(glfw.Visible, glfw.False)
	glfw.WindowHint(glfw.ContextVersionMajor, 2) // what the toolkit asks for
	glfw.WindowHint(glfw.ContextVersionMinor, 1)
	w, err := glfw.CreateWindow(1, 1, "", nil, nil)
	if err != nil || w == nil {
		_, said := glfw.GetError()
		if err != nil && said == "" {
			said = err.Error()
		}
		return room, "it does not offer OpenGL 2.1: " + said
	}
	w.Destroy()
	if m := glfw.GetPrimaryMonitor(); m != nil {
		_, _, room.X, room.Y = m.GetWorkarea()
	}
	return room.Sub(border), ""
}

// border is what a window's frame takes, about: the window is not there yet to be asked.
var border = image.Pt(8, 40)

// initialised says whether the library came up. Asked for anything before, it panics.
func initialised() (yes bool) {
	defer func() { yes = recover() == nil }()
	glfw.GetPlatform()
	return
}
