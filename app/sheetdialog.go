package app

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

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
	open  *check
}

func newPrinting(u *ui) printing {
	p := printing{u: u}
	p.paper = newOneOf(func(i int) { u.prefs.SetString(prefPaper, sheet.Papers[i].Name) }, tr("A4"), tr("Letter"))
	p.paper.set(slices.Index(sheet.Papers, u.paper()))
	p.open = newCheck(tr("Open it afterwards, to print it"), func(on bool) { u.prefs.SetBool(prefView, on) })
	p.open.Checked = u.prefs.BoolWithFallback(prefView, true)
	return p
}

// chosen is the paper.
func (p printing) chosen() sheet.Paper { return sheet.Papers[p.paper.chosen] }

// done says that the file was written, and opens it if that was asked for.
func (p printing) done(path string) {
	if p.open.Checked {
		p.u.writtenToView(path)
		return
	}
	p.u.written(path)
}

func (u *ui) saveJobSheet() { u.saveSheet(false) }

func (u *ui) saveClaim() { u.saveSheet(true) }

// saveSheet asks how to write the job down, and then where.
func (u *ui) saveSheet(claim bool) {
	title, ending := tr("Save the job sheet"), "-sheet"
	about := wrapped(tr("The finding, the engine, what was measured and how surely, the figures, and the checks to make next."))
	if claim {
		if err := u.noClaim(); err != nil {
			u.tell(err)
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
			if end := fileEnding(path); end != ".html" && end != ".pdf" {
				u.tell(errors.New(tr("A sheet's file must end in .pdf or .html.")))
				return
			}
			if err := u.noClaim(); claim && err != nil {
				u.tell(err)
				return
			}
			in, paper := u.sheetInput(outside.Checked), p.chosen()
			u.writeFile(path, func(b *bytes.Buffer) error { return writeSheet(b, in, claim, fileEnding(path), paper) }, func() { p.done(path) })
		})
	})
}

// noClaim says why there can be no claim, nil where there can.
func (u *ui) noClaim() error {
	in := u.sheetInput(false)
	in.Picture = nil // it only asks
	if _, err := sheet.ClaimSheet(in); err != nil {
		return errors.New(u.why(err))
	}
	return nil
}

// sheetInput is the newest sound job, today, for a sheet that may be made on another
// goroutine. outside shows pictures that lie outside the job's folder too; a job that
// is in no file yet was made here, and none of its pictures is.
func (u *ui) sheetInput(outside bool) sheet.Input {
	angles, folder, v := u.shown(), u.folder(), voice()
	return sheet.Input{
		Job: u.session.Sound(), Angles: angles, Photos: u.photos.results, Date: time.Now(), Lang: v.Code(), Say: v.Say, Units: v.Units(),
		Picture: sheet.Pictures{Folder: folder, Outside: outside || u.session.path == "", Time: time.Minute, Load: pixels.Load}.Read,
	}
}

// writeSheet writes the job sheet or the claim in the format of a file's ending.
func writeSheet(b *bytes.Buffer, in sheet.Input, claim bool, ending string, paper sheet.Paper) error {
	var d sheet.Document
	if claim {
		var err error
		if d, err = sheet.ClaimSheet(in); err != nil {
			return err
		}
	} else {
		d = sheet.JobSheet(in)
	}
	if ending == ".html" {
		return d.WriteHTML(b, paper)
	}
	return d.WritePDF(b, paper)
}

// outsidePictures asks, below what else is asked, whether pictures outside the
// job's folder are to be shown, where the job names any.
func (u *ui) outsidePictures(content *fyne.Container) *check {
	box := newCheck(tr("Show them on the sheet"), nil)
	if u.session.path == "" {
		return box
	}
	if names := sheet.OutsidePictures(u.session.Sound(), u.folder()); len(names) > 0 {
		content.Add(wrapped(with("The job names pictures outside its folder: {{.Names}}. Whoever gets the sheet would see them.",
			map[string]any{"Names": strings.Join(names, ", ")})))
		content.Add(box)
	}
	return box
}

// ask shows a dialog of choices with a button that goes on to where to save.
func (u *ui) ask(title string, content fyne.CanvasObject, next func()) {
	b := u.askFor(title, tr("Save…"), content, fyne.NewSize(720, content.MinSize().Height+160*u.look.scale), next)
	u.window.Canvas().Focus(b.marked)
}
