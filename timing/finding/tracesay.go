package finding

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/trace"
	"pinphase.org/pinphase/timing/wheel"
)

// What a recording comes to, in a sentence.
const (
	traceBothRight  phrase.Text = "The recording shows no fault: crankshaft and camshaft signals agree, and true TDC is where the ECU takes it to be."
	traceWheelAhead phrase.Text = "The crank sensor wheel is {{.By}}° ahead (± {{.U}}°): at true TDC the ECU already counts {{.By}}° after it. The camshaft is correctly timed."
	traceWheelBack  phrase.Text = "The crank sensor wheel is {{.By}}° behind (± {{.U}}°): at true TDC the ECU still counts {{.By}}° before it. The camshaft is correctly timed."
	traceCamAhead   phrase.Text = "The camshaft, or its sensor wheel, is {{.By}} crank degrees ahead (± {{.U}}°). The crank sensor wheel is correctly placed."
	traceCamBack    phrase.Text = "The camshaft, or its sensor wheel, is {{.By}} crank degrees behind (± {{.U}}°). The crank sensor wheel is correctly placed."
	traceCamHalf    phrase.Text = "The cam sensor wheel is half a turn out. The crank sensor wheel is correctly placed."
	traceBothWrong  phrase.Text = "There are two faults: at true TDC the ECU counts {{.Wheel}}° (± {{.U}}°) because of the crank sensor wheel, and the camshaft, or its sensor wheel, is out by {{.Cam}} crank degrees; positive is ahead."
	traceAgree      phrase.Text = "Crankshaft and camshaft signals agree to {{.By}}°. This recording does not tell where true TDC is: an error that both share would not show."
	traceLate       phrase.Text = "The camshaft's edges come {{.By}}° late among the crank sensor wheel's teeth (± {{.U}}°): the crank sensor wheel is ahead or the camshaft is behind. Which of the two, this recording does not tell."
	traceEarly      phrase.Text = "The camshaft's edges come {{.By}}° early among the crank sensor wheel's teeth (± {{.U}}°): the crank sensor wheel is behind or the camshaft is ahead. Which of the two, this recording does not tell."
	traceOnlyRight  phrase.Text = "True TDC is where the ECU takes it to be, to {{.U}}°. This recording does not tell how the camshaft is timed."
	traceOnlyAhead  phrase.Text = "The crank sensor wheel is {{.By}}° ahead (± {{.U}}°): at true TDC the ECU already counts {{.By}}° after it. This recording does not tell how the camshaft is timed."
	traceOnlyBack   phrase.Text = "The crank sensor wheel is {{.By}}° behind (± {{.U}}°): at true TDC the ECU still counts {{.By}}° before it. This recording does not tell how the camshaft is timed."
	traceStrange    phrase.Text = "The crank sensor wheel in this recording is not the job's: {{.Positions}} positions with {{.Missing}} missing, where the job has {{.JobPositions}} with {{.JobMissing}}."
	traceStrangeOr  phrase.Text = "The crank sensor wheel in this recording may not be the job's ({{.N}} %): {{.Positions}} positions with {{.Missing}} missing, where the job has {{.JobPositions}} with {{.JobMissing}}. Broken teeth of the job's wheel would look the same."
	traceMirrored   phrase.Text = "The crank sensor wheel in this recording is the job's seen from the other side: it is fitted back to front, or the job numbers it the other way round."
	traceOpenPair   phrase.Text = "The crank sensor wheel is out by {{.Wheel}}° and the camshaft by {{.Cam}} crank degrees ({{.P}} %), or the wheel by {{.Wheel2}}° and the camshaft by {{.Cam2}} ({{.Q}} %); positive is ahead. All of them agree with this recording: a check must tell which it is."
	traceOpenBoth   phrase.Text = "There are two faults: the crank sensor wheel is out by {{.Wheel}}° and the camshaft by {{.Cam}} crank degrees ({{.P}} %), or the wheel by {{.Wheel2}}° and the camshaft by {{.Cam2}} ({{.Q}} %); positive is ahead. All of them agree with this recording: a check must tell which it is."
	traceUnlessHalf phrase.Text = "{{.Says}} That holds unless the camshaft is half a turn out, which this recording does not tell ({{.Q}} %)."
	traceOpenAhead  phrase.Text = "The crank sensor wheel is most probably {{.By}}° ahead (± {{.U}}°, {{.P}} %); {{.Other}}° agrees with this recording too ({{.Q}} %), positive is ahead. This recording does not tell how the camshaft is timed."
	traceOpenBack   phrase.Text = "The crank sensor wheel is most probably {{.By}}° behind (± {{.U}}°, {{.P}} %); {{.Other}}° agrees with this recording too ({{.Q}} %), positive is ahead. This recording does not tell how the camshaft is timed."
	traceOpenRight  phrase.Text = "True TDC is most probably where the ECU takes it to be, to {{.U}}° ({{.P}} %); {{.Other}}° agrees with this recording too ({{.Q}} %), positive is ahead. This recording does not tell how the camshaft is timed."
	traceRough      phrase.Text = "{{.Says}} True TDC is only roughly known (± {{.U}}°). What agrees with that: {{.List}}; positive is ahead."
	traceRoughOnly  phrase.Text = "True TDC is only roughly known (± {{.U}}°): the crank sensor wheel is out by {{.List}}; positive is ahead. This recording does not tell how the camshaft is timed."
	traceRoughPair  phrase.Text = "the crank sensor wheel out by {{.Wheel}}° and the camshaft by {{.Cam}} crank degrees ({{.P}} %)"
	traceRoughNext  phrase.Text = "{{.List}}, or the wheel by {{.Wheel}}° and the camshaft by {{.Cam}} ({{.P}} %)"
	traceRoughWheel phrase.Text = "{{.Wheel}}° ({{.P}} %)"
	traceRoughElse  phrase.Text = "{{.List}} or {{.Wheel}}° ({{.P}} %)"
	traceNothing    phrase.Text = "The crank sensor wheel can be followed, but neither the camshaft's place nor true TDC can be told from this recording."
)

