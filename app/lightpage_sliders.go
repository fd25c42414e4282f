package app

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
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
		air:   newValueSlider(u, tr("Air"), -30, 50, 1),
		rpm:   newValueSlider(u, tr("Cranking"), 60, 400, 5),
		ratio: newValueSlider(u, tr("Compression"), 8, 26, 0.1),
		wheel: newValueSlider(u, tr("Wheel error"), -60, 60, 0.5),
		back:  widget.NewButton(tr("As measured"), func() { p.suppose(nil) }),
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

// twoColumns puts objects in two columns, the first as wide as its share, or in
// one where there is little room for the size of the text.
type twoColumns struct {
	first float32
	width float32 // last laid out at
}

// roomForTwo is how wide two columns are at least, at ordinary text size.
const roomForTwo = 760

func (l *twoColumns) columns() int {
	if l.width < roomForTwo*theme.TextSize()/baseText {
		return 1
	}
	return 2
}

func (l *twoColumns) rowHeight(objects []fyne.CanvasObject) float32 {
	h := float32(0)
	for _, o := range objects {
		h = max(h, o.MinSize().Height)
	}
	return h
}

func (l *twoColumns) MinSize(objects []fyne.CanvasObject) fyne.Size {
	width := float32(0)
	for _, o := range objects {
		width = max(width, o.MinSize().Width)
	}
	n := l.columns()
	return fyne.NewSize(width, l.rowHeight(objects)*float32((len(objects)+n-1)/n))
}

func (l *twoColumns) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.width = size.Width
	n, h := l.columns(), l.rowHeight(objects)
	gap := theme.Padding()
	left := (size.Width - gap) * l.first
	for i, o := range objects {
		x, w := float32(0), size.Width
		switch {
		case n == 2 && i%2 == 0:
			w = left
		case n == 2:
			x, w = left+gap, size.Width-gap-left
		}
		o.Move(fyne.NewPos(x, float32(i/n)*h))
		o.Resize(fyne.NewSize(w, h))
	}
}

// valueSlider is a slider with what it moves to its left and its value in words
// to its right. Dragging it is one step for undo, and so is a key.
type valueSlider struct {
	content   *fyne.Container
	slider    *keySlider
	words     *lineLabel
	onChanged func(float64)

	lo, hi, step float64
	value        float64 // exactly: the knob stands on whole steps
}

func newValueSlider(u *desk, name string, lo, hi, step float64) *valueSlider {
	v := &valueSlider{slider: newKeySlider(lo, hi, step), words: newLineLabel(), lo: lo, hi: hi, step: step}
	v.slider.OnChanged = v.change
	v.slider.OnChangeEnded = func(float64) { u.session.Seal() }
	v.slider.onStep = func(steps float64) {
		v.change(min(max(v.value+steps*step, v.slider.Min), v.slider.Max))
		u.session.Seal()
	}
	v.slider.onKey = u.key
	v.content = container.New(sliderRow{least: 110}, container.New(sized{120}, widget.NewLabel(name)), v.slider, v.words)
	return v
}

func (v *valueSlider) change(to float64) {
	to = math.Round(to*1000) / 1000 // no tail of binary fractions in the job
	if to != v.value {
		v.onChanged(to)
	}
}

// show puts the knob where a value is. The range widens for a value outside it
// and does not narrow again under a drag.
func (v *valueSlider) show(at float64, words string) {
	v.value = at
	s := v.slider
	lo, hi := min(s.Min, math.Floor(at/v.step)*v.step), max(s.Max, math.Ceil(at/v.step)*v.step)
	if lo != s.Min || hi != s.Max || math.Abs(s.Value-at) > 0.51*v.step {
		s.Min, s.Max, s.Value = lo, hi, at // SetValue would take it for the end of the drag under way
		s.Refresh()
	}
	setText(&v.words.Label, words)
}
