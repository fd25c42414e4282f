package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/app/page/cycle"
)

// openReader is the long text on top of the window that has the keyboard.
func openReader(t *testing.T, u *ui) *kit.Reader {
	t.Helper()
	r, ok := u.Window.Canvas().Focused().(*kit.Reader)
	if !ok {
		t.Fatalf("no long text has the keyboard; the window says %q", said(u))
	}
	return r
}

func TestEveryPageHasHelp(t *testing.T) {
	u := window(t)
	u.InTurn = true // the ranking of causes too
	for i, p := range u.pages.kinds {
		u.pages.show(i)
		typedKeys(u, fyne.KeyF1)
		text := said(u)
		for _, want := range []string{"Help: " + string(p.Title), "What this page is for", "positive in the direction of rotation"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: F1 says %q, want %q in it", p.Title, text, want)
			}
		}
		openReader(t, u).TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		if said(u) != "" {
			t.Errorf("%s: Escape does not close the help", p.Title)
		}
	}
}

// In another language a page is known by its title there.
func TestHelpInAnotherLanguage(t *testing.T) {
	u := window(t)
	spokenIn(t, u, "de")
	if h, ok := helpOf(tr(cycle.Kind.Title)); !ok || h.page.Text != "Cycle" {
		t.Errorf("%q has the help of %q", tr(cycle.Kind.Title), h.page.Text)
	}
}

func TestHelpScrollsByKeys(t *testing.T) {
	u := window(t)
	u.Window.Resize(fyne.NewSize(1024, 604))
	choose(t, u, "View", "Text size", "200 %")
	choose(t, u, "Help", "This page (F1)")
	r := openReader(t, u)
	type step struct {
		key  fyne.KeyName
		down bool
	}
	at := r.Scroll.Offset.Y
	for _, s := range []step{{fyne.KeyDown, true}, {fyne.KeyPageDown, true}, {fyne.KeyUp, false}, {fyne.KeySpace, true}, {fyne.KeyPageUp, false}, {fyne.KeyEnd, true}, {fyne.KeyHome, false}} {
		r.TypedKey(&fyne.KeyEvent{Name: s.key})
		if now := r.Scroll.Offset.Y; now == at || now > at != s.down {
			t.Errorf("%s goes from %g to %g", s.key, at, now)
		}
		at = r.Scroll.Offset.Y
	}
	if at != 0 {
		t.Errorf("Home goes to %g", at)
	}
	r.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
	if end := r.Scroll.Content.MinSize().Height - r.Scroll.Size().Height; r.Scroll.Offset.Y != end || end < 100 {
		t.Errorf("End goes to %g of %g", r.Scroll.Offset.Y, end)
	}
}

// Function keys work while a field has the keyboard, and are no text.
func TestFunctionKeysInAField(t *testing.T) {
	u := window(t)
	field := inputOf(t, cycleOf(u).Form, "engine.bore_mm").Field
	u.Window.Canvas().Focus(field.Focusable())
	field.Focusable().TypedKey(&fyne.KeyEvent{Name: fyne.KeyF1})
	if !strings.Contains(said(u), "Help: Cycle") {
		t.Errorf("F1 in a field says %q", said(u))
	}
	if field.Text() != "108" {
		t.Errorf("F1 was typed: %q", field.Text())
	}
}

// tabsOf are the tabs on top of the window.
func tabsOf(t *testing.T, u *ui) *container.AppTabs {
	t.Helper()
	for _, o := range shown(u.Window.Canvas().Overlays().Top()) {
		if tabs, ok := o.(*container.AppTabs); ok {
			return tabs
		}
	}
	t.Fatal("there are no tabs")
	return nil
}

// linesShown are the lines in sight of the long text on top of the window.
func linesShown(t *testing.T, u *ui) string {
	t.Helper()
	var list []string
	for _, o := range shown(u.Window.Canvas().Overlays().Top()) {
		if text, ok := o.(*lineList); ok {
			for _, o := range shown(text) {
				if line, ok := o.(*canvas.Text); ok {
					list = append(list, line.Text)
				}
			}
		}
	}
	return strings.Join(list, "\n")
}

func TestAbout(t *testing.T) {
	u := window(t)
	choose(t, u, "Help", "About")
	if text := said(u); !strings.Contains(text, "Pinphase") {
		t.Errorf("it says %q", text)
	}
	tabs := tabsOf(t, u)
	for i, want := range []string{"direction of rotation", "pierces the skin"} {
		tabs.SelectIndex(i)
		if text := said(u); !strings.Contains(text, want) {
			t.Errorf("tab %d says %q, want %q", i, text, want)
		}
		openReader(t, u)
	}
	tabs.SelectIndex(2)
	names, ok := u.Window.Canvas().Focused().(*nameList)
	if !ok {
		t.Fatal("the list of licences does not have the keyboard")
	}
	if text := linesShown(t, u); !strings.Contains(text, "BSD 3-Clause") {
		t.Errorf("the first licence says %q", text)
	}
	names.pick(names.Length() - 1)
	if text := linesShown(t, u); !strings.Contains(text, "Bitstream") {
		t.Errorf("the licence of the fonts says %q", text)
	}
	names.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	if text := linesShown(t, u); !strings.Contains(text, "The Go Authors") {
		t.Errorf("the licence before says %q", text)
	}
	press(t, u, "Close")
	if said(u) != "" {
		t.Error("it does not close")
	}
}
