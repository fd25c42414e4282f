package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
)

// The board opens by key and menu, once, and leaves.
func TestBoardOpensAndLeaves(t *testing.T) {
	u := window(t)
	typedKeys(u, fyne.KeySpace)
	typedKeys(u, fyne.KeyF5)
	b := u.board
	if !b.Window.FullScreen() || b.Window.Canvas().Focused() != fyne.Focusable(b.View) {
		t.Error("the board does not fill the screen, or has not the keyboard")
	}
	if u.Run.On() {
		t.Error("the crank of the window runs on behind it")
	}
	if !strings.Contains(b.View.AccessibilityLabel(), "Cylinder 1 fires at 0°. Which cylinder fires next?") {
		t.Errorf("it shows %q", b.View.AccessibilityLabel())
	}
	typedKeys(u, fyne.KeyF5) // from the instructor's screen
	if u.board != b {
		t.Error("a second board was opened")
	}
	b.View.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if u.board != nil {
		t.Error("Escape does not leave")
	}
	choose(t, u, "View", "Board view, for a class (F5)")
	if u.board == nil || u.board == b {
		t.Error("the menu does not open a board")
	}
	u.board.Leave()
	choose(t, u, "View", "Board view on the second screen") // there is none here: the first has to do
	if u.board == nil || !u.board.Window.FullScreen() {
		t.Error("without a second screen there is no board")
	}
}
