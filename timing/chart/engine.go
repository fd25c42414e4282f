package chart

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/piston"
)

// The words of the engine figure.
const (
	wordEngine         phrase.Text = "The engine of {{.Title}}"
	wordEngineUntitled phrase.Text = "The engine"
	wordEngineDesc     phrase.Text = "Every cylinder cut open, crankshaft at {{.At}}°: piston, connecting rod, valves and gas, and the crank throws."
	wordEngineStarNose phrase.Text = "crank throws, seen from the nose"
	wordEngineStarFly  phrase.Text = "crank throws, seen from the flywheel"
	wordEngineRowNose  phrase.Text = "each cylinder seen from the nose"
	wordEngineRowFly   phrase.Text = "each cylinder seen from the flywheel"
	wordEngineSize     phrase.Text = "Bore, stroke and rod are not all in the job: drawn with assumed proportions."
	wordEngineV        phrase.Text = "Drawn as a V of {{.Bank}}° whose banks fire in turn; the job does not say in which bank a cylinder is."
	wordEngineLine     phrase.Text = "Every throw is drawn from its cylinder's own bore, as in line: the job does not say how the cylinders are arranged."
	wordEngineValve    phrase.Text = "Valve times are the job's; lift and the length of the spray are only drawn."
)

// The proportions assumed where the job has none, in millimetres.
const assumedBore, assumedStroke, assumedRod, assumedRatio = 100, 115, 190, 17

// sprayDrawn is how many crank degrees the spray is drawn for: how long the injector
// is open is not in the job.
const sprayDrawn timing.Deg = 15

// TurningEngine is the engine figure of a job at any crank angle.
type TurningEngine struct {
	engine          timing.Scheme
	linkage         piston.SliderCrank
	intake, exhaust *timing.Span
	actual          *timing.Deg
	banks           []timing.Deg // by cylinder number less one
	in              figure.EngineInput
	say             Say
}

// NewTurningEngine prepares the figure, seen from an end.
func NewTurningEngine(j job.Job, from timing.End, say Say) (TurningEngine, error) {
	e, err := finding.EngineOf(j)
	if err != nil {
		return TurningEngine{}, err
	}
	t := TurningEngine{engine: e, say: say}
	t.intake, t.exhaust = finding.ValveSpans(j)
	t.in = figure.EngineInput{View: finding.ViewOf(j, from.String()), TwoStroke: e.Strokes() == 2, Heading: j.Title,
		Title: say.title(wordEngine, wordEngineUntitled, j.Title),
		Star:  say.text(wordEngineStarNose), Row: say.text(wordEngineRowNose)}
	if from == timing.Flywheel {
		t.in.Star, t.in.Row = say.text(wordEngineStarFly), say.text(wordEngineRowFly)
	}
	for s, w := range strokeWords {
		t.in.Strokes[s] = figure.Word{Full: say.text(w[0]), Short: say.text(w[1])}
	}
	if s, err := finding.ShiftOf(j); err == nil {
		_, t.actual = injection(s)
		t.in.Spray = say.text(wordActual)
	}
	t.measure(j.Engine)
	t.ports()
	bank := t.bank()
	if t.intake != nil || t.exhaust != nil || t.actual != nil {
		t.in.Caption = append(t.in.Caption, say.text(wordEngineValve))
	}
	if bank > 0 {
		t.in.Caption = append(t.in.Caption, say.with(wordEngineV, map[string]any{"Bank": phrase.Num{Value: float64(bank), Decimals: 1}}))
	} else if e.Cylinders() >= 8 {
		t.in.Caption = append(t.in.Caption, say.text(wordEngineLine))
	}
	return t, nil
}

// measure takes the lengths from the job; where they are not all there, or cannot
// turn, assumed ones.
func (t *TurningEngine) measure(e job.Engine) {
	t.in.BoreMM = e.BoreMM.Value
	t.linkage = piston.SliderCrank{ThrowMM: e.StrokeMM.Value / 2, RodMM: e.RodMM.Value, OffsetMM: e.PinOffsetMM.Or(0)}
	if !(t.in.BoreMM > 0) || t.linkage.Check() != nil {
		t.in.BoreMM, t.linkage = assumedBore, piston.SliderCrank{ThrowMM: assumedStroke / 2.0, RodMM: assumedRod}
		t.in.Caption = append(t.in.Caption, t.say.text(wordEngineSize))
	}
	t.in.ThrowMM, t.in.RodMM, t.in.OffsetMM = t.linkage.ThrowMM, t.linkage.RodMM, t.linkage.OffsetMM
	t.in.ClearanceMM = t.linkage.TravelMM() / (max(e.CompressionRatio.Or(assumedRatio), 2) - 1)
}

