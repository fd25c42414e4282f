package chart

import (
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
)

const wordSupposed phrase.Text = "would start {{.At}}"

// SupposedCycle returns the cycle figure's input for an engine as a cause has it:
// valves and injection where the cause puts them.
func SupposedCycle(s finding.Supposed, o CycleOptions) (figure.CycleInput, error) {
	in, err := Cycle(s.Job, o)
	if err != nil {
		return figure.CycleInput{}, err
	}
	in.Desc = o.Say.with(wordCycleDesc, map[string]any{"Cycle": int(in.Engine.Cycle())}) + " " + o.Say.Sentence(s.Says)
	for i, r := range in.Rows {
		if r.Commanded != nil {
			at := *r.Commanded + s.Injection
			in.Rows[i].Actual = &at
		}
	}
	return in, nil
}

// SupposedWheel returns the wheel figure's input for an engine as a cause has it:
// the wheel turned on the crankshaft, and keyway and dowel where the cause puts
// them.
func SupposedWheel(s finding.Supposed, o WheelOptions) (figure.WheelInput, error) {
	in, err := Wheel(s.Job, o)
	if err != nil {
		return figure.WheelInput{}, err
	}
	in.Desc = o.Say.with(wordWheelDesc, map[string]any{"At": phrase.Num{Value: float64(in.Theta), Decimals: 1}}) + o.Say.Sentence(s.Says)
	in.Caption = slices.DeleteFunc(slices.Clone(in.Caption), func(c string) bool {
		return c == o.Say.text(wordNotMeasured) || c == o.Say.text(wordNotWorkedOut)
	})
	in.Error, in.Words.Error = s.Wheel, ""
	if n := (phrase.Num{Value: float64(s.Wheel), Decimals: 1}); n.String() != "0" {
		in.Words.Error = n.String() + "°"
	}
	moved := func(drawing *timing.Deg, by timing.Deg) *timing.Deg {
		if drawing == nil {
			return nil
		}
		at := *drawing + by
		return &at
	}
	in.KeywayMeasured, in.DowelMeasured = moved(in.KeywayDrawing, s.Keyway), moved(in.DowelDrawing, s.Dowel)
	in.Words.DowelMeasured = o.Say.text(wordDowelSupposed)
	if in.Commanded != nil {
		at := *in.Commanded + s.Wheel
		in.Actual = &at
		in.Words.Actual = o.Say.with(wordSupposed, map[string]any{"At": o.Say.BTDC(float64(at))})
	}
	return in, nil
}

const wordDowelSupposed phrase.Text = "dowel, if so"

// SupposedSignals returns the signals figure's input for an engine as a cause has
// it: what the sensors would show, over what they should.
func SupposedSignals(s finding.Supposed, say Say) (figure.SignalsInput, error) {
	wheel, cam := float64(s.Wheel), float64(s.Cam)
	return Signals(s.Job, SignalsOptions{Of: finding.SignalOptions{WheelErrorDeg: &wheel, CamErrorDeg: &cam, CrankAlone: true}, Say: say})
}
