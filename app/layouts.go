package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
)

// overlap is how much of two labels' padding may lie over one another.
const overlap = 8

// tight stacks the objects that are not hidden downwards with their padding
// overlapping, each as wide as there is room.
type tight struct{}

func (tight) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		m := o.MinSize()
		s = fyne.NewSize(max(s.Width, m.Width), s.Height+m.Height-overlap)
	}
	return s.AddWidthHeight(0, overlap)
}

func (tight) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	y := float32(0)
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		h := o.MinSize().Height
		o.Resize(fyne.NewSize(size.Width, h))
		o.Move(fyne.NewPos(0, y))
		y += h - overlap
	}
}

// steady keeps the height that its object has needed at the present width, so
// that what stands below does not jump while its words change.
type steady struct {
	width, text float32 // for which the height was needed
	height      float32
}

func (l *steady) MinSize(objects []fyne.CanvasObject) fyne.Size {
	m := objects[0].MinSize()
	l.height = max(l.height, m.Height)
	return fyne.NewSize(m.Width, l.height)
}

func (l *steady) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[0].Resize(size)
	if text := theme.TextSize(); l.width != size.Width || l.text != text {
		l.width, l.text, l.height = size.Width, text, objects[0].MinSize().Height
	}
}

// besideBar leaves room at the right for a scroll bar.
type besideBar struct{}

func (besideBar) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return objects[0].MinSize().AddWidthHeight(theme.Size(theme.SizeNameScrollBar), 0)
}

func (besideBar) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[0].Resize(size.SubtractWidthHeight(theme.Size(theme.SizeNameScrollBar), 0))
}

// elastic gives an object all the room there is but asks for little: what it
// shows is then cut short by itself rather than the window made wider.
func elastic(o fyne.CanvasObject, width float32) fyne.CanvasObject {
	return container.New(elasticLayout{width}, o)
}

type elasticLayout struct{ width float32 }

func (l elasticLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	m := objects[0].MinSize()
	scale := theme.TextSize() / baseText
	return fyne.NewSize(min(m.Width, l.width*(1+scale)/2), m.Height) // half as much more: large text leaves little room
}

func (l elasticLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[0].Resize(size)
}

// sized asks for a width, at ordinary text size, whatever the object asks for.
type sized struct{ width float32 }

func (l sized) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(l.width*theme.TextSize()/baseText, objects[0].MinSize().Height)
}

func (l sized) Layout(objects []fyne.CanvasObject, size fyne.Size) { objects[0].Resize(size) }

// sliderRow puts a label, a slider and words about it in a row; when there is
// little room the words are cut short before the slider is.
type sliderRow struct {
	least float32 // of the slider, before the words are cut short; 0 is 220
}

func (sliderRow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	s := fyne.NewSize(160, 0)
	for _, o := range objects {
		s.Height = max(s.Height, o.MinSize().Height)
	}
	return s.AddWidthHeight(objects[0].MinSize().Width, 0)
}

func (l sliderRow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	label, slider, words := objects[0], objects[1], objects[2]
	left := label.MinSize().Width
	wanted := fyne.MeasureText(words.(interface{ String() string }).String(), theme.TextSize(), fyne.TextStyle{}).Width + 4*theme.InnerPadding()
	least := l.least
	if least == 0 {
		least = 220
	}
	right := max(0, min(wanted, size.Width-left-least))
	place := func(o fyne.CanvasObject, x, w float32) {
		o.Move(fyne.NewPos(x, 0))
		o.Resize(fyne.NewSize(w, size.Height))
	}
	place(label, 0, left)
	place(slider, left, size.Width-left-right)
	place(words, size.Width-right, right)
}

// thenWords gives the first object the width it wants, as far as there is room,
// and the second, a line of text, the rest.
type thenWords struct{}

func (thenWords) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(160, max(objects[0].MinSize().Height, objects[1].MinSize().Height))
}

func (thenWords) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	strip := objects[0].(*container.Scroll)
	w := min(strip.Content.MinSize().Width, size.Width)
	strip.Resize(fyne.NewSize(w, size.Height))
	objects[1].Move(fyne.NewPos(w, 0))
	objects[1].Resize(fyne.NewSize(size.Width-w, size.Height))
}

// wrapLayout puts objects of one size in rows, as many in a row as there is room
// for, and asks for the height that its present width needs.
type wrapLayout struct {
	cell  fyne.Size
	width float32 // last laid out at
}

func (l *wrapLayout) columns(width float32) int {
	return max(1, int((width+theme.Padding())/(l.cell.Width+theme.Padding())))
}

func (l *wrapLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	n := l.columns(l.width)
	rows := (len(objects) + n - 1) / n
	return fyne.NewSize(l.cell.Width, float32(rows)*(l.cell.Height+theme.Padding())-theme.Padding())
}

func (l *wrapLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.width = size.Width
	n := l.columns(size.Width)
	w := (size.Width - float32(n-1)*theme.Padding()) / float32(n)
	for i, o := range objects {
		o.Resize(fyne.NewSize(w, l.cell.Height))
		o.Move(fyne.NewPos(float32(i%n)*(w+theme.Padding()), float32(i/n)*(l.cell.Height+theme.Padding())))
	}
}
