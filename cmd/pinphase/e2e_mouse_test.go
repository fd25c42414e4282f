//go:build e2e

package main

import (
	"os"
	"strconv"
)

// mouse walks through the window with the mouse alone: no key is pressed.
type mouse struct{ walk }

// opens shows a page by its tab.
func (w mouse) opens(page string) {
	w.t.Helper()
	w.press(page)
	w.page(page)
}

// tour: it goes on by its button.
func (w mouse) tour() {
	w.t.Helper()
	w.menu("Help", "Tour of the window")
	steps := 0
	for ; steps < 20; steps++ {
		t := w.sees("the tour's button", the(func(t thing) bool { return t.Kind == "tourButton" && t.Chosen }))
		w.click("the tour's button", button(t.Says))
		if t.Says == "Done" {
			break
		}
		w.says(strconv.Itoa(steps+2) + " of ")
	}
	w.goes("the tour", button("Skip the tour"))
	if steps < 2 || steps == 20 {
		w.t.Errorf("the tour has %d steps", steps+1)
	}
}

// window: what lies over the pages goes by its own button.
func (w mouse) window() {
	w.t.Helper()
	w.menu("Help", "This page (F1)")
	w.says("Help: Cycle")
	w.press("Close")
	w.goes("the help", closeButton)

	w.menu("Edit", "Settings…")
	w.choose("the theme", themeList, "dark")
	w.until("the window to be dark", w.dark)
	w.keepsChoice(`"theme":"dark"`)
	w.choose("the theme", themeList, "light")
	w.press("Close")
	w.goes("the settings", closeButton)

	w.menu("File", "Library of engines and wheels…")
	w.click("a layout", the(func(t thing) bool { return t.Kind == "listItem" }))
	w.press("Take into the job")
	w.dirty()
	if _, open := w.look().find(named("My engines")); open {
		w.press("Close")
	}
	w.goes("the library", button("My engines"))
	w.menu("Edit", "Undo")
	w.saved()
}

// board: its own keys come up along the bottom when the pointer is moved.
func (w mouse) board() {
	w.t.Helper()
	w.openBoard(func() { w.menu("View", "Board view, for a class (F5)") })
	presses := func(key string) {
		w.t.Helper()
		middle := centre(w.sees("the board", the(kind("BoardView"))).Place)
		w.xdo("mousemove", "--window", w.boardID, strconv.Itoa(middle.X), strconv.Itoa(middle.Y), "mousemove_relative", "7", "9")
		w.press(key)
	}
	question := w.boardSays()
	w.repaints("the board", the(kind("BoardView")), 0.001, func() { presses("→ next") })
	presses("→ next")
	w.until("the next question", func() bool { return w.boardSays() != question })
	presses("1 firing order")
	w.until("the first question again", func() bool { return w.boardSays() == question })
	// A click on the page goes on, one of the other button goes back.
	middle := centre(w.sees("the board", the(kind("BoardView"))).Place)
	for range 2 {
		w.clickAt(middle)
		w.frame()
	}
	w.until("the next question by clicking", func() bool { return w.boardSays() != question })
	for range 2 {
		w.xdo("click", "3")
		w.frame()
	}
	w.until("the first question by the other button", func() bool { return w.boardSays() == question })
	w.leaveBoard(func() { presses("Esc leave") })
}

func (w mouse) cycle() {
	w.t.Helper()
	w.opens("Cycle")
	// The cursor follows the pointer; the same angle lies further right.
	f := w.steady("the cycle figure", cycleFigure).Place
	middle := centre(f)
	w.drag(middle.X, middle.Y, middle.X+f.Dx()/8, middle.Y)
	w.until("the crank to be where it was dragged", func() bool { return w.crank() > 360 })
	was := w.crank()
	w.press("+10°")
	w.crankAt(was + 10)

	slider := fieldOf("Dowel at")
	s := w.inSight("the dowel's slider", slider).Place
	first := w.value(slider)
	w.drag(s.Min.X+s.Dx()/4, centre(s).Y, s.Min.X+s.Dx()*3/4, centre(s).Y)
	w.dirty()
	w.until("the dowel to move", func() bool { return w.value(slider) != first })
	w.menu("Edit", "Undo")
	w.saved()
	w.until("the dowel to move back", func() bool { return w.value(slider) == first })
	w.menu("Edit", "Redo")
	w.dirty()

	wheel := the(kind("WheelView"))
	r := w.inSight("the wheel", wheel).Place
	was = w.crank()
	w.drag(centre(r).X+r.Dy()/4, centre(r).Y, centre(r).X, centre(r).Y+r.Dy()/4)
	w.until("the wheel to turn the crank", func() bool { return w.crank() != was })
}

