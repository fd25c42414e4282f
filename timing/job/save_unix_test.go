//go:build unix

package job

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

// Permissions and links are of another kind on Windows.

func TestWriteFileKeepsPermissions(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.toml")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := WriteFile(path, []byte("a")); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("permissions %v, %v", info.Mode(), err)
	}
}

func TestWriteFileFollowsLinks(t *testing.T) {
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
		if err := WriteFile(second, []byte(text)); err != nil {
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
	if err := WriteFile(loop, nil); err == nil {
		t.Error("a link to itself was written")
	}
}
