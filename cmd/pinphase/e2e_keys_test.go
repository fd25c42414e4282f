//go:build e2e

package main

import (
	"fmt"
	"strings"
)

// keys walks through the window with the keyboard alone.
type keys struct{ walk }

var (
	closeButton    = button("Close")
	cycleFigure    = the(kind("CycleView"))
	traces         = the(kind("TraceView"))
	gearFigure     = the(kind("GearsView"))
	engineFigure   = the(kind("EngineView"))
	theBoard       = the(kind("BoardView"))
	themeList      = the(func(t thing) bool { return t.Kind == "DialogSelect" && (t.Value == "light" || t.Value == "dark") })
	measured       = fieldOf("Angle") // the dowel's, the first on the page
	fileName       = fieldOf("File name")
	opensIt        = the(beginning("Open it afterwards"))
	exerciseNumber = the(func(t thing) bool { return t.Says == "a whole number" })
	secondCause    = func(s shown) (thing, bool) { return nth(s, kind("Bar"), 1) }
	secondInList   = func(s shown) (thing, bool) { return nth(s, kind("listItem"), 1) }
)

// The window's title while something is to be saved, and while nothing is.
const (
	savedTitle   = "pages.toml – Pinphase"
	changedTitle = "• " + savedTitle
)

// tour: the first start has one. While it is on the arrow keys lead through it,
// afterwards they turn the crank.
func (w keys) tour() {
	w.t.Helper()
	w.sees("the tour", button("Skip the tour"))
	w.key("Return", w.reads("2 of "))
	w.key("Right", w.reads("3 of "))
	w.key("Left", w.reads("2 of "))
	if at := w.crank(); at != 0 {
		w.t.Errorf("the tour's arrow keys turn the crank to %g°", at)
	}
	w.key("Escape", w.hides(button("Skip the tour")))
	w.keepsChoice("tour.seen", true)
	w.repaints("the cycle figure", cycleFigure, 0.0005, func() { w.win.key("shift+Right") })
	w.crankAt(10)
}

// window: what lies over the pages.
func (w keys) window() {
	w.t.Helper()
	w.key("F1", w.reads("Help: Cycle"))
	w.key("Escape", w.hides(closeButton))

	w.key("ctrl+t", w.shows(themeList))
	w.picks("the theme", themeList, "dark")
	w.until("the window to be dark", w.dark)
	w.keepsChoice("theme", "dark")
	w.picks("the theme", themeList, "light")
	w.until("the window to be light", func() bool { return !w.dark() })
	w.key("Escape", w.hides(closeButton))

	w.key("ctrl+l", w.shows(button("My engines")))
	w.tabTo("the layouts", the(kind("libraryList")))
	w.key("Down", w.shows(chosen(secondInList)))
	w.key("Down", w.hides(chosen(secondInList)))
	w.pushes("Copy into the job", w.titled(changedTitle))
	w.goes("the library", button("My engines"))
	w.key("ctrl+z", w.titled(savedTitle))

	size := func() string {
		at := w.sees("the crank's angle", fieldOf("Crankshaft at")).Place
		return at.Size().String()
	}
	usual := size()
	w.key("ctrl+minus", w.changes(size))
	w.keepsChoice("text.size", nil)
	w.key("ctrl+equal", w.becomes(size, usual))
}

// board: question, answer, on, back, leave.
func (w keys) board() {
	w.t.Helper()
	w.openBoard(func() { w.win.key("F5") })
	question := w.boardSays()
	w.repaints("the board", theBoard, 0.001, func() { w.win.key("Right") })
	w.key("Right", w.changes(w.boardSays))
	w.repaints("the board", theBoard, 0.001, func() { w.win.key("Left") })
	w.key("Left", w.becomes(w.boardSays, question))
	w.leaveBoard(func() { w.win.key("Escape") })
}

// pages: each by its key.
func (w keys) pages() {
	w.t.Helper()
	for i := len(pageNames) - 1; i >= 0; i-- {
		w.goesTo(i)
		w.key("F1", w.reads("Help: "+pageNames[i]))
		w.key("Escape", w.hides(closeButton))
	}
}

