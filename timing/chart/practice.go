package chart

import (
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/phrase"
)

// The words of the dial.
const (
	wordDial        phrase.Text = "The degree wheel"
	wordDialDesc    phrase.Text = "The face of a degree wheel that reads {{.First}}° and {{.Second}}° at the stop."
	wordDialStop    phrase.Text = "stop {{.At}}°"
	wordDialTDC     phrase.Text = "TDC {{.At}}°"
	wordDialMark    phrase.Text = "mark {{.At}}°"
	wordDialForward phrase.Text = "engine forwards"

	wordCycleBlank      phrase.Text = "A row for each cylinder over the crank degrees of one cycle, to be filled in."
	wordPracticeSignals phrase.Text = "The signals of crankshaft and camshaft sensor over the ECU's crank angle."
)

// errNoFigure is returned for a question without a figure.
var errNoFigure = phrase.Errorf("this question has no figure")

// Practice returns what draws a figure of a question for the room there is, and
// what it shows in words. solved adds the answer to a figure that can do without.
func Practice(q lesson.Question, f *lesson.Figure, solved bool, say Say) (desc string, draw func(figure.Box) figure.Drawing, err error) {
	if f == nil {
		return "", nil, errNoFigure
	}
	switch f.Name {
	case "dial":
		in := Dial(*f.Dial, solved, say)
		return in.Desc, func(b figure.Box) figure.Drawing { return figure.Dial(in, b) }, nil
	case "signals":
		in, err := recording(q, *f.Recording, solved, say)
		return in.Desc, func(b figure.Box) figure.Drawing { d, _ := figure.Signals(in, b); return d }, err
	case "wheel":
		in, err := Wheel(q.Job, WheelOptions{At: f.At, From: f.From, Say: say})
		return in.Desc, func(b figure.Box) figure.Drawing { d, _ := figure.Wheel(in, b); return d }, err
	case "gears":
		in, err := Gears(q.Job, GearsOptions{At: f.At, From: f.From, Say: say})
		return in.Desc, func(b figure.Box) figure.Drawing { d, _ := figure.Gears(in, b); return d }, err
	}
	in, err := Cycle(q.Job, CycleOptions{Cursor: &f.At, Selected: f.Cylinder, Say: say})
	return in.Desc, func(b figure.Box) figure.Drawing { d, _ := figure.Cycle(in, b); return d }, err
}

// CycleToFillIn is what draws an engine's cycle with empty rows, or solved: how it fires
// is said beside it, and where it injects is not asked.
func CycleToFillIn(j job.Job, solved bool, say Say) (draw func(figure.Box) figure.Drawing, err error) {
	j.Injection, j.Engine.Valves, j.Title = nil, nil, ""
	in, err := Cycle(j, CycleOptions{ByNumber: true, Say: say})
	if err != nil {
		return nil, err
	}
	in.Blank, in.NoLegend = !solved, !solved
	if !solved {
		in.Desc = say.text(wordCycleBlank)
	}
	return func(b figure.Box) figure.Drawing { d, _ := figure.Cycle(in, b); return d }, nil
}

// recording is the signals of a question: without the arrows and dead centres that
// give the answer away until it is solved.
func recording(q lesson.Question, r lesson.Recording, solved bool, say Say) (figure.SignalsInput, error) {
	wheelError, camError := float64(r.WheelError), float64(r.CamError)
	p, err := NewPredicted(q.Job, finding.SignalOptions{WheelErrorDeg: &wheelError, CamErrorDeg: &camError}, say)
	if err != nil {
		return figure.SignalsInput{}, err
	}
	in := p.Input(AngleWindow(float64(r.From), float64(r.To), paperColumns, p.Found.CycleDeg))
	if solved {
		return in, nil
	}
	in.Desc = say.text(wordPracticeSignals)
	in.Words.True, in.Words.Counted, in.Words.Belongs = "", "", ""
	for i := range in.Groups {
		in.Groups[i].Lines = nil
		for k := range in.Groups[i].Rows {
			in.Groups[i].Rows[k].Arrows = nil
		}
	}
	if r.Alone {
		in.Groups = in.Groups[len(in.Groups)-1:]
	}
	return in, nil
}

// Dial is the face of a degree wheel as a question has it.
func Dial(d lesson.Dial, solved bool, say Say) figure.DialInput {
	at := func(word phrase.Text, v float64) string {
		return say.with(word, map[string]any{"At": phrase.Num{Value: v, Decimals: 2}})
	}
	in := figure.DialInput{First: d.First, Second: d.Second, Mark: d.Mark, Falls: d.Falls,
		Title: say.text(wordDial),
		Desc: say.with(wordDialDesc, map[string]any{"First": phrase.Num{Value: float64(d.First), Decimals: 2},
			"Second": phrase.Num{Value: float64(d.Second), Decimals: 2}}),
		Words: figure.DialWords{First: at(wordDialStop, float64(d.First)), Second: at(wordDialStop, float64(d.Second)), Forwards: say.text(wordDialForward)}}
	if d.Mark != nil {
		in.Words.Mark = at(wordDialMark, float64(*d.Mark))
	}
	if solved {
		tdc := d.TDC
		in.Middle, in.Words.Middle = &tdc, at(wordDialTDC, float64(d.TDC))
	}
	return in
}
