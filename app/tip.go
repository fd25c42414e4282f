package app

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
	u       *frame
	content *fyne.Container // over the whole window; it takes nothing from what is below
	ground  *canvas.Rectangle
	words   *canvas.Text
	of      *tipButton // nil: none is shown or waited for
	wait    *fyne.Animation
}

func newTips(u *frame) *tips {
	t := &tips{u: u, ground: canvas.NewRectangle(nil), words: canvas.NewText("", nil)}
	t.ground.StrokeWidth = 1
	t.content = container.NewWithoutLayout(t.ground, t.words)
	t.content.Hide()
	return t
}

// tipDelay is how long the pointer rests before the tip comes.
const tipDelay = 500 * time.Millisecond

// soon shows a button's tip when the pointer has rested a while.
func (t *tips) soon(b *tipButton) {
	t.stop()
	t.of = b
	t.wait = fyne.NewAnimation(tipDelay, func(done float32) {
		if done >= 1 && t.of == b {
			t.show(b)
		}
	})
	t.wait.Start()
}

// show shows a button's tip below it, or above where there is no room.
func (t *tips) show(b *tipButton) {
	t.of = b
	t.ground.FillColor, t.ground.StrokeColor = t.u.look.figureColor(figure.Surface), t.u.look.figureColor(figure.Ink)
	t.words.Color, t.words.TextSize = t.u.look.figureColor(figure.Ink), theme.TextSize()
	t.words.Text = b.says
	d := fyne.CurrentApp().Driver()
	at := d.AbsolutePositionForObject(b).Subtract(d.AbsolutePositionForObject(t.u.root))
	room, pad := t.u.root.Size(), theme.InnerPadding()
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
	t.content.Show()
	t.content.Refresh()
}

// hide takes a button's tip away; that of another stays.
func (t *tips) hide(b *tipButton) {
	if t.of == b {
		t.stop()
	}
}

func (t *tips) stop() {
	if t.wait != nil {
		t.wait.Stop()
		t.wait = nil
	}
	t.of = nil
	t.content.Hide()
}

var _ desktop.Hoverable = (*tipButton)(nil)

// tipButton is a button with nothing but a picture on it, and the words for it.
type tipButton struct {
	widget.Button
	tips *tips
	says string
}

func (u *frame) newTipButton(icon fyne.Resource, says string, tapped func()) *tipButton {
	b := &tipButton{tips: u.tips, says: says}
	b.Icon, b.OnTapped = icon, tapped
	b.ExtendBaseWidget(b)
	return b
}

// AccessibilityLabel says what the button does.
func (b *tipButton) AccessibilityLabel() string { return b.says }

// MouseIn implements [desktop.Hoverable].
func (b *tipButton) MouseIn(e *desktop.MouseEvent) {
	b.Button.MouseIn(e)
	b.tips.soon(b)
}

// MouseOut implements [desktop.Hoverable].
func (b *tipButton) MouseOut() {
	b.Button.MouseOut()
	b.tips.hide(b)
}

// FocusGained implements [fyne.Focusable].
func (b *tipButton) FocusGained() {
	b.Button.FocusGained()
	b.tips.show(b)
}

// FocusLost implements [fyne.Focusable].
func (b *tipButton) FocusLost() {
	b.Button.FocusLost()
	b.tips.hide(b)
}
