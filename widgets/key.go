package widgets

import (
	"image/color"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

var (
	_ fyne.Tappable      = (*Key)(nil)
	_ desktop.Mouseable  = (*Key)(nil)
	_ desktop.Hoverable  = (*Key)(nil)
	_ desktop.Cursorable = (*Key)(nil)
)

// Key does with the mouse what a key of the keyboard does. It cannot have the
// keyboard itself: whoever has one has the real key.
type Key struct {
	widget.BaseWidget

	OnPress func()
	OnMove  func()    // the pointer was moved over it; may be nil
	Repeats bool      // is pressed again and again while it is held
	Least   fyne.Size // at ordinary text size; zero: as large as its words

	text    string
	hovered bool
	ground  *canvas.Rectangle
	words   *canvas.Text

	anim     *fyne.Animation // while it is held
	last     time.Time       // it was pressed
	repeated bool            // since it is held
}

// NewKey returns a key with words on it.
func NewKey(text string, press func()) *Key {
	k := &Key{OnPress: press, text: text, ground: canvas.NewRectangle(color.Transparent), words: canvas.NewText(text, color.Transparent)}
	k.words.Alignment = fyne.TextAlignCenter
	k.ExtendBaseWidget(k)
	return k
}

// How long a key is held before it repeats, and how long between.
const (
	keyDelay  = 450 * time.Millisecond
	keyRepeat = 90 * time.Millisecond
)

// Tapped implements [fyne.Tappable].
func (k *Key) Tapped(*fyne.PointEvent) {
	if !k.repeated {
		call(k.OnPress)
	}
	k.repeated = false
}

// MouseDown implements [desktop.Mouseable].
func (k *Key) MouseDown(*desktop.MouseEvent) {
	k.repeated = false
	if !k.Repeats {
		return
	}
	k.let()
	k.last = time.Now().Add(keyDelay - keyRepeat)
	k.anim = fyne.NewAnimation(time.Second, func(float32) { k.hold(time.Now()) })
	k.anim.RepeatCount = fyne.AnimationRepeatForever
	k.anim.Start()
}

// hold presses the key again when it is time to.
func (k *Key) hold(now time.Time) {
	if k.anim != nil && now.Sub(k.last) >= keyRepeat {
		k.last, k.repeated = now, true
		call(k.OnPress)
	}
}

// MouseUp implements [desktop.Mouseable]. It does not come when the button is let
// go elsewhere.
func (k *Key) MouseUp(*desktop.MouseEvent) { k.let() }

func (k *Key) let() {
	if k.anim != nil {
		k.anim.Stop()
		k.anim = nil
	}
}

// MouseIn implements [desktop.Hoverable].
func (k *Key) MouseIn(*desktop.MouseEvent) { k.hovered = true; k.Refresh() }

// MouseMoved implements [desktop.Hoverable].
func (k *Key) MouseMoved(*desktop.MouseEvent) { call(k.OnMove) }

// MouseOut implements [desktop.Hoverable].
func (k *Key) MouseOut() { k.let(); k.hovered = false; k.Refresh() }

// Cursor implements [desktop.Cursorable].
func (k *Key) Cursor() desktop.Cursor { return desktop.PointerCursor }

// AccessibilityLabel says what stands on the key.
func (k *Key) AccessibilityLabel() string { return k.text }

// MinSize implements [fyne.Widget].
func (k *Key) MinSize() fyne.Size {
	k.ExtendBaseWidget(k)
	pad := k.Theme().Size(theme.SizeNameInnerPadding)
	text := k.Theme().Size(theme.SizeNameText)
	words := fyne.MeasureText(k.text, text, fyne.TextStyle{})
	scale := text / ordinaryText
	return fyne.NewSize(max(words.Width+2*pad, k.Least.Width*scale), max(words.Height+pad, k.Least.Height*scale))
}

// CreateRenderer implements [fyne.Widget].
func (k *Key) CreateRenderer() fyne.WidgetRenderer {
	k.ExtendBaseWidget(k)
	r := &keyRenderer{k}
	r.Refresh()
	return r
}

type keyRenderer struct{ k *Key }

func (r *keyRenderer) Layout(size fyne.Size) {
	r.k.ground.Resize(size)
	r.k.words.Resize(size)
}

func (r *keyRenderer) MinSize() fyne.Size { return r.k.MinSize() }

func (r *keyRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.k.ground, r.k.words}
}

func (r *keyRenderer) Refresh() {
	k := r.k
	v := fyne.CurrentApp().Settings().ThemeVariant()
	ground := theme.ColorNameButton
	if k.hovered {
		ground = theme.ColorNameFocus
	}
	k.ground.FillColor = k.Theme().Color(ground, v)
	k.ground.CornerRadius = k.Theme().Size(theme.SizeNameInputRadius)
	k.ground.StrokeColor, k.ground.StrokeWidth = k.Theme().Color(theme.ColorNameInputBorder, v), 1
	k.words.Color = k.Theme().Color(theme.ColorNameForeground, v)
	k.words.TextSize = k.Theme().Size(theme.SizeNameText)
	canvas.Refresh(k.ground)
	canvas.Refresh(k.words)
}

func (r *keyRenderer) Destroy() {}