func (w mouse) part() {
	w.t.Helper()
	w.opens("Part")
	w.press("Keyway")
	w.sees("the keyway", chosen(button("Keyway")))
	w.press("Dowel")
	w.press("Another way…")
	w.click("another way of measuring", func(s shown) (thing, bool) { return nth(s, kind("Card"), 1) })
	w.goes("the ways of measuring", the(kind("Card")))
	w.menu("Edit", "Undo")
}

func (w mouse) light() {
	w.t.Helper()
	w.opens("Light-off")
	// What is found about the engine comes a moment after the page and moves the
	// sliders down: a drag may miss the first time.
	w.until("the compression to follow its slider", func() bool {
		s := w.inSight("the compression's slider", fieldOf("Compression")).Place
		w.drag(s.Min.X+s.Dx()/2, centre(s).Y, s.Min.X+s.Dx()*4/5, centre(s).Y)
		v, err := strconv.ParseFloat(w.value(fieldOf("Compression")), 64)
		return err == nil && v > 20
	})
}

func (w mouse) signals() {
	w.t.Helper()
	w.opens("Signals")
	zoom := func(what string) { w.t.Helper(); w.press(what) }
	w.repaints("the traces", traces, 0.01, func() { zoom("Closer") })
	w.repaints("the traces", traces, 0.01, func() { zoom("Whole") })
	at := centre(w.inSight("the traces", traces).Place)
	w.repaints("the traces", traces, 0.01, func() {
		w.xdo("mousemove", "--window", w.id, strconv.Itoa(at.X), strconv.Itoa(at.Y), "click", "4", "click", "4")
	})

	w.menu("File", "Save the predicted signals as CSV…")
	w.press("Save")
	csv := w.fileOf("signals.csv")
	w.until("the signals", func() bool { _, err := os.Stat(csv); return err == nil })
	w.press("Open a recording…")
	w.click("the file", the(func(t thing) bool { return t.Says == "signals" }))
	w.press("Open")
	w.press("Use as evidence")
}

func (w mouse) cause() {
	w.t.Helper()
	w.opens("Cause")
	const known = "It starts with everything plugged in"
	w.click("that it starts", after(known, "yes"))
	w.sees("that it starts as chosen", chosen(after(known, "yes")))
	w.click("the second cause", func(s shown) (thing, bool) { return nth(s, kind("Bar"), 1) })
}

func (w mouse) gears() {
	w.t.Helper()
	w.opens("Gears")
	w.repaints("the gears", gearFigure, 0.001, func() { w.press("One tooth further ahead") })
	w.press("It was found so: put it into the job")
	w.press("+1 turn")
}

func (w mouse) practice() {
	w.t.Helper()
	w.opens("Practice")
	field := fieldOf("Degrees before or after firing TDC (±0.5°)")
	w.sees("the question", field)
	for _, key := range []string{"7", "7", "⌫", "5", "before TDC", "1  power"} {
		w.press(key)
	}
	w.sees("what was typed", valued(field, "75 before TDC"))
	w.press("Check")
	w.says("is how it is found.")
	w.press("Next question")
	w.press("I do not know")
	w.says("This is how it is found.")
	w.until("the score to be kept", func() bool { asked, _ := w.homes.answered(); return asked == 2 })
	w.press("Score")
	w.says("0 of 2")
	w.press("What is asked")
	w.press("Draw one")
	w.press("Begin the exercise")
	w.says("Question 1 of 20")
}

// paper: a figure as it is proposed and a sheet as PDF.
func (w mouse) paper() {
	w.t.Helper()
	w.opens("Cycle")
	w.menu("File", "Save figure…")
	w.press("Save…")
	w.press("Save")
	w.wholeFile(w.fileOf("pages-cycle.svg"), "<", "</svg>")
	w.menu("File", "Save job sheet…")
	w.click("whether it is opened", the(beginning("Open it afterwards")))
	w.press("Save…")
	w.press("Save")
	w.wholeFile(w.fileOf("pages-sheet.pdf"), "%PDF-", "%%EOF")
}

// kept: all of it is in the file, and the program ends by its menu.
func (w mouse) kept() {
	w.t.Helper()
	w.menu("File", "Save")
	w.saved()
	w.theWholeWalk()
	if got := dowelIn(w.t, w.path); got < 0 {
		w.t.Errorf("the slider was put far ahead, the file has the dowel at %g", got)
	}
	if g := jobIn(w.t, w.path).Gears; g == nil || g.CamTeethOut != 1 {
		w.t.Errorf("the file has the gears %+v", g)
	}
	w.menu("File", "Quit")
	w.ended()
}
