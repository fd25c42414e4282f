package kit

import (
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/figure"
)

// tips says in words what a button with nothing but a picture on it does, while the
// pointer rests on it or the keyboard is there, and what a word on a figure means, while
// the pointer rests on that. Only one tip is shown at a time.
type tips struct {
	u       *Frame
	Content *fyne.Container // over the whole window; it takes nothing from what is below
	ground  *canvas.Rectangle
	of      fyne.CanvasObject // nil: none is shown or waited for
	wait    *fyne.Animation
}

func NewTips(u *Frame) *tips {
	t := &tips{u: u, ground: canvas.NewRectangle(nil)}
	t.ground.StrokeWidth = 1
	t.Content = container.NewWithoutLayout(t.ground)
	t.Content.Hide()
	return t
}

// tipDelay is how long the pointer rests before the tip comes.
const tipDelay = 500 * time.Millisecond

// soon shows a tip when the pointer has rested a while on part of an object.
func (t *tips) soon(o fyne.CanvasObject, at fyne.Position, part fyne.Size, says string) {
	t.Stop()
	t.of = o
	t.wait = fyne.NewAnimation(tipDelay, func(done float32) {
		if done >= 1 && t.of == o {
			t.show(o, at, part, says)
		}
	})
	t.wait.Start()
}

// Explain shows what a word means when the pointer has rested a while on where it is
// written; without words the tip of that object goes.
func (t *tips) Explain(o fyne.CanvasObject, at fyne.Position, part fyne.Size, says string) {
	if says == "" {
		t.hide(o)
		return
	}
	t.soon(o, at, part, says)
}

// tipWidth is how wide a tip is at most, in sizes of its type.
const tipWidth = 26

// show shows a tip below part of an object, or above where there is no room.
func (t *tips) show(o fyne.CanvasObject, part fyne.Position, high fyne.Size, says string) {
	t.of = o
	t.ground.FillColor, t.ground.StrokeColor = t.u.Look.FigureColor(figure.Surface), t.u.Look.FigureColor(figure.Ink)
	d := fyne.CurrentApp().Driver()
	at := d.AbsolutePositionForObject(o).Subtract(d.AbsolutePositionForObject(t.u.Root)).Add(part)
	room, pad := t.u.Root.Size(), theme.InnerPadding()
	var lines []fyne.CanvasObject
	size := fyne.NewSize(0, 0)
	for _, words := range wrapped(says, min(tipWidth*theme.TextSize(), room.Width-2*pad)) {
		line := canvas.NewText(words, t.u.Look.FigureColor(figure.Ink))
		line.TextSize = theme.TextSize()
		least := line.MinSize()
		line.Resize(least)
		line.Move(fyne.NewPos(0, size.Height))
		size = fyne.NewSize(max(size.Width, least.Width), size.Height+least.Height)
		lines = append(lines, line)
	}
	size = size.AddWidthHeight(2*pad, pad)
	below := at.Y + high.Height + 2
	if below+size.Height > room.Height {
		below = at.Y - size.Height - 2
	}
	left := max(0, min(at.X, room.Width-size.Width))
	t.ground.Move(fyne.NewPos(left, below))
	t.ground.Resize(size)
	for _, line := range lines {
		line.Move(line.Position().AddXY(left+pad, below+pad/2))
	}
	t.Content.Objects = append([]fyne.CanvasObject{t.ground}, lines...)
	t.Content.Show()
	t.Content.Refresh()
}

// wrapped breaks words into lines no wider than there is room; a word that is wider has
// a line of its own.
func wrapped(words string, room float32) (lines []string) {
	line := ""
	for _, w := range strings.Fields(words) {
		longer := strings.TrimSpace(line + " " + w)
		if line != "" && fyne.MeasureText(longer, theme.TextSize(), fyne.TextStyle{}).Width > room {
			lines = append(lines, line)
			longer = w
		}
		line = longer
	}
	return append(lines, line)
}

// hide takes an object's tip away; that of another stays.
func (t *tips) hide(o fyne.CanvasObject) {
	if t.of == o {
		t.Stop()
	}
}

func (t *tips) Stop() {
	if t.wait != nil {
		t.wait.Stop()
		t.wait = nil
	}
	t.of = nil
	t.Content.Hide()
}

var _ desktop.Hoverable = (*TipButton)(nil)

// TipButton is a button with nothing but a picture on it, and the words for it.
type TipButton struct {
	widget.Button
	tips *tips
	says string
}

func (u *Frame) NewTipButton(icon fyne.Resource, says string, tapped func()) *TipButton {
	b := &TipButton{tips: u.Tips, says: says}
	b.Icon, b.OnTapped = icon, tapped
	b.ExtendBaseWidget(b)
	return b
}

// AccessibilityLabel says what the button does.
func (b *TipButton) AccessibilityLabel() string { return b.says }

// MouseIn implements [desktop.Hoverable].
func (b *TipButton) MouseIn(e *desktop.MouseEvent) {
	b.Button.MouseIn(e)
	b.tips.soon(b, fyne.Position{}, b.Size(), b.says)
}

// MouseOut implements [desktop.Hoverable].
func (b *TipButton) MouseOut() {
	b.Button.MouseOut()
	b.tips.hide(b)
}

// FocusGained implements [fyne.Focusable].
func (b *TipButton) FocusGained() {
	b.Button.FocusGained()
	b.tips.show(b, fyne.Position{}, b.Size(), b.says)
}

// FocusLost implements [fyne.Focusable].
func (b *TipButton) FocusLost() {
	b.Button.FocusLost()
	b.tips.hide(b)
}
