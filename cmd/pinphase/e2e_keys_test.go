//go:build e2e

package main

import (
	"fmt"
	"image"
	"os"
	"strings"
)

// keys walks through the window with the keyboard alone.
type keys struct{ walk }

var (
	closeButton = button("Close")
	cycleFigure = the(kind("CycleView"))
	traces      = the(kind("TraceView"))
	gearFigure  = the(kind("GearsView"))
	themeList   = the(func(t thing) bool { return t.Kind == "dialogSelect" && (t.Value == "light" || t.Value == "dark") })
	measured    = fieldOf("Angle") // the dowel's, the first on the page
)

// tour: the first start has one. While it is on the arrow keys lead through it,
// afterwards they turn the crank.
func (w keys) tour() {
	w.t.Helper()
	w.sees("the tour", button("Skip the tour"))
	w.key("Return")
	w.says("2 of ")
	w.key("Right")
	w.says("3 of ")
	w.key("Left")
	w.says("2 of ")
	if at := w.crank(); at != 0 {
		w.t.Errorf("the tour's arrow keys turn the crank to %g°", at)
	}
	w.key("Escape")
	w.goes("the tour", button("Skip the tour"))
	w.keepsChoice(`"tour.seen":true`)
	w.repaints("the cycle figure", cycleFigure, 0.0005, func() { w.key("shift+Right") })
	w.crankAt(10)
}

// window: what lies over the pages.
func (w keys) window() {
	w.t.Helper()
	w.key("F1")
	w.says("Help: Cycle")
	w.key("Escape")
	w.goes("the help", closeButton)

	w.key("ctrl+t")
	w.picks("the theme", themeList, "dark")
	w.until("the window to be dark", w.dark)
	w.keepsChoice(`"theme":"dark"`)
	w.picks("the theme", themeList, "light")
	w.key("Escape")
	w.goes("the settings", closeButton)

	w.key("ctrl+l")
	w.tabTo("the layouts", the(kind("libraryList")))
	w.key("Down", "Down")
	w.pushes("Take into the job")
	w.dirty()
	w.key("Escape")
	w.goes("the library", button("My engines"))
	w.key("ctrl+z")
	w.saved()

	w.key("ctrl+minus")
	w.keepsChoice(`"text.size":`)
	w.key("ctrl+equal")
}

// board: question, answer, on, back, leave.
func (w keys) board() {
	w.t.Helper()
	w.openBoard(func() { w.key("F5") })
	question := w.boardSays()
	w.repaints("the board", the(kind("BoardView")), 0.001, func() { w.key("Right") })
	w.key("Right")
	w.until("the next question", func() bool { return w.boardSays() != question })
	w.key("Left", "Left")
	w.until("the first question again", func() bool { return w.boardSays() == question })
	w.leaveBoard(func() { w.key("Escape") })
}

// pages: each by its key.
func (w keys) pages() {
	w.t.Helper()
	for i := len(pageNames) - 1; i >= 0; i-- {
		w.key(fmt.Sprintf("ctrl+%d", i+1))
		w.page(pageNames[i])
		w.key("F1")
		w.says("Help: " + pageNames[i])
		w.key("Escape")
		w.goes("the help", closeButton)
	}
}

func (w keys) cycle() {
	w.t.Helper()
	w.key("ctrl+g", "ctrl+a")
	w.typed("90")
	w.key("Return")
	w.crankAt(90)
	w.tabTo("the bore", fieldOf("Bore"))
	w.key("ctrl+a")
	w.typed("96")
	w.dirty()
	slider := fieldOf("Dowel at")
	w.tabTo("the dowel's slider", slider)
	was := w.value(slider)
	w.key("Right")
	w.until("the dowel to move", func() bool { return w.value(slider) != was })
	w.key("ctrl+z")
	w.until("the dowel to move back", func() bool { return w.value(slider) == was })
	w.key("ctrl+z")
	w.saved()
}

func (w keys) part() {
	w.t.Helper()
	w.key("ctrl+2")
	w.page("Part")
	w.tabTo("the measured angle", measured)
	w.key("ctrl+a")
	w.typed("11")
	w.dirty()
	w.key("ctrl+s")
	w.saved()
	if got := dowelIn(w.t, w.path); got != -11 {
		w.t.Errorf("11° was typed, the file has %g", got)
	}
	w.pushes("Keyway")
	w.sees("the keyway", chosen(button("Keyway")))
	w.pushes("True TDC and marks")
	w.sees("true TDC", chosen(button("True TDC and marks")))
	w.pushes("Dowel")
	w.pushes("Another way…")
	w.sees("the ways of measuring", the(kind("Card")))
	w.pushes("Keep the present one")
	w.goes("the ways of measuring", the(kind("Card")))
}

func (w keys) light() {
	w.t.Helper()
	w.key("ctrl+3")
	w.page("Light-off")
	w.tabTo("the compression's slider", fieldOf("Compression"))
	w.key("Right", "Right")
	w.dirty()
}

