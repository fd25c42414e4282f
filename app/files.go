package app

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// sure carries out what would throw away unsaved changes, after asking.
func (u *ui) sure(then func()) {
	if !u.session.Dirty() {
		then()
		return
	}
	if u.asking {
		return
	}
	u.asking = true
	question := widget.NewLabel(with("“{{.Name}}” has changes that are not saved.", map[string]any{"Name": u.name()}))
	question.Wrapping = fyne.TextWrapWord
	var d *dialog.CustomDialog
	choose := func(f func()) func() {
		return func() {
			d.Hide()
			u.asking = false
			if f != nil {
				f()
			}
		}
	}
	save := newDialogButton(tr("Save"), choose(func() { u.save(then) }), u.dismiss)
	save.Importance = widget.HighImportance
	d = dialog.NewCustomWithoutButtons(tr("Unsaved changes"), question, u.window)
	d.SetButtons([]fyne.CanvasObject{
		newDialogButton(tr("Go on working"), choose(nil), u.dismiss),
		newDialogButton(tr("Do not save"), choose(then), u.dismiss),
		save,
	})
	d.SetOnClosed(func() { u.asking = false })
	d.Resize(fyne.NewSize(440, 160))
	u.show(d)
	u.window.Canvas().Focus(save)
}

// newJob starts a job with no more than an engine.
func (u *ui) newJob() {
	u.sure(func() {
		j := job.Job{Format: 1, Engine: job.Engine{Strokes: 4, FiringOrder: timing.CommonOrders(4)[0], Rotation: u.prefs.NewRotation().String()}}
		u.begin(newSession("", job.New(j), nil))
		u.prefs.p.SetString(prefLast, "")
	})
}

func (u *ui) openDemo() {
	u.sure(func() {
		u.begin(newSession("", demo(), nil))
		u.prefs.p.SetString(prefLast, "")
	})
}

// open lets the user choose a job file.
func (u *ui) open() {
	u.sure(func() { u.askJob(tr("Open a job"), u.openFile) })
}

// askJob lets the user choose a job file for something.
func (u *ui) askJob(title string, then func(path string)) {
	u.askFile(title, []string{".toml"}, then)
}

// askFile lets the user choose a file with one of some endings, beside the job's own
// to begin with.
func (u *ui) askFile(title string, endings []string, then func(path string)) {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			u.tell(err)
			return
		}
		if r != nil { // not given up
			path := r.URI().Path()
			r.Close()
			then(path)
		}
	}, u.window)
	d.SetTitleText(title)
	d.SetFilter(storage.NewExtensionFileFilter(endings))
	if u.folder() != "" {
		if at, err := storage.ListerForURI(storage.NewFileURI(u.folder())); err == nil {
			d.SetLocation(at)
		}
	}
	u.showFiles(d)
}

// openFile opens a job file, or says what is wrong with it and keeps the job
// that is open.
func (u *ui) openFile(path string) {
	if full, err := filepath.Abs(path); err == nil {
		path = full
	}
	doc, err := job.ReadFile(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			u.prefs.Forget(path)
			u.menu.load()
		}
		u.tell(err)
		return
	}
	disk, err := os.ReadFile(path)
	if err != nil {
		u.tell(err)
		return
	}
	u.prefs.Opened(path)
	u.begin(newSession(path, doc, disk))
}

// dropped opens a job file dropped on the window, or takes a picture for the
// part's photograph.
func (u *ui) dropped(_ fyne.Position, uris []fyne.URI) {
	for _, uri := range uris {
		if strings.EqualFold(uri.Extension(), ".toml") {
			u.sure(func() { u.openFile(uri.Path()) })
			return
		}
	}
	for _, uri := range uris {
		if slices.Contains(pictureEndings, strings.ToLower(uri.Extension())) {
			u.part.drop(uri.Path())
			return
		}
	}
	for _, uri := range uris {
		if slices.Contains(recordingEndings, strings.ToLower(uri.Extension())) {
			u.recorder.open(uri.Path(), finding.TraceOptions{})
			return
		}
	}
	if len(uris) > 0 {
		u.tell(errors.New(tr("That is neither a job file, which ends in .toml, nor a picture, nor a recording, which ends in .csv, .wav or .vcd.")))
	}
}

// save writes the job to its file and then goes on with what comes next.
func (u *ui) save(then func()) {
	if u.unsound() {
		return
	}
	if u.session.path == "" {
		u.saveAs(then)
		return
	}
	u.write(u.session.path, then)
}

// unsound tells whether anything in the form is wrong, and if so shows it and
// gives its field the keyboard: what is saved must be a job that can be opened
// again, and nothing typed may be left out silently.
func (u *ui) unsound() bool {
	words, key := u.wrong()
	if words == "" {
		return false
	}
	u.form.show(key)
	u.tell(errors.New(tr("The job cannot be saved while something in it is wrong:") + "\n\n" + words))
	return true
}

