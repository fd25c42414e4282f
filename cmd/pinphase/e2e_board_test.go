//go:build e2e

package main

import (
	"fmt"
	"image"
	"strconv"
)

// openBoard opens the window for a class and looks at it from then on.
func (w walk) openBoard(open func()) {
	w.t.Helper()
	open()
	w.boardID = w.other(boardTitle)
	w.onBoard = true
	w.until("the board's first picture", func() bool { p := pictureOf(w.boardID); return p != nil && colours(p) > 10 })
	w.steady("the board", theBoard)
}

// boardSays is the sentence on the board, and what its figure shows.
func (w walk) boardSays() string {
	w.t.Helper()
	return w.sees("the board", theBoard).Says
}

// leaveBoard closes the window for a class and looks at the program's again.
func (w walk) leaveBoard(leave func()) {
	w.t.Helper()
	if size := pictureOf(w.boardID).Bounds().Size(); size.X < w.screen().X || size.Y < w.screen().Y {
		w.t.Errorf("the board is %v, the screen %v", size, w.screen())
	}
	leave()
	w.gone(boardTitle)
	w.onBoard = false
	w.xdo("windowactivate", w.id)
}

// screen is the size of the display.
func (w walk) screen() (p image.Point) {
	w.t.Helper()
	out, err := tool("xdotool", "getdisplaygeometry")
	if err != nil {
		w.t.Fatal(err)
	}
	if _, err := fmt.Sscan(string(out), &p.X, &p.Y); err != nil {
		w.t.Fatal(err)
	}
	return p
}

// boardKey clicks one of the board's own keys, which come up when the pointer is
// moved.
func (w walk) boardKey(key string) func() {
	return func() {
		w.t.Helper()
		middle := centre(w.sees("the board", theBoard).Place)
		w.xdo("mousemove", "--window", w.boardID, strconv.Itoa(middle.X), strconv.Itoa(middle.Y), "mousemove_relative", "7", "9")
		w.press(key)
	}
}
