package app

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
)

func TestAPictureThatCannotBeReadLosesNothing(t *testing.T) {
	u := onPhoto(t, "nose-square.jpg")
	was := u.Session.Job()
	text := file(t, "notes.jpg", "not a photograph at all")
	partOf(u).photo.Take(text)
	if !strings.Contains(said(u), "is a text, not a picture") || strings.Count(strings.Split(said(u), "[")[0], "\n") > 1 {
		t.Errorf("the window says %q", said(u))
	}
	u.Dismiss()
	is(t, u, was)
	if !strings.HasPrefix(partOf(u).photo.found.Text, "The photograph shows") {
		t.Errorf("afterwards the page says %q", partOf(u).photo.found.Text)
	}

	// A job whose picture is gone.
	path := photoFile(t, "nose-square.jpg")
	picture := filepath.Join(filepath.Dir(path), "nose-square.jpg")
	if err := os.Remove(picture); err != nil {
		t.Fatal(err)
	}
	u.openFile(path)
	b := partOf(u).photo
	if !strings.Contains(b.found.Text, "there is no such file") || !strings.Contains(b.found.Text, "The points are kept") || strings.Contains(b.found.Text, "\n") {
		t.Errorf("without its picture the page says %q", b.found.Text)
	}
	if said(u) != "" {
		t.Errorf("a question about a missing picture: %q", said(u))
	}
	if got := words(b.view); got != "This photograph cannot be shown" {
		t.Errorf("in its place stands %q", got)
	}
	if !strings.HasPrefix(u.head.sentence.Text, "Every injection lands") || math.IsNaN(measuredDowel(u)) {
		t.Errorf("the angle is gone with the picture: %q", u.head.sentence.Text)
	}
	// Found elsewhere: the points are those of this very picture.
	again := filepath.Join(filepath.Dir(path), "moved.jpg")
	copyFile(t, filepath.Join(photoFolder, "nose-square.jpg"), again)
	b.Take(again)
	if r := measured(u); r.File != "moved.jpg" || len(r.Rim) != 10 || b.picture.failed != nil {
		t.Errorf("opened again the reading is %+v", r)
	}
}

func TestPointsOfAnotherPictureGo(t *testing.T) {
	u := onPhoto(t, "nose-square.jpg")
	was := u.Session.Job()
	folder := filepath.Dir(u.Session.Path)
	copyFile(t, filepath.Join(photoFolder, "nose-portrait.jpg"), filepath.Join(folder, "other.jpg"))
	b := partOf(u).photo
	b.Take(filepath.Join(folder, "other.jpg"))
	if r := measured(u); r.File != "other.jpg" || len(r.Rim) != 0 || len(r.Keyway) != 0 {
		t.Errorf("on another picture the reading is %+v", r)
	}
	if got := b.panel().file.Text; got != "other.jpg" {
		t.Errorf("the panel names %q", got)
	}
	u.Undo()
	is(t, u, was)
	if b.picture.path != filepath.Join(folder, "nose-square.jpg") || !strings.HasPrefix(b.found.Text, "The photograph shows") {
		t.Errorf("undone, the page shows %s and says %q", b.picture.path, b.found.Text)
	}
	b.Take(filepath.Join(folder, "nose-square.jpg")) // the same again
	is(t, u, was)
}

func TestPictureIsNamedFromTheJob(t *testing.T) {
	u := window(t)
	u.InTurn = true
	u.newJob()
	u.OpenPage("part", "")
	folder := t.TempDir()
	picture := filepath.Join(folder, "shots", "nose.jpg")
	if err := os.Mkdir(filepath.Dir(picture), 0o777); err != nil {
		t.Fatal(err)
	}
	copyFile(t, filepath.Join(photoFolder, "nose-square.jpg"), picture)
	chooseCard(t, u, form.Photograph)
	partOf(u).photo.Take(picture)
	if got := measured(u).File; got != filepath.ToSlash(picture) {
		t.Errorf("without a file of its own the job names %q", got)
	}
	m := marksOf(t, "nose-square.jpg")
	u.Edit("test", func(j *job.Job) {
		r := desk.PhotoIn(j, "dowel", "measured")
		r.Rim, r.Keyway, r.Dowel = points(m.Rim), points(m.Keyway), points(m.Dowel)
	})
	angle := measuredDowel(u)

	u.write(filepath.Join(folder, "job.toml"), nil)
	if got := measured(u).File; got != "shots/nose.jpg" || u.Session.Dirty() {
		t.Errorf("saved beside it the job names %q", got)
	}
	if text := read(t, filepath.Join(folder, "job.toml")); !strings.Contains(text, `"shots/nose.jpg"`) {
		t.Errorf("the file names another picture: %s", text)
	}
	elsewhere := t.TempDir()
	u.write(filepath.Join(elsewhere, "job.toml"), nil)
	if got := measured(u).File; got != filepath.ToSlash(picture) {
		t.Errorf("saved elsewhere the job names %q", got)
	}
	u.Undo() // to before the points: the name still leads to the picture
	if got := photo.InFolder(u.Folder(), measured(u).File); got != picture {
		t.Errorf("undone, the picture is %q", got)
	}
	u.Redo()
	if got := measuredDowel(u); got != angle || partOf(u).photo.picture.failed != nil {
		t.Errorf("saved twice, the angle is %g, was %g", got, angle)
	}
	u.write(filepath.Join(folder, "no such folder", "job.toml"), nil)
	if got := measured(u).File; got != filepath.ToSlash(picture) || said(u) == "" {
		t.Errorf("not saved, the job names %q", got)
	}
}

func TestAPictureIsDropped(t *testing.T) {
	u := on(t, measuredBy(byMethod["chord"]))
	u.InTurn = true
	was := u.Session.Job()
	full, _ := filepath.Abs(filepath.Join(photoFolder, "nose-portrait.jpg"))
	drop := func(path string) { u.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(path)}) }
	drop(file(t, "empty.png", ""))
	if !strings.Contains(said(u), "is empty") || u.pages.kind().Name != "cycle" {
		t.Errorf("an empty file dropped is said as %q", said(u))
	}
	u.Dismiss()
	is(t, u, was)
	drop(full)
	if r := measured(u); r.Method != "photo" || filepath.FromSlash(r.File) != full || u.pages.kind().Name != "part" || partOf(u).looks.Chosen != 0 {
		t.Errorf("dropped, the reading is %+v", r)
	}
	chooseCard(t, u, job.MethodOf(was.Dowel.Measured)) // what was typed is not lost
	is(t, u, was)
	partOf(u).showBench(tdcPlace)
	partOf(u).which.Set(tdcPlace)
	drop(full)
	if partOf(u).which.Chosen != 0 || partOf(u).pictured() != "measured" {
		t.Error("dropped on the sums for true TDC, no picture is shown")
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
		got := desk.Filed(folder, path)
		if got != c.want || photo.InFolder(folder, got) != path {
			t.Errorf("%s in %q is %q, want %q", c.path, c.folder, got, c.want)
		}
	}
}
