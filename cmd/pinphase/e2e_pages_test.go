//go:build e2e

package main

import (
	"bytes"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pinphase/timing/job"
	"pinphase/timing/lesson"
)

// The pages, in the order of their tabs.
const (
	cyclePage = iota
	partPage
	lightPage
	signalsPage
	causePage
	gearsPage
	practicePage
	pageCount
)

// boardTitle is how the name of the window for a class begins.
const boardTitle = "^Board "

// jobIn reads a job file.
func jobIn(t testing.TB, path string) job.Job {
	t.Helper()
	doc, err := job.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return doc.Job()
}

// answered tells how many questions of the practice page were answered, by the
// score that is kept.
func (h homes) answered() int {
	data, err := os.ReadFile(h.own("practice.json"))
	if err != nil {
		return 0
	}
	r, err := lesson.ReadRecord(data)
	if err != nil {
		return -1
	}
	n := 0
	for _, s := range r.Kinds {
		n += s.Asked
	}
	return n
}

// own is a file in the program's own folder.
func (h homes) own(name string) string {
	dir, _ := strings.CutPrefix(h[1], "XDG_CONFIG_HOME=")
	return filepath.Join(dir, "fyne", "org.pinphase.desktop", name)
}

// wholeFile waits until a file is there from its beginning to its end.
func (w *win) wholeFile(path, begin, end string) {
	w.t.Helper()
	w.until(path, func() bool {
		data, err := os.ReadFile(path)
		return err == nil && bytes.HasPrefix(data, []byte(begin)) && bytes.HasSuffix(bytes.TrimSpace(data), []byte(end))
	})
}

