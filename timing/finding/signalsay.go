package finding

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/wheel"
)

// The texts of the signals.
const (
	signalRight      phrase.Text = "The signals look correct, and they are: every cam edge is in its place among the crank teeth."
	signalAsDrawn    phrase.Text = "If the sensor wheel is as drawn, these are the correct signals: every cam edge is in its place among the crank teeth."
	signalCrankOnly  phrase.Text = "The job has no cam sensor wheel: the crankshaft sensor's teeth alone cannot show whether the wheel is correctly placed."
	signalTogether   phrase.Text = "Crank and cam sensor wheel are {{.By}}° ahead together: every cam edge is in its place among the crank teeth, and only true TDC shows the fault."
	signalTogetherB  phrase.Text = "Crank and cam sensor wheel are {{.By}}° behind together: every cam edge is in its place among the crank teeth, and only true TDC shows the fault."
	signalLate       phrase.Text = "Each signal by itself looks correct, but every cam edge comes {{.By}}° late among the crank teeth: {{.Pitches}} tooth spacings."
	signalEarly      phrase.Text = "Each signal by itself looks correct, but every cam edge comes {{.By}}° early among the crank teeth: {{.Pitches}} tooth spacings."
	signalLateOne    phrase.Text = "Each signal by itself looks correct, but every cam edge comes {{.By}}° late among the crank teeth: 1 tooth spacing."
	signalEarlyOne   phrase.Text = "Each signal by itself looks correct, but every cam edge comes {{.By}}° early among the crank teeth: 1 tooth spacing."
	signalHalf       phrase.Text = "The camshaft is a whole crankshaft turn out, and nothing in these two signals shows it, for the crank sensor wheel looks the same in both turns of a cycle. Only what identifies the stroke does: the pressure in a cylinder, or the valves at TDC of cylinder 1."
	signalHalfOdd    phrase.Text = "Every cam edge comes half a camshaft turn out, {{.By}} crank degrees."
	signalWires      phrase.Text = "With its wires swapped the crankshaft sensor's falling zero crossings are half-way between teeth: everything is counted half a tooth spacing late, and the gap splits into two shorter ones that the ECU most likely does not recognise."
	signalWiresNoGap phrase.Text = "With its wires swapped the crankshaft sensor's falling zero crossings are half-way between teeth: everything is counted half a tooth spacing late."
	signalOutput     phrase.Text = "A crankshaft sensor with inverted output is counted at the trailing edges: everything comes late by the width of a tooth."
	signalCamWires   phrase.Text = "With its wires swapped the camshaft sensor's falling zero crossings are half-way between teeth, where the signal hardly crosses at all: the camshaft's edges come late and scattered."
	signalCamOutput  phrase.Text = "A camshaft sensor with inverted output is counted at the trailing edges: every cam edge comes {{.By}}° late, the width of a tooth."
	signalBehind     phrase.Text = "Fitted back to front, this crank sensor wheel shows the same teeth and gap in the same order: only a displacement would show, and how large it is depends on where the dowel is from tooth 1."
	signalBehindOdd  phrase.Text = "Fitted back to front, this crank sensor wheel shows its gaps in another order: the ECU does not find its place."

	signalBetween      phrase.Text = "Cam edge {{.N}} is between crank teeth {{.After}} and {{.Before}}."
	signalBetweenRight phrase.Text = "Cam edge {{.N}} is between crank teeth {{.After}} and {{.Before}}; with correct timing between {{.RightAfter}} and {{.RightBefore}}."
	signalInGap        phrase.Text = "Cam edge {{.N}} is in the gap, between crank teeth {{.After}} and {{.Before}}."
	signalOnTooth      phrase.Text = "Cam edge {{.N}} is at crank tooth {{.Tooth}}."
	signalBelongs      phrase.Text = "With correct timing cam edge {{.N}} is between crank teeth {{.After}} and {{.Before}}."
	signalBelongsOn    phrase.Text = "With correct timing cam edge {{.N}} is at crank tooth {{.Tooth}}."
	signalPast         phrase.Text = "When the ECU counts TDC of cylinder 1, the crankshaft is {{.By}}° after it."
	signalShort        phrase.Text = "When the ECU counts TDC of cylinder 1, the crankshaft is {{.By}}° before it."
	signalShape        phrase.Text = "How high an inductive signal is drawn and how wide a tooth is an assumption; where the edges are is calculated."
	signalAlike        phrase.Text = "The cam sensor wheel looks the same {{.Times}} times a turn: an error of 1/{{.Times}} turn does not show."

	signalStepCrank phrase.Text = "Crank tooth k passes at −B + (k − 1) × 360/N − wheel error = {{.Start}} + (k − 1) × {{.Pitch}} − {{.Delta}}."
	signalStepCam   phrase.Text = "Cam tooth j at a passes at −F + 2 × a − camshaft error = {{.Start}} + 2 × a − {{.Gamma}}."
	signalStepCamTS phrase.Text = "Cam tooth j at a passes at −F + a − camshaft error = {{.Start}} + a − {{.Gamma}}."
	signalStepLate  phrase.Text = "Correlation error = wheel error − camshaft error = {{.Delta}} − {{.Gamma}} = {{.Late}}°."
	signalStepRound phrase.Text = "Correlation error = wheel error − camshaft error = {{.Delta}} − {{.Gamma}}, the short way round the cycle {{.Late}}°."
	signalStepTDC   phrase.Text = "The ECU's angle at true TDC = wheel error = {{.Delta}}°."
	signalStepWires phrase.Text = "Half a tooth spacing is {{.Half}}°: the ECU's angle is that much too small."
)

