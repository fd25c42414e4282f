package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Folds are groups of rows below one another, each under a heading that opens and
// closes it. Unlike the toolkit's accordion they ask for the height that their rows
// need at the time, and leave what they do not need empty below them.
type Folds struct {
	u       *Frame
	Content *fyne.Container
	List    []*fold
}

// fold is one group. What is changed in it is shown by [Folds.Refresh].
//
// The rows of a closed group are not among what the window holds: the toolkit goes
// through all of that, seen or not, when the theme or the size of text changes, and a
// page with many rows stood still for a third of a second.
type fold struct {
	Title  string
	Open   bool
	detail fyne.CanvasObject
	inside *Once           // the detail
	room   *fyne.Container // of the detail, empty while the group is closed
	head   *KeyButton
}

func NewFolds(u *Frame) *Folds { return &Folds{u: u, Content: container.NewVBox()} }

// Add adds a group below the others.
func (f *Folds) Add(title string, open bool, detail fyne.CanvasObject) {
	g := &fold{Title: title, Open: open, detail: detail, inside: NewOnce(f.u, detail), room: container.NewStack()}
	g.head = NewKeyButton(title, func() {
		g.Open = !g.Open
		f.Refresh()
	})
	g.head.Alignment, g.head.Importance = widget.ButtonAlignLeading, widget.LowImportance
	if len(f.List) > 0 {
		f.Content.Add(widget.NewSeparator())
	}
	f.List = append(f.List, g)
	f.Content.Add(g.head)
	f.Content.Add(g.room)
	g.load()
}

// load shows a group as it stands.
func (g *fold) load() {
	icon := theme.MenuDropDownIcon()
	if g.Open {
		icon = theme.MenuDropUpIcon()
	}
	if g.head.Text != g.Title || g.head.Icon != icon {
		g.head.Text, g.head.Icon = g.Title, icon
		g.head.Refresh()
	}
	SetShown(g.detail, g.Open)
	SetShown(g.room, g.Open)
	switch {
	case !g.Open:
		g.room.Objects = nil
	case len(g.room.Objects) == 0:
		g.room.Objects = []fyne.CanvasObject{g.inside}
		g.room.Refresh() // it may have missed a change of what the reader chose
	}
}

// Refresh shows all groups as they stand.
func (f *Folds) Refresh() {
	for _, g := range f.List {
		g.load()
	}
	f.Content.Refresh()
}

// Show opens a group.
func (f *Folds) Show(i int) {
	f.List[i].Open = true
	f.Refresh()
}

// ShowAll opens or closes all groups.
func (f *Folds) ShowAll(open bool) {
	for _, g := range f.List {
		g.Open = open
	}
	f.Refresh()
}
