package chart

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// PartOptions are the reader's choices for the part figure.
type PartOptions struct {
	From    timing.End         // the end it is seen from
	Feature figure.PartFeature // a job that has only the other shows that
	Old     *finding.Part      // what was measured on another part, such as the old one; nil: none
	Overlay bool               // the two over each other, not side by side
	Bare    bool               // angles have no sign: the figure shows to which side they lead
	Say     Say
}

// Part returns the part figure's input for a job. It needs [dowel] or [keyway];
// what else the job does not say is left out, and the caption says so.
func Part(j job.Job, o PartOptions) (figure.PartInput, error) {
	p, err := finding.PartOf(j)
	if err != nil {
		return figure.PartInput{}, err
	}
	feature := o.Feature
	switch {
	case p.Dowel == nil:
		feature = figure.KeywayFromThrow
	case p.Keyway == nil:
		feature = figure.DowelFromKeyway
	}
	w := partWords[feature]
	view := finding.ViewOf(j, o.From.String())
	in := figure.PartInput{
		View:    view,
		Feature: feature,
		Overlay: o.Overlay,
		Heading: j.Title,
		Title:   o.Say.title(w.title, w.untitled, j.Title),
		Keyway:  o.Say.text(wordKeyway),
		Throw:   o.Say.text(wordThrow),
		Parts:   []figure.MeasuredPart{measuredPart(p, feature, o.Say, o.Bare)},
	}
	if d := j.MeasuredDatum(); d != nil {
		section := "dowel"
		if feature == figure.KeywayFromThrow {
			section = "keyway"
		}
		if d.Reading(section) != nil {
			in.Parts[0].DrawingTag.Word = o.Say.text(wordOldPart)
		}
	}
	if o.Old != nil {
		in.Parts = append(in.Parts, measuredPart(*o.Old, feature, o.Say, o.Bare))
		in.Parts[0].Name, in.Parts[1].Name = o.Say.text(wordNewPart), o.Say.text(wordOldPart)
		if o.Overlay {
			in.Parts[0].MeasuredTag.Word, in.Parts[1].MeasuredTag.Word = in.Parts[0].Name, in.Parts[1].Name
		}
		if a, b := in.Parts[0].Measured, in.Parts[1].Measured; a != nil && b != nil {
			in.Apart = figure.Tag{Word: o.Say.text(wordNewFromOld), Value: o.Say.angle(timing.Difference(*b, *a, timing.Turn), o.Bare)}
		}
	}
	seen := wordSeenNose
	if view.From == timing.Flywheel {
		seen = wordSeenFlywheel
	}
	in.Caption = []string{o.Say.with(seen, map[string]any{"Sense": view.Rotates().Text()}) + " " + o.Say.text(w.counts)}
	if feature == figure.DowelFromKeyway && in.Parts[0].KeywayAt == nil {
		in.Caption = append(in.Caption, o.Say.text(wordKeywayOnTop))
	}
	says := o.Say.partFound(in.Parts[0], p.Mirrored && feature == figure.DowelFromKeyway, w)
	in.Caption = append(in.Caption, says)
	if in.Parts[0].Interval != nil {
		in.Caption = append(in.Caption, o.Say.text(wordBand))
	}
	in.Desc = described(o.Say.text(w.desc)+" "+says, j, o.Say)
	return in, nil
}

// measuredPart is one part with its labels.
func measuredPart(p finding.Part, feature figure.PartFeature, say Say, bare bool) figure.MeasuredPart {
	m := figure.MeasuredPart{
		DrawingTag:  figure.Tag{Word: say.text(wordAsDrawn)},
		MeasuredTag: figure.Tag{Word: say.text(wordAsMeasured)},
	}
	angle := p.Dowel
	if feature == figure.KeywayFromThrow {
		angle = p.Keyway
	} else if k := p.Keyway; k != nil {
		if m.KeywayAt = degOf(k.MeasuredDeg); m.KeywayAt == nil {
			m.KeywayAt = degOf(k.DrawingDeg)
		}
	}
	if angle == nil {
		return m
	}
	m.Drawing, m.Measured = degOf(angle.DrawingDeg), degOf(angle.MeasuredDeg)
	if m.Drawing != nil {
		m.DrawingTag.Value = say.angle(*m.Drawing, bare)
		m.MirroredTag = figure.Tag{Word: say.text(wordMirrored), Value: say.angle(-*m.Drawing, bare)}
	}
	if m.Measured != nil {
		m.MeasuredTag.Value = say.angle(*m.Measured, bare)
		if i := angle.Interval95Deg; i != nil {
			m.Interval = &[2]timing.Deg{timing.Deg(i[0]), timing.Deg(i[1])}
			if !bare { // there ± is the standard uncertainty, and the shaded sector is this
				m.MeasuredTag.Value = say.interval(*m.Measured, *m.Interval)
			}
		}
	}
	if m.Drawing != nil && m.Measured != nil {
		m.ErrorTag = figure.Tag{Word: say.text(wordOffBy), Value: say.angle(timing.Difference(*m.Drawing, *m.Measured, timing.Turn), bare)}
	}
	return m
}

// angle writes an angle in tenths: signed, or only how large it is.
func (say Say) angle(d timing.Deg, bare bool) string {
	if bare {
		d = timing.Deg(math.Abs(float64(d)))
	}
	return say.with(wordAngle, map[string]any{"Angle": phrase.Num{Value: float64(d), Decimals: 1}})
}

// interval writes a measured angle with its 95 % interval: half its width, or
// both ends where the angle does not stand in the middle. What is narrower than
// a tenth has its hundredths shown.
func (say Say) interval(value timing.Deg, i [2]timing.Deg) string {
	below, above := float64(value-i[0]), float64(i[1]-value)
	half := phrase.Num{Value: (below + above) / 2, Decimals: 1}
	if half.Value < 0.1 {
		half.Decimals = 2
	}
	data := map[string]any{"Angle": phrase.Num{Value: float64(value), Decimals: half.Decimals}, "Half": half}
	if math.Abs(above-below) > 0.1*half.Value+0.05 {
		data["Lo"], data["Hi"] = phrase.Num{Value: float64(i[0]), Decimals: half.Decimals}, phrase.Num{Value: float64(i[1]), Decimals: half.Decimals}
		return say.with(wordAngleBetween, data)
	}
	return say.with(wordAngleHalf, data)
}

// partFound is the finding about one part in one sentence.
func (say Say) partFound(p figure.MeasuredPart, mirrored bool, w partWording) string {
	switch {
	case p.Measured == nil:
		return say.text(w.unmeasured)
	case p.Drawing == nil:
		return say.text(w.undrawn)
	}
	by := phrase.Num{Value: float64(timing.Difference(*p.Drawing, *p.Measured, timing.Turn)), Decimals: 1}
	data := map[string]any{"By": phrase.Num{Value: math.Abs(by.Value), Decimals: by.Decimals}}
	switch {
	case mirrored:
		return say.with(wordFoundMirrored, data)
	case by.String() == "0":
		return say.text(w.right)
	case by.Value > 0:
		return say.with(w.ahead, data)
	}
	return say.with(w.behind, data)
}
