package app

import (
	"strings"
	"testing"
)

// A title that is one word of 200,000 letters: the window opens the job at once, shows
// the beginning with an ellipsis, and loses nothing of it. The toolkit alone takes time
// in proportion to the square of it, most of a minute.
func TestAWordWithoutEndIsShownByItsBeginning(t *testing.T) {
	title := strings.Repeat("W", 200_000)
	u := window(t)
	before := inputOf(t, cycleOf(u).Form, "title").Field.Text()
	path := file(t, "job.toml", "format = 1\ntitle = \""+title+"\"\n[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n")
	u.openFile(path)
	if u.Session.Path == "" {
		t.Fatal(said(u))
	}
	field := inputOf(t, cycleOf(u).Form, "title").Field
	if field.Text() != title || before == title {
		t.Fatal("the field has not the whole title")
	}
	if !field.Focusable().(interface{ Disabled() bool }).Disabled() {
		t.Error("what is only shown in part can be edited")
	}
	for i := range u.pages.kinds {
		u.pages.show(i)
	}
	u.Session.Path = "" // the window is called by the job's title then
	u.Changed()
	if n := len(u.Window.Title()); n > 200 {
		t.Errorf("the window's title has %d letters", n)
	}
	fill(t, u, "engine.bore_mm", "100")
	if got := u.Session.Job(); got.Title != title || got.Engine.BoreMM.Value != 100 {
		t.Errorf("after another change the title has %d letters", len(got.Title))
	}
	if doc := u.Session.Doc.With(u.Session.Job()); !strings.Contains(string(doc.Bytes()), title) {
		t.Error("the title would be lost when the job is saved")
	}

	// A job of usual length can be edited again.
	u.openFile(file(t, "short.toml", byHand))
	fill(t, u, "title", "Tug")
	if got := u.Session.Job().Title; got != "Tug" {
		t.Errorf("the title is %q", got)
	}
}