// What must be known beside it.
const (
	traceNoteCrank     phrase.Text = "Crankshaft sensor: channel {{.Name}}, {{.Sensor}}, teeth pass at the {{.Edge}} edge."
	traceNoteCam       phrase.Text = "Camshaft sensor: channel {{.Name}}, {{.Sensor}}, teeth pass at the {{.Edge}} edge."
	traceNoteOther     phrase.Text = "Channel {{.Name}} was read as {{.Role}}."
	traceNoteModulo    phrase.Text = "The speed of the crankshaft gives TDC, plus or minus multiples of {{.Modulo}}°, after which the firings repeat: {{.At}}° could be {{.More}}° or {{.Less}}° as well."
	traceNoteHalf      phrase.Text = "A camshaft that is half a turn out would make the same recording on this engine: the correlation is ambiguous by one crankshaft turn."
	traceNoteStrengths phrase.Text = "Every cylinder compresses about as strongly as the strongest; the weakest comes to {{.Least}} %."
	traceNoteNarrowed  phrase.Text = "Channel {{.Name}} ({{.Role}}) narrows the standard uncertainty of TDC from {{.From}}° to {{.U}}°."
	traceNotePressure  phrase.Text = "TDC from the pressure in the cylinder: {{.At}}° ± {{.U}}°."
)

// Beyond so many standard uncertainties, and so many degrees, an error counts as
// one.
const (
	traceSure  = 2.0
	traceWorth = 0.5
)

func off(m *timing.Measured) bool {
	return math.Abs(float64(m.Value)) > math.Max(traceSure*float64(m.U), traceWorth)
}

