package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// addKeys gives the window its keys outside menus: those without Ctrl, while no
// field has the keyboard, and the crank's fine steps with Ctrl.
func (u *ui) addKeys() {
	c := u.Window.Canvas()
	c.SetOnTypedKey(u.Key)
	for _, key := range []fyne.KeyName{fyne.KeyLeft, fyne.KeyRight} {
		c.AddShortcut(&desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierControl}, func(fyne.Shortcut) {
			if step, ok := widgets.Step(key, fyne.KeyModifierControl); ok && !u.Covered() {
				u.SetAt(u.At + step)
			}
		})
	}
}

// Key acts on a key that nothing else wanted.
func (u *ui) Key(e *fyne.KeyEvent) {
	if u.Covered() {
		u.BoxKey(e)
		return
	}
	if p, ok := u.pages.now().(desk.KeyPage); ok && p.Key(e) {
		return
	}
	switch e.Name {
	case fyne.KeySpace:
		u.Run.Toggle()
	case fyne.KeyHome:
		u.SetAt(0)
	case fyne.KeyEnd:
		u.ToFiringLast()
	case fyne.KeyPageDown:
		u.ToFiring(+1)
	case fyne.KeyPageUp:
		u.ToFiring(-1)
	case fyne.KeyF1:
		u.showHelp()
	case fyne.KeyF5:
		u.openBoard(false)
	case fyne.KeyF10:
		u.toggleMenu()
	case fyne.KeyF11:
		u.toggleFullScreen()
	case fyne.KeyEscape:
		u.tour.end()
		u.Notice.Close()
		u.Opening.Stop()
		for _, p := range u.pages.built {
			if s, ok := p.(desk.Stopper); ok {
				s.CallOff()
			}
		}
		if u.Window.FullScreen() {
			u.toggleFullScreen()
		}
		u.Run.Stop()
	default:
		if step, ok := widgets.Step(e.Name, kit.HeldModifiers()); ok {
			u.SetAt(u.At + step)
		}
	}
}

// toggleMenu opens the menu bar for the arrow keys, or closes it. The canvas of a
// window on a screen can; the one that tests paint on has no menu bar.
func (u *ui) toggleMenu() {
	if c, ok := u.Window.Canvas().(interface{ ToggleMenu() }); ok {
		c.ToggleMenu()
	}
}

// keyHelp are the keys and what they do.
var keyHelp = []struct {
	on, does phrase.Text
}{
	{"← →", "crankshaft back or forward by 1°"},
	{"Shift ← →", "by 10°"},
	{"Ctrl ← →", "by 0.1°"},
	{"Space", "turn the crankshaft slowly, or stop it"},
	{"Page Up, Page Down", "to the previous or the next firing TDC"},
	{"Home, End", "to TDC of cylinder 1, to the cycle's final firing TDC"},
	{"← →, Page Up, Page Down", "on a slider of the Fuel ignition page: by one step, by ten"},
	{"Enter", "on the Course and Practice pages: check the answer, then the next step or question"},
	{"1, 2, 3 …, ↑ ↓", "on the drawn engine: choose a cylinder"},
	{"+ −, 0, < >", "on the traces of the Signals page: zoom, show all, move along"},
	{"↑ ↓, Home, End", "from cause to cause on the Cause page"},
	{"Ctrl G", "type a crank angle"},
	{"Ctrl 1, Ctrl 2, …", "to another page"},
	{"Ctrl J", "show or hide the job's form"},
	{"Ctrl Z, Ctrl Y", "undo, redo"},
	{"Ctrl S, Ctrl O, Ctrl N", "save, open, new"},
	{"Ctrl Shift J", "list of the jobs in your folders"},
	{"Ctrl L", "library of engines and sensor wheels"},
	{"Ctrl =, Ctrl −", "larger or smaller text"},
	{"Ctrl T", "the settings"},
	{"F1, Ctrl H", "help for the page shown"},
	{"Ctrl Shift M", "the manual"},
	{"F5, Ctrl B", "board view, for a class"},
	{"F11", "full screen"},
	{"Tab, Shift Tab", "to the next or the previous field, figure or button"},
	{"F10, Alt", "the menu"},
}

func (u *ui) showKeys() {
	rows := make([][]string, len(keyHelp))
	for i, k := range keyHelp {
		rows[i] = []string{tr(k.on), tr(k.does)}
	}
	g := kit.NewGrid(2)
	g.Set(append([][]string{{tr("Key"), tr("What it does")}}, rows...))
	u.Inform(tr("Keys"), g.Content)
}

func (u *ui) showCautions() {
	u.Inform(tr("Cautions"), kit.Cautions())
}

// signConvention is the rule by which every angle is to be read.
const signConvention = "Crank degrees count from cylinder 1's firing TDC in the direction of rotation. An angle on the crankshaft is positive in the direction of rotation. A sensor wheel that is ahead makes everything the ECU commands happen early, one that is behind makes it late."
