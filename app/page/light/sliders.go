package light

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// lightSliders are the four quantities of the light-off page.
type lightSliders struct {
	content                fyne.CanvasObject
	air, rpm, ratio, wheel *kit.ValueSlider
	back                   *widget.Button // to the measured wheel error
}

// Where a slider stands while the job has no value for it. What the estimate
// does without a value it says itself; these are only where a drag begins.
const (
	startAirC  = 15
	startRPM   = 200
	startRatio = 17
)

func newLightSliders(p *page) lightSliders {
	u := p.u
	supposes := func(at func(*finding.WhatIf) **float64) func(float64) {
		return func(v float64) { u.Suppose(func(w *finding.WhatIf) { *at(w) = &v }) }
	}
	s := lightSliders{
		air:   kit.NewValueSlider(u.Frame, tr("Air"), -30, 50, 1),
		rpm:   kit.NewValueSlider(u.Frame, tr("Cranking"), 60, 400, 5),
		ratio: kit.NewValueSlider(u.Frame, tr("Compression"), 8, 26, 0.1),
		wheel: kit.NewValueSlider(u.Frame, tr("Wheel error"), -60, 60, 0.5),
		back:  widget.NewButton(tr("As measured"), u.AsMeasured),
	}
	s.air.OnChanged = supposes(func(w *finding.WhatIf) **float64 { return &w.AirC })
	s.rpm.OnChanged = supposes(func(w *finding.WhatIf) **float64 { return &w.CrankingRPM })
	s.ratio.OnChanged = supposes(func(w *finding.WhatIf) **float64 { return &w.CompressionRatio })
	s.wheel.OnChanged = supposes(func(w *finding.WhatIf) **float64 { return &w.WheelErrorDeg })
	s.back.Disable() // and not hidden: the slider beside it must not change its length under a drag
	s.content = container.New(&kit.TwoColumns{First: 0.45}, s.air.Content, s.rpm.Content, s.ratio.Content,
		container.NewBorder(nil, nil, nil, s.back, s.wheel.Content))
	return s
}

// load shows a job, with what is supposed.
func (s lightSliders) load(p *page) {
	j, w := p.u.Shown(), p.u.Supposed()
	in := j.Injection
	if in == nil {
		in = &job.Injection{}
	}
	notGiven := tr("not given yet")
	room := with("{{.Where}}, what-if", map[string]any{"Where": kit.OnSide(-18.8)}) // all alike, for the knobs to stand in line
	for _, v := range []*kit.ValueSlider{s.air, s.rpm, s.ratio, s.wheel} {
		v.Words.Room = room
	}
	words := func(text string, supposed *float64) string {
		if supposed == nil {
			return text
		}
		return with("{{.Where}}, what-if", map[string]any{"Where": text})
	}
	celsius := func(v float64) string { return amount(quantity.Temperature(v, 1)) }
	if in.AirC.Given {
		s.air.Show(in.AirC.Value, words(celsius(in.AirC.Value), w.AirC))
	} else {
		s.air.Show(startAirC, with("{{.C}}, assumed", map[string]any{"C": celsius(startAirC)}))
	}
	if in.CrankingRPM.Given {
		speed := with("{{.V}} rpm", map[string]any{"V": phrase.Num{Value: in.CrankingRPM.Value, Decimals: 1}})
		s.rpm.Show(in.CrankingRPM.Value, words(speed, w.CrankingRPM))
	} else {
		s.rpm.Show(startRPM, notGiven)
	}
	if n := j.Engine.CompressionRatio; n.Given {
		s.ratio.Show(n.Value, words(number(n.Value, 2)+" : 1", w.CompressionRatio))
	} else {
		s.ratio.Show(startRatio, notGiven)
	}
	s.showWheel(p)
}

func (s lightSliders) showWheel(p *page) {
	state := func(text phrase.Text, at float64) string { return with(text, map[string]any{"Where": kit.OnSide(at)}) }
	supposed := p.u.Supposed().WheelErrorDeg
	switch {
	case supposed != nil:
		s.wheel.Show(*supposed, state("{{.Where}}, what-if", *supposed))
	case p.measured == nil:
		s.wheel.Show(0, tr("not known yet"))
	case p.u.Known().Dowel == nil || p.u.Known().Dowel.Measured == nil:
		s.wheel.Show(*p.measured, state("{{.Where}}, assumed", *p.measured))
	default:
		s.wheel.Show(*p.measured, state("{{.Where}}, measured", *p.measured))
	}
	kit.Able(s.back, p.u.Supposes())
}

// narrow takes the sliders back to their usual ranges.
func (s lightSliders) narrow() {
	for _, v := range []*kit.ValueSlider{s.air, s.rpm, s.ratio, s.wheel} {
		v.Slider.Min, v.Slider.Max = v.Lo, v.Hi
	}
}
