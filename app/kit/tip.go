package kit

import (
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
// pointer rests on it or the keyboard is there. Only one tip is shown at a time.
type tips struct {
	u       *Frame
	Content *fyne.Container // over the whole window; it takes nothing from what is below
	ground  *canvas.Rectangle
	words   *canvas.Text
	of      *TipButton // nil: none is shown or waited for
	wait    *fyne.Animation
}

func NewTips(u *Frame) *tips {
	t := &tips{u: u, ground: canvas.NewRectangle(nil), words: canvas.NewText("", nil)}
	t.ground.StrokeWidth = 1
	t.Content = container.NewWithoutLayout(t.ground, t.words)
	t.Content.Hide()
	return t
}

// tipDelay is how long the pointer rests before the tip comes.
const tipDelay = 500 * time.Millisecond

// soon shows a button's tip when the pointer has rested a while.
func (t *tips) soon(b *TipButton) {
	t.Stop()
	t.of = b
	t.wait = fyne.NewAnimation(tipDelay, func(done float32) {
		if done >= 1 && t.of == b {
			t.show(b)
		}
	})
	t.wait.Start()
}

// show shows a button's tip below it, or above where there is no room.
func (t *tips) show(b *TipButton) {
	t.of = b
	t.ground.FillColor, t.ground.StrokeColor = t.u.Look.FigureColor(figure.Surface), t.u.Look.FigureColor(figure.Ink)
	t.words.Color, t.words.TextSize = t.u.Look.FigureColor(figure.Ink), theme.TextSize()
	t.words.Text = b.says
	d := fyne.CurrentApp().Driver()
	at := d.AbsolutePositionForObject(b).Subtract(d.AbsolutePositionForObject(t.u.Root))
	room, pad := t.u.Root.Size(), theme.InnerPadding()
	size := t.words.MinSize().AddWidthHeight(2*pad, pad)
	below := at.Y + b.Size().Height + 2
	if below+size.Height > room.Height {
		below = at.Y - size.Height - 2
	}
	left := max(0, min(at.X, room.Width-size.Width))
	t.ground.Move(fyne.NewPos(left, below))
	t.ground.Resize(size)
	t.words.Move(fyne.NewPos(left+pad, below+pad/2))
	t.words.Resize(t.words.MinSize())
	t.Content.Show()
	t.Content.Refresh()
}

// hide takes a button's tip away; that of another stays.
func (t *tips) hide(b *TipButton) {
	if t.of == b {
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
	b.tips.soon(b)
}

// MouseOut implements [desktop.Hoverable].
func (b *TipButton) MouseOut() {
	b.Button.MouseOut()
	b.tips.hide(b)
}

// FocusGained implements [fyne.Focusable].
func (b *TipButton) FocusGained() {
	b.Button.FocusGained()
	b.tips.show(b)
}

// FocusLost implements [fyne.Focusable].
func (b *TipButton) FocusLost() {
	b.Button.FocusLost()
	b.tips.hide(b)
}
