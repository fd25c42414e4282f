//go:build e2e

package main

import "strconv"

// mouse walks through the window with the mouse alone: no key is pressed.
type mouse struct{ walk }

// opens shows a page by its tab.
func (w mouse) opens(page string) {
	w.t.Helper()
	w.press(page, w.shows(chosen(button(page))))
}

// tour: it goes on by its button.
func (w mouse) tour() {
	w.t.Helper()
	w.menu(w.shows(button("Skip the tour")), "Help", "Tour of the window")
	steps := 0
	for ; steps < 20; steps++ {
		t := w.sees("the tour's button", the(func(t thing) bool { return t.Kind == "tourButton" && t.Chosen }))
		if t.Says == "Done" {
			w.press(t.Says, w.hides(button("Skip the tour")))
			break
		}
		w.press(t.Says, w.reads(strconv.Itoa(steps+2)+" of "))
	}
	if steps < 2 || steps == 20 {
		w.t.Errorf("the tour has %d steps", steps+1)
	}
}

// window: what lies over the pages goes by its own button.
func (w mouse) window() {
	w.t.Helper()
	w.menu(w.reads("Help: Cycle"), "Help", "This page (F1)")
	w.press("Close", w.hides(closeButton))

	w.menu(w.shows(themeList), "Edit", "Settings…")
	w.choose("the theme", themeList, "dark")
	w.until("the window to be dark", w.dark)
	w.keepsChoice("theme", "dark")
	w.choose("the theme", themeList, "light")
	w.until("the window to be light", func() bool { return !w.dark() })
	w.press("Close", w.hides(closeButton))

	w.menu(w.shows(button("My engines")), "File", "Library of engines and sensor wheels…")
	w.click("a layout", secondInList, w.shows(chosen(secondInList)))
	w.press("Copy into the job", w.titled(changedTitle))
	w.goes("the library", button("My engines"))
	w.menu(w.titled(savedTitle), "Edit", "Undo")
}

// board: by its own keys, and by clicks on it.
func (w mouse) board() {
	w.t.Helper()
	w.openBoard(func() { w.win.menu("View", "Board view, for a class (F5)") })
	question := w.boardSays()
	w.repaints("the board", theBoard, 0.001, w.boardKey("→ next"))
	w.step("the board's next", w.changes(w.boardSays), w.boardKey("→ next"))
	w.step("the board's first topic", w.becomes(w.boardSays, question), w.boardKey("1 firing order"))
	// A click on the page goes on, one of the other button goes back.
	middle := centre(w.sees("the board", theBoard).Place)
	w.repaints("the board", theBoard, 0.001, func() { w.clickAt(middle) })
	w.step("a click on the board", w.changes(w.boardSays), func() { w.clickAt(middle) })
	w.repaints("the board", theBoard, 0.001, func() { w.xdo("click", "3") })
	w.step("a click of the other button", w.becomes(w.boardSays, question), func() { w.xdo("click", "3") })
	w.leaveBoard(w.boardKey("Esc close the board"))
}

func (w mouse) cycle() {
	w.t.Helper()
	w.page("Cycle")
	// The cursor follows the pointer; the same angle lies further right.
	f := w.steady("the cycle figure", cycleFigure).Place
	middle := centre(f)
	w.step("dragging the cursor", func() bool { return w.crank() > 360 }, func() { w.drag(middle.X, middle.Y, middle.X+f.Dx()/8, middle.Y) })
	was := w.crank()
	w.press("+10°", func() bool { return w.crank() == was+10 })

	slider := fieldOf("Dowel at")
	s := w.inSight("the dowel's slider", slider).Place
	first := w.value(slider)
	w.step("dragging the dowel", w.changes(w.valueOf(slider)), func() { w.drag(s.Min.X+s.Dx()/4, centre(s).Y, s.Min.X+s.Dx()*3/4, centre(s).Y) })
	w.saved()
	w.press(asMeasured, w.becomes(w.valueOf(slider), first))
	w.goes("what is supposed", button(asMeasured))
	s = w.inSight("the dowel's slider", slider).Place
	w.step("dragging the dowel", w.changes(w.valueOf(slider)), func() { w.drag(s.Min.X+s.Dx()/4, centre(s).Y, s.Min.X+s.Dx()*3/4, centre(s).Y) })
	w.press(intoTheJob, w.titled(changedTitle))
	w.menu(w.becomes(w.valueOf(slider), first), "Edit", "Undo")
	w.saved()
	w.menu(w.changes(w.valueOf(slider)), "Edit", "Redo")
	w.dirty()

	r := w.inSight("the wheel", the(kind("WheelView"))).Place
	was = w.crank()
	w.step("dragging the wheel", func() bool { return w.crank() != was }, func() { w.drag(centre(r).X+r.Dy()/4, centre(r).Y, centre(r).X, centre(r).Y+r.Dy()/4) })
}

