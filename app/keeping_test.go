package app

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/store"
	"pinphase.org/pinphase/timing/store/fault"
)

// A full disk is said until the job can be kept again, and a note that was read stays
// away.
func TestUnkeptChangesAreSaid(t *testing.T) {
	u, _ := start(t, window(t), t.TempDir())
	u.Recovery.Files = &fault.Files{N: 1, Err: syscall.ENOSPC, Last: true}
	edit := func(title string) { u.Edit("title", func(j *job.Job) { j.Title = title }) }
	edit("One")
	warned := func() bool { return u.Warnings.Content.Visible() }
	if !warned() || !strings.Contains(u.Warnings.Words.Text, "no space left on device") {
		t.Fatalf("the window says %q", u.Warnings.Words.Text)
	}
	u.Warnings.Hide()
	edit("Two")
	if warned() {
		t.Error("what was read comes back at the next letter")
	}
	u.Recovery.Files = store.System
	edit("Three")
	if warned() || u.Warnings.Said() != "" {
		t.Errorf("kept again, the window says %q", u.Warnings.Said())
	}
	u.Recovery.Files = &fault.Files{N: 1, Err: syscall.EIO, Last: true}
	edit("Four")
	if !warned() {
		t.Error("a second failure is not said")
	}
	u.rebuild()
	if !u.Warnings.Content.Visible() {
		t.Error("after a change of language it is no longer said")
	}
}

// A job that was taken back stays where it was until it is kept anew: on a full disk it
// is offered again.
func TestJobTakenBackOnAFullDiskIsNotLost(t *testing.T) {
	dead, folder := killed(t)
	u, left := start(t, dead, folder)
	u.Recovery.Files = &fault.Files{N: 1, Err: syscall.ENOSPC, Last: true}
	u.offer(left)
	press(t, u, "Restore")
	is(t, u, dead.Session.Job())
	kill(u)
	for _, l := range u.Keeping.Held {
		l.Leave() // as the system does when the program ends
	}
	if _, left = start(t, u, folder); len(left) != 1 {
		t.Fatalf("%d jobs are offered", len(left))
	}
	if !left[0].Job.Equal(dead.Session.Job()) {
		t.Errorf("offered is %+v", left[0].Job)
	}
}

// A snapshot that cannot be read just now is not thrown away.
func TestSnapshotThatCannotBeReadStays(t *testing.T) {
	_, folder := killed(t)
	for n := 1; ; n++ {
		files := &fault.Files{N: n, Err: syscall.EIO}
		r, left, err := desk.StartRecovery(files, folder)
		failed := files.Failed()
		for _, l := range left {
			l.Leave()
		}
		if r != nil {
			r.Files = store.System
			if err := r.End(); err != nil {
				t.Fatal(err)
			}
		}
		if !failed {
			if err != nil || len(left) != 1 {
				t.Errorf("where nothing fails %d jobs are offered, %v", len(left), err)
			}
			break
		}
		if list, _ := filepath.Glob(filepath.Join(folder, "open-*.json")); len(list) != 1 {
			t.Fatalf("after %s %d snapshots are left", files.Log()[n-1], len(list))
		}
	}
}

func TestTheOfferSaysWhichIsNewer(t *testing.T) {
	at := time.Date(2026, 3, 31, 14, 5, 9, 0, time.Local)
	l := &desk.Leftover{Snapshot: desk.Snapshot{Job: job.Job{Title: "Wren"}, Changed: at}}
	has := func(want ...string) {
		t.Helper()
		for _, w := range want {
			if got := offerWords(l); !strings.Contains(got, w) {
				t.Errorf("the offer is %q, want %q in it", got, w)
			}
		}
	}
	has("“Wren”", "no file yet", "31 Mar 2026, 14:05:09")
	l.Path = "/jobs/wren.toml"
	has("“Wren”", "/jobs/wren.toml cannot be found")
	l.Saved = at.Add(time.Hour)
	has("/jobs/wren.toml is newer", "15:05:09", "14:05:09")
	l.Saved = at.Add(-time.Hour)
	has("newer than its file /jobs/wren.toml", "13:05:09", "14:05:09")
}

