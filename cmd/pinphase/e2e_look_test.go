//go:build e2e

package main

import (
	"fmt"
	"image"
	"image/color"
	"strconv"
	"strings"
	"time"
)

// Places in the window of 1280 by 800 on testdata/pages.toml, in English at usual
// text size. Page tabs, menu entries and the button that stands out are looked for
// instead, since there may come to be more of them.
var (
	partAngle      = image.Rect(106, 340, 498, 371)
	partKeyway     = image.Pt(102, 162)
	compression    = image.Pt(300, 275) // on the slider, right of its knob
	compressKnob   = image.Rect(238, 262, 264, 288)
	traces         = image.Pt(600, 480)
	zoomIn         = image.Pt(859, 221)
	zoomOut        = image.Pt(918, 221) // shows the whole again
	startsYes      = image.Rect(100, 376, 138, 406)
	secondCause    = image.Pt(520, 298)
	idlerGears     = image.Rect(139, 239, 369, 268)
	toothMore      = image.Pt(354, 478)
	toothFound     = image.Pt(187, 571) // once a tooth out is supposed
	onByTen        = image.Pt(784, 477)
	behindTheKnob  = image.Pt(760, 512) // on the dowel's slider
	saveFigure     = image.Pt(786, 668)
	nameDialog     = image.Rect(300, 400, 980, 540) // its buttons
	practiceAnswer = image.Rect(0, 145, 700, 800)
)

// Menus, in their bar.
var (
	fileMenu = image.Pt(23, 12)
	editMenu = image.Pt(64, 12)
	viewMenu = image.Pt(109, 12)
	helpMenu = image.Pt(211, 12)
)

// Entries of the menus, from 0.
const (
	fileSave, fileSaveCycle = 5, 8
	editSettings            = 2
	helpPage, helpTour      = 0, 1
)

// standsOut is the colour of the page's tab and of the button that Enter presses.
var standsOut = color.RGBA{0, 100, 160, 255}

// click clicks somewhere in the window.
func (w *win) click(p image.Point) {
	w.t.Helper()
	w.xdo("mousemove", "--window", w.id, strconv.Itoa(p.X), strconv.Itoa(p.Y))
	w.frame()
	w.xdo("click", "1")
	w.frame()
}

// typed types text to what has the keyboard.
func (w *win) typed(text string) {
	w.t.Helper()
	w.xdo("type", "--delay", "60", text)
	w.frame()
}

// does does something and waits until that changes at least so many pixels within
// a part of the window.
func (w *win) does(what string, within image.Rectangle, least int, do func()) {
	w.t.Helper()
	before := w.picture()
	do()
	w.until(what, func() bool { now := w.picture(); return now != nil && changedIn(before, now, within) >= least })
}

// changedIn counts the pixels that differ within a part of two pictures.
func changedIn(a, b *image.RGBA, within image.Rectangle) int {
	n := 0
	within = within.Intersect(a.Rect).Intersect(b.Rect)
	for y := within.Min.Y; y < within.Max.Y; y++ {
		for x := within.Min.X; x < within.Max.X; x++ {
			if a.RGBAAt(x, y) != b.RGBAAt(x, y) {
				n++
			}
		}
	}
	return n
}

// whole is all of the window.
var whole = image.Rect(0, 0, windowWidth, windowHeight)

// below is what a page has for itself.
var below = image.Rect(0, 142, windowWidth, windowHeight)

// blob returns the bounds of the uppermost button or tab of the colour that stands
// out within a part of the window, empty when there is none. Lines and marks of
// that colour are thinner than what is left of a button's words.
func (w *win) blob(within image.Rectangle) image.Rectangle {
	img := w.picture()
	if img == nil {
		return image.Rectangle{}
	}
	const high, margin = 18, 5
	within = within.Intersect(img.Rect)
	blue := func(x, y int) bool { return image.Pt(x, y).In(within) && is(img.RGBAAt(x, y), standsOut) }
	for y := within.Min.Y; y < within.Max.Y-high; y++ {
	across:
		for x, run := within.Min.X, 0; x < within.Max.X; x++ {
			if !blue(x, y) {
				run = 0
				continue
			}
			if run++; run != 20 {
				continue
			}
			left := x - run + 1
			for blue(left-1, y+high/2) {
				left--
			}
			for at := left; at < left+margin; at++ {
				for down := 6; down < high; down++ {
					if !blue(at, y+down) {
						continue across
					}
				}
			}
			r := image.Rect(left, y, x+1, y+high)
			for blue(r.Max.X, y) {
				r.Max.X++
			}
			for blue(left+margin-1, r.Max.Y) {
				r.Max.Y++
			}
			return r
		}
	}
	return image.Rectangle{}
}