func (w mouse) part() {
	w.t.Helper()
	w.opens("Part")
	w.press("Keyway", w.shows(chosen(button("Keyway"))))
	w.press("Dowel", w.shows(chosen(button("Dowel"))))
	before := w.texts()
	w.press("Another method…", w.shows(the(kind("Card"))))
	w.click("another way of measuring", func(s shown) (thing, bool) { return nth(s, kind("Card"), 1) }, w.hides(the(kind("Card"))))
	w.menu(w.becomes(w.texts, before), "Edit", "Undo")
}

func (w mouse) light() {
	w.t.Helper()
	w.opens("Fuel ignition")
	// What is found about the engine comes a moment after the page and moves the
	// sliders down: a drag may miss the first time.
	w.until("the compression to follow its slider", func() bool {
		s := w.inSight("the compression's slider", fieldOf("Compression")).Place
		w.drag(s.Min.X+s.Dx()/2, centre(s).Y, s.Min.X+s.Dx()*4/5, centre(s).Y)
		v, err := strconv.ParseFloat(w.value(fieldOf("Compression")), 64)
		return err == nil && v > 20
	})
	w.press(intoTheJob, w.hides(button(intoTheJob)))
}

func (w mouse) signals() {
	w.t.Helper()
	w.opens("Signals")
	w.repaints("the traces", traces, 0.01, func() { w.win.press("Zoom in") })
	w.repaints("the traces", traces, 0.01, func() { w.win.press("Fit") })
	at := centre(w.inSight("the traces", traces).Place)
	w.repaints("the traces", traces, 0.01, func() {
		w.xdo("mousemove", "--window", w.id, strconv.Itoa(at.X), strconv.Itoa(at.Y), "click", "4", "click", "4")
	})

	w.menu(w.shows(fileName), "File", "Save the predicted signals as CSV…")
	w.press("Save", w.written(w.fileOf("signals.csv"), "", ""))
	file := the(func(t thing) bool { return t.Kind == "Label" && t.Says == "signals.csv" })
	w.press("Open a recording…", w.shows(file))
	w.click("the file", file, w.shows(enabled(button("Open"))))
	w.press("Open", w.shows(enabled(button("Use as evidence"))))
	w.press("Use as evidence", w.shows(disabled(button("Use as evidence"))))
}

func (w mouse) cause() {
	w.t.Helper()
	w.opens("Cause")
	starts := after("It starts with everything plugged in", "yes")
	w.click("that it starts", starts, w.weighs(chosen(starts)))
	w.click("the second cause", secondCause, w.shows(chosen(secondCause)))
}

func (w mouse) gears() {
	w.t.Helper()
	w.opens("Gears")
	w.repaints("the gears", gearFigure, 0.001, func() { w.win.press("One tooth further ahead") })
	w.press("Found like this: enter it in the job", w.shows(valued(fieldOf("Gear found out by"), "1")))
	w.press("+1 turn", w.changes(w.texts))
}

