package chart

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/phrase"
)

const wordDrawnCarried phrase.Text = "No dowel was measured: the wheel is drawn as if its dowel was set out from the measured keyway."

// sits puts the wheel where the job has it, and says in the caption what of that
// nobody has measured.
func sits(in *figure.WheelInput, j job.Job, say Say) {
	w, err := finding.WheelErrorOf(j)
	right := (phrase.Num{Value: float64(w.Value), Decimals: 1}).String() == "0"
	basis := finding.BasisOf(j)
	var caption phrase.Text
	switch {
	case err != nil:
		caption = wordNotWorkedOut
	case basis == known.Assumed && right:
		caption = wordNotMeasured
	case basis == known.Assumed:
		caption = wordDrawnCarried
	}
	if caption != "" && in.Positions > 0 {
		in.Caption = append(in.Caption, say.text(caption))
	}
	if err != nil {
		return
	}
	in.Error = w.Value
	if !right {
		in.Words.Error = say.number(float64(w.Value), 1) + "°"
	}
	if basis == known.Supposed {
		in.DowelMeasured = supposedDowel(*in, w.Value)
		in.Words.DowelMeasured = say.text(wordDowelSupposed)
	}
}

// supposedDowel is where the dowel is with the wheel ahead by so much, from the
// keyway; nil without a drawing.
func supposedDowel(in figure.WheelInput, ahead timing.Deg) *timing.Deg {
	if in.DowelDrawing == nil {
		return nil
	}
	at := *in.DowelDrawing + ahead
	if in.KeywayDrawing != nil && in.KeywayMeasured != nil {
		at -= *in.KeywayMeasured - *in.KeywayDrawing
	}
	at = timing.WrapSigned(at, timing.Turn)
	return &at
}
