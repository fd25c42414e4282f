package app

import (
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/store"
	"pinphase.org/pinphase/widgets"
)

// ui is the running program: one window on one job.
type ui struct {
	app      fyne.App
	window   fyne.Window
	prefs    prefs
	look     *look
	session  *session
	recovery *recovery // nil when there is no place to keep anything
	keeping  keeping
	scores   *latest[keptScore]
	files    store.Files // all that is written goes to them
	writing  writing
	warnings warnings
	leaving  bool // the program is about to end

	at       timing.Deg // where the crank stands, in [0, cycle)
	byNumber bool       // rows in number order
	from     timing.End // the end the wheel is seen from

	root  fyne.CanvasObject // all of the window below the menu
	head  *head
	pages *pages
	page  *cyclePage
	part  *partPage
	light *lightPage
	cause *causePage
	gears *gearsPage

	signals  *signalsPage
	recorder *recorder

	forms []*form // all of them
	form  *form   // the job's, beside the cycle
	menu  *menus
	run   *runner
	board *board // nil unless something is shown to a class
	tour  *tour  // nil unless it is on
	tips  *tips

	notice     *notice
	opening    opening
	lastFolder string // the folder that something was chosen from last; "" for none
	view       viewer

	practice *practicePage

	transports []*transport // of all pages

	photos    photos
	restyling bool // the look is being changed: see [once]

	inTurn bool // nothing is done beside the main goroutine, as in tests

	beside func(work func() (show func())) // in place of [ui.background]; nil but in tests

	asking  bool   // a question about unsaved changes is on the screen
	dialogs []*box // shown so far, the last on top; see [ui.show]
}

// newUI builds the window on an empty session; open gives it a job.
func newUI(a fyne.App, kept choices) *ui {
	u := &ui{app: a, prefs: prefs{kept}, files: store.System}
	u.keeping.keeper, u.scores = newKeeper(u), newScoreKeeper(u)
	u.view = desktopViewer(u)
	u.opening.u, u.photos.u = u, u
	size, _ := u.prefs.TextSize()
	u.look = &look{choice: u.prefs.Theme(), scale: float32(size)}
	forgetFonts(a.Settings())
	a.Settings().SetTheme(u.look)
	a.SetIcon(fyne.NewStaticResource("icon.png", assets.IconPNG))
	u.byNumber = u.prefs.p.Bool(prefOrder)
	u.from, _ = timing.ParseEnd(u.prefs.p.String(prefEnd)) // "" is the nose
	u.window = a.NewWindow("Pinphase")
	u.window.SetMaster()
	u.window.Resize(u.prefs.Size())
	u.session = newSession("", demo(), nil)
	u.run = newRunner(u.prefs, func(by timing.Deg) { u.setAt(u.at + by) }, u.loadTransports)
	u.recorder = newRecorder(u)
	speak(u.prefs.Language(), u.prefs.Units())
	u.build()
	u.window.SetCloseIntercept(u.quit)
	u.window.SetOnDropped(u.dropped)
	u.addKeys()
	u.changed()
	return u
}

// build makes all that the window shows, in the present language and units.
func (u *ui) build() {
	u.tips = newTips(u)
	u.notice = newNotice(u)
	u.form = newForm(u)
	u.forms, u.transports = []*form{u.form}, nil
	u.pages = newPages(u)
	u.head = newHead(u, u.pages.tabs)
	u.page = newCyclePage(u)
	u.part = newPartPage(u)
	u.forms = append(u.forms, u.part.form)
	u.light = newLightPage(u)
	u.signals = newSignalsPage(u)
	u.cause = newCausePage(u)
	u.forms = append(u.forms, u.cause.form)
	u.gears = newGearsPage(u)
	u.forms = append(u.forms, u.gears.form)
	u.practice = newPracticePage(u)
	u.pages.set(u.page, u.part, u.light, u.signals, u.cause, u.gears, u.practice)
	u.menu = newMenus(u)
	u.root = container.NewStack(container.New(underHead{u.head}, u.head.content, u.pages.room), u.notice.content, u.tips.content)
	u.window.SetContent(u.root)
	u.tour = nil // one that was on pointed at what is gone
}

// rebuild shows everything anew after a change of language or units: the same
// job at the same crank angle on the same page, with its dividers where they
// were.
func (u *ui) rebuild() {
	u.run.Stop()
	u.opening.stop() // it may be for what is about to be made anew
	shown := u.pages.shown
	for _, p := range u.pages.list {
		p.remember(u.prefs)
	}
	speak(u.prefs.Language(), u.prefs.Units())
	u.build()
	u.pages.show(shown)
	u.changed()
}

func demo() *job.Document {
	doc, err := job.Read(assets.DemoName, assets.DemoJob)
	if err != nil {
		panic("app: the demo job is not sound: " + err.Error())
	}
	return doc
}

// begin makes another session the open one.
func (u *ui) begin(s *session) {
	u.run.Stop()
	u.opening.stop()
	u.recorder.leave()
	u.session = s
	u.forget()
	u.at = 0
	u.changed()
}

// edit makes the next job from the present one.
func (u *ui) edit(what string, change func(*job.Job)) {
	next := u.session.Job().Clone()
	change(&next)
	u.session.Edit(what, next)
	u.changed()
}

// changed brings everything shown up to the session's present state.
func (u *ui) changed() {
	if e, err := finding.EngineOf(u.session.Sound()); err == nil {
		u.at = timing.Wrap(u.at, e.Cycle())
	}
	for _, f := range u.forms {
		f.load()
	}
	u.head.load()
	u.pages.now().load()
	u.pages.now().moved()
	u.menu.load()
	u.board.load()
	u.window.SetTitle(u.title())
	u.keep()
}

// mostTitle is how many bytes of a job's name stand in the window's title and in
// questions; no desktop shows more, and some take a long time with it.
const mostTitle = 100

func (u *ui) title() string {
	name := u.name()
	if u.session.Dirty() {
		name = "• " + name
	}
	return name + " – Pinphase"
}

// name is what the open job is called.
func (u *ui) name() string {
	if u.session.path != "" {
		return widgets.Shortened(filepath.Base(u.session.path), mostTitle)
	}
	if t := u.session.Job().Title; t != "" {
		return widgets.Shortened(t, mostTitle)
	}
	return tr("Untitled job")
}

// setAt puts the crank at an angle, any number of cycles away.
func (u *ui) setAt(at timing.Deg) {
	e, err := finding.EngineOf(u.session.Sound())
	if err != nil {
		return
	}
	u.at = timing.Wrap(at, e.Cycle())
	u.pages.now().moved()
}

// undo and redo step through the session's states.
func (u *ui) undo() { u.step(u.session.Undo) }
func (u *ui) redo() { u.step(u.session.Redo) }

func (u *ui) step(move func() bool) {
	if move() {
		u.forget()
		u.changed()
	}
}

// forget lets go of what was typed but is in no job, before another is shown.
func (u *ui) forget() {
	for _, f := range u.forms {
		f.forget()
	}
}

// reload shows the same job anew, as after a change of what the reader chose.
func (u *ui) reload() {
	u.head.load()
	u.pages.now().load()
	u.pages.now().moved()
	u.menu.load()
	u.board.load()
}
