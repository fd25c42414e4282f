// Package lesson is the page on which an instructor makes a lesson: pages for the board
// in an order of the instructor's own, and exercises.
package lesson

import (
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/lesson/plan"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// page is a lesson that is being made. It is one value that every edit replaces, kept in
// the program's own folder from one start to the next.
type page struct {
	u       *desk.Desk
	content *container.Split
	scroll  *container.Scroll
	notice  *widget.Label
	edits   *fyne.Container // what edits the lesson

	title, notes *widgets.Field
	engines      enginesPart
	pages        pagesPart
	exercises    exercisesPart
	show         *kit.KeyButton

	preview preview

	lesson  plan.Lesson
	path    string // of its file; "": it is in none yet
	saved   plan.Lesson
	at      int  // of the page that is edited
	loading bool // what changes in a list is not the reader's choice
	turned  bool // other things are edited than before: the fields take them also where the keyboard is

	drafts  *kit.Latest[draft]
	file    string        // of the draft; "": none is kept
	unkept  string        // what is said of a draft that cannot be kept
	reading bool          // the draft kept from earlier is being read
	waiting []func(*page) // until it is read
}

// Name is by which the page is opened.
const Name = "lesson"

var Kind = desk.PageKind{
	Name: Name, Title: phrase.Text("Lesson"), Takes: []string{plan.Ending},
	Actions: []desk.PageAction{
		{Title: "Open a lesson…", Opens: true, Do: func(p desk.Page) { p.(*page).open() }},
		{Title: "Save the lesson…", Do: func(p desk.Page) { p.(*page).save() }},
	},
	Build: func(d *desk.Desk, old desk.Page) desk.Page {
		before, _ := old.(*page)
		return newPage(d, before)
	},
}

// newPage goes on with the lesson of an old page, when the window is built anew.
func newPage(u *desk.Desk, old *page) *page {
	p := &page{u: u, notice: kit.Prose(), title: widgets.NewField("", 1), notes: widgets.NewField("", 3)}
	p.notice.Importance = widget.WarningImportance
	p.notice.Hide()
	p.title.OnDone, p.notes.OnDone = p.finish, p.finish
	p.show = kit.NewKeyButton(tr("Show on the board"), p.onBoard)
	p.show.Importance = widget.HighImportance
	p.edits = container.NewVBox(
		container.New(&kit.Flow{}, p.show,
			kit.NewKeyButton(tr("Open a lesson…"), p.open), kit.NewKeyButton(tr("Save the lesson…"), p.save), kit.NewKeyButton(tr("New lesson"), p.begin)),
		row(tr("Title"), p.title),
		p.buildEngines(), p.buildPages(), p.buildExercises(),
		row(tr("Your notes, which the class does not see"), p.notes),
	)
	p.scroll = container.NewVScroll(container.New(&kit.BesideBar{}, container.NewVBox(p.notice, p.edits)))
	for _, f := range []*widgets.Field{p.title, p.pages.at, p.exercises.title, p.exercises.code} {
		f.OnWheel = func(e *fyne.ScrollEvent) { p.scroll.Scrolled(e) }
	}
	p.content = container.NewHSplit(p.scroll, p.buildPreview())
	p.content.Offset = u.Prefs.Share(prefSplit, 0.45)
	if old != nil {
		old.finish()
		p.lesson, p.path, p.saved, p.at, p.drafts, p.file = old.lesson, old.path, old.saved, old.at, old.drafts, old.file
		p.reading, p.waiting = old.reading, old.waiting
		old.drafts, old.file, old.waiting = nil, "", nil
	} else {
		p.drafts = newDrafts(u)
	}
	p.load()
	if (old == nil || p.reading) && u.Own != "" {
		p.keepIn(filepath.Join(u.Own, draftFile))
	}
	return p
}

// row is a field below its name.
func row(label string, o fyne.CanvasObject) fyne.CanvasObject {
	return container.New(&kit.Tight{Gap: 4}, kit.Wrapped(label), o)
}

func (p *page) Body() fyne.CanvasObject { return p.content }

func (p *page) Load() { p.load() } // the theme or the language may be another

func (p *page) Moved() {}

func (p *page) Remember() { p.u.Prefs.SetFloat(prefSplit, p.content.Offset) }

// End takes what was typed last, which is kept with the rest.
func (p *page) End() { p.finish() }

const prefSplit = "split.lesson"

// edit makes the next lesson from the present one.
func (p *page) edit(change func(*plan.Lesson)) {
	next := p.lesson
	change(&next)
	if next.Equal(p.lesson) {
		return
	}
	p.lesson = next
	p.keep()
	p.load()
}

// load brings everything up to the lesson.
func (p *page) load() {
	p.loading = true
	defer func() { p.loading, p.turned = false, false }()
	p.edits.Hidden = p.reading // what was typed now would be overwritten
	p.at = max(0, min(p.at, len(p.lesson.Pages)-1))
	p.fill(p.title, p.lesson.Title)
	p.fill(p.notes, p.lesson.Notes)
	p.loadEngines()
	p.loadPages()
	p.loadExercises()
	enable(p.show, len(p.lesson.Pages) > 0)
	p.loadPreview()
}

// fill puts a text into a field that does not have it, where nobody is typing. What was
// refused stays, to be mended.
func (p *page) fill(f *widgets.Field, text string) {
	if f.Text() != text && f.Fault() == "" && (p.turned || !f.Focused()) {
		f.SetText(text)
	}
}

// turnTo edits another page. What was refused on the page before goes with it.
func (p *page) turnTo(at int) {
	p.at, p.turned = at, true
	p.preview.page, p.preview.answer = 0, false
	p.pages.question.SetFault("")
	p.pages.at.SetFault("")
}

func enable(b *kit.KeyButton, on bool) {
	if on {
		b.Enable()
	} else {
		b.Disable()
	}
}

// onBoard shows the lesson to the class.
func (p *page) onBoard() {
	l := p.lesson
	p.u.Shell.ShowBoard(&l)
}