func (w keys) signals() {
	w.t.Helper()
	w.key("ctrl+4")
	w.page("Signals")
	w.tabTo("the traces", traces)
	w.repaints("the traces", traces, 0.01, func() { w.key("plus", "plus") })
	w.repaints("the traces", traces, 0.01, func() { w.key("0") })

	// What is predicted is written, and read as if it had been recorded.
	w.key("Alt_L")
	w.until("the entry of the menu", func() bool {
		t, ok := w.look().find(func(t thing) bool { return t.Kind == "menuItem" && t.Focused })
		if ok && strings.HasPrefix(t.Says, "Save the predicted signals") {
			return true
		}
		w.key("Down")
		return false
	})
	w.key("Return")
	w.names("signals.csv")
	w.until("the signals", func() bool { _, err := os.Stat(w.fileOf("signals.csv")); return err == nil })

	w.key("ctrl+shift+o")
	w.tabTo("the files", the(kind("GridWrap")))
	w.until("the file", func() bool {
		if t, ok := w.look().find(named("Open")); ok && !t.Disabled {
			return true
		}
		w.key("Right", "space")
		return false
	})
	w.pushes("Open")
	w.sees("what is found", button("Use as evidence"))
	w.pushes("Use as evidence")
}

// names answers the question for a file's name.
func (w keys) names(file string) {
	w.t.Helper()
	name := fieldOf("File name")
	w.sees("the question for a name", name)
	w.until("the name's field to have the keyboard", func() bool { return w.sees("the name", name).Focused })
	w.key("ctrl+a")
	w.typed(file)
	w.key("Return")
}

func (w keys) cause() {
	w.t.Helper()
	w.key("ctrl+5")
	w.page("Cause")
	const known = "It starts with everything plugged in"
	w.tabTo("that it starts", after(known, "yes"))
	w.key("space")
	w.sees("that it starts as chosen", chosen(after(known, "yes")))
	w.tabTo("the second cause", func(s shown) (thing, bool) { return nth(s, kind("Bar"), 1) })
	w.key("Down", "Return")
}

func (w keys) gears() {
	w.t.Helper()
	w.key("ctrl+6")
	w.page("Gears")
	w.tabTo("the idlers' teeth", fieldOf("Idlers, teeth"))
	w.repaints("the gears", gearFigure, 0.01, func() { w.typed("53") })
	w.pushes("+1 turn")
}

func (w keys) practice() {
	w.t.Helper()
	w.key("ctrl+7")
	w.page("Practice")
	field := fieldOf("Degrees before or after firing TDC (±0.5°)")
	w.until("the field to have the keyboard", func() bool { return w.sees("the answer's field", field).Focused })
	w.typed("777 before")
	w.key("Return", "1", "Return")
	w.says("Not right.")
	w.key("Return")
	w.pushes("I do not know")
	w.says("This is how it is found.")
	w.until("the score to be kept", func() bool { asked, _ := w.homes.answered(); return asked == 2 })
	w.pushes("Score")
	w.says("0 of 2")
	w.pushes("What is asked")
	w.tabTo("the exercise's number", the(func(t thing) bool { return t.Says == "a whole number" }))
	w.typed("7")
	w.key("Return")
	w.says("Question 1 of 20")
}

// paper: a figure and a sheet as PDF.
func (w keys) paper() {
	w.t.Helper()
	w.key("ctrl+1")
	w.page("Cycle")
	w.key("ctrl+e")
	w.pushes("PDF")
	w.pushes("Save…")
	w.names("figure.pdf")
	w.wholeFile(w.fileOf("figure.pdf"), "%PDF-", "%%EOF")
	w.key("ctrl+p")
	w.sees("the sheet's dialog", button("Cancel"))
	w.tabTo("whether it is opened", the(beginning("Open it afterwards")))
	w.key("space")
	w.pushes("Save…")
	w.names("sheet.pdf")
	w.wholeFile(w.fileOf("sheet.pdf"), "%PDF-", "%%EOF")
}

// kept: all of it is in the file, and can be taken back.
func (w keys) kept() {
	w.t.Helper()
	w.key("ctrl+s")
	w.saved()
	w.theWholeWalk()
	w.idlers(53)
	w.key("ctrl+z")
	w.dirty()
	w.key("ctrl+y")
	w.saved()
	w.key("ctrl+q")
	w.ended()
}

// nth finds the n-th of several things, from 0.
func nth(s shown, is which, n int) (thing, bool) {
	for _, t := range s.Things {
		if is(t) {
			if n == 0 {
				return t, true
			}
			n--
		}
	}
	return thing{}, false
}

// openBoard opens the window for a class and looks at it from then on.
func (w walk) openBoard(open func()) {
	w.t.Helper()
	open()
	w.boardID = w.other(boardTitle)
	w.onBoard = true
	w.until("the board's first picture", func() bool { p := pictureOf(w.boardID); return p != nil && colours(p) > 10 })
	w.steady("the board", the(kind("BoardView")))
}

// boardSays is the sentence on the board, and what its figure shows.
func (w walk) boardSays() string {
	w.t.Helper()
	return w.sees("the board", the(kind("BoardView"))).Says
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
