package gears

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/job"
)

// supposedTeeth tries a gear put in teeth out, which changes the drawing and the
// sentences and not the job.
type supposedTeeth struct {
	content    fyne.CanvasObject
	words      *widget.Label
	less, more *kit.TipButton
	back, take *widget.Button
}

func newSupposedTeeth(p *page) supposedTeeth {
	step := func(by int) func() {
		return func() {
			n := p.job.Gears.CamTeethOut + by
			p.trySupposed(&n)
		}
	}
	s := supposedTeeth{
		words: widget.NewLabel(""),
		less:  p.u.NewTipButton(theme.ContentRemoveIcon(), tr("One tooth further behind"), step(-1)),
		more:  p.u.NewTipButton(theme.ContentAddIcon(), tr("One tooth further ahead"), step(+1)),
		back:  widget.NewButton(tr("As in the job"), func() { p.trySupposed(nil) }),
	}
	s.words.Alignment = fyne.TextAlignCenter
	s.words.TextStyle.Bold = true
	s.take = widget.NewButton(tr("Found like this: enter it in the job"), func() {
		found := p.job.Gears.CamTeethOut
		p.u.Edit("gears.cam_teeth_out", func(j *job.Job) { form.Gears(j).CamTeethOut = found })
		p.u.Session.Seal()
	})
	heading := kit.Wrapped(tr("What if a gear is fitted out of mesh? Ahead and behind refer to the camshaft."))
	s.content = container.NewVBox(heading,
		container.NewBorder(nil, nil, s.less, s.more, s.words), s.back, kit.Elastic(s.take, 190))
	return s
}

// load shows what is supposed, and greys out what cannot be done.
func (s supposedTeeth) load(p *page) {
	g := p.job.Gears
	if g == nil {
		kit.SetText(s.words, tr("no gears yet"))
	} else {
		kit.SetText(s.words, teethOut(g.CamTeethOut))
	}
	kit.Able(s.less, g != nil && g.CamTeethOut > -g.CamTeeth)
	kit.Able(s.more, g != nil && g.CamTeethOut < g.CamTeeth)
	kit.Able(s.back, p.u.Supposed().CamTeethOut != nil)
	kit.Able(s.take, p.u.Supposed().CamTeethOut != nil)
}
