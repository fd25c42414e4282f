package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
)

// pages is the row of pages and the one that is shown. A page that is not shown
// is not kept up to date; it is loaded when it is shown.
type pages struct {
	u     *ui
	kinds []desk.PageKind
	built map[int]desk.Page
	old   map[int]desk.Page // of the window before it was built anew
	once  map[int]*kit.Once // the bodies
	under map[int]bool      // being built
	tabs  *fyne.Container
	room  *fyne.Container
	shown int // -1: none yet
}

// newPages makes the row of pages; old is that of the window before.
func newPages(u *ui, old *pages) *pages {
	p := &pages{u: u, kinds: pageKinds, built: map[int]desk.Page{}, once: map[int]*kit.Once{}, under: map[int]bool{}, tabs: container.NewHBox(), room: container.NewStack(), shown: -1}
	if old != nil {
		p.old = old.built
		for i, before := range old.old { // it was not shown since
			if p.old[i] == nil {
				p.old[i] = before
			}
		}
	}
	for i, k := range p.kinds {
		p.tabs.Add(widget.NewButton(tr(k.Title), func() { p.show(i) }))
	}
	return p
}

// kind is what is known of the page that is shown.
func (p *pages) kind() desk.PageKind { return p.kinds[p.shown] }

// now is the page that is shown.
func (p *pages) now() desk.Page { return p.built[p.shown] }

// at is a page, which is built where it was not yet.
func (p *pages) at(i int) desk.Page {
	if pg := p.built[i]; pg != nil {
		return pg
	}
	n := len(p.u.Fields)
	p.under[i] = true
	defer delete(p.under, i)
	pg := p.kinds[i].Build(p.u.Desk, p.old[i])
	delete(p.old, i)
	p.built[i], p.once[i] = pg, kit.NewOnce(p.u.Frame, pg.Body())
	p.u.explain(pg.Body())
	if f, ok := pg.(figured); ok {
		for _, v := range f.ComeAndGo() {
			p.u.explain(v)
		}
	}
	for _, f := range p.u.Fields[n:] {
		f.Load()
	}
	return pg
}

// place is where a page of a name stands; -1 where there is none.
func (p *pages) place(name string) int {
	return slices.IndexFunc(p.kinds, func(k desk.PageKind) bool { return k.Name == name })
}

// show shows a page; a number there is no page for does nothing.
func (p *pages) show(i int) {
	if i < 0 || i >= len(p.kinds) || i == p.shown {
		return
	}
	// What had the keyboard on the page before must not go on taking keys unseen.
	c := p.u.Window.Canvas()
	if f, ok := c.Focused().(fyne.CanvasObject); ok && !slices.Contains(p.tabs.Objects, f) {
		c.Unfocus()
	}
	p.u.Tips.Stop()
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
	p.now().Load()
	p.now().Moved()
}

// remember keeps where the dividers of all pages stand.
func (p *pages) remember() {
	for _, pg := range p.built {
		pg.Remember()
	}
}

// OpenPage implements [desk.Shell].
func (u *ui) OpenPage(name, at string) {
	i := u.pages.place(name)
	u.pages.show(i)
	if s, ok := u.pages.now().(desk.Turner); ok && at != "" && u.pages.shown == i {
		s.TurnTo(at)
	}
}

// IsOpen implements [desk.Shell].
func (u *ui) IsOpen(page string) bool {
	return u.pages.shown >= 0 && u.pages.kind().Name == page
}

// holder is where the page stands that holds a key's field, the last of them: the first
// has the form of the whole job. It is -1 where none does.
func (p *pages) holder(key string) int {
	for i := len(p.kinds) - 1; i >= 0; i-- {
		if k := p.kinds[i]; k.Holds != nil && k.Holds(p.u.Desk, key) {
			return i
		}
	}
	return -1
}

// ShowField implements [desk.Shell].
func (u *ui) ShowField(key string) {
	if i := u.pages.holder(key); i >= 0 {
		u.pages.show(i)
		u.pages.now().(desk.Shower).ShowField(key)
	}
}

// BuildHolder implements [desk.Shell].
func (u *ui) BuildHolder(key string) {
	if i := u.pages.holder(key); i >= 0 && !u.pages.under[i] {
		u.pages.at(i)
	}
}

// takeFile gives a file to the page that takes such files, and tells whether there is
// one.
func (u *ui) takeFile(path string) bool {
	for i, k := range u.pages.kinds {
		if slices.Contains(k.Takes, desk.FileEnding(path)) {
			u.pages.at(i).(desk.Taker).Take(path)
			return true
		}
	}
	return false
}

// jobForm is the page with the job's form.
func (u *ui) jobForm() desk.Former {
	for i := range u.pages.kinds {
		if f, ok := u.pages.at(i).(desk.Former); ok {
			return f
		}
	}
	return nil
}
