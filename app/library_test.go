package app

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/store"
)

// inLibrary opens the library, its own folder in a place of the test's.
func inLibrary(t *testing.T, u *ui, own library) *libraryPane {
	t.Helper()
	choose(t, u, "File", "Library of engines and sensor wheels…")
	l, ok := u.Window.Canvas().Focused().(*libraryList)
	if !ok {
		t.Fatalf("the library has not the keyboard; the window says %q", said(u))
	}
	l.pane.own = own
	return l.pane
}

func (p *libraryPane) typed(names ...fyne.KeyName) {
	for _, n := range names {
		p.list.TypedKey(&fyne.KeyEvent{Name: n})
	}
}

// keep keeps part of the open job under a name, as a user does.
func (p *libraryPane) keepAs(t *testing.T, shelf int, name string) {
	t.Helper()
	p.shelves.Buttons[shelf].OnTapped()
	p.save.OnTapped()
	entries(t, p.u)[0].SetText(name)
	entries(t, p.u)[0].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
}

func TestLayoutsAreTakenIntoTheJob(t *testing.T) {
	u := window(t)
	was := u.Session.Job()
	p := inLibrary(t, u, library{t.TempDir(), store.System})
	find := func(cylinders int, bank timing.Deg) int {
		return slices.IndexFunc(p.layouts, func(l timing.Layout) bool { return l.Cylinders == cylinders && l.Bank == bank })
	}
	p.list.Select(find(10, 90))
	if s := said(u); !strings.Contains(s, "at intervals of 90°, 54°") || !strings.Contains(s, "1-10-9-4-3-6-5-8-7-2, as in general published lists") {
		t.Errorf("it says %q", s)
	}
	p.typed(fyne.KeyReturn)
	e := u.Session.Job().Engine
	if timing.OrderText(e.FiringOrder) != "1-10-9-4-3-6-5-8-7-2" || len(e.FiringIntervalsDeg) != 10 || e.FiringIntervalsDeg[1] != 54 {
		t.Errorf("the engine fires %v at %v", e.FiringOrder, e.FiringIntervalsDeg)
	}
	if e.BoreMM != was.Engine.BoreMM || u.Session.Job().Dowel == nil || said(u) != "" {
		t.Error("sizes or dowel are gone, or the library is still open")
	}
	u.Undo()
	is(t, u, was)
	// No order is common for sixteen in a V: they are numbered as they fire. For six
	// the job's own stays.
	p = inLibrary(t, u, library{t.TempDir(), store.System})
	p.list.Select(find(6, 90))
	p.typed(fyne.KeyReturn)
	if e := u.Session.Job().Engine; timing.OrderText(e.FiringOrder) != "1-5-3-6-2-4" || e.FiringIntervalsDeg[1] != 150 {
		t.Errorf("six fire %v at %v", e.FiringOrder, e.FiringIntervalsDeg)
	}
	p = inLibrary(t, u, library{t.TempDir(), store.System})
	p.list.Select(find(16, 45))
	p.typed(fyne.KeyReturn)
	if e := u.Session.Job().Engine; len(e.FiringOrder) != 16 || e.FiringOrder[15] != 16 || len(e.FiringIntervalsDeg) != 0 {
		t.Errorf("sixteen fire %v at %v", e.FiringOrder, e.FiringIntervalsDeg)
	}
}

// Whatever layout is taken, the job is sound, and its title and words are whole.
func TestEveryLayoutMakesASoundJob(t *testing.T) {
	for _, l := range timing.Layouts() {
		for _, order := range [][]int{{1}, {1, 2, 3, 4, 5, 6}} {
			j := job.Job{Engine: job.Engine{Strokes: 2, FiringOrder: order}}
			useLayout(&j, l)
			if faults := job.Check(j); len(faults) > 0 {
				t.Errorf("%s: %v", layoutTitle(l), faults)
			}
		}
		if s := layoutTitle(l) + layoutWords(l); strings.Contains(s, "{{") {
			t.Errorf("%q", s)
		}
	}
}

func TestLibraryByKeys(t *testing.T) {
	u := window(t)
	p := inLibrary(t, u, library{t.TempDir(), store.System})
	if p.picked != 0 {
		t.Errorf("%d is picked first", p.picked)
	}
	p.typed(fyne.KeyUp, fyne.KeyDown, fyne.KeyDown, fyne.KeyUp)
	if p.picked != 1 {
		t.Errorf("up, down, down and up pick %d", p.picked)
	}
	p.typed(fyne.KeyEscape)
	if said(u) != "" {
		t.Error("Escape does not close the library")
	}
}

