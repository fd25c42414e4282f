package app

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/job"
)

// workshop writes jobs of a workshop into a folder, the first the newest.
func workshop(t *testing.T, list ...job.Job) string {
	t.Helper()
	folder := t.TempDir()
	for i, j := range list {
		j.Format = max(1, j.Needs())
		j.Engine = job.Engine{Strokes: 4, FiringOrder: []int{1, 3, 4, 2}, Rotation: "clockwise"}
		path := filepath.Join(folder, fmt.Sprintf("%d.toml", i))
		if err := os.WriteFile(path, job.New(j).Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
		at := time.Date(2026, 3, 31, 12, 0, -i, 0, time.UTC)
		if err := os.Chtimes(path, at, at); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// inJobs opens the list of jobs.
func inJobs(t *testing.T, u *ui) *jobList {
	t.Helper()
	choose(t, u, "File", "Jobs…")
	for _, o := range shown(u.Window.Canvas().Overlays().Top()) {
		if l, ok := o.(*jobRows); ok {
			return l.of
		}
	}
	t.Fatalf("the list of jobs is not there; the window says %q", said(u))
	return nil
}

func (p *jobList) titles() (list []string) {
	for _, i := range p.found {
		title, _ := p.rowOf(p.all[i])
		list = append(list, title)
	}
	return list
}

func typed(p *jobList, names ...fyne.KeyName) {
	for _, n := range names {
		p.words.TypedKey(&fyne.KeyEvent{Name: n})
	}
}

// The jobs of the folders that were named are listed, the newest first, with what each
// comes to and its figure; words find some of them, the arrows pick, Enter opens.
func TestJobsAreListed(t *testing.T) {
	u := window(t)
	folder := workshop(t,
		job.Job{Title: "Ferry", Case: &job.Case{Customer: "Söderlund", PartNumber: "K-118"}, Injection: &job.Injection{StartBTDCDeg: job.Num(9)},
			Dowel: &job.Feature{Drawing: &job.Reading{AngleDeg: job.Num(12.5), Side: "clockwise"}, Measured: &job.Reading{AngleDeg: job.Num(12.5), Side: "anticlockwise"}}},
		job.Job{Title: "Tractor", Case: &job.Case{Customer: "Hof Birkenau", Machine: "Tractor"}},
		job.Job{Title: "Pump"})
	if err := os.WriteFile(filepath.Join(folder, "broken.toml"), []byte("format = "), 0o666); err != nil {
		t.Fatal(err)
	}
	p := inJobs(t, u)
	if s := said(u); !strings.Contains(s, "Add the folders") {
		t.Errorf("without folders it says %q", s)
	}
	u.Prefs.SetStringList(desk.PrefJobFolders, []string{folder})
	u.Dismiss()
	p = inJobs(t, u)
	if want := []string{"Ferry · Söderlund · K-118", "Tractor · Hof Birkenau · Tractor", "Pump", "broken.toml"}; !slices.Equal(p.titles(), want) {
		t.Fatalf("listed are %q, want %q", p.titles(), want)
	}
	if !strings.HasPrefix(p.answer.Text, "Every injection starts 16") || !strings.Contains(p.about.Text, "Customer: Söderlund") || !strings.Contains(p.about.Text, folder) {
		t.Errorf("of the first it says %q and %q", p.answer.Text, p.about.Text)
	}
	if p.picture.Image == nil {
		t.Error("the first has no figure")
	}
	typed(p, fyne.KeyDown, fyne.KeyDown, fyne.KeyDown)
	if !strings.Contains(p.answer.Text, "cannot be read") || !p.open.Disabled() || p.picture.Image != nil {
		t.Errorf("of what is no job it says %q", p.answer.Text)
	}
	p.words.SetText("soder k-118")
	if got := p.titles(); len(got) != 1 || !strings.HasPrefix(got[0], "Ferry") {
		t.Errorf("%q finds %q", p.words.Text, got)
	}
	p.words.SetText("tractor")
	p.place.SetSelectedIndex(1)
	if len(p.found) != 0 || !p.open.Disabled() {
		t.Errorf("no customer is called so, and %q are found", p.titles())
	}
	p.place.SetSelectedIndex(2)
	if got := p.titles(); len(got) != 1 || !strings.HasPrefix(got[0], "Tractor") {
		t.Errorf("as a machine %q finds %q", p.words.Text, got)
	}
	typed(p, fyne.KeyReturn)
	if u.Session.Job().Title != "Tractor" || len(u.Dialogs) > 0 {
		t.Errorf("Enter opens %q; %d dialogs are open", u.Session.Job().Title, len(u.Dialogs))
	}
}

// A file that was changed is read again, one that was not is not; a folder that is taken
// off the list keeps its files.
func TestJobsAreReadOnce(t *testing.T) {
	u := window(t)
	folder := workshop(t, job.Job{Title: "One"}, job.Job{Title: "Two"})
	u.Prefs.SetStringList(desk.PrefJobFolders, []string{folder, filepath.Join(folder, "gone")})
	p := inJobs(t, u)
	if !slices.Equal(p.titles(), []string{"One", "Two"}) || !strings.Contains(p.status.Text, "gone") {
		t.Fatalf("listed are %q; it says %q", p.titles(), p.status.Text)
	}
	one, two := filepath.Join(folder, "0.toml"), filepath.Join(folder, "1.toml")
	known := u.readJobs[two]
	known.Job.Title = "Two, as it is remembered"
	u.readJobs[two] = known
	if err := os.WriteFile(one, []byte(strings.Replace(read(t, one), "One", "Another", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	u.Dismiss()
	p = inJobs(t, u)
	if !slices.Equal(p.titles(), []string{"Another", "Two, as it is remembered"}) {
		t.Errorf("listed are %q", p.titles())
	}
	p.folder.SetSelectedIndex(1)
	p.without.OnTapped()
	if list := u.Prefs.StringList(desk.PrefJobFolders); !slices.Equal(list, []string{filepath.Join(folder, "gone")}) {
		t.Errorf("on the list are %q", list)
	}
	if len(p.found) != 0 || !exists(one) {
		t.Errorf("taken off the list %q are there", p.titles())
	}
}

// Nothing of it is done on the main goroutine: while the disk does not answer, the window
// says that it reads, and what was read for a list that is closed is shown nowhere.
func TestJobsAreReadElsewhere(t *testing.T) {
	u := window(t)
	var waiting []func() func()
	u.Prefs.SetStringList(desk.PrefJobFolders, []string{workshop(t, job.Job{Title: "One"})})
	u.Beside = func(work func() func()) { waiting = append(waiting, work) }
	defer func() { u.Beside = nil }()
	p := inJobs(t, u)
	if len(p.found) != 0 || !strings.Contains(p.status.Text, "reading") || len(waiting) != 1 {
		t.Fatalf("before the folder is read there are %q; it says %q", p.titles(), p.status.Text)
	}
	next := func() {
		work := waiting[0]
		waiting = waiting[1:]
		work()()
	}
	next() // the folder
	if len(p.found) != 0 || len(waiting) != 1 {
		t.Fatalf("before the file is read there are %q", p.titles())
	}
	next() // the file
	if !slices.Equal(p.titles(), []string{"One"}) || p.reading {
		t.Errorf("then there are %q; it says %q", p.titles(), p.status.Text)
	}
	for len(waiting) > 0 { // its figure
		next()
	}
	if p.picture.Image == nil {
		t.Error("it has no figure")
	}
	p.read()
	u.Dismiss()
	for len(waiting) > 0 {
		next()
	}
	if len(u.Dialogs) > 0 {
		t.Error("a list that is closed is open again")
	}
}
