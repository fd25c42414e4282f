package finding

import (
	"context"
	"errors"
	"io"
	"math"
	"time"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/trace"
	"pinphase.org/pinphase/timing/trace/samples"
	"pinphase.org/pinphase/timing/wheel"
)

// TraceOptions are what a recording and the job need not say.
type TraceOptions struct {
	IntervalS  float64 // seconds between samples; 0: the recording says it
	Crank, Cam string  // the channels' names, or their numbers from 1; "": found by what they show
}

// Trace is what a recording of the sensors proves. Angles are crank degrees; what
// cannot be known is nil, and Faults says why.
type Trace struct {
	Revolutions         float64        `json:"revolutions"`
	RPMMean             float64        `json:"rpm_mean"`
	Wheel               *TraceWheel    `json:"wheel"`                 // as the recording shows it
	WheelReadings       []WheelReading `json:"wheel_readings"`        // where more than one wheel explains the recording, the one in Wheel first; else empty
	CorrelationErrorDeg *float64       `json:"correlation_error_deg"` // wheel error less cam error, half a cycle either way
	CorrelationUDeg     *float64       `json:"correlation_u_deg"`
	TDCOffsetDeg        *float64       `json:"tdc_offset_deg"` // the controller's angle at true top dead centre: the wheel error
	TDCOffsetUDeg       *float64       `json:"tdc_offset_u_deg"`
	CamTeethSeen        int            `json:"cam_teeth_seen"` // different teeth of one turn of the cam
	Faults              []string       `json:"faults"`

	TDCModuloDeg         *float64          `json:"tdc_modulo_deg"`         // the TDC offset is known up to multiples of this
	CorrelationModuloDeg *float64          `json:"correlation_modulo_deg"` // 360 where a half-turned cam cannot be told
	Branches             []TraceBranch     `json:"branches"`               // all that agree with wheel less cam = correlation; empty where TDC is not known
	CamErrorDeg          *float64          `json:"cam_error_deg"`          // that of the branch that is sure enough; positive is ahead
	CamErrorUDeg         *float64          `json:"cam_error_u_deg"`
	CamHalfTurn          *bool             `json:"cam_half_turn"` // nil: cannot be known
	Channels             []TraceChannel    `json:"channels"`
	CamTeeth             []TraceCamTooth   `json:"cam_teeth"`
	Compression          []TraceCylinder   `json:"relative_compression"` // empty when not known
	Sensors              TraceSensors      `json:"sensors"`              // by the shapes of their signals
	SensorProbability    TraceProbability  `json:"sensor_probability"`   // that they are what Sensors says
	Seconds              float64           `json:"seconds"`
	SampleRateHz         float64           `json:"sample_rate_hz"`
	Ripple               *TraceRippleFound `json:"ripple"`
	Narrowed             []TraceNarrowing  `json:"narrowed"` // what other channels add to the TDC offset
	Evidence             []TraceEvidence   `json:"evidence"`

	Says      phrase.Sentence   `json:"-"` // what it comes to
	Notes     []phrase.Sentence `json:"-"` // what must be known beside it
	FaultSays []phrase.Sentence `json:"-"` // Faults, to be translated
	Analysis  *trace.Analysis   `json:"-"` // runs, teeth and the controller's angle at any time
}

// TraceWheel is the crank wheel as a recording shows it.
type TraceWheel struct {
	Positions int   `json:"positions"`
	Missing   []int `json:"missing"`
}

// WheelReading is one way to read the crank wheel.
type WheelReading struct {
	Positions   int     `json:"positions"`
	Missing     []int   `json:"missing"`
	Broken      []int   `json:"broken"` // teeth of the job's wheel; empty: it is another wheel
	Probability float64 `json:"probability"`
}

// TraceSensors are the kinds of the sensors, "inductive" or "hall"; nil where no channel
// shows the wheel.
type TraceSensors struct {
	Crank *string `json:"crank"`
	Cam   *string `json:"cam"`
}

// TraceProbability is how probable the kinds are, 0.5 to 1.
type TraceProbability struct {
	Crank *float64 `json:"crank"`
	Cam   *float64 `json:"cam"`
}

