package app

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase/timing"
	"pinphase/timing/plate"
	"pinphase/widgets"
)

// keys gives the board its keys, those of a presenter's remote among them (Page
// Up, Page Down, F5, Escape, the full stop), and the mouse.
func (b *board) keys() {
	b.view.OnKey = b.key
	b.window.Canvas().SetOnTypedKey(b.key)
	b.view.OnTap = b.forward
	b.view.OnBack = b.back
	b.view.OnMove = func() { b.hint.flash(b.hintWords()) }
	b.view.OnScroll = func(by float32) { b.turn(timing.Deg(by)) }
}

func (b *board) key(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyPageDown, fyne.KeyRight, fyne.KeySpace, fyne.KeyN:
		b.forward()
	case fyne.KeyPageUp, fyne.KeyLeft, fyne.KeyP, fyne.KeyBackspace:
		b.back()
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeyA:
		b.shown.Answer = !b.shown.Answer
		b.show()
	case fyne.KeyS:
		b.shown.Names = !b.shown.Names
		b.show()
	case fyne.KeyR:
		b.run.Toggle()
	case fyne.KeyPlus, fyne.KeyEqual:
		b.speed(+1)
	case fyne.KeyMinus:
		b.speed(-1)
	case fyne.KeyUp, fyne.KeyDown:
		if step, ok := widgets.Step(e.Name, heldModifiers()); ok {
			b.turn(step)
		}
	case fyne.KeyD:
		b.dark = !b.dark
		b.u.prefs.p.SetBool(prefBoardDark, b.dark)
		b.show()
	case fyne.KeyB, fyne.KeyPeriod:
		b.blank = !b.blank
		b.show()
	case fyne.KeyHome:
		b.open(0)
	case fyne.KeyEnd:
		b.open(b.deck.Len() - 1)
	case fyne.Key1:
		b.chapter(plate.FiringOrder)
	case fyne.Key2:
		b.chapter(plate.Pairs)
	case fyne.Key3:
		b.chapter(plate.Fault)
	case fyne.Key4:
		b.chapter(plate.Turning)
	case fyne.KeyH, fyne.KeyF1:
		b.hint.toggle(b.hintWords())
	case fyne.KeyF11, fyne.KeyF:
		if b.window.FullScreen() {
			b.window.SetFullScreen(false)
		} else {
			b.full(false)
		}
	case fyne.KeyEscape:
		b.leave()
	}
}

// speed changes how fast the crank runs and says it.
func (b *board) speed(by int) {
	i := slices.Index(speeds, b.run.Speed) + by
	if i >= 0 && i < len(speeds) {
		b.run.Speed = speeds[i]
		b.u.setSpeed(speeds[i])
	}
	b.hint.flash(with("The crank runs at {{.Speed}}.", map[string]any{"Speed": speedName(b.run.Speed)}))
}

// boardKeys are the board's keys and what they do.
var boardKeys = [][2]string{
	{"→", "next"},
	{"←", "back"},
	{"A", "answer"},
	{"S", "stroke names"},
	{"R", "run or pause"},
	{"+ −", "speed"},
	{"↑ ↓", "turn by 1°"},
	{"1", "firing order"},
	{"2", "pistons in pairs"},
	{"3", "the fault"},
	{"4", "turning"},
	{"D", "dark or light"},
	{"B", "nothing"},
	{"F", "window or full screen"},
	{"H", "these keys"},
	{"Esc", "leave"},
}

func (b *board) hintWords() string {
	list := make([]string, len(boardKeys))
	for i, k := range boardKeys {
		list[i] = strings.ReplaceAll(k[0]+" "+tr(k[1]), " ", "\u00a0") // a key stays with its words
	}
	return strings.Join(list, "   ")
}

// boardHint is a small line at the bottom that goes away by itself.
type boardHint struct {
	content *fyne.Container
	words   *widget.Label
	ground  *canvas.Rectangle
	seen    func(on bool)
	stays   bool
	anim    *fyne.Animation
}

func newBoardHint(seen func(on bool)) *boardHint {
	h := &boardHint{words: widget.NewLabel(""), seen: seen}
	h.words.Wrapping, h.words.Alignment = fyne.TextWrapWord, fyne.TextAlignCenter
	h.ground = canvas.NewRectangle(theme.Color(theme.ColorNameOverlayBackground))
	line := container.NewStack(h.ground, h.words)
	h.content = container.New(layout.NewBorderLayout(nil, line, nil, nil), line)
	h.content.Hide()
	return h
}

// flash shows words for a while.
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

// toggle shows words until it is called again.
func (h *boardHint) toggle(words string) {
	h.stop()
	h.stays = !h.stays
	h.put(words, h.stays)
}

func (h *boardHint) put(words string, on bool) {
	h.seen(on)
	if on {
		h.words.SetText(words)
		h.content.Show()
	} else {
		h.content.Hide()
	}
}

func (h *boardHint) stop() {
	if h.anim != nil {
		h.anim.Stop()
		h.anim = nil
	}
}
