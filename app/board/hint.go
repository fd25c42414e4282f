package board

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/widgets"
)

// hintFor is how long the keys are shown when they have not been asked for.
const hintFor = 6 * time.Second

// boardHint is a strip at the bottom that goes away by itself: the board's keys,
// which the mouse can press there, or a sentence.
type boardHint struct {
	content *fyne.Container
	keys    *fyne.Container
	words   *widget.Label
	seen    func(on bool)
	stays   bool
	anim    *fyne.Animation
}

func newBoardHint(seen func(on bool), press func(*fyne.KeyEvent)) *boardHint {
	h := &boardHint{words: widget.NewLabel(""), seen: seen, keys: container.New(&kit.Flow{})}
	h.words.Wrapping, h.words.Alignment = fyne.TextWrapWord, fyne.TextAlignCenter
	for _, k := range boardKeys {
		key := widgets.NewKey(k.on+" "+tr(k.does), func() { press(&fyne.KeyEvent{Name: k.name}) })
		key.Repeats = k.name == fyne.KeyUp || k.name == fyne.KeyDown
		key.OnMove = h.flashKeys
		h.keys.Add(key)
	}
	ground := canvas.NewRectangle(theme.Color(theme.ColorNameOverlayBackground))
	h.content = container.New(alongBottom{}, ground, h.keys, h.words)
	h.content.Hide()
	return h
}

// flashKeys shows the keys for a while.
func (h *boardHint) flashKeys() { h.flash("") }

// flash shows a sentence for a while, or the keys when there is none.
func (h *boardHint) flash(words string) {
	h.put(words, true)
	if h.stays {
		return
	}
	h.stop()
	h.anim = fyne.NewAnimation(hintFor, func(done float32) {
		if done >= 1 {
			h.put("", false)
		}
	})
	h.anim.Curve = fyne.AnimationLinear
	h.anim.Start()
}

// pass takes the keys away that have come by themselves.
func (h *boardHint) pass() {
	if !h.stays {
		h.stop()
		h.put("", false)
	}
}

// toggle shows the keys until it is called again.
func (h *boardHint) toggle() {
	h.stop()
	h.stays = !h.stays
	h.put("", h.stays)
}

func (h *boardHint) put(words string, on bool) {
	h.seen(on)
	if !on {
		h.content.Hide()
		return
	}
	h.words.Hidden, h.keys.Hidden = words == "", words != ""
	if words != h.words.Text {
		h.words.SetText(words)
		h.content.Refresh()
	}
	h.content.Show()
}

func (h *boardHint) stop() {
	if h.anim != nil {
		h.anim.Stop()
		h.anim = nil
	}
}

// alongBottom lays its objects over one another along the lower edge, as high as
// the highest of those shown needs to be at that width; the first is their ground.
type alongBottom struct{}

func (alongBottom) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (alongBottom) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	high := float32(0)
	pad := theme.Padding()
	for _, o := range objects[1:] {
		if o.Visible() {
			o.Resize(fyne.NewSize(size.Width-2*pad, o.Size().Height)) // what wraps knows its height only at its width
			high = max(high, o.MinSize().Height)
		}
	}
	high += 2 * pad
	for i, o := range objects {
		in := pad
		if i == 0 {
			in = 0
		}
		o.Move(fyne.NewPos(in, size.Height-high+in))
		o.Resize(fyne.NewSize(size.Width-2*in, high-2*in))
	}
}
