// Package board is what is shown to a class.
package board

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/lesson/plan"
	"pinphase.org/pinphase/widgets"
)

// Board is what is shown to a class: a window of its own with nothing in it but
// a figure and a sentence, so that the program's window can stay on the
// instructor's screen while the board is on the projector. It follows the open
// job.
type Board struct {
	desk   *desk.Desk
	Window fyne.Window
	View   *widgets.BoardView
	hint   *boardHint
	deck   chart.Deck
	lesson *plan.Lesson // shown in place of the open job; nil: none
	run    *desk.Runner

	page   int
	ready  bool // its window has been opened and shows pages
	shown  chart.PageView
	dark   bool
	blank  bool // nothing is shown, for the class to look elsewhere
	closed bool

	speedSet func(float64) // is told how fast the crank shall run from now on
	onGone   func()        // is told that the board is closed
}

// Open shows the open job to a class, or a lesson where it is not nil, on the screen where
// the window comes up or, if there is one, on the second screen. speed is told of another
// speed of the crank, gone that the board is closed.
func Open(d *desk.Desk, lesson *plan.Lesson, second bool, speed func(float64), gone func()) *Board {
	d.Run.Stop()
	b := &Board{desk: d, lesson: lesson, View: widgets.NewBoardView(), dark: darkAt(d), speedSet: speed, onGone: gone}
	b.run = desk.NewRunner(d.Prefs, b.turn, b.show)
	b.Window = d.App.NewWindow(tr("Board – Pinphase"))
	b.Window.SetPadded(false)
	b.hint = newBoardHint(func(on bool) { b.View.Pointer = on }, b.act)
	b.Window.SetContent(container.NewStack(b.View, b.hint.content))
	b.Window.Resize(fyne.NewSize(1280, 720)) // until it is full, and where it cannot be
	b.keys()
	b.Window.SetOnClosed(b.gone)
	b.View.SetGround(b.style())
	b.Load()
	b.full(second)
	b.Window.Show()
	kit.ClickWhereItIs(b.Window)
	b.Window.Canvas().Focus(b.View)
	// Opening a window and painting as many pixels as a screen has each take their time:
	// the page comes a frame later.
	fyne.Do(func() {
		if !b.closed {
			b.ready = true
			b.show()
			b.hint.flashKeys()
		}
	})
	return b
}

// style is how the board is painted.
func (b *Board) style() figure.Style {
	if b.dark {
		return figure.BoardDark()
	}
	return figure.BoardLight()
}

// darkAt tells whether boards are dark: as chosen there last, else as the
// window is.
func darkAt(d *desk.Desk) bool {
	return d.Prefs.BoolWithFallback(desk.PrefBoardDark, d.Look.Dark(d.App.Settings().ThemeVariant()))
}

// full fills a screen. The toolkit knows the screen that the window is on and
// the second one; any other is reached by dragging the window there and filling
// it (F11).
func (b *Board) full(second bool) {
	if second {
		d, many := b.desk.App.Driver().(desktop.Driver)
		if w, ok := b.Window.(desktop.Window); ok && many && d.HasSecondaryDisplay() {
			w.RequestFullScreenSecondary()
			return
		}
	}
	b.Window.SetFullScreen(true)
}

// Show shows a lesson from its beginning, or the open job where it is nil.
func (b *Board) Show(lesson *plan.Lesson) {
	b.lesson, b.deck = lesson, chart.Deck{}
	b.page, b.shown, b.blank = 0, chart.PageView{Names: b.shown.Names}, false
	b.run.Stop()
	b.Load()
}

// HasLesson tells whether a lesson is shown.
func (b *Board) HasLesson() bool { return b.lesson != nil }

// Load shows the session's newest sound job, or the lesson, from the page that was shown.
// It does nothing while there is no board.
func (b *Board) Load() {
	if b == nil {
		return
	}
	options := chart.DeckOptions{ByNumber: b.desk.ByNumber, From: b.desk.From, Say: say}
	if b.lesson != nil {
		if deck, err := chart.NewLessonDeck(*b.lesson, options); err == nil { // its jobs are sound
			b.deck, b.page = deck, min(b.page, deck.Len()-1)
			b.show()
		}
		return
	}
	deck, err := chart.NewDeck(b.desk.Shown(), options)
	if err != nil {
		return // a sound job has an engine
	}
	chapter := chart.FiringOrder
	if b.deck.Len() > 0 {
		chapter = b.deck.Chapter(b.page)
	}
	b.deck = deck
	if b.page >= deck.Len() || deck.Chapter(b.page) != chapter {
		b.page, _ = deck.First(chapter)
	}
	b.show()
}

// show shows the page as it stands.
func (b *Board) show() {
	if !b.ready {
		return
	}
	in := figure.BoardInput{}
	if !b.blank {
		in = b.deck.Page(b.page, b.shown)
	}
	b.View.SetPage(in, b.style(), b.run.On())
}

// Drawn is the page that is shown, for a file; without a board, the fault with its answer.
// It is made from the job as the desk shows it now: a file may leave out what is supposed.
func (b *Board) Drawn(d *desk.Desk, box figure.Box) (figure.Drawing, error) {
	deck, err := chart.NewDeck(d.Shown(), chart.DeckOptions{ByNumber: d.ByNumber, From: d.From, Say: say})
	if err != nil {
		return figure.Drawing{}, err
	}
	page, _ := deck.First(chart.Fault)
	view := chart.PageView{Answer: true}
	if b != nil && b.deck.Len() > 0 {
		page, view = b.page, b.shown
		if chapter := b.deck.Chapter(b.page); page >= deck.Len() || deck.Chapter(page) != chapter {
			page, _ = deck.First(chapter)
		}
	}
	drawn := figure.Board(deck.Page(page, view), box.W/box.H)
	return drawn.Scaled(min(box.W/drawn.W, box.H/drawn.H)), nil
}

// turn turns the crank on from where it stands.
func (b *Board) turn(by timing.Deg) {
	b.shown.Turned += by
	b.show()
}

// forward asks for the answer, and after it goes to the next page.
func (b *Board) forward() {
	switch {
	case b.blank:
		b.blank = false
	case !b.shown.Answer:
		b.shown.Answer = true
	case b.page < b.deck.Len()-1:
		b.open(b.page + 1)
		return
	}
	b.show()
}

// back goes the same way back: from an answer to its question, from a question to
// the page before with its answer. A crank that has turned goes back first.
func (b *Board) back() {
	switch {
	case b.blank:
		b.blank = false
	case b.run.On() || b.shown.Turned != 0:
		b.run.Stop()
		b.shown.Turned = 0
	case b.shown.Answer:
		b.shown.Answer = false
	case b.page > 0:
		b.open(b.page - 1)
		b.shown.Answer = true
	}
	b.show()
}

// open shows a page with its question.
func (b *Board) open(page int) {
	b.run.Stop()
	b.page, b.blank = page, false
	b.shown.Turned, b.shown.Answer = 0, false
	b.show()
}

func (b *Board) chapter(c chart.Chapter) {
	if page, ok := b.deck.First(c); ok {
		b.open(page)
	}
}

// Leave closes the board.
func (b *Board) Leave() {
	b.run.Stop()
	b.Window.Close()
}

// gone is told that the window is closed, however that came about.
func (b *Board) gone() {
	if b.closed {
		return
	}
	b.closed = true
	b.run.Stop()
	b.hint.stop()
	b.onGone()
}
