package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
)

func TestStartsWithTheJobThatWasOpenLast(t *testing.T) {
	u := window(t)
	path := file(t, "last.toml", byHand)
	u.openFile(path)
	again := testUI(u.App)
	again.openFirst("", func() {})
	if again.Session.Path != path {
		t.Errorf("%q is open", again.Session.Path)
	}
	named := testUI(u.App)
	named.openFirst(file(t, "named.toml", byHand), func() {})
	if filepath.Base(named.Session.Path) != "named.toml" {
		t.Errorf("%q is open", named.Session.Path)
	}
	demonstration := testUI(u.App)
	demonstration.openFirst(assets.DemoName, func() {})
	is(t, demonstration, desk.Demo().Job())
	if err := os.Remove(named.Session.Path); err != nil {
		t.Fatal(err)
	}
	gone := testUI(u.App)
	gone.openFirst("", func() {})
	is(t, gone, desk.Demo().Job())
	if said(gone) != "" {
		t.Errorf("without the last file the window says %q", said(gone))
	}
}

func TestQuitAsksAboutUnsavedChanges(t *testing.T) {
	closing := func(t *testing.T) (u *ui, closed *bool) {
		u, closed = on(t, byHand), new(bool)
		u.Window.SetOnClosed(func() { *closed = true })
		fill(t, u, "injection.start_btdc_deg", "14.5")
		u.quit()
		if *closed || !strings.Contains(said(u), "“job.toml” has changes that are not saved") {
			t.Fatalf("closed: %v; the window says %q", *closed, said(u))
		}
		u.quit() // asking twice is not asking two questions
		if n := len(u.Window.Canvas().Overlays().List()); n != 1 {
			t.Errorf("%d questions are asked", n)
		}
		return u, closed
	}
	t.Run("go on working", func(t *testing.T) {
		u, closed := closing(t)
		press(t, u, "Keep working")
		if *closed || said(u) != "" || read(t, u.Session.Path) != byHand || !u.Session.Dirty() {
			t.Error("not everything is as it was")
		}
		u.quit()
		if said(u) == "" {
			t.Error("it is not asked again")
		}
	})
	t.Run("do not save", func(t *testing.T) {
		u, closed := closing(t)
		press(t, u, "Do not save")
		if !*closed || read(t, u.Session.Path) != byHand {
			t.Errorf("closed: %v", *closed)
		}
	})
	t.Run("save", func(t *testing.T) {
		u, closed := closing(t)
		press(t, u, "Save")
		if !*closed || !strings.Contains(read(t, u.Session.Path), "14.5") {
			t.Errorf("closed: %v", *closed)
		}
	})
	t.Run("nothing to save", func(t *testing.T) {
		u, closed := on(t, byHand), false
		u.Window.SetOnClosed(func() { closed = true })
		choose(t, u, "File", "Quit")
		if !closed {
			t.Errorf("the window stays and says %q", said(u))
		}
	})
	t.Run("save what cannot be saved", func(t *testing.T) {
		u, closed := on(t, byHand), false
		u.Window.SetOnClosed(func() { closed = true })
		fill(t, u, "engine.firing_order", "1-3-4-4")
		u.quit()
		press(t, u, "Save")
		if closed || !strings.Contains(said(u), "listed twice") {
			t.Errorf("closed: %v; the window says %q", closed, said(u))
		}
	})
}

func TestOpeningAsksAboutUnsavedChanges(t *testing.T) {
	u := on(t, byHand)
	fill(t, u, "injection.start_btdc_deg", "14.5")
	was := u.Session.Job()
	choose(t, u, "File", "Open the demo job")
	is(t, u, was)
	press(t, u, "Save")
	is(t, u, desk.Demo().Job())
	if _, err := job.Read("", []byte(read(t, u.Prefs.Recent()[0]))); err != nil {
		t.Error(err)
	}
}
