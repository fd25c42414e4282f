package cause

import "pinphase.org/pinphase/timing"

// Engine is what the faults and the evidence need to know of an engine. The zero
// value of a field means not known; [Engine.withDefaults] says what then counts.
type Engine struct {
	Strokes    int        // 4 or 2
	Interval   timing.Deg // after which the dead centres look alike: 120 for an even four-stroke six
	CrankTeeth int        // of the crank gear
	Idlers     bool       // the crank gear does not mesh with the cam gear itself
	Dowel      *timing.Deg
	Positions  int  // of the crank wheel
	OneGap     bool // its pattern is the same seen from behind
	Hall       bool // crank sensor
	HallKnown  bool

	LightsFrom, LightsTo timing.Deg // wheel errors between which the engine lights; from below 0, to above
	CompressionBar       float64    // what a gauge should show
	CompressionUBar      float64
	RailBar              float64 // while cranking
	CrankingRPM          float64 // of a healthy starter
}

// What counts where the job does not say. Common practice, no source.
const (
	usualCrankTeeth             = 36 // a tooth is 10 crank degrees
	usualPositions              = 60
	usualFrom        timing.Deg = -14
	usualTo          timing.Deg = 22
	usualCompression            = 27.0
	usualCompressU              = 4.0
	usualRail                   = 330.0
	usualRPM                    = 200.0
)

// withDefaults returns the engine with every number known.
func (e Engine) withDefaults() Engine {
	if e.Strokes != 2 {
		e.Strokes = 4
	}
	if e.Interval <= 0 {
		e.Interval = timing.Turn
	}
	if e.CrankTeeth <= 0 {
		e.CrankTeeth, e.Idlers = usualCrankTeeth, true
	}
	if e.Positions <= 0 {
		e.Positions, e.OneGap = usualPositions, true
	}
	if e.LightsFrom >= 0 || e.LightsTo <= 0 {
		e.LightsFrom, e.LightsTo = usualFrom, usualTo
	}
	if e.CompressionBar <= 0 {
		e.CompressionBar, e.CompressionUBar = usualCompression, usualCompressU
	}
	if e.RailBar <= 0 {
		e.RailBar = usualRail
	}
	if e.CrankingRPM <= 0 {
		e.CrankingRPM = usualRPM
	}
	return e
}

func (e *Engine) cycle() timing.Deg { return timing.CycleOf(e.Strokes) }

// tooth is what one tooth of the gear train moves the cam by.
func (e *Engine) tooth() timing.Deg { return timing.Turn / timing.Deg(e.CrankTeeth) }

// pitch is from tooth to tooth of the crank wheel.
func (e *Engine) pitch() timing.Deg { return timing.Turn / timing.Deg(e.Positions) }
