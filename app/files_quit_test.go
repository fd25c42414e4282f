package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
)

func TestStartsWithTheJobThatWasOpenLast(t *testing.T) {
	u := window(t)
	path := file(t, "last.toml", byHand)
	u.openFile(path)
	again := testUI(u.app)
	again.openFirst("", func() {})
	if again.session.path != path {
		t.Errorf("%q is open", again.session.path)
	}
	named := testUI(u.app)
	named.openFirst(file(t, "named.toml", byHand), func() {})
	if filepath.Base(named.session.path) != "named.toml" {
		t.Errorf("%q is open", named.session.path)
	}
	demonstration := testUI(u.app)
	demonstration.openFirst(assets.DemoName, func() {})
	is(t, demonstration, demo().Job())
	if err := os.Remove(named.session.path); err != nil {
		t.Fatal(err)
	}
	gone := testUI(u.app)
	gone.openFirst("", func() {})
	is(t, gone, demo().Job())
	if said(gone) != "" {
		t.Errorf("without the last file the window says %q", said(gone))
	}
}

func TestQuitAsksAboutUnsavedChanges(t *testing.T) {
	closing := func(t *testing.T) (u *ui, closed *bool) {
		u, closed = on(t, byHand), new(bool)
		u.window.SetOnClosed(func() { *closed = true })
		fill(t, u, "injection.start_btdc_deg", "14.5")
		u.quit()
		if *closed || !strings.Contains(said(u), "“job.toml” has changes that are not saved") {
			t.Fatalf("closed: %v; the window says %q", *closed, said(u))
		}
		u.quit() // asking twice is not asking two questions
		if n := len(u.window.Canvas().Overlays().List()); n != 1 {
			t.Errorf("%d questions are asked", n)
		}
		return u, closed
	}
	t.Run("go on working", func(t *testing.T) {
		u, closed := closing(t)
		press(t, u, "Go on working")
		if *closed || said(u) != "" || read(t, u.session.path) != byHand || !u.session.Dirty() {
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
		if !*closed || read(t, u.session.path) != byHand {
			t.Errorf("closed: %v", *closed)
		}
	})
	t.Run("save", func(t *testing.T) {
		u, closed := closing(t)
		press(t, u, "Save")
		if !*closed || !strings.Contains(read(t, u.session.path), "14.5") {
			t.Errorf("closed: %v", *closed)
		}
	})
	t.Run("nothing to save", func(t *testing.T) {
		u, closed := on(t, byHand), false
		u.window.SetOnClosed(func() { closed = true })
		choose(t, u, "File", "Quit")
		if !closed {
			t.Errorf("the window stays and says %q", said(u))
		}
	})
	t.Run("save what cannot be saved", func(t *testing.T) {
		u, closed := on(t, byHand), false
		u.window.SetOnClosed(func() { closed = true })
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
	was := u.session.Job()
	choose(t, u, "File", "Open the demo job")
	is(t, u, was)
	press(t, u, "Save")
	is(t, u, demo().Job())
	if _, err := job.Read("", []byte(read(t, u.prefs.Recent()[0]))); err != nil {
		t.Error(err)
	}
}
