package finding

import (
	"math"

	"pinphase/timing"
	"pinphase/timing/job"
)

// deg is an angle for a sentence: tenths of a degree are what can be measured.
func deg(d timing.Deg) Num { return Num{float64(d), 1} }

// fine is an angle in a derivation, where hundredths keep the sum visible.
func fine(d timing.Deg) Num { return Num{float64(d), 2} }

func size(d timing.Deg) timing.Deg { return timing.Deg(math.Abs(float64(d))) }

// explain fills in what the shift means, what must be known beside it, and how
// it was reached.
func (s *Shift) explain(j job.Job, e errorsOf, commanded, actual timing.Deg, stroke timing.Stroke) {
	s.Says = says(len(j.Engine.FiringOrder) == 1, e, actual, stroke)
	s.Notes = notes(j, e.dowel, e.keyway)
	if e.assumed {
		s.Notes = append([]Sentence{{Text: noteAssumed}}, s.Notes...)
		if e.gear.Value != 0 {
			s.Notes = append(s.Notes, Sentence{noteCarried, map[string]any{"Size": deg(size(e.gear.Value))}})
		}
	}
	s.Steps = steps(e, commanded, actual)
}

// says is the finding in one sentence. Whole sentences are kept for each case,
// because a translation cannot be put together from halves.
func says(single bool, e errorsOf, actual timing.Deg, stroke timing.Stroke) Sentence {
	data := map[string]any{"At": deg(size(actual)), "Stroke": Term(stroke.String()), "By": deg(size(e.wheel.Value))}
	place := "before"
	switch {
	case deg(actual).String() == "0":
		place = "at"
	case actual < 0:
		place = "after"
	}
	return Sentence{Text: saying[key{single, place, direction(e.wheel.Value)}], Data: data}
}

type key struct {
	single    bool
	place     string // of TDC
	direction string
}

var saying = map[key]string{
	{false, "before", "none"}:     "Every injection lands where the controller asks for it: {{.At}}° before TDC, on the {{.Stroke}} stroke.",
	{false, "at", "none"}:         "Every injection lands where the controller asks for it: at TDC.",
	{false, "after", "none"}:      "Every injection lands where the controller asks for it: {{.At}}° after TDC, on the {{.Stroke}} stroke.",
	{false, "before", "retarded"}: "Every injection lands {{.At}}° before TDC, on the {{.Stroke}} stroke: {{.By}}° later than the controller believes.",
	{false, "at", "retarded"}:     "Every injection lands at TDC: {{.By}}° later than the controller believes.",
	{false, "after", "retarded"}:  "Every injection lands {{.At}}° after TDC, on the {{.Stroke}} stroke: {{.By}}° later than the controller believes.",
	{false, "before", "advanced"}: "Every injection lands {{.At}}° before TDC, on the {{.Stroke}} stroke: {{.By}}° earlier than the controller believes.",
	{false, "at", "advanced"}:     "Every injection lands at TDC: {{.By}}° earlier than the controller believes.",
	{false, "after", "advanced"}:  "Every injection lands {{.At}}° after TDC, on the {{.Stroke}} stroke: {{.By}}° earlier than the controller believes.",
	{true, "before", "none"}:      "Injection lands where the controller asks for it: {{.At}}° before TDC, on the {{.Stroke}} stroke.",
	{true, "at", "none"}:          "Injection lands where the controller asks for it: at TDC.",
	{true, "after", "none"}:       "Injection lands where the controller asks for it: {{.At}}° after TDC, on the {{.Stroke}} stroke.",
	{true, "before", "retarded"}:  "Injection lands {{.At}}° before TDC, on the {{.Stroke}} stroke: {{.By}}° later than the controller believes.",
	{true, "at", "retarded"}:      "Injection lands at TDC: {{.By}}° later than the controller believes.",
	{true, "after", "retarded"}:   "Injection lands {{.At}}° after TDC, on the {{.Stroke}} stroke: {{.By}}° later than the controller believes.",
	{true, "before", "advanced"}:  "Injection lands {{.At}}° before TDC, on the {{.Stroke}} stroke: {{.By}}° earlier than the controller believes.",
	{true, "at", "advanced"}:      "Injection lands at TDC: {{.By}}° earlier than the controller believes.",
	{true, "after", "advanced"}:   "Injection lands {{.At}}° after TDC, on the {{.Stroke}} stroke: {{.By}}° earlier than the controller believes.",
}

// Texts returns every sentence text of this package that may be shown, so that
// translations can be checked for completeness.
func Texts() []string {
	var list []string
	for _, t := range saying {
		list = append(list, t)
	}
	return append(append(list, noteTexts...), stepTexts...)
}

