//go:build e2e

package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"image"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"pinphase.org/pinphase"
)

// ran is what a program that opened no window left: its output and exit code.
type ran struct {
	out, errOut string
	code        int
}

// runWith runs the program in a folder with nothing in its environment but what is
// given, until it ends by itself.
func runWith(t *testing.T, folder string, env []string, args ...string) ran {
	t.Helper()
	binary := build(t)
	var out, errOut bytes.Buffer
	ctx, cancel := context.WithTimeout(t.Context(), patience)
	defer cancel()
	cmd := exec.CommandContext(ctx, binary, args...)
	cmd.Dir, cmd.Env, cmd.Stdout, cmd.Stderr = folder, append([]string{"LC_ALL=C"}, env...), &out, &errOut
	err := cmd.Run()
	if ctx.Err() != nil {
		t.Fatalf("pinphase %q with %q does not end by itself: %s", args, env, &errOut)
	}
	if exit := new(exec.ExitError); err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return ran{out.String(), errOut.String(), cmd.ProcessState.ExitCode()}
}

// What is asked on the command line is answered there: on a machine without a
// display too, and with one no window opens.
func TestCommandLine(t *testing.T) {
	version := "pinphase " + pinphase.About().Version + "\n"
	for _, c := range []struct {
		args        []string
		code        int
		out, errOut string // beginnings
	}{
		{[]string{"--version"}, 0, version, ""},
		{[]string{"--help"}, 0, "Usage: pinphase ", ""},
		{[]string{"-h"}, 0, "Usage: pinphase ", ""},
		{[]string{"demo", "--version"}, 0, version, ""},
		{[]string{"--verbose"}, 2, "", `pinphase: there is no option "--verbose"; see pinphase --help` + "\n"},
		{[]string{"--\x1b[31m"}, 2, "", `pinphase: there is no option "--\x1b[31m"`},
		{[]string{"-"}, 2, "", "pinphase: the window does not read standard input"},
		{[]string{"a.toml", "b.csv", "c.csv"}, 2, "", "pinphase: 3 names are given; "},
		{[]string{"--", "--version", "--help", "-h"}, 2, "", "pinphase: 3 names are given; "},
	} {
		for _, env := range [][]string{nil, {"DISPLAY=" + os.Getenv("DISPLAY"), "HOME=" + t.TempDir()}, {"LC_ALL=C.UTF-8"}} {
			got := runWith(t, t.TempDir(), env, c.args...)
			if got.code != c.code || !strings.HasPrefix(got.out, c.out) || !strings.HasPrefix(got.errOut, c.errOut) {
				t.Errorf("pinphase %q with %q: %+v", c.args, env, got)
			}
			if (c.out == "") != (got.out == "") || (c.errOut == "") != (got.errOut == "") || strings.Count(got.errOut, "\n") > 1 {
				t.Errorf("pinphase %q with %q says too much: %+v", c.args, env, got)
			}
		}
	}
}

// A terminal obeys the control characters that stand in the name of a folder: they are
// written as their codes, by the program and by the toolkit.
func TestControlCharactersInNames(t *testing.T) {
	const red, code = "red \x1b[31m", `red \u001b[31m`
	got := runWith(t, t.TempDir(), []string{"TMPDIR=" + filepath.Join(t.TempDir(), red)}, "demo")
	if got.code != 1 || !strings.Contains(got.errOut, code) || strings.Contains(got.errOut, "\x1b") {
		t.Errorf("without a home and a folder for what is temporary: %+v", got)
	}

	// The toolkit's reader panics over a list of several kinds: it is put aside, and that
	// is noted.
	h := newHomes(t)
	dir := filepath.Join(t.TempDir(), red)
	own := filepath.Join(dir, "fyne", "org.pinphase.desktop")
	if err := os.MkdirAll(own, 0o700); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"preferences.json": `{"a": ["b", 1]}`, "choices.json": `{"theme":"light","tour.seen":true}`} {
		if err := os.WriteFile(filepath.Join(own, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	w := open(t, build(t), append(h, "XDG_CONFIG_HOME="+dir), jobFile(t))
	w.key("ctrl+q")
	w.ended()
	if said := w.log.String(); !strings.Contains(said, code) || strings.Contains(said, "\x1b") {
		t.Errorf("where settings lie in a folder of such a name: %q", said)
	}
}

// A display that is missing or cannot be reached is named in one sentence.
func TestWithoutDisplay(t *testing.T) {
	home := "HOME=" + t.TempDir()
	bare := xvfb(t, "-extension", "GLX")
	for _, c := range []struct {
		env  []string
		want string
	}{
		{nil, "there is no display to open a window on: neither DISPLAY nor WAYLAND_DISPLAY is set"},
		{[]string{"DISPLAY=", "WAYLAND_DISPLAY="}, "there is no display"},
		{[]string{"DISPLAY=:4321"}, `DISPLAY=":4321"`},
		{[]string{"DISPLAY=nowhere.invalid:0"}, `DISPLAY="nowhere.invalid:0"`},
		{[]string{"DISPLAY=rubbish"}, `DISPLAY="rubbish"`},
		{[]string{"WAYLAND_DISPLAY=wayland-4321"}, "Wayland: XDG_RUNTIME_DIR is not set"},
		{[]string{"WAYLAND_DISPLAY=wayland-4321", "XDG_RUNTIME_DIR=" + t.TempDir()}, `WAYLAND_DISPLAY="wayland-4321"`},
		{[]string{"WAYLAND_DISPLAY=wayland-4321", "DISPLAY=:4321"}, `DISPLAY=":4321", WAYLAND_DISPLAY="wayland-4321"`},
		{[]string{"XDG_SESSION_TYPE=wayland", "WAYLAND_DISPLAY=/nowhere/wayland-4321"}, `WAYLAND_DISPLAY="/nowhere/wayland-4321"`},
		{[]string{"FYNE_PLATFORM=wayland", "DISPLAY=" + os.Getenv("DISPLAY")}, "Wayland: XDG_RUNTIME_DIR is not set"},
		{[]string{"FYNE_PLATFORM=x11", "DISPLAY=:4321", "WAYLAND_DISPLAY=wayland-4321"}, `DISPLAY=":4321"`},
		{[]string{"DISPLAY=" + bare}, "GLX"}, // a display on which nothing can be drawn
		{[]string{"DISPLAY=" + os.Getenv("DISPLAY"), "MESA_GL_VERSION_OVERRIDE=1.1"}, "it does not offer OpenGL 2.1"},
	} {
		got := runWith(t, t.TempDir(), append(c.env, home), "demo")
		if got.code != 1 || got.out != "" || !strings.HasPrefix(got.errOut, "pinphase: ") || !strings.Contains(got.errOut, c.want) || strings.Count(got.errOut, "\n") != 1 {
			t.Errorf("with %q: %+v", c.env, got)
		}
	}
}

// xvfb starts a virtual display and returns its name.
func xvfb(t *testing.T, args ...string) string {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("Xvfb", append([]string{"-displayfd", "3", "-nolisten", "tcp"}, args...)...)
	cmd.ExtraFiles = []*os.File{w}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		cmd.Process.Signal(os.Interrupt) // killed it would leave its socket behind
		cmd.Wait()
	})
	w.Close()
	number, err := bufio.NewReader(r).ReadString('\n')
	if err != nil {
		t.Fatalf("the display does not start: %v", err)
	}
	return ":" + strings.TrimSpace(number)
}