func TestEveryPageByKeyboard(t *testing.T) {
	binary, path := build(t), copyOf(t, "pages.toml")
	homes := homesWith(t, fmt.Sprintf(`{"theme":"light","job.last":%q}`, path))

	// The first start has a tour. While it is on the arrow keys lead through it,
	// afterwards they turn the crank.
	w := open(t, binary, homes)
	w.titleIs("pages.toml – Pinphase")
	x := w.cursorX()
	w.does("the tour to go on", whole, 2000, func() { w.key("Return") })
	w.does("the tour to go on", whole, 2000, func() { w.key("Right") })
	if now := w.cursorX(); !near(now, x, 2) {
		t.Errorf("the tour's arrow key moves the cursor from %d to %d", x, now)
	}
	w.does("the tour to end", whole, 2000, func() { w.key("Escape") })
	w.key("shift+Right")
	w.until("the arrow keys to turn the crank", func() bool { return near(w.cursorX(), x+9, 3) })

	w.does("help", whole, windowWidth*windowHeight/10, func() { w.key("F1") })
	w.does("help to go", whole, windowWidth*windowHeight/10, func() { w.key("Escape") })
	w.does("the settings", whole, windowWidth*windowHeight/10, func() { w.key("ctrl+t") })
	w.does("the settings to go", whole, windowWidth*windowHeight/10, func() { w.key("Escape") })

	w.key("F5")
	board := w.other(boardTitle)
	question := pictureOf(board)
	w.until("the board's first picture", func() bool { question = pictureOf(board); return question != nil && colours(question) > 10 })
	w.key("Right")
	w.until("the board's answer", func() bool { now := pictureOf(board); return now != nil && changed(question, now) > 2000 })
	w.key("Escape")
	w.gone(boardTitle)
	w.xdo("windowactivate", w.id)
	w.settle()

	at, _ := w.tabs()
	if len(at) < pageCount {
		t.Fatalf("%d tabs of pages are found, there should be %d", len(at), pageCount)
	}
	for page := pageCount - 1; page >= 0; page-- {
		w.does("another page", below, 5000, func() { w.key(fmt.Sprintf("ctrl+%d", page+1)) })
		w.shows(page)
	}

	// Cycle: an angle is typed, the cursor is there.
	w.key("ctrl+g", "ctrl+a")
	w.typed("90")
	w.key("Return")
	w.until("the cursor at 90°", func() bool { return near(w.cursorX(), x+82, 4) })

	// Part: a reading.
	w.key("ctrl+2")
	w.shows(partPage)
	w.tabTo("the measured angle", partAngle)
	w.key("ctrl+a")
	w.typed("11")
	w.titleIs("• pages.toml – Pinphase")
	w.key("ctrl+s")
	w.titleIs("pages.toml – Pinphase")
	if got := dowelIn(t, path); got != -11 {
		t.Errorf("11° was typed, the file has %g", got)
	}

	// Light-off: a slider.
	w.key("ctrl+3")
	w.shows(lightPage)
	w.tabTo("the compression's slider", compressKnob)
	w.does("another compression", below, 500, func() { w.key("Right", "Right") })
	w.titleIs("• pages.toml – Pinphase")

	// Signals: the traces are a figure of their own, at which keys zoom.
	w.key("ctrl+4")
	w.shows(signalsPage)
	seen := w.picture()
	w.tabTo("the traces", image.Rect(4, 242, 1276, 246)) // the frame round them
	w.does("the traces from nearer", image.Rect(60, 290, 1200, 560), 5000, func() { w.key("plus", "plus") })
	w.key("0")
	w.until("all of the traces", func() bool { return changedIn(seen, w.picture(), image.Rect(60, 290, 1200, 560)) < 500 })

	// Cause: what is known.
	w.key("ctrl+5")
	w.shows(causePage)
	w.tabTo("that it starts", startsYes)
	w.does("other causes", image.Rect(422, 145, 1270, 800), 1000, func() { w.key("space") })

	// Gears: how many teeth.
	w.key("ctrl+6")
	w.shows(gearsPage)
	w.tabTo("the idlers' teeth", idlerGears)
	w.does("another gear", image.Rect(390, 210, 1270, 540), 1000, func() { w.typed("53") })

	// Practice: the button beside the one that stands out gives up.
	w.key("ctrl+7")
	w.shows(practicePage)
	w.tabTo("not knowing", w.giveUp())
	w.does("the explanation", practiceAnswer, 2000, func() { w.key("space") })
	w.until("the score to be kept", func() bool { return homes.answered() == 1 })

	// All of it is in the file, and can be taken back.
	w.key("ctrl+1", "ctrl+s")
	w.titleIs("pages.toml – Pinphase")
	j := jobIn(t, path)
	if j.Engine.CompressionRatio.Value <= 17.5 || j.Gears == nil || !slices.Equal(j.Gears.IdlerTeeth, []int{53}) {
		t.Errorf("the file has a compression of %g and the gears %+v", j.Engine.CompressionRatio.Value, j.Gears)
	}
	if len(j.Evidence) != 1 || j.Evidence[0].Kind != "starts" || j.Evidence[0].Value != true {
		t.Errorf("the file has the evidence %+v, wanted that it starts", j.Evidence)
	}
	w.shows(cyclePage)
	w.key("ctrl+z")
	w.titleIs("• pages.toml – Pinphase")
	w.key("ctrl+y")
	w.titleIs("pages.toml – Pinphase")

	// A figure as PDF.
	pdf := filepath.Join(filepath.Dir(path), "figure.pdf")
	w.does("the figure to be saved", whole, windowWidth*windowHeight/10, func() { w.key("ctrl+e") })
	w.settle()
	w.does("the question for a name", whole, 5000, func() { w.key("space") }) // on Save, which has the keyboard
	w.key("ctrl+a")
	w.typed("figure.pdf")
	w.key("Return")
	w.wholeFile(pdf, "%PDF-", "%%EOF")

	w.key("ctrl+q")
	w.ended()
	if kept := read(t, homes.own("preferences.json")); !strings.Contains(kept, `"tour.seen":true`) {
		t.Errorf("that the tour was seen is not kept: %s", kept)
	}
}

