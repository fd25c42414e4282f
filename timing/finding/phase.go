package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/wheel"
)

// Phase is where every cylinder is when the crank stands at one angle. Angles
// are crank degrees.
type Phase struct {
	CrankDeg  float64         `json:"crank_deg"` // wrapped into the cycle
	CycleDeg  float64         `json:"cycle_deg"`
	Cylinders []CylinderPhase `json:"cylinders"` // in number order
	Wheel     *WheelPhase     `json:"crank_wheel,omitempty"`
}

// CylinderPhase is one cylinder's part of a [Phase].
type CylinderPhase struct {
	Cylinder    int      `json:"cylinder"`
	FiresAtDeg  float64  `json:"fires_at_deg"`
	AngleDeg    float64  `json:"angle_deg"` // after its firing TDC, 0..cycle
	Stroke      string   `json:"stroke"`
	PistonMM    *float64 `json:"piston_mm"` // below its TDC; nil without bore, stroke and rod
	IntakeOpen  *bool    `json:"intake_open"`
	ExhaustOpen *bool    `json:"exhaust_open"`
	Companion   []int    `json:"companion"`
}

// StrokeText is the stroke as a term.
func (c CylinderPhase) StrokeText() phrase.Text {
	stroke, _ := timing.ParseStroke(c.Stroke)
	return stroke.Text()
}

// WheelPhase is what stands at the crank sensor: on the wheel as it should be
// and, displaced by the wheel error, as it is. Without a measured dowel the two
// are the same.
type WheelPhase struct {
	Right  Tooth  `json:"as_drawn"`
	Actual *Tooth `json:"as_measured"` // nil when the wheel error cannot be worked out
}

// Tooth is a position of the crank wheel at the sensor.
type Tooth struct {
	Position int     `json:"position"`
	PastDeg  float64 `json:"past_deg"` // gone past the sensor; negative: still to come
	Missing  bool    `json:"missing"`
}

// PhaseAt returns the phase at a crank angle, which may lie any number of
// cycles away.
func PhaseAt(j job.Job, at timing.Deg) (Phase, error) {
	t, err := NewTurner(j)
	if err != nil {
		return Phase{}, err
	}
	return t.At(at), nil
}

// Turner gives the phase of one job at many crank angles: what the angle does not
// change is worked out once.
type Turner struct {
	engine engine
	wheel  *wheel.Crank // nil: the job has none
	delta  *timing.Deg  // its error; nil: cannot be known
}

// NewTurner returns the turner of a job.
func NewTurner(j job.Job) (Turner, error) {
	e, err := engineOf(j)
	if err != nil {
		return Turner{}, err
	}
	t := Turner{engine: e, wheel: CrankWheelOf(j)}
	if t.wheel != nil {
		if errs, err := wheelErrorOf(j); err == nil {
			t.delta = &errs.wheel.Value
		}
	}
	return t, nil
}

// At returns the phase at a crank angle, which may lie any number of cycles away.
func (t Turner) At(at timing.Deg) Phase {
	e := t.engine
	p := Phase{
		CrankDeg:  inCycle(timing.Wrap(at, e.Cycle()), e.Cycle()),
		CycleDeg:  float64(e.Cycle()),
		Cylinders: make([]CylinderPhase, e.Cylinders()),
	}
	for i := range p.Cylinders {
		c := i + 1
		alpha := e.Angle(c, at)
		p.Cylinders[i] = CylinderPhase{
			Cylinder:    c,
			FiresAtDeg:  inCycle(e.FiresAt(c), e.Cycle()),
			AngleDeg:    inCycle(alpha, e.Cycle()),
			Stroke:      e.StrokeAt(alpha).String(),
			PistonMM:    e.pistonMM(alpha),
			IntakeOpen:  open(e.intake, alpha, e.Cycle()),
			ExhaustOpen: open(e.exhaust, alpha, e.Cycle()),
			Companion:   e.Companions(c),
		}
	}
	if t.wheel != nil {
		p.Wheel = &WheelPhase{Right: toothAt(*t.wheel, at, 0)}
		if t.delta != nil {
			tooth := toothAt(*t.wheel, at, *t.delta)
			p.Wheel.Actual = &tooth
		}
	}
	return p
}

func toothAt(w wheel.Crank, at, delta timing.Deg) Tooth {
	s := w.AtSensor(at, delta)
	return Tooth{s.Position, round(float64(s.Past)), s.Missing}
}

func open(s *timing.Span, alpha, cycle timing.Deg) *bool {
	if s == nil {
		return nil
	}
	b := s.Holds(alpha, cycle)
	return &b
}
