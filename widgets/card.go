package widgets

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/figure"
)

var (
	_ fyne.Tappable      = (*Card)(nil)
	_ fyne.Focusable     = (*Card)(nil)
	_ desktop.Hoverable  = (*Card)(nil)
	_ desktop.Cursorable = (*Card)(nil)
)

// Card is a picture with a few words below it, on two lines where one is too
// narrow, to choose by what it shows. One of several is selected; their owner says
// which.
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
	lines [2]*canvas.Text
	frame *canvas.Rectangle
}

// NewCard returns a card that shows what draw makes for the room there is.
func NewCard(label string, draw func(figure.Box) figure.Drawing) *Card {
	c := &Card{label: label, draw: draw, plane: newPlane()}
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
	c.draw, c.plane.stale = draw, true
	c.build()
}

// Tapped implements [fyne.Tappable].
func (c *Card) Tapped(*fyne.PointEvent) {
	takeKeyboard(c)
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

// cardPicture is the least room for a picture that can be told from the next,
// at ordinary text size.
var cardPicture = fyne.NewSize(74, 56)

// cardEdge is between the frame and what is in it.
const cardEdge = 4

// MinSize is that of a picture that can be told from the next, and two lines of
// words.
func (c *Card) MinSize() fyne.Size {
	c.ExtendBaseWidget(c)
	size := c.Theme().Size(theme.SizeNameCaptionText)
	k := size / 13
	width := float32(0)
	for _, line := range halves(c.label) {
		text := fyne.MeasureText(line, size, fyne.TextStyle{Bold: true})
		width = max(width, text.Width)
	}
	line := fyne.MeasureText("X", size, fyne.TextStyle{Bold: true}).Height
	return fyne.NewSize(max(cardPicture.Width*k, width)+2*cardEdge, cardPicture.Height*k+2*line+2*cardEdge)
}

// halves splits words into two lines as evenly as can be; one word stays on the
// first.
func halves(label string) [2]string {
	best := [2]string{label, ""}
	for i, r := range label {
		if r == ' ' && max(i, len(label)-i-1) < max(len(best[0]), len(best[1])) {
			best = [2]string{label[:i], label[i+1:]}
		}
	}
	return best
}

// CreateRenderer implements [fyne.Widget].
func (c *Card) CreateRenderer() fyne.WidgetRenderer {
	c.ExtendBaseWidget(c)
	for i := range c.lines {
		c.lines[i] = canvas.NewText("", nil)
		c.lines[i].Alignment = fyne.TextAlignCenter
	}
	c.frame = canvas.NewRectangle(nil)
	c.frame.CornerRadius = 5
	r := &cardRenderer{c}
	r.Refresh()
	return r
}

// caption puts the words on one line, or on two where one is too narrow.
func (c *Card) caption(width float32) {
	lines := halves(c.label)
	if whole := strings.Join(lines[:], " "); fyne.MeasureText(strings.TrimSpace(whole), c.lines[0].TextSize, fyne.TextStyle{Bold: true}).Width <= width {
		lines = [2]string{strings.TrimSpace(whole), ""}
	}
	for i, t := range c.lines {
		t.Text = lines[i]
	}
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
	canvas.Refresh(c.frame)
	for _, t := range c.lines {
		t.TextStyle.Bold = c.selected || c.focused
		canvas.Refresh(t)
	}
}

func (c *Card) build() {
	size := c.plane.raster.Size()
	if !c.plane.due(size) {
		return
	}
	c.plane.show(c.draw(box(size, c.Theme())), styleOf(c.Theme()))
}

type cardRenderer struct{ c *Card }

func (r *cardRenderer) Layout(size fyne.Size) {
	c := r.c
	h := fyne.MeasureText("X", c.lines[0].TextSize, fyne.TextStyle{Bold: true}).Height
	c.caption(size.Width - 2*cardEdge)
	words := 2 * h
	c.frame.Resize(size)
	c.plane.raster.Move(fyne.NewPos(cardEdge, cardEdge))
	c.plane.raster.Resize(fyne.NewSize(max(0, size.Width-2*cardEdge), max(0, size.Height-words-2*cardEdge)))
	y := size.Height - words - cardEdge
	if c.lines[1].Text == "" {
		y += h / 2
	}
	for i, t := range c.lines {
		t.Move(fyne.NewPos(0, y+float32(i)*h))
		t.Resize(fyne.NewSize(size.Width, h))
	}
	c.build()
}

func (r *cardRenderer) MinSize() fyne.Size { return r.c.MinSize() }

func (r *cardRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.c.plane.raster, r.c.lines[0], r.c.lines[1], r.c.frame}
}

func (r *cardRenderer) Refresh() {
	c := r.c
	for _, t := range c.lines {
		t.TextSize = c.Theme().Size(theme.SizeNameCaptionText)
		t.Color = c.Theme().Color(theme.ColorNameForeground, fyne.CurrentApp().Settings().ThemeVariant())
	}
	c.colour()
	c.plane.stale = true
	c.build()
}

func (r *cardRenderer) Destroy() { r.c.plane.drop() }
