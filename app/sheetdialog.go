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

func (u *ui) saveJobSheet() { u.saveSheet(jobSheet) }

func (u *ui) saveClaim() { u.saveSheet(claimSheet) }

func (u *ui) saveSignOff() { u.saveSheet(signOffSheet) }

// sheetKind is which sheet is written.
type sheetKind int

const (
	jobSheet sheetKind = iota
	claimSheet
	signOffSheet
)

// saveSheet asks how to write the job down, and then where.
func (u *ui) saveSheet(kind sheetKind) {
	title, ending := tr("Save the job sheet"), "-sheet"
	about := kit.Wrapped(tr("The finding, the engine, what was measured and with what uncertainty, the figures, and the checks to make next."))
	if err := u.noSheet(kind); err != nil {
		u.Tell(err)
		return
	}
	switch kind {
	case signOffSheet:
		title, ending = tr("Save the sign-off sheet"), "-sign-off"
		about = kit.Wrapped(tr("After a repair: the part in the engine beside the one before the repair, with angle, injection and what was not checked, for a signature."))
	case claimSheet:
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
	if u.Supposes() && kind == jobSheet { // what is claimed was measured
		content.Add(supposed)
	}
	u.ask(title, content, func() {
		file := []string{".pdf", ".html"}[format.Chosen]
		folder, name := u.Suggest(ending + file)
		u.AskPath(title, folder, name, file, func(path string) {
			if end := desk.FileEnding(path); end != ".html" && end != ".pdf" {
				u.Tell(errors.New(tr("A sheet's file must end in .pdf or .html.")))
				return
			}
			if err := u.noSheet(kind); err != nil {
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
				return writeSheet(b, in, kind, desk.FileEnding(path), paper)
			}, func() { p.done(path) })
		})
	})
}

// noSheet says why there can be no such sheet, nil where there can.
func (u *ui) noSheet(kind sheetKind) error {
	if kind == jobSheet {
		return nil
	}
	in := u.sheetInput(false, false)
	in.Picture = nil // it only asks
	if _, err := kind.document(in); err != nil {
		return errors.New(u.Why(err))
	}
	return nil
}

// sheetInput is the newest sound job, today, for a sheet that may be made on another
// goroutine. outside shows pictures that lie outside the job's folder too; a job that
// is in no file yet was made here, and none of its pictures is. supposed goes by what is
// supposed, and its title says so.
func (u *ui) sheetInput(outside, supposed bool) sheet.Input {
	j, angles, folder, v := u.Session.Sound().Compared(), u.Known(), u.Folder(), voice()
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

func (k sheetKind) document(in sheet.Input) (sheet.Document, error) {
	switch k {
	case claimSheet:
		return sheet.ClaimSheet(in)
	case signOffSheet:
		return sheet.SignOff(in)
	}
	return sheet.JobSheet(in), nil
}

// writeSheet writes a sheet in the format of a file's ending.
func writeSheet(b *bytes.Buffer, in sheet.Input, kind sheetKind, ending string, paper sheet.Paper) error {
	d, err := kind.document(in)
	switch {
	case err != nil:
		return err
	case ending == ".html":
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
	if names := sheet.OutsideShown(u.Session.Sound(), u.Folder()); len(names) > 0 {
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

// saveTemplate asks where to write where the dowel's hole is to be drilled anew: to true
// scale on paper, or for a machine shop.
func (u *ui) saveTemplate() {
	h, err := sheet.HoleOf(u.Known(), u.From)
	if err != nil {
		u.Tell(errors.New(u.Why(err)))
		return
	}
	p := newPrinting(u)
	format := kit.NewOneOf(func(int) {}, "PDF", "DXF")
	format.Set(0)
	content := container.NewVBox(kit.Wrapped(tr("Where the dowel's hole belongs on this part, drawn to true scale, or as DXF R12 for a machine shop. Read what is at risk, on the sheet, before anything is drilled.")),
		container.NewHBox(widget.NewLabel(tr("File")), format.Content, widget.NewLabel(tr("Paper")), p.paper.Content), p.open)
	u.ask(tr("Save a drilling template"), content, func() {
		ending := []string{".pdf", ".dxf"}[format.Chosen]
		folder, name := u.Suggest("-hole" + ending)
		u.AskPath(tr("Save a drilling template"), folder, name, ending, func(path string) {
			v, paper, from := voice(), p.chosen(), u.From
			in := sheet.Scale{From: from, Date: time.Now(), Lang: v.Code(), Say: v.Say}
			u.WriteFile(path, func(b *bytes.Buffer) error {
				if desk.FileEnding(path) == ".dxf" {
					b.Write(h.DXF())
					return nil
				}
				d, err := sheet.Template(in, h, paper)
				if err != nil {
					return err
				}
				return d.WritePDF(b, paper)
			}, func() { p.done(path) })
		})
	})
}
