package chart

import (
	"sort"
	"strconv"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/wheel"
)

// SignalsOptions are the reader's choices for the signals figure.
type SignalsOptions struct {
	Of       finding.SignalOptions
	Cursor   *timing.Deg // true crank angle
	Recorded *Recorded   // goes below, all its cycles over one another; nil: none
	Say      Say
}

// The words of the signals figure.
const (
	wordSignals         phrase.Text = "Signals of {{.Title}}"
	wordSignalsUntitled phrase.Text = "The sensors' signals"
	wordSignalsDesc     phrase.Text = "Crankshaft and camshaft sensor over the ECU's crank angle, correct and as what-if. {{.Finding}}"
	wordSignalAngle     phrase.Text = "the ECU's crank angle, counted by the teeth of the crank sensor wheel"
	wordSignalTime      phrase.Text = "time in seconds"
	wordSignalRight     phrase.Text = "correct"
	wordSignalIs        phrase.Text = "with this fault: {{.Fault}}"
	wordSignalCrank     phrase.Text = "crankshaft"
	wordSignalCam       phrase.Text = "camshaft"
	wordSignalSwing     phrase.Text = "±{{.V}} V"
	wordSignalLevel     phrase.Text = "0 to {{.V}} V"
	wordSignalTrue      phrase.Text = "firing TDC"
	wordSignalCounted   phrase.Text = "where the ECU counts it"
	wordSignalBelongs   phrase.Text = "from where a cam edge should be to where it is"
	wordSignalEarly     phrase.Text = "{{.By}}° early"
	wordSignalLate      phrase.Text = "{{.By}}° late"
	wordSignalTDC       phrase.Text = "TDC {{.N}}"
)

// paperColumns is how finely the figure for paper is divided.
const paperColumns = 1440

// Signals returns the signals figure's input for a job: one cycle of the
// controller's angle. It needs what [finding.SignalsOf] needs.
func Signals(j job.Job, o SignalsOptions) (figure.SignalsInput, error) {
	p, err := NewPredicted(j, o.Of, o.Say)
	if err != nil {
		return figure.SignalsInput{}, err
	}
	w := AngleWindow(0, p.Found.CycleDeg, paperColumns, 0)
	in := p.Input(w)
	in.Heading = j.Title
	in.Finding = o.Say.Sentence(p.Found.Says)
	if r := o.Recorded; r != nil && r.Follows() {
		in.Groups = append(in.Groups, r.Group(w, o.Say))
		r.Words(&in.Words, o.Say)
		in.Finding = o.Say.Sentence(r.Trace.Says)
	}
	if o.Cursor != nil {
		at := p.Cursor(*o.Cursor)
		in.Cursor = &at
	}
	return in, nil
}

// Predicted is what the sensors of a job show, ready to be drawn in any window.
type Predicted struct {
	Found finding.Signals // as supposed

	title  string
	right  predictedTraces
	is     predictedTraces
	engine timing.Scheme
	say    Say
}

// predictedTraces are one prediction and its traces over a cycle of the
// controller's angle.
type predictedTraces struct {
	finding.Signals
	crank, cam grid
}

// NewPredicted works a job's signals out; see [finding.SignalsOf].
func NewPredicted(j job.Job, o finding.SignalOptions, say Say) (*Predicted, error) {
	is, err := finding.SignalsOf(j, o)
	if err != nil {
		return nil, err
	}
	o.Fault, o.WheelErrorDeg, o.CamErrorDeg = finding.Right, nil, nil
	right, err := finding.SignalsOf(j, o)
	if err != nil {
		return nil, err
	}
	e, err := finding.EngineOf(j)
	if err != nil {
		return nil, err
	}
	p := &Predicted{Found: is, title: j.Title, right: newPredictedTraces(right), is: newPredictedTraces(is), engine: e, say: say}
	return p, nil
}

func newPredictedTraces(s finding.Signals) predictedTraces {
	t := predictedTraces{Signals: s}
	t.crank = newGrid(s.CycleDeg, func(at float64) float64 { return s.Of.CrankVolts(t.truth(at), s.RPM, s.Fitting) })
	if s.Cam != nil {
		t.cam = newGrid(s.CycleDeg, func(at float64) float64 { return s.Of.CamVolts(t.truth(at), s.RPM, s.Fitting) })
	}
	return t
}

// truth is the true crank angle at one the controller counts.
func (t predictedTraces) truth(counted float64) timing.Deg {
	return t.Of.True(timing.Deg(counted), t.Fitting)
}

// Cursor returns the controller's angle, in [0, cycle), when the crank stands at a
// true angle.
func (p *Predicted) Cursor(at timing.Deg) float64 {
	return float64(timing.Wrap(p.Found.Of.Believes(at, p.Found.Fitting), timing.Deg(p.Found.CycleDeg)))
}

// TrueAt is the inverse of [Predicted.Cursor].
func (p *Predicted) TrueAt(counted float64) timing.Deg {
	return timing.Wrap(p.is.truth(counted), timing.Deg(p.Found.CycleDeg))
}

// Input returns the figure's input for a window: the signals as they should be,
// and below as they are supposed to be where that is something else.
func (p *Predicted) Input(w Window) figure.SignalsInput {
	say := p.say
	in := figure.SignalsInput{
		Title: say.title(wordSignals, wordSignalsUntitled, p.title),
		Desc:  say.with(wordSignalsDesc, map[string]any{"Finding": say.Sentence(p.Found.Says)}),
		From:  w.From, To: w.To, Axis: w.Axis,
		Words: signalFigureWords(say),
	}
	in.Axis.Title = say.axisTitle(in.Axis)
	right := p.group(p.right, w)
	right.Label = say.text(wordSignalRight)
	in.Groups = append(in.Groups, right)
	if p.Found.Fault == finding.Right && p.Found.WheelErrorDeg == 0 && p.Found.CamErrorDeg == 0 {
		return in
	}
	is := p.group(p.is, w)
	is.Label = say.text(p.Found.Title())
	if p.Found.Fault != finding.AsIs {
		is.Label = say.with(wordSignalIs, map[string]any{"Fault": finding.FaultTitle(p.Found.Fault)})
	}
	in.Groups = append(in.Groups, is)
	return in
}

