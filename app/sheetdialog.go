package app

import (
	"bytes"
	"errors"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo/pixels"
	"pinphase.org/pinphase/timing/sheet"
)

// prefView is whether a sheet is opened when it has been written.
const prefView = "sheet.open_afterwards"

// printing is what every sheet asks: the paper, and whether to open the file to
// print it.
type printing struct {
	u     *ui
	paper *oneOf
	open  *widget.Check
}

func newPrinting(u *ui) printing {
	p := printing{u: u}
	p.paper = newOneOf(func(i int) { u.prefs.p.SetString(prefPaper, sheet.Papers[i].Name) }, tr("A4"), tr("Letter"))
	p.paper.set(slices.Index(sheet.Papers, u.paper()))
	p.open = widget.NewCheck(tr("Open it afterwards, to print it"), func(on bool) { u.prefs.p.SetBool(prefView, on) })
	p.open.Checked = u.prefs.p.BoolWithFallback(prefView, true)
	return p
}

// chosen is the paper.
func (p printing) chosen() sheet.Paper { return sheet.Papers[p.paper.chosen] }

// done opens the file that was written, if that was asked for.
func (p printing) done(path string) {
	if !p.open.Checked {
		return
	}
	at, err := url.Parse(storage.NewFileURI(path).String())
	if err == nil {
		err = p.u.app.OpenURL(at)
	}
	if err != nil {
		p.u.tell(errors.New(with("“{{.Name}}” was written; no program here opens it.", map[string]any{"Name": filepath.Base(path)})))
	}
}

func (u *ui) saveJobSheet() { u.saveSheet(false) }

func (u *ui) saveClaim() { u.saveSheet(true) }

// saveSheet asks how to write the job down, and then where.
func (u *ui) saveSheet(claim bool) {
	title, ending := tr("Save the job sheet"), "-sheet"
	about := wrapped(tr("The finding, the engine, what was measured and how surely, the figures, and the checks to make next."))
	if claim {
		if _, err := u.sheet(true, false); err != nil {
			u.tell(errors.New(u.why(err)))
			return
		}
		title, ending = tr("Save the claim sheet"), "-claim"
		about = wrapped(tr("For whoever supplied the part: drawing against measured, how it was measured, how surely, and what it does to injection."))
	}
	p := newPrinting(u)
	format := newOneOf(func(int) {}, "PDF", "HTML")
	format.set(0)
	content := container.NewVBox(about,
		container.NewHBox(widget.NewLabel(tr("File")), format.content, widget.NewLabel(tr("Paper")), p.paper.content), p.open)
	outside := u.outsidePictures(content)
	u.ask(title, content, func() {
		kind := []string{".pdf", ".html"}[format.chosen]
		folder, name := u.suggest(ending + kind)
		u.askPath(title, folder, name, kind, func(path string) {
			d, err := u.sheet(claim, outside.Checked)
			if err != nil {
				u.tell(errors.New(u.why(err)))
				return
			}
			write := d.WritePDF
			switch fileEnding(path) {
			case ".html":
				write = d.WriteHTML
			case ".pdf":
			default:
				u.tell(errors.New(tr("A sheet's file must end in .pdf or .html.")))
				return
			}
			if u.writeFile(path, func(b *bytes.Buffer) error { return write(b, p.chosen()) }) {
				p.done(path)
			}
		})
	})
}

// sheet is the job sheet or the claim of the newest sound job, today's. outside shows
// pictures that lie outside the job's folder too; a job that is in no file yet was
// made here, and none of its pictures is.
func (u *ui) sheet(claim, outside bool) (sheet.Document, error) {
	angles := u.shown()
	in := sheet.Input{
		Job: u.session.Sound(), Angles: angles, Photos: u.photos.results, Date: time.Now(), Lang: voice().Code(), Say: say, Units: voice().Units(),
		Picture: sheet.Pictures{Folder: u.folder(), Outside: outside || u.session.path == "", Time: time.Minute, Load: pixels.Load}.Read,
	}
	if claim {
		return sheet.ClaimSheet(in)
	}
	return sheet.JobSheet(in), nil
}

// outsidePictures asks, below what else is asked, whether pictures outside the
// job's folder are to be shown, where the job names any.
func (u *ui) outsidePictures(content *fyne.Container) *widget.Check {
	check := widget.NewCheck(tr("Show them on the sheet"), nil)
	if u.session.path == "" {
		return check
	}
	if names := sheet.OutsidePictures(u.session.Sound(), u.folder()); len(names) > 0 {
		content.Add(wrapped(with("The job names pictures outside its folder: {{.Names}}. Whoever gets the sheet would see them.",
			map[string]any{"Names": strings.Join(names, ", ")})))
		content.Add(container.NewHBox(check))
	}
	return check
}

// ask shows a dialog of choices with a button that goes on to where to save.
func (u *ui) ask(title string, content fyne.CanvasObject, next func()) {
	scroll := container.NewVScroll(content)
	d := dialog.NewCustomWithoutButtons(title, scroll, u.window)
	on := newDialogButton(tr("Save…"), func() {
		d.Hide()
		fyne.Do(next) // once the key is let go of: it would be typed into the next dialog
	}, u.dismiss)
	on.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{newDialogButton(tr("Cancel"), u.dismiss, u.dismiss), on})
	s := u.window.Canvas().Size()
	d.Resize(fyne.NewSize(min(720, s.Width-40), min(content.MinSize().Height+160*u.look.scale, s.Height-40)))
	u.show(d, scroll)
	u.window.Canvas().Focus(on)
}

// writeFile writes a file, whole or not at all, and tells whether it went well.
func (u *ui) writeFile(path string, write func(*bytes.Buffer) error) bool {
	var b bytes.Buffer
	err := write(&b)
	if err == nil {
		err = job.WriteFile(path, b.Bytes())
	}
	if err != nil {
		u.tell(err)
	}
	return err == nil
}

// fileEnding is a path's ending, as formats are named.
func fileEnding(path string) string { return strings.ToLower(filepath.Ext(path)) }

// paper is the paper that sheets are laid out on.
func (u *ui) paper() sheet.Paper {
	i := slices.IndexFunc(sheet.Papers, func(q sheet.Paper) bool { return q.Name == u.prefs.Paper() })
	return sheet.Papers[max(0, i)]
}
