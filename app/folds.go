package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// folds are groups of rows below one another, each under a heading that opens and
// closes it. Unlike the toolkit's accordion they ask for the height that their rows
// need at the time, and leave what they do not need empty below them.
type folds struct {
	u       *frame
	content *fyne.Container
	list    []*fold
}

// fold is one group. What is changed in it is shown by [folds.Refresh].
//
// The rows of a closed group are not among what the window holds: the toolkit goes
// through all of that, seen or not, when the theme or the size of text changes, and a
// page with many rows stood still for a third of a second.
type fold struct {
	title  string
	open   bool
	detail fyne.CanvasObject
	inside *once           // the detail
	room   *fyne.Container // of the detail, empty while the group is closed
	head   *keyButton
}

func newFolds(u *frame) *folds { return &folds{u: u, content: container.NewVBox()} }

// add adds a group below the others.
func (f *folds) add(title string, open bool, detail fyne.CanvasObject) {
	g := &fold{title: title, open: open, detail: detail, inside: newOnce(f.u, detail), room: container.NewStack()}
	g.head = newKeyButton(title, func() {
		g.open = !g.open
		f.Refresh()
	})
	g.head.Alignment, g.head.Importance = widget.ButtonAlignLeading, widget.LowImportance
	if len(f.list) > 0 {
		f.content.Add(widget.NewSeparator())
	}
	f.list = append(f.list, g)
	f.content.Add(g.head)
	f.content.Add(g.room)
	g.load()
}

// load shows a group as it stands.
func (g *fold) load() {
	icon := theme.MenuDropDownIcon()
	if g.open {
		icon = theme.MenuDropUpIcon()
	}
	if g.head.Text != g.title || g.head.Icon != icon {
		g.head.Text, g.head.Icon = g.title, icon
		g.head.Refresh()
	}
	setShown(g.detail, g.open)
	setShown(g.room, g.open)
	switch {
	case !g.open:
		g.room.Objects = nil
	case len(g.room.Objects) == 0:
		g.room.Objects = []fyne.CanvasObject{g.inside}
		g.room.Refresh() // it may have missed a change of what the reader chose
	}
}

// Refresh shows all groups as they stand.
func (f *folds) Refresh() {
	for _, g := range f.list {
		g.load()
	}
	f.content.Refresh()
}

// show opens a group.
func (f *folds) show(i int) {
	f.list[i].open = true
	f.Refresh()
}

// showAll opens or closes all groups.
func (f *folds) showAll(open bool) {
	for _, g := range f.list {
		g.open = open
	}
	f.Refresh()
}
