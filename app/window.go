package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/board"
	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/jobs"
	"pinphase.org/pinphase/timing/lesson/glossary"
)

// ui is the running program: one window that shows the desk.
type ui struct {
	*desk.Desk
	head  *head
	pages *pages
	menu  *menus
	board *board.Board // nil unless something is shown to a class
	tour  *tour        // nil unless it is on

	manual  *manualWindow // nil unless it is open
	words   glossary.Book // see book
	wordsOf string        // the language they are in; "": they were not read yet

	asking bool // a question about unsaved changes is on the screen

	readJobs map[string]jobs.Entry // files that the list of jobs has read, by path
}

// newUI builds the window on the demo job; open gives it another. own is the program's
// own folder.
func newUI(a fyne.App, kept desk.Choices, own string) *ui {
	u := &ui{Desk: desk.New(a, kept, own), readJobs: map[string]jobs.Entry{}}
	u.Shell, u.OtherKey = u, u.Key
	forgetFonts(a.Settings())
	a.SetIcon(fyne.NewStaticResource("icon.png", assets.IconPNG))
	u.Window.SetMaster()
	u.build(0)
	u.Window.SetCloseIntercept(u.quit)
	u.Window.SetOnDropped(u.dropped)
	u.addKeys()
	u.Changed()
	return u
}

// build makes all that the window shows, in the present language and units, with one
// of the pages.
func (u *ui) build(shown int) {
	u.Clear()
	u.pages = newPages(u, u.pages)
	u.head = newHead(u, u.pages.tabs)
	u.menu = newMenus(u)
	u.head.around = container.New(underHead{u.head}, u.head.content, u.pages.room)
	u.Root = container.NewStack(u.head.around, u.Notice.Content, u.Tips.Content)
	u.Window.SetContent(u.Root)
	u.pages.show(shown)
	u.tour = nil // one that was on pointed at what is gone
}

// rebuild shows everything anew after a change of language or units: the same
// job at the same crank angle on the same page, with its dividers where they
// were.
func (u *ui) rebuild() {
	u.Run.Stop()
	u.Opening.Stop() // it may be for what is about to be made anew
	u.pages.remember()
	kit.Speak(u.Prefs.Language(), u.Prefs.Units())
	u.build(u.pages.shown)
	u.Changed()
}

// The methods of [desk.Shell].

func (u *ui) JobChanged() {
	u.LookAgain()
	u.Window.SetTitle(u.title())
}

func (u *ui) JobLeft() {
	for _, p := range u.pages.built {
		if l, ok := p.(desk.Leaver); ok {
			l.Leave()
		}
	}
}

func (u *ui) CrankMoved() { u.pages.now().Moved() }

func (u *ui) FieldTyped() { u.head.load() }

func (u *ui) LookAgain() {
	u.head.load()
	u.pages.now().Load()
	u.pages.now().Moved()
	u.menu.load()
	u.board.Load()
}

func (u *ui) title() string {
	name := u.Name()
	if u.Session.Dirty() {
		name = "• " + name
	}
	return name + " – Pinphase"
}