// say fills in the sentence, the notes and the derivation.
func (s *Signals) say() {
	s.Says = s.finding()
	s.notes()
	s.steps()
}

func (s *Signals) finding() phrase.Sentence {
	f, crank := s.Fitting, s.Of.Crank
	data := map[string]any{}
	switch {
	case f.BackToFront && crank.SameFromBehind():
		return phrase.Sentence{Text: signalBehind}
	case f.BackToFront:
		return phrase.Sentence{Text: signalBehindOdd}
	case f.CrankReversed && s.Of.CrankSensor == wheel.Hall:
		return phrase.Sentence{Text: signalOutput}
	case f.CrankReversed && len(crank.Gaps()) > 0:
		return phrase.Sentence{Text: signalWires}
	case f.CrankReversed:
		return phrase.Sentence{Text: signalWiresNoGap}
	case s.Cam == nil:
		return phrase.Sentence{Text: signalCrankOnly}
	case f.CamReversed && s.Of.CamSensor == wheel.Hall:
		return phrase.Sentence{Text: signalCamOutput, Data: map[string]any{"By": deg(s.Of.CamToothWidth())}}
	case f.CamReversed:
		return phrase.Sentence{Text: signalCamWires}
	}
	late := timing.Deg(*s.Correlation)
	half := timing.Deg(s.CycleDeg) / 2
	switch {
	case deg(size(late)).String() == "360":
		return phrase.Sentence{Text: signalHalf}
	case f.HalfTurn && deg(size(late)).String() == deg(half).String():
		return phrase.Sentence{Text: signalHalfOdd, Data: map[string]any{"By": deg(half)}}
	case deg(late).String() == "0" && deg(f.Delta).String() == "0" && s.asDrawn:
		return phrase.Sentence{Text: signalAsDrawn}
	case deg(late).String() == "0" && deg(f.Delta).String() == "0":
		return phrase.Sentence{Text: signalRight}
	case deg(late).String() == "0":
		data["By"] = deg(size(f.Delta))
		if f.Delta < 0 {
			return phrase.Sentence{Text: signalTogetherB, Data: data}
		}
		return phrase.Sentence{Text: signalTogether, Data: data}
	}
	pitches := phrase.Num{Value: float64(size(late) / crank.Pitch()), Decimals: 1}
	data["By"], data["Pitches"] = deg(size(late)), pitches
	one := pitches.String() == "1"
	switch {
	case one && late < 0:
		return phrase.Sentence{Text: signalEarlyOne, Data: data}
	case one:
		return phrase.Sentence{Text: signalLateOne, Data: data}
	case late < 0:
		return phrase.Sentence{Text: signalEarly, Data: data}
	}
	return phrase.Sentence{Text: signalLate, Data: data}
}

func (s *Signals) notes() {
	if s.Assumed {
		s.Notes = append(s.Notes, phrase.Sentence{Text: noteAssumed})
	}
	s.Notes = append(s.Notes, s.firstEdge()...)
	if off := timing.Deg(s.TDCOffsetDeg); deg(off).String() != "0" {
		text := signalShort
		if off < 0 {
			text = signalPast
		}
		s.Notes = append(s.Notes, phrase.Sentence{Text: text, Data: map[string]any{"By": deg(size(off))}})
	}
	if s.Cam != nil {
		if n := s.Of.Cam.Repeats(); n > 1 {
			s.Notes = append(s.Notes, phrase.Sentence{Text: signalAlike, Data: map[string]any{"Times": n}})
		}
	}
	s.Notes = append(s.Notes, phrase.Sentence{Text: signalShape})
}

