//go:build e2e && unix

package main

import (
	"strconv"
	"strings"
	"syscall"
	"testing"

	"pinphase.org/pinphase"
)

// A touch board, a remote control and a machine that was busy for a moment bring a
// movement and the button at once: the program is stopped meanwhile, so that it finds both
// in one frame. The click is for where the pointer is then, not for where it was.
func TestClickComesWithItsMovement(t *testing.T) {
	w := open(t, build(t), newHomes(t), jobFile(t))
	w.mayStall = true // it is made to
	// The desktop knows by this which menu entry the window is of (StartupWMClass).
	if out, err := tool("xprop", "-id", w.id, "WM_CLASS"); err != nil || strings.Count(string(out), `"`+pinphase.About().ID+`"`) != 2 {
		t.Errorf("the window's class: %s (%v)", out, err)
	}
	atOnce := func(commands ...string) {
		t.Helper()
		if err := w.cmd.Process.Signal(syscall.SIGSTOP); err != nil {
			t.Fatal(err)
		}
		w.xdo(commands...)
		if err := w.cmd.Process.Signal(syscall.SIGCONT); err != nil {
			t.Fatal(err)
		}
		w.frame()
	}
	move := func(x, y int) []string {
		return []string{"mousemove", "--window", w.id, strconv.Itoa(x), strconv.Itoa(y)}
	}
	for _, name := range []string{"Signals", "Part", "Gears", "Cycle"} {
		at := centre(w.steady("the page's button", button(name)).Place)
		atOnce(append(move(at.X, at.Y), "click", "1")...)
		w.page(name)
	}

	knob, level := w.knob()
	drag := append(move(knob, level), "mousedown", "1")
	drag = append(append(drag, move(knob+60, level)...), "mouseup", "1")
	atOnce(drag...)
	w.until("the slider to be where it was dragged", func() bool { k, _ := w.knob(); return near(k, knob+60, 4) })

	// A turn of the wheel is for what lies under the pointer: it zooms the traces.
	w.key("ctrl+4")
	w.page("Signals")
	at := centre(w.inSight("the traces", traces).Place)
	w.point(centre(w.steady("the page's button", button("Signals")).Place))
	w.repaints("the traces", traces, 0.01, func() { atOnce(append(move(at.X, at.Y), "click", "4")...) })
	w.key("ctrl+q")
	w.ended()
}
