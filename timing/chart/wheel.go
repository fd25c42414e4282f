package chart

import (
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
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
	w, err := NewTurningWheel(j, o.From, o.Say)
	if err != nil {
		return figure.WheelInput{}, err
	}
	return w.At(o.At), nil
}

// TurningWheel is the wheel figure of one job at many crank angles: what the angle
// does not change is worked out once.
type TurningWheel struct {
	in     figure.WheelInput
	turner finding.Turner
	cycle  timing.Deg
	found  string // what the job comes to
	say    Say
}

// NewTurningWheel returns the wheel of a job, seen from an end.
func NewTurningWheel(j job.Job, from timing.End, say Say) (TurningWheel, error) {
	turner, err := finding.NewTurner(j)
	if err != nil {
		return TurningWheel{}, err
	}
	view := finding.ViewOf(j, from.String())
	in := figure.WheelInput{View: view, Heading: j.Title, Title: say.title(wordWheel, wordWheelUntitled, j.Title), Words: words(view, say)}
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
		in.Caption = append(in.Caption, say.text(wordKeywayUnknown))
	}
	if in.Positions == 0 {
		in.Caption = append(in.Caption, say.text(wordNoWheel))
	} else {
		in.Caption = append(in.Caption, say.text(wordSensorPlace))
	}
	sits(&in, j, say)
	if s, err := finding.ShiftOf(j); err == nil {
		in.Commanded, in.Actual = injection(s)
		in.Words.Commanded = say.with(wordAskedFor, map[string]any{"At": say.BTDC(float64(*in.Commanded))})
		in.Words.Actual = say.with(wordHappens, map[string]any{"At": say.BTDC(float64(*in.Actual))})
	}
	e, err := finding.EngineOf(j)
	return TurningWheel{in, turner, e.Cycle(), described("", j, say), say}, err
}

// At returns the figure's input at a crank angle, any number of cycles away.
func (w TurningWheel) At(at timing.Deg) figure.WheelInput {
	in := w.in
	in.Theta = timing.Wrap(at, w.cycle)
	in.Desc = w.say.with(wordWheelDesc, map[string]any{"At": phrase.Num{Value: float64(in.Theta), Decimals: 1}}) + w.found
	if p := w.turner.At(in.Theta); p.Wheel != nil {
		in.Caption = append(slices.Clone(in.Caption), w.say.Sensor(*p.Wheel))
	}
	return in
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
		Rotation:      say.with(turns, map[string]any{"Sense": v.Rotates().Text()}),
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