// goesTo shows a page by its key.
func (w keys) goesTo(i int) {
	w.t.Helper()
	w.key(fmt.Sprintf("ctrl+%d", i+1), w.shows(chosen(button(pageNames[i]))))
}

func (w keys) cycle() {
	w.t.Helper()
	at := fieldOf("Crankshaft at")
	w.key("ctrl+g", w.shows(focused(at)))
	w.typed("90", w.shows(valued(at, "90")))
	w.step("Return", w.repainted(cycleFigure), func() { w.win.key("Return") })
	w.crankAt(90)
	bore := fieldOf("Bore")
	w.tabTo("the bore", bore)
	w.typed("96", w.shows(valued(bore, "96")))
	w.dirty()
	slider := fieldOf("Dowel at")
	w.tabTo("the dowel's slider", slider)
	was := w.value(slider)
	w.key("Right", w.changes(w.valueOf(slider)))
	w.pushes(asMeasured, w.becomes(w.valueOf(slider), was))
	w.key("ctrl+z", w.titled(savedTitle))
}

func (w keys) part() {
	w.t.Helper()
	w.goesTo(1)
	w.tabTo("the measured angle", measured)
	w.typed("11", w.titled(changedTitle))
	w.key("ctrl+s", w.titled(savedTitle))
	if got := dowelIn(w.t, w.path); got != -11 {
		w.t.Errorf("11° was typed, the file has %g", got)
	}
	w.pushes("Keyway", w.shows(chosen(button("Keyway"))))
	w.pushes("True TDC and marks", w.shows(chosen(button("True TDC and marks"))))
	w.pushes("Dowel", w.shows(chosen(button("Dowel"))))
	w.pushes("Another method…", w.shows(the(kind("Card"))))
	w.pushes("Keep the present method", w.hides(the(kind("Card"))))
}

func (w keys) light() {
	w.t.Helper()
	w.goesTo(2)
	slider := fieldOf("Compression")
	w.tabTo("the compression's slider", slider)
	w.key("Right", w.changes(w.valueOf(slider)))
	w.key("Right", w.changes(w.valueOf(slider)))
	w.pushes(intoTheJob, w.titled(changedTitle))
}

func (w keys) signals() {
	w.t.Helper()
	w.goesTo(3)
	w.tabTo("the traces", traces)
	w.repaints("the traces", traces, 0.01, func() { w.win.key("plus", "plus") })
	w.repaints("the traces", traces, 0.01, func() { w.win.key("0") })

	// What is predicted is written, and read as if it had been recorded.
	entry := the(func(t thing) bool { return t.Kind == "menuItem" && t.Focused })
	w.key("Alt_L", w.shows(the(kind("menuItem"))))
	w.until("the entry of the menu", func() bool {
		t, ok := entry(w.look())
		if ok && strings.HasPrefix(t.Says, "Save the predicted signals") {
			return true
		}
		w.win.key("Down")
		return false
	})
	w.key("Return", w.shows(focused(fileName)))
	w.names("predicted.csv", w.written(w.fileOf("predicted.csv"), "", ""))

	w.key("ctrl+shift+o", w.shows(focused(the(kind("pickerList")))))
	file := the(words("predicted.csv"))
	w.sees("the file", file)
	w.until("the file to be picked", func() bool {
		if t, ok := w.look().find(named("Open")); ok && !t.Disabled {
			return true
		}
		w.win.key("Down")
		return false
	})
	w.key("Return", w.shows(enabled(button("Use as evidence"))))
	w.pushes("Use as evidence", w.shows(disabled(button("Use as evidence"))))
}

// names answers the question for a file's name.
func (w keys) names(file string, e effect) {
	w.t.Helper()
	w.sees("the name's field with the keyboard", focused(fileName))
	w.typed(file, w.shows(valued(fileName, file)))
	w.key("Return", e)
}

func (w keys) cause() {
	w.t.Helper()
	w.goesTo(4)
	starts := after("It starts with everything plugged in", "yes")
	w.tabTo("that it starts", starts)
	w.key("space", w.weighs(chosen(starts)))
	w.tabTo("the second cause", secondCause)
	w.key("Return", w.shows(chosen(secondCause)))
	w.key("Down", w.hides(focused(secondCause)))
}

