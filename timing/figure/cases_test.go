package figure

import (
	"fmt"

	"pinphase.org/pinphase/timing"
)

// The engines and wheels the tests draw; all invented.

var (
	order16     []int
	intervals16 []timing.Deg // 35 and 55 in turn
)

func init() {
	for i := range 16 {
		order16 = append(order16, i*7%16+1)
		intervals16 = append(intervals16, [...]timing.Deg{35, 55}[i%2])
	}
}

func engine(strokes int, order []int, intervals ...timing.Deg) timing.Scheme {
	e, err := timing.NewScheme(strokes, order, intervals)
	if err != nil {
		panic(err)
	}
	return e
}

func deg(d timing.Deg) *timing.Deg { return &d }

// signed writes an angle with the real minus sign.
func signed(d timing.Deg) string {
	if d < 0 {
		return fmt.Sprintf("−%.1f°", float64(-d))
	}
	return fmt.Sprintf("%.1f°", float64(d))
}

// cycleInput is the engine with injection asked for at 9 BTDC and delta early.
func cycleInput(e timing.Scheme, delta timing.Deg) CycleInput {
	in := CycleInput{Engine: e, Heading: "Injection of every cylinder", Title: "Cycle diagram", Desc: "Strokes and injections over one cycle",
		Strokes:    [4]Word{{"power", "P"}, {"exhaust", "E"}, {"intake", "I"}, {"compression", "C"}},
		IntakeOpen: "intake open", ExhaustOpen: "exhaust open", FiringTDC: "firing TDC",
		Commanded: "injection commanded", Actual: "actual injection",
		AxisTitle: "Crank angle after firing TDC of cylinder 1", ReadoutHead: "injects at"}
	intake, exhaust := e.IntakeSpan(timing.ValvePair{Opens: 12, Closes: 38}), e.ExhaustSpan(timing.ValvePair{Opens: 44, Closes: 10})
	for c := 1; c <= e.Cylinders(); c++ {
		in.Rows = append(in.Rows, CycleRow{Cylinder: c, Label: Word{fmt.Sprintf("Cyl %d", c), fmt.Sprint(c)},
			Intake: &intake, Exhaust: &exhaust, Commanded: deg(9), Actual: deg(9 + delta),
			Readout: signed(9+delta) + " BTDC", Warn: delta != 0})
	}
	return in
}

// wheelInput is a wheel displaced by delta, its dowel mirrored or moved.
func wheelInput(positions int, missing []int, delta timing.Deg) WheelInput {
	return WheelInput{Positions: positions, Missing: missing, FirstBTDC: 90, Error: delta, Theta: 20,
		KeywayDrawing: deg(0), DowelDrawing: deg(12.5), DowelMeasured: deg(12.5 + delta), Commanded: deg(9), Actual: deg(9 + delta),
		Heading: "Sensor wheel", Title: "Sensor wheel", Desc: "The end of the crankshaft seen from the nose",
		Caption: []string{"Seen from the nose end; turns clockwise.", "The keyway is drawn at the No. 1 throw: its angle is not known."},
		Words: WheelWords{TDC: "TDC 1", BTDC: "BTDC", ATDC: "ATDC", Sensor: "sensor", Rotation: "rotation", Tooth1: "tooth 1",
			Tooth1Correct: "tooth 1 if correct", Gap: "gap", Throw: "No. 1 throw", Keyway: "keyway", KeywayDrawing: "keyway, drawing",
			DowelDrawing: "dowel, drawing", DowelMeasured: "dowel, measured", Commanded: "commanded", Actual: "as it happens", Error: signed(delta)}}
}