// The notes, in the order in which they are given.
const (
	noteAssumed  = "No dowel was measured: the wheel error was assumed to be 0."
	noteCarried  = "The keyway is {{.Size}}° off; a dowel placed from that keyway carries the sensor wheel off with it. Measure the dowel."
	noteSure     = "The wheel error is {{.Error}}° ± {{.U}}° (one standard uncertainty); 95 in 100 such readings lie between {{.Lo}}° and {{.Hi}}°."
	noteUnsure   = "The wheel error of {{.Error}}° is smaller than what these readings can tell (± {{.U}}° standard uncertainty): the part may be right."
	noteMirrored = "The dowel is on the other side of the keyway than drawn: a mirrored part explains this reading (probability {{.P}} %)."
	noteKeyway   = "A dowel-to-keyway angle alone cannot say which of the two is wrong. Measure the keyway from the No. 1 throw to know."
	noteGear     = "The keyway is {{.Size}}° off, so the crank gear, the camshaft and the valves are off by as much."
	noteDefaultU = "No uncertainty was given for the reading in [{{.Section}}]: the method's default was taken, {{.U}}°."
	noteInLine   = "The features in [{{.Section}}] lie nearly in line with the centre, where a chord can hardly tell the angle. Use a degree wheel there."
)

var noteTexts = []string{
	noteAssumed, noteCarried, noteSure, noteUnsure, noteMirrored, noteKeyway, noteGear, noteDefaultU, noteInLine,
}

func notes(j job.Job, dowel, keyway feature) []Sentence {
	var list []Sentence
	e, err := wheelErrorOf(j)
	if err == nil && !e.assumed && e.wheel.Value != 0 {
		lo, hi := e.wheel.Interval95()
		data := map[string]any{"Error": deg(e.wheel.Value), "U": fine(e.wheel.U), "Lo": deg(lo), "Hi": deg(hi)}
		if lo <= 0 && hi >= 0 {
			list = append(list, Sentence{noteUnsure, data})
		} else if e.wheel.U > 0 {
			list = append(list, Sentence{noteSure, data})
		}
	}
	if p := mirroredProbability(dowel); p > 0 {
		list = append(list, Sentence{noteMirrored, map[string]any{"P": Num{math.Min(100*p, 99.9), 1}}})
	}
	if err == nil && !e.assumed && e.wheel.Value != 0 && keyway.measured == nil {
		list = append(list, Sentence{Text: noteKeyway})
	}
	if err == nil && !e.assumed && e.gear.Value != 0 {
		list = append(list, Sentence{noteGear, map[string]any{"Size": deg(size(e.gear.Value))}})
	}
	for _, f := range []struct {
		section string
		feature
	}{{"dowel", dowel}, {"keyway", keyway}} {
		if f.measured == nil {
			continue
		}
		if f.measured.DefaultU {
			list = append(list, Sentence{noteDefaultU, map[string]any{"Section": f.section, "U": fine(f.measured.U)}})
		}
		if f.measured.InLine {
			list = append(list, Sentence{noteInLine, map[string]any{"Section": f.section}})
		}
	}
	return list
}

// The steps of the derivation.
const (
	stepKeyway   = "Keyway from the No. 1 throw: drawing {{.Drawing}}°, measured {{.Measured}}°. Gear error = {{.Measured}} − ({{.Drawing}}) = {{.Error}}°."
	stepNoKeyway = "Keyway from the No. 1 throw: not measured, taken as drawn. Gear error = 0°."
	stepDowel    = "Dowel from the keyway: drawing {{.Drawing}}°, measured {{.Measured}}° (positive in the direction of rotation)."
	stepWheel    = "Wheel error = gear error + measured − drawing = {{.Gear}} + ({{.Measured}}) − ({{.Drawing}}) = {{.Error}}°, the short way round."
	stepAhead    = "The wheel is {{.By}}° ahead: the controller believes the crank is {{.By}}° further on than it is, and everything it asks for happens {{.By}}° early."
	stepBehind   = "The wheel is {{.By}}° behind: the controller believes the crank is {{.By}}° less far on than it is, and everything it asks for happens {{.By}}° late."
	stepActual   = "Injection asked for at {{.Commanded}}° before TDC happens at {{.Commanded}} + ({{.Error}}) = {{.Actual}}° before TDC (negative: after)."
)

var stepTexts = []string{stepKeyway, stepNoKeyway, stepDowel, stepWheel, stepAhead, stepBehind, stepActual}

func steps(e errorsOf, commanded, actual timing.Deg) []Sentence {
	var list []Sentence
	if e.keyway.measured != nil {
		list = append(list, Sentence{stepKeyway, map[string]any{
			"Drawing": fine(e.keyway.drawing.Value), "Measured": fine(e.keyway.measured.Value), "Error": fine(e.gear.Value)}})
	} else {
		list = append(list, Sentence{Text: stepNoKeyway})
	}
	if !e.assumed {
		data := map[string]any{
			"Drawing": fine(e.dowel.drawing.Value), "Measured": fine(e.dowel.measured.Value),
			"Gear": fine(e.gear.Value), "Error": fine(e.wheel.Value)}
		list = append(list, Sentence{stepDowel, data}, Sentence{stepWheel, data})
	}
	if e.wheel.Value != 0 {
		text := stepAhead
		if e.wheel.Value < 0 {
			text = stepBehind
		}
		list = append(list, Sentence{text, map[string]any{"By": fine(size(e.wheel.Value))}})
	}
	return append(list, Sentence{stepActual, map[string]any{"Commanded": fine(commanded), "Error": fine(e.wheel.Value), "Actual": fine(actual)}})
}
