package store_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pinphase.org/pinphase/timing/store"
)

// write replaces a file by the system's own files.
func write(path string, data []byte) error {
	_, err := store.Replace(store.System, path, data, 0o666)
	return err
}

// only fails the test unless the folder holds just these names.
func only(t *testing.T, dir string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if len(got) != len(names) {
		t.Fatalf("folder holds %v, want %v", got, names)
	}
	for i := range got {
		if got[i] != names[i] {
			t.Fatalf("folder holds %v, want %v", got, names)
		}
	}
}

func content(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestReplace(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.toml")
	for _, text := range []string{"first", "second, longer", ""} {
		if err := write(path, []byte(text)); err != nil {
			t.Fatal(err)
		}
		if got := content(t, path); got != text {
			t.Errorf("file holds %q, want %q", got, text)
		}
		only(t, dir, "a.toml")
	}
	t.Chdir(dir)
	if err := write("b.toml", []byte("b")); err != nil || content(t, path) != "" || content(t, filepath.Join(dir, "b.toml")) != "b" {
		t.Errorf("bare name: %v", err)
	}
}

func TestReplaceErrors(t *testing.T) {
	dir := t.TempDir()
	if err := write(filepath.Join(dir, "none", "a.toml"), nil); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no such folder: %v", err)
	}
	sub := filepath.Join(dir, "sub")
	if err := os.Mkdir(sub, 0o777); err != nil {
		t.Fatal(err)
	}
	if err := write(sub, []byte("a")); err == nil {
		t.Error("a folder was written")
	}
	only(t, dir, "sub")
	protected := filepath.Join(sub, "a.toml")
	if err := os.WriteFile(protected, []byte("old"), 0o444); err != nil {
		t.Fatal(err)
	}
	if err := write(protected, []byte("new")); !errors.Is(err, fs.ErrPermission) || content(t, protected) != "old" {
		t.Errorf("write-protected file: %v", err)
	}
	only(t, sub, "a.toml")
	// A name as long as the system allows leaves no room for that of the new file.
	long := filepath.Join(sub, longName(250))
	if err := os.WriteFile(long, []byte("old"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := write(long, []byte("new")); err != nil || content(t, long) != "new" {
		t.Errorf("long name: %v", err)
	}
	only(t, sub, "a.toml", longName(250))
}

func longName(n int) string { return strings.Repeat("n", n) }

// What a killed program left behind goes with the next time the same file is written;
// what may still be written, is no file of this program's, or belongs to another file
// stays.
func TestLeftoversAreCleared(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.toml")
	long := time.Now().Add(-2 * time.Hour)
	for name, when := range map[string]time.Time{
		".a.toml-123-0.tmp":       long,
		".a.toml-99999999-17.tmp": long,
		".a.toml-124-0.tmp":       time.Now(), // somebody may be writing it
		".a.toml-mine.tmp":        long,
		".a.toml-1-2-3.tmp":       long,
		".b.toml-123-0.tmp":       long,
		"a.toml-123-0.tmp":        long,
	} {
		check(t, os.WriteFile(filepath.Join(folder, name), nil, 0o600))
		check(t, os.Chtimes(filepath.Join(folder, name), when, when))
	}
	check(t, os.Mkdir(filepath.Join(folder, ".a.toml-5-0.tmp"), 0o700))
	check(t, os.Chtimes(filepath.Join(folder, ".a.toml-5-0.tmp"), long, long))
	_, err := store.Replace(store.System, path, []byte(next), 0o666)
	check(t, err)
	only(t, folder, ".a.toml-1-2-3.tmp", ".a.toml-124-0.tmp", ".a.toml-5-0.tmp", ".a.toml-mine.tmp", ".b.toml-123-0.tmp", "a.toml", "a.toml-123-0.tmp")
}
