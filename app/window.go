package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/store"
)

// ui is the running program: one window that shows the desk.
type ui struct {
	*desk
	head  *head
	pages *pages
	menu  *menus
	board *board // nil unless something is shown to a class
	tour  *tour  // nil unless it is on

	asking bool // a question about unsaved changes is on the screen
}

// newUI builds the window on the demo job; open gives it another. own is the program's
// own folder.
func newUI(a fyne.App, kept choices, own string) *ui {
	u := &ui{desk: &desk{frame: &frame{app: a}, prefs: prefs{kept}, files: store.System, own: own}}
	u.shell, u.otherKey = u, u.key
	u.keeping.keeper = newKeeper(u.desk)
	u.view = desktopViewer(u.desk)
	u.opening.u, u.photos.u = u.desk, u.desk
	size, _ := u.prefs.TextSize()
	u.look = &look{choice: u.prefs.Theme(), scale: float32(size)}
	forgetFonts(a.Settings())
	a.Settings().SetTheme(u.look)
	a.SetIcon(fyne.NewStaticResource("icon.png", assets.IconPNG))
	u.byNumber = u.prefs.Bool(prefOrder)
	u.from, _ = timing.ParseEnd(u.prefs.String(prefEnd)) // "" is the nose
	u.window = a.NewWindow("Pinphase")
	u.window.SetMaster()
	u.window.Resize(u.prefs.Size())
	u.session = newSession("", demo(), nil)
	u.run = newRunner(u.prefs, u.turn, u.loadTransports)
	speak(u.prefs.Language(), u.prefs.Units())
	u.build(0)
	u.window.SetCloseIntercept(u.quit)
	u.window.SetOnDropped(u.dropped)
	u.addKeys()
	u.changed()
	return u
}

// build makes all that the window shows, in the present language and units, with one
// of the pages.
func (u *ui) build(shown int) {
	u.tips = newTips(u.frame)
	u.notice = newNotice(u.frame)
	u.fields, u.transports, u.labels = nil, nil, map[string]string{}
	u.pages = newPages(u, u.pages)
	u.head = newHead(u, u.pages.tabs)
	u.menu = newMenus(u)
	u.root = container.NewStack(container.New(underHead{u.head}, u.head.content, u.pages.room), u.notice.content, u.tips.content)
	u.window.SetContent(u.root)
	u.pages.show(shown)
	u.tour = nil // one that was on pointed at what is gone
}

// rebuild shows everything anew after a change of language or units: the same
// job at the same crank angle on the same page, with its dividers where they
// were.
func (u *ui) rebuild() {
	u.run.Stop()
	u.opening.stop() // it may be for what is about to be made anew
	u.pages.remember()
	speak(u.prefs.Language(), u.prefs.Units())
	u.build(u.pages.shown)
	u.changed()
}

func demo() *job.Document {
	doc, err := job.Read(assets.DemoName, assets.DemoJob)
	if err != nil {
		panic("app: the demo job is not sound: " + err.Error())
	}
	return doc
}

// The methods of [shell].

func (u *ui) jobChanged() {
	u.lookAgain()
	u.window.SetTitle(u.title())
}

func (u *ui) jobLeft() {
	for _, p := range u.pages.built {
		if l, ok := p.(leaver); ok {
			l.leave()
		}
	}
}

func (u *ui) crankMoved() { u.pages.now().moved() }

func (u *ui) fieldTyped() { u.head.load() }

func (u *ui) lookAgain() {
	u.head.load()
	u.pages.now().load()
	u.pages.now().moved()
	u.menu.load()
	u.board.load()
}

func (u *ui) title() string {
	name := u.name()
	if u.session.Dirty() {
		name = "• " + name
	}
	return name + " – Pinphase"
}
