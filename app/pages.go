package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

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
