package app

import (
	"path/filepath"
	"strings"
	"testing"

	"pinphase.org/pinphase/assets"
)

func TestSaveAs(t *testing.T) {
	u := window(t)
	path := filepath.Join(t.TempDir(), "tern.toml")
	choose(t, u, "File", "Save as…")
	asked := entries(t, u)
	if len(asked) != 2 || asked[0].Text != "gravel-barge-tern-new-crankshaft-cranks.toml" {
		t.Fatalf("the name offered is %q", asked[0].Text)
	}
	asked[0].SetText("tern")
	asked[1].SetText(filepath.Dir(path))
	press(t, u, "Save")
	if got := read(t, path); got != string(assets.DemoJob) {
		t.Error("the file does not hold the job as it was opened")
	}
	if u.Session.Path != path || !strings.HasPrefix(u.Window.Title(), "tern.toml") {
		t.Errorf("the job is called %q, its file %q", u.Window.Title(), u.Session.Path)
	}
}

func TestSaveAsAsksBeforeItOverwrites(t *testing.T) {
	u := window(t)
	path := file(t, "there.toml", byHand)
	ask := func() {
		u.saveAs(nil)
		asked := entries(t, u)
		asked[0].SetText(filepath.Base(path))
		asked[1].SetText(filepath.Dir(path))
		press(t, u, "Save")
		if !strings.Contains(said(u), "already exists") {
			t.Fatalf("the window says %q", said(u))
		}
	}
	ask()
	press(t, u, "Cancel")
	if read(t, path) != byHand || u.Session.Path != "" {
		t.Error("after Cancel the file was written")
	}
	ask()
	press(t, u, "Replace")
	if read(t, path) != string(assets.DemoJob) || u.Session.Path != path {
		t.Error("the file was not replaced")
	}
}

func TestSaveAsNeedsAName(t *testing.T) {
	u := window(t)
	u.saveAs(nil)
	entries(t, u)[0].SetText("  ")
	press(t, u, "Save")
	if !strings.Contains(said(u), "needs a name") {
		t.Errorf("the window says %q", said(u))
	}
}

func TestSavingIntoAFolderThatIsNotThere(t *testing.T) {
	u := window(t)
	u.saveAs(nil)
	entries(t, u)[1].SetText(filepath.Join(t.TempDir(), "gone"))
	press(t, u, "Save")
	if !strings.Contains(said(u), "no such file") || u.Session.Path != "" {
		t.Errorf("the window says %q", said(u))
	}
}