// say fills in the sentences.
func (t *Trace) say(known trace.Known) {
	a := t.Analysis
	t.Says = t.headline(known)
	for _, f := range a.Faults {
		s := traceFault(f)
		t.FaultSays = append(t.FaultSays, s)
		t.Faults = append(t.Faults, s.String())
	}
	for _, c := range t.Channels {
		name := c.Name
		if name == "" {
			name = fmt.Sprint(c.Number)
		}
		switch trace.Role(c.Role) {
		case trace.CrankSensor, trace.CamSensor:
			text := traceNoteCrank
			if trace.Role(c.Role) == trace.CamSensor {
				text = traceNoteCam
			}
			t.Notes = append(t.Notes, phrase.Sentence{Text: text, Data: map[string]any{"Name": name, "Sensor": wheel.ParseSensor(c.Sensor, wheel.Inductive).Text(), "Edge": edgeText(c.Edge)}})
		case trace.StarterCurrent, trace.CylinderPressure:
			t.Notes = append(t.Notes, phrase.Sentence{Text: traceNoteOther, Data: map[string]any{"Name": name, "Role": trace.Role(c.Role).Text()}})
		}
	}
	if m := a.TDC; m != nil && a.Modulo < known.Cycle {
		t.Notes = append(t.Notes, phrase.Sentence{Text: traceNoteModulo, Data: map[string]any{"Modulo": fine(a.Modulo), "At": deg(m.Value), "More": deg(m.Value + a.Modulo), "Less": deg(m.Value - a.Modulo)}})
	}
	if a.Correlation != nil && a.CorrelationModulo < known.Cycle && a.CorrelationModulo == timing.Turn {
		t.Notes = append(t.Notes, phrase.Sentence{Text: traceNoteHalf})
	}
	if p := a.Pressure; p != nil {
		t.Notes = append(t.Notes, phrase.Sentence{Text: traceNotePressure, Data: map[string]any{"At": deg(p.Value), "U": deg(p.U)}})
	}
	for _, n := range a.Narrowed {
		t.Notes = append(t.Notes, phrase.Sentence{Text: traceNoteNarrowed, Data: map[string]any{"Name": n.Channel, "Role": trace.Role(n.Role).Text(), "From": fine(n.From), "U": fine(n.To)}})
	}
	t.sayStrengths()
}

// edgeText is the edge at which a tooth passes, as a term.
func edgeText(edge string) phrase.Text {
	if edge == "rising" {
		return "rising"
	}
	return "falling"
}

// sayStrengths says that the cylinders are alike; weak ones are among the faults.
func (t *Trace) sayStrengths() {
	least := 1.0
	for _, c := range t.Compression {
		least = math.Min(least, c.Share)
	}
	for _, f := range t.Analysis.Faults {
		if f.Kind == trace.WeakCylinder {
			return
		}
	}
	if len(t.Compression) > 1 {
		t.Notes = append(t.Notes, phrase.Sentence{Text: traceNoteStrengths, Data: map[string]any{"Least": phrase.Num{Value: 100 * least}}})
	}
}

func (t *Trace) headline(known trace.Known) phrase.Sentence {
	a := t.Analysis
	for _, f := range a.Faults {
		switch f.Kind {
		case trace.WheelDiffers, trace.WheelEither:
			text := traceStrange
			if f.Kind == trace.WheelEither {
				text = traceStrangeOr
			}
			return phrase.Sentence{Text: text, Data: map[string]any{"N": f.N, "Positions": f.Found.Positions, "Missing": len(f.Found.Missing), "JobPositions": known.Crank.Positions, "JobMissing": len(known.Crank.Missing)}}
		case trace.WheelMirrored:
			return phrase.Sentence{Text: traceMirrored}
		}
	}
	saysOff := func(text phrase.Text, m *timing.Measured) phrase.Sentence {
		return phrase.Sentence{Text: text, Data: map[string]any{"By": deg(size(m.Value)), "U": deg(m.U)}}
	}
	sign := func(m *timing.Measured, ahead, behind phrase.Text) phrase.Sentence {
		if m.Value < 0 {
			return saysOff(behind, m)
		}
		return saysOff(ahead, m)
	}
	corr, b := a.Correlation, t.Branch()
	late := func() phrase.Sentence {
		if off(corr) {
			return sign(corr, traceLate, traceEarly)
		}
		return saysOff(traceAgree, &timing.Measured{Value: corr.Value + corr.U, U: corr.U})
	}
	switch {
	case t.rough() && corr != nil:
		return phrase.Sentence{Text: traceRough, Data: map[string]any{"Says": late(), "U": deg(a.TDC.U), "List": t.listed(traceRoughPair, traceRoughNext)}}
	case t.rough():
		return phrase.Sentence{Text: traceRoughOnly, Data: map[string]any{"U": deg(a.TDC.U), "List": t.listed(traceRoughWheel, traceRoughElse)}}
	case b != nil && corr != nil:
		return t.placed(b, saysOff, sign)
	case t.butForHalf():
		return phrase.Sentence{Text: traceUnlessHalf, Data: map[string]any{"Says": t.placed(&t.Branches[0], saysOff, sign), "Q": phrase.Num{Value: 100 * t.Branches[1].Probability}}}
	case len(t.Branches) > 0 && b == nil:
		return t.open()
	case corr != nil:
		return late()
	case b != nil:
		if wheel := b.wheel(a); off(wheel) {
			return sign(wheel, traceOnlyAhead, traceOnlyBack)
		}
		return saysOff(traceOnlyRight, a.TDC)
	}
	return phrase.Sentence{Text: traceNothing}
}

