package chart

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

const (
	wordToothBefore phrase.Text = "Shown at TDC of cylinder 1. Tooth 1 passes the sensor {{.By}}° before it."
	wordToothAfter  phrase.Text = "Shown at TDC of cylinder 1. Tooth 1 passes the sensor {{.By}}° after it."
	wordToothAt     phrase.Text = "Shown at TDC of cylinder 1. Tooth 1 is at the sensor."
)

// ToothOne is the crank sensor wheel alone with cylinder 1 at TDC, as on a correct engine:
// tooth 1 lies beyond the sensor by the angle before TDC at which it passes. ok is false
// where the job does not say both. Desc says the angle in words, within a turn.
func ToothOne(j job.Job, from timing.End, say Say) (in figure.WheelInput, ok bool) {
	w := finding.CrankWheelOf(j)
	if w == nil || w.Positions == 0 {
		return in, false
	}
	view := finding.ViewOf(j, from.String())
	all := words(view, say)
	by, text := w.FirstToothBTDC, wordToothBefore
	if by < 0 {
		by, text = -by, wordToothAfter
	}
	if by = timing.Wrap(by, timing.Turn); by == 0 {
		text = wordToothAt
	}
	at := say.with(text, map[string]any{"By": phrase.Num{Value: float64(by), Decimals: 1}})
	return figure.WheelInput{View: view, Positions: w.Positions, Missing: w.Missing, FirstBTDC: w.FirstToothBTDC, Title: at, Desc: at,
		Words: figure.WheelWords{TDC: all.TDC, Sensor: all.Sensor, Rotation: all.Rotation, Tooth1: all.Tooth1, Gap: all.Gap, Throw: all.Throw}}, true
}
