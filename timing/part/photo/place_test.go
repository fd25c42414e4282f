package photo

import (
	"os"
	"path/filepath"
	"testing"
)

// What lies in the job's folder or below it is inside, wherever that folder is said
// to be; what a name, a whole path or a link leads out of it to is not.
func TestOutsideFolder(t *testing.T) {
	top := t.TempDir()
	for _, dir := range []string{"job/photos", "other", "job2"} {
		if err := os.MkdirAll(filepath.Join(top, dir), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	for _, file := range []string{"job/a.jpg", "job/photos/b.jpg", "job/..odd.jpg", "other/secret.jpg", "job2/c.jpg"} {
		if err := os.WriteFile(filepath.Join(top, file), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for link, to := range map[string]string{
		"job/out.jpg": "../other/secret.jpg", "job/away": "../other", "job/in.jpg": "photos/b.jpg", "linked": "job",
		"job/round.jpg": "round.jpg", "job/dead.jpg": "../other/gone.jpg",
	} {
		if err := os.Symlink(filepath.FromSlash(to), filepath.Join(top, link)); err != nil {
			t.Skip("no links here: ", err)
		}
	}
	job := filepath.Join(top, "job")
	for _, c := range []struct {
		folder, name string
		want         bool
	}{
		{job, "a.jpg", false},
		{job, "photos/b.jpg", false},
		{job, "photos/../a.jpg", false},
		{job, "..odd.jpg", false},
		{job, "gone.jpg", false},
		{job, "gone/deeper/x.jpg", false},
		{job, filepath.Join(job, "a.jpg"), false},
		{job, "in.jpg", false},
		{filepath.Join(top, "linked"), "a.jpg", false},
		{filepath.Join(top, "linked"), filepath.Join(job, "a.jpg"), false},
		{job, filepath.Join(top, "linked", "a.jpg"), false},
		{job, "../other/secret.jpg", true},
		{job, "../job2/c.jpg", true},
		{job, "photos/../../other/secret.jpg", true},
		{job, filepath.Join(top, "other", "secret.jpg"), true},
		{job, "out.jpg", true},
		{job, "away/secret.jpg", true},
		{job, "away/gone.jpg", true},
		{job, "dead.jpg", true},
		{job, "round.jpg", true},
		{job, "..", true},
		{job, "../gone/deeper/x.jpg", true},
		{filepath.Join(top, "linked"), "../other/secret.jpg", true},
	} {
		if got := OutsideFolder(c.folder, c.name); got != c.want {
			t.Errorf("%s in %s: outside %v, want %v", c.name, c.folder, got, c.want)
		}
	}
	t.Chdir(job)
	if OutsideFolder("", "a.jpg") || OutsideFolder(".", "photos/b.jpg") || !OutsideFolder("", "../other/secret.jpg") || !OutsideFolder(".", "out.jpg") {
		t.Error("in the current folder the rule is another")
	}
}
