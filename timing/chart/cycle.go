package chart

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// CycleOptions are the reader's choices for the cycle figure.
type CycleOptions struct {
	ByNumber bool        // rows in number order, else in firing order
	Cursor   *timing.Deg // drawn, with every cylinder's readout, when not nil
	Selected int         // the cylinder set off from the others; 0: none
	Say      Say
}

// Cycle returns the cycle figure's input for a job. A job without a start of
// injection, or one whose readings contradict themselves, has no injection
// marks.
func Cycle(j job.Job, o CycleOptions) (figure.CycleInput, error) {
	e, err := finding.EngineOf(j)
	if err != nil {
		return figure.CycleInput{}, err
	}
	in := figure.CycleInput{
		Engine:      e,
		Heading:     j.Title,
		Title:       o.Say.title(wordCycle, wordCycleUntitled, j.Title),
		Desc:        described(o.Say.with(wordCycleDesc, map[string]any{"Cycle": int(e.Cycle())}), j, o.Say),
		IntakeOpen:  o.Say.text(wordIntakeOpen),
		ExhaustOpen: o.Say.text(wordExhaustOpen),
		FiringTDC:   o.Say.text(wordFiringTDC),
		AxisTitle:   o.Say.text(wordAxis),
	}
	for s, w := range strokeWords {
		in.Strokes[s] = figure.Word{Full: o.Say.text(w[0]), Short: o.Say.text(w[1])}
	}
	var commanded, actual *timing.Deg
	if s, err := finding.ShiftOf(j); err == nil {
		commanded, actual = injection(s)
		in.Commanded, in.Actual = o.Say.text(wordCommanded), o.Say.text(wordActual)
	}
	intake, exhaust := finding.ValveSpans(j)
	if intake == nil {
		in.IntakeOpen = ""
	}
	if exhaust == nil {
		in.ExhaustOpen = ""
	}
	readouts, err := readoutsAt(j, o)
	if err != nil {
		return figure.CycleInput{}, err
	}
	for _, c := range RowOrder(e, o.ByNumber) {
		row := figure.CycleRow{
			Cylinder:  c,
			Label:     figure.Word{Full: o.Say.with(wordCylinder, map[string]any{"N": c}), Short: phrase.Num{Value: float64(c)}.String()},
			Intake:    intake,
			Exhaust:   exhaust,
			Commanded: commanded,
			Actual:    actual,
			Selected:  c == o.Selected,
		}
		if readouts != nil {
			row.Readout = readouts[c-1]
		}
		in.Rows = append(in.Rows, row)
	}
	if o.Cursor != nil {
		at := timing.Wrap(*o.Cursor, e.Cycle())
		in.Cursor = &at
		in.CursorLabel = o.Say.with(wordNumber, map[string]any{"N": finding.Beside(float64(at), 1)}) + "°"
	}
	return in, nil
}

// RowOrder returns the cylinders from the top of the figure down.
func RowOrder(e timing.Scheme, byNumber bool) []int {
	order := e.Order()
	if byNumber {
		for i := range order {
			order[i] = i + 1
		}
	}
	return order
}

// injection returns when injection is asked for and when it happens, the same
// for every cylinder.
func injection(s finding.Shift) (commanded, actual *timing.Deg) {
	c, a := timing.Deg(s.Injections[0].CommandedBTDCDeg), timing.Deg(s.Injections[0].ActualBTDCDeg)
	return &c, &a
}

// described adds what the job comes to, where that can be said, to a figure's
// description.
func described(figure string, j job.Job, say Say) string {
	s, err := finding.ShiftOf(j)
	if err != nil {
		return figure
	}
	return figure + " " + say.Sentence(s.Says)
}

func readoutsAt(j job.Job, o CycleOptions) ([]string, error) {
	if o.Cursor == nil {
		return nil, nil
	}
	p, err := finding.PhaseAt(j, *o.Cursor)
	if err != nil {
		return nil, err
	}
	return Readouts(p, o.Say), nil
}

// Readouts are what stands beside each cylinder's row at the cursor, by cylinder
// number: its stroke, and its angle counted from the nearer firing dead centre.
func Readouts(p finding.Phase, say Say) []string {
	list := make([]string, len(p.Cylinders))
	for i, c := range p.Cylinders {
		before := -float64(timing.WrapSigned(timing.Deg(c.AngleDeg), timing.Deg(p.CycleDeg)))
		list[i] = say.text(c.StrokeText()) + ", " + say.BTDC(before)
	}
	return list
}