func (w keys) gears() {
	w.t.Helper()
	w.goesTo(5)
	idlers := fieldOf("Idler gears, teeth")
	w.tabTo("the idlers' teeth", idlers)
	w.repaints("the gears", gearFigure, 0.01, func() { w.typed("53", w.shows(valued(idlers, "53"))) })
	w.pushes("+1 turn", w.changes(w.texts))
}

// course: the piston is 120° after TDC at first, and is turned back to it.
func (w keys) course() {
	w.t.Helper()
	w.goesTo(6)
	w.key("Return", w.reads("Not correct yet."))
	for range 12 {
		w.repaints("the engine", engineFigure, 0.0005, func() { w.win.key("shift+Left") })
	}
	w.key("Return", w.reads("Correct."))
	w.says("1 of 14 steps done")
	w.key("Return", w.reads("Put the cursor where this cylinder compresses."))
}

func (w keys) practice() {
	w.t.Helper()
	w.goesTo(7)
	field := fieldOf("Degrees before or after firing TDC (±0.5°)")
	w.sees("the answer's field with the keyboard", focused(field))
	w.typed("777 before", w.shows(valued(field, "777 before")))
	power := button("1  power")
	w.key("Return", w.hides(focused(field)))
	w.key("1", w.shows(chosen(power)))
	w.key("Return", w.reads("Not correct yet."))
	w.sees("the field again, with the keyboard", focused(field))
	w.pushes("I do not know", w.reads("This is how it is found."))
	w.pushes("Next question", w.shows(button("I do not know")))
	w.pushes("I do not know", w.reads("This is how it is found."))
	w.until("the score to be kept", func() bool { asked, _ := w.homes.answered(); return asked == 2 })
	w.pushes("Score", w.shows(chosen(button("Score"))))
	w.says("0 of 2")
	w.pushes("What is asked", w.shows(chosen(button("What is asked"))))
	w.tabTo("the exercise's number", exerciseNumber)
	w.typed("7", w.shows(valued(exerciseNumber, "7")))
	w.key("Return", w.reads("Question 1 of 20"))
}

// lesson: the open job's engine, whose firing order is then a page, saved.
func (w keys) lesson() {
	w.t.Helper()
	w.goesTo(8)
	w.pushes("Add the open job", w.reads("1 of 4"))
	w.pushes("→", w.reads("2 of 4"))
	w.pushes("Save the lesson…", w.shows(fileName))
	w.names("keys.lesson", w.written(w.fileOf("keys.lesson"), "format = 1", "'firing_order'"))
}

// paper: a figure and a sheet as PDF.
func (w keys) paper() {
	w.t.Helper()
	w.goesTo(0)
	w.key("ctrl+e", w.shows(button("PDF")))
	w.pushes("PDF", w.shows(chosen(button("PDF"))))
	w.pushes("Save…", w.shows(fileName))
	w.names("figure.pdf", w.written(w.fileOf("figure.pdf"), "%PDF-", "%%EOF"))
	w.key("ctrl+p", w.shows(opensIt))
	w.tabTo("whether it is opened", opensIt)
	w.key("space", w.shows(valued(opensIt, "false")))
	w.pushes("Save…", w.shows(fileName))
	w.names("sheet.pdf", w.written(w.fileOf("sheet.pdf"), "%PDF-", "%%EOF"))
	w.says("“sheet.pdf” was written to the folder " + w.fileOf("") + ".")
	w.key("Escape", w.hides(closeButton))
}

// kept: all of it is in the file, and can be taken back.
func (w keys) kept() {
	w.t.Helper()
	w.key("ctrl+s", w.titled(savedTitle))
	w.theWholeWalk()
	w.idlers(53)
	w.key("ctrl+z", w.titled(changedTitle))
	w.key("ctrl+y", w.titled(savedTitle))
	w.until("the end of the program", func() bool { w.win.key("ctrl+q"); return true })
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