func TestOwnEnginesAndWheels(t *testing.T) {
	u, own := window(t), library{t.TempDir(), store.System}
	demo := u.Session.Job()
	p := inLibrary(t, u, own)
	p.shelves.Buttons[1].OnTapped()
	if s := said(u); !strings.Contains(s, "Nothing is kept here yet") || !p.take.Disabled() {
		t.Errorf("an empty shelf says %q", s)
	}
	p.keepAs(t, 1, "  Tern's   engine ")
	p.keepAs(t, 2, "60 less 2")
	p.keepAs(t, 3, "Seven teeth")
	u.Dismiss()
	// Into another job.
	u.Begin(desk.NewSession("", job.New(job.Job{Engine: job.Engine{Strokes: 4, FiringOrder: []int{1, 2}}}), nil))
	take := func(shelf int) {
		t.Helper()
		p := inLibrary(t, u, own)
		p.shelves.Buttons[shelf].OnTapped()
		if len(p.kept) != 1 {
			t.Fatalf("%d things on shelf %d", len(p.kept), shelf)
		}
		press(t, u, "Copy into the job")
	}
	for shelf := range 3 {
		take(shelf + 1)
	}
	got := u.Session.Job()
	want := got
	want.Engine, want.CrankWheel, want.CamWheel = demo.Engine, demo.CrankWheel, demo.CamWheel
	if !got.Equal(want) || got.Title != "" || got.Dowel != nil {
		t.Errorf("the job is %+v", got)
	}
	u.Undo()
	if u.Session.Job().CamWheel != nil || u.Session.Job().CrankWheel == nil {
		t.Error("undo does not take back the cam wheel alone")
	}
	// What is kept is a small sound job file of its own, without the rest of the job.
	list, err := own.list(engineShelf)
	if err != nil || len(list) != 1 || list[0].title != "Tern's engine" || filepath.Base(list[0].path) != "tern-s-engine.toml" {
		t.Fatalf("%+v, %v", list, err)
	}
	if text := read(t, list[0].path); strings.Contains(text, "dowel") || strings.Contains(text, "injection") {
		t.Errorf("the engine is kept as %s", text)
	}
}

func TestLibraryRenamesAndDeletes(t *testing.T) {
	u, own := window(t), library{t.TempDir(), store.System}
	p := inLibrary(t, u, own)
	p.keepAs(t, 2, "one")
	p.keepAs(t, 2, "two")
	fill(t, u, "crank_wheel.positions", "30")
	fill(t, u, "crank_wheel.missing", "30")
	p.save.OnTapped()
	entries(t, u)[0].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn}) // what stands in it is taken: the job's title
	p.save.OnTapped()
	entries(t, u)[0].SetText("TWO")
	entries(t, u)[0].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if !strings.Contains(said(u), "already exists") {
		t.Errorf("over another it says %q", said(u))
	}
	press(t, u, "Cancel")
	if k, _ := own.find(crankShelf, "two"); k.job.CrankWheel.Positions != 60 {
		t.Error("it was replaced without consent")
	}
	p.save.OnTapped()
	entries(t, u)[0].SetText("two")
	entries(t, u)[0].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	press(t, u, "Replace")
	if k, _ := own.find(crankShelf, "two"); k.job.CrankWheel.Positions != 30 {
		t.Error("it was not replaced")
	}
	rename := func(to string) {
		p.rename.OnTapped()
		entries(t, u)[0].SetText(to)
		entries(t, u)[0].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	}
	rename("one") // taken
	if !strings.Contains(said(u), "already exists") {
		t.Errorf("to a name that is there it says %q", said(u))
	}
	u.Dismiss()
	rename("three")
	if _, there := own.find(crankShelf, "two"); there || p.name(p.picked) != "three" {
		t.Errorf("%q is picked after renaming", p.name(p.picked))
	}
	p.remove.OnTapped()
	if !strings.Contains(said(u), "Delete “three”") {
		t.Errorf("it asks %q", said(u))
	}
	press(t, u, "Cancel")
	if _, there := own.find(crankShelf, "three"); !there {
		t.Fatal("it was deleted without consent")
	}
	p.remove.OnTapped()
	press(t, u, "Delete")
	if list, _ := own.list(crankShelf); len(list) != 2 {
		t.Errorf("%d are left", len(list))
	}
}

// A damaged file is told and left alone; what is beside it can be used.
func TestDamagedLibraryFile(t *testing.T) {
	u, own := window(t), library{t.TempDir(), store.System}
	p := inLibrary(t, u, own)
	p.keepAs(t, 1, "sound")
	path := filepath.Join(own.folder, "engines", "broken.toml")
	if err := os.WriteFile(path, []byte("title = \"half a fi"), 0o600); err != nil {
		t.Fatal(err)
	}
	lacking := filepath.Join(own.folder, "crank-wheels", "lacking.toml")
	os.MkdirAll(filepath.Dir(lacking), 0o700)
	if err := os.WriteFile(lacking, []byte("title = \"a\"\n[engine]\nstrokes = 4\nfiring_order = [1]\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	p.shelves.Buttons[1].OnTapped()
	if len(p.kept) != 2 || p.kept[0].title != "sound" || p.take.Disabled() {
		t.Fatalf("the shelf has %+v", p.kept)
	}
	p.typed(fyne.KeyDown)
	if s := said(u); !strings.Contains(s, "It is left as it is") || !strings.Contains(s, "broken.toml:1") {
		t.Errorf("it says %q", s)
	}
	if !p.take.Disabled() || !p.rename.Disabled() || !p.remove.Disabled() {
		t.Error("something can be done with a damaged file")
	}
	was := u.Session.Job()
	p.typed(fyne.KeyReturn)
	is(t, u, was)
	p.keepAs(t, 1, "broken") // of the same name: another file
	if read(t, path) != "title = \"half a fi" || len(p.kept) != 3 {
		t.Error("the damaged file was written over")
	}
	p.shelves.Buttons[2].OnTapped()
	if s := said(u); !strings.Contains(s, "lacks the section") {
		t.Errorf("of a file without a wheel it says %q", s)
	}
}

// Faults in the open job keep it out of the library: what is kept can be read
// again.
func TestNothingUnsoundIsKept(t *testing.T) {
	u, own := window(t), library{t.TempDir(), store.System}
	fill(t, u, "engine.compression_ratio", "0.5")
	p := inLibrary(t, u, own)
	p.shelves.Buttons[1].OnTapped()
	p.save.OnTapped()
	if !strings.Contains(said(u), "must be above 1") {
		t.Errorf("it says %q", said(u))
	}
	if list, _ := own.list(engineShelf); len(list) != 0 {
		t.Error("it was kept")
	}
}
