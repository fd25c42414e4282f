package app

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/page/cycle"
	"pinphase.org/pinphase/timing/language"
)

// On every page, in every language, the words that can be read there come first, and all
// the others after them.
func TestWordsOfEveryPage(t *testing.T) {
	u := window(t)
	for _, code := range language.Codes {
		spokenIn(t, u, code)
		all := u.book()
		if len(all) == 0 {
			t.Fatalf("%s has no words", code)
		}
		for i, p := range u.pages.kinds {
			u.pages.show(i)
			here := all.In(textsOn(u.Root))
			u.showWords()
			text := explained(u)
			if len(here) < 8 || len(here) == len(all) {
				t.Errorf("%s, %s: %d of %d words are on the page", code, p.Title, len(here), len(all))
			}
			for _, w := range all {
				if !strings.Contains(text, w.Text) {
					t.Errorf("%s, %s: %q is not explained", code, p.Title, w.Term)
				}
			}
			for _, w := range here {
				if other := strings.Index(text, tr("Other words")); strings.Index(text, w.Text) > other {
					t.Errorf("%s, %s: %q is on the page and explained with the others", code, p.Title, w.Term)
				}
			}
			u.Dismiss()
		}
	}
}

// explained is what the words' dialog says, from its top on.
func explained(u *ui) string {
	var list []string
	for _, o := range shown(u.Window.Canvas().Overlays().Top()) {
		switch o := o.(type) {
		case *widget.RichText:
			list = append(list, o.String())
		case *widget.Label:
			list = append(list, o.Text)
		}
	}
	return strings.Join(list, "\n")
}

// Every figure on every page explains the words on it that have an explanation: where one
// of them is pointed at, it is told.
func TestEveryFigureExplainsItsWords(t *testing.T) {
	u := window(t)
	seen := map[string]bool{}
	for i, p := range u.pages.kinds {
		u.pages.show(i)
		walk(u.pages.now().Body(), false, func(o fyne.CanvasObject) {
			view, ok := o.(interface {
				pointed
				desktop.Hoverable
			})
			if !ok {
				return
			}
			has := slices.ContainsFunc(view.Words(), func(text string) bool { _, ok := u.book().Best(text); return ok })
			if !has {
				return
			}
			kind := fmt.Sprintf("%T", view)
			seen[kind] = true
			for y := float32(1); y < view.Size().Height; y += 3 {
				for x := float32(1); x < view.Size().Width; x += 6 {
					view.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}})
					if u.Tips.Content.Visible() {
						view.MouseOut()
						if u.Tips.Content.Visible() {
							t.Errorf("%s, %s: the explanation stays when the pointer has gone", p.Title, kind)
						}
						return
					}
				}
			}
			t.Errorf("%s: %s explains none of its words: %q", p.Title, kind, view.Words())
		})
	}
	for _, kind := range []string{"*widgets.CycleView", "*widgets.TraceView", "*widgets.MapView", "*widgets.LightView", "*widgets.WheelView", "*widgets.FigureView"} {
		if !seen[kind] {
			t.Errorf("no %s with a word was looked at, of %v", kind, seen)
		}
	}
}

// A word on a figure is explained where the pointer rests on it, and no longer once it has
// gone on.
func TestPointingAtAWord(t *testing.T) {
	u := window(t)
	u.pages.show(u.pages.place(cycle.Kind.Name))
	var view interface {
		pointed
		desktop.Hoverable
	}
	walk(u.pages.now().Body(), false, func(o fyne.CanvasObject) {
		if v, ok := o.(interface {
			pointed
			desktop.Hoverable
		}); ok && view == nil && strings.Contains(strings.Join(v.Words(), "\n"), "compression") {
			view = v
		}
	})
	if view == nil {
		t.Fatal("no figure has the word")
	}
	at := func(x, y float32) {
		view.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}})
	}
	found := map[string]bool{}
	for y := float32(1); y < view.Size().Height; y += 4 {
		for x := float32(1); x < view.Size().Width; x += 8 {
			at(x, y)
			if u.Tips.Content.Visible() {
				found[strings.Join(desktest.Texts(u.Tips.Content), " ")] = true
			}
		}
	}
	all := ""
	for s := range found {
		all += s + "\n"
	}
	for _, want := range []string{"compression:", "intake:"} {
		if !strings.Contains(all, want) {
			t.Errorf("pointing over the figure explains %q, want %q in it", all, want)
		}
	}
	view.MouseOut()
	if u.Tips.Content.Visible() {
		t.Error("the explanation stays when the pointer has gone")
	}
}
