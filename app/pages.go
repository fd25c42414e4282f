package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// page is one view of the open job, below the head that all pages share.
type page interface {
	title() string
	body() fyne.CanvasObject
	load()            // the job has changed, or the page is shown again
	moved()           // the crank has moved
	remember(p prefs) // where dividers stand
}

// pages is the row of pages and the one that is shown. A page that is not shown
// is not kept up to date; it is loaded when it is shown.
type pages struct {
	u     *ui
	list  []page
	once  []*once // their bodies
	tabs  *fyne.Container
	room  *fyne.Container
	shown int
}

func newPages(u *ui) *pages {
	return &pages{u: u, tabs: container.NewHBox(), room: container.NewStack()}
}

// set gives the pages there are and shows the first.
func (p *pages) set(list ...page) {
	p.list, p.once = list, nil
	for _, pg := range list {
		p.once = append(p.once, newOnce(p.u, pg.body()))
	}
	p.tabs.RemoveAll()
	for i, pg := range list {
		p.tabs.Add(widget.NewButton(pg.title(), func() { p.show(i) }))
	}
	p.shown = -1
	p.show(0)
}

// now is the page that is shown.
func (p *pages) now() page { return p.list[p.shown] }

// show shows a page; a number there is no page for does nothing.
func (p *pages) show(i int) {
	if i < 0 || i >= len(p.list) || i == p.shown {
		return
	}
	// What had the keyboard on the page before must not go on taking keys unseen.
	c := p.u.window.Canvas()
	if f, ok := c.Focused().(fyne.CanvasObject); ok && !slices.Contains(p.tabs.Objects, f) {
		c.Unfocus()
	}
	p.u.tips.stop()
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

// open shows one of the pages.
func (p *pages) open(pg page) { p.show(slices.Index(p.list, pg)) }