// write saves to a path, after asking when another program has changed the file
// since it was read.
func (u *ui) write(path string, then func()) {
	commit := func() {
		back := func() {}
		if folder := filepath.Dir(path); folder != u.folder() {
			back = u.session.refile(u.folder(), folder)
		}
		data := u.session.Bytes()
		if err := job.WriteFile(path, data); err != nil {
			back()
			u.tell(err)
			return
		}
		u.session.Saved(path, data)
		u.prefs.Opened(path)
		u.changed()
		if then != nil {
			then()
		}
	}
	now, err := os.ReadFile(path)
	if path == u.session.path && err == nil && !bytes.Equal(now, u.session.disk) {
		u.confirm(tr("Changed by another program"),
			with("“{{.Name}}” was changed by another program since it was opened. Save over it?", map[string]any{"Name": filepath.Base(path)}),
			tr("Save over it"), commit)
		return
	}
	commit()
}

// saveAs asks where to save. It asks itself rather than through the toolkit's
// dialog, which empties an existing file before anything is written to it.
func (u *ui) saveAs(then func()) {
	if u.unsound() {
		return
	}
	folder, name := u.suggest(".toml")
	u.askPath(tr("Save the job as"), folder, name, ".toml", func(path string) { u.write(path, then) })
}

// suggest is the folder and name to offer for a new file.
func (u *ui) suggest(ext string) (folder, name string) {
	if u.session.path != "" {
		base := filepath.Base(u.session.path)
		return filepath.Dir(u.session.path), strings.TrimSuffix(base, filepath.Ext(base)) + ext
	}
	folder, err := os.UserHomeDir()
	if err != nil {
		folder = "."
	}
	return folder, fileName(u.session.Job().Title) + ext
}

// fileName turns a title into a name for a file, of its first few words.
func fileName(title string) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool {
		return !('a' <= r && r <= 'z' || '0' <= r && r <= '9' || r > 0x7f)
	})
	if len(words) == 0 {
		words = []string{"job"}
	}
	return strings.Join(words[:min(len(words), 6)], "-")
}

// askPath lets the user name a file in a folder; an existing one is only taken
// after asking.
func (u *ui) askPath(title, folder, name, ext string, then func(path string)) {
	place, file := newDialogEntry(u.dismiss), newDialogEntry(u.dismiss)
	place.SetText(folder)
	file.SetText(name)
	browse := widget.NewButton(tr("Choose a folder…"), func() {
		d := dialog.NewFolderOpen(func(l fyne.ListableURI, err error) {
			if err == nil && l != nil {
				place.SetText(l.Path())
			}
		}, u.window)
		if at, err := storage.ListerForURI(storage.NewFileURI(place.Text)); err == nil {
			d.SetLocation(at)
		}
		u.showFiles(d)
	})
	grid := container.NewVBox(
		widget.NewLabel(tr("File name")), file,
		widget.NewLabel(tr("Folder")), container.NewBorder(nil, nil, nil, browse, place))
	var d *dialog.ConfirmDialog
	accept := func() {
		path := filepath.Join(place.Text, file.Text)
		if strings.TrimSpace(file.Text) == "" {
			u.tell(errors.New(tr("The file needs a name.")))
			return
		}
		if filepath.Ext(path) == "" {
			path += ext
		}
		if _, err := os.Stat(path); err == nil && path != u.session.path {
			u.confirm(tr("The file is there already"),
				with("“{{.Name}}” is there already. Replace it?", map[string]any{"Name": filepath.Base(path)}),
				tr("Replace it"), func() { then(path) })
			return
		}
		then(path)
	}
	d = dialog.NewCustomConfirm(title, tr("Save"), tr("Cancel"), grid, func(yes bool) {
		if yes {
			accept()
		}
	}, u.window)
	file.OnSubmitted = func(string) { d.Hide(); accept() }
	d.Resize(fyne.NewSize(min(680, u.window.Canvas().Size().Width-40), 260))
	u.show(d)
	u.window.Canvas().Focus(file)
	file.CursorColumn = len([]rune(strings.TrimSuffix(name, ext)))
	file.Refresh()
}

func (u *ui) dialogSize() fyne.Size {
	s := u.window.Canvas().Size()
	return fyne.NewSize(min(900, s.Width-40), min(620, s.Height-40))
}

// tell shows what went wrong.
func (u *ui) tell(err error) {
	text := widget.NewLabel(inFull(err))
	text.Wrapping = fyne.TextWrapWord
	scroll := container.NewVScroll(text)
	d := dialog.NewCustom(tr("That did not work"), tr("Close"), scroll, u.window)
	s := u.window.Canvas().Size()
	d.Resize(fyne.NewSize(min(720, s.Width-40), min(240, s.Height-40)))
	u.show(d)
}

func (u *ui) confirm(title, question, yesText string, yes func()) {
	d := dialog.NewConfirm(title, question, func(ok bool) {
		if ok {
			yes()
		}
	}, u.window)
	d.SetConfirmText(yesText)
	d.SetDismissText(tr("Cancel"))
	u.show(d)
}