// The time is that of the last edit, also of a job that was killed twice.
func TestTheTimeOfTheLastChangeIsKept(t *testing.T) {
	dead, folder := killed(t)
	when := dead.Session.Changed
	if d := time.Since(when); when.IsZero() || d < 0 || d > time.Hour {
		t.Fatalf("it was changed %v", when)
	}
	u, left := start(t, dead, folder)
	if !left[0].Changed.Equal(when) || left[0].Saved.IsZero() {
		t.Errorf("changed %v, want %v; the file was written %v", left[0].Changed, when, left[0].Saved)
	}
	u.offer(left)
	press(t, u, "Restore")
	kill(u)
	if _, left = start(t, u, folder); !left[0].Changed.Equal(when) {
		t.Errorf("killed again it counts as changed %v", left[0].Changed)
	}
}

// Escape leaves the question open for the next start.
func TestOfferClosedWithoutAnAnswerIsMadeAgain(t *testing.T) {
	dead, folder := killed(t)
	u, left := start(t, dead, folder)
	u.offer(left)
	u.Dismiss()
	is(t, u, desk.Demo().Job())
	if _, left = start(t, u, folder); len(left) != 1 {
		t.Errorf("%d jobs are offered", len(left))
	}
}

// slowFiles wait, when something is to be written, until they are let.
type slowFiles struct {
	store.Files
	let chan bool
}

func (s slowFiles) Create(path string, mode os.FileMode) (store.File, error) {
	<-s.let
	return s.Files.Create(path, mode)
}

// queue runs what is meant for the main goroutine on the test's.
type queue chan func()

func (q queue) one(t *testing.T) {
	t.Helper()
	select {
	case f := <-q:
		f()
	case <-time.After(time.Minute):
		t.Fatal("nothing came back to the main goroutine")
	}
}

// slowly makes a window write on other goroutines, slowly, and returns what lets one
// file be written and goes on after it.
func slowly(t *testing.T, u *ui) (next func()) {
	files := slowFiles{store.System, make(chan bool)}
	u.Files = files
	main := make(queue, 100)
	u.Beside = func(work func() func()) {
		go func() {
			show := work()
			main <- show
		}()
	}
	return func() {
		t.Helper()
		files.let <- true
		main.one(t)
	}
}

// While a file is written the job can be edited, and counts as saved as it was then.
func TestEditingWhileSaving(t *testing.T) {
	u := on(t, byHand)
	next := slowly(t, u)
	edit := func(title string) { u.Edit("title", func(j *job.Job) { j.Title = title }) }
	edit("One")
	u.save(nil)
	if !u.Session.Dirty() {
		t.Error("it counts as saved before it is")
	}
	edit("Two")
	u.save(nil) // waits its turn
	edit("Three")
	next()
	if got := read(t, u.Session.Path); !strings.Contains(got, "One") || !u.Session.Dirty() {
		t.Errorf("the file holds %q, and the job counts as changed: %v", got, u.Session.Dirty())
	}
	next()
	if got := read(t, u.Session.Path); !strings.Contains(got, "Three") || u.Session.Dirty() {
		t.Errorf("at last the file holds %q, and the job counts as changed: %v", got, u.Session.Dirty())
	}
}

// Another job opened while one is written does not take the saved one's place.
func TestOpeningAnotherWhileSaving(t *testing.T) {
	u := on(t, byHand)
	next := slowly(t, u)
	u.Edit("title", func(j *job.Job) { j.Title = "One" })
	path := u.Session.Path
	u.save(nil)
	u.openDemo() // waits until it is written
	if u.Session.Path != path {
		t.Fatal("the job being saved was left")
	}
	next()
	is(t, u, desk.Demo().Job())
	if !strings.Contains(read(t, path), "One") {
		t.Error("the job was not saved")
	}
}

