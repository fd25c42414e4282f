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

// boardKey clicks one of the board's own keys, which come up when the pointer is moved
// and go away by themselves: on a busy machine before they are found, so it is moved
// until they are.
func (w walk) boardKey(key string) func() {
	return func() {
		w.t.Helper()
		middle := centre(w.sees("the board", theBoard).Place)
		var last thing
		by := 7
		w.until(fmt.Sprintf("the key %q", key), func() bool {
			w.xdo("mousemove", "--window", w.boardID, strconv.Itoa(middle.X+by), strconv.Itoa(middle.Y+by))
			w.frame()
			now, ok := enabled(button(key))(w.look())
			rests := ok && now.Place == last.Place
			last, by = now, -by
			return rests
		})
		w.clickAt(centre(last.Place))
	}
}
