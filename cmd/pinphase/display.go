//go:build (linux || freebsd || openbsd || netbsd) && !android && !ci

package main

import (
	"errors"
	"fmt"
	"image"
	"io"
	"log"
	"os"
	"path/filepath"

	"github.com/go-gl/glfw/v3.4/glfw"
)

// reachDisplay tells how much room a window has on the display, in pixels, without
// panels and a frame; zero where nobody knows. It is an error when there is no display to
// open a window on: the toolkit would go on without one and break. It asks the library
// that the toolkit opens windows with.
func reachDisplay() (room image.Point, err error) {
	x11, wayland, force := os.Getenv("DISPLAY"), os.Getenv("WAYLAND_DISPLAY"), os.Getenv("FYNE_PLATFORM")
	if x11 == "" && wayland == "" {
		return room, errors.New("there is no display to open a window on: neither DISPLAY nor WAYLAND_DISPLAY is set")
	}
	unreachable := func(why string) (image.Point, error) {
		return image.Point{}, fmt.Errorf("no window can open on this display (DISPLAY=%q, WAYLAND_DISPLAY=%q): %s", x11, wayland, why)
	}
	homeless := os.Getenv("XDG_RUNTIME_DIR") == "" && !filepath.IsAbs(wayland) // Wayland's socket is sought there
	switch {
	case homeless && (force == "wayland" || x11 == ""):
		return unreachable("Wayland: XDG_RUNTIME_DIR is not set")
	case force == "wayland":
		glfw.InitHint(glfw.PlatformHint, int(glfw.PlatformWayland))
	case force == "x11" || wayland == "" || homeless:
		glfw.InitHint(glfw.PlatformHint, int(glfw.PlatformX11))
	}
	// Some answers of the system are written to the log rather than returned.
	defer log.SetOutput(log.Writer())
	log.SetOutput(io.Discard)
	if err := glfw.Init(); err != nil || !initialised() {
		_, said := glfw.GetError()
		return unreachable(said)
	}
	if wayland != "" && force == "" && !homeless {
		defer glfw.Terminate() // the toolkit has its own mind which of the two it takes
	}
	// Else the library stays as it is: a virtual display begins anew when the last
	// program leaves it, and hears nobody meanwhile.
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
		return unreachable("it does not offer OpenGL 2.1: " + said)
	}
	w.Destroy()
	if m := glfw.GetPrimaryMonitor(); m != nil {
		_, _, room.X, room.Y = m.GetWorkarea()
	}
	return room.Sub(border), nil
}

// border is what a window's frame takes, about: the window is not there yet to be asked.
var border = image.Pt(8, 40)

// initialised says whether the library came up. Asked for anything before, it panics.
func initialised() (yes bool) {
	defer func() { yes = recover() == nil }()
	glfw.GetPlatform()
	return
}
