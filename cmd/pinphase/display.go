//go:build (linux || freebsd || openbsd || netbsd) && !android && !ci

package main

import (
	"errors"
	"fmt"
	"image"
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
	room, why := tryWindow()
	if why != "" {
		return unreachable(why)
	}
	if wayland != "" && force == "" && !homeless {
		glfw.Terminate() // the toolkit has its own mind which of the two it takes
	}
	return room, nil
}