// rough tells whether true TDC is only roughly known, so that no branch is a fact.
func (t Trace) rough() bool {
	return len(t.Branches) > 0 && slices.ContainsFunc(t.Analysis.Faults, func(f trace.Fault) bool { return f.Kind == trace.StrangeRipple })
}

// listed are the branches by their numbers, the most probable first, as far as they have a
// percentage: the first in one text, each further one in another behind those before it.
func (t *Trace) listed(first, further phrase.Text) (list phrase.Sentence) {
	for i, b := range t.Branches {
		text, data := first, map[string]any{"Wheel": deg(timing.Deg(b.WheelErrorDeg)), "P": phrase.Num{Value: 100 * b.Probability}}
		if b.CamErrorDeg != nil {
			data["Cam"] = deg(timing.Deg(*b.CamErrorDeg))
		}
		if i > 0 {
			if b.Probability < 0.005 {
				break
			}
			text, data["List"] = further, list
		}
		list = phrase.Sentence{Text: text, Data: data}
	}
	return list
}

// wheel is the wheel error of a branch of an analysis.
func (b TraceBranch) wheel(a *trace.Analysis) *timing.Measured {
	return &timing.Measured{Value: timing.Deg(b.WheelErrorDeg), U: a.TDC.U}
}

// cam is the cam error of a branch of an analysis that knows the correlation.
func (b TraceBranch) cam(a *trace.Analysis) *timing.Measured {
	return &timing.Measured{Value: timing.Deg(*b.CamErrorDeg), U: a.TDC.Minus(*a.Correlation).U}
}

// butForHalf tells whether only a cam half a turn out keeps the most probable branch
// from being sure.
func (t *Trace) butForHalf() bool {
	if len(t.Branches) < 2 || t.Branch() != nil {
		return false
	}
	b, o := t.Branches[0], t.Branches[1]
	return b.HalfTurn != nil && !*b.HalfTurn && *o.HalfTurn && math.Abs(b.WheelErrorDeg-o.WheelErrorDeg) < 1e-6 && b.Probability+o.Probability >= branchSure
}

// placed states a branch.
func (t *Trace) placed(b *TraceBranch, by func(phrase.Text, *timing.Measured) phrase.Sentence, sign func(m *timing.Measured, ahead, behind phrase.Text) phrase.Sentence) phrase.Sentence {
	a := t.Analysis
	wheel := b.wheel(a)
	cam := b.cam(a)
	switch {
	case off(wheel) && off(cam):
		return phrase.Sentence{Text: traceBothWrong, Data: map[string]any{"Wheel": deg(wheel.Value), "U": deg(wheel.U), "Cam": deg(cam.Value)}}
	case off(wheel):
		return sign(wheel, traceWheelAhead, traceWheelBack)
	case *b.HalfTurn && math.Abs(math.Abs(float64(cam.Value))-360) < 2*traceSure*float64(cam.U):
		return phrase.Sentence{Text: traceCamHalf}
	case off(cam):
		return sign(cam, traceCamAhead, traceCamBack)
	case off(a.Correlation):
		return sign(a.Correlation, traceLate, traceEarly)
	}
	return phrase.Sentence{Text: traceBothRight}
}

