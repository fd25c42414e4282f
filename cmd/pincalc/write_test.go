package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"pinphase.org/pinphase/timing/store"
	"pinphase.org/pinphase/timing/store/fault"
)

// outputs are the commands that write a file, which stands last.
var outputs = [][]string{
	{"draw", "demo", "--figure", "wheel", "-o", "wheel.svg"},
	{"sheet", "demo", "-o", "sheet.html"},
	{"signal", "demo", "-o", "signal.csv"},
	{"exercise", "demo", "--seed", "7", "--count", "1", "-o", "exercise.html"},
	{"degreewheel", "--diameter-mm", "180", "-o", "wheel.pdf"},
	{"tape", "--diameter-mm", "180", "-o", "tape.pdf"},
}

// command carries out a command line.
func command(args ...string) (code int, out, errOut string) {
	var o, e bytes.Buffer
	code = run(args, streams{out: &o, errOut: &e})
	return code, o.String(), e.String()
}

// Whatever fails, what was there stays, nothing lies beside it, and one line says why.
func TestOutputsWhenTheDiskFails(t *testing.T) {
	t.Cleanup(func() { files = store.System })
	const was = "what was there before"
	for i, args := range outputs {
		folder := t.TempDir()
		path := filepath.Join(folder, args[len(args)-1])
		args := append(append([]string(nil), args[:len(args)-1]...), path)
		for _, broken := range fault.Errors {
			if i > 0 && broken != fault.Errors[0] {
				break // one is enough to see that they go the same way
			}
			for n := 1; ; n++ {
				if err := os.WriteFile(path, []byte(was), 0o644); err != nil {
					t.Fatal(err)
				}
				f := &fault.Files{N: n, Err: broken}
				files = f
				code, _, said := command(args...)
				if !f.Failed() {
					if n < 7 || code != exitDone {
						t.Fatalf("%v: exit %d after %d operations: %s", args, code, n, said)
					}
					break
				}
				data, err := os.ReadFile(path)
				if err != nil {
					t.Fatal(err)
				}
				at := f.Log()[n-1]
				told := strings.Contains(said, path) && strings.Count(said, "\n") == 1 && (code == exitDone || strings.Contains(said, broken.Error()))
				switch {
				case interrupted(broken) && (code != exitDone || said != "" || string(data) == was):
					t.Errorf("%v: interrupted in %s: exit %d, %q", args, at, code, said)
				case code == exitFailed && !told:
					t.Errorf("%v: %v in %s: it says %q", args, broken, at, said)
				case code == exitFailed && string(data) != was && !strings.Contains(at, "syncfolder"):
					t.Errorf("%v: %v in %s: the file holds something else", args, broken, at)
				case code == exitDone && (string(data) == was || !interrupted(broken) && !told && !strings.Contains(at, "syncfolder")):
					t.Errorf("%v: %v in %s: it says %q", args, broken, at, said)
				}
				if list, _ := os.ReadDir(folder); len(list) != 1 {
					t.Errorf("%v: %v in %s: %v lie in the folder", args, broken, at, list)
				}
			}
		}
	}
}

func interrupted(err error) bool { return errors.Is(err, syscall.EINTR) }

// Other names of an output keep what was there before, and that is said; a symbolic link
// stays one.
func TestOutputsWithOtherNames(t *testing.T) {
	folder := t.TempDir()
	path, other, link := filepath.Join(folder, "a.svg"), filepath.Join(folder, "b.svg"), filepath.Join(folder, "c.svg")
	if err := os.WriteFile(path, []byte("before"), 0o640); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(os.Link(path, other), os.Symlink("a.svg", link)); err != nil {
		t.Skip("no links here:", err)
	}
	code, _, said := command("draw", "demo", "--figure", "wheel", "-o", link)
	if code != exitDone || said != link+": The file had other names (hard links): they still hold what was there before.\n" {
		t.Errorf("exit %d, it says %q", code, said)
	}
	now, err := os.ReadFile(path)
	if err != nil || !bytes.HasPrefix(now, []byte("<svg ")) {
		t.Errorf("the file holds %.20q, %v", now, err)
	}
	if was, err := os.ReadFile(other); err != nil || string(was) != "before" {
		t.Errorf("the other name holds %q, %v", was, err)
	}
	if st, err := os.Lstat(link); err != nil || st.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is now %v, %v", st, err)
	}
	if code, _, said := command("draw", "demo", "--figure", "wheel", "-o", path); code != exitDone || said != "" {
		t.Errorf("alone under its name: exit %d, it says %q", code, said)
	}
}