// TraceChannel is a channel of the recording.
type TraceChannel struct {
	Number int    `json:"number"` // from 1, time not counted
	Name   string `json:"name"`
	Role   string `json:"role"`   // "crank", "cam", "starter current", "cylinder pressure" or ""
	Sensor string `json:"sensor"` // of crank and cam: "inductive" or "hall"
	Edge   string `json:"edge"`   // at which a tooth passes: "rising" or "falling"
}

// TraceCamTooth is a cam tooth as it was seen.
type TraceCamTooth struct {
	Tooth      int      `json:"tooth"`  // of the job's wheel, from 1; 0: not one of them
	AtDeg      float64  `json:"at_deg"` // the controller's angle
	LateDeg    *float64 `json:"late_deg"`
	ScatterDeg float64  `json:"scatter_deg"` // standard deviation of one passing
	Seen       int      `json:"seen"`        // times
}

// TraceCylinder is how strongly a cylinder compresses.
type TraceCylinder struct {
	Cylinder int     `json:"cylinder"`
	Share    float64 `json:"share"` // pressure over that of the strongest
	U        float64 `json:"u"`
}

// TraceRippleFound is how the speed ripple was fitted.
type TraceRippleFound struct {
	Cycles    int     `json:"cycles"`
	Swing     float64 `json:"swing"`     // of the speed, over its mean
	Explained float64 `json:"explained"` // share of the speed's variance
	BoundUDeg float64 `json:"bound_u_deg"`
	InertiaKg float64 `json:"inertia_kg_m2"`
}

// TraceNarrowing is how another channel makes the standard uncertainty of the TDC
// offset smaller.
type TraceNarrowing struct {
	Channel  string  `json:"channel"`
	Role     string  `json:"role"`
	FromUDeg float64 `json:"from_u_deg"`
	ToUDeg   float64 `json:"to_u_deg"`
}

// TraceEvidence is a piece of evidence for the causes, as [[evidence]] takes it.
type TraceEvidence struct {
	Kind  string  `json:"kind"`
	Value float64 `json:"value"`
	U     float64 `json:"u"`
}

// TraceReader reads a recording's beginning: how it is written, its channels. It
// is for showing them before the work begins; [ReadTrace] does both.
func TraceReader(r io.Reader, o TraceOptions) (*samples.Reader, error) {
	return samples.NewReader(r, samples.Options{IntervalS: o.IntervalS})
}

// TraceWork is what to do beside the reading; both may be nil.
type TraceWork struct {
	Progress func(bytes int64) // told the bytes of the file read so far, some hundred times a second
	Picture  *trace.Picture    // is filled for drawing
	// Glimpse is told what of the picture there is so far: soon after the beginning, ever more
	// seldom, and once all is read and before it is known what it proves. The reading waits
	// for it.
	Glimpse func(*trace.Picture)
}

// ReadTrace reads a recording of the job's sensors to its end and says what it
// proves. It ends early with the context's error. Errors that are [job.Faults] are
// what the job lacks; all others mean that the recording cannot be read or proves
// nothing, in a line that says why. The picture is filled also when nothing is
// proved.
func ReadTrace(ctx context.Context, j job.Job, r io.Reader, o TraceOptions, w TraceWork) (Trace, error) {
	known, err := TraceKnown(j)
	if err != nil {
		return Trace{}, err
	}
	known.CrankName, known.CamName = o.Crank, o.Cam
	reader, err := TraceReader(r, o)
	if err != nil {
		return Trace{}, err
	}
	c, err := trace.Collect(ctx, reader, w.Progress, w.also())
	if w.Picture != nil {
		w.Picture.Finish()
	}
	if err != nil {
		return Trace{}, err
	}
	if w.Picture != nil && w.Glimpse != nil {
		w.Glimpse(w.Picture.Glimpse(glimpseBins))
	}
	a, err := c.Analyse(known)
	if err != nil {
		return Trace{}, err
	}
	a.Faults = append(a.Faults, trace.Noted(reader.Notes())...)
	e := plainEngine(known)
	if j.Dowel != nil {
		if dowel, _, err := features(j); err == nil && dowel.drawing != nil {
			e.Dowel = &dowel.drawing.Value
		}
	}
	return newTraceOf(a, known, e), nil
}

// glimpseBins is how many stretches of time a glimpse has: more than a screen has columns.
const glimpseBins = 1 << 14

// firstGlimpse is when there is one: soon enough to be seen at once.
const firstGlimpse = 100 * time.Millisecond

