package app

import (
	"bytes"
	"errors"
	"strings"
	"time"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
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
	kind     *kit.OneOf // wheel, tape
	end      *kit.OneOf // nose, flywheel
	diameter *kit.DialogEntry
	hole     *kit.DialogEntry
	ruler    *kit.DialogEntry
	holeWord *widget.Label
	note     *widget.Label
	print    printing
}

// printScale asks what to print to true scale, and then where to put the file.
func (u *ui) printScale() {
	s := &scaleDialog{u: u, note: kit.Prose(), print: newPrinting(u)}
	s.kind = kit.NewOneOf(func(int) { s.recall() }, tr("Degree wheel"), tr("Degree tape"))
	s.end = kit.NewOneOf(func(int) {}, tr("nose"), tr("flywheel end"))
	s.end.Set(int(u.From))
	s.diameter, s.hole, s.ruler = kit.NewDialogEntry(), kit.NewDialogEntry(), kit.NewDialogEntry()
	s.hole.PlaceHolder, s.ruler.PlaceHolder = tr("no hole"), tr("not measured yet")
	unit := map[string]any{"Unit": string(voice().Units().For(quantity.MM))}
	s.holeWord = widget.NewLabel(with("Hole in its middle, {{.Unit}}", unit))
	fields := container.NewGridWithColumns(2,
		widget.NewLabel(with("Diameter, {{.Unit}}", unit)), s.diameter, s.holeWord, s.hole,
		widget.NewLabel(tr("Printed ruler of 150 mm measures, mm")), s.ruler)
	content := container.NewVBox(s.kind.Content,
		kit.Wrapped(tr("It counts in this engine's direction of rotation and has a mark at the firing TDC of each cylinder. Print it at 100 % and lay a steel rule on its rulers; if they do not agree, print again with what the horizontal ruler measures.")),
		fields, container.NewHBox(widget.NewLabel(tr("Fixed to")), s.end.Content, widget.NewLabel(tr("Paper")), s.print.paper.Content), s.print.open)
	s.kind.Set(0)
	s.recall()
	u.ask(tr("Print a degree wheel or degree tape"), content, s.accept)
}

// recall fills in what was typed the last time.
func (s *scaleDialog) recall() {
	length := func(key string, fallback float64) string {
		v := s.u.Prefs.FloatWithFallback(key, fallback)
		if v == 0 {
			return ""
		}
		shown, _ := voice().Units().Show(v, quantity.MM)
		return number(shown, 3)
	}
	key, fallback := prefWheelMM, 200.0
	if s.kind.Chosen == 1 {
		key, fallback = prefTapeMM, 180.0
	}
	s.diameter.SetText(length(key, fallback))
	s.hole.SetText(length(prefHoleMM, 0))
	if v := s.u.Prefs.Float(prefRulerMM); v != 0 {
		s.ruler.SetText(number(v, 2))
	}
	s.holeWord.Hidden, s.hole.Hidden = s.kind.Chosen == 1, s.kind.Chosen == 1
}

// accept takes what was typed and asks where to put the file; what is wrong is
// told.
func (s *scaleDialog) accept() {
	u := s.u
	j := u.Session.Sound()
	in := sheet.Scale{Job: &j, From: timing.End(s.end.Chosen), Date: time.Now(), Lang: voice().Code(), Say: say}
	read := func(e *kit.DialogEntry, name string, into *float64, of quantity.Unit) error {
		if strings.TrimSpace(e.Text) == "" {
			*into = 0
			return nil
		}
		v, err := finding.ParseNumber(e.Text)
		if err != nil {
			return errors.New(with("{{.Name}}: “{{.Text}}” is not a number.", map[string]any{"Name": name, "Text": e.Text}))
		}
		*into = v
		if of != "" {
			*into = voice().Units().Keep(v, of)
		}
		return nil
	}
	make, key, name := sheet.DegreeWheel, prefWheelMM, "-degree-wheel.pdf"
	err := errors.Join(read(s.diameter, tr("Diameter"), &in.DiameterMM, quantity.MM), read(s.ruler, tr("Printed ruler"), &in.RulerMM, ""))
	if s.kind.Chosen == 0 {
		err = errors.Join(err, read(s.hole, tr("Hole"), &in.HoleMM, quantity.MM))
	} else {
		make, key, name = sheet.Tape, prefTapeMM, "-tape.pdf"
	}
	var d sheet.Document
	if err == nil {
		d, err = make(in, s.print.chosen())
	}
	if err != nil {
		u.Tell(err)
		return
	}
	u.Prefs.SetFloat(key, in.DiameterMM)
	u.Prefs.SetFloat(prefRulerMM, in.RulerMM)
	if s.kind.Chosen == 0 {
		u.Prefs.SetFloat(prefHoleMM, in.HoleMM)
	}
	folder, file := u.Suggest(name)
	u.AskPath(tr("Save as PDF"), folder, file, ".pdf", func(path string) {
		paper := s.print.chosen()
		u.WriteFile(path, func(b *bytes.Buffer) error { return d.WritePDF(b, paper) }, func() { s.print.done(path) })
	})
}
