//go:build e2e

package main

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"pinphase.org/pinphase/assets"
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

// lease holds up whoever opens a file until it is let go of, as a network that is
// gone does: fcntl(2), "Leases". The kernel lets go of it itself after
// /proc/sys/fs/lease-break-time, which is 45 seconds unless somebody changed it.
func lease(t *testing.T, path string) (letGo func()) {
	t.Helper()
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	const setLease = 1024 // F_SETLEASE
	if _, _, e := syscall.Syscall(syscall.SYS_FCNTL, f.Fd(), setLease, syscall.F_WRLCK); e != 0 {
		t.Skip("this file system has no leases: ", e)
	}
	letGo = func() {
		syscall.Syscall(syscall.SYS_FCNTL, f.Fd(), setLease, syscall.F_UNLCK) // an error means that the kernel did
		f.Close()
	}
	t.Cleanup(letGo)
	return letGo
}

// usable fails the test unless the window can be worked.
func (w *win) usable() {
	w.t.Helper()
	w.step("turning the crank", w.crankMoves(), func() { w.key("shift+Right") })
}

func (w *win) crankMoves() effect {
	was := w.crank()
	return func() bool { at := w.crank(); return at >= 0 && at != was }
}

// What is no file is refused and keeps nobody waiting.
func TestAPipeIsRefused(t *testing.T) {
	binary, homes := build(t), newHomes(t)
	w := open(t, binary, homes, assets.DemoName)
	title := w.title()
	for _, name := range []string{"job.toml", "recording.csv", "picture.jpg"} {
		path := pipe(t, name)
		w.step("dropping a pipe", w.reads("is not a file"), func() { w.drop(640, 400, path) })
		w.says(path)
		w.step("Escape", w.hides(closeButton), func() { w.key("Escape") })
		w.titleIs(title)
		w.key("ctrl+1") // a recording has its own page
		w.page("Cycle")
		w.usable()
	}
	w.key("ctrl+q")
	w.ended()

	w = start(t, binary, homes, pipe(t, "first.toml"))
	w.says("is not a file")
	w.step("Escape", w.hides(closeButton), func() { w.key("Escape") })
	w.usable()
}

// A file that does not come keeps nobody waiting and is called off.
func TestAFileThatDoesNotComeIsCalledOff(t *testing.T) {
	binary, homes := build(t), newHomes(t)
	w := open(t, binary, homes, assets.DemoName)
	title := w.title()
	const says = "Opening “launch.toml”…"
	for _, c := range []struct {
		how string
		do  func()
	}{
		{"Escape", func() { w.key("Escape") }},
		{"Cancel", func() { w.press("Cancel") }},
	} {
		path := jobFile(t)
		letGo := lease(t, path)
		w.step("dropping a job", w.reads(says), func() { w.drop(640, 400, path) })
		w.usable()
		w.step(c.how, w.hides(the(words(says))), c.do)
		letGo()
		w.usable()
		w.titleIs(title)
	}

	// A picture, and a recording, which has its page.
	picture := filepath.Join(t.TempDir(), "shaft.jpg")
	if err := os.WriteFile(picture, []byte(read(t, testFile(t, "photos/nose-square.jpg"))), 0o600); err != nil {
		t.Fatal(err)
	}
	letGo := lease(t, picture)
	w.step("dropping a picture", w.reads("Opening “shaft.jpg”…"), func() { w.drop(640, 400, picture) })
	w.usable()
	w.step("Escape", w.hides(the(words("Opening “shaft.jpg”…"))), func() { w.key("Escape") })
	letGo()
	recording := recordingFile(t)
	letGo = lease(t, recording)
	stop := enabled(button("Stop reading"))
	w.step("dropping a recording", w.shows(stop), func() { w.drop(640, 400, recording) })
	w.step("the first page", w.shows(chosen(button("Cycle"))), func() { w.key("ctrl+1") })
	w.usable()
	w.step("the recording's page", w.shows(stop), func() { w.key("ctrl+4") })
	w.step("Escape", w.hides(stop), func() { w.key("Escape") })
	letGo()
	w.titleIs(title)
	w.key("ctrl+1")
	w.page("Cycle")

	// What comes in the end is opened.
	path := jobFile(t)
	letGo = lease(t, path)
	w.step("dropping a job", w.reads(says), func() { w.drop(640, 400, path) })
	w.step("letting go", w.titled("launch.toml – Pinphase"), letGo)
	w.key("ctrl+q")
	w.ended()

	// The window comes up while the job it is started on does not.
	path = copyOf(t, "pages.toml")
	letGo = lease(t, path)
	w = start(t, binary, homes, path)
	w.says("Opening “pages.toml”…")
	w.usable()
	w.step("letting go", w.titled(savedTitle), letGo)
}

// Settings that do not come keep nobody waiting: the window comes up without them, says
// so, and leaves them as they are.
func TestSettingsThatDoNotCome(t *testing.T) {
	binary, homes := build(t), newHomes(t)
	was := read(t, homes.own("choices.json"))
	letGo := lease(t, homes.own("choices.json"))
	w := start(t, binary, homes, jobFile(t))
	w.says("does not answer")
	w.usable()
	w.key("ctrl+q")
	w.ended()
	letGo()
	if now := read(t, homes.own("choices.json")); now != was {
		t.Errorf("the settings were %q and are %q", was, now)
	}
}
