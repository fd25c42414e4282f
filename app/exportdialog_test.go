package app

import (
	"bytes"
	"errors"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/widgets"
)

// put answers the question where to save with a file of a folder of its own, and
// returns its path.
func put(t *testing.T, u *ui, name string) string {
	t.Helper()
	folder := t.TempDir()
	asked := entries(t, u)
	asked[0].SetText(name)
	asked[1].SetText(folder)
	press(t, u, "Save")
	return filepath.Join(folder, name)
}

// pickFigure chooses a figure in the dialog.
func pickFigure(t *testing.T, u *ui, name string) {
	t.Helper()
	for _, o := range shown(u.Window.Canvas().Overlays().Top()) {
		if s, ok := o.(*kit.DialogSelect); ok {
			s.SetSelected(name)
			return
		}
	}
	t.Fatal("there is no list of figures")
}

func TestFigureIsSaved(t *testing.T) {
	u := window(t)
	for i, format := range []string{"SVG", "PDF", "PNG"} {
		for _, name := range chart.Names {
			choose(t, u, "File", "Save figure…")
			pickFigure(t, u, figureName(name))
			press(t, u, format)
			press(t, u, "Save…")
			path := put(t, u, "f"+chart.Formats[i])
			if info, err := os.Stat(path); err != nil || info.Size() < 1000 {
				t.Errorf("%s as %s: %v, %v; the window says %q", name, format, info, err, said(u))
			}
		}
	}
	// The ending is added where there is none, and must be one of the three.
	choose(t, u, "File", "Save figure…")
	press(t, u, "Save…")
	if path := put(t, u, "c"); !exists(path + ".svg") {
		t.Error("a figure without an ending was not saved")
	}
	choose(t, u, "File", "Save figure…")
	press(t, u, "Save…")
	path := put(t, u, "wheel.doc")
	if !strings.Contains(said(u), ".svg, .pdf or .png") || exists(path) {
		t.Errorf("for a format there is not, the window says %q", said(u))
	}
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return !errors.Is(err, os.ErrNotExist)
}

// The file has the size that was typed, and what is no size cannot be saved.
func TestFigureOfAChosenSize(t *testing.T) {
	u := window(t)
	choose(t, u, "File", "Save figure…")
	press(t, u, "PNG")
	fields := entries(t, u)
	fields[0].SetText("127")
	fields[1].SetText("101,6")
	fields[2].SetText("100")
	if !strings.Contains(said(u), "500 by 400 pixels") { // 5 by 4 inches
		t.Errorf("the dialog says %q", said(u))
	}
	press(t, u, "dark")
	press(t, u, "Save…")
	img, err := png.Decode(strings.NewReader(read(t, put(t, u, "dark.png"))))
	if err != nil || img.Bounds().Dx() != 500 || img.Bounds().Dy() != 400 {
		t.Fatalf("%v, %v", img, err)
	}
	if r, _, _, _ := img.At(2, 2).RGBA(); r>>8 != uint32(figure.Dark().Color(figure.Surface).R) {
		t.Errorf("the corner is %v, want the dark surface", img.At(2, 2))
	}
	choose(t, u, "File", "Save figure…")
	fields = entries(t, u)
	for text, says := range map[string]string{"": "must be a number", "ten": "must be a number", "5": "from 30 to 2000", "99999": "from 30 to 2000"} {
		fields[0].SetText(text)
		if !strings.Contains(said(u), says) {
			t.Errorf("for a width of %q the dialog says %q", text, said(u))
		}
		if b := button(u, "Save…"); b == nil || !b.Disabled() {
			t.Errorf("a width of %q can be saved", text)
		}
	}
	press(t, u, "Usual size")
	if b := button(u, "Save…"); b == nil || b.Disabled() || fields[0].Text != "297" {
		t.Errorf("the usual width is %s", fields[0].Text)
	}
}

// A picture with a transparent background has nothing where nothing is drawn, and is drawn in
// full where something is.
func TestTransparentPicture(t *testing.T) {
	u := window(t)
	choose(t, u, "File", "Save figure…")
	press(t, u, "PNG")
	for _, o := range shown(u.Window.Canvas().Overlays().Top()) {
		if c, ok := o.(*kit.Check); ok && c.Text == "transparent background" {
			c.SetChecked(true)
		}
	}
	press(t, u, "Save…")
	img, err := png.Decode(strings.NewReader(read(t, put(t, u, "clear.png"))))
	if err != nil {
		t.Fatal(err)
	}
	clear, full := 0, 0
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y += 2 {
		for x := b.Min.X; x < b.Max.X; x += 2 {
			switch _, _, _, a := img.At(x, y).RGBA(); a {
			case 0:
				clear++
			case 0xffff:
				full++
			}
		}
	}
	if all := b.Dx() * b.Dy() / 4; clear < all/20 || full < all/100 {
		t.Errorf("of %d pixels %d are clear and %d are painted", all, clear, full)
	}
}

