//go:build unix

package desk

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// A picture goes whole to the program that keeps the clipboard of the display there is, as
// a PNG; where none is installed, or none works, that is said.
func TestPictureOntoTheClipboard(t *testing.T) {
	folder := t.TempDir()
	tool := func(name, script string) {
		if err := os.WriteFile(filepath.Join(folder, name), []byte("#!/bin/sh\n"+script), 0o777); err != nil {
			t.Fatal(err)
		}
	}
	cat, err := os.Stat("/bin/cat")
	if err != nil || cat.IsDir() {
		t.Skip("there is no /bin/cat")
	}
	t.Setenv("PATH", folder)
	t.Setenv("DISPLAY", ":0")
	t.Setenv("WAYLAND_DISPLAY", "")
	if err := CopyPicture([]byte("a picture")); !errors.Is(err, errTextOnly) {
		t.Errorf("without a program for it: %v", err)
	}
	got := filepath.Join(folder, "got")
	tool("wl-copy", "exit 1\n")
	tool("xclip", "echo \"$@\" > "+got+"; /bin/cat >> "+got+"\n")
	if err := CopyPicture([]byte("a picture")); err != nil {
		t.Fatal(err)
	}
	if data, _ := os.ReadFile(got); string(data) != "-selection clipboard -t image/png -i\na picture" {
		t.Errorf("the clipboard got %q", data)
	}
	os.Remove(got)
	t.Setenv("WAYLAND_DISPLAY", "wayland-0")
	if err := CopyPicture([]byte("a picture")); err != nil {
		t.Errorf("where the first fails: %v", err)
	}
	if _, err := os.Stat(got); err != nil {
		t.Error("where the first fails the second is not tried")
	}
	tool("xclip", "exit 3\n")
	if err := CopyPicture(nil); !errors.Is(err, errTextOnly) {
		t.Errorf("where both fail: %v", err)
	}
}