// open says that more than one branch is left, the two most probable by their numbers.
func (t *Trace) open() phrase.Sentence {
	percent := func(b TraceBranch) phrase.Num { return phrase.Num{Value: 100 * b.Probability} }
	first, second := t.Branches[0], t.Branches[min(1, len(t.Branches)-1)]
	args := map[string]any{"P": percent(first), "Q": percent(second), "Other": deg(timing.Deg(second.WheelErrorDeg))}
	if first.CamErrorDeg != nil {
		args["Wheel"], args["Cam"] = deg(timing.Deg(first.WheelErrorDeg)), deg(timing.Deg(*first.CamErrorDeg))
		args["Wheel2"], args["Cam2"] = deg(timing.Deg(second.WheelErrorDeg)), deg(timing.Deg(*second.CamErrorDeg))
		for _, b := range t.Branches {
			if !off(b.wheel(t.Analysis)) || !off(b.cam(t.Analysis)) {
				return phrase.Sentence{Text: traceOpenPair, Data: args}
			}
		}
		return phrase.Sentence{Text: traceOpenBoth, Data: args}
	}
	wheel := first.wheel(t.Analysis)
	args["By"], args["U"] = deg(size(wheel.Value)), deg(wheel.U)
	text := traceOpenRight
	switch {
	case off(wheel) && wheel.Value < 0:
		text = traceOpenBack
	case off(wheel):
		text = traceOpenAhead
	}
	return phrase.Sentence{Text: text, Data: args}
}