// course: what is not right is said, then the answer, and the next step begins.
func (w mouse) course() {
	w.t.Helper()
	w.opens("Course")
	w.press("Check", w.reads("Not correct yet."))
	w.press("Show me", w.reads("This is how it is found."))
	w.press("Next step", w.reads("Put the cursor where this cylinder compresses."))
	w.press("←", w.reads("Turn the crankshaft until the piston is at the top."))
}

func (w mouse) practice() {
	w.t.Helper()
	w.opens("Practice")
	field := fieldOf("Degrees before or after firing TDC (±0.5°)")
	w.sees("the question", field)
	for _, k := range [][2]string{{"7", "7"}, {"7", "77"}, {"⌫", "7"}, {"5", "75"}, {"before TDC", "75 before TDC"}} {
		w.press(k[0], w.shows(valued(field, k[1])))
	}
	w.press("1  power", w.shows(chosen(button("1  power"))))
	w.press("Check", w.reads("Not correct yet."))
	w.press("I do not know", w.reads("This is how it is found."))
	w.press("Next question", w.shows(button("I do not know")))
	w.press("I do not know", w.reads("This is how it is found."))
	w.until("the score to be kept", func() bool { asked, _ := w.homes.answered(); return asked == 2 })
	w.press("Score", w.shows(chosen(button("Score"))))
	w.says("0 of 2")
	w.press("What is asked", w.shows(chosen(button("What is asked"))))
	w.press("Pick at random", w.changes(w.valueOf(exerciseNumber)))
	w.press("Begin the exercise", w.reads("Question 1 of 20"))
}

// lesson: the open job's engine, whose firing order is then a page, saved.
func (w mouse) lesson() {
	w.t.Helper()
	w.opens("Lesson")
	w.press("Add the open job", w.reads("1 of 4"))
	w.press("→", w.reads("2 of 4"))
	w.press("Save the lesson…", w.shows(fileName))
	w.press("Save", w.written(w.fileOf("lesson.lesson"), "format = 1", "'firing_order'"))
}

// paper: a figure as it is proposed and a sheet as PDF, which nothing here opens.
func (w mouse) paper() {
	w.t.Helper()
	w.opens("Cycle")
	w.menu(w.shows(button("Save…")), "File", "Save figure…")
	w.press("Save…", w.shows(fileName))
	w.press("Save", w.written(w.fileOf("pages-cycle.svg"), "<", "</svg>"))
	w.menu(w.shows(opensIt), "File", "Save job sheet…")
	w.click("whether it is opened", opensIt, w.shows(valued(opensIt, "false")))
	w.press("Save…", w.shows(fileName))
	sheet := w.fileOf("pages-sheet.pdf")
	w.press("Save", w.written(sheet, "%PDF-", "%%EOF"))
	w.says("“pages-sheet.pdf” was written to the folder " + w.fileOf("") + ".")
	w.press("Close", w.hides(closeButton))

	w.menu(w.shows(opensIt), "File", "Save job sheet…")
	w.click("whether it is opened", opensIt, w.shows(valued(opensIt, "true")))
	w.press("Save…", w.shows(fileName))
	w.press("Save", w.shows(button("Replace")))
	w.press("Replace", w.reads("No program on this computer opens it."))
	w.says("“pages-sheet.pdf” was written to the folder " + w.fileOf("") + ".")
	w.press("Close", w.hides(closeButton))
}

// kept: all of it is in the file, and the program ends by its menu.
func (w mouse) kept() {
	w.t.Helper()
	w.menu(w.titled(savedTitle), "File", "Save")
	w.theWholeWalk()
	if got := dowelIn(w.t, w.path); got < 0 {
		w.t.Errorf("the slider was put far ahead, the file has the dowel at %g", got)
	}
	if g := jobIn(w.t, w.path).Gears; g == nil || g.CamTeethOut != 1 {
		w.t.Errorf("the file has the gears %+v", g)
	}
	w.until("the end of the program", func() bool { w.win.menu("File", "Quit"); return true })
	w.ended()
}
