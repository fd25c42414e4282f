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

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/part/photo/pixels"
	"pinphase.org/pinphase/timing/sheet"
)

// prefView is whether a sheet is opened when it has been written.
const prefView = "sheet.open_afterwards"

// printing is what every sheet asks: the paper, and whether to open the file to
// print it.
type printing struct {
	u     *ui
	paper *kit.OneOf
	open  *kit.Check
}

func newPrinting(u *ui) printing {
	p := printing{u: u}
	p.paper = kit.NewOneOf(func(i int) { u.Prefs.SetString(desk.PrefPaper, sheet.Papers[i].Name) }, tr("A4"), tr("Letter"))
	p.paper.Set(slices.Index(sheet.Papers, u.Paper()))
	p.open = kit.NewCheck(tr("Open it afterwards, to print it"), func(on bool) { u.Prefs.SetBool(prefView, on) })
	p.open.Checked = u.Prefs.BoolWithFallback(prefView, true)
	return p
}

// chosen is the paper.
func (p printing) chosen() sheet.Paper { return sheet.Papers[p.paper.Chosen] }

// done says that the file was written, and opens it if that was asked for.
func (p printing) done(path string) {
	if p.open.Checked {
		p.u.WrittenToView(path)
		return
	}
	p.u.Written(path)
}

func (u *ui) saveJobSheet() { u.saveSheet(false) }

func (u *ui) saveClaim() { u.saveSheet(true) }

// saveSheet asks how to write the job down, and then where.
func (u *ui) saveSheet(claim bool) {
	title, ending := tr("Save the job sheet"), "-sheet"
	about := kit.Wrapped(tr("The finding, the engine, what was measured and with what uncertainty, the figures, and the checks to make next."))
	if claim {
		if err := u.noClaim(); err != nil {
			u.Tell(err)
			return
		}
		title, ending = tr("Save the measurement report"), "-claim"
		about = kit.Wrapped(tr("For the supplier of the part: drawing and measured value, how it was measured, with what uncertainty, and its effect on injection timing."))
	}
	p := newPrinting(u)
	format := kit.NewOneOf(func(int) {}, "PDF", "HTML")
	format.Set(0)
	content := container.NewVBox(about,
		container.NewHBox(widget.NewLabel(tr("File")), format.Content, widget.NewLabel(tr("Paper")), p.paper.Content), p.open)
	lines := kit.NewCheck(tr("Lines to fill in by hand, for what the job does not say of the case"), nil)
	content.Add(lines)
	outside := u.outsidePictures(content)
	supposed := kit.NewCheck(tr("with the what-if"), nil)
	if u.Supposes() && !claim { // what is claimed was measured
		content.Add(supposed)
	}
	u.ask(title, content, func() {
		kind := []string{".pdf", ".html"}[format.Chosen]
		folder, name := u.Suggest(ending + kind)
		u.AskPath(title, folder, name, kind, func(path string) {
			if end := desk.FileEnding(path); end != ".html" && end != ".pdf" {
				u.Tell(errors.New(tr("A sheet's file must end in .pdf or .html.")))
				return
			}
			if err := u.noClaim(); claim && err != nil {
				u.Tell(err)
				return
			}
			in, paper := u.sheetInput(outside.Checked, supposed.Checked), p.chosen()
			in.Fill = lines.Checked
			files, logo := u.Files, u.Prefs.String(desk.PrefShopLogo)
			u.WriteFile(path, func(b *bytes.Buffer) (err error) {
				if in.Shop.Logo, err = desk.ReadLogo(files, logo); err != nil {
					return err
				}
				return writeSheet(b, in, claim, desk.FileEnding(path), paper)
			}, func() { p.done(path) })
		})
	})
}

// noClaim says why there can be no claim, nil where there can.
func (u *ui) noClaim() error {
	in := u.sheetInput(false, false)
	in.Picture = nil // it only asks
	if _, err := sheet.ClaimSheet(in); err != nil {
		return errors.New(u.Why(err))
	}
	return nil
}

// sheetInput is the newest sound job, today, for a sheet that may be made on another
// goroutine. outside shows pictures that lie outside the job's folder too; a job that
// is in no file yet was made here, and none of its pictures is. supposed goes by what is
// supposed, and its title says so.
func (u *ui) sheetInput(outside, supposed bool) sheet.Input {
	j, angles, folder, v := u.Session.Sound(), u.Known(), u.Folder(), voice()
	if supposed {
		angles = u.OnPaper()
		j = finding.Suppose(j, u.Supposed())
		j.Title = angles.Title // which says so
	}
	return sheet.Input{
		Job: j, Angles: angles, Photos: u.Photos.Results, Date: time.Now(), Lang: v.Code(), Say: v.Say, Units: v.Units(), Shop: u.Prefs.Shop(),
		Picture: sheet.Pictures{Folder: folder, Outside: outside || u.Session.Path == "", Time: time.Minute, Load: pixels.Load}.Read,
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
func (u *ui) outsidePictures(content *fyne.Container) *kit.Check {
	box := kit.NewCheck(tr("Show on the sheet"), nil)
	if u.Session.Path == "" {
		return box
	}
	if names := sheet.OutsidePictures(u.Session.Sound(), u.Folder()); len(names) > 0 {
		content.Add(kit.Wrapped(with("The job names pictures outside its folder: {{.Names}}. Whoever gets the sheet would see them.",
			map[string]any{"Names": strings.Join(names, ", ")})))
		content.Add(box)
	}
	return box
}

// ask shows a dialog of choices with a button that goes on to where to save.
func (u *ui) ask(title string, content fyne.CanvasObject, next func()) {
	b := u.AskFor(title, tr("Save…"), content, fyne.NewSize(720, content.MinSize().Height+160*u.Look.Scale), next)
	u.Window.Canvas().Focus(b.Marked)
}
