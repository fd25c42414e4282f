package app

import (
	"os"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"pinphase.org/pinphase/app/desk"
)

// byHand is a job file as someone lays it out, with nothing in it that is not
// needed.
const byHand = `# Harbour tug Wren, port engine

[engine]
strokes      = 4
firing_order = [1, 3, 4, 2]   # cast into the rocker cover

# From the injection pump's plate.
[injection]
start_btdc_deg = 11.0
`

func TestSaveChangesOnlyWhatWasEdited(t *testing.T) {
	u := on(t, byHand)
	fill(t, u, "injection.start_btdc_deg", "14,5")
	choose(t, u, "File", "Save")
	if said(u) != "" {
		t.Fatalf("saving, the window says %q", said(u))
	}
	if got, want := read(t, u.Session.Path), strings.Replace(byHand, "11.0", "14.5", 1); got != want {
		t.Errorf("the file holds\n%s\nwant\n%s", got, want)
	}
	if u.Session.Dirty() || strings.Contains(u.Window.Title(), "•") {
		t.Error("saved, the job counts as changed")
	}
	want := u.Session.Job()
	u.openFile(u.Session.Path)
	is(t, u, want)
}

func TestUndoBeyondASaveIsAChange(t *testing.T) {
	u := on(t, byHand)
	fill(t, u, "injection.start_btdc_deg", "14.5")
	u.save(nil)
	u.Undo()
	if !u.Session.Dirty() {
		t.Error("undone after saving, the job counts as saved")
	}
	u.save(nil)
	if got := read(t, u.Session.Path); got != strings.Replace(byHand, "11.0", "11", 1) && got != byHand {
		t.Errorf("saved again, the file holds\n%s", got)
	}
}

func TestSavingIsRefusedWithFaults(t *testing.T) {
	u := on(t, byHand)
	fill(t, u, "engine.firing_order", "1-3-4-4")
	u.save(nil)
	if !strings.Contains(said(u), "cylinder 4 is listed twice") {
		t.Errorf("the window says %q", said(u))
	}
	if got := read(t, u.Session.Path); got != byHand {
		t.Error("the file was written all the same")
	}
}

func TestFileChangedByAnotherProgram(t *testing.T) {
	u := on(t, byHand)
	fill(t, u, "injection.start_btdc_deg", "14.5")
	theirs := byHand + "# theirs\n"
	if err := os.WriteFile(u.Session.Path, []byte(theirs), 0o666); err != nil {
		t.Fatal(err)
	}
	u.save(nil)
	if !strings.Contains(said(u), "changed by another program") {
		t.Fatalf("the window says %q", said(u))
	}
	press(t, u, "Cancel")
	if got := read(t, u.Session.Path); got != theirs || !u.Session.Dirty() {
		t.Error("after Cancel the file was written")
	}
	u.save(nil)
	press(t, u, "Overwrite")
	if got := read(t, u.Session.Path); !strings.Contains(got, "14.5") || strings.Contains(got, "theirs") {
		t.Errorf("saved over, the file holds\n%s", got)
	}
}

func TestFaultyFileLeavesTheOpenJob(t *testing.T) {
	u := on(t, byHand)
	was, path := u.Session.Job(), u.Session.Path
	u.openFile(file(t, "bad.toml", "[engine]\nstrokes = 3\nfiring_order = [1, 1]\nbore = 5\n"))
	for _, want := range []string{"bad.toml:2: engine.strokes", "bad.toml:3: engine.firing_order: cylinder 1 is listed twice", "bad.toml:4: engine.bore"} {
		if !strings.Contains(said(u), want) {
			t.Errorf("the window says %q, want %q in it", said(u), want)
		}
	}
	press(t, u, "Close")
	is(t, u, was)
	if u.Session.Path != path || slices.ContainsFunc(u.Prefs.Recent(), func(p string) bool { return strings.HasSuffix(p, "bad.toml") }) {
		t.Error("the faulty file counts as opened")
	}
}

func TestRecentFiles(t *testing.T) {
	u := window(t)
	var paths []string
	for range desk.MaxRecent + 2 {
		path := file(t, "job.toml", byHand)
		paths = append(paths, path)
		u.openFile(path)
	}
	var items []string
	for _, m := range u.menu.recent.ChildMenu.Items {
		items = append(items, m.Label)
	}
	slices.Reverse(paths)
	if !slices.Equal(items, paths[:desk.MaxRecent]) {
		t.Errorf("the files opened last are given as %v", items)
	}
	choose(t, u, "File", "Open recent", paths[3])
	if u.Session.Path != paths[3] || u.Prefs.Recent()[0] != paths[3] {
		t.Errorf("%q is open", u.Session.Path)
	}
	if err := os.Remove(paths[1]); err != nil {
		t.Fatal(err)
	}
	choose(t, u, "File", "Open recent", paths[1])
	if said(u) == "" || slices.Contains(u.Prefs.Recent(), paths[1]) {
		t.Error("a file that is gone stays on the list")
	}
}

func TestOpenDemoFromTheMenu(t *testing.T) {
	u := on(t, byHand)
	choose(t, u, "File", "Open the demo job")
	is(t, u, desk.Demo().Job())
	if u.Session.Path != "" {
		t.Error("the demo job has a file that could be saved over")
	}
}

func TestNewJob(t *testing.T) {
	u := window(t)
	choose(t, u, "File", "New")
	if got := u.Session.Job(); len(got.Engine.FiringOrder) != 4 || got.Dowel != nil || len(u.Session.Faults()) > 0 {
		t.Errorf("a new job is %+v with the faults %v", got, u.Session.Faults())
	}
	if !strings.HasPrefix(u.Window.Title(), "Untitled job") {
		t.Errorf("it is called %q", u.Window.Title())
	}
	if !strings.Contains(u.head.notes.Text, "start_btdc_deg") && !strings.Contains(u.head.notes.Text, "start of injection commanded") {
		t.Errorf("what is missing is said as %q", u.head.notes.Text)
	}
	// From nothing to an answer, by the form alone.
	fill(t, u, "injection.start_btdc_deg", "10")
	editor(t, u, "dowel", "drawing").Given.SetChecked(true)
	fill(t, u, "dowel.drawing.angle_deg", "12")
	editor(t, u, "dowel", "drawing").Side.SetSelected("clockwise, seen from the nose")
	e := editor(t, u, "dowel", "measured")
	e.Given.SetChecked(true)
	fill(t, u, "dowel.measured.angle_deg", "12")
	e.Side.SetSelected("anticlockwise, seen from the nose")
	if want := "Every injection starts 14° after TDC (power stroke): 24° later than commanded."; u.head.sentence.Text != want {
		t.Errorf("the answer is %q, want %q", u.head.sentence.Text, want)
	}
}

func TestDroppedFile(t *testing.T) {
	u := window(t)
	path := file(t, "dropped.TOML", byHand)
	u.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI("/x/picture.png"), storage.NewFileURI(path)})
	if u.Session.Path != path {
		t.Errorf("open is %q", u.Session.Path)
	}
	u.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI("/x/list.odt")})
	if !strings.Contains(said(u), "neither a job file") || u.Session.Path != path {
		t.Errorf("the window says %q", said(u))
	}
}
