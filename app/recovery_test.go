package app

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/desk"
)

// start starts the program once more on the same preferences, with a folder for
// what is kept against a crash.
func start(t *testing.T, a *ui, folder string) (u *ui, left []*desk.Leftover) {
	u = testUI(a.App)
	u.Window.Resize(fyne.NewSize(1280, 800))
	left = u.startRecovery(folder)
	if u.Recovery == nil {
		t.Fatal("there is no place to keep the job")
	}
	return u, left
}

// kill ends a program as the system does: nothing is put away, but its lock goes
// with it.
func kill(u *ui) { u.Recovery.Lock.Unlock() }

// killed returns a program that was killed with an unsaved edit, and the folder
// in which it kept it.
func killed(t *testing.T) (u *ui, folder string) {
	folder = t.TempDir()
	u, _ = start(t, window(t), folder)
	u.openFile(file(t, "job.toml", byHand))
	fill(t, u, "injection.start_btdc_deg", "14.5")
	fill(t, u, "title", "Tug Wren")
	kill(u)
	return u, folder
}

func TestJobOfAKilledRunIsTakenBack(t *testing.T) {
	dead, folder := killed(t)
	u, left := start(t, dead, folder)
	u.offer(left)
	if !strings.Contains(said(u), "“Tug Wren” was not saved when the program ended") {
		t.Fatalf("the window says %q", said(u))
	}
	press(t, u, "Restore")
	is(t, u, dead.Session.Job())
	if u.Session.Path != dead.Session.Path || !u.Session.Dirty() {
		t.Error("the job is not what it was, an unsaved one of its file")
	}
	u.Undo()
	if got := u.Session.Job().Injection.StartBTDCDeg.Value; got != 11 {
		t.Errorf("undone, injection starts at %g, want the file's 11", got)
	}
	u.Redo()
	u.save(nil)
	if got, want := read(t, u.Session.Path), strings.Replace(byHand, "11.0", "14.5", 1); !strings.HasSuffix(got, want[strings.Index(want, "[engine]"):]) || !strings.Contains(got, "Tug Wren") {
		t.Errorf("saved, the file holds\n%s", got)
	}
	// Killed again at once, there is nothing to offer: all is saved.
	kill(u)
	if _, left := start(t, u, folder); len(left) != 0 {
		t.Errorf("%d jobs are offered after all were saved", len(left))
	}
}

func TestTakenBackJobIsKeptAgain(t *testing.T) {
	dead, folder := killed(t)
	u, left := start(t, dead, folder)
	u.offer(left)
	press(t, u, "Restore")
	kill(u)
	again, left := start(t, u, folder)
	if len(left) != 1 {
		t.Fatalf("%d jobs are offered, want the one killed twice", len(left))
	}
	again.offer(left)
	press(t, again, "Restore")
	is(t, again, dead.Session.Job())
}

func TestJobOfAKilledRunIsThrownAway(t *testing.T) {
	dead, folder := killed(t)
	u, left := start(t, dead, folder)
	u.offer(left)
	press(t, u, "Discard")
	is(t, u, desk.Demo().Job())
	kill(u)
	if _, left := start(t, u, folder); len(left) != 0 {
		t.Error("it is offered again")
	}
}

func TestJobWithFaultsIsTakenBack(t *testing.T) {
	folder := t.TempDir()
	dead, _ := start(t, window(t), folder)
	fill(t, dead, "engine.firing_order", "1-5-3-6-2-2")
	kill(dead)
	u, left := start(t, dead, folder)
	u.offer(left)
	press(t, u, "Restore")
	is(t, u, dead.Session.Job())
	if f := inputOf(t, cycleOf(u).Form, "engine.firing_order").Field; !strings.Contains(f.Fault(), "listed twice") {
		t.Errorf("beside the firing order stands %q", f.Fault())
	}
}

func TestSeveralKilledRuns(t *testing.T) {
	folder := t.TempDir()
	base := window(t)
	var dead []*ui
	for _, title := range []string{"One", "Two"} {
		u, _ := start(t, base, folder)
		fill(t, u, "title", title)
		dead = append(dead, u)
	}
	for _, u := range dead {
		kill(u)
	}
	u, left := start(t, base, folder)
	if len(left) != 2 {
		t.Fatalf("%d jobs are offered, want 2", len(left))
	}
	first := left[0].Job
	u.offer(left)
	press(t, u, "Restore")
	is(t, u, first) // and stays: the other waits for another start
	if said(u) != "" {
		t.Errorf("with one job taken back, the window asks %q", said(u))
	}
	next, left := start(t, base, folder)
	if len(left) != 1 || left[0].Job.Title == first.Title {
		t.Fatalf("the next start offers %d jobs", len(left))
	}
	next.offer(left)
	press(t, next, "Discard")
	if next.offer(nil); said(next) != "" {
		t.Errorf("with nothing left, the window asks %q", said(next))
	}
}

func TestRunningProgramsDoNotTakeEachOthersJob(t *testing.T) {
	folder := t.TempDir()
	one, _ := start(t, window(t), folder)
	fill(t, one, "title", "One")
	two, left := start(t, one, folder)
	if len(left) != 0 {
		t.Fatal("a job that is open elsewhere is offered")
	}
	fill(t, two, "title", "Two")
	kill(two)
	// Two starts at the same time: only one may offer the job.
	three, left := start(t, one, folder)
	if len(left) != 1 || left[0].Job.Title != "Two" {
		t.Fatalf("%d jobs are offered, want Two", len(left))
	}
	three.offer(left) // and holds it until that is answered
	runtime.GC()      // a lock that nobody holds on to goes
	if _, left := start(t, three, folder); len(left) != 0 {
		t.Error("a job is offered by two programs")
	}
}

func TestOrdinaryEndLeavesNothing(t *testing.T) {
	folder := t.TempDir()
	u, _ := start(t, window(t), folder)
	fill(t, u, "title", "One")
	u.quit()
	press(t, u, "Do not save")
	if left, err := os.ReadDir(folder); err != nil || len(left) != 0 {
		t.Errorf("in the folder there are %v, %v", left, err)
	}
}

func TestUnreadableSnapshotsAreRemoved(t *testing.T) {
	folder := t.TempDir()
	for name, data := range map[string]string{
		"open-1.json": "", "open-2.json": "{", "open-3.json": "[1, 2]",
		"open-4.json": `{"Text": "AAAA", "Job": {"Format": 1}}`,
		"other.json":  "not ours",
	} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	u, left := start(t, window(t), folder)
	if len(left) != 0 {
		t.Errorf("%d jobs are offered out of nothing", len(left))
	}
	u.Recovery.End()
	names, err := os.ReadDir(folder)
	if err != nil || len(names) != 1 || names[0].Name() != "other.json" {
		t.Errorf("in the folder there are %v, %v", names, err)
	}
}

func TestWithoutAPlaceToKeepTheJob(t *testing.T) {
	u := window(t)
	if left := u.startRecovery(filepath.Join(file(t, "file", ""), "below")); len(left) != 0 || u.Recovery != nil {
		t.Error("a folder below a file was made")
	}
	fill(t, u, "title", "One")
	if got := u.Session.Job().Title; got != "One" {
		t.Errorf("the title is %q", got)
	}
}
