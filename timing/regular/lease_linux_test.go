package regular

import (
	"io"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// A file that another program holds a lease on is opened once that gives it up, as
// fcntl(2) says, "Leases": opening it without waiting fails with EWOULDBLOCK.
func TestALeasedFileIsOpened(t *testing.T) {
	path := filepath.Join(t.TempDir(), "leased")
	if err := os.WriteFile(path, []byte("text"), 0o600); err != nil {
		t.Fatal(err)
	}
	holder, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer holder.Close()
	const setLease = 1024 // F_SETLEASE
	lease := func(kind uintptr) error {
		if _, _, e := syscall.Syscall(syscall.SYS_FCNTL, holder.Fd(), setLease, kind); e != 0 {
			return e
		}
		return nil
	}
	if err := lease(syscall.F_WRLCK); err != nil {
		t.Skip("this file system has no leases: ", err)
	}
	const held = 300 * time.Millisecond
	began := time.Now()
	go func() {
		time.Sleep(held)
		lease(syscall.F_UNLCK) // an error shows as an opening that takes too long
	}()
	f, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if data, err := io.ReadAll(f); err != nil || string(data) != "text" {
		t.Errorf("%q, %v", data, err)
	}
	if took := time.Since(began); took < held/2 || took > 20*time.Second {
		t.Errorf("opened after %v", took)
	}
}
