package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/quantity"
)

// lightSliders are the four quantities of the light-off page.
type lightSliders struct {
	content                fyne.CanvasObject
	air, rpm, ratio, wheel *valueSlider
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
		return func(v float64) { u.edit(what, func(j *job.Job) { set(j, job.Num(v)) }) }
	}
	s := lightSliders{
		air:   newValueSlider(u.frame, tr("Air"), -30, 50, 1),
		rpm:   newValueSlider(u.frame, tr("Cranking"), 60, 400, 5),
		ratio: newValueSlider(u.frame, tr("Compression"), 8, 26, 0.1),
		wheel: newValueSlider(u.frame, tr("Wheel error"), -60, 60, 0.5),
		back:  widget.NewButton(tr("As measured"), func() { p.suppose(nil) }),
	}
	for _, v := range []*valueSlider{s.air, s.rpm, s.ratio, s.wheel} {
		v.onEnded = func() { u.session.Seal() }
	}
	s.air.onChanged = edited("air temperature moved", func(j *job.Job, n job.Number) { injection(j).AirC = n })
	s.rpm.onChanged = edited("cranking speed moved", func(j *job.Job, n job.Number) { injection(j).CrankingRPM = n })
	s.ratio.onChanged = edited("compression moved", func(j *job.Job, n job.Number) { j.Engine.CompressionRatio = n })
	s.wheel.onChanged = func(v float64) { p.suppose(&v) }
	s.back.Disable() // and not hidden: the slider beside it must not change its length under a drag
	s.content = container.New(&twoColumns{first: 0.45}, s.air.content, s.rpm.content, s.ratio.content,
		container.NewBorder(nil, nil, nil, s.back, s.wheel.content))
	return s
}

// load shows a job, and the wheel error the page goes by.
func (s lightSliders) load(j job.Job, p *lightPage) {
	in := j.Injection
	if in == nil {
		in = &job.Injection{}
	}
	notGiven := tr("not given yet")
	room := with("{{.Where}}, measured", map[string]any{"Where": onSide(-18.8)}) // all alike, for the knobs to stand in line
	for _, v := range []*valueSlider{s.air, s.rpm, s.ratio, s.wheel} {
		v.words.room = room
	}
	celsius := func(v float64) string {
		return amount(quantity.Temperature(v, 1))
	}
	if words := celsius(in.AirC.Value); in.AirC.Given {
		s.air.show(in.AirC.Value, words)
	} else {
		s.air.show(startAirC, with("{{.C}}, assumed", map[string]any{"C": celsius(startAirC)}))
	}
	speed := func(v float64) string {
		return with("{{.V}} rpm", map[string]any{"V": finding.Num{Value: v, Decimals: 1}})
	}
	if in.CrankingRPM.Given {
		s.rpm.show(in.CrankingRPM.Value, speed(in.CrankingRPM.Value))
	} else {
		s.rpm.show(startRPM, notGiven)
	}
	if n := j.Engine.CompressionRatio; n.Given {
		s.ratio.show(n.Value, number(n.Value, 2)+" : 1")
	} else {
		s.ratio.show(startRatio, notGiven)
	}
	s.showWheel(p)
}

func (s lightSliders) showWheel(p *lightPage) {
	state := func(text string, at float64) string { return with(text, map[string]any{"Where": onSide(at)}) }
	const supposed = "{{.Where}}, supposed"
	switch {
	case p.supposed != nil:
		s.wheel.show(*p.supposed, state(supposed, *p.supposed))
	case p.measured == nil:
		s.wheel.show(0, tr("not known yet"))
	case p.u.shown().Dowel == nil || p.u.shown().Dowel.Measured == nil:
		s.wheel.show(*p.measured, state("{{.Where}}, assumed", *p.measured))
	default:
		s.wheel.show(*p.measured, state("{{.Where}}, measured", *p.measured))
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
	for _, v := range []*valueSlider{s.air, s.rpm, s.ratio, s.wheel} {
		v.slider.Min, v.slider.Max = v.lo, v.hi
	}
}
