//go:build unix

package app

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/finding"
)

// pipe makes a named pipe that nobody writes to: whoever opens it in the usual way
// waits for ever (POSIX.1-2017, open).
func pipe(t *testing.T, name string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// soon fails the test when something takes long.
func soon(t *testing.T, what string, do func()) {
	t.Helper()
	done := make(chan struct{})
	go func() { defer close(done); do() }()
	select {
	case <-done:
	case <-time.After(20 * time.Second):
		t.Fatalf("%s keeps the window waiting", what)
	}
}

// A pipe is no file, however it is opened; the job that is open stays.
func TestAPipeIsNoFile(t *testing.T) {
	u := on(t, measuredBy(byMethod["chord"]))
	was := u.Session.Job()
	drop := func(path string) func() {
		return func() { u.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(path)}) }
	}
	job, recording, picture := pipe(t, "job.toml"), pipe(t, "recording.csv"), pipe(t, "picture.jpg")
	for _, c := range []struct {
		what, path string
		open       func()
	}{
		{"a job", job, func() { u.openFile(job) }},
		{"a job dropped", job, drop(job)},
		{"a job at the start", job, func() { u.openFirst(job, func() {}) }},
		{"another part", job, func() { u.pages.at(u.pages.place("part")).(interface{ CompareWith(string) }).CompareWith(job) }},
		{"a recording", recording, func() { u.takeFile(recording) }},
		{"a recording dropped", recording, drop(recording)},
		{"a picture dropped", picture, drop(picture)},
		{"a picture", picture, func() { u.takeFile(picture) }},
	} {
		soon(t, c.what, c.open)
		if !strings.Contains(said(u), filepath.Base(c.path)) || !strings.Contains(said(u), "is not a file") {
			t.Errorf("%s: the window says %q", c.what, said(u))
		}
		u.Dismiss()
		is(t, u, was)
	}
	if reading(u) || u.Opening.Path != "" {
		t.Error("something is still on its way")
	}

	// A job whose picture is one.
	path := photoFile(t, "nose-square.jpg")
	at := filepath.Join(filepath.Dir(path), "nose-square.jpg")
	if err := os.Remove(at); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mkfifo(at, 0o600); err != nil {
		t.Fatal(err)
	}
	soon(t, "a job with a pipe as its picture", func() { u.openFile(path) })
	u.OpenPage("part", "")
	if got := words(u.Root); !strings.Contains(got, "is not a file") || !strings.Contains(got, "The points are kept") {
		t.Errorf("the page says %q", got)
	}
	soon(t, "a sheet with a pipe as its picture", func() {
		var b bytes.Buffer
		if err := writeSheet(&b, u.sheetInput(false, false), jobSheet, ".html", u.Paper()); err != nil || b.Len() == 0 {
			t.Errorf("%d bytes, %v", b.Len(), err)
		}
	})
}

// held keeps what the window has done on other goroutines until a test lets it go
// on, as a disk does that does not answer.
type held struct{ work []func() func() }

func hold(u *ui) *held {
	h := &held{}
	u.Beside = func(work func() func()) { h.work = append(h.work, work) }
	return h
}

func (h *held) goOn() {
	work := h.work
	h.work = nil
	for _, w := range work {
		w()()
	}
}

