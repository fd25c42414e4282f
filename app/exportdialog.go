package app

import (
	"bytes"
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// exportDialog saves one of the figures: which, as what, how large and in which
// colours, with a preview of just that.
type exportDialog struct {
	u      *ui
	dialog *kit.Box
	scroll *container.Scroll // of what is chosen

	figure     *kit.DialogSelect
	names      []string // of the figures, in the order of the list
	format     *kit.OneOf
	theme      *kit.OneOf
	supposed   *kit.Check // draw what is supposed too
	wide, high *kit.DialogEntry
	dpi        *kit.DialogEntry
	clear      *kit.Check // nothing is painted where nothing is drawn
	dpiRow     *fyne.Container
	preview    *canvas.Image
	note       *widget.Label // what is wrong, or how large it is
	save, copy *kit.DialogButton
	copyAsPNG  *kit.DialogButton
	raster     figure.Raster
	loading    bool
}

var themeWords = []phrase.Text{"light", "dark", "black ink only"} // in the order of chart.Themes

// saveFigure asks how to save the figure that is at hand, or another.
func (u *ui) saveFigure() {
	e := newExportDialog(u)
	e.open(u.figureAtHand())
}

func newExportDialog(u *ui) *exportDialog {
	e := &exportDialog{u: u, preview: &canvas.Image{FillMode: canvas.ImageFillContain, ScaleMode: canvas.ImageScaleSmooth}, note: kit.Prose()}
	e.names = append(slices.Clone(chart.Names), windowFigures...)
	var names []string
	for _, n := range e.names {
		names = append(names, figureName(n))
	}
	e.figure = kit.NewDialogSelect(names, func(string) { e.usual() })
	e.format = kit.NewOneOf(func(int) { e.load() }, "SVG", "PDF", "PNG")
	e.format.Set(0)
	var themes []string
	for _, t := range themeWords {
		themes = append(themes, tr(t))
	}
	e.theme = kit.NewOneOf(func(int) { e.load() }, themes...)
	e.theme.Set(0)
	field := func() *kit.DialogEntry {
		f := kit.NewDialogEntry()
		f.OnChanged = func(string) { e.load() }
		return f
	}
	e.wide, e.high, e.dpi = field(), field(), field()
	e.dpi.Text = number(300, 0)
	e.clear = kit.NewCheck(tr("transparent background"), func(bool) { e.load() })
	usual := kit.NewDialogButton(tr("Usual size"), e.usual)
	// Once the key is let go of: it would be typed into the next dialog.
	e.save = kit.NewDialogButton(tr("Save…"), func() { fyne.Do(e.askWhere) })
	e.copy = kit.NewDialogButton(tr("Copy as SVG text"), e.toClipboard)
	e.copyAsPNG = kit.NewDialogButton(tr("Copy as picture"), e.pictureToClipboard)
	e.dpiRow = container.NewVBox(widget.NewLabel(tr("Dots per inch")), e.dpi, e.clear)
	e.supposed = kit.NewCheck(tr("with the what-if"), func(bool) { e.load() })
	e.supposed.Hidden = !u.Supposes()
	left := container.NewVBox(
		widget.NewLabel(tr("Figure")), e.figure,
		widget.NewLabel(tr("File")), e.format.Content,
		container.NewGridWithColumns(2, widget.NewLabel(tr("Width, mm")), widget.NewLabel(tr("Height, mm")), e.wide, e.high),
		usual, e.dpiRow,
		widget.NewLabel(tr("Colours")), e.theme.Content, e.supposed, e.note)
	e.scroll = container.NewVScroll(container.New(&kit.BesideBar{}, left))
	split := container.NewBorder(nil, nil, e.scroll, nil, e.preview)
	e.dialog = u.NewBox(tr("Save a figure"), split, u.Closing(tr("Close")), e.copyAsPNG, e.copy, e.save)
	return e
}

func (e *exportDialog) open(name string) {
	s := e.u.Window.Canvas().Size()
	e.dialog.Resize(fyne.NewSize(min(960, s.Width-30), min(600, s.Height-30)))
	e.u.ShowBox(e.dialog, e.scroll)
	e.figure.SetSelectedIndex(slices.Index(e.names, name))
	e.u.Window.Canvas().Focus(e.save)
}

// name is the figure chosen.
func (e *exportDialog) name() string { return e.names[max(0, e.figure.SelectedIndex())] }

// ending is the format chosen.
func (e *exportDialog) ending() string { return chart.Formats[e.format.Chosen] }

// usual goes back to the size the figure has unless told.
func (e *exportDialog) usual() {
	box := chart.UsualSize(e.name())
	e.loading = true
	e.wide.SetText(number(box.W/figure.MM, 0))
	e.high.SetText(number(box.H/figure.MM, 0))
	e.loading = false
	e.load()
}

// made is the figure as it is going to be saved.
func (e *exportDialog) made() (d figure.Drawing, st figure.Style, dpi float64, err error) {
	w, err := finding.ParseNumber(e.wide.Text)
	if err != nil {
		return d, st, 0, errors.New(tr("Width must be a number."))
	}
	h, err := finding.ParseNumber(e.high.Text)
	if err != nil || h == 0 {
		return d, st, 0, errors.New(tr("Height must be a number."))
	}
	if dpi, err = finding.ParseNumber(e.dpi.Text); err != nil {
		return d, st, 0, errors.New(tr("Dots per inch must be a number."))
	}
	box, err := chart.Sized(e.name(), w, h)
	if err == nil && e.ending() == ".png" {
		err = chart.CheckPicture(e.name(), box, dpi)
	}
	if err == nil {
		st, err = chart.Style(chart.Themes[e.theme.Chosen])
	}
	if err == nil {
		draw := func() { d, err = e.u.Drawn(e.name(), box) }
		if e.supposed.Checked {
			draw()
		} else {
			e.u.AsIs(draw)
		}
	}
	if err != nil {
		var faults job.Faults
		if errors.As(err, &faults) {
			err = errors.New(e.u.Why(err))
		}
	}
	return d, st, dpi, err
}

// previewPixels is how large the longer side of the preview is.
const previewPixels = 1000

// load shows what is going to be saved, or what is wrong with it.
func (e *exportDialog) load() {
	if e.loading {
		return
	}
	e.dpiRow.Hidden = e.ending() != ".png"
	d, st, dpi, err := e.made()
	if err != nil {
		e.note.SetText(err.Error())
		e.save.Disable()
		e.copy.Disable()
		e.copyAsPNG.Disable()
		e.preview.Image = nil
		e.preview.Refresh()
		return
	}
	e.save.Enable()
	e.copy.Enable()
	e.copyAsPNG.Enable()
	text := ""
	if e.ending() == ".png" {
		text = with("{{.W}} by {{.H}} pixels", map[string]any{"W": phrase.Num{Value: d.W / 72 * dpi}, "H": phrase.Num{Value: d.H / 72 * dpi}})
	}
	e.note.SetText(text)
	e.raster.Clear = e.clear.Checked && e.ending() == ".png"
	scale := previewPixels / max(d.W, d.H)
	e.preview.Image = e.raster.Render(d, st, int(d.W*scale), int(d.H*scale), scale)
	e.preview.Refresh()
}

// askWhere asks for the file and writes it.
func (e *exportDialog) askWhere() {
	d, st, dpi, err := e.made()
	if err != nil {
		return
	}
	ending, clear := e.ending(), e.clear.Checked
	e.dialog.Hide()
	folder, name := e.u.Suggest("-" + e.name() + ending)
	e.u.AskPath(tr("Save the figure"), folder, name, ending, func(path string) {
		e.u.WriteFile(path, func(b *bytes.Buffer) error {
			if as := desk.FileEnding(path); as != ".png" || !clear {
				return chart.WriteAs(b, as, d, st, dpi)
			}
			return chart.WriteClear(b, d, st, dpi)
		}, nil)
	})
}

// pictureToClipboard puts the figure onto the clipboard as a PNG, by a program of the
// desktop: the toolkit has no pictures there.
func (e *exportDialog) pictureToClipboard() {
	d, st, dpi, err := e.made()
	if err != nil {
		return
	}
	clear := e.clear.Checked && e.ending() == ".png"
	name, wide, high := e.name(), e.wide.Text, e.high.Text
	e.u.Background(func() func() {
		var b bytes.Buffer
		var err error
		if clear {
			err = chart.WriteClear(&b, d, st, dpi)
		} else {
			err = chart.WriteAs(&b, ".png", d, st, dpi)
		}
		if err == nil {
			err = desk.CopyPicture(b.Bytes())
		}
		return func() {
			if e.name() != name || e.wide.Text != wide || e.high.Text != high {
				return // the note is about another figure by now
			}
			if err != nil {
				e.note.SetText(kit.InFull(err))
				return
			}
			e.note.SetText(tr("The figure is on the clipboard as a picture."))
		}
	})
}

// toClipboard puts the figure onto the clipboard as SVG, which is text.
func (e *exportDialog) toClipboard() {
	d, st, _, err := e.made()
	if err != nil {
		return
	}
	var b strings.Builder
	if err := figure.WriteSVG(&b, d, st); err != nil {
		e.u.Tell(err)
		return
	}
	e.u.App.Clipboard().SetContent(b.String())
	e.note.SetText(tr("The figure is on the clipboard as SVG text, for a drawing program or a text file. “Copy as picture” puts it there as a PNG."))
}
