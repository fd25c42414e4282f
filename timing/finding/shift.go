package finding

import (
	"errors"
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// Shift is where a displaced wheel puts every injection. Angles are crank
// degrees, errors positive in the direction of rotation.
type Shift struct {
	WheelErrorDeg  float64     `json:"wheel_error_deg"`
	WheelErrorUDeg *float64    `json:"wheel_error_u_deg"`     // nil when no dowel was measured: nobody knows how surely
	Basis          string      `json:"basis"`                 // how the wheel error is known; see [known.Basis]
	Doubt          string      `json:"doubt,omitempty"`       // "disputed": what else was seen makes it improbable; "branching": it is the most probable of several
	Probability    *float64    `json:"probability,omitempty"` // of the wheel error, by all that was seen; nil where nothing but the part was
	GearErrorDeg   float64     `json:"gear_error_deg"`
	GearErrorUDeg  float64     `json:"gear_error_u_deg"`
	GearBasis      string      `json:"gear_basis"`
	Direction      string      `json:"direction"` // "advanced", "retarded" or "none"
	Assumed        bool        `json:"assumed"`   // nothing says where the dowel is: it is taken as set out from the keyway
	Injections     []Injection `json:"injections"`
	Known          []Quantity  `json:"known"` // what all answers stand on, and how it is known

	Says  phrase.Sentence   `json:"-"` // what it comes to
	Notes []phrase.Sentence `json:"-"` // what must be known beside it
	Steps []phrase.Sentence `json:"-"` // how it was reached
}

// Injection is one cylinder's start of injection. Before top dead centre is
// positive, after it negative.
type Injection struct {
	Cylinder         int      `json:"cylinder"`
	CommandedBTDCDeg float64  `json:"commanded_btdc_deg"`
	ActualBTDCDeg    float64  `json:"actual_btdc_deg"`  // not wrapped
	ActualCrankDeg   float64  `json:"actual_crank_deg"` // 0..cycle
	Stroke           string   `json:"stroke"`           // the cylinder is on at that moment
	PistonMM         *float64 `json:"piston_mm"`        // below TDC at that moment
}

// StrokeText is the stroke as a term.
func (i Injection) StrokeText() phrase.Text {
	stroke, _ := timing.ParseStroke(i.Stroke)
	return stroke.Text()
}

// errorsOf is what one job's crankshaft is off by.
type errorsOf struct {
	gear, wheel       timing.Measured
	gearDOF, wheelDOF float64     // effective degrees of freedom; 0: no limit
	basis             known.Basis // of the wheel error
	gearBasis         known.Basis
	doubt             doubt
	taken             bool           // the wheel error is where the causes have it
	agrees            float64        // how probable the wheel error is by all that was seen
	ranking           *cause.Ranking // of the causes; nil: nothing but the part was seen
	dowel, keyway     feature
}

// compare sets what was measured against the drawing. It is [job.Faults] for a
// reading that has no drawing to be set against.
func compare(dowel, keyway feature) (errorsOf, error) {
	e := errorsOf{dowel: dowel, keyway: keyway, basis: known.Measured, gearBasis: known.Assumed}
	var faults job.Faults
	var gear *part.Comparison
	if keyway.measured != nil {
		if keyway.drawing == nil {
			faults = append(faults, missing("keyway.drawing", "is missing: the keyway was measured, and must be compared with the drawing")...)
		} else {
			c := keyway.comparison()
			gear, e.gearBasis = &c, known.Measured
		}
	}
	if dowel.measured != nil && dowel.drawing == nil {
		faults = append(faults, missing("dowel.drawing", "is missing: the dowel was measured, and must be compared with the drawing")...)
	}
	if len(faults) > 0 {
		return errorsOf{}, faults
	}
	e.gear = part.GearError(gear)
	e.gear.Value = short(e.gear.Value)
	e.gearDOF = dofOf(e.gear, keyway)
	if dowel.measured == nil { // taken as set out from the keyway as it is
		e.wheel, e.wheelDOF, e.basis = e.gear, e.gearDOF, known.Assumed
		return e, nil
	}
	e.wheel = part.WheelError(gear, dowel.comparison())
	e.wheel.Value = short(e.wheel.Value)
	e.wheelDOF = dofOf(e.wheel, dowel, keyway)
	return e, nil
}

// dofOf are the effective degrees of freedom of an error that follows from what
// was measured of some features (JCGM 100:2008, eq. G.2b); 0: no limit.
func dofOf(m timing.Measured, of ...feature) float64 {
	sum := 0.0
	for _, f := range of {
		if f.measured != nil && f.measured.DOF > 0 && m.U > 0 {
			sum += math.Pow(float64(f.measured.U/m.U), 4) / f.measured.DOF
		}
	}
	if sum == 0 {
		return 0
	}
	return 1 / sum
}

// ShiftOf returns where the wheel error puts every injection. It needs the
// start of injection, and the drawing's angle of whatever was measured.
func ShiftOf(j job.Job) (Shift, error) {
	e, err := engineOf(j)
	if err != nil {
		return Shift{}, err
	}
	var faults job.Faults
	if j.Injection == nil || !j.Injection.StartBTDCDeg.Given {
		faults = missing("injection.start_btdc_deg", "is missing: give the start of injection commanded, in degrees before TDC")
	}
	errs, err := wheelErrorOf(j)
	if err != nil {
		var more job.Faults
		if !errors.As(err, &more) {
			return Shift{}, err
		}
		faults = append(faults, more...)
	}
	if len(faults) > 0 {
		return Shift{}, faults
	}
	s := Shift{
		WheelErrorDeg: round(float64(errs.wheel.Value)),
		GearErrorDeg:  round(float64(errs.gear.Value)),
		GearErrorUDeg: round(float64(errs.gear.U)),
		Assumed:       errs.basis == known.Assumed,
		Basis:         errs.basis.String(),
		GearBasis:     errs.gearBasis.String(),
		Doubt:         errs.doubt.inJSON(),
		Direction:     direction(errs.wheel.Value),
	}
	if errs.told() {
		u := round(float64(errs.wheel.U))
		s.WheelErrorUDeg = &u
	}
	if errs.ranking != nil {
		p := round(errs.agrees)
		s.Probability = &p
	}
	commanded := timing.Deg(j.Injection.StartBTDCDeg.Value)
	actual := commanded + errs.wheel.Value // delta early: a negative wheel error retards
	for c := 1; c <= e.Cylinders(); c++ {
		at := e.CrankAngle(c, actual)
		alpha := e.Angle(c, at)
		s.Injections = append(s.Injections, Injection{
			Cylinder:         c,
			CommandedBTDCDeg: round(float64(commanded)),
			ActualBTDCDeg:    round(float64(actual)),
			ActualCrankDeg:   inCycle(at, e.Cycle()),
			Stroke:           e.StrokeAt(alpha).String(),
			PistonMM:         e.pistonMM(alpha),
		})
	}
	s.explain(len(j.Engine.FiringOrder) == 1, errs, commanded, actual, e.StrokeAt(-actual))
	s.Notes = slices.Insert(s.Notes, min(1, len(s.Notes)), errs.verdict(j)...) // beside the wheel's error, where it is seen
	s.Notes = append(s.Notes, doubtful(j)...)
	s.Known = KnownOf(j)
	s.Says = supposingSays(j, s.Says, supposedWheel)
	return s, nil
}

// direction names the sign of the wheel error: a wheel ahead of where it
// belongs advances injection.
func direction(delta timing.Deg) string {
	switch {
	case delta > 0:
		return "advanced"
	case delta < 0:
		return "retarded"
	}
	return "none"
}

// WheelErrorOf returns how far the job's sensor wheel is ahead of where it belongs.
// Where no dowel was measured that is the keyway's error, see [Shift].
func WheelErrorOf(j job.Job) (timing.Measured, error) {
	e, err := wheelErrorOf(j)
	return e.wheel, err
}