func TestEveryPageByMouse(t *testing.T) {
	binary, path := build(t), copyOf(t, "pages.toml")
	homes := newHomes(t)
	w := open(t, binary, homes, path)
	w.titleIs("pages.toml – Pinphase")

	at, shown := w.tabs()
	if len(at) < pageCount || shown != cyclePage {
		t.Fatalf("%d tabs of pages are found and number %d is shown; there should be %d, the first of them shown", len(at), shown+1, pageCount)
	}
	tab := func(page int) {
		t.Helper()
		w.does("another page", below, 5000, func() { w.click(at[page]) })
		w.shows(page)
	}

	// Cycle: the figure, a button, the slider.
	x, y := w.cursor()
	w.click(image.Pt(x+200, y))
	w.until("the cursor where was clicked", func() bool { return near(w.cursorX(), x+200, 3) })
	w.click(onByTen)
	w.until("the cursor ten degrees on", func() bool { return near(w.cursorX(), x+209, 3) })
	w.click(behindTheKnob)
	w.titleIs("• pages.toml – Pinphase")

	tab(partPage)
	w.does("the keyway", below, 5000, func() { w.click(partKeyway) })

	tab(lightPage)
	w.does("another compression", below, 500, func() { w.click(compression) })

	// Signals: buttons and wheel.
	tab(signalsPage)
	figure := image.Rect(60, 290, 1200, 560)
	seen := w.picture()
	w.does("the traces from nearer", figure, 5000, func() { w.click(zoomIn) })
	w.click(zoomOut)
	w.until("all of the traces", func() bool { return changedIn(seen, w.picture(), figure) < 500 })
	w.does("the traces from nearer", figure, 5000, func() {
		w.xdo("mousemove", "--window", w.id, fmt.Sprint(traces.X), fmt.Sprint(traces.Y), "click", "4", "click", "4")
	})

	// Cause: another cause, and what is known.
	tab(causePage)
	w.does("another cause", image.Rect(422, 520, 840, 790), 1000, func() { w.click(secondCause) })
	w.does("other causes", image.Rect(422, 145, 1270, 800), 1000, func() { w.click(centre(startsYes)) })

	// Gears: a tooth out is supposed and then found.
	tab(gearsPage)
	w.does("a tooth out", below, 500, func() { w.click(toothMore) })
	w.settle()
	w.does("it found so", below, 5000, func() { w.click(toothFound) }) // the heading has a line less

	tab(practicePage)
	w.does("the explanation", practiceAnswer, 2000, func() { w.click(centre(w.giveUp())) })
	w.until("the score to be kept", func() bool { return homes.answered() == 1 })

	w.menu(fileMenu, fileSave)
	w.titleIs("pages.toml – Pinphase")
	j := jobIn(t, path)
	if got := dowelIn(t, path); got < 0 {
		t.Errorf("the slider was put far ahead, the file has the dowel at %g", got)
	}
	if j.Engine.CompressionRatio.Value <= 17.5 || j.Gears == nil || j.Gears.CamTeethOut != 1 {
		t.Errorf("the file has a compression of %g and the gears %+v", j.Engine.CompressionRatio.Value, j.Gears)
	}
	if len(j.Evidence) != 1 || j.Evidence[0].Kind != "starts" || j.Evidence[0].Value != true {
		t.Errorf("the file has the evidence %+v, wanted that it starts", j.Evidence)
	}

	// What lies over a page goes by its own button, which is the lowest.
	tab(cyclePage)
	w.does("the settings", whole, windowWidth*windowHeight/10, func() { w.menu(editMenu, editSettings) })
	w.settle()
	w.does("the settings to go", whole, windowWidth*windowHeight/10, func() { w.click(image.Pt(640, 688)) })
	w.settle()
	w.does("help", whole, windowWidth*windowHeight/10, func() { w.menu(helpMenu, helpPage) })
	w.settle()
	w.does("help to go", whole, windowWidth*windowHeight/10, func() { w.click(image.Pt(640, 667)) })
	w.settle()

	// The tour goes on by its button.
	before := w.picture()
	w.menu(helpMenu, helpTour)
	steps := 0
	for ; ; steps++ {
		w.settle()
		next := w.blob(below)
		if next.Empty() || steps > 20 {
			break
		}
		w.does("the tour to go on", whole, 500, func() { w.click(centre(next)) })
	}
	if steps < 2 || changed(before, w.picture()) > 2000 {
		t.Errorf("after %d steps of the tour, %d pixels differ from before it", steps, changed(before, w.picture()))
	}

	// A figure as it is proposed, SVG.
	w.does("the figure to be saved", whole, windowWidth*windowHeight/10, func() { w.menu(fileMenu, fileSaveCycle) })
	w.settle()
	w.click(saveFigure)
	w.until("the question for a name", func() bool { return !w.blob(nameDialog).Empty() })
	w.settle()
	w.click(centre(w.blob(nameDialog)))
	w.wholeFile(filepath.Join(filepath.Dir(path), "pages-cycle.svg"), "<", "</svg>")
	w.settle()
	w.key("Escape") // whatever still lies over the page
	w.settle()

	// The board, which answers a click; the screen it fills is left by a key.
	entry := pageCount + 6
	w.menu(viewMenu, entry)
	board := w.other(boardTitle)
	question := pictureOf(board)
	w.until("the board's first picture", func() bool { question = pictureOf(board); return question != nil && colours(question) > 10 })
	w.xdo("mousemove", "600", "400", "click", "1")
	w.until("the board's answer", func() bool { now := pictureOf(board); return now != nil && changed(question, now) > 2000 })
	w.xdo("key", "Escape")
	w.gone(boardTitle)
	w.xdo("windowactivate", w.id)

	w.key("ctrl+q")
	w.ended()
}

// giveUp is the button right of the one that stands out on the practice page.
func (w *win) giveUp() image.Rectangle {
	w.t.Helper()
	var check image.Rectangle
	w.until("the button that checks", func() bool { check = w.blob(practiceAnswer); return !check.Empty() })
	return image.Rect(check.Max.X+12, check.Min.Y+4, check.Max.X+100, check.Max.Y-4)
}

func centre(r image.Rectangle) image.Point { return r.Min.Add(r.Size().Div(2)) }