// What the window alone has can be saved: the board's page, with the what-if only where
// that is asked for, and the figure of the question that is asked, which is told where
// nothing is.
func TestFiguresOfTheWindow(t *testing.T) {
	u := window(t)
	choose(t, u, "File", "Save figure…")
	pickFigure(t, u, "Practice question")
	if s := said(u); !strings.Contains(s, "Nothing is asked") {
		t.Errorf("without a question the dialog says %q", s)
	}
	pickFigure(t, u, "Board page")
	press(t, u, "Save…")
	if text := read(t, put(t, u, "board.svg")); !strings.Contains(text, "<svg") || len(text) < 5000 {
		t.Errorf("the board's page has %d bytes", len(text))
	}
	u.OpenPage("practice", "")
	choose(t, u, "File", "Save figure…")
	offered := ""
	for _, o := range shown(u.Window.Canvas().Overlays().Top()) {
		if s, ok := o.(*kit.DialogSelect); ok && offered == "" {
			offered = s.Selected
		}
	}
	if offered != "Practice question" {
		t.Errorf("on the Practice page %q is offered first", offered)
	}
	u.Dismiss()

	drawn := func() string {
		d, err := u.Drawn("board", chart.UsualSize("board"))
		if err != nil {
			t.Fatal(err)
		}
		return d.String()
	}
	u.openBoard(false)
	defer u.board.Window.Close()
	fault := drawn() // of the board's first page
	wheel := 20.0
	u.board.Key(&fyne.KeyEvent{Name: fyne.Key3})
	u.board.Key(&fyne.KeyEvent{Name: fyne.KeyA})
	was := drawn()
	if was == fault {
		t.Error("the page that the board shows is not the one that is drawn")
	}
	u.Suppose(func(w *finding.WhatIf) { w.WheelErrorDeg = &wheel })
	if drawn() == was {
		t.Error("with a what-if the board's page is drawn as it was")
	}
	u.AsIs(func() {
		if drawn() != was {
			t.Error("without the what-if the board's page is another than before it")
		}
	})
}

// button is a button of the dialog on top.
func button(u *ui, name string) *kit.DialogButton {
	for _, o := range shown(u.Window.Canvas().Overlays().Top()) {
		if b, ok := o.(*kit.DialogButton); ok && b.Text == name {
			return b
		}
	}
	return nil
}

// What is saved is what is on the screen: the wheel error that is only supposed
// too, and the teeth.
func TestWhatIsSupposedIsSaved(t *testing.T) {
	u := window(t)
	u.OpenPage("light", "")
	wheel := 6.5
	u.Suppose(func(w *finding.WhatIf) { w.WheelErrorDeg = &wheel })
	d, err := u.Drawn("light", figure.Box{})
	if err != nil || !strings.Contains(d.String(), "would start") || !strings.Contains(d.String(), "hat if: the sensor wheel 6.5° ahead") {
		t.Errorf("%v, %.300s", err, d)
	}
	if got := u.figureAtHand(); got != "light" {
		t.Errorf("on the light-off page %s is offered", got)
	}
	u.openDemo() // of another job nothing is supposed
	if d, err = u.Drawn("light", figure.Box{}); err != nil || strings.Contains(d.String(), "would start") {
		t.Errorf("what was supposed of another job is drawn: %v", err)
	}
	before, err := u.Drawn("gears", figure.Box{})
	if err != nil {
		t.Fatal(err)
	}
	u.OpenPage("gears", "")
	teeth := 2
	u.Suppose(func(w *finding.WhatIf) { w.CamTeethOut = &teeth })
	after, err := u.Drawn("gears", figure.Box{})
	if err != nil || after.String() == before.String() {
		t.Errorf("teeth that are supposed are not drawn: %v", err)
	}
}

// Of the signals it is the part that is on the screen.
func TestTheSignalsShownAreSaved(t *testing.T) {
	u := window(t)
	u.OpenPage("signals", "")
	all, err := u.Drawn("signals", figure.Box{})
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range shown(u.Root) {
		if v, ok := o.(*widgets.TraceView); ok {
			v.Zoom(0.25)
		}
	}
	part, err := u.Drawn("signals", figure.Box{})
	if err != nil || part.String() == all.String() {
		t.Errorf("a part of the signals is drawn as all of them: %v", err)
	}
	if u.figureAtHand() != "signals" {
		t.Errorf("on the signals page %s is offered", u.figureAtHand())
	}
}

