package figure

import (
	"pinphase.org/pinphase/timing"
)

// CycleInput is what the cycle figure shows. Words come ready for the reader;
// an empty word leaves out what it names.
type CycleInput struct {
	Engine  timing.Scheme
	Rows    []CycleRow // from the top
	Heading string     // over the figure; empty: none
	Title   string     // of the drawing, for those who cannot see it
	Desc    string

	Strokes [4]Word // by timing.Stroke: shown inside the spans and in the legend
	// The legend. A row of the legend whose word is empty is left out.
	IntakeOpen, ExhaustOpen, FiringTDC, Commanded, Actual string
	AxisTitle                                             string // under the degrees
	NoLegend                                              bool   // it is drawn elsewhere: see [CycleLegend]
	Blank                                                 bool   // rows are empty, to be filled in by hand

	Cursor      *timing.Deg    // drawn when not nil (the screen lays its own over the figure)
	CursorLabel string         // above the cursor
	Span        *[2]timing.Deg // an arrow over the rows from one crank angle on to another, no more than a cycle; nil: none
	ReadoutHead string         // over the column of readouts; may be empty
	ReadoutRoom string         // the widest readout of a screen that lays its own beside the rows; empty: none
}

// Word is a label in full and short for where there is little room.
type Word struct{ Full, Short string }

// CycleRow is one cylinder.
type CycleRow struct {
	Cylinder  int          // of Engine; any other panics
	Label     Word         // "Cyl 5", "5"
	Intake    *timing.Span // when its valve is open, in the cylinder's own angle; nil: not known
	Exhaust   *timing.Span
	Commanded *timing.Deg // start of injection before firing TDC, not wrapped; nil: not shown
	Actual    *timing.Deg
	Readout   string // at the right; may be empty
	Warn      bool   // the readout is a warning
	Selected  bool   // the row is set off
}

// CycleLayout says where the figure has put things.
type CycleLayout struct {
	Plot  Rect       // from 0 to the cycle across, all rows down
	Rows  []CycleBar // in the order of the input
	Cycle timing.Deg

	Readout     Rect    // the column of readouts; no width: there is no room for one
	ReadoutSize float64 // of their type
}

// CycleBar is where a row lies.
type CycleBar struct {
	Cylinder int
	Row      Rect // as wide as the plot, rows touching
	Band     Rect // the strokes
}

// X returns where a crank angle lies. It is not wrapped: 0 is the plot's left
// edge, the cycle its right.
func (l CycleLayout) X(d timing.Deg) float64 {
	return l.Plot.X + float64(d/l.Cycle)*l.Plot.W
}

// Deg is the inverse of [CycleLayout.X]. Left of the plot it is negative.
func (l CycleLayout) Deg(x float64) timing.Deg {
	return timing.Deg((x-l.Plot.X)/l.Plot.W) * l.Cycle
}

// RowAt returns the index of the row at height y, and false outside them all.
func (l CycleLayout) RowAt(y float64) (int, bool) {
	for i, r := range l.Rows {
		if y >= r.Row.Y && y < r.Row.Bottom() {
			return i, true
		}
	}
	return 0, false
}
