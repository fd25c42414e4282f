//go:build unix

package regular

import (
	"errors"
	"io"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// What is not an ordinary file is refused at once. The kinds are those of stat(2),
// POSIX.1-2017, sys/stat.h.
func TestOnlyOrdinaryFilesAreOpened(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	if err := os.WriteFile(at("file"), []byte("text"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mkfifo(at("pipe"), 0o600); err != nil {
		t.Fatal(err)
	}
	// Not in the folder of the test: a socket's path has a hundred letters at most.
	short, err := os.MkdirTemp("", "s")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(short)
	socket := filepath.Join(short, "s")
	l, err := net.Listen("unix", socket)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	for name, to := range map[string]string{"link": "file", "to pipe": "pipe", "to itself": "to itself"} {
		if err := os.Symlink(to, at(name)); err != nil {
			t.Fatal(err)
		}
	}

	for _, path := range []string{at("pipe"), at("to pipe"), dir, socket, "/dev/zero", "/dev/tty"} {
		began := time.Now()
		f, err := Open(path)
		if err == nil {
			f.Close()
		}
		if !errors.Is(err, ErrNotFile) || err.Error() != path+": is not a file" {
			t.Errorf("%s: %v", path, err)
		}
		if took := time.Since(began); took > 2*time.Second {
			t.Errorf("%s: refused after %v", path, took)
		}
	}
	for _, path := range []string{at("file"), at("link")} {
		f, err := Open(path)
		if err != nil {
			t.Fatal(err)
		}
		if data, err := io.ReadAll(f); err != nil || string(data) != "text" {
			t.Errorf("%s: %q, %v", path, data, err)
		}
		f.Close()
	}
	if _, err := Open(at("none")); !errors.Is(err, fs.ErrNotExist) || errors.Is(err, ErrNotFile) {
		t.Errorf("of nothing the error is %v", err)
	}
	if _, err := Open(at("to itself")); err == nil || errors.Is(err, ErrNotFile) || !strings.Contains(err.Error(), "to itself") {
		t.Errorf("of a link to itself the error is %v", err)
	}
}

// A pipe that takes the file's place after it was looked at is refused too.
func TestThePipeThatComesLaterIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "p")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
	done := make(chan error, 1)
	go func() {
		f, err := os.OpenFile(path, os.O_RDONLY|withoutWaiting, 0)
		if err == nil {
			f.Close()
		}
		done <- err
	}()
	select {
	case err := <-done:
		if err != nil {
			t.Fatal(err)
		}
	case <-time.After(5 * time.Second):
		t.Fatal("opening the pipe waits for a writer")
	}
}
