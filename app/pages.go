package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/figure"
)

// page is one view of the open job, below the head that all pages share. It may
// implement [keyPage], [stripped], [shower], [turner], [drawer], [taker], [stopper], [leaver],
// [former], [guided] too.
type page interface {
	body() fyne.CanvasObject
	load()     // the job has changed, or the page is shown again
	moved()    // the crank has moved
	remember() // where dividers stand
	end()      // the window is about to close: what is being worked out is given up
}

// pageKind is what is known of a page before it is built, which it is when it is first
// shown.
type pageKind struct {
	name    string                         // by which it is opened
	title   string                         // in English
	figures []string                       // those of plate.Names that it draws; the first is at hand while it is shown
	takes   []string                       // endings of the files that it takes, in small letters
	holds   func(d *desk, key string) bool // whether the field of a key is on it; nil: none is
	actions []pageAction
	build   func(d *desk, old page) page // old is the page before the window was built anew, nil for none
}

// pageAction is something of a page's that stands in the File menu.
type pageAction struct {
	title    string // in English
	opens    bool   // it opens something, and stands beside the others that do
	shortcut fyne.Shortcut
	do       func(p page)
}

// keyPage acts on keys that nothing else wanted.
type keyPage interface{ key(*fyne.KeyEvent) bool }

// stripped has a strip of its own that moves the crank.
type stripped interface{ strip() *transport }

// shower gives the keyboard to the field of a key that it holds.
type shower interface{ showField(key string) }

// turner shows what is called so on it.
type turner interface{ turnTo(at string) }

// guided has parts that the tour points at.
type guided interface {
	tourPart(name string) fyne.CanvasObject
}

// drawer draws one of its figures as it stands on the screen.
type drawer interface {
	drawn(name string, box figure.Box) (figure.Drawing, error)
}

// taker takes a file of one of the endings.
type taker interface{ take(path string) }

// stopper is doing something that Escape calls off.
type stopper interface{ callOff() }

// leaver lets go of what belongs to the job before another is opened.
type leaver interface{ leave() }

// former has the job's form, which can be hidden.
type former interface {
	showForm(on bool)
	formShown() bool
}

// pages is the row of pages and the one that is shown. A page that is not shown
// is not kept up to date; it is loaded when it is shown.
type pages struct {
	u     *ui
	kinds []pageKind
	built map[int]page
	old   map[int]page  // of the window before it was built anew
	once  map[int]*once // the bodies
	under map[int]bool  // being built
	tabs  *fyne.Container
	room  *fyne.Container
	shown int // -1: none yet
}

// newPages makes the row of pages; old is that of the window before.
func newPages(u *ui, old *pages) *pages {
	p := &pages{u: u, kinds: pageKinds, built: map[int]page{}, once: map[int]*once{}, under: map[int]bool{}, tabs: container.NewHBox(), room: container.NewStack(), shown: -1}
	if old != nil {
		p.old = old.built
		for i, before := range old.old { // it was not shown since
			if p.old[i] == nil {
				p.old[i] = before
			}
		}
	}
	for i, k := range p.kinds {
		p.tabs.Add(widget.NewButton(tr(k.title), func() { p.show(i) }))
	}
	return p
}

// kind is what is known of the page that is shown.
func (p *pages) kind() pageKind { return p.kinds[p.shown] }

// now is the page that is shown.
func (p *pages) now() page { return p.built[p.shown] }

// at is a page, which is built where it was not yet.
func (p *pages) at(i int) page {
	if pg := p.built[i]; pg != nil {
		return pg
	}
	n := len(p.u.fields)
	p.under[i] = true
	defer delete(p.under, i)
	pg := p.kinds[i].build(p.u.desk, p.old[i])
	delete(p.old, i)
	p.built[i], p.once[i] = pg, newOnce(p.u.frame, pg.body())
	for _, f := range p.u.fields[n:] {
		f.load()
	}
	return pg
}

// place is where a page of a name stands; -1 where there is none.
func (p *pages) place(name string) int {
	return slices.IndexFunc(p.kinds, func(k pageKind) bool { return k.name == name })
}

// show shows a page; a number there is no page for does nothing.
func (p *pages) show(i int) {
	if i < 0 || i >= len(p.kinds) || i == p.shown {
		return
	}
	// What had the keyboard on the page before must not go on taking keys unseen.
	c := p.u.window.Canvas()
	if f, ok := c.Focused().(fyne.CanvasObject); ok && !slices.Contains(p.tabs.Objects, f) {
		c.Unfocus()
	}
	p.u.tips.stop()
	p.at(i)
	p.shown = i
	for k, o := range p.tabs.Objects {
		b := o.(*widget.Button)
		importance := widget.LowImportance
		if k == i {
			importance = widget.HighImportance
		}
		if b.Importance != importance {
			b.Importance = importance
			b.Refresh()
		}
	}
	p.room.Objects = []fyne.CanvasObject{p.once[i]}
	p.room.Refresh()
	p.now().load()
	p.now().moved()
}

// remember keeps where the dividers of all pages stand.
func (p *pages) remember() {
	for _, pg := range p.built {
		pg.remember()
	}
}

// openPage implements [shell].
func (u *ui) openPage(name, at string) {
	i := u.pages.place(name)
	u.pages.show(i)
	if s, ok := u.pages.now().(turner); ok && at != "" && u.pages.shown == i {
		s.turnTo(at)
	}
}

// isOpen implements [shell].
func (u *ui) isOpen(page string) bool {
	return u.pages.shown >= 0 && u.pages.kind().name == page
}

// holder is where the page stands that holds a key's field, the last of them: the first
// has the form of the whole job. It is -1 where none does.
func (p *pages) holder(key string) int {
	for i := len(p.kinds) - 1; i >= 0; i-- {
		if k := p.kinds[i]; k.holds != nil && k.holds(p.u.desk, key) {
			return i
		}
	}
	return -1
}

// showField implements [shell].
func (u *ui) showField(key string) {
	if i := u.pages.holder(key); i >= 0 {
		u.pages.show(i)
		u.pages.now().(shower).showField(key)
	}
}

// buildHolder implements [shell].
func (u *ui) buildHolder(key string) {
	if i := u.pages.holder(key); i >= 0 && !u.pages.under[i] {
		u.pages.at(i)
	}
}

// takeFile gives a file to the page that takes such files, and tells whether there is
// one.
func (u *ui) takeFile(path string) bool {
	for i, k := range u.pages.kinds {
		if slices.Contains(k.takes, fileEnding(path)) {
			u.pages.at(i).(taker).take(path)
			return true
		}
	}
	return false
}

// jobForm is the page with the job's form.
func (u *ui) jobForm() former {
	for i := range u.pages.kinds {
		if f, ok := u.pages.at(i).(former); ok {
			return f
		}
	}
	return nil
}
