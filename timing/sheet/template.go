package sheet

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
)

// The words of a drilling template.
const (
	wordTemplate      phrase.Text = "Drilling template for the dowel, circle of {{.Diameter}}"
	wordTemplateLay   phrase.Text = "Cut it out, put the cross on the shaft's axis and the line marked K on the middle of the keyway; the printed side is what is seen from the nose."
	wordTemplateFly   phrase.Text = "Cut it out, put the cross on the shaft's axis and the line marked K on the middle of the keyway; the printed side is what is seen from the flywheel."
	wordTemplatePunch phrase.Text = "Punch only after the distances were checked with a caliper: paper is good for half a millimetre."
	wordTemplateIs    phrase.Text = "as it is"
	wordTemplateNew   phrase.Text = "new"
	wordTemplateKey   phrase.Text = "K"
	wordTemplateFig   phrase.Text = "Seen towards the face, keyway up; full line the new place, dashed the present one."
	wordTemplateWhat  phrase.Text = "What it is to come to"
)

// mostTemplateMM is the largest circle of a template: what fits the papers whole.
const mostTemplateMM = 150.0

// Template is the hole to be drilled anew, to true scale on a paper. Its error is one line
// about the sizes, or [job.Faults].
func Template(in Scale, h Hole, p Paper) (Document, error) {
	in.DiameterMM = 2 * *h.remedy.RadiusMM
	if err := in.check(1, mostTemplateMM); err != nil {
		return Document{}, err
	}
	in.Job = nil // it is about the part as it is, not about when cylinders fire
	s, err := newScaler(in, wordTemplate)
	if err != nil {
		return Document{}, err
	}
	lay := wordTemplateLay
	if h.view.From == timing.Flywheel {
		lay = wordTemplateFly
	}
	s.section(wordTemplateWhat)
	s.add(s.list(h.remedy.Says))
	s.instructions(s.text(lay), s.text(wordTemplatePunch))
	s.add(Figure{Name: "template", Drawing: h.drawing(s), Caption: s.text(wordTemplateFig), True: true})
	s.section(wordCautions)
	s.add(s.cautions(finding.Cautions))
	return *s.doc, nil
}

// drawing is the template, y down.
func (h Hole) drawing(s scaler) figure.Drawing {
	k := mm * s.in.factor()
	radius := *h.remedy.RadiusMM
	edge := 1.3*radius + h.dowelMM()
	d := figure.Drawing{W: 2 * edge * k, H: 2 * edge * k, Title: s.doc.Title, Desc: s.text(wordTemplateFig)}
	place := func(deg, r float64) (x, y float64) {
		x, y = h.at(deg, r)
		return (edge + x) * k, (edge - y) * k
	}
	stroke := func(segs []figure.Seg, role figure.Role, w figure.Weight) {
		d.Shapes = append(d.Shapes, figure.Path{Segs: segs, Stroke: role, Weight: w})
	}
	cx, cy := place(0, 0)
	stroke(figure.Line(cx-8, cy, cx+8, cy), figure.Ink, figure.Hair)
	stroke(figure.Line(cx, cy-8, cx, cy+8), figure.Ink, figure.Hair)
	stroke(figure.Circle(cx, cy, radius*k), figure.Ink, figure.Hair)
	label := func(deg, r float64, words string) {
		x, y := place(deg, r)
		d.Shapes = append(d.Shapes, figure.Text{X: x, Y: y, S: words, Size: 9, H: figure.Centre, Role: figure.Ink})
	}
	tx, ty := place(0, 1.18*radius)
	stroke(figure.Line(cx, cy, tx, ty), figure.Ink, figure.Hair)
	label(0, 1.22*radius, s.text(wordTemplateKey))
	for _, v := range []struct {
		deg  float64
		role figure.Role
		word phrase.Text
	}{{h.remedy.IsDeg, figure.Ghost, wordTemplateIs}, {h.remedy.ShouldDeg, figure.Ink, wordTemplateNew}} {
		x, y := place(v.deg, radius)
		fx, fy := place(v.deg, 1.12*radius)
		stroke(figure.Line(cx, cy, fx, fy), v.role, figure.Hair)
		stroke(figure.Circle(x, y, h.dowelMM()/2*k), v.role, figure.Fine)
		label(v.deg, 1.22*radius, s.text(v.word))
	}
	return d
}

// whatNow is what would put a wrong part right, what is at risk, and what to ask of the
// supplier; nothing where nothing is to be put right.
func (m maker) whatNow(ask bool) {
	r, err := finding.RemedyOf(m.Angles)
	if err != nil || r == nil {
		return
	}
	if ask {
		m.section(wordAsk)
		m.add(m.list(r.Ask))
		return
	}
	m.section(wordWhatNow)
	m.add(m.list(r.Says))
	m.within(wordAsk)
	m.add(m.list(r.Ask))
}

const (
	wordWhatNow phrase.Text = "What now"
	wordAsk     phrase.Text = "To ask of the supplier"
)
