package finding

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/wheel"
)

// Signals is what a job's crank and cam sensors show over one cycle. Angles are
// crank degrees; the controller's angle is the one it counts by the crank teeth.
type Signals struct {
	Fault         string     `json:"fault"` // of [SignalFaults]
	RPM           float64    `json:"rpm"`
	CycleDeg      float64    `json:"cycle_deg"`
	WheelErrorDeg float64    `json:"wheel_error_deg"`
	CamErrorDeg   float64    `json:"cam_error_deg"` // the short way round the cycle
	Assumed       bool       `json:"assumed"`       // no dowel was measured: the wheel error is taken as 0
	Correlation   *float64   `json:"correlation_error_deg"`
	TDCOffsetDeg  float64    `json:"tdc_offset_deg"` // the controller's angle at cylinder 1's true TDC
	Crank         CrankTrace `json:"crank"`
	Cam           *CamTrace  `json:"cam"` // nil without a cam wheel

	Says  phrase.Sentence   `json:"-"`
	Notes []phrase.Sentence `json:"-"`
	Steps []phrase.Sentence `json:"-"`

	Of      wheel.Signals `json:"-"`
	Fitting wheel.Fitting `json:"-"`
	asDrawn bool          // nobody has seen that the wheel is where the signals have it
	basis   known.Basis   // of where the wheel is
}

// Title says in a few words what the signals are those of: of a fault, or how it is known
// where the wheel is.
func (s Signals) Title() phrase.Text {
	if s.Fault != AsIs {
		return FaultTitle(s.Fault)
	}
	switch {
	case s.basis == known.Measured:
		return "as measured"
	case s.basis == known.Read:
		return "as read from a recording"
	case s.basis == known.Stated:
		return "as stated"
	case s.basis == known.Supposed:
		return "what-if"
	case s.WheelErrorDeg != 0 || s.CamErrorDeg != 0:
		return "not measured, as assumed"
	}
	return "not measured, as drawn"
}

// CrankTrace is the crank sensor's signal.
type CrankTrace struct {
	Sensor    string      `json:"sensor"`
	Positions int         `json:"positions"`
	Missing   []int       `json:"missing"`
	Edges     []CrankEdge `json:"edges"` // in the order in which they pass
}

// CrankEdge is the edge that is counted for a crank tooth.
type CrankEdge struct {
	Tooth         int     `json:"tooth"`
	CrankDeg      float64 `json:"crank_deg"` // true, 0..cycle
	ControllerDeg float64 `json:"controller_deg"`
	TimeS         float64 `json:"time_s"` // from true TDC of cylinder 1 on
}

// CamTrace is the cam sensor's signal.
type CamTrace struct {
	Sensor string    `json:"sensor"`
	Edges  []CamEdge `json:"edges"`
}

// CamEdge is the edge that is counted for a cam tooth.
type CamEdge struct {
	Tooth         int     `json:"tooth"`
	CrankDeg      float64 `json:"crank_deg"`
	ControllerDeg float64 `json:"controller_deg"`
	TimeS         float64 `json:"time_s"`
	ExpectedDeg   float64 `json:"expected_deg"` // the controller's angle on a correct engine
	LateDeg       float64 `json:"late_deg"`
	AfterTooth    int     `json:"after_crank_tooth"`
	BeforeTooth   int     `json:"before_crank_tooth"`
	InGap         bool    `json:"in_gap"`
	Part          float64 `json:"part_of_the_way"` // from the one crank tooth to the other
}

// SignalFault is something to suppose of the engine.
type SignalFault struct {
	Name  string      // for programs
	Title phrase.Text // for people
}

// The faults that can be supposed. All but the first are the only fault of an
// otherwise correct engine.
const (
	AsIs             = "as-is"
	Right            = "right"
	BackToFront      = "back-to-front"
	HalfTurnedCam    = "half-turned-cam"
	WiresReversed    = "wires-reversed"
	CamWiresReversed = "cam-wires-reversed"
)

// SignalFaults returns what can be supposed, in the order in which to offer it.
func SignalFaults() []SignalFault {
	return []SignalFault{
		{AsIs, "as the job has it"}, {Right, "correct"}, {BackToFront, "crank sensor wheel back to front"}, {HalfTurnedCam, "camshaft half a turn out"},
		{WiresReversed, "crankshaft sensor wires swapped"}, {CamWiresReversed, "camshaft sensor wires swapped"},
	}
}

// FaultTitle returns one of [SignalFaults] in words, "" for another name.
func FaultTitle(name string) phrase.Text {
	for _, f := range SignalFaults() {
		if f.Name == name {
			return f.Title
		}
	}
	return ""
}