// The program does not end while something is being written, unless told so.
func TestQuitWaitsForWhatIsWritten(t *testing.T) {
	u := on(t, byHand)
	closed := false
	u.Window.SetOnClosed(func() { closed = true })
	next := slowly(t, u)
	u.Edit("title", func(j *job.Job) { j.Title = "One" })
	u.save(nil)
	u.quit()
	u.quit() // asking twice is not asking two questions
	if closed || len(u.Dialogs) != 1 || !strings.Contains(said(u), "“job.toml” is still being written") {
		t.Fatalf("closed: %v; the window says %q", closed, said(u))
	}
	press(t, u, "Keep working")
	u.quit()
	next()
	if !closed || !strings.Contains(read(t, u.Session.Path), "One") {
		t.Errorf("written, closed: %v", closed)
	}
}

func TestQuitWithoutWaiting(t *testing.T) {
	u := on(t, byHand)
	closed := false
	u.Window.SetOnClosed(func() { closed = true })
	next := slowly(t, u)
	u.Edit("title", func(j *job.Job) { j.Title = "One" })
	u.save(nil)
	u.quit()
	press(t, u, "Quit without waiting")
	if !closed {
		t.Error("it waits all the same")
	}
	next() // or its goroutine would stay
}

// Saving that fails while the program is about to end keeps it open.
func TestQuitStaysWhenSavingFails(t *testing.T) {
	u := on(t, byHand)
	closed := false
	u.Window.SetOnClosed(func() { closed = true })
	u.Files = &fault.Files{N: 1, Err: syscall.ENOSPC, Last: true}
	u.Edit("title", func(j *job.Job) { j.Title = "One" })
	u.quit()
	press(t, u, "Save")
	if closed || !strings.Contains(said(u), "no space left on device") || !u.Session.Dirty() {
		t.Errorf("closed: %v; the window says %q", closed, said(u))
	}
}

// The newest state is what is kept at last, on another goroutine.
func TestTheNewestIsKept(t *testing.T) {
	folder := t.TempDir()
	r, _, err := desk.StartRecovery(store.System, folder)
	if err != nil {
		t.Fatal(err)
	}
	inTurn, kept := false, 0
	k := kit.NewLatest(&inTurn, func(_ context.Context, n desk.Snapshot) func() {
		if err := r.Keep(n); err != nil {
			t.Error(err)
		}
		kept++
		return nil
	})
	var last desk.Snapshot
	doc, err := job.Read("", []byte(byHand))
	if err != nil {
		t.Fatal(err)
	}
	for range 500 {
		s := desk.NewSession("", doc, nil)
		s.Edit("title", titled(s.Job(), time.Now().String()))
		last = s.Snapshot()
		k.Give(last)
	}
	k.Settle()
	kill(&ui{Desk: &desk.Desk{Recovery: r}})
	left := desk.Leftovers(store.System, folder)
	if len(left) != 1 || !left[0].Job.Equal(last.Job) {
		t.Fatalf("%d jobs are left, not the last one", len(left))
	}
	if kept >= 500 {
		t.Errorf("each of %d states was written", kept)
	}
	if err := left[0].Discard(); err != nil {
		t.Error(err)
	}
	if list, _ := os.ReadDir(folder); len(list) != 0 {
		t.Errorf("left behind: %v", list)
	}
}

// What a program leaves half written when it is killed goes with its snapshot.
func TestHalfWrittenSnapshotsGo(t *testing.T) {
	dead, folder := killed(t)
	half := filepath.Join(folder, "."+filepath.Base(dead.Recovery.File)+"-1-0.tmp")
	if err := os.WriteFile(half, []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	u, left := start(t, dead, folder)
	u.offer(left)
	press(t, u, "Discard")
	if _, err := os.Stat(half); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("it is still there: %v", err)
	}
}