// tabRow is where the tabs of the pages are.
var tabRow = image.Rect(0, 100, windowWidth, 140)

// tabs finds the tabs of the pages, from the left, and which of them is shown.
func (w *win) tabs() (at []image.Point, shown int) {
	shown = -1
	pill := w.blob(tabRow)
	img := w.picture()
	if pill.Empty() || img == nil {
		return nil, shown
	}
	const between = 11 // pixels between two words of different tabs, at least
	y := (pill.Min.Y + pill.Max.Y) / 2
	last := -between - 1
	begin := 0
	end := func() {
		if last >= 0 {
			p := image.Pt((begin+last)/2, y)
			if p.In(pill.Inset(-4)) {
				shown = len(at)
			}
			at = append(at, p)
		}
	}
	for x := 0; x < img.Rect.Max.X; x++ {
		ink := false
		for dy := -7; dy <= 7; dy++ {
			c := img.RGBAAt(x, y+dy)
			inPill := image.Pt(x, y+dy).In(pill.Inset(2))
			ink = ink || int(c.R)+int(c.G)+int(c.B) < 300 && !inPill || inPill && int(c.R)+int(c.G)+int(c.B) > 600
		}
		if ink {
			if x-last > between {
				end()
				begin = x
			}
			last = x
		}
	}
	end()
	return at, shown
}

// shows waits until a page is shown.
func (w *win) shows(page int) {
	w.t.Helper()
	w.until(fmt.Sprintf("page %d", page+1), func() bool { _, shown := w.tabs(); return shown == page })
	w.settle()
}

// menu chooses the n-th entry of a menu with the mouse.
func (w *win) menu(title image.Point, n int) {
	w.t.Helper()
	before := w.picture()
	w.click(title)
	var entries []image.Point
	w.until(fmt.Sprintf("entry %d of the menu", n), func() bool {
		entries = w.entries(before, title)
		return len(entries) > n
	})
	w.click(entries[n])
}

// entries finds the entries of an open menu by their words: rows of ink below the
// menu's title that were not there before.
func (w *win) entries(before *image.RGBA, title image.Point) (at []image.Point) {
	now := w.picture()
	if now == nil {
		return nil
	}
	ground := now.RGBAAt(title.X+150, 30) // right of the words, above the first
	if before.RGBAAt(title.X+150, 30) == ground && changedIn(before, now, image.Rect(title.X, 26, title.X+160, 60)) < 300 {
		return nil
	}
	first, last := -1, -1
	row := func() {
		if first >= 0 && last-first >= 5 { // a line between entries is thinner
			at = append(at, image.Pt(title.X+20, (first+last)/2))
		}
	}
	for y := 26; y < now.Rect.Max.Y; y++ {
		ink := 0
		for x := title.X - 5; x < title.X+60; x++ {
			c, old := now.RGBAAt(x, y), before.RGBAAt(x, y)
			if int(c.R)+int(c.G)+int(c.B) < int(ground.R)+int(ground.G)+int(ground.B)-60 && c != old {
				ink++
			}
		}
		if ink == 0 {
			continue
		}
		if last < 0 || y-last > 7 {
			row()
			first = y
		}
		last = y
	}
	row()
	return at
}

// tabTo presses Tab until what lies in a place has the keyboard, which is seen by
// how it changes.
func (w *win) tabTo(what string, place image.Rectangle) {
	w.t.Helper()
	const most = 60
	for range most {
		before := w.picture()
		w.key("Tab")
		var now *image.RGBA
		for deadline := time.Now().Add(1500 * time.Millisecond); time.Now().Before(deadline); {
			if now = w.picture(); now != nil && changed(before, now) > 0 {
				break
			}
		}
		if changedIn(before, now, place) > 20 {
			w.frame()
			if changedIn(before, w.picture(), place) > 20 {
				return
			}
		}
	}
	w.t.Fatalf("%d times Tab do not lead to %s", most, what)
}

// other waits for another window of the program and returns its id.
func (w *win) other(name string) string {
	w.t.Helper()
	id := ""
	w.until("a window called "+name, func() bool {
		out, err := tool("xdotool", "search", "--onlyvisible", "--name", name)
		if ids := strings.Fields(string(out)); err == nil && len(ids) > 0 {
			id = ids[len(ids)-1]
		}
		return id != ""
	})
	return id
}

// gone waits until no window has a name.
func (w *win) gone(name string) {
	w.t.Helper()
	w.until("the end of the window called "+name, func() bool {
		out, _ := tool("xdotool", "search", "--onlyvisible", "--name", name) // it fails when there is none
		return len(strings.Fields(string(out))) == 0
	})
}
