package app

import (
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// trial is something to try the program on without a file of one's own.
type trial struct {
	title     phrase.Text
	job       string // its file among [assets.Try]
	recording string // likewise, read at once; "" for none
	page      string // the name of the page that is shown
}

// trials are those that the menu offers.
var trials = []trial{
	{"Old and new crankshaft on photographs", "photographs.toml", "", "part"},
	{"Recording by an oscilloscope (CSV)", "tern-before.toml", "tern-scope.csv.gz", "signals"},
	{"Recording by a sound card (WAV)", "tern-before.toml", "tern-soundcard.wav.gz", "signals"},
	{"Recording by a logic analyser (VCD)", "plover.toml", "plover-analyser.vcd.gz", "signals"},
	{"Recording of level changes (CSV)", "plover.toml", "plover-changes.csv.gz", "signals"},
}

// tryMenu is the menu of what there is to try.
func (u *ui) tryMenu() *fyne.MenuItem {
	m := fyne.NewMenuItem(tr("Something to try"), nil)
	var items []*fyne.MenuItem
	for _, t := range trials {
		items = append(items, item(tr(t.title), nil, func() { u.sure(func() { u.try(t) }) }))
	}
	items = append(items, item(tr("First step of the course"), nil, func() { u.showPage("course") }))
	m.ChildMenu = fyne.NewMenu("", items...)
	return m
}

// try opens a trial as a job that is in no file yet. What belongs to it lies in a folder
// of its own until the job is left, as the pictures of a packed job do.
func (u *ui) try(t trial) {
	u.Opening.Start(t.job, func() func() {
		folder, doc, err := unpackTrial(t)
		return func() {
			if err != nil {
				u.Tell(err)
				return
			}
			s := desk.NewSession("", doc, nil)
			s.Pictures, s.Unpacked = folder, folder
			u.Begin(s)
			u.Prefs.SetString(desk.PrefLast, "")
			u.showPage(t.page)
			if t.recording != "" {
				u.takeFile(filepath.Join(folder, t.recording))
			}
		}
	})
}

// unpackTrial writes a trial into a folder of its own, which is the caller's to remove.
func unpackTrial(t trial) (folder string, doc *job.Document, err error) {
	text, err := assets.Try.ReadFile("try/" + t.job)
	if err == nil {
		doc, err = job.Read(t.job, text)
	}
	if err == nil {
		folder, err = os.MkdirTemp("", "pinphase-")
	}
	if err != nil {
		return "", nil, err
	}
	names, j := []string{}, doc.Job()
	for _, picture := range j.Pictures() {
		names = append(names, picture)
	}
	if t.recording != "" {
		names = append(names, t.recording)
	}
	for _, name := range names {
		data, err := assets.Try.ReadFile("try/" + name)
		if err == nil {
			err = os.WriteFile(filepath.Join(folder, name), data, 0o600)
		}
		if err != nil {
			_ = os.RemoveAll(folder) // it lies where what is temporary does
			return "", nil, err
		}
	}
	return folder, doc, nil
}

// showPage shows a page by its name.
func (u *ui) showPage(name string) {
	for i, k := range u.pages.kinds {
		if k.Name == name {
			u.pages.show(i)
		}
	}
}
