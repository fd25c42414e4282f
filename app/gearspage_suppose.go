package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/job"
)

// supposedTeeth tries a gear put in teeth out, which changes the drawing and the
// sentences and not the job.
type supposedTeeth struct {
	content    fyne.CanvasObject
	words      *widget.Label
	less, more *tipButton
	back, take *widget.Button
}

func newSupposedTeeth(p *gearsPage) supposedTeeth {
	step := func(by int) func() {
		return func() {
			n := p.job.Gears.CamTeethOut + by
			p.trySupposed(&n)
		}
	}
	s := supposedTeeth{
		words: widget.NewLabel(""),
		less:  p.u.newTipButton(theme.ContentRemoveIcon(), tr("One tooth further behind"), step(-1)),
		more:  p.u.newTipButton(theme.ContentAddIcon(), tr("One tooth further ahead"), step(+1)),
		back:  widget.NewButton(tr("As in the job"), func() { p.trySupposed(nil) }),
	}
	s.words.Alignment = fyne.TextAlignCenter
	s.words.TextStyle.Bold = true
	s.take = widget.NewButton(tr("It was found so: put it into the job"), func() {
		found := p.job.Gears.CamTeethOut
		p.supposed = nil
		p.u.edit("gears.cam_teeth_out", func(j *job.Job) { gears(j).CamTeethOut = found })
		p.u.session.Seal()
	})
	heading := wrapped(tr("What if a gear were put in teeth out? Ahead and behind are meant of the cam."))
	s.content = container.NewVBox(heading,
		container.NewBorder(nil, nil, s.less, s.more, s.words), s.back, elastic(s.take, 190))
	return s
}

// load shows what is supposed, and greys out what cannot be done.
func (s supposedTeeth) load(p *gearsPage) {
	g := p.job.Gears
	if g == nil {
		setText(s.words, tr("no gears yet"))
	} else {
		setText(s.words, teethOut(g.CamTeethOut))
	}
	able(s.less, g != nil && g.CamTeethOut > -g.CamTeeth)
	able(s.more, g != nil && g.CamTeethOut < g.CamTeeth)
	able(s.back, p.supposed != nil)
	able(s.take, p.supposed != nil)
}
