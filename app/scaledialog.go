package app

import (
	"bytes"
	"errors"
	"strings"
	"time"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/timing/sheet"
)

// What is remembered of the last wheel or tape.
const (
	prefWheelMM = "print.wheel_mm"
	prefHoleMM  = "print.hole_mm"
	prefTapeMM  = "print.tape_mm"
	prefRulerMM = "print.ruler_mm"
)

// scaleDialog prints a degree wheel or a timing tape to true scale.
type scaleDialog struct {
	u        *ui
	kind     *oneOf // wheel, tape
	end      *oneOf // nose, flywheel
	diameter *dialogEntry
	hole     *dialogEntry
	ruler    *dialogEntry
	holeWord *widget.Label
	note     *widget.Label
	print    printing
}

// printScale asks what to print to true scale, and then where to put the file.
func (u *ui) printScale() {
	s := &scaleDialog{u: u, note: prose(), print: newPrinting(u)}
	s.kind = newOneOf(func(int) { s.recall() }, tr("Degree wheel"), tr("Timing tape"))
	s.end = newOneOf(func(int) {}, tr("nose"), tr("flywheel"))
	s.end.set(int(u.from))
	s.diameter, s.hole, s.ruler = newDialogEntry(), newDialogEntry(), newDialogEntry()
	s.hole.PlaceHolder, s.ruler.PlaceHolder = tr("none"), tr("not measured yet")
	unit := map[string]any{"Unit": string(voice().Units().For(quantity.MM))}
	s.holeWord = widget.NewLabel(with("Hole in its middle, {{.Unit}}", unit))
	fields := container.NewGridWithColumns(2,
		widget.NewLabel(with("Diameter, {{.Unit}}", unit)), s.diameter, s.holeWord, s.hole,
		widget.NewLabel(tr("Printed ruler of 150 mm measures, mm")), s.ruler)
	content := container.NewVBox(s.kind.content,
		wrapped(tr("It turns as this engine does, with a mark where each cylinder comes to firing TDC. Print it at 100 % and lay a steel rule on its rulers; if they are off, print again with what the level one measures.")),
		fields, container.NewHBox(widget.NewLabel(tr("Fixed to")), s.end.content, widget.NewLabel(tr("Paper")), s.print.paper.content), s.print.open)
	s.kind.set(0)
	s.recall()
	u.ask(tr("Print a degree wheel or tape"), content, s.accept)
}

// recall fills in what was typed the last time.
func (s *scaleDialog) recall() {
	length := func(key string, fallback float64) string {
		v := s.u.prefs.FloatWithFallback(key, fallback)
		if v == 0 {
			return ""
		}
		shown, _ := voice().Units().Show(v, quantity.MM)
		return number(shown, 3)
	}
	key, fallback := prefWheelMM, 200.0
	if s.kind.chosen == 1 {
		key, fallback = prefTapeMM, 180.0
	}
	s.diameter.SetText(length(key, fallback))
	s.hole.SetText(length(prefHoleMM, 0))
	if v := s.u.prefs.Float(prefRulerMM); v != 0 {
		s.ruler.SetText(number(v, 2))
	}
	s.holeWord.Hidden, s.hole.Hidden = s.kind.chosen == 1, s.kind.chosen == 1
}

// accept takes what was typed and asks where to put the file; what is wrong is
// told.
func (s *scaleDialog) accept() {
	u := s.u
	j := u.session.Sound()
	in := sheet.Scale{Job: &j, From: timing.End(s.end.chosen), Date: time.Now(), Lang: voice().Code(), Say: say}
	read := func(e *dialogEntry, name string, into *float64, of quantity.Unit) error {
		if strings.TrimSpace(e.Text) == "" {
			*into = 0
			return nil
		}
		v, err := finding.ParseNumber(e.Text)
		if err != nil {
			return errors.New(with("{{.Name}}: “{{.Text}}” is no number.", map[string]any{"Name": name, "Text": e.Text}))
		}
		*into = v
		if of != "" {
			*into = voice().Units().Keep(v, of)
		}
		return nil
	}
	make, key, name := sheet.DegreeWheel, prefWheelMM, "-degree-wheel.pdf"
	err := errors.Join(read(s.diameter, tr("Diameter"), &in.DiameterMM, quantity.MM), read(s.ruler, tr("Printed ruler"), &in.RulerMM, ""))
	if s.kind.chosen == 0 {
		err = errors.Join(err, read(s.hole, tr("Hole"), &in.HoleMM, quantity.MM))
	} else {
		make, key, name = sheet.Tape, prefTapeMM, "-tape.pdf"
	}
	var d sheet.Document
	if err == nil {
		d, err = make(in, s.print.chosen())
	}
	if err != nil {
		u.tell(err)
		return
	}
	u.prefs.SetFloat(key, in.DiameterMM)
	u.prefs.SetFloat(prefRulerMM, in.RulerMM)
	if s.kind.chosen == 0 {
		u.prefs.SetFloat(prefHoleMM, in.HoleMM)
	}
	folder, file := u.suggest(name)
	u.askPath(tr("Save it as a PDF"), folder, file, ".pdf", func(path string) {
		paper := s.print.chosen()
		u.writeFile(path, func(b *bytes.Buffer) error { return d.WritePDF(b, paper) }, func() { s.print.done(path) })
	})
}
