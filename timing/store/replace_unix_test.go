//go:build unix

package store_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"pinphase.org/pinphase/timing/store"
)

// Permissions and links are of another kind on Windows.

func TestReplaceKeepsPermissions(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.toml")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := write(path, []byte("a")); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("permissions %v, %v", info.Mode(), err)
	}
}

func TestReplaceFollowsLinks(t *testing.T) {
	dir := t.TempDir()
	sub := filepath.Join(dir, "sub")
	if err := os.Mkdir(sub, 0o777); err != nil {
		t.Fatal(err)
	}
	link, second := filepath.Join(dir, "link.toml"), filepath.Join(dir, "second.toml")
	if err := os.Symlink(filepath.Join("sub", "real.toml"), link); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("link.toml", second); err != nil {
		t.Fatal(err)
	}
	// Once where the real file is not there yet, once where it is.
	for _, text := range []string{"a", "b"} {
		if err := write(second, []byte(text)); err != nil {
			t.Fatal(err)
		}
		if got := content(t, filepath.Join(sub, "real.toml")); got != text {
			t.Errorf("real file holds %q, want %q", got, text)
		}
	}
	only(t, dir, "link.toml", "second.toml", "sub")
	only(t, sub, "real.toml")
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Error("the link is no link any more")
	}
	loop := filepath.Join(sub, "loop")
	if err := os.Symlink("loop", loop); err != nil {
		t.Fatal(err)
	}
	if err := write(loop, nil); err == nil {
		t.Error("a link to itself was written")
	}
}

// Whose a file is is kept where the system lets that be, as it lets an administrator.
func TestReplaceKeepsTheOwner(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	put(t, path)
	if err := os.Chown(path, 1234, 2345); err != nil {
		t.Skip("only an administrator can give files away:", err)
	}
	check(t, os.Chmod(path, 0o640))
	lost, err := store.Replace(store.System, path, []byte(next), 0o666)
	check(t, err)
	info, err := os.Stat(path)
	check(t, err)
	st := info.Sys().(*syscall.Stat_t)
	if len(lost) != 0 || st.Uid != 1234 || st.Gid != 2345 || info.Mode().Perm() != 0o640 {
		t.Errorf("lost %v; owner %d:%d, permissions %v", lost, st.Uid, st.Gid, info.Mode())
	}
}

// What nobody but an administrator can keep is said, and nobody gets more than before.
func TestReplaceSaysWhatItCannotKeep(t *testing.T) {
	folder := t.TempDir()
	for _, c := range []struct {
		deny string // the operation that the system does not allow
		mode fs.FileMode
		want []store.Loss
		perm fs.FileMode
	}{
		{"chown -1:", 0o664, []store.Loss{store.LostPermissions}, 0o644}, // the group's w would be another group's
		{"chown -1:", 0o670, []store.Loss{store.LostPermissions}, 0o600},
		{"chown 1234:", 0o664, []store.Loss{store.LostOwner}, 0o664},
		{"setacl", 0o664, []store.Loss{store.LostPermissions}, 0o644},
		{"chmod", 0o664, []store.Loss{store.LostPermissions}, 0o600},
	} {
		path := filepath.Join(folder, "a")
		os.Remove(path) // of the last round
		put(t, path)
		check(t, os.Chmod(path, c.mode))
		files := denying{Files: store.System, what: c.deny}
		lost, err := store.Replace(files, path, []byte(next), 0o666)
		check(t, err)
		info, err := os.Stat(path)
		check(t, err)
		if !slices.Equal(lost, c.want) || info.Mode().Perm() != c.perm || content(t, path) != next {
			t.Errorf("%s, %v: lost %v, permissions %v", c.deny, c.mode, lost, info.Mode())
		}
	}
	only(t, folder, "a")
}

// denying are files that belong to user 1234 and group 2345, of which the system lets
// this user not do one thing.
type denying struct {
	store.Files
	what string
}

func (d denying) Stat(path string) (fs.FileInfo, error) {
	info, err := d.Files.Stat(path)
	if err != nil {
		return nil, err
	}
	st := *info.Sys().(*syscall.Stat_t)
	st.Uid, st.Gid = 1234, 2345
	return others{info, &st}, nil
}

type others struct {
	fs.FileInfo
	sys *syscall.Stat_t
}

func (o others) Sys() any { return o.sys }

func (d denying) Create(path string, mode fs.FileMode) (store.File, error) {
	f, err := d.Files.Create(path, mode)
	return denied{f, d.what}, err
}

func (d denying) SetACL(path string, acl []byte) error {
	if d.what == "setacl" {
		return syscall.EPERM
	}
	return d.Files.SetACL(path, acl)
}

type denied struct {
	store.File
	what string
}

func (d denied) Chown(uid, gid int) error {
	if strings.HasPrefix(fmt.Sprintf("chown %d:%d", uid, gid), d.what) {
		return syscall.EPERM
	}
	return nil
}

func (d denied) Chmod(mode fs.FileMode) error {
	if d.what == "chmod" {
		return syscall.EPERM
	}
	return d.File.Chmod(mode)
}

// Other names of the file keep what was there, and that is said.
func TestReplaceSaysThatLinksAreCut(t *testing.T) {
	folder := t.TempDir()
	a, b := filepath.Join(folder, "a"), filepath.Join(folder, "b")
	put(t, a)
	check(t, os.Link(a, b))
	lost, err := store.Replace(store.System, a, []byte(next), 0o666)
	check(t, err)
	if !slices.Equal(lost, []store.Loss{store.LostLinks}) || content(t, a) != next || content(t, b) != before {
		t.Errorf("lost %v; the files hold %q and %q", lost, content(t, a), content(t, b))
	}
}

// A file of somebody else that may only be read stays, though the folder would let it
// be replaced.
func TestReplaceRefusesWhatMayNotBeWritten(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a")
	put(t, path)
	_, err := store.Replace(unwritable{store.System}, path, []byte(next), 0o666)
	if !errors.Is(err, fs.ErrPermission) || content(t, path) != before {
		t.Errorf("%v; the file holds %q", err, content(t, path))
	}
	only(t, folder, "a")
}

type unwritable struct{ store.Files }

func (unwritable) Writable(string) error { return syscall.EACCES }

// A pipe is not waited for.
func TestPipes(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip("pipes cannot be made here:", err)
	}
	if _, err := store.Read(store.System, path, 100); err == nil {
		t.Error("a pipe was read")
	}
	if err := write(path, nil); err == nil {
		t.Error("a pipe was written")
	}
}
