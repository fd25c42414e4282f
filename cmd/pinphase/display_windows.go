//go:build windows && !ci

package main

import (
	"errors"
	"image"
)

// reachDisplay tells how much room a window has on the display, in pixels. It is an error
// when none can open there: the toolkit would stay without one, and say nothing.
func reachDisplay() (room image.Point, err error) {
	room, why := tryWindow()
	if why != "" {
		return room, errors.New("no window can open on this display: " + why)
	}
	return room, nil
}
