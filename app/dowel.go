package app

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// dowelSlider moves the measured dowel round the keyway, so that injection can
// be watched moving with it.
type dowelSlider struct {
	u       *desk.Desk
	content *fyne.Container
	slider  *widget.Slider
	words   *kit.LineLabel
}

// dowelEdit names the edits of the slider for undo: one drag is one step.
const dowelEdit = "dowel moved"

func newDowelSlider(u *desk.Desk) *dowelSlider {
	d := &dowelSlider{u: u, slider: widget.NewSlider(-float64(finding.DowelRange), float64(finding.DowelRange)), words: kit.NewLineLabel()}
	d.slider.Step = 0.1
	d.slider.OnChanged = d.moved
	d.slider.OnChangeEnded = func(float64) { u.Session.Seal() }
	d.content = container.New(kit.SliderRow{}, widget.NewLabel(tr("Dowel at")), d.slider, d.words)
	return d
}

func (d *dowelSlider) moved(v float64) {
	u := d.u
	next := finding.Remeasure(u.Session.Sound(), timing.Deg(v))
	u.Edit(dowelEdit, func(j *job.Job) { j.Dowel = next.Dowel })
}

// load puts the slider where the dowel was measured.
func (d *dowelSlider) load() {
	p, err := finding.PartOf(d.u.Shown())
	if err != nil || p.Dowel == nil || p.Dowel.MeasuredDeg == nil || !finding.CanRemeasure(d.u.Session.Sound()) {
		d.slider.Disable()
		d.words.Room = ""
		d.words.SetText(tr("no dowel measured"))
		if err == nil && p.Dowel != nil && p.Dowel.MeasuredDeg != nil { // marked on a photograph: it cannot be slid
			d.words.SetText(ofKeyway(*p.Dowel.MeasuredDeg))
		}
		return
	}
	d.slider.Enable()
	at := *p.Dowel.MeasuredDeg
	reach := float64(finding.DowelRange)
	for _, v := range []*float64{p.Dowel.MeasuredDeg, p.Dowel.DrawingDeg} {
		if v != nil && (*v > reach || *v < -reach) {
			reach = 180
		}
	}
	if d.slider.Max != reach {
		d.slider.Min, d.slider.Max = -reach, reach
		d.slider.Refresh()
	}
	if d.slider.Value != at { // SetValue would take it for the end of the drag under way
		d.slider.Value = at
		d.slider.Refresh()
	}
	words, room := ofKeyway(at), ofKeyway(-188.8)
	if p.Dowel.DrawingDeg != nil {
		drawn := func(measured string, at float64) string {
			return with("{{.Measured}}, drawn {{.Drawing}}", map[string]any{"Measured": measured, "Drawing": kit.OnSide(at)})
		}
		words, room = drawn(words, *p.Dowel.DrawingDeg), drawn(room, -188.8)
	}
	d.words.Room = room
	d.words.SetText(words)
	d.content.Refresh()
}

// ofKeyway says where an angle from the keyway lies. Ahead is in the direction
// of rotation, so no end to look from need be named.
func ofKeyway(angle float64) string {
	size := finding.Num{Value: math.Abs(angle), Decimals: 1}
	text := "{{.Size}}° ahead of the keyway"
	switch {
	case size.String() == "0":
		text = "at the keyway"
	case angle < 0:
		text = "{{.Size}}° behind the keyway"
	}
	return with(text, map[string]any{"Size": size})
}
