package app

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/packed"
	"pinphase.org/pinphase/timing/part/photo"
)

// pictureOf is the photograph's bytes, by the name that the job has for it.
func pictureOf(t *testing.T, u *ui) []byte {
	t.Helper()
	data, err := os.ReadFile(photo.InFolder(u.Folder(), photographed(u).File))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// A job saved with its pictures is one file that holds all: where the first folder is gone
// it opens, measures the same, takes an edit, is saved into the same file, and becomes a job
// with its pictures beside it again.
func TestPackedJobInTheWindow(t *testing.T) {
	u := window(t)
	u.InTurn = true
	was := photoFile(t, "nose-square.jpg")
	u.openFile(was)
	angle, picture := measuredDowel(u), pictureOf(t, u)
	folder := t.TempDir()
	file := filepath.Join(folder, "nose.zip")
	u.saveWithPictures()
	e := entries(t, u)
	e[0].SetText("nose.zip")
	e[1].SetText(folder)
	press(t, u, "Save")
	if u.Session.Path != file || u.Session.Dirty() {
		t.Fatalf("the job is that of %q; the window says %q", u.Session.Path, said(u))
	}
	data, err := os.ReadFile(file)
	if err != nil || !packed.Is(data) {
		t.Fatalf("%v, %.4q", err, data)
	}
	u.openDemo()
	if err := os.RemoveAll(filepath.Dir(was)); err != nil {
		t.Fatal(err)
	}

	u.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(file)})
	if got := measuredDowel(u); got != angle || !bytes.Equal(pictureOf(t, u), picture) {
		t.Errorf("unpacked, the angle is %g, want %g", got, angle)
	}
	unpacked := u.Folder()
	fill(t, u, "title", "Ketch Plover")
	u.save(nil)
	if said(u) != "" || u.Session.Dirty() {
		t.Errorf("saving says %q", said(u))
	}
	doc, err := packed.Open(file, must(os.ReadFile(file)), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	j := doc.Job()
	if got := j.Title; got != "Ketch Plover" || j.Pictures()["dowel.measured.file"] != "pictures/"+filepath.Base(photographed(u).File) {
		t.Errorf("the file holds %q with %v", got, j.Pictures())
	}

	// Another program's change is noticed, in an archive as in a text.
	if err := os.WriteFile(file, append(data, 0), 0o600); err != nil {
		t.Fatal(err)
	}
	fill(t, u, "title", "Ketch Gannet")
	u.save(nil)
	if !strings.Contains(said(u), "changed by another program") {
		t.Errorf("saving over another's change says %q", said(u))
	}
	press(t, u, "Overwrite")

	// Saved by itself its pictures lie beside it; what already exists stays as it is.
	apart := t.TempDir()
	other := filepath.Join(apart, "ketch-pictures", filepath.Base(photographed(u).File))
	if err := os.Mkdir(filepath.Dir(other), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(other, []byte("another"), 0o600); err != nil {
		t.Fatal(err)
	}
	u.write(filepath.Join(apart, "ketch.toml"), nil)
	if got := photographed(u).File; !strings.HasPrefix(got, "ketch-pictures/2-") || !bytes.Equal(pictureOf(t, u), picture) {
		t.Errorf("saved by itself the job names %q; the window says %q", got, said(u))
	}
	if string(must(os.ReadFile(other))) != "another" {
		t.Error("a picture that was there is written over")
	}
	u.openDemo()
	if _, err := os.Stat(unpacked); err == nil {
		t.Error("what was unpacked is still there when the job is left")
	}
}

func must(data []byte, err error) []byte {
	if err != nil {
		panic(err)
	}
	return data
}

// A picture from outside the job's folder is asked about before it goes along.
func TestPicturesFromElsewhereAreAskedAbout(t *testing.T) {
	u := window(t)
	u.InTurn = true
	u.openFile(photoFile(t, "nose-square.jpg"))
	outside := filepath.Join(t.TempDir(), "private.jpg")
	copyFile(t, filepath.Join(photoFolder, "nose-square.jpg"), outside)
	u.Edit("test", func(j *job.Job) { desk.PhotoIn(j, "dowel", "measured").File = outside })
	file := filepath.Join(t.TempDir(), "a.zip")
	u.writeAs(file, nil)
	if !strings.Contains(said(u), "private.jpg") {
		t.Errorf("the window says %q", said(u))
	}
	if _, err := os.Stat(file); err == nil {
		t.Error("it was written before the answer")
	}
	press(t, u, "Take them along")
	if u.Session.Path != file {
		t.Errorf("the job is that of %q", u.Session.Path)
	}
}

// A damaged or hostile archive is refused as a faulty job is.
func TestFaultyPackedJob(t *testing.T) {
	u := window(t)
	u.InTurn = true
	was := u.Session
	for text, want := range map[string]string{"PK\x03\x04 and no more": "the archive is damaged"} {
		u.openFile(file(t, "x.zip", text))
		if !strings.Contains(said(u), want) || u.Session != was {
			t.Errorf("%q: the window says %q", text, said(u))
		}
		u.Dismiss()
	}
}

// A program that was killed with a packed job open offers it with its pictures.
func TestPackedJobOfAKilledRun(t *testing.T) {
	folder := t.TempDir()
	u, _ := start(t, window(t), folder)
	u.openFile(photoFile(t, "nose-square.jpg"))
	angle, file := measuredDowel(u), filepath.Join(t.TempDir(), "a.zip")
	u.write(file, nil)
	u.openFile(file)
	fill(t, u, "title", "Tug Wren")
	kill(u)
	if err := os.RemoveAll(u.Session.Unpacked); err != nil { // as a restart of the computer does
		t.Fatal(err)
	}
	again, left := start(t, u, folder)
	again.offer(left)
	press(t, again, "Restore")
	if again.Session.Path != file || !again.Session.Dirty() || measuredDowel(again) != angle {
		t.Errorf("restored is %q, changed %v", again.Session.Path, again.Session.Dirty())
	}
	pictureOf(t, again)
}
