//go:build e2e

package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"slices"
	"strings"
	"testing"
)

// effect is what a step of a walk brings about, as it can be seen from outside.
type effect func() bool

// step takes a step and waits for its effect, which must not be there before.
func (w *win) step(what string, e effect, do func()) {
	w.t.Helper()
	if e() {
		w.t.Fatalf("%s: what it should bring about is there before\n%s", what, w.log)
	}
	do()
	w.until("the effect of "+what, e)
}

// shows, hides and reads are that something is shown, is not, and that words are.
func (w *win) shows(of finder) effect {
	return func() bool { _, ok := of(w.look()); return ok }
}

// weighs is that something is shown and the causes were weighed with it: their order
// may change until then.
func (w *win) weighs(of finder) effect {
	shown, weighed := w.shows(of), w.hides(the(words("Recalculating")))
	return func() bool { return shown() && weighed() }
}

func (w *win) hides(of finder) effect {
	return func() bool { _, ok := of(w.look()); return !ok }
}

func (w *win) reads(part string) effect { return w.shows(the(words(part))) }

// titled is that the window has a title.
func (w *win) titled(title string) effect { return func() bool { return w.title() == title } }

// changes is that something becomes another than it is now.
func (w *win) changes(of func() string) effect {
	was := of()
	return func() bool { return of() != was }
}

// becomes is that something is what it was, or shall be.
func (w *win) becomes(of func() string, want string) effect {
	return func() bool { return of() == want }
}

// written is that a file is there from its beginning to its end.
func (w *win) written(path, begin, end string) effect {
	return func() bool {
		data, err := os.ReadFile(path)
		text := string(data)
		return err == nil && strings.HasPrefix(text, begin) && strings.HasSuffix(strings.TrimSpace(text), end)
	}
}

// texts are all words shown.
func (w *win) texts() string {
	var list []string
	for _, t := range w.look().Things {
		if isWords(t) {
			list = append(list, t.Says)
		}
	}
	return strings.Join(list, "\n")
}

// valueOf is what a field has in it, for [win.changes] and [win.becomes].
func (w *win) valueOf(of finder) func() string {
	return func() string { t, _ := of(w.look()); return t.Value }
}

// The walks go through the window by these alone, each of which wants an effect.

// press clicks a button.
func (w mouse) press(name string, e effect) {
	w.t.Helper()
	w.step("clicking "+name, e, func() { w.win.press(name) })
}

// click clicks something.
func (w mouse) click(what string, of finder, e effect) {
	w.t.Helper()
	w.step("clicking "+what, e, func() { w.win.click(what, of) })
}

// menu chooses an entry of the menu bar.
func (w mouse) menu(e effect, names ...string) {
	w.t.Helper()
	w.step("the menu's "+strings.Join(names, ", "), e, func() { w.win.menu(names...) })
}

// pushes gives a button the keyboard and presses it.
func (w keys) pushes(name string, e effect) {
	w.t.Helper()
	w.step("pressing "+name, e, func() { w.win.pushes(name) })
}

// key presses one key, with its modifiers.
func (w keys) key(name string, e effect) {
	w.t.Helper()
	w.step("the key "+name, e, func() { w.win.key(name) })
}

// typed types text over what stands in the field that has the keyboard.
func (w keys) typed(text string, e effect) {
	w.t.Helper()
	w.step("typing "+text, e, func() {
		w.win.key("ctrl+a")
		w.win.typed(text)
	})
}

// Each step of the walks is one that waits for its effect: what mouse and keyboard
// are moved by underneath stands only where something looks at what comes of it.
func TestEveryStepHasAnEffect(t *testing.T) {
	raw := []string{"press", "click", "clickAt", "menu", "pushes", "key", "typed", "drag", "xdo"}
	watched := []string{"step", "repaints", "openBoard", "leaveBoard", "until"}
	steps := 0
	for _, name := range []string{"e2e_mouse_test.go", "e2e_keys_test.go"} {
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		var around []*ast.CallExpr
		ast.PreorderStack(file, nil, func(n ast.Node, stack []ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			fn, ok := call.Fun.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			steps++
			direct := slices.Contains([]string{"clickAt", "drag", "xdo"}, fn.Sel.Name)
			if under, ok := fn.X.(*ast.SelectorExpr); ok && (under.Sel.Name == "win" || under.Sel.Name == "walk") {
				direct = slices.Contains(raw, fn.Sel.Name)
			}
			if !direct {
				return true
			}
			around = around[:0]
			for _, a := range stack {
				if c, ok := a.(*ast.CallExpr); ok {
					around = append(around, c)
				}
			}
			if !slices.ContainsFunc(around, func(c *ast.CallExpr) bool {
				s, ok := c.Fun.(*ast.SelectorExpr)
				return ok && slices.Contains(watched, s.Sel.Name)
			}) {
				t.Errorf("%s: nothing looks at what comes of %s", set.Position(call.Pos()), fn.Sel.Name)
			}
			return true
		})
	}
	if steps < 100 {
		t.Errorf("only %d calls were looked at", steps)
	}
}