// The faults of a recording: why something is not known, or what is odd.
var traceFaults = map[trace.Kind]phrase.Text{
	trace.WheelDiffers:    "The crank sensor wheel recorded has {{.Positions}} positions, missing {{.Missing}}; it is not the job's.",
	trace.WheelEither:     "The crank sensor wheel recorded has {{.Positions}} positions, missing {{.Missing}}, and is not the job's ({{.N}} %), or it is the job's with broken teeth ({{.Value}} %), {{.Of}} of them.",
	trace.WheelMirrored:   "The crank sensor wheel recorded is the job's seen from the other side: teeth cannot be numbered by it.",
	trace.WheelRepeats:    "The crank sensor wheel looks the same {{.N}} times in a turn: the teeth cannot be identified.",
	trace.Broken:          "A pulse of crank tooth {{.N}} is missing in every turn: the tooth is damaged or broken off. The gap still shows where the crankshaft is.",
	trace.BrokenSomewhere: "In every turn one or more teeth are missing from the crank sensor wheel besides its gap, broken off or of another wheel, and leave a gap like it. Which of the gaps is the wheel's own cannot be told: correlation and TDC are left out.",
	trace.WheelByCam:      "The crank sensor wheel looks the same {{.N}} times in a turn. The camshaft signal shows which tooth is which; the correlation is ambiguous by {{.Value}}°.",
	trace.WheelSomewhere:  "The crank sensor wheel looks the same {{.N}} times in a turn, and the camshaft signal does not show which tooth is which: the correlation is ambiguous by {{.Value}}°, and TDC cannot be found.",
	trace.Wrapped:         "The voltage of channel {{.Name}} left the recorder's range and came back at its other end; samples corrected: {{.N}}.",
	trace.CrankSensorKind: "The crank channel looks like that of another sensor ({{.Sensor}}) than the job names: where on a tooth its edges are is uncertain, and the uncertainties of correlation and TDC allow for it.",
	trace.NoCamWheel:      "The job has no [cam_wheel] with teeth_cam_deg and first_tooth_btdc_deg: the correlation cannot be known.",
	trace.NoCamChannel:    "No channel shows the cam sensor wheel: the correlation cannot be known.",
	trace.CamDiffers:      "The cam sensor wheel recorded is not the job's ({{.N}} edges in a cycle, {{.Of}} teeth in the job): the correlation cannot be known.",
	trace.CamAmbiguous:    "The camshaft's edges fit the job's wheel in more than one place: the correlation cannot be known.",
	trace.CamSensorKind:   "The cam channel looks like that of another sensor ({{.Sensor}}) than the job names: where on a tooth its edges are is uncertain, and the uncertainty of the correlation allows for it.",
	trace.CamPolarity:     "Which edge of a cam tooth comes first cannot be told: both fit the job's wheel, so the correlation is left out.",
	trace.NoGeometry:      "Without bore_mm, stroke_mm, rod_mm and compression_ratio in [engine], true TDC cannot be found from the speed.",
	trace.NoRipple:        "The crankshaft's speed does not rise and fall as compression makes it: true TDC cannot be found.",
	trace.Running:         "The engine is running, at {{.Value}} rpm: true TDC can be found from the speed only while the starter turns the engine.",
	trace.RippleSides:     "The crankshaft's speed fits compression in two places, {{.Value}}° apart: true TDC cannot be told.",
	trace.StrangeRipple:   "The crankshaft's speed rises and falls otherwise than compression makes it: true TDC is only known to lie near where the crankshaft turns slowest.",
	trace.CoarseWheel:     "The crank sensor wheel has too few teeth for this engine to find true TDC from the speed between them.",
	trace.UnlikelyRipple:  "The crankshaft's speed fits compression only with an inertia, losses or a leak that no engine of this displacement has: is compression released, or are bore, stroke and ratio those of another engine? True TDC is left out.",
	trace.BentTooth:       "Tooth {{.N}} of the crank sensor wheel is {{.Value}}° from its place: bent or damaged. Positive is late.",
	trace.FewCycles:       "Too few whole cycles at an even speed ({{.N}}) to find true TDC from it; record some seconds of cranking.",
	trace.TurnUnknown:     "Whether the camshaft is half a turn out cannot be told from this recording: the correlation is ambiguous by 360°.",
	trace.Unidentified:    "Channel {{.Name}} was not used: it shows no crank sensor wheel, cam sensor wheel or compression.",
	trace.Dead:            "Channel {{.Name}} does not change at all.",
	trace.TwoCranks:       "Another channel shows the crank sensor wheel as well: {{.Other}}.",
	trace.Lost:            "Tooth pulse missing at {{.Time}} s.",
	trace.Extra:           "Extra edge in the crankshaft signal at {{.Time}} s.",
	trace.Thread:          "The crankshaft signal breaks off; it was followed in {{.N}} stretches.",
	trace.CamTeethMissing: "Only {{.N}} of the cam sensor wheel's {{.Of}} teeth were seen.",
	trace.CamTeethExtra:   "Edges in the camshaft signal that are no teeth of the job's wheel, in every cycle: {{.N}}.",
	trace.BadRows:         "Rows that could not be read were left out: {{.N}}, the first in line {{.Of}}.",
	trace.OutOfRange:      "Samples left out of channel {{.Name}}, empty or out of range: {{.N}}.",
	trace.Clipped:         "The signal of channel {{.Name}} is clipped at {{.Value}} in the unit of the recording ({{.N}} % of the samples). The edges are whole, so nothing is lost.",
	trace.ClippedEdges:    "The signal of channel {{.Name}} is clipped at {{.Value}} in the unit of the recording ({{.N}} % of the samples): where on a tooth the edges are is less certain, and the uncertainties allow for it.",
	trace.CrankSlope:      "Which edge of the crankshaft signal belongs to the middle of a tooth is not certain: the one used does with a probability of {{.N}} %; by the other, all crank angles would be {{.Value}}° different. The values given are the mean of both by their probability, and the uncertainties allow for the difference.",
	trace.HalfTurned:      "The camshaft, or its sensor wheel, is half a turn out.",
	trace.PressureDiffers: "TDC by the pressure in the cylinder and TDC by the crankshaft's speed lie {{.Value}}° apart; the uncertainty was widened to hold both.",
	trace.OddSpeed:        "{{.Value}} rpm is not a plausible speed of such an engine: is the time in the recording correct?",
	trace.CoarseTime:      "The recording has a sample only every {{.Value}}°; record faster for a more certain answer.",
	trace.LevelChanges:    "The recording holds a row at each change of level, not samples: a level was held until the next row.",
	trace.Glitches:        "Pulses too short for a tooth were removed from channel {{.Name}}: {{.N}}.",
	trace.Coupled:         "Channel {{.Name}} was recorded through a capacitor (AC coupling), behind which levels die away in {{.Value}} ms: its edges were taken from the jumps.",
	trace.SensorUntold:    "The crank channel holds levels: whether from a Hall sensor or made from an inductive sensor's signal cannot be told. What the job says was used, and where on a tooth the edges are is uncertain by half its width.",
	trace.Sampling:        "The time between samples adds {{.Value}}° to the uncertainty of the correlation; record faster, or longer, for a more certain answer.",
	trace.CutOff:          "The file ends {{.Value}} s before the end that it states: it was cut off.",
	trace.CutShort:        "The recording has more edges than can be kept: only the first {{.Value}} s were used.",
}