// onTooth is how near to a crank tooth, in parts of the way between two, an edge
// is said to fall on it: nobody sees less on a screen.
const onTooth = 0.04

// OnTooth returns the crank tooth that the edge falls on, as far as can be seen;
// on is false when it falls between two.
func (e CamEdge) OnTooth() (tooth int, on bool) {
	switch {
	case e.Part < onTooth:
		return e.AfterTooth, true
	case e.Part > 1-onTooth:
		return e.BeforeTooth, true
	}
	return 0, false
}

// firstEdge says where the cam's tooth 1 is to be looked for.
func (s *Signals) firstEdge() []phrase.Sentence {
	if s.Cam == nil {
		return nil
	}
	first := func(s *Signals) CamEdge {
		for _, e := range s.Cam.Edges {
			if e.Tooth == 1 {
				return e
			}
		}
		return CamEdge{}
	}
	right := *s
	right.Fitting, right.Cam, right.Crank = wheel.Fitting{}, nil, CrankTrace{}
	right.edges(timing.Deg(s.CycleDeg))
	is, belongs := first(s), first(&right)
	data := map[string]any{"N": 1, "After": is.AfterTooth, "Before": is.BeforeTooth}
	where := phrase.Sentence{Text: signalBetween, Data: data}
	tooth, on := is.OnTooth()
	switch {
	case on:
		where = phrase.Sentence{Text: signalOnTooth, Data: map[string]any{"N": 1, "Tooth": tooth}}
	case is.InGap:
		where.Text = signalInGap
	}
	if is.AfterTooth == belongs.AfterTooth && math.Abs(is.Part-belongs.Part) < onTooth {
		return []phrase.Sentence{where}
	}
	rightTooth, rightOn := belongs.OnTooth()
	switch {
	case rightOn:
		return []phrase.Sentence{where, {Text: signalBelongsOn, Data: map[string]any{"N": 1, "Tooth": rightTooth}}}
	case on || is.InGap:
		return []phrase.Sentence{where, {Text: signalBelongs, Data: map[string]any{"N": 1, "After": belongs.AfterTooth, "Before": belongs.BeforeTooth}}}
	}
	where.Text = signalBetweenRight
	data["RightAfter"], data["RightBefore"] = belongs.AfterTooth, belongs.BeforeTooth
	return []phrase.Sentence{where}
}

func (s *Signals) steps() {
	operand := func(d timing.Deg) phrase.Operand { return phrase.Operand(fine(d)) }
	delta, gamma := s.Fitting.Delta, s.Fitting.CamError(timing.Deg(s.CycleDeg))
	s.Steps = []phrase.Sentence{{Text: signalStepCrank, Data: map[string]any{"Start": fine(-s.Of.Crank.FirstToothBTDC), "Pitch": fine(s.Of.Crank.Pitch()), "Delta": operand(delta)}}}
	if s.Cam != nil {
		text := signalStepCam
		if s.CycleDeg == float64(timing.Turn) {
			text = signalStepCamTS
		}
		s.Steps = append(s.Steps, phrase.Sentence{Text: text, Data: map[string]any{"Start": fine(-s.Of.Cam.FirstToothBTDC), "Gamma": operand(gamma)}})
		if s.Fitting.CrankReversed || s.Fitting.CamReversed {
			s.stepWires()
			return
		}
		late := phrase.Sentence{Text: signalStepLate, Data: map[string]any{"Delta": fine(delta), "Gamma": operand(gamma), "Late": fine(timing.WrapSigned(delta-gamma, timing.Deg(s.CycleDeg)))}}
		if size(delta-gamma) > timing.Deg(s.CycleDeg)/2 {
			late.Text = signalStepRound
		}
		s.Steps = append(s.Steps, late)
	}
	if s.Fitting.CrankReversed {
		s.stepWires()
		return
	}
	s.Steps = append(s.Steps, phrase.Sentence{Text: signalStepTDC, Data: map[string]any{"Delta": fine(delta)}})
}

// stepWires stands for the sums that hold with all wires right.
func (s *Signals) stepWires() {
	if s.Fitting.CrankReversed {
		s.Steps = append(s.Steps, phrase.Sentence{Text: signalStepWires, Data: map[string]any{"Half": fine(s.Of.Crank.Pitch() / 2)}})
	}
}
