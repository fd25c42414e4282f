package store_test

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"pinphase.org/pinphase/timing/store"
)

// accessList is user::rw-, user:1234:rw-, group::r--, mask::rw-, other::---, laid out
// as the kernel has it: linux/posix_acl_xattr.h, version 2, tags of posix_acl.h.
func accessList() []byte {
	var b bytes.Buffer
	le := binary.LittleEndian
	put := func(v any) { _ = binary.Write(&b, le, v) } // a buffer takes everything
	put(uint32(2))
	for _, e := range []struct {
		tag, perm uint16
		id        uint32
	}{{0x01, 6, 0xffffffff}, {0x02, 6, 1234}, {0x04, 4, 0xffffffff}, {0x10, 6, 0xffffffff}, {0x20, 0, 0xffffffff}} {
		put(e)
	}
	return b.Bytes()
}

func TestReplaceKeepsTheAccessList(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	put(t, path)
	want := accessList()
	if err := syscall.Setxattr(path, "system.posix_acl_access", want, 0); err != nil {
		t.Skip("no access lists here:", err)
	}
	was, err := os.Stat(path)
	check(t, err)
	lost, err := store.Replace(store.System, path, []byte(next), 0o666)
	check(t, err)
	got, err := store.System.ACL(path)
	check(t, err)
	now, err := os.Stat(path)
	check(t, err)
	if len(lost) != 0 || !bytes.Equal(got, want) || now.Mode() != was.Mode() {
		t.Errorf("lost %v; access list %x, want %x; permissions %v, want %v", lost, got, want, now.Mode(), was.Mode())
	}
}

// A folder's own access list for new files gives nobody more than the old file gave.
func TestReplaceTakesNoAccessListFromTheFolder(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a")
	put(t, path)
	check(t, os.Chmod(path, 0o600))
	if err := syscall.Setxattr(folder, "system.posix_acl_default", accessList(), 0); err != nil {
		t.Skip("no access lists here:", err)
	}
	lost, err := store.Replace(store.System, path, []byte(next), 0o666)
	check(t, err)
	got, err := store.System.ACL(path)
	check(t, err)
	info, err := os.Stat(path)
	check(t, err)
	if len(lost) != 0 || got != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("lost %v; access list %x, permissions %v", lost, got, info.Mode())
	}
}
