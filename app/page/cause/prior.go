package cause

import (
	"maps"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// priorEditor shows how probable a cause is before anything is seen, and takes the
// reader's own number instead.
type priorEditor struct {
	p       *page
	content *fyne.Container
	field   *widgets.Field
	usual   *widget.Button
	reset   *widget.Button
	words   *widget.Label
	fault   string // by name; "" for two at once
}

func newPriorEditor(p *page) *priorEditor {
	e := &priorEditor{p: p, field: widgets.NewField("%", 1), words: kit.Prose()}
	e.field.OnChanged = func(text string) { e.check(text) }
	e.field.OnDone = e.done
	e.field.OnWheel = func(*fyne.ScrollEvent) {}
	e.usual = widget.NewButton("", func() { e.set(nil) })
	e.reset = widget.NewButton(tr("Reset to defaults"), func() {
		p.priors.replace(map[string]float64{})
		p.setOwn()
	})
	row := container.New(&kit.Flow{}, container.New(kit.Sized{Width: 130}, e.field), e.usual)
	e.content = container.NewVBox(widget.NewSeparator(), e.words, row, container.NewHBox(e.reset))
	e.content.Hide()
	return e
}

// load shows a fault's prior; one is false for two faults at once.
func (e *priorEditor) load(fault string, one bool) {
	if e.content.Hidden == one {
		e.content.Hidden = !one
		e.content.Refresh()
	}
	if !one {
		e.fault = ""
		return
	}
	same := fault == e.fault
	e.fault = fault
	_, given := e.p.priors.of[fault]
	if shown := number(100*e.shown(), 2); !same || !e.field.Focused() && !form.SameNumber(e.field.Text(), shown) {
		e.field.SetFault("")
		e.field.SetText(shown)
	}
	kit.SetText(e.words, tr("Of 100 repaired engines that gave trouble, how many have this fault? Your number replaces the default, which is a rule of thumb without a source. It is kept on this computer, not in the job."))
	usual := with("Default: {{.P}} %", map[string]any{"P": phrase.Num{Value: 100 * usualPrior(fault), Decimals: 1}})
	if e.usual.Text != usual {
		e.usual.SetText(usual)
	}
	kit.Able(e.usual, given)
	kit.SetShown(e.reset, len(e.p.priors.of) > 0)
}

func usualPrior(fault string) float64 {
	for _, f := range cause.Faults() {
		if f.Name == fault {
			return f.Prior
		}
	}
	return 0
}

// check says why what was typed cannot be a prior; ok tells whether it can be, or
// nothing was typed.
func (e *priorEditor) check(text string) (n job.Number, ok bool) {
	n, err := form.ReadNumber(text, "")
	if err != nil {
		e.field.SetFault(err.Error())
		return n, false
	}
	try := maps.Clone(e.p.priors.of)
	try[e.fault] = n.Value / 100
	message := ""
	switch {
	case !n.Given:
	case n.Value < 0 || n.Value > 100:
		message = outside(0, 100, "")
	case finding.CheckCauseOptions(finding.CauseOptions{Priors: try}) != nil:
		message = tr("With your other numbers that is more than 100 %.")
	}
	e.field.SetFault(message)
	return n, message == ""
}

// done takes the reader's own number.
func (e *priorEditor) done() {
	n, ok := e.check(e.field.Text())
	switch {
	case e.fault == "" || !ok:
	case !n.Given:
		e.set(nil)
	default:
		if v := n.Value / 100; math.Abs(v-e.shown()) > 1e-9 {
			e.set(&v)
		}
	}
}

// shown is the prior that counts now.
func (e *priorEditor) shown() float64 {
	if v, own := e.p.priors.of[e.fault]; own {
		return v
	}
	return usualPrior(e.fault)
}

func (e *priorEditor) set(v *float64) {
	if e.fault == "" {
		return
	}
	e.p.causes.picked = e.fault // which may now stand elsewhere
	e.p.priors.set(e.fault, v)
	e.p.setOwn()
}