// SignalOptions are the reader's choices for a prediction.
type SignalOptions struct {
	Fault         string   // of [SignalFaults]; "" is as the job has it
	RPM           float64  // 0: the job's cranking speed, or 200 where it has none
	WheelErrorDeg *float64 // supposed, with whatever fault
	CamErrorDeg   *float64
	CrankAlone    bool // a job without a cam wheel will do
}

// usualRPM is a diesel's cranking speed where the job has none: among those the
// Bosch Automotive Handbook gives for starting without an aid, 80 to 200 (from memory).
const usualRPM = 200

// MaxSignalRPM bounds the speed of a prediction.
const MaxSignalRPM = 10000

// Check says what is wrong with the options.
func (o SignalOptions) Check() error {
	names := []string{}
	for _, f := range SignalFaults() {
		names = append(names, f.Name)
	}
	if o.Fault != "" && !slices.Contains(names, o.Fault) {
		return fmt.Errorf("%q is no fault to suppose; there are %s", o.Fault, strings.Join(names, ", "))
	}
	if o.RPM != 0 && !(o.RPM >= 1 && o.RPM <= MaxSignalRPM) {
		return fmt.Errorf("%g rpm is not between 1 and %d", o.RPM, MaxSignalRPM)
	}
	for _, v := range []*float64{o.WheelErrorDeg, o.CamErrorDeg} {
		if v != nil && !(math.Abs(*v) <= 720) {
			return fmt.Errorf("%g degrees is not between -720 and 720", *v)
		}
	}
	return nil
}

// SignalsOf returns what the sensors show. It needs [crank_wheel] and [cam_wheel],
// each with its first_tooth_btdc_deg, and as measured the drawing's angle of
// whatever was measured.
func SignalsOf(j job.Job, o SignalOptions) (Signals, error) {
	if err := o.Check(); err != nil {
		return Signals{}, err
	}
	e, err := engineOf(j)
	if err != nil {
		return Signals{}, err
	}
	of, faults := sensorsOf(j, e.Cycle(), o.CrankAlone)
	fitting, basis, err := fittingOf(j, o, e.Cycle())
	if err != nil {
		var more job.Faults
		if !errors.As(err, &more) {
			return Signals{}, err
		}
		faults = append(faults, more...)
	}
	if len(faults) > 0 {
		return Signals{}, faults
	}
	assumed := basis == known.Assumed
	s := Signals{basis: basis, Fault: o.Fault, RPM: o.RPM, CycleDeg: float64(e.Cycle()), Assumed: assumed, Of: of, Fitting: fitting,
		WheelErrorDeg: round(float64(fitting.Delta)),
		CamErrorDeg:   round(float64(timing.WrapSigned(fitting.CamError(e.Cycle()), e.Cycle()))),
		TDCOffsetDeg:  round(float64(timing.WrapSigned(of.Believes(0, fitting), e.Cycle()))),
	}
	if s.Fault == "" {
		s.Fault = AsIs
	}
	if o.CamErrorDeg != nil || j.Supposed.Has(supposedTeeth) { // whatever is known of the wheel
		s.basis = known.Supposed
	}
	if s.RPM == 0 {
		s.RPM = usualRPM
		if in := j.Injection; in != nil && in.CrankingRPM.Given && in.CrankingRPM.Value >= 1 && in.CrankingRPM.Value <= MaxSignalRPM {
			s.RPM = in.CrankingRPM.Value
		}
	}
	s.edges(e.Cycle())
	s.asDrawn = assumed || s.Fault != AsIs || o.WheelErrorDeg != nil || j.Supposed.Has(supposedWheel)
	s.say()
	if assumed && s.Fault == AsIs && o.WheelErrorDeg == nil && !j.Supposed.Has(supposedWheel) { // nobody measured the dowel
		switch {
		case fitting.Delta != 0:
			s.Says = phrase.Sentence{Text: ifCarried, Data: map[string]any{"Says": s.Says}}
		case s.Says.Text == signalLate || s.Says.Text == signalEarly:
			s.Says = phrase.Sentence{Text: ifDrawn, Data: map[string]any{"Says": s.Says}}
		}
	}
	s.Notes = append(s.Notes, doubtful(j)...)
	if s.Fault == AsIs && o.WheelErrorDeg == nil && o.CamErrorDeg == nil {
		s.Says = supposingSays(j, s.Says, supposedWheel, supposedTeeth)
	}
	return s, nil
}

