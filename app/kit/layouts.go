package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
)

// overlap is how much of two labels' padding may lie over one another.
const overlap = 8

// Tight stacks the objects that are not hidden downwards with their padding
// overlapping, each as wide as there is room.
type Tight struct {
	Gap float32 // by how much less it overlaps, as where a field's frame would cover words
}

func (l Tight) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	overlap := overlap - l.Gap
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		m := o.MinSize()
		s = fyne.NewSize(max(s.Width, m.Width), s.Height+m.Height-overlap)
	}
	return s.AddWidthHeight(0, overlap)
}

func (l Tight) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	y, overlap := float32(0), overlap-l.Gap
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

// Steady keeps the height that its object has needed at the present width, so
// that what stands below does not jump while its words change.
type Steady struct {
	Width, text float32 // for which the height was needed
	Height      float32
}

func (l *Steady) MinSize(objects []fyne.CanvasObject) fyne.Size {
	m := objects[0].MinSize()
	l.Height = max(l.Height, m.Height)
	return fyne.NewSize(m.Width, l.Height)
}

func (l *Steady) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[0].Resize(size)
	if text := theme.TextSize(); l.Width != size.Width || l.text != text {
		l.Width, l.text, l.Height = size.Width, text, objects[0].MinSize().Height
	}
}

// BesideBar leaves room at the right for a scroll bar.
type BesideBar struct{}

func (BesideBar) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return objects[0].MinSize().AddWidthHeight(theme.Size(theme.SizeNameScrollBar), 0)
}

func (BesideBar) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[0].Resize(size.SubtractWidthHeight(theme.Size(theme.SizeNameScrollBar), 0))
}

// Elastic gives an object all the room there is but asks for little: what it
// shows is then cut short by itself rather than the window made wider.
func Elastic(o fyne.CanvasObject, width float32) fyne.CanvasObject {
	return container.New(elasticLayout{width}, o)
}

type elasticLayout struct{ width float32 }

func (l elasticLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	m := objects[0].MinSize()
	scale := theme.TextSize() / BaseText
	return fyne.NewSize(min(m.Width, l.width*(1+scale)/2), m.Height) // half as much more: large text leaves little room
}

func (l elasticLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[0].Resize(size)
}

// Sized asks for a width, at ordinary text size, whatever the object asks for.
type Sized struct{ Width float32 }

func (l Sized) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(l.Width*theme.TextSize()/BaseText, objects[0].MinSize().Height)
}

func (l Sized) Layout(objects []fyne.CanvasObject, size fyne.Size) { objects[0].Resize(size) }

// SliderRow puts a label, a slider and words about it in a row; when there is
// little room the words are cut short before the slider is.
type SliderRow struct {
	least float32 // of the slider, before the words are cut short; 0 is 180
}

func (SliderRow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	s := fyne.NewSize(160, 0)
	for _, o := range objects {
		s.Height = max(s.Height, o.MinSize().Height)
	}
	return s.AddWidthHeight(objects[0].MinSize().Width, 0)
}

func (l SliderRow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	label, slider, words := objects[0], objects[1], objects[2]
	left := label.MinSize().Width
	wanted := fyne.MeasureText(words.(interface{ String() string }).String(), theme.TextSize(), fyne.TextStyle{}).Width + 4*theme.InnerPadding()
	least := l.least
	if least == 0 {
		least = 180
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

// ThenWords gives the first object the width it wants, as far as there is room, and
// the second, a line of text, the rest; where that is too little, a row of its own.
type ThenWords struct {
	width float32 // last laid out at
	below bool    // the line had no room at this width once, and stays where it is
}

func (l *ThenWords) MinSize(objects []fyne.CanvasObject) fyne.Size {
	strip, words := objects[0].MinSize().Height, objects[1].MinSize().Height
	if l.below {
		return fyne.NewSize(160, strip+words-theme.InnerPadding())
	}
	return fyne.NewSize(160, max(strip, words))
}

func (l *ThenWords) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	strip, words := objects[0].(*container.Scroll), objects[1].(*LineLabel)
	w := min(strip.Content.MinSize().Width, size.Width)
	if size.Width != l.width {
		l.width, l.below = size.Width, false
	}
	needs := fyne.MeasureText(words.String(), theme.TextSize(), words.TextStyle).Width + 2*theme.InnerPadding()
	l.below = l.below || w+needs > size.Width
	if l.below {
		h := strip.MinSize().Height
		strip.Resize(fyne.NewSize(w, h))
		words.Move(fyne.NewPos(0, h-theme.InnerPadding()))
		words.Resize(fyne.NewSize(size.Width, words.MinSize().Height))
		return
	}
	strip.Resize(fyne.NewSize(w, size.Height))
	words.Move(fyne.NewPos(w, 0))
	words.Resize(fyne.NewSize(size.Width-w, size.Height))
}

// WrapLayout puts objects of one size in rows, as many in a row as there is room
// for, and asks for the height that its present width needs.
type WrapLayout struct {
	Cell  fyne.Size
	width float32 // last laid out at
}

func (l *WrapLayout) columns(width float32) int {
	return max(1, int((width+theme.Padding())/(l.Cell.Width+theme.Padding())))
}

func (l *WrapLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	n := l.columns(l.width)
	rows := (len(objects) + n - 1) / n
	return fyne.NewSize(l.Cell.Width, float32(rows)*(l.Cell.Height+theme.Padding())-theme.Padding())
}

func (l *WrapLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.width = size.Width
	n := l.columns(size.Width)
	w := (size.Width - float32(n-1)*theme.Padding()) / float32(n)
	for i, o := range objects {
		o.Resize(fyne.NewSize(w, l.Cell.Height))
		o.Move(fyne.NewPos(float32(i%n)*(w+theme.Padding()), float32(i/n)*(l.Cell.Height+theme.Padding())))
	}
}

// LayOut lays out at once what a scroll holds after something in it was shown or hidden:
// what was hidden has no place yet, and what wraps knows its height only once it has its
// width.
func LayOut(s *container.Scroll) {
	for range 2 {
		s.Content.Refresh()
		s.Content.Resize(fyne.NewSize(s.Content.Size().Width, max(s.Content.MinSize().Height, s.Size().Height)))
	}
}
