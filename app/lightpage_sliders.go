package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
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

func newLightSliders(p *lightPage) lightSliders {
	u := p.u
	edited := func(what string, set func(*job.Job, job.Number)) func(float64) {
		return func(v float64) { u.Edit(what, func(j *job.Job) { set(j, job.Num(v)) }) }
	}
	s := lightSliders{
		air:   kit.NewValueSlider(u.Frame, tr("Air"), -30, 50, 1),
		rpm:   kit.NewValueSlider(u.Frame, tr("Cranking"), 60, 400, 5),
		ratio: kit.NewValueSlider(u.Frame, tr("Compression"), 8, 26, 0.1),
		wheel: kit.NewValueSlider(u.Frame, tr("Wheel error"), -60, 60, 0.5),
		back:  widget.NewButton(tr("As measured"), func() { p.suppose(nil) }),
	}
	for _, v := range []*kit.ValueSlider{s.air, s.rpm, s.ratio, s.wheel} {
		v.OnEnded = func() { u.Session.Seal() }
	}
	s.air.OnChanged = edited("air temperature moved", func(j *job.Job, n job.Number) { injection(j).AirC = n })
	s.rpm.OnChanged = edited("cranking speed moved", func(j *job.Job, n job.Number) { injection(j).CrankingRPM = n })
	s.ratio.OnChanged = edited("compression moved", func(j *job.Job, n job.Number) { j.Engine.CompressionRatio = n })
	s.wheel.OnChanged = func(v float64) { p.suppose(&v) }
	s.back.Disable() // and not hidden: the slider beside it must not change its length under a drag
	s.content = container.New(&kit.TwoColumns{First: 0.45}, s.air.Content, s.rpm.Content, s.ratio.Content,
		container.NewBorder(nil, nil, nil, s.back, s.wheel.Content))
	return s
}

// load shows a job, and the wheel error the page goes by.
func (s lightSliders) load(j job.Job, p *lightPage) {
	in := j.Injection
	if in == nil {
		in = &job.Injection{}
	}
	notGiven := tr("not given yet")
	room := with("{{.Where}}, measured", map[string]any{"Where": kit.OnSide(-18.8)}) // all alike, for the knobs to stand in line
	for _, v := range []*kit.ValueSlider{s.air, s.rpm, s.ratio, s.wheel} {
		v.Words.Room = room
	}
	celsius := func(v float64) string {
		return amount(quantity.Temperature(v, 1))
	}
	if words := celsius(in.AirC.Value); in.AirC.Given {
		s.air.Show(in.AirC.Value, words)
	} else {
		s.air.Show(startAirC, with("{{.C}}, assumed", map[string]any{"C": celsius(startAirC)}))
	}
	speed := func(v float64) string {
		return with("{{.V}} rpm", map[string]any{"V": finding.Num{Value: v, Decimals: 1}})
	}
	if in.CrankingRPM.Given {
		s.rpm.Show(in.CrankingRPM.Value, speed(in.CrankingRPM.Value))
	} else {
		s.rpm.Show(startRPM, notGiven)
	}
	if n := j.Engine.CompressionRatio; n.Given {
		s.ratio.Show(n.Value, number(n.Value, 2)+" : 1")
	} else {
		s.ratio.Show(startRatio, notGiven)
	}
	s.showWheel(p)
}

func (s lightSliders) showWheel(p *lightPage) {
	state := func(text string, at float64) string { return with(text, map[string]any{"Where": kit.OnSide(at)}) }
	const supposed = "{{.Where}}, supposed"
	switch {
	case p.supposed != nil:
		s.wheel.Show(*p.supposed, state(supposed, *p.supposed))
	case p.measured == nil:
		s.wheel.Show(0, tr("not known yet"))
	case p.u.Shown().Dowel == nil || p.u.Shown().Dowel.Measured == nil:
		s.wheel.Show(*p.measured, state("{{.Where}}, assumed", *p.measured))
	default:
		s.wheel.Show(*p.measured, state("{{.Where}}, measured", *p.measured))
	}
	switch {
	case p.supposed == nil && !s.back.Disabled():
		s.back.Disable()
	case p.supposed != nil && s.back.Disabled():
		s.back.Enable()
	}
}

// narrow takes the sliders back to their usual ranges.
func (s lightSliders) narrow() {
	for _, v := range []*kit.ValueSlider{s.air, s.rpm, s.ratio, s.wheel} {
		v.Slider.Min, v.Slider.Max = v.Lo, v.Hi
	}
}
