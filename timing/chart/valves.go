package chart

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// The words of the valves figure.
const (
	wordValves         phrase.Text = "Valve timing of {{.Title}}"
	wordValvesUntitled phrase.Text = "Valve timing"
	wordValvesDesc     phrase.Text = "When intake and exhaust are open, over the crank angle and round a circle."
	wordValvesIO       phrase.Text = "intake opens {{.At}}"
	wordValvesIC       phrase.Text = "intake closes {{.At}}"
	wordValvesEO       phrase.Text = "exhaust opens {{.At}}"
	wordValvesEC       phrase.Text = "exhaust closes {{.At}}"
	wordPortsIO        phrase.Text = "scavenge ports open {{.At}}"
	wordPortsIC        phrase.Text = "scavenge ports close {{.At}}"
	wordPortsEO        phrase.Text = "exhaust ports open {{.At}}"
	wordPortsEC        phrase.Text = "exhaust ports close {{.At}}"
	wordValvesBBDC     phrase.Text = "{{.Size}}° BBDC"
	wordValvesABDC     phrase.Text = "{{.Size}}° ABDC"
	wordValvesAtBDC    phrase.Text = "at BDC"
	wordValvesAtTDC    phrase.Text = "at TDC"
	wordValvesLine     phrase.Text = "The line shows where cylinder {{.N}} is."
	wordValvesOverlap  phrase.Text = "both valves open: {{.By}}° of overlap"
	wordValvesScavenge phrase.Text = "both open: {{.By}}° of scavenging"
	wordValvesNever    phrase.Text = "never both open: no overlap"
	wordValvesLift     phrase.Text = "The opening times are the job's; how far the valves lift is only drawn."
	wordValvesPorts    phrase.Text = "Ports in the cylinder wall open and close with the piston at the same height, as long before BDC as after it. The times are the job's; how far each is open is only drawn."
	wordValvesOverTDC  phrase.Text = "overlap TDC"
	wordValvesBDC      phrase.Text = "BDC"
)

var errNoValves = phrase.Errorf("the job gives no valve times; fill in when intake and exhaust open and close")

// Valves returns the valves figure's input for a job, with a cursor where a cylinder stands
// at an angle of the crankshaft, or none; cylinder 0 means 1. It needs the times of intake or
// exhaust.
func Valves(j job.Job, crank *timing.Deg, cylinder int, say Say) (figure.ValvesInput, error) {
	e, err := finding.EngineOf(j)
	if err != nil {
		return figure.ValvesInput{}, err
	}
	intake, exhaust := finding.ValveSpans(j)
	if intake == nil && exhaust == nil {
		return figure.ValvesInput{}, errNoValves
	}
	four := e.Strokes() == 4
	in := figure.ValvesInput{Cycle: e.Cycle(), Intake: intake, Exhaust: exhaust, Heading: j.Title,
		Title: say.title(wordValves, wordValvesUntitled, j.Title), Desc: say.text(wordValvesDesc),
		TDC: say.text(wordTDC), BDC: say.text(wordValvesBDC), FiringTDC: say.text(wordFiringTDC),
		IntakeOpen: say.text(wordIntakeOpen), ExhaustOpen: say.text(wordExhaustOpen), Caption: []string{say.text(wordValvesLift)}}
	if four {
		in.TDC = say.text(wordValvesOverTDC)
	}
	if intake != nil && exhaust != nil {
		in.Overlap = say.text(wordValvesNever)
		if both, ok := intake.Meet(*exhaust, e.Cycle()); ok {
			in.Both = &both
			text := wordValvesOverlap
			if !four {
				text = wordValvesScavenge
			}
			in.Overlap = say.with(text, map[string]any{"By": phrase.Num{Value: float64(both.To - both.From), Decimals: 1}})
		}
	}
	for i, v := range []struct {
		span          *timing.Span
		valve, inWall [2]phrase.Text
	}{
		{intake, [2]phrase.Text{wordValvesIO, wordValvesIC}, [2]phrase.Text{wordPortsIO, wordPortsIC}},
		{exhaust, [2]phrase.Text{wordValvesEO, wordValvesEC}, [2]phrase.Text{wordPortsEO, wordPortsEC}},
	} {
		if v.span == nil {
			continue
		}
		text := v.valve
		if !four && ported(v.span) {
			text = v.inWall
			in.Caption = []string{say.text(wordValvesPorts)}
		}
		for k, at := range []timing.Deg{v.span.From, v.span.To} {
			in.Degrees[2*i+k] = say.fromNearest(at)
			in.Events[2*i+k] = say.with(text[k], map[string]any{"At": in.Degrees[2*i+k]})
		}
	}
	if crank != nil {
		if cylinder < 1 || cylinder > e.Cylinders() {
			cylinder = 1
		}
		own := timing.Wrap(e.Angle(cylinder, *crank), e.Cycle())
		in.Cursor = &own
		in.Caption = append(in.Caption, say.with(wordValvesLine, map[string]any{"N": cylinder}))
	}
	return in, nil
}

// ported tells whether an opening is as a port in the wall opens and closes: with the
// piston at the same height.
func ported(s *timing.Span) bool {
	return s != nil && max(s.From+s.To-timing.Turn, timing.Turn-s.From-s.To) <= 2
}

// fromNearest counts an angle from the nearer dead centre.
func (say Say) fromNearest(at timing.Deg) string {
	off := timing.WrapSigned(at, 180) // (−90, 90]
	up := int((at-off)/180)%2 == 0    // a TDC, of either kind
	if up {
		if finding.Beside(-float64(off), 1).String() == "0" {
			return say.text(wordValvesAtTDC)
		}
		return say.BTDC(-float64(off))
	}
	size := phrase.Num{Value: float64(max(off, -off)), Decimals: 1}
	switch {
	case size.String() == "0":
		return say.text(wordValvesAtBDC)
	case off < 0:
		return say.with(wordValvesBBDC, map[string]any{"Size": size})
	}
	return say.with(wordValvesABDC, map[string]any{"Size": size})
}
