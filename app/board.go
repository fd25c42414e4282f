package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/plate"
	"pinphase.org/pinphase/widgets"
)

// board is what is shown to a class: a window of its own with nothing in it but
// a figure and a sentence, so that the program's window can stay on the
// instructor's screen while the board is on the projector. It follows the open
// job.
type board struct {
	u      *ui
	window fyne.Window
	view   *widgets.BoardView
	hint   *boardHint
	deck   plate.Deck
	run    *desk.Runner

	page   int
	ready  bool // its window has been opened and shows pages
	shown  plate.PageView
	dark   bool
	blank  bool // nothing is shown, for the class to look elsewhere
	closed bool
}

// openBoard shows the open job to a class, on the screen where the window comes
// up or, if there is one, on the second screen. One that is shown already comes
// to the front.
func (u *ui) openBoard(second bool) {
	if u.board != nil {
		u.board.window.RequestFocus()
		return
	}
	u.Run.Stop()
	b := &board{u: u, view: widgets.NewBoardView(), dark: u.boardDark()}
	b.run = desk.NewRunner(u.Prefs, b.turn, b.show)
	b.window = u.App.NewWindow(tr("Board – Pinphase"))
	b.window.SetPadded(false)
	b.hint = newBoardHint(func(on bool) { b.view.Pointer = on }, b.Key)
	b.window.SetContent(container.NewStack(b.view, b.hint.content))
	b.window.Resize(fyne.NewSize(1280, 720)) // until it is full, and where it cannot be
	b.keys()
	b.window.SetOnClosed(b.gone)
	u.board = b
	b.view.SetGround(b.style())
	b.load()
	b.full(second)
	b.window.Show()
	b.window.Canvas().Focus(b.view)
	// Opening a window and painting as many pixels as a screen has each take their time:
	// the page comes a frame later.
	fyne.Do(func() {
		if !b.closed {
			b.ready = true
			b.show()
			b.hint.flashKeys()
		}
	})
}

// style is how the board is painted.
func (b *board) style() figure.Style {
	if b.dark {
		return figure.BoardDark()
	}
	return figure.BoardLight()
}

// boardDark tells whether boards are dark: as chosen there last, else as the
// window is.
func (u *ui) boardDark() bool {
	v := u.Look.Choice == "dark" || u.Look.Choice == "system" && u.App.Settings().ThemeVariant() == theme.VariantDark
	return u.Prefs.BoolWithFallback(desk.PrefBoardDark, v)
}

// full fills a screen. The toolkit knows the screen that the window is on and
// the second one; any other is reached by dragging the window there and filling
// it (F11).
func (b *board) full(second bool) {
	if second {
		d, many := b.u.App.Driver().(desktop.Driver)
		if w, ok := b.window.(desktop.Window); ok && many && d.HasSecondaryDisplay() {
			w.RequestFullScreenSecondary()
			return
		}
	}
	b.window.SetFullScreen(true)
}

// load shows the session's newest sound job, from the page that was shown. It
// does nothing while there is no board.
func (b *board) load() {
	if b == nil {
		return
	}
	deck, err := plate.NewDeck(b.u.Shown(), plate.DeckOptions{ByNumber: b.u.ByNumber, From: b.u.From, Say: say})
	if err != nil {
		return // a sound job has an engine
	}
	chapter := plate.FiringOrder
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
func (b *board) show() {
	if !b.ready {
		return
	}
	in := figure.BoardInput{}
	if !b.blank {
		in = b.deck.Page(b.page, b.shown)
	}
	b.view.SetPage(in, b.style(), b.run.On())
}

// turn turns the crank on from where it stands.
func (b *board) turn(by timing.Deg) {
	b.shown.Turned += by
	b.show()
}

// forward asks for the answer, and after it goes to the next page.
func (b *board) forward() {
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
func (b *board) back() {
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
func (b *board) open(page int) {
	b.run.Stop()
	b.page, b.blank = page, false
	b.shown.Turned, b.shown.Answer = 0, false
	b.show()
}

func (b *board) chapter(c plate.Chapter) {
	if page, ok := b.deck.First(c); ok {
		b.open(page)
	}
}

// Leave closes the board.
func (b *board) Leave() {
	b.run.Stop()
	b.window.Close()
}

// gone is told that the window is closed, however that came about.
func (b *board) gone() {
	if b.closed {
		return
	}
	b.closed = true
	b.run.Stop()
	b.hint.stop()
	b.u.board = nil
	b.u.Window.RequestFocus()
}