func signalFigureWords(say Say) figure.SignalWords {
	return figure.SignalWords{Gap: say.text(wordGap), True: say.text(wordSignalTrue), Counted: say.text(wordSignalCounted), Belongs: say.text(wordSignalBelongs)}
}

// axisTitle says what an axis counts.
func (say Say) axisTitle(a figure.SignalAxis) string {
	if a.Degrees {
		return say.text(wordSignalAngle)
	}
	return say.text(wordSignalTime)
}

// degreesPerSecond is how fast the crank turns in the prediction.
func (p *Predicted) degreesPerSecond() float64 { return 6 * p.Found.RPM }

// ThroughTime is a window on the time from where the controller counts 0, in n
// columns, at the speed of the prediction.
func (p *Predicted) ThroughTime(from, to float64, n int) Window {
	w := AngleWindow(from*p.degreesPerSecond(), to*p.degreesPerSecond(), n, 0)
	w.From, w.To, w.Axis = from, to, figure.SignalAxis{Unit: " s"}
	w.Place = func(angle float64) (float64, bool) { return angle / p.degreesPerSecond(), true }
	return w
}

// group draws one prediction.
func (p *Predicted) group(t predictedTraces, w Window) figure.SignalGroup {
	g := figure.SignalGroup{Rows: []figure.SignalRow{p.crankRow(t, w)}, Lines: p.lines(t, w)}
	if t.Cam != nil {
		g.Rows = append(g.Rows, p.camRow(t, w))
	}
	return g
}

func (p *Predicted) crankRow(t predictedTraces, w Window) figure.SignalRow {
	r := figure.SignalRow{Label: p.say.text(wordSignalCrank)}
	p.scale(&r, t.Of.CrankSensor, t.crank)
	r.Lo, r.Hi = t.crank.columns(w.Angles)
	var at []float64
	for _, e := range t.Crank.Edges {
		at = append(at, e.ControllerDeg)
	}
	order := rising(at)
	w.each(at, t.CycleDeg, 3, func(i int, _, x float64) {
		r.Marks = append(r.Marks, figure.SignalMark{At: x, Label: strconv.Itoa(t.Crank.Edges[order[i]].Tooth)})
	})
	var starts []float64
	pitch := float64(t.Of.Crank.Pitch())
	gaps := t.Of.Crank.Gaps()
	for _, g := range gaps {
		starts = append(starts, float64(t.Of.Crank.Span(g, 0).From))
	}
	if t.Fitting.BackToFront { // mirrored as the teeth are
		for i, g := range gaps {
			starts[i] = float64(timing.Wrap(-t.Of.Crank.FirstToothBTDC-2*t.Of.Crank.Mirror()-timing.Deg(g.Before-1)*t.Of.Crank.Pitch(), timing.Turn))
		}
	}
	for i := range starts { // exchanged wires move what is counted against the trace
		starts[i] += float64(t.Of.Believes(0, t.Fitting) - t.Fitting.Delta)
	}
	w.each(starts, float64(timing.Turn), 6, func(i int, at, _ float64) {
		if g, ok := w.span(at+0.5*pitch, at+(float64(gaps[i].Missing)+0.5)*pitch); ok {
			r.Gaps = append(r.Gaps, g)
		}
	})
	return r
}

func (p *Predicted) camRow(t predictedTraces, w Window) figure.SignalRow {
	r := figure.SignalRow{Label: p.say.text(wordSignalCam)}
	p.scale(&r, t.Of.CamSensor, t.cam)
	r.Lo, r.Hi = t.cam.columns(w.Angles)
	var at []float64
	for _, e := range t.Cam.Edges {
		at = append(at, e.ControllerDeg)
	}
	order := rising(at)
	w.each(at, t.CycleDeg, 6, func(i int, at, x float64) {
		e := t.Cam.Edges[order[i]]
		r.Marks = append(r.Marks, figure.SignalMark{At: x, Label: strconv.Itoa(e.Tooth)})
		r.Arrows = w.arrow(r.Arrows, at, e.LateDeg, p.say)
	})
	return r
}

// rising sorts values in place and returns where each came from.
func rising(list []float64) []int {
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, k int) bool { return list[order[i]] < list[order[k]] })
	sort.Float64s(list)
	return order
}

// scale gives a row the range of its trace.
func (p *Predicted) scale(r *figure.SignalRow, sensor wheel.Sensor, g grid) {
	lo, hi := g.range_()
	if sensor == wheel.Hall {
		r.Min, r.Max = -0.1*hi, 1.1*hi
		r.Range = p.say.with(wordSignalLevel, map[string]any{"V": phrase.Num{Value: hi, Decimals: 1}})
		return
	}
	most := max(hi, -lo)
	r.Min, r.Max = -1.1*most, 1.1*most
	r.Range = p.say.with(wordSignalSwing, map[string]any{"V": phrase.Num{Value: most, Decimals: 1}})
}

// lines are the firing dead centres: where they truly are in the controller's
// angle, and where it counts them if that is elsewhere.
func (p *Predicted) lines(t predictedTraces, w Window) []figure.SignalLine {
	return w.deadCentres(p.engine, &t.TDCOffsetDeg, p.say)
}
