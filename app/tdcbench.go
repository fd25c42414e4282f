package app

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase/timing"
	"pinphase/timing/finding"
	"pinphase/widgets"
)

// tdcBench finds top dead centre from two readings, turns piston drop into
// degrees and back, and says how far apart marks stand on a damper. Nothing of it
// goes into the job.
type tdcBench struct {
	u       *ui
	content fyne.CanvasObject
}

func newTDCBench(u *ui) *tdcBench {
	b := &tdcBench{u: u}
	falls := widget.NewCheck(tr("the numbers fall as the engine turns forwards"), nil)
	var again func()
	stop, run := b.sum([]string{tr("First reading"), tr("Second reading")}, []string{"°", "°"}, func(v []float64) ([]finding.Sentence, error) {
		return finding.TrueTDC(u.session.Sound(), v[0], v[1], falls.Checked)
	})
	again = run
	falls.OnChanged = func(bool) { again() }
	drop, _ := b.sum([]string{tr("Piston below TDC")}, []string{"mm"}, func(v []float64) ([]finding.Sentence, error) {
		return finding.DropToAngle(u.session.Sound(), v[0])
	})
	back, _ := b.sum([]string{tr("Crank from TDC")}, []string{"°"}, func(v []float64) ([]finding.Sentence, error) {
		return finding.AngleToDrop(u.session.Sound(), timing.Deg(v[0]))
	})
	damper, _ := b.sum([]string{tr("Damper diameter"), tr("Degrees to mark")}, []string{"mm", "°"}, func(v []float64) ([]finding.Sentence, error) {
		return finding.MarkDamper(v[0], timing.Deg(v[1]))
	})
	heading := func(text string) fyne.CanvasObject {
		l := widget.NewLabel(text)
		l.TextStyle.Bold = true
		l.Wrapping = fyne.TextWrapWord
		return l
	}
	b.content = container.NewVScroll(container.NewVBox(
		heading(tr("True TDC, by a positive stop or by equal drops on a dial indicator")), stop, falls,
		heading(tr("Piston drop and crank degrees")), drop, back,
		heading(tr("Marks on a damper")), damper,
	))
	return b
}

// sum is a row of number fields with the answer below it, worked out as soon as
// all of them hold numbers. again works it out once more.
func (b *tdcBench) sum(labels, units []string, work func([]float64) ([]finding.Sentence, error)) (content fyne.CanvasObject, again func()) {
	answer := prose()
	answer.Hide()
	fields := make([]*widgets.Field, len(labels))
	show := func() {
		values := make([]float64, len(fields))
		for i, f := range fields {
			v, err := parseNumber(f.Text())
			if err != nil {
				answer.Hide()
				return
			}
			values[i] = v
		}
		list, err := work(values)
		var words []string
		for _, s := range list {
			words = append(words, say(s))
		}
		if err != nil {
			words = []string{b.u.form.errorWords(err)}
		}
		answer.SetText(strings.Join(words, " "))
		answer.Show()
	}
	row := container.NewGridWithColumns(2)
	for i, label := range labels {
		f := widgets.NewField(units[i], 1)
		f.OnChanged = func(text string) {
			f.SetFault(fieldFault(text))
			show()
		}
		fields[i] = f
		row.Add(container.NewBorder(nil, nil, container.NewVBox(widget.NewLabel(label)), nil, f))
	}
	return container.NewVBox(row, answer), show
}

// fieldFault says why a text is no number; an empty one is none yet.
func fieldFault(text string) string {
	if strings.TrimSpace(text) == "" {
		return ""
	}
	if _, err := parseNumber(text); err != nil {
		return with("“{{.Text}}” is not a number", map[string]any{"Text": text})
	}
	return ""
}
