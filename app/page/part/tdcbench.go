package part

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/widgets"
)

// tdcBench finds top dead centre from two readings, turns piston drop into
// degrees and back, and says how far apart marks stand on a damper. Nothing of it
// goes into the job.
type tdcBench struct {
	u       *desk.Desk
	content fyne.CanvasObject
	sums    []func() // each works itself out once more
}

func newTDCBench(u *desk.Desk) *tdcBench {
	b := &tdcBench{u: u}
	falls := kit.NewCheck(tr("the numbers fall as the engine turns forwards"), func(bool) { b.load() })
	rows := container.NewVBox(
		kit.Heading(tr("True TDC")),
		kit.Wrapped(tr("With a stop in the bore, turn the engine by hand up to it from either side and read the degree wheel at both. Or read it at equal drops on a dial indicator before and after the top.")),
		b.sum([]string{tr("First reading"), tr("Second reading")}, []quantity.Unit{"°", "°"}, func(v []float64) ([]phrase.Sentence, error) {
			return finding.TrueTDC(u.Session.Sound(), v[0], v[1], falls.Checked)
		}),
		falls,
		kit.Heading(tr("Piston drop and crank degrees")),
		b.sum([]string{tr("Piston below TDC")}, []quantity.Unit{quantity.MM}, func(v []float64) ([]phrase.Sentence, error) {
			return finding.DropToAngle(u.Session.Sound(), v[0])
		}),
		b.sum([]string{tr("Crank from TDC")}, []quantity.Unit{"°"}, func(v []float64) ([]phrase.Sentence, error) {
			return finding.AngleToDrop(u.Session.Sound(), timing.Deg(v[0]))
		}),
		kit.Heading(tr("Marks on a damper")),
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
		name := container.New(kit.Sized{Width: 140}, widget.NewLabel(label))
		rows.Add(container.NewBorder(nil, nil, container.NewVBox(name), nil, f))
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
