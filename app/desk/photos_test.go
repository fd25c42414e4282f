package desk

import (
	"os"
	"path/filepath"
	"testing"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/part/photo"
)

func TestPictureIsInspectedOnlyWhenItChanged(t *testing.T) {
	path := filepath.Join(t.TempDir(), "p.jpg")
	copyFile(t, "nose-square.jpg", path)
	p := Photos{u: &Desk{Frame: &kit.Frame{InTurn: true}}, asking: true}
	first, err := p.inspect(path)
	if err != nil || first.Width != 1600 {
		t.Fatalf("%+v, %v", first, err)
	}
	known := p.infos[path]
	known.Info = photo.Info{Width: 7}
	p.infos[path] = known
	if again, _ := p.inspect(path); again.Width != 7 {
		t.Error("the same file is read again")
	}
	copyFile(t, "nose-portrait.jpg", path)
	if other, _ := p.inspect(path); other.Width != 1200 {
		t.Errorf("another picture of the same name is %+v", other)
	}
	if gone, err := p.inspect(path + ".gone"); err != nil || gone != (photo.Info{}) {
		t.Errorf("no picture is %+v, %v", gone, err)
	}
}

func copyFile(t *testing.T, name, to string) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../testdata/photos", name))
	if err == nil {
		err = os.WriteFile(to, data, 0o666)
	}
	if err != nil {
		t.Fatal(err)
	}
}

func TestFiled(t *testing.T) {
	root := t.TempDir()
	for _, c := range []struct{ folder, path, want string }{
		{"jobs", "jobs/nose.jpg", "nose.jpg"},
		{"jobs", "jobs/a/b.jpg", "a/b.jpg"},
		{"jobs", "jobs/..nose.jpg", "..nose.jpg"},
		{"jobs", "photos/nose.jpg", "*"},
		{"", "photos/nose.jpg", "*"},
	} {
		folder, path := "", filepath.Join(root, filepath.FromSlash(c.path))
		if c.folder != "" {
			folder = filepath.Join(root, c.folder)
		}
		if c.want == "*" {
			c.want = filepath.ToSlash(path)
		}
		got := Filed(folder, path)
		if got != c.want || photo.InFolder(folder, got) != path {
			t.Errorf("%s in %q is %q, want %q", c.path, c.folder, got, c.want)
		}
	}
}
