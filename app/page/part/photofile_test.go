package part

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing/job"
)

func TestAPictureThatCannotBeReadLosesNothing(t *testing.T) {
	u := onPhoto(t, "nose-square.jpg")
	was := u.Session.Job()
	text := desktest.File(t, "notes.jpg", "not a photograph at all")
	u.Page.(*page).photo.Take(text)
	if !strings.Contains(u.Said(), "is a text, not a picture") || strings.Count(strings.Split(u.Said(), "[")[0], "\n") > 1 {
		t.Errorf("the window says %q", u.Said())
	}
	u.Dismiss()
	u.Is(t, was)
	if !strings.HasPrefix(u.Page.(*page).photo.found.Text, "The photograph shows") {
		t.Errorf("afterwards the page says %q", u.Page.(*page).photo.found.Text)
	}

	// A job whose picture is gone.
	path := desktest.PhotoFile(t, "nose-square.jpg")
	picture := filepath.Join(filepath.Dir(path), "nose-square.jpg")
	if err := os.Remove(picture); err != nil {
		t.Fatal(err)
	}
	u.OpenFile(t, path)
	b := u.Page.(*page).photo
	if !strings.Contains(b.found.Text, "there is no such file") || !strings.Contains(b.found.Text, "The points are kept") || strings.Contains(b.found.Text, "\n") {
		t.Errorf("without its picture the page says %q", b.found.Text)
	}
	if u.Said() != "" {
		t.Errorf("a question about a missing picture: %q", u.Said())
	}
	if got := desktest.Words(b.view); got != "This photograph cannot be shown" {
		t.Errorf("in its place stands %q", got)
	}
	if !strings.HasPrefix(u.Answer(), "Every injection starts") || math.IsNaN(measuredDowel(u)) {
		t.Errorf("the angle is gone with the picture: %q", u.Answer())
	}
	// Found elsewhere: the points are those of this very picture.
	again := filepath.Join(filepath.Dir(path), "moved.jpg")
	desktest.CopyFile(t, filepath.Join(desktest.PhotoFolder, "nose-square.jpg"), again)
	b.Take(again)
	if r := measured(u); r.File != "moved.jpg" || len(r.Rim) != 10 || b.picture.failed != nil {
		t.Errorf("opened again the reading is %+v", r)
	}
}

func TestPointsOfAnotherPictureGo(t *testing.T) {
	u := onPhoto(t, "nose-square.jpg")
	was := u.Session.Job()
	folder := filepath.Dir(u.Session.Path)
	desktest.CopyFile(t, filepath.Join(desktest.PhotoFolder, "nose-portrait.jpg"), filepath.Join(folder, "other.jpg"))
	b := u.Page.(*page).photo
	b.Take(filepath.Join(folder, "other.jpg"))
	if r := measured(u); r.File != "other.jpg" || len(r.Rim) != 0 || len(r.Keyway) != 0 {
		t.Errorf("on another picture the reading is %+v", r)
	}
	if got := b.panel().file.Text; got != "other.jpg" {
		t.Errorf("the panel names %q", got)
	}
	u.Undo()
	u.Is(t, was)
	if b.picture.path != filepath.Join(folder, "nose-square.jpg") || !strings.HasPrefix(b.found.Text, "The photograph shows") {
		t.Errorf("undone, the page shows %s and says %q", b.picture.path, b.found.Text)
	}
	b.Take(filepath.Join(folder, "nose-square.jpg")) // the same again
	u.Is(t, was)
}

func TestAPictureIsDropped(t *testing.T) {
	u := desktest.On(t, Kind, desktest.MeasuredBy(desktest.ByMethod["chord"]))
	u.InTurn = true
	was := u.Session.Job()
	full, _ := filepath.Abs(filepath.Join(desktest.PhotoFolder, "nose-portrait.jpg"))
	drop := u.Page.(*page).Take
	u.Leave()
	drop(desktest.File(t, "empty.png", ""))
	if !strings.Contains(u.Said(), "is empty") || u.IsOpen(Kind.Name) {
		t.Errorf("an empty file dropped is said as %q", u.Said())
	}
	u.Dismiss()
	u.Is(t, was)
	drop(full)
	if r := measured(u); r.Method != "photo" || filepath.FromSlash(r.File) != full || !u.IsOpen(Kind.Name) || u.Page.(*page).looks.Chosen != 0 {
		t.Errorf("dropped, the reading is %+v", r)
	}
	chooseCard(t, u, job.MethodOf(was.Dowel.Measured)) // what was typed is not lost
	u.Is(t, was)
	u.Page.(*page).showBench(tdcPlace)
	u.Page.(*page).which.Set(tdcPlace)
	drop(full)
	if u.Page.(*page).which.Chosen != 0 || u.Page.(*page).pictured() != "measured" {
		t.Error("dropped on the sums for true TDC, no picture is shown")
	}
}
