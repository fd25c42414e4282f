package finding

import (
	"fmt"
	"math"
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/trace"
	"pinphase.org/pinphase/timing/wheel"
)

// What a recording comes to, in a sentence.
const (
	traceBothRight  = "The recording shows nothing wrong: crank and cam signals agree, and true TDC is where the controller takes it to be."
	traceWheelAhead = "The crank wheel is {{.By}}° ahead (± {{.U}}°): at true TDC the controller already counts {{.By}}° after it. The cam is where it belongs."
	traceWheelBack  = "The crank wheel is {{.By}}° behind (± {{.U}}°): at true TDC the controller still counts {{.By}}° before it. The cam is where it belongs."
	traceCamAhead   = "The cam, or its wheel, is {{.By}} crank degrees ahead (± {{.U}}°). The crank wheel is where it belongs."
	traceCamBack    = "The cam, or its wheel, is {{.By}} crank degrees behind (± {{.U}}°). The crank wheel is where it belongs."
	traceCamHalf    = "The cam wheel is half a turn out. The crank wheel is where it belongs."
	traceBothWrong  = "Two things are off: at true TDC the controller counts {{.Wheel}}° (± {{.U}}°) because of the crank wheel, and the cam, or its wheel, is off by {{.Cam}} crank degrees; positive is ahead."
	traceAgree      = "Crank and cam signals agree to {{.By}}°. Where true TDC is, this recording does not tell: an error that both share would not show."
	traceLate       = "The cam's edges come {{.By}}° late among the crank wheel's teeth (± {{.U}}°): the crank wheel is ahead or the cam is behind. Which of the two, this recording does not tell."
	traceEarly      = "The cam's edges come {{.By}}° early among the crank wheel's teeth (± {{.U}}°): the crank wheel is behind or the cam is ahead. Which of the two, this recording does not tell."
	traceOnlyRight  = "True TDC is where the controller takes it to be, to {{.U}}°. How the cam stands, this recording does not tell."
	traceOnlyAhead  = "The crank wheel is {{.By}}° ahead (± {{.U}}°): at true TDC the controller already counts {{.By}}° after it. How the cam stands, this recording does not tell."
	traceOnlyBack   = "The crank wheel is {{.By}}° behind (± {{.U}}°): at true TDC the controller still counts {{.By}}° before it. How the cam stands, this recording does not tell."
	traceStrange    = "The crank wheel in this recording is not the job's: {{.Positions}} positions with {{.Missing}} missing, where the job has {{.JobPositions}} with {{.JobMissing}}."
	traceMirrored   = "The crank wheel in this recording is the job's seen from the other side: it is fitted back to front, or the job numbers it the other way round."
	traceOpenPair   = "The crank wheel is off by {{.Wheel}}° and the cam by {{.Cam}} crank degrees ({{.P}} %), or the wheel by {{.Wheel2}}° and the cam by {{.Cam2}} ({{.Q}} %); positive is ahead. All of them agree with this recording: a check must tell which it is."
	traceOpenBoth   = "Two things are off: the crank wheel by {{.Wheel}}° and the cam by {{.Cam}} crank degrees ({{.P}} %), or the wheel by {{.Wheel2}}° and the cam by {{.Cam2}} ({{.Q}} %); positive is ahead. All of them agree with this recording: a check must tell which it is."
	traceUnlessHalf = "{{.Says}} That holds unless the cam is half a turn out, which this recording does not tell ({{.Q}} %)."
	traceOpenAhead  = "The crank wheel is most probably {{.By}}° ahead (± {{.U}}°, {{.P}} %); {{.Other}}° agrees with this recording too ({{.Q}} %), positive is ahead. How the cam stands, this recording does not tell."
	traceOpenBack   = "The crank wheel is most probably {{.By}}° behind (± {{.U}}°, {{.P}} %); {{.Other}}° agrees with this recording too ({{.Q}} %), positive is ahead. How the cam stands, this recording does not tell."
	traceOpenRight  = "True TDC is most probably where the controller takes it to be, to {{.U}}° ({{.P}} %); {{.Other}}° agrees with this recording too ({{.Q}} %), positive is ahead. How the cam stands, this recording does not tell."
	traceNothing    = "The crank wheel can be followed, but neither the cam's place nor true TDC can be told from this recording."
)

