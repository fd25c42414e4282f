package widgets

import (
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

var (
	_ fyne.Tappable      = (*Bar)(nil)
	_ fyne.Focusable     = (*Bar)(nil)
	_ desktop.Hoverable  = (*Bar)(nil)
	_ desktop.Cursorable = (*Bar)(nil)
)

// Bar is a share of a whole with its name before and its size in words behind, and
// a mark where the share was before. One of several is selected; their owner says
// which.
type Bar struct {
	widget.BaseWidget

	// OnChosen is told that the user has picked the bar.
	OnChosen func()
	// OnKey gets the keys the bar has no use for itself.
	OnKey func(*fyne.KeyEvent)

	name, words   string
	share, before float64 // 0 to 1; before below 0: no mark

	selected, focused, hovered bool

	label             []*canvas.Text // a line each: a name that is too long for one goes on below it
	value             *canvas.Text
	ground, fill      *canvas.Rectangle
	mark, frame, edge *canvas.Rectangle
}

// NewBar returns an empty bar.
func NewBar() *Bar {
	b := &Bar{before: -1}
	b.ExtendBaseWidget(b)
	return b
}

// SetShare gives the bar its name, its share of the whole with that in words, and
// what the share was before (below 0: not known).
func (b *Bar) SetShare(name, words string, share, before float64) {
	if b.name == name && b.words == words && b.share == share && b.before == before {
		return
	}
	b.name, b.words, b.share, b.before = name, words, share, before
	b.Refresh()
}

// SetSelected marks the bar as the chosen one, or not.
func (b *Bar) SetSelected(on bool) {
	if on != b.selected {
		b.selected = on
		b.colour()
	}
}

// Selected tells whether it is the chosen one.
func (b *Bar) Selected() bool { return b.selected }

// Tapped implements [fyne.Tappable].
func (b *Bar) Tapped(*fyne.PointEvent) {
	takeKeyboard(b)
	b.choose()
}

func (b *Bar) choose() {
	if b.OnChosen != nil {
		b.OnChosen()
	}
}

// TypedKey implements [fyne.Focusable].
func (b *Bar) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		b.choose()
		return
	}
	if b.OnKey != nil {
		b.OnKey(e)
	}
}

// TypedRune implements [fyne.Focusable].
func (b *Bar) TypedRune(rune) {}

// FocusGained implements [fyne.Focusable].
func (b *Bar) FocusGained() { b.focused = true; b.colour() }

// FocusLost implements [fyne.Focusable].
func (b *Bar) FocusLost() { b.focused = false; b.colour() }

// MouseIn implements [desktop.Hoverable].
func (b *Bar) MouseIn(*desktop.MouseEvent) { b.hovered = true; b.colour() }

// MouseMoved implements [desktop.Hoverable].
func (b *Bar) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements [desktop.Hoverable].
func (b *Bar) MouseOut() { b.hovered = false; b.colour() }

// Cursor implements [desktop.Cursorable].
func (b *Bar) Cursor() desktop.Cursor { return desktop.PointerCursor }

// AccessibilityLabel says name and share.
func (b *Bar) AccessibilityLabel() string { return b.name + ", " + b.words }

// Name is what stands before the bar.
func (b *Bar) Name() string { return b.name }

// Words are the share in words.
func (b *Bar) Words() string { return b.words }

// barEdge is between the frame and what is in it, and beamHeight that of the beam,
// at ordinary text size.
const (
	barEdge    = 6
	beamHeight = 9
)

// MinSize is that of the name and its words over the beam, at the present width.
func (b *Bar) MinSize() fyne.Size {
	b.ExtendBaseWidget(b)
	size := b.Theme().Size(theme.SizeNameText)
	line := fyne.MeasureText("X", size, fyne.TextStyle{Bold: true}).Height
	k := size / ordinaryText
	return fyne.NewSize(180*k, line*float32(max(1, len(b.label)))+beamHeight*k+3*barEdge)
}

// CreateRenderer implements [fyne.Widget].
func (b *Bar) CreateRenderer() fyne.WidgetRenderer {
	b.ExtendBaseWidget(b)
	b.value = canvas.NewText("", nil)
	b.value.Alignment = fyne.TextAlignTrailing
	b.ground, b.fill, b.mark, b.frame, b.edge = canvas.NewRectangle(nil), canvas.NewRectangle(nil), canvas.NewRectangle(nil), canvas.NewRectangle(nil), canvas.NewRectangle(nil)
	b.ground.CornerRadius, b.fill.CornerRadius, b.frame.CornerRadius = 2, 2, 5
	r := &barRenderer{b}
	r.Refresh()
	return r
}

