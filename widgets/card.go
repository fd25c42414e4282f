package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase/timing/figure"
)

var (
	_ fyne.Tappable      = (*Card)(nil)
	_ fyne.Focusable     = (*Card)(nil)
	_ desktop.Hoverable  = (*Card)(nil)
	_ desktop.Cursorable = (*Card)(nil)
)

// Card is a picture with a word below it, to choose by what it shows. One of
// several is selected; their owner says which.
type Card struct {
	widget.BaseWidget

	// OnChosen is told that the user has picked the card.
	OnChosen func()

	label    string
	draw     func(figure.Box) figure.Drawing
	selected bool
	focused  bool
	hovered  bool

	plane *plane
	built fyne.Size
	stale bool
	text  *canvas.Text
	frame *canvas.Rectangle
}

// NewCard returns a card that shows what draw makes for the room there is.
func NewCard(label string, draw func(figure.Box) figure.Drawing) *Card {
	c := &Card{label: label, draw: draw, plane: newPlane(), stale: true}
	c.ExtendBaseWidget(c)
	return c
}

// SetSelected marks the card as the chosen one, or not.
func (c *Card) SetSelected(on bool) {
	if on != c.selected {
		c.selected = on
		c.colour()
	}
}

// SetPicture gives the card another picture.
func (c *Card) SetPicture(draw func(figure.Box) figure.Drawing) {
	c.draw, c.stale = draw, true
	c.build()
}

// Tapped implements [fyne.Tappable].
func (c *Card) Tapped(*fyne.PointEvent) {
	if cv := fyne.CurrentApp().Driver().CanvasForObject(c); cv != nil {
		cv.Focus(c)
	}
	c.choose()
}

func (c *Card) choose() {
	if c.OnChosen != nil {
		c.OnChosen()
	}
}

// TypedKey implements [fyne.Focusable].
func (c *Card) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		c.choose()
	}
}

// TypedRune implements [fyne.Focusable].
func (c *Card) TypedRune(rune) {}

// FocusGained implements [fyne.Focusable].
func (c *Card) FocusGained() { c.focused = true; c.colour() }

// FocusLost implements [fyne.Focusable].
func (c *Card) FocusLost() { c.focused = false; c.colour() }

// MouseIn implements [desktop.Hoverable].
func (c *Card) MouseIn(*desktop.MouseEvent) { c.hovered = true; c.colour() }

// MouseMoved implements [desktop.Hoverable].
func (c *Card) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements [desktop.Hoverable].
func (c *Card) MouseOut() { c.hovered = false; c.colour() }

// Cursor implements [desktop.Cursorable].
func (c *Card) Cursor() desktop.Cursor { return desktop.PointerCursor }

// AccessibilityLabel says what the card stands for.
func (c *Card) AccessibilityLabel() string { return c.label }

// MinSize is that of a picture that can be told from the next, and the word.
func (c *Card) MinSize() fyne.Size {
	c.ExtendBaseWidget(c)
	size := c.Theme().Size(theme.SizeNameCaptionText)
	k := size / 13
	text := fyne.MeasureText(c.label, size, fyne.TextStyle{})
	return fyne.NewSize(max(112*k, text.Width+12), 84*k+text.Height)
}

// CreateRenderer implements [fyne.Widget].
func (c *Card) CreateRenderer() fyne.WidgetRenderer {
	c.ExtendBaseWidget(c)
	c.text = canvas.NewText(c.label, nil)
	c.text.Alignment = fyne.TextAlignCenter
	c.frame = canvas.NewRectangle(nil)
	c.frame.CornerRadius = 5
	r := &cardRenderer{c}
	r.Refresh()
	return r
}

// colour shows whether the card is chosen, has the keyboard or is pointed at.
func (c *Card) colour() {
	if c.frame == nil {
		return
	}
	th, v := c.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	name, width := theme.ColorNameSeparator, float32(1)
	switch {
	case c.selected:
		name, width = theme.ColorNamePrimary, 3
	case c.focused || c.hovered:
		name, width = theme.ColorNamePrimary, 1.5
	}
	c.frame.StrokeColor, c.frame.StrokeWidth = th.Color(name, v), width
	c.text.TextStyle.Bold = c.selected || c.focused
	canvas.Refresh(c.frame)
	canvas.Refresh(c.text)
}

func (c *Card) build() {
	size := c.plane.raster.Size()
	if size.IsZero() || !c.stale && size == c.built {
		return
	}
	c.plane.show(c.draw(box(size, c.Theme())), styleOf(c.Theme()))
	c.built, c.stale = size, false
}

type cardRenderer struct{ c *Card }

func (r *cardRenderer) Layout(size fyne.Size) {
	c := r.c
	h := c.text.MinSize().Height
	c.frame.Resize(size)
	c.plane.raster.Move(fyne.NewPos(4, 4))
	c.plane.raster.Resize(fyne.NewSize(max(0, size.Width-8), max(0, size.Height-h-8)))
	c.text.Move(fyne.NewPos(0, size.Height-h-3))
	c.text.Resize(fyne.NewSize(size.Width, h))
	c.build()
}

func (r *cardRenderer) MinSize() fyne.Size { return r.c.MinSize() }

func (r *cardRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.c.plane.raster, r.c.text, r.c.frame}
}

func (r *cardRenderer) Refresh() {
	c := r.c
	c.text.Text, c.text.TextSize = c.label, c.Theme().Size(theme.SizeNameCaptionText)
	c.text.Color = c.Theme().Color(theme.ColorNameForeground, fyne.CurrentApp().Settings().ThemeVariant())
	c.colour()
	c.stale = true
	c.build()
}

func (r *cardRenderer) Destroy() {}