// What must be known beside it.
const (
	traceNoteCrank     = "Crank sensor: channel {{.Name}}, {{.Sensor}}, teeth pass at the {{.Edge}} edge."
	traceNoteCam       = "Cam sensor: channel {{.Name}}, {{.Sensor}}, teeth pass at the {{.Edge}} edge."
	traceNoteOther     = "Channel {{.Name}} was read as {{.Role}}."
	traceNoteModulo    = "The speed of the crank tells TDC only up to multiples of {{.Modulo}}°, the way after which the firings repeat: {{.At}}° could be {{.More}}° or {{.Less}}° as well."
	traceNoteHalf      = "A cam that is half a turn out would make the same recording on this engine: the correlation is known up to a turn of the crank."
	traceNoteStrengths = "Every cylinder compresses about as strongly as the strongest; the weakest comes to {{.Least}} %."
	traceNoteNarrowed  = "Channel {{.Name}} ({{.Role}}) narrows the standard uncertainty of TDC from {{.From}}° to {{.U}}°."
	traceNotePressure  = "TDC from the pressure in the cylinder: {{.At}}° ± {{.U}}°."
)

var traceTexts = []string{
	traceBothRight, traceWheelAhead, traceWheelBack, traceCamAhead, traceCamBack, traceCamHalf, traceBothWrong, traceAgree, traceLate, traceEarly,
	traceOnlyRight, traceOnlyAhead, traceOnlyBack, traceStrange, traceMirrored, traceNothing, traceOpenPair, traceOpenBoth, traceUnlessHalf, traceOpenAhead, traceOpenBack, traceOpenRight,
	traceNoteCrank, traceNoteCam, traceNoteOther, traceNoteModulo, traceNoteHalf, traceNoteStrengths, traceNotePressure, traceNoteNarrowed,
	"inductive", "hall", "rising", "falling", string(trace.CrankSensor), string(trace.CamSensor), string(trace.StarterCurrent), string(trace.CylinderPressure),
}

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
			t.Notes = append(t.Notes, Sentence{text, map[string]any{"Name": name, "Sensor": Term(c.Sensor), "Edge": Term(c.Edge)}})
		case trace.StarterCurrent, trace.CylinderPressure:
			t.Notes = append(t.Notes, Sentence{traceNoteOther, map[string]any{"Name": name, "Role": Term(c.Role)}})
		}
	}
	if m := a.TDC; m != nil && a.Modulo < known.Cycle {
		t.Notes = append(t.Notes, Sentence{traceNoteModulo, map[string]any{"Modulo": fine(a.Modulo), "At": deg(m.Value), "More": deg(m.Value + a.Modulo), "Less": deg(m.Value - a.Modulo)}})
	}
	if a.Correlation != nil && a.CorrelationModulo < known.Cycle && a.CorrelationModulo == timing.Turn {
		t.Notes = append(t.Notes, Sentence{Text: traceNoteHalf})
	}
	if p := a.Pressure; p != nil {
		t.Notes = append(t.Notes, Sentence{traceNotePressure, map[string]any{"At": deg(p.Value), "U": deg(p.U)}})
	}
	for _, n := range a.Narrowed {
		t.Notes = append(t.Notes, Sentence{traceNoteNarrowed, map[string]any{"Name": n.Channel, "Role": Term(n.Role), "From": fine(n.From), "U": fine(n.To)}})
	}
	t.sayStrengths()
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
		t.Notes = append(t.Notes, Sentence{traceNoteStrengths, map[string]any{"Least": Num{100 * least, 0}}})
	}
}