// colour shows whether the bar is chosen, has the keyboard or is pointed at.
func (b *Bar) colour() {
	if b.frame == nil {
		return
	}
	th, v := b.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	b.frame.StrokeColor, b.frame.StrokeWidth, b.frame.FillColor = th.Color(theme.ColorNameSeparator, v), 0, nil
	switch {
	case b.focused || b.hovered:
		b.frame.StrokeColor, b.frame.StrokeWidth = th.Color(theme.ColorNamePrimary, v), 1.5
	}
	b.edge.FillColor, b.edge.Hidden = th.Color(theme.ColorNamePrimary, v), !b.selected
	if b.selected {
		b.frame.FillColor = th.Color(theme.ColorNameButton, v)
	}
	b.value.Color = th.Color(theme.ColorNameForeground, v)
	for _, l := range b.label {
		l.TextStyle.Bold, l.Color = b.selected, b.value.Color
	}
	b.ground.FillColor = th.Color(theme.ColorNameSeparator, v)
	b.fill.FillColor = th.Color(theme.ColorNamePrimary, v)
	b.mark.FillColor = th.Color(theme.ColorNameForeground, v)
	for _, o := range (&barRenderer{b}).Objects() {
		canvas.Refresh(o)
	}
}

type barRenderer struct{ b *Bar }

func (r *barRenderer) Layout(size fyne.Size) {
	b := r.b
	text := b.Theme().Size(theme.SizeNameText)
	k := text / ordinaryText
	line := fyne.MeasureText("X", text, fyne.TextStyle{Bold: true}).Height
	b.frame.Resize(size)
	b.edge.Resize(fyne.NewSize(3, size.Height))
	value := fyne.MeasureText(b.words, b.value.TextSize, b.value.TextStyle).Width
	left := float32(barEdge + 4)
	inner := max(0, size.Width-left-barEdge)
	b.value.Move(fyne.NewPos(left+max(0, inner-value), barEdge))
	b.value.Resize(fyne.NewSize(min(value, inner), line))
	room := max(0, inner-value-2*barEdge)
	r.write(brokenTo(b.name, room, text), text)
	for i, l := range b.label {
		l.Move(fyne.NewPos(left, barEdge+line*float32(i)))
		l.Resize(fyne.NewSize(room, line))
	}
	y, h := barEdge*1.5+line*float32(len(b.label)), beamHeight*k
	b.ground.Move(fyne.NewPos(left, y+h/3))
	b.ground.Resize(fyne.NewSize(inner, h/3))
	b.fill.Move(fyne.NewPos(left, y))
	b.fill.Resize(fyne.NewSize(max(1, inner*float32(clamp(b.share))), h))
	b.mark.Hidden = b.before < 0
	b.mark.Move(fyne.NewPos(left+inner*float32(clamp(b.before))-1, y-2))
	b.mark.Resize(fyne.NewSize(2, h+4))
}

func clamp(share float64) float64 {
	if math.IsNaN(share) {
		return 0
	}
	return min(max(share, 0), 1)
}

// write shows the name in lines.
func (r *barRenderer) write(lines []string, size float32) {
	b := r.b
	if grown := len(lines) - len(b.label); grown > 0 {
		for range grown {
			b.label = append(b.label, canvas.NewText("", b.value.Color))
		}
	}
	b.label = b.label[:len(lines)]
	for i, l := range b.label {
		l.Text, l.TextSize, l.TextStyle.Bold = lines[i], size, b.selected
	}
}

// brokenTo breaks a text between words into lines of a width at most; a word that is
// wider has a line of its own. The room is that of bold type, so that choosing a bar
// breaks nothing anew.
func brokenTo(s string, width, size float32) []string {
	lines := []string{""}
	for _, word := range strings.Fields(s) {
		last := &lines[len(lines)-1]
		longer := word
		if *last != "" {
			longer = *last + " " + word
		}
		if *last == "" || width <= 0 || fyne.MeasureText(longer, size, fyne.TextStyle{Bold: true}).Width <= width {
			*last = longer
			continue
		}
		lines = append(lines, word)
	}
	return lines
}

func (r *barRenderer) MinSize() fyne.Size { return r.b.MinSize() }

func (r *barRenderer) Objects() []fyne.CanvasObject {
	b := r.b
	list := []fyne.CanvasObject{b.frame, b.edge, b.ground, b.fill, b.mark, b.value}
	for _, l := range b.label {
		list = append(list, l)
	}
	return list
}

// Refresh is for a change of what is shown or of the theme.
func (r *barRenderer) Refresh() {
	b := r.b
	size := b.Theme().Size(theme.SizeNameText)
	b.value.TextSize, b.value.Text = size, b.words
	r.Layout(b.Size())
	b.colour()
}

func (r *barRenderer) Destroy() {}