// also is what is done with each block beside finding its edges; nil: nothing.
func (w TraceWork) also() func(*samples.Block) {
	switch {
	case w.Picture == nil:
		return nil
	case w.Glimpse == nil:
		return w.Picture.Add
	}
	begun, wait := time.Now(), firstGlimpse
	return func(b *samples.Block) {
		w.Picture.Add(b)
		if since := time.Since(begun); since >= wait {
			wait = 2 * since
			w.Glimpse(w.Picture.Glimpse(glimpseBins))
		}
	}
}

// TraceKnown is what the job says of the engine a recording was taken on. It needs
// [crank_wheel] with its first tooth; without a cam wheel, or without the engine's
// measures, less can be known.
func TraceKnown(j job.Job) (trace.Known, error) {
	e, err := engineOf(j)
	if err != nil {
		return trace.Known{}, err
	}
	k := trace.Known{Cycle: e.Cycle(), Scheme: e.Scheme}
	w := j.CrankWheel
	switch {
	case w == nil:
		return k, missing("crank_wheel", "is missing: to read a recording give positions, missing, first_tooth_btdc_deg and sensor")
	case !w.FirstToothBTDCDeg.Given:
		return k, missing("crank_wheel.first_tooth_btdc_deg", "is missing: the ECU's angle is counted from the first tooth")
	case len(w.Missing) == 0 && CamWheelOf(j, e.Cycle()) == nil:
		return k, missing("crank_wheel.missing", "is empty and there is no cam sensor wheel: the teeth of a recording are counted from the gap, or, on a wheel without one, from the camshaft")
	}
	k.Crank, k.CrankSensor = *CrankWheelOf(j), wheel.ParseSensor(w.Sensor, wheel.Inductive)
	if k.Cam = CamWheelOf(j, e.Cycle()); k.Cam != nil {
		k.CamSensor = wheel.ParseSensor(j.CamWheel.Sensor, wheel.Hall)
	}
	if g := j.Gears; g != nil {
		k.CrankTeeth = g.CrankTeeth
	}
	k.Engine = traceEngine(j, e)
	return k, nil
}

// traceRPM is taken for a starter's speed where the job gives none: common
// practice, no source.
const traceRPM = 180

// traceEngine is what the fit of the speed ripple needs, nil without bore, stroke,
// rod and compression ratio. Where the job has the cam out, the fit starts from a
// cam that is right: it finds the cam's error itself.
func traceEngine(j job.Job, e engine) *trace.Engine {
	if e.linkage == nil || !j.Engine.CompressionRatio.Given {
		return nil
	}
	in := j.Injection
	if in == nil {
		in = &job.Injection{}
	}
	b := lightBasis{cycle: e.Cycle()}
	b.closed(j, e, j.Engine.CompressionRatio.Value)
	rpm := in.CrankingRPM.Or(traceRPM)
	b.air(in, LightOptions{}, rpm)
	b.compression(j, rpm)
	if b.charge.Check() != nil {
		return nil
	}
	return &trace.Engine{Scheme: e.Scheme, Charge: b.charge}
}

func newTrace(a *trace.Analysis, known trace.Known) Trace {
	return newTraceOf(a, known, plainEngine(known))
}

