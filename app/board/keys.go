package board

import (
	"slices"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// keys gives the board its keys, those of a presenter's remote among them (Page
// Up, Page Down, F5, Escape, the full stop), and the mouse.
func (b *Board) keys() {
	b.View.OnKey = b.Key
	b.Window.Canvas().SetOnTypedKey(b.Key)
	b.View.OnTap = b.forward
	b.View.OnBack = b.back
	b.View.OnMove = b.hint.flashKeys
	b.View.OnScroll = func(by float32) { b.turn(timing.Deg(by)) }
}

// Key acts on a key. The strip of keys that came by itself is gone with the first.
func (b *Board) Key(e *fyne.KeyEvent) {
	b.hint.pass()
	b.act(e)
}

func (b *Board) act(e *fyne.KeyEvent) {
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
		if step, ok := widgets.Step(e.Name, kit.HeldModifiers()); ok {
			b.turn(step)
		}
	case fyne.KeyD:
		b.dark = !b.dark
		b.desk.Prefs.SetBool(desk.PrefBoardDark, b.dark)
		b.show()
	case fyne.KeyB, fyne.KeyPeriod:
		b.blank = !b.blank
		b.show()
	case fyne.KeyHome:
		b.open(0)
	case fyne.KeyEnd:
		b.open(b.deck.Len() - 1)
	case fyne.Key1:
		b.chapter(chart.FiringOrder)
	case fyne.Key2:
		b.chapter(chart.Pairs)
	case fyne.Key3:
		b.chapter(chart.Fault)
	case fyne.Key4:
		b.chapter(chart.Turning)
	case fyne.KeyH, fyne.KeyF1:
		b.hint.toggle()
	case fyne.KeyF11, fyne.KeyF:
		if b.Window.FullScreen() {
			b.Window.SetFullScreen(false)
		} else {
			b.full(false)
		}
	case fyne.KeyEscape:
		b.Leave()
	}
}

// speed changes how fast the crank runs and says it.
func (b *Board) speed(by int) {
	i := slices.Index(desk.Speeds, b.run.Speed) + by
	if i >= 0 && i < len(desk.Speeds) {
		b.run.Speed = desk.Speeds[i]
		b.speedSet(desk.Speeds[i])
	}
	b.hint.flash(with("The crankshaft turns at {{.Speed}}.", map[string]any{"Speed": desk.SpeedName(b.run.Speed)}))
}

// boardKey is a key of the board: what stands on it, and what it does.
type boardKey struct {
	name fyne.KeyName
	on   string
	does phrase.Text
}

var boardKeys = []boardKey{
	{fyne.KeyRight, "→", "next"},
	{fyne.KeyLeft, "←", "previous"},
	{fyne.KeyA, "A", "answer"},
	{fyne.KeyS, "S", "stroke names"},
	{fyne.KeyR, "R", "turn or pause"},
	{fyne.KeyPlus, "+", "faster"},
	{fyne.KeyMinus, "−", "slower"},
	{fyne.KeyUp, "↑", "forward 1°"},
	{fyne.KeyDown, "↓", "back 1°"},
	{fyne.Key1, "1", "firing order"},
	{fyne.Key2, "2", "pistons in pairs"},
	{fyne.Key3, "3", "the fault"},
	{fyne.Key4, "4", "turning"},
	{fyne.KeyD, "D", "dark or light"},
	{fyne.KeyB, "B", "blank page"},
	{fyne.KeyF, "F", "window or full screen"},
	{fyne.KeyH, "H", "these keys"},
	{fyne.KeyEscape, "Esc", "close the board"},
}