// ports says which of a two-stroke's openings are ports in the wall, and how high: the
// intake, and an exhaust that opens and closes with the piston at the same height.
func (t *TurningEngine) ports() {
	if t.intake != nil {
		t.in.Intake = t.say.text(wordIntakeOpen)
	}
	if t.exhaust != nil {
		t.in.Exhaust = t.say.text(wordExhaustOpen)
	}
	if t.engine.Strokes() != 2 {
		return
	}
	port := func(s *timing.Span) *float64 {
		if s == nil || math.Abs(float64(s.From+s.To-2*t.linkage.BDC())) > 2 {
			return nil
		}
		d := t.linkage.DropMM(s.From)
		return &d
	}
	t.in.IntakePortMM, t.in.ExhaustPortMM = port(t.intake), port(t.exhaust)
}

// bank finds out whether the engine fires unevenly as one of the known engines in a V,
// and then puts every cylinder into its bank; 0: it is drawn in line. One that fires
// evenly can have its banks and pins in several ways, and is.
func (t *TurningEngine) bank() timing.Deg {
	order := t.engine.Order()
	n := len(order)
	t.banks = make([]timing.Deg, n)
	if t.engine.Strokes() != 4 {
		return 0
	}
	for _, l := range timing.Layouts() {
		if l.Bank == 0 || l.Cylinders != n || l.Order != nil && !equalInts(l.Order, order) || l.Intervals == nil {
			continue
		}
		for shift := range 2 {
			if !t.firesAs(l.Intervals, shift) {
				continue
			}
			for i, c := range order {
				t.banks[c-1] = l.Bank / 2
				if (i+shift)%2 == 0 != (n == 2) { // of two, the second waits a turn less the angle
					t.banks[c-1] = -l.Bank / 2
				}
			}
			return l.Bank
		}
	}
	return 0
}

func equalInts(a, b []int) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// firesAs tells whether the firings follow each other at some intervals, counted from
// the one after shift others.
func (t *TurningEngine) firesAs(intervals []timing.Deg, shift int) bool {
	order := t.engine.Order()
	n := len(order)
	for i, c := range order {
		want := intervals[(i+shift)%n]
		is := timing.Wrap(t.engine.FiresAt(order[(i+1)%n])-t.engine.FiresAt(c), t.engine.Cycle())
		if math.Abs(float64(is-want)) > 0.05 {
			return false
		}
	}
	return true
}

// At returns the figure's input at a crank angle, any number of cycles away. selected
// is set off from the others; 0: none.
func (t TurningEngine) At(at timing.Deg, selected int) figure.EngineInput {
	e := t.engine
	in := t.in
	at = timing.Wrap(at, e.Cycle())
	in.Desc = t.say.with(wordEngineDesc, map[string]any{"At": finding.Beside(float64(at), 1)})
	in.Cylinders = make([]figure.EngineCylinder, e.Cylinders())
	for i := range in.Cylinders {
		alpha := e.Angle(i+1, at)
		c := figure.EngineCylinder{Cylinder: i + 1, Bank: t.banks[i], Throw: alpha + t.linkage.TDC(), DropMM: t.linkage.DropMM(alpha),
			Stroke: e.StrokeAt(alpha), Intake: lift(t.intake, alpha, e.Cycle()), Exhaust: lift(t.exhaust, alpha, e.Cycle()), Selected: i+1 == selected}
		if t.actual != nil {
			c.Spraying = timing.Wrap(alpha+*t.actual, e.Cycle()) < sprayDrawn
		}
		in.Cylinders[i] = c
	}
	return in
}

// lift is how far a valve is drawn open: not at all at the ends of its span, fully in
// the middle, by the square of a sine between.
func lift(s *timing.Span, alpha, cycle timing.Deg) float64 {
	if s == nil || !s.Holds(alpha, cycle) {
		return 0
	}
	x := math.Sin(math.Pi * float64(timing.Wrap(alpha-s.From, cycle)/(s.To-s.From)))
	return x * x
}