// newTraceOf knows more of the engine, for the branches' probabilities.
func newTraceOf(a *trace.Analysis, known trace.Known, e cause.Engine) Trace {
	t := Trace{
		Revolutions: tidy(a.Revolutions, 100), RPMMean: tidy(a.RPM, 100), CamTeethSeen: a.CamTeethSeen(),
		Faults: []string{}, Channels: []TraceChannel{}, CamTeeth: []TraceCamTooth{}, Compression: []TraceCylinder{}, Evidence: []TraceEvidence{}, Narrowed: []TraceNarrowing{}, WheelReadings: []WheelReading{},
		Seconds: tidy(a.Seconds, 1e6), Analysis: a,
	}
	if a.SampleS > 0 {
		t.SampleRateHz = tidy(1/a.SampleS, 10)
	}
	if p := a.Found; p != nil {
		t.Wheel = &TraceWheel{p.Positions, append([]int{}, p.Missing...)}
	}
	for _, r := range a.Readings {
		t.WheelReadings = append(t.WheelReadings, WheelReading{r.Wheel.Positions, append([]int{}, r.Wheel.Missing...), append([]int{}, r.Broken...), tidy(r.Probability, 1e4)})
	}
	if c := a.Correlation; c != nil {
		t.CorrelationErrorDeg, t.CorrelationUDeg = thousandth(c.Value), thousandth(c.U)
		t.CorrelationModuloDeg = thousandth(a.CorrelationModulo)
		t.Evidence = append(t.Evidence, TraceEvidence{"correlation_error_deg", *t.CorrelationErrorDeg, *t.CorrelationUDeg})
	}
	if c := a.TDC; c != nil {
		within := min(a.Modulo, timing.Turn) // a wheel's error lies within a turn; the turn of the cycle is the cam's
		t.TDCOffsetDeg, t.TDCOffsetUDeg, t.TDCModuloDeg = thousandth(timing.WrapSigned(c.Value, within)), thousandth(c.U), thousandth(within)
		t.Evidence = append(t.Evidence, TraceEvidence{"tdc_offset_deg", *t.TDCOffsetDeg, *t.TDCOffsetUDeg})
	}
	t.Branches = branches(a, known, e)
	if b := t.Branch(); b != nil && b.CamErrorDeg != nil {
		t.CamErrorDeg, t.CamErrorUDeg = b.CamErrorDeg, thousandth(a.TDC.Minus(*a.Correlation).U)
	}
	t.CamHalfTurn = a.HalfTurn
	for i, c := range a.Channels {
		ch := TraceChannel{Number: i + 1, Name: c.Name, Role: string(c.Role)}
		if c.Role == trace.CrankSensor || c.Role == trace.CamSensor {
			ch.Sensor, ch.Edge = c.Sensor.String(), "falling"
			t.tellSensor(c)
			if c.Rising {
				ch.Edge = "rising"
			}
		}
		t.Channels = append(t.Channels, ch)
	}
	for _, c := range a.CamTeeth {
		tooth := TraceCamTooth{Tooth: c.Tooth, AtDeg: tidy(c.At, 1000), ScatterDeg: tidy(c.Scatter, 1000), Seen: c.Seen}
		if c.Tooth > 0 && a.Correlation != nil {
			tooth.LateDeg = thousandth(timing.Deg(c.Late))
		}
		t.CamTeeth = append(t.CamTeeth, tooth)
	}
	for _, n := range a.Narrowed {
		t.Narrowed = append(t.Narrowed, TraceNarrowing{n.Channel, string(n.Role), tidy(float64(n.From), 1000), tidy(float64(n.To), 1000)})
	}
	if r := a.Ripple; r != nil {
		for i, s := range r.Strength {
			t.Compression = append(t.Compression, TraceCylinder{i + 1, tidy(s, 1000), tidy(r.StrengthU[i], 1000)})
		}
		t.Ripple = &TraceRippleFound{Cycles: r.Cycles, Swing: tidy(r.Swing, 1e4), Explained: tidy(r.Explained, 1e4), BoundUDeg: tidy(float64(r.BoundU), 1000), InertiaKg: tidy(r.Inertia, 100)}
	}
	t.say(known)
	return t
}

// tellSensor tells which sensor a channel is of, and how probable that is.
func (t *Trace) tellSensor(c trace.Channel) {
	kind, probable := c.Sensor.String(), c.Hall
	if c.Sensor == wheel.Inductive {
		probable = 1 - c.Hall
	}
	probable = tidy(max(probable, 0.5), 1e4)
	if c.Role == trace.CrankSensor {
		t.Sensors.Crank, t.SensorProbability.Crank = &kind, &probable
	} else {
		t.Sensors.Cam, t.SensorProbability.Cam = &kind, &probable
	}
}

// tidy rounds to so many parts of one: digits beyond are noise.
func tidy(v, parts float64) float64 {
	r := math.Round(v*parts) / parts
	if r == 0 || math.IsNaN(r) || math.IsInf(r, 0) {
		return 0
	}
	return r
}

// thousandth rounds a result that is shown; what is not a number is not known.
func thousandth(d timing.Deg) *float64 {
	if d != d || math.IsInf(float64(d), 0) {
		return nil
	}
	v := tidy(float64(d), 1000)
	return &v
}

// Stopped tells whether an error of [ReadTrace] is only that the work was called
// off.
func Stopped(err error) bool {
	return errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded)
}
