package cycle

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
)

// dowelSlider supposes the dowel elsewhere round the keyway, so that injection can
// be watched moving with it.
type dowelSlider struct {
	u       *desk.Desk
	content *fyne.Container
	Slider  *widget.Slider
	Words   *kit.LineLabel
}

func newDowelSlider(u *desk.Desk) *dowelSlider {
	d := &dowelSlider{u: u, Slider: widget.NewSlider(-float64(finding.DowelRange), float64(finding.DowelRange)), Words: kit.NewLineLabel()}
	d.Slider.Step = 0.1
	d.Slider.OnChanged = d.moved
	d.content = container.New(kit.SliderRow{}, widget.NewLabel(tr("Dowel at")), d.Slider, d.Words)
	return d
}

func (d *dowelSlider) moved(v float64) {
	if wheel, ok := finding.DowelError(d.u.Known(), timing.Deg(v)); ok {
		d.u.Suppose(func(w *finding.WhatIf) { w.WheelErrorDeg = &wheel })
	}
}

// load puts the slider where the dowel was measured or is supposed.
func (d *dowelSlider) load() {
	p, err := finding.PartOf(d.u.Known())
	if err != nil || p.Dowel == nil || p.Dowel.DrawingDeg == nil {
		d.Slider.Disable()
		d.Words.Room = ""
		d.Words.SetText(tr("no drawing of the dowel"))
		if err == nil && p.Dowel != nil && p.Dowel.MeasuredDeg != nil {
			d.Words.SetText(ofKeyway(*p.Dowel.MeasuredDeg))
		}
		return
	}
	d.Slider.Enable()
	drawing := *p.Dowel.DrawingDeg
	at, text := drawing, phrase.Text("{{.Drawing}} as drawn, not measured")
	if m := p.Dowel.MeasuredDeg; m != nil {
		at, text = *m, "{{.Where}}, drawn {{.Drawing}}"
	}
	if wheel := d.u.Supposed().WheelErrorDeg; wheel != nil {
		if v, ok := desk.DowelAt(d.u.Known(), *wheel); ok {
			at, text = float64(v), "{{.Where}}, what-if; drawn {{.Drawing}}"
		}
	}
	d.reach(at, drawing)
	if math.Abs(d.Slider.Value-at) > 0.051 { // SetValue would take it for the end of the drag under way
		d.Slider.Value = at
		d.Slider.Refresh()
	}
	words := func(at float64) string {
		return with(text, map[string]any{"Where": ofKeyway(at), "Drawing": kit.OnSide(drawing)})
	}
	d.Words.Room = with("{{.Where}}, what-if; drawn {{.Drawing}}", map[string]any{"Where": ofKeyway(-188.8), "Drawing": kit.OnSide(-188.8)})
	d.Words.SetText(words(at))
	d.content.Refresh()
}

// reach widens the slider where a place lies beyond it.
func (d *dowelSlider) reach(places ...float64) {
	reach := float64(finding.DowelRange)
	for _, v := range places {
		if math.Abs(v) > reach {
			reach = 180
		}
	}
	if d.Slider.Max != reach {
		d.Slider.Min, d.Slider.Max = -reach, reach
		d.Slider.Refresh()
	}
}

// ofKeyway says where an angle from the keyway lies. Ahead is in the direction
// of rotation, so no end to look from need be named.
func ofKeyway(angle float64) string {
	size := phrase.Num{Value: math.Abs(angle), Decimals: 1}
	text := phrase.Text("{{.Size}}° ahead of the keyway")
	switch {
	case size.String() == "0":
		text = "at the keyway"
	case angle < 0:
		text = "{{.Size}}° behind the keyway"
	}
	return with(text, map[string]any{"Size": size})
}