// sensorsOf are the job's two wheels and their sensors.
func sensorsOf(j job.Job, cycle timing.Deg, crankAlone bool) (s wheel.Signals, faults job.Faults) {
	switch w := j.CrankWheel; {
	case w == nil:
		faults = append(faults, missing("crank_wheel", "is missing: give positions, missing and first_tooth_btdc_deg")...)
	case !w.FirstToothBTDCDeg.Given:
		faults = append(faults, missing("crank_wheel.first_tooth_btdc_deg", "is missing: give how many degrees before TDC of cylinder 1 tooth 1 passes the sensor")...)
	default:
		s.Crank, s.CrankSensor = *CrankWheelOf(j), wheel.ParseSensor(w.Sensor, wheel.Inductive)
	}
	switch w := j.CamWheel; {
	case w == nil && !crankAlone:
		faults = append(faults, missing("cam_wheel", "is missing: give teeth_cam_deg and first_tooth_btdc_deg")...)
	case w == nil:
	case !w.FirstToothBTDCDeg.Given && !crankAlone:
		faults = append(faults, missing("cam_wheel.first_tooth_btdc_deg", "is missing: give how many crank degrees before firing TDC of cylinder 1 tooth 1 of the cam sensor wheel passes its sensor")...)
	default:
		s.Cam, s.CamSensor = CamWheelOf(j, cycle), wheel.ParseSensor(w.Sensor, wheel.Hall)
	}
	return s, faults
}

// CamWheelOf returns the job's cam wheel, nil when it has none or does not say
// where its first tooth is.
func CamWheelOf(j job.Job, cycle timing.Deg) *wheel.Cam {
	w := j.CamWheel
	if w == nil || !w.FirstToothBTDCDeg.Given || len(w.TeethCamDeg) == 0 {
		return nil
	}
	c := wheel.Cam{FirstToothBTDC: timing.Deg(w.FirstToothBTDCDeg.Value), Cycle: cycle}
	for _, a := range w.TeethCamDeg {
		c.Teeth = append(c.Teeth, timing.CamDeg(a))
	}
	return &c
}

// fittingOf is how wheels and wires are taken to be, and how it is known.
func fittingOf(j job.Job, o SignalOptions, cycle timing.Deg) (f wheel.Fitting, basis known.Basis, err error) {
	basis = known.Supposed
	switch o.Fault {
	case "", AsIs:
		var errs errorsOf
		if o.WheelErrorDeg == nil || o.CamErrorDeg == nil {
			if errs, err = wheelErrorOf(j); err != nil {
				return f, basis, err
			}
		}
		f.Delta, f.Gamma = errs.wheel.Value, errs.gear.Value
		if j.Gears != nil {
			train, err := TrainOf(j)
			if err != nil {
				return f, basis, err
			}
			f.Gamma = train.CamError(errs.gear.Value, j.Gears.CamTeethOut)
		}
		switch {
		case o.WheelErrorDeg != nil:
		case errs.doubt != settled:
			basis = known.Assumed
		default:
			basis = errs.basis
		}
	case BackToFront:
		f.BackToFront = true
	case HalfTurnedCam:
		f.HalfTurn = true
	case WiresReversed:
		f.CrankReversed = true
	case CamWiresReversed:
		f.CamReversed = true
	}
	if o.WheelErrorDeg != nil {
		f.Delta = timing.Deg(*o.WheelErrorDeg)
	}
	if o.CamErrorDeg != nil {
		f.Gamma = timing.Deg(*o.CamErrorDeg)
	}
	f.Gamma = timing.WrapSigned(f.Gamma, cycle)
	return f, basis, nil
}

// edges lists the edges of one cycle.
func (s *Signals) edges(cycle timing.Deg) {
	second := func(at timing.Deg) float64 { return round(float64(at) / (6 * s.RPM)) }
	s.Crank = CrankTrace{Sensor: s.Of.CrankSensor.String(), Positions: s.Of.Crank.Positions, Missing: append([]int{}, s.Of.Crank.Missing...)}
	for _, p := range s.Of.CrankPassings(cycle, s.Fitting) {
		s.Crank.Edges = append(s.Crank.Edges, CrankEdge{p.Tooth, inCycle(p.Edge, cycle), inCycle(p.Believed, cycle), second(p.Edge)})
	}
	if s.Of.Cam == nil {
		return
	}
	s.Cam = &CamTrace{Sensor: s.Of.CamSensor.String()}
	for _, p := range s.Of.CamPassings(s.Fitting) {
		s.Cam.Edges = append(s.Cam.Edges, CamEdge{p.Tooth, inCycle(p.Edge, cycle), inCycle(p.Believed, cycle), second(p.Edge),
			inCycle(p.Expected, cycle), round(float64(p.Late)), p.After, p.Before, p.Gap, round(p.Part)})
	}
	// Half-way crossings make an inductive cam sensor with its wires exchanged late by
	// a different way for each tooth: then there is no one correlation error.
	if !s.Fitting.CamReversed {
		late := s.Cam.Edges[0].LateDeg
		s.Correlation = &late
	}
}
