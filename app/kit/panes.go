package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Pane is one of several views of the same thing.
type Pane struct {
	Title string
	O     fyne.CanvasObject
	Share float32 // of the width, side by side
}

// Panes are views side by side where there is room for the size of the text, each
// below its title; else one at a time, chosen by buttons above.
type Panes struct {
	Content  *fyne.Container
	list     []Pane
	Choice   *OneOf
	headings []*widget.Label
	shown    int
	Narrow   bool
}

// paneRoom is how wide each pane is at least side by side, at ordinary text size.
const paneRoom = 300

// paneHeight is how high they are at least, likewise.
const paneHeight = 220

func NewPanes(list ...Pane) *Panes {
	p := &Panes{list: list}
	names := make([]string, len(list))
	for i, v := range list {
		names[i] = v.Title
	}
	p.Choice = NewOneOf(p.Show, names...)
	p.Choice.Set(0)
	objects := []fyne.CanvasObject{container.NewStack(container.NewHScroll(p.Choice.Content))}
	for _, v := range list {
		h := widget.NewLabel(v.Title)
		h.TextStyle.Bold = true
		p.headings = append(p.headings, h)
		objects = append(objects, h, v.O)
	}
	p.Content = container.New(&paneLayout{p}, objects...)
	return p
}

// Show shows a pane where they are not side by side.
func (p *Panes) Show(i int) {
	p.shown = i
	p.Choice.Set(i)
	p.Content.Refresh()
}

// paneLayout lays the panes out: the row of buttons, then heading and view of each.
type paneLayout struct{ p *Panes }

func (l *paneLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	s := fyne.NewSize(0, paneHeight*theme.TextSize()/BaseText)
	for i := range l.p.list {
		m := objects[2+2*i].MinSize()
		s = fyne.NewSize(max(s.Width, m.Width), max(s.Height, m.Height))
	}
	return s.AddWidthHeight(0, objects[0].MinSize().Height)
}

func (l *paneLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	p := l.p
	gap := 2 * theme.Padding()
	p.Narrow = size.Width < float32(len(p.list))*paneRoom*theme.TextSize()/BaseText+2*gap
	for i := range p.list { // for MinSize may have grown with the text
		m := objects[2+2*i].MinSize().Width
		p.Narrow = p.Narrow || m > p.list[i].Share*(size.Width-2*gap)
	}
	setHidden(objects[0], !p.Narrow)
	x, top := float32(0), float32(0)
	if p.Narrow {
		top = objects[0].MinSize().Height
		objects[0].Resize(fyne.NewSize(size.Width, top))
	}
	for i, v := range p.list {
		h := p.headings[i]
		h.Hidden = p.Narrow
		setHidden(v.O, p.Narrow && i != p.shown)
		if p.Narrow {
			v.O.Move(fyne.NewPos(0, top))
			v.O.Resize(fyne.NewSize(size.Width, max(0, size.Height-top)))
			continue
		}
		w := v.Share * (size.Width - gap*float32(len(p.list)-1))
		high := h.MinSize().Height
		h.Move(fyne.NewPos(x, 0))
		h.Resize(fyne.NewSize(w, high))
		v.O.Move(fyne.NewPos(x, high))
		v.O.Resize(fyne.NewSize(w, max(0, size.Height-high)))
		x += w + gap
	}
}

// setHidden hides an object, or not, without the refresh that Show and Hide come
// with: a layout is under way.
func setHidden(o fyne.CanvasObject, hidden bool) {
	if c, ok := o.(*fyne.Container); ok {
		c.Hidden = hidden
	}
}
