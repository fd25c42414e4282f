package store_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"pinphase.org/pinphase/timing/store"
	"pinphase.org/pinphase/timing/store/fault"
)

// places are files to be written, each made in a folder of its own. was is what the
// file holds before.
var places = []struct {
	name string
	make func(t *testing.T, folder string) (path, was string)
}{
	{"new", func(_ *testing.T, folder string) (string, string) { return filepath.Join(folder, "a"), "" }},
	{"old", func(t *testing.T, folder string) (string, string) {
		return filepath.Join(folder, "a"), put(t, filepath.Join(folder, "a"))
	}},
	{"read by nobody else", func(t *testing.T, folder string) (string, string) {
		path := filepath.Join(folder, "a")
		was := put(t, path)
		check(t, os.Chmod(path, 0o600))
		return path, was
	}},
	{"link", func(t *testing.T, folder string) (string, string) {
		was := put(t, filepath.Join(folder, "b"))
		check(t, os.Symlink("b", filepath.Join(folder, "a")))
		return filepath.Join(folder, "a"), was
	}},
	{"two names", func(t *testing.T, folder string) (string, string) {
		was := put(t, filepath.Join(folder, "a"))
		check(t, os.Link(filepath.Join(folder, "a"), filepath.Join(folder, "b")))
		return filepath.Join(folder, "a"), was
	}},
}

const (
	before = "what was there before\n"
	next   = "what is written now, which is longer than what was there\n"
)

func put(t *testing.T, path string) string {
	check(t, os.WriteFile(path, []byte(before), 0o644))
	return before
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// picture is what a folder holds: names, kinds, permissions and contents.
func picture(t *testing.T, folder string) string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	check(t, err)
	var b strings.Builder
	for _, e := range entries {
		info, err := e.Info()
		check(t, err)
		data, err := os.ReadFile(filepath.Join(folder, e.Name()))
		check(t, err)
		fmt.Fprintln(&b, e.Name(), info.Mode(), string(data))
	}
	return b.String()
}

// Whatever fails, the folder is afterwards as it was or as it is after success, and
// an error is told unless it is the latter. What was interrupted is done again.
func TestEveryOperationFails(t *testing.T) {
	for _, place := range places {
		folder := t.TempDir()
		path, _ := place.make(t, folder)
		was := picture(t, folder)
		_, err := store.Replace(store.System, path, []byte(next), 0o644)
		check(t, err)
		done := picture(t, folder)
		for _, kind := range fault.Kinds {
			for _, broken := range fault.Errors {
				for n := 1; ; n++ {
					name := fmt.Sprintf("%s, %v, kind %d, operation %d", place.name, broken, kind, n)
					folder := t.TempDir()
					path, _ := place.make(t, folder)
					files := &fault.Files{N: n, Err: broken, Kind: kind}
					lost, err := store.Replace(files, path, []byte(next), 0o644)
					if !files.Failed() {
						if n < 7 {
							t.Fatalf("%s: a file is written with %d operations:\n%s", name, n-1, strings.Join(files.Log(), "\n"))
						}
						break
					}
					switch now := picture(t, folder); {
					case errors.Is(broken, syscall.EINTR) && (err != nil || now != done):
						t.Errorf("%s: %v; the folder holds\n%s", name, err, now)
					case now != was && now != done && len(lost) == 0:
						t.Errorf("%s: the folder holds\n%s\nit held\n%s\n%s", name, now, was, strings.Join(files.Log(), "\n"))
					case err == nil && len(lost) == 0 && !harmless(broken, files.Log()[n-1]):
						t.Errorf("%s: nothing is said", name)
					case err != nil && !errors.Is(err, broken):
						t.Errorf("%s: it says %v", name, err)
					case err != nil && !strings.Contains(err.Error(), path) || strings.Contains(fmt.Sprint(err), ".tmp"):
						t.Errorf("%s: it says %v", name, err)
					}
					if got, err := os.ReadFile(path); err == nil && string(got) != before && string(got) != next {
						t.Errorf("%s: the file holds %q", name, got)
					}
				}
			}
		}
	}
}

// harmless tells whether an operation may fail without a word: it is done again, or it
// is one that not every file system lets a user do.
func harmless(err error, operation string) bool {
	return errors.Is(err, syscall.EINTR) || errors.Is(err, syscall.EACCES) && strings.Contains(operation, "syncfolder")
}

// A disk that fails from some moment on, also in cleaning up: what was left behind is
// named.
func TestNothingWorksAnyMore(t *testing.T) {
	for n := 1; n < 12; n++ {
		folder := t.TempDir()
		path := filepath.Join(folder, "a")
		put(t, path)
		files := &fault.Files{N: n, Err: syscall.EIO, Last: true}
		_, err := store.Replace(files, path, []byte(next), 0o644)
		if err == nil {
			t.Fatalf("operation %d and all after it failed, and nothing is said", n)
		}
		if got := content(t, path); got != before && got != next {
			t.Errorf("operation %d: the file holds %q", n, got)
		}
		for _, left := range store.Unfinished(path) {
			if !strings.Contains(err.Error(), left) {
				t.Errorf("operation %d: %s was left behind, and it says %v", n, left, err)
			}
		}
	}
}

// pieces takes three bytes at a time, as a pipe or a network may.
type pieces struct{ store.Files }

func (p pieces) Create(path string, mode fs.FileMode) (store.File, error) {
	f, err := p.Files.Create(path, mode)
	return slow{f}, err
}

type slow struct{ store.File }

func (s slow) Write(data []byte) (int, error) { return s.File.Write(data[:min(3, len(data))]) }

// stuck takes nothing.
type stuck struct{ store.Files }

func (p stuck) Create(path string, mode fs.FileMode) (store.File, error) {
	f, err := p.Files.Create(path, mode)
	return none{f}, err
}

type none struct{ store.File }

func (none) Write([]byte) (int, error) { return 0, nil }

func TestShortWrites(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a")
	_, err := store.Replace(pieces{store.System}, path, []byte(next), 0o644)
	if check(t, err); content(t, path) != next {
		t.Errorf("the file holds %q", content(t, path))
	}
	if _, err := store.Replace(stuck{store.System}, path, []byte(before), 0o644); err == nil || content(t, path) != next {
		t.Errorf("%v; the file holds %q", err, content(t, path))
	}
	only(t, folder, "a")
}

func TestAside(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a")
	for _, want := range []string{"a.damaged", "a.damaged-2", "a.damaged-3"} {
		check(t, os.WriteFile(path, []byte(want), 0o600))
		name, err := store.Aside(store.System, path)
		if check(t, err); name != filepath.Join(folder, want) || content(t, name) != want {
			t.Errorf("it is now %s", name)
		}
	}
	only(t, folder, "a.damaged", "a.damaged-2", "a.damaged-3")
}

func TestRead(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a")
	put(t, path)
	if data, err := store.Read(store.System, path, int64(len(before))); err != nil || string(data) != before {
		t.Errorf("%q, %v", data, err)
	}
	if _, err := store.Read(store.System, path, int64(len(before))-1); !errors.Is(err, store.ErrTooLong) {
		t.Errorf("a file that is too long: %v", err)
	}
	if _, err := store.Read(store.System, folder, 100); err == nil {
		t.Error("a folder was read")
	}
}
