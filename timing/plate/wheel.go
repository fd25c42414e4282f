package plate

import (
	"pinphase/timing"
	"pinphase/timing/figure"
	"pinphase/timing/finding"
	"pinphase/timing/job"
)

// WheelOptions are the reader's choices for the wheel figure.
type WheelOptions struct {
	At   timing.Deg // crank angle
	From timing.End // the end it is seen from
	Say  Say
}

// Wheel returns the wheel figure's input for a job. What the job does not say
// is left out, and the caption says so.
func Wheel(j job.Job, o WheelOptions) (figure.WheelInput, error) {
	e, err := finding.EngineOf(j)
	if err != nil {
		return figure.WheelInput{}, err
	}
	view := finding.ViewOf(j, o.From.String())
	at := timing.Wrap(o.At, e.Cycle())
	in := figure.WheelInput{
		View:    view,
		Theta:   at,
		Heading: j.Title,
		Title:   o.Say.title(wordWheel, wordWheelUntitled, j.Title),
		Desc:    described(o.Say.with(wordWheelDesc, map[string]any{"At": finding.Num{Value: float64(at), Decimals: 1}}), j, o.Say),
		Words:   words(view, o.Say),
	}
	if w := finding.CrankWheelOf(j); w != nil {
		in.Positions, in.Missing, in.FirstBTDC = w.Positions, w.Missing, w.FirstToothBTDC
	}
	if p, err := finding.PartOf(j); err == nil {
		if p.Dowel != nil {
			in.DowelDrawing, in.DowelMeasured = degOf(p.Dowel.DrawingDeg), degOf(p.Dowel.MeasuredDeg)
		}
		if p.Keyway != nil {
			in.KeywayDrawing, in.KeywayMeasured = degOf(p.Keyway.DrawingDeg), degOf(p.Keyway.MeasuredDeg)
		}
	}
	if in.KeywayDrawing == nil && in.KeywayMeasured == nil {
		in.Caption = append(in.Caption, o.Say.text(wordKeywayUnknown))
	}
	if in.Positions == 0 {
		in.Caption = append(in.Caption, o.Say.text(wordNoWheel))
	} else {
		in.Caption = append(in.Caption, o.Say.text(wordSensorPlace))
		if p, err := finding.PhaseAt(j, at); err == nil && p.Wheel != nil {
			in.Caption = append(in.Caption, o.Say.Sensor(*p.Wheel))
		}
	}
	w, err := finding.WheelErrorOf(j)
	switch measured := j.Dowel != nil && j.Dowel.Measured != nil; {
	case err != nil && in.Positions > 0:
		in.Caption = append(in.Caption, o.Say.text(wordNotWorkedOut))
	case !measured && in.Positions > 0:
		in.Caption = append(in.Caption, o.Say.text(wordNotMeasured))
	case err == nil && measured:
		in.Error = w.Value
		if n := (finding.Num{Value: float64(w.Value), Decimals: 1}); n.String() != "0" {
			in.Words.Error = n.String() + "°"
		}
	}
	if s, err := finding.ShiftOf(j); err == nil {
		in.Commanded, in.Actual = injection(s)
		in.Words.Commanded = o.Say.with(wordAskedFor, map[string]any{"At": o.Say.BTDC(float64(*in.Commanded))})
		in.Words.Actual = o.Say.with(wordHappens, map[string]any{"At": o.Say.BTDC(float64(*in.Actual))})
	}
	return in, nil
}

func words(v timing.View, say Say) figure.WheelWords {
	turns := wordTurnsNose
	if v.From == timing.Flywheel {
		turns = wordTurnsFlywheel
	}
	return figure.WheelWords{
		TDC:           say.text(wordTDC),
		BTDC:          say.text(wordBefore),
		ATDC:          say.text(wordAfter),
		Sensor:        say.text(wordSensor),
		Rotation:      say.with(turns, map[string]any{"Sense": finding.Term(v.Rotates().String())}),
		Tooth1:        say.text(wordTooth1),
		Tooth1Correct: say.text(wordTooth1Right),
		Gap:           say.text(wordGap),
		Throw:         say.text(wordThrow),
		Keyway:        say.text(wordKeyway),
		KeywayDrawing: say.text(wordKeywayDrawing),
		DowelDrawing:  say.text(wordDowelDrawing),
		DowelMeasured: say.text(wordDowelMeasured),
	}
}

func degOf(v *float64) *timing.Deg {
	if v == nil {
		return nil
	}
	d := timing.Deg(*v)
	return &d
}
