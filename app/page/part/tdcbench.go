package part

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/widgets"
)

// tdcBench finds top dead centre from two readings, turns piston drop into
// degrees and back, and says how far apart marks stand on a damper.
type tdcBench struct {
	u       *desk.Desk
	content fyne.CanvasObject
	tdc     *trueTDC
	sums    []func() // each works itself out once more
}

func newTDCBench(u *desk.Desk) *tdcBench {
	b := &tdcBench{u: u}
	b.tdc = newTrueTDC(u)
	rows := container.NewVBox(
		b.tdc.content,
		kit.Heading(tr("Piston drop and crank degrees")),
		b.sum([]string{tr("Piston below TDC")}, []quantity.Unit{quantity.MM}, func(v []float64) ([]phrase.Sentence, error) {
			return finding.DropToAngle(u.Session.Sound(), v[0])
		}),
		b.sum([]string{tr("Crank degrees from TDC")}, []quantity.Unit{"°"}, func(v []float64) ([]phrase.Sentence, error) {
			return finding.AngleToDrop(u.Session.Sound(), timing.Deg(v[0]))
		}),
		kit.Heading(tr("Marks on a vibration damper")),
		b.sum([]string{tr("Diameter"), tr("Degrees to mark")}, []quantity.Unit{quantity.MM, "°"}, func(v []float64) ([]phrase.Sentence, error) {
			return finding.MarkDamper(v[0], timing.Deg(v[1]))
		}),
		kit.Heading(tr("Cautions")), kit.Cautions(),
	)
	b.content = container.NewVScroll(container.New(&kit.BesideBar{}, rows))
	return b
}

// load works everything out for the present job.
func (b *tdcBench) load() {
	b.tdc.load()
	for _, again := range b.sums {
		again()
	}
}

// sum is a column of number fields, kept in the units given, with the answer below it, worked out as soon as
// all of them hold numbers.
func (b *tdcBench) sum(labels []string, units []quantity.Unit, work func([]float64) ([]phrase.Sentence, error)) fyne.CanvasObject {
	answer := kit.Prose()
	answer.TextStyle.Bold = true
	answer.Hide()
	fields := make([]*widgets.Field, len(labels))
	show := func() {
		values := make([]float64, len(fields))
		for i, f := range fields {
			v, err := finding.ParseAngle(f.Text()) // "38 btdc" too
			if err != nil {
				answer.Hide()
				return
			}
			values[i] = voice().Units().Keep(v, units[i])
		}
		list, err := work(values)
		var words []string
		for _, s := range list {
			words = append(words, say(s))
		}
		if err != nil {
			words = []string{b.u.ErrorWords(err)}
		}
		answer.SetText(strings.Join(words, " "))
		answer.Show()
	}
	b.sums = append(b.sums, show)
	rows := container.NewVBox()
	for i, label := range labels {
		f := widgets.NewField(string(voice().Units().For(units[i])), 1)
		f.OnChanged = func(text string) {
			f.SetFault(fieldFault(text))
			show()
		}
		fields[i] = f
		rows.Add(named(label, f))
	}
	return container.NewVBox(rows, answer)
}

// fieldFault says why a text is no number; an empty one is none yet.
func fieldFault(text string) string {
	if strings.TrimSpace(text) == "" {
		return ""
	}
	if _, err := finding.ParseAngle(text); err != nil {
		return with("“{{.Text}}” is not a number", map[string]any{"Text": text})
	}
	return ""
}