// While a file is on its way the window can be used, and the file be called off.
func TestAFileOnItsWayIsCalledOff(t *testing.T) {
	for _, c := range []struct {
		name    string
		callOff func(u *ui)
		opened  bool
	}{
		{"nothing", func(*ui) {}, true},
		{"Escape", func(u *ui) { typedKeys(u, fyne.KeyEscape) }, false},
		{"Cancel", func(u *ui) { u.Notice.Button.OnTapped() }, false},
		{"another job", func(u *ui) { u.Begin(desk.NewSession("", desk.Demo(), nil)) }, false},
	} {
		u := window(t)
		path := file(t, "slow.toml", byHand)
		h := hold(u)
		u.openFile(path)
		u.Opening.Say() // as when the delay is over
		if got := u.Notice.Words.Text; got != "Opening “slow.toml”…" || !u.Notice.Content.Visible() || u.Notice.Button.Text != "Cancel" {
			t.Errorf("%s: the window says %q", c.name, got)
		}
		u.SetAt(90)
		if u.At != 90 || u.Session.Path != "" {
			t.Errorf("%s: the window cannot be used meanwhile", c.name)
		}
		c.callOff(u)
		h.goOn()
		if got := u.Session.Path != ""; got != c.opened {
			t.Errorf("%s: opened is %v", c.name, got)
		}
		if u.Notice.Content.Visible() || said(u) != "" {
			t.Errorf("%s: afterwards the window says %q, %q", c.name, u.Notice.Words.Text, said(u))
		}
	}
}

// What was typed while a file was on its way is asked about before it goes.
func TestWhatIsTypedMeanwhileIsNotLost(t *testing.T) {
	u := window(t)
	path := file(t, "slow.toml", byHand)
	h := hold(u)
	u.openFile(path)
	u.Beside = nil
	fill(t, u, "engine.bore_mm", "99")
	mine := u.Session.Job()
	h.goOn()
	if !strings.Contains(said(u), "has changes that are not saved") {
		t.Fatalf("the window says %q", said(u))
	}
	press(t, u, "Keep working")
	is(t, u, mine)
}

// Of two files asked for, the one asked for last is opened, whichever comes first.
func TestTheFileAskedForLastIsOpened(t *testing.T) {
	u := window(t)
	first, second := file(t, "first.toml", byHand), file(t, "second.toml", byHand)
	h := hold(u)
	u.openFile(first)
	slow := h.work
	h.work = nil
	u.openFile(second)
	h.goOn()
	slow[0]()()
	if got := filepath.Base(u.Session.Path); got != "second.toml" {
		t.Errorf("%s is open", got)
	}
}

// reading tells whether the page of the signals reads a recording.
func reading(u *ui) bool {
	return u.pages.at(u.pages.place("signals")).(interface{ Reading() bool }).Reading()
}

// A recording whose file does not answer is called off by Escape.
func TestARecordingOnItsWayIsCalledOff(t *testing.T) {
	u := window(t)
	h := &held{}
	u.Beside = func(work func() func()) { h.work = append(h.work, work) }
	u.takeFile(file(t, "slow.csv", "time,crank\n0,1\n"))
	if !reading(u) {
		t.Fatal("the page does not say that a recording is read")
	}
	typedKeys(u, fyne.KeyEscape)
	if reading(u) {
		t.Error("Escape does not call it off")
	}
	h.goOn()
	if said(u) != "" || reading(u) {
		t.Errorf("called off, the window says %q", said(u))
	}
}

// measuredDowel is where the dowel was measured, by all that is known of its picture.
func measuredDowel(u *ui) float64 {
	p, err := finding.PartOf(u.Shown())
	if err != nil || p.Dowel == nil || p.Dowel.MeasuredDeg == nil {
		return math.NaN()
	}
	return *p.Dowel.MeasuredDeg
}

// A picture is looked at on another goroutine: what it says of its lens comes when
// it comes, and the angle with it.
func TestAPictureThatIsSlowIsShownLater(t *testing.T) {
	u := window(t)
	path := photoFile(t, "nose-square.jpg")
	u.openFile(path)
	want := measuredDowel(u)

	u = window(t)
	h := hold(u)
	u.openFile(path)
	h.goOn() // the job is there, its picture is not
	if got := words(u.Root); u.Session.Path == "" || len(h.work) == 0 {
		t.Fatalf("%d on their way, the page says %q", len(h.work), got)
	}
	for range 10 {
		h.goOn()
	}
	if got := measuredDowel(u); got != want {
		t.Errorf("the dowel is at %g, at once it would be at %g", got, want)
	}
	if len(h.work) > 0 {
		t.Error("the picture is looked at again and again")
	}
}