// Where the system names no home folder, or no sound one, nothing is written into
// the folder in which the program was started; what it keeps elsewhere goes with it,
// which it says.
func TestWithoutHome(t *testing.T) {
	binary := build(t)
	for _, c := range []struct {
		name string
		home homes
	}{
		{"none", homes{"HOME=", "XDG_CONFIG_HOME=", "XDG_CACHE_HOME=", "XDG_DATA_HOME="}},
		{"relative", homes{"HOME=here", "XDG_CONFIG_HOME=.", "XDG_CACHE_HOME=cache", "XDG_DATA_HOME=."}},
	} {
		t.Run(c.name, func(t *testing.T) {
			launch, here, temp := jobFile(t), t.TempDir(), t.TempDir()
			t.Chdir(here)
			w := start(t, binary, append(c.home, "TMPDIR="+temp), launch)
			w.settle()
			w.click("the bore", fieldOf("Bore"))
			w.key("ctrl+a")
			w.typed("96") // an unsaved job is kept against a crash
			w.titleIs("• launch.toml – Pinphase")
			w.key("ctrl+s")
			w.titleIs("launch.toml – Pinphase")
			w.key("ctrl+q")
			w.ended()
			for _, folder := range []string{here, temp} {
				filepath.WalkDir(folder, func(path string, _ fs.DirEntry, err error) error {
					if err != nil || path != folder {
						t.Errorf("there lies %s, %v", path, err)
					}
					return nil
				})
			}
			if !strings.Contains(w.log.String(), "there is no home folder") {
				t.Error("it does not say that nothing is kept")
			}
		})
	}
}

// What lies in the folder in which the program is started is not taken for what the
// toolkit reads of a program. Without the tag "release" it is: the program says at its
// start that it could not be read.
func TestForeignFyneApp(t *testing.T) {
	binary, launch, homes := build(t), jobFile(t), newHomes(t)
	t.Chdir(t.TempDir())
	if err := os.WriteFile("FyneApp.toml", []byte("[Details]\nName = 1\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	w := open(t, binary, homes, launch)
	w.key("ctrl+q")
	w.ended()
	if strings.Contains(w.log.String(), "FyneApp.toml") {
		t.Errorf("the program says %s", w.log)
	}
}

// A window left larger than the screen it next opens on is made to fit there.
func TestSmallScreen(t *testing.T) {
	binary, h := build(t), homesWith(t, `{"theme":"light","tour.seen":true,"window.width":1280,"window.height":900}`)
	t.Setenv("DISPLAY", xvfb(t, "-screen", "0", "1024x700x24"))
	manager := exec.Command("openbox")
	if err := manager.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		manager.Process.Kill() // an error means that it has ended
		manager.Wait()
	})
	w := startAt(t, image.Pt(1024, 640), binary, h, "demo")
	if w.opened.X > 1024 || w.opened.Y > 700 || w.opened.X < 900 || w.opened.Y < 600 {
		t.Errorf("the window opens at %v on a screen of 1024 by 700", w.opened)
	}
	w.key("ctrl+q")
	w.ended()
}