func (t *Trace) headline(known trace.Known) Sentence {
	a := t.Analysis
	for _, f := range a.Faults {
		switch f.Kind {
		case trace.WheelDiffers:
			return Sentence{traceStrange, map[string]any{"Positions": f.Found.Positions, "Missing": len(f.Found.Missing), "JobPositions": known.Crank.Positions, "JobMissing": len(known.Crank.Missing)}}
		case trace.WheelMirrored:
			return Sentence{Text: traceMirrored}
		}
	}
	saysOff := func(text string, m *timing.Measured) Sentence {
		return Sentence{text, map[string]any{"By": deg(size(m.Value)), "U": deg(m.U)}}
	}
	sign := func(m *timing.Measured, ahead, behind string) Sentence {
		if m.Value < 0 {
			return saysOff(behind, m)
		}
		return saysOff(ahead, m)
	}
	corr, b := a.Correlation, t.Branch()
	switch {
	case b != nil && corr != nil:
		return t.placed(b, saysOff, sign)
	case t.butForHalf():
		return Sentence{traceUnlessHalf, map[string]any{"Says": t.placed(&t.Branches[0], saysOff, sign), "Q": Num{100 * t.Branches[1].Probability, 0}}}
	case len(t.Branches) > 0 && b == nil:
		return t.open()
	case corr != nil && off(corr):
		return sign(corr, traceLate, traceEarly)
	case corr != nil:
		return saysOff(traceAgree, &timing.Measured{Value: corr.Value + corr.U, U: corr.U})
	case b != nil:
		if wheel := b.wheel(a); off(wheel) {
			return sign(wheel, traceOnlyAhead, traceOnlyBack)
		}
		return saysOff(traceOnlyRight, a.TDC)
	}
	return Sentence{Text: traceNothing}
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
func (t *Trace) placed(b *TraceBranch, by func(string, *timing.Measured) Sentence, sign func(m *timing.Measured, ahead, behind string) Sentence) Sentence {
	a := t.Analysis
	wheel := b.wheel(a)
	cam := b.cam(a)
	switch {
	case off(wheel) && off(cam):
		return Sentence{traceBothWrong, map[string]any{"Wheel": deg(wheel.Value), "U": deg(wheel.U), "Cam": deg(cam.Value)}}
	case off(wheel):
		return sign(wheel, traceWheelAhead, traceWheelBack)
	case *b.HalfTurn && math.Abs(math.Abs(float64(cam.Value))-360) < 2*traceSure*float64(cam.U):
		return Sentence{Text: traceCamHalf}
	case off(cam):
		return sign(cam, traceCamAhead, traceCamBack)
	case off(a.Correlation):
		return sign(a.Correlation, traceLate, traceEarly)
	}
	return Sentence{Text: traceBothRight}
}

// open says that more than one branch is left, the two most probable by their numbers.
func (t *Trace) open() Sentence {
	percent := func(b TraceBranch) Num { return Num{100 * b.Probability, 0} }
	first, second := t.Branches[0], t.Branches[min(1, len(t.Branches)-1)]
	args := map[string]any{"P": percent(first), "Q": percent(second), "Other": deg(timing.Deg(second.WheelErrorDeg))}
	if first.CamErrorDeg != nil {
		args["Wheel"], args["Cam"] = deg(timing.Deg(first.WheelErrorDeg)), deg(timing.Deg(*first.CamErrorDeg))
		args["Wheel2"], args["Cam2"] = deg(timing.Deg(second.WheelErrorDeg)), deg(timing.Deg(*second.CamErrorDeg))
		for _, b := range t.Branches {
			if !off(b.wheel(t.Analysis)) || !off(b.cam(t.Analysis)) {
				return Sentence{traceOpenPair, args}
			}
		}
		return Sentence{traceOpenBoth, args}
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
	return Sentence{text, args}
}

// The faults of a recording: why something is not known, or what is odd.
var traceFaults = map[trace.Kind]string{
	trace.WheelDiffers:    "The crank wheel recorded has {{.Positions}} positions, missing {{.Missing}}; it is not the job's.",
	trace.WheelMirrored:   "The crank wheel recorded is the job's seen from the other side: teeth cannot be numbered by it.",
	trace.WheelRepeats:    "The crank wheel looks the same {{.N}} times in a turn: which tooth is which cannot be told.",
	trace.Broken:          "A pulse of crank tooth {{.N}} is missing in every turn: the tooth is damaged or broken off. The gap still shows where the crankshaft is.",
	trace.WheelByCam:      "The crank wheel looks the same {{.N}} times in a turn. The cam signal shows which tooth is which; the correlation is ambiguous by {{.Value}}°.",
	trace.WheelSomewhere:  "The crank wheel looks the same {{.N}} times in a turn, and the cam signal does not show which tooth is which: the correlation is ambiguous by {{.Value}}°, and TDC cannot be found.",
	trace.Wrapped:         "The voltage of channel {{.Name}} left the recorder's range and came back at its other end; samples corrected: {{.N}}.",
	trace.CrankSensorKind: "The crank channel looks like that of another sensor ({{.Sensor}}) than the job names: where on a tooth its edges are is uncertain, and the uncertainties of correlation and TDC allow for it.",
	trace.NoCamWheel:      "The job has no [cam_wheel] with teeth_cam_deg and first_tooth_btdc_deg: the correlation cannot be known.",
	trace.NoCamChannel:    "No channel shows the cam wheel: the correlation cannot be known.",
	trace.CamDiffers:      "The cam wheel recorded is not the job's ({{.N}} edges in a cycle, {{.Of}} teeth in the job): the correlation cannot be known.",
	trace.CamAmbiguous:    "The cam's edges fit the job's wheel in more than one place: the correlation cannot be known.",
	trace.CamSensorKind:   "The cam channel looks like that of another sensor ({{.Sensor}}) than the job names: where on a tooth its edges are is uncertain, and the uncertainty of the correlation allows for it.",
	trace.CamPolarity:     "Which edge of a cam tooth comes first cannot be told: both fit the job's wheel, so the correlation is left out.",
	trace.NoGeometry:      "Without bore_mm, stroke_mm, rod_mm and compression_ratio in [engine], true TDC cannot be found from the speed.",
	trace.NoRipple:        "The crank's speed does not rise and fall as compression makes it: true TDC cannot be found.",
	trace.Running:         "The engine is running, at {{.Value}} rpm: true TDC is found from the speed only while the starter turns it.",
	trace.RippleSides:     "The crank's speed fits compression in two places, {{.Value}}° apart: true TDC cannot be told.",
	trace.StrangeRipple:   "The crank's speed rises and falls otherwise than compression makes it: true TDC is only known to lie near where the crank turns slowest.",
	trace.CoarseWheel:     "The crank wheel has too few teeth for this engine to find true TDC from the speed between them.",
	trace.UnlikelyRipple:  "The crank's speed fits compression only with an inertia, losses or a leak that no engine of this displacement has: is compression released, or are bore, stroke and ratio those of another engine? True TDC is left out.",
	trace.BentTooth:       "Tooth {{.N}} of the crank wheel is {{.Value}}° out of place: bent or damaged. Positive is late.",
	trace.FewCycles:       "Too few whole cycles at an even speed ({{.N}}) to find true TDC from it; record some seconds of cranking.",
	trace.TurnUnknown:     "Whether the cam is half a turn out cannot be told from this recording: the correlation is known up to 360°.",
	trace.Unidentified:    "Channel {{.Name}} was not used: it shows no crank wheel, cam wheel or compression.",
	trace.Dead:            "Channel {{.Name}} does not move at all.",
	trace.TwoCranks:       "Another channel shows the crank wheel as well: {{.Other}}.",
	trace.Lost:            "A crank tooth is lost at {{.Time}} s.",
	trace.Extra:           "An edge too many in the crank signal at {{.Time}} s.",
	trace.Thread:          "The crank signal breaks off; it was followed in {{.N}} stretches.",
	trace.CamTeethMissing: "Only {{.N}} of the cam wheel's {{.Of}} teeth were seen.",
	trace.CamTeethExtra:   "Edges in the cam signal that are no teeth of the job's wheel, in every cycle: {{.N}}.",
	trace.BadRows:         "Rows that could not be read were left out: {{.N}}, the first in line {{.Of}}.",
	trace.OutOfRange:      "Samples left out of channel {{.Name}}, empty or out of range: {{.N}}.",
	trace.HalfTurned:      "The cam, or its sensor wheel, is half a turn out.",
	trace.PressureDiffers: "TDC by the pressure in the cylinder and TDC by the crank's speed lie {{.Value}}° apart; the uncertainty was widened to hold both.",
	trace.OddSpeed:        "{{.Value}} rpm is no speed of such an engine: is the time in the recording right?",
	trace.CoarseTime:      "The recording has a sample only every {{.Value}}°; record faster for a surer answer.",
	trace.LevelChanges:    "The recording holds a row at each change of level, not samples: a level was held until the next row.",
	trace.Glitches:        "Pulses too short for a tooth were taken out of channel {{.Name}}: {{.N}}.",
	trace.Coupled:         "Channel {{.Name}} was recorded through a capacitor (AC coupling), behind which levels die away in {{.Value}} ms: its edges were taken from the jumps.",
	trace.SensorUntold:    "The crank channel holds levels: whether of a Hall sensor or made from an inductive sensor's signal cannot be told. The job's word was taken, and where on a tooth the edges lie is uncertain by half its width.",
	trace.Sampling:        "The time between samples adds {{.Value}}° to the uncertainty of the correlation; record faster, or longer, for a surer answer.",
	trace.CutOff:          "The file ends {{.Value}} s before the end that it states: it was cut off.",
	trace.CutShort:        "The recording has more edges than can be kept: only the first {{.Value}} s were used.",
}

// Faults that are said differently by what they hold.
const (
	traceManyLost     = "Crank teeth are lost in {{.N}} places."
	traceManyExtra    = "Edges too many in the crank signal: {{.N}}."
	traceSwapCrank    = "Channel {{.Name}} is the crank sensor's, though its name says the cam's; it was used as what it shows."
	traceSwapCam      = "Channel {{.Name}} is the cam sensor's, though its name says the crank's; it was used as what it shows."
	traceWeak         = "Cylinder {{.N}} compresses weakly: its pressure comes to {{.Value}} % of the strongest's."
	traceWeakEither   = "Cylinder {{.N}} or {{.Of}} compresses weakly: its pressure comes to {{.Value}} % of the strongest's. Which of the two, the recording does not tell."
	traceSecondsGuess = "The recording does not say the unit of its time: seconds were taken."
	traceMillisGuess  = "The recording does not say the unit of its time: milliseconds were taken, which make the speed of the crank a likely one."
	traceMicrosGuess  = "The recording does not say the unit of its time: microseconds were taken, which make the speed of the crank a likely one."
)

// allTraceTexts are the texts of a recording's result.
func allTraceTexts() []string {
	list := append([]string{}, traceTexts...)
	for _, text := range traceFaults {
		list = append(list, text)
	}
	return append(list, traceManyLost, traceManyExtra, traceSwapCrank, traceSwapCam, traceWeak, traceWeakEither, traceSecondsGuess, traceMillisGuess, traceMicrosGuess)
}

// traceFault is a fault in a sentence.
func traceFault(f trace.Fault) Sentence {
	value := Num{f.Value, 1}
	text := traceFaults[f.Kind]
	switch f.Kind {
	case trace.Lost, trace.Extra:
		if f.N > 1 {
			text = map[trace.Kind]string{trace.Lost: traceManyLost, trace.Extra: traceManyExtra}[f.Kind]
		}
	case trace.Swapped:
		text = traceSwapCrank
		if f.Other == string(trace.CamSensor) {
			text = traceSwapCam
		}
	case trace.WeakCylinder:
		value, text = Num{100 * f.Value, 0}, traceWeak
		if f.Of > 0 {
			text = traceWeakEither
		}
	case trace.TimeUnit:
		text = traceSecondsGuess
		switch {
		case f.Value < 1e-5:
			text = traceMicrosGuess
		case f.Value < 0.1:
			text = traceMillisGuess
		}
	case trace.Sampling, trace.CutOff:
		value.Decimals = 2
	case trace.Running, trace.OddSpeed:
		value.Decimals = 0
	}
	sensor := Term(wheel.ParseSensor(f.Name, wheel.Inductive).String())
	return Sentence{text, map[string]any{
		"N": f.N, "Of": f.Of, "Name": f.Name, "Other": f.Other, "Sensor": sensor, "Value": value, "Time": Num{f.Time, 4},
		"Positions": f.Found.Positions, "Missing": positions(f.Found.Missing),
	}}
}

// positions lists places of a wheel.
func positions(list []int) string {
	return strings.Trim(strings.ReplaceAll(fmt.Sprint(list), " ", ", "), "[]")
}