// A job that lacks something for a figure says what.
func TestFigureThatCannotBeDrawn(t *testing.T) {
	u := on(t, "[engine]\nstrokes = 4\nfiring_order = [1, 2, 3]\n")
	choose(t, u, "File", "Save figure…")
	pickFigure(t, u, "Gears")
	if b := button(u, "Save…"); b == nil || !b.Disabled() {
		t.Errorf("it can be saved; the dialog says %q", said(u))
	}
	if len(said(u)) < 60 {
		t.Errorf("the dialog says %q", said(u))
	}
	pickFigure(t, u, "Cycle")
	if b := button(u, "Save…"); b == nil || b.Disabled() {
		t.Error("the cycle cannot be saved")
	}
}

func TestFigureIsCopied(t *testing.T) {
	u := window(t)
	choose(t, u, "File", "Save figure…")
	press(t, u, "Copy as SVG text")
	if got := u.App.Clipboard().Content(); !strings.HasPrefix(got, "<svg ") || !strings.Contains(got, "Gravel barge Tern") {
		t.Errorf("on the clipboard is %.80q", got)
	}
	if !strings.Contains(said(u), "on the clipboard as SVG text") {
		t.Errorf("the dialog says %q", said(u))
	}
}

func TestSheetsAreSaved(t *testing.T) {
	u := window(t)
	for _, c := range []struct{ item, format, name, begins string }{
		{"Save job sheet…", "PDF", "s.pdf", "%PDF-"}, {"Save job sheet…", "HTML", "s.html", "<!DOCTYPE html>"},
		{"Save measurement report…", "PDF", "c.pdf", "%PDF-"}, {"Save measurement report…", "HTML", "c.html", "<!DOCTYPE html>"},
	} {
		choose(t, u, "File", c.item)
		press(t, u, c.format)
		press(t, u, "Letter")
		press(t, u, "Save…")
		text := read(t, put(t, u, c.name))
		if !strings.HasPrefix(text, c.begins) || len(text) < 5000 {
			t.Errorf("%s as %s: %.60q", c.item, c.format, text)
		}
		if c.format == "PDF" && !bytes.Contains([]byte(text), []byte("/MediaBox [0 0 612.00 792.00]")) {
			t.Errorf("%s is not on the paper chosen", c.item)
		}
	}
	choose(t, u, "File", "Save job sheet…")
	press(t, u, "Save…")
	if path := put(t, u, "s.doc"); exists(path) || !strings.Contains(said(u), ".pdf or .html") {
		t.Errorf("the window says %q", said(u))
	}
}

func TestClaimSaysWhatIsMissing(t *testing.T) {
	u := on(t, "[engine]\nstrokes = 4\nfiring_order = [1, 2, 3]\n")
	choose(t, u, "File", "Save measurement report…")
	if button(u, "Save…") != nil || len(said(u)) < 30 {
		t.Errorf("without a measured part the window says %q", said(u))
	}
}

func TestWheelAndTapeArePrinted(t *testing.T) {
	u := window(t)
	choose(t, u, "File", "Print degree wheel or degree tape…")
	fields := entries(t, u)
	fields[0].SetText("150")
	fields[1].SetText("20")
	press(t, u, "Save…")
	if text := read(t, put(t, u, "w.pdf")); !strings.HasPrefix(text, "%PDF-") {
		t.Errorf("%.20q", text)
	}
	// What was typed is offered the next time.
	choose(t, u, "File", "Print degree wheel or degree tape…")
	if fields = entries(t, u); fields[0].Text != "150" || fields[1].Text != "20" {
		t.Errorf("offered %s and %s", fields[0].Text, fields[1].Text)
	}
	press(t, u, "Degree tape")
	fields = entries(t, u)
	if len(fields) != 2 || fields[0].Text != "180" {
		t.Errorf("%d fields, %s", len(fields), fields[0].Text)
	}
	press(t, u, "Save…")
	if text := read(t, put(t, u, "t.pdf")); !strings.HasPrefix(text, "%PDF-") {
		t.Errorf("%.20q", text)
	}
	for _, text := range []string{"", "wide", "-5", "3000"} {
		choose(t, u, "File", "Print degree wheel or degree tape…")
		entries(t, u)[0].SetText(text)
		press(t, u, "Save…")
		if !strings.Contains(said(u), "is not a number") && !strings.Contains(said(u), "from 40 to 600") {
			t.Errorf("for a diameter of %q the window says %q", text, said(u))
		}
		for len(u.Dialogs) > 0 {
			u.Dismiss()
		}
	}
}

// Escape closes each of them, from a field too.
func TestPaperDialogsCloseWithEscape(t *testing.T) {
	u := window(t)
	for _, item := range []string{"Save figure…", "Save job sheet…", "Save measurement report…", "Print degree wheel or degree tape…"} {
		choose(t, u, "File", item)
		if u.Window.Canvas().Overlays().Top() == nil {
			t.Fatalf("%s shows nothing", item)
		}
		u.Window.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		if u.Window.Canvas().Overlays().Top() != nil {
			t.Errorf("%s stays", item)
		}
	}
}