// Faults that are said differently by what they hold.
const (
	traceManyLost     phrase.Text = "Tooth pulses missing in {{.N}} places."
	traceManyExtra    phrase.Text = "Extra edges in the crankshaft signal: {{.N}}."
	traceSwapCrank    phrase.Text = "Channel {{.Name}} is the crankshaft sensor's, though its name says the camshaft's; it was used as what it shows."
	traceSwapCam      phrase.Text = "Channel {{.Name}} is the camshaft sensor's, though its name says the crankshaft's; it was used as what it shows."
	traceWeak         phrase.Text = "Cylinder {{.N}} compresses weakly: its pressure comes to {{.Value}} % of the strongest's."
	traceWeakEither   phrase.Text = "Cylinder {{.N}} or {{.Of}} compresses weakly: its pressure comes to {{.Value}} % of the strongest's. Which of the two, the recording does not tell."
	traceSlopeLikely  phrase.Text = "Which edge of the crankshaft signal belongs to the middle of a tooth is not quite certain: the one used does with a probability of {{.N}} %; by the other, all crank angles would be {{.Value}}° different. The uncertainties allow for it by that probability."
	traceSecondsGuess phrase.Text = "The recording does not state the unit of its time: seconds were assumed."
	traceMillisGuess  phrase.Text = "The recording does not state the unit of its time: milliseconds were assumed, which give a plausible speed of the crankshaft."
	traceMicrosGuess  phrase.Text = "The recording does not state the unit of its time: microseconds were assumed, which give a plausible speed of the crankshaft."
)

// traceFault is a fault in a sentence.
func traceFault(f trace.Fault) phrase.Sentence {
	value := phrase.Num{Value: f.Value, Decimals: 1}
	text := traceFaults[f.Kind]
	switch f.Kind {
	case trace.Lost, trace.Extra:
		if f.N > 1 {
			text = map[trace.Kind]phrase.Text{trace.Lost: traceManyLost, trace.Extra: traceManyExtra}[f.Kind]
		}
	case trace.Swapped:
		text = traceSwapCrank
		if f.Other == string(trace.CamSensor) {
			text = traceSwapCam
		}
	case trace.WeakCylinder:
		value, text = phrase.Num{Value: 100 * f.Value}, traceWeak
		if f.Of > 0 {
			text = traceWeakEither
		}
	case trace.WheelEither:
		value = phrase.Num{Value: float64(100 - f.N)}
	case trace.TimeUnit:
		text = traceSecondsGuess
		switch {
		case f.Value < 1e-5:
			text = traceMicrosGuess
		case f.Value < 0.1:
			text = traceMillisGuess
		}
	case trace.CrankSlope:
		if f.Likely() {
			text = traceSlopeLikely
		}
	case trace.Sampling, trace.CutOff, trace.Clipped, trace.ClippedEdges:
		value.Decimals = 2
	case trace.Running, trace.OddSpeed:
		value.Decimals = 0
	}
	sensor := wheel.ParseSensor(f.Name, wheel.Inductive).Text()
	return phrase.Sentence{Text: text, Data: map[string]any{
		"N": f.N, "Of": f.Of, "Name": f.Name, "Other": f.Other, "Sensor": sensor, "Value": value, "Time": phrase.Num{Value: f.Time, Decimals: 4},
		"Positions": f.Found.Positions, "Missing": positions(f.Found.Missing),
	}}
}

// positions lists places of a wheel.
func positions(list []int) string {
	return strings.Trim(strings.ReplaceAll(fmt.Sprint(list), " ", ", "), "[]")
}
