package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
)

// photographed is the reading of the dowel.
func photographed(u *ui) *job.Reading { return u.Session.Job().Dowel.Measured }

func TestUnfinishedMarksAreShownWhenSaving(t *testing.T) {
	u := window(t)
	u.openFile(photoFile(t, "nose-square.jpg"))
	u.OpenPage("part", "")
	u.Edit("test", func(j *job.Job) { desk.PhotoIn(j, "dowel", "measured").Rim = nil })
	u.pages.show(0)
	u.save(nil)
	if !strings.Contains(said(u), "cannot be saved") || u.pages.kind().Name != "part" {
		t.Errorf("the window says %q", said(u))
	}
	u.Dismiss()
}

func TestCycleFormTellsOfThePhotograph(t *testing.T) {
	u := window(t)
	u.openFile(photoFile(t, "nose-square.jpg"))
	u.OpenPage("part", "")
	u.pages.show(0)
	if got := words(editor(t, u, "dowel", "measured").Content); !strings.Contains(got, "marked on the Part page") {
		t.Errorf("the form says %q", got)
	}
	// What was marked on a photograph cannot be read otherwise, but it can be supposed so.
	if got := cycleOf(u).Dowel.Words.Text; cycleOf(u).Dowel.Slider.Disabled() || !strings.Contains(got, "behind the keyway, drawn") {
		t.Errorf("beside the slider stands %q", got)
	}
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
	u.Edit("test", func(j *job.Job) { j.Dowel = &job.Feature{Measured: &job.Reading{Method: "photo"}} })
	u.takeFile(picture)
	if got := photographed(u).File; got != filepath.ToSlash(picture) {
		t.Errorf("without a file of its own the job names %q", got)
	}
	m := marksOf(t, "nose-square.jpg")
	u.Edit("test", func(j *job.Job) {
		r := desk.PhotoIn(j, "dowel", "measured")
		r.Rim, r.Keyway, r.Dowel = points(m.Rim), points(m.Keyway), points(m.Dowel)
	})
	angle := measuredDowel(u)

	u.write(filepath.Join(folder, "job.toml"), nil)
	if got := photographed(u).File; got != "shots/nose.jpg" || u.Session.Dirty() {
		t.Errorf("saved beside it the job names %q", got)
	}
	if text := read(t, filepath.Join(folder, "job.toml")); !strings.Contains(text, `"shots/nose.jpg"`) {
		t.Errorf("the file names another picture: %s", text)
	}
	elsewhere := t.TempDir()
	u.write(filepath.Join(elsewhere, "job.toml"), nil)
	if got := photographed(u).File; got != filepath.ToSlash(picture) {
		t.Errorf("saved elsewhere the job names %q", got)
	}
	u.Undo() // to before the points: the name still leads to the picture
	if got := photo.InFolder(u.Folder(), photographed(u).File); got != picture {
		t.Errorf("undone, the picture is %q", got)
	}
	u.Redo()
	if got := measuredDowel(u); got != angle {
		t.Errorf("saved twice, the angle is %g, was %g", got, angle)
	}
	u.write(filepath.Join(folder, "no such folder", "job.toml"), nil)
	if got := photographed(u).File; got != filepath.ToSlash(picture) || said(u) == "" {
		t.Errorf("not saved, the job names %q", got)
	}
}
