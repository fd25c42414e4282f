package finding

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// Remedy is what would put a wrong part right: where the dowel belongs on it as it is.
type Remedy struct {
	IsDeg     float64 `json:"dowel_deg"`        // from the keyway, positive in the direction of rotation
	ShouldDeg float64 `json:"dowel_should_deg"` // from the keyway as it is, so that the wheel is right from the throw
	TurnDeg   float64 `json:"turn_deg"`         // from where it is to where it belongs, the short way round
	UDeg      float64 `json:"u_deg"`            // standard uncertainty of it

	RadiusMM    *float64 `json:"radius_mm"`     // of the dowel's circle; nil: not in the job
	ChordMM     *float64 `json:"chord_mm"`      // from the present dowel's middle to the new one's
	KeyRadiusMM *float64 `json:"key_radius_mm"` // of the keyway's middle
	KeyChordMM  *float64 `json:"key_chord_mm"`  // from there to the new dowel's middle
	DowelMM     *float64 `json:"dowel_mm"`      // the dowel's diameter

	KeyTurnDeg *float64 `json:"key_turn_deg"` // by which an offset key would have to turn the gear; nil: keyway not measured, or right
	KeyStepMM  *float64 `json:"key_step_mm"`  // its step, at the keyway's radius

	Says []phrase.Sentence `json:"-"`
	Ask  []phrase.Sentence `json:"-"` // of the supplier
}

// offsetShare is how far the two halves of an offset dowel can stand apart, as a share of
// its diameter, before too little is left between them: rule of thumb, no source.
const offsetShare = 0.25

// OffMark tells whether the wheel error of a job can be told from 0: whether 0 lies outside
// its 95 % interval.
func OffMark(j job.Job) (bool, error) {
	e, err := wheelErrorOf(j.AsItIs())
	return err == nil && tells(part.Result{Measured: e.wheel, DOF: e.wheelDOF}), err
}

// RemedyOf returns what would put the part right; nil where what was measured cannot be
// told from right within its 95 % interval. It needs a dowel with both drawing and
// measured.
func RemedyOf(j job.Job) (*Remedy, error) {
	j = j.AsItIs() // what-ifs are not drilled
	if j.Dowel == nil || j.Dowel.Measured == nil {
		return nil, missing("dowel.measured", "is missing: where the dowel is, to say where it belongs")
	}
	if j.Dowel.Drawing == nil {
		return nil, missing("dowel.drawing", "is missing: where the dowel belongs")
	}
	dowel, keyway, err := features(j)
	if err != nil {
		return nil, err
	}
	e, err := wheelErrorOf(j)
	if err != nil {
		return nil, err
	}
	if !tells(part.Result{Measured: e.wheel, DOF: e.wheelDOF}) {
		return nil, nil
	}
	is := dowel.measured.Value
	r := &Remedy{IsDeg: round(float64(is)), TurnDeg: round(float64(short(-e.wheel.Value))), UDeg: round(float64(e.wheel.U))}
	r.ShouldDeg = round(float64(short(is - e.wheel.Value)))
	r.lengths(j)
	if keyway.compared() != nil {
		if k := keyway.comparison().Error(); tells(part.Result{Measured: k, DOF: keyway.measured.DOF}) {
			turn := round(float64(short(-k.Value)))
			r.KeyTurnDeg = &turn
			if r.KeyRadiusMM != nil {
				step := round(chordOf(*r.KeyRadiusMM, *r.KeyRadiusMM, turn))
				r.KeyStepMM = &step
			}
		}
	}
	r.say(j)
	return r, nil
}

// lengths are those to mark out and to drill by, as far as the readings have the radii.
func (r *Remedy) lengths(j job.Job) {
	for _, reading := range []*job.Reading{j.Dowel.Measured, j.Dowel.Drawing} {
		take := func(to **float64, n job.Number) {
			if *to == nil && n.Given {
				v := n.Value
				*to = &v
			}
		}
		take(&r.RadiusMM, reading.DowelRadiusMM)
		take(&r.KeyRadiusMM, reading.KeywayRadiusMM)
		take(&r.DowelMM, reading.PinMM)
	}
	if r.RadiusMM == nil {
		return
	}
	c := round(chordOf(*r.RadiusMM, *r.RadiusMM, r.TurnDeg))
	r.ChordMM = &c
	if r.KeyRadiusMM != nil {
		k := round(chordOf(*r.RadiusMM, *r.KeyRadiusMM, r.ShouldDeg))
		r.KeyChordMM = &k
	}
}

// chordOf is the straight distance between two points at their distances from the axis,
// by the law of cosines.
func chordOf(a, b, deg float64) float64 {
	return math.Sqrt(max(0, a*a+b*b-2*a*b*math.Cos(timing.Deg(deg).Radians())))
}

// The sentences of what to do now.
const (
	remedyTurnNose  phrase.Text = "Seen from the nose, the dowel belongs {{.Should}}° {{.Sense}} of the keyway as this part has it: {{.Turn}}° ± {{.U}}° (standard uncertainty) {{.Way}} of where it is."
	remedyDrill     phrase.Text = "To drill again: on the circle of {{.Radius}} round the axis, {{.Chord}} straight from the middle of the present dowel."
	remedyFromKey   phrase.Text = "To check before drilling: the new middle is {{.Chord}} from the middle of the keyway at {{.Radius}} from the axis."
	remedyNoRadius  phrase.Text = "Lengths to drill by need the distance from the dowel to the axis: measure it."
	remedyOffsetYes phrase.Text = "An offset dowel would have to be offset by {{.Offset}}: with a dowel of {{.Dowel}} that can be made (up to a quarter of its diameter; rule of thumb)."
	remedyOffsetNo  phrase.Text = "An offset dowel would have to be offset by {{.Offset}}: with a dowel of {{.Dowel}} too little would be left between its halves (up to a quarter of its diameter; rule of thumb)."
	remedyOffset    phrase.Text = "An offset dowel would have to be offset by {{.Offset}}; that can be made up to about a quarter of the dowel's diameter (rule of thumb)."
	remedyKey       phrase.Text = "The keyway too is in the wrong place: a stepped key would have to turn the crankshaft gear by {{.Turn}}°."
	remedyKeyStep   phrase.Text = "The keyway too is in the wrong place: a stepped key would have to turn the crankshaft gear by {{.Turn}}°, a step of {{.Step}} at {{.Radius}} from the axis."
	remedyBreaks    phrase.Text = "The new hole would cut into the present one: plug that first, or leave the part as it is."
	remedyRisk      phrase.Text = "At risk when drilling: a hardened nose, a hole next to the keyway or a bolt, and the claim: a drilled part is seldom taken back. At risk with an offset dowel or stepped key: it carries less, and where it shears the timing is lost."
	remedyECU       phrase.Text = "Do not make up for it in the engine control unit: that hides the fault from whoever repairs the engine next, and the manufacturer and the law decide what may be changed there."

	askReplace phrase.Text = "Replacement by a part that is to the drawing, or a credit note."
	askDrawing phrase.Text = "The drawing with the angle between keyway and dowel, and from which end it is seen."
	askConsent phrase.Text = "Consent in writing before anything is drilled or fitted, and who bears the cost."
	askBatch   phrase.Text = "Whether other parts of the same batch were measured."
)

func (r *Remedy) say(j job.Job) {
	view := ViewOf(j, "nose")
	should, sense := view.Seen(timing.Deg(r.ShouldDeg))
	turn, way := view.Seen(timing.Deg(r.TurnDeg))
	num := func(v timing.Deg) phrase.Num { return phrase.Num{Value: float64(v), Decimals: 2} }
	add := func(text phrase.Text, data map[string]any) {
		r.Says = append(r.Says, phrase.Sentence{Text: text, Data: data})
	}
	add(remedyTurnNose, map[string]any{"Should": num(should), "Sense": sense.Text(), "Turn": num(turn), "Way": way.Text(), "U": num(timing.Deg(r.UDeg))})
	if r.ChordMM == nil {
		add(remedyNoRadius, nil)
	} else {
		add(remedyDrill, map[string]any{"Radius": mm(*r.RadiusMM, 2), "Chord": mm(*r.ChordMM, 2)})
		if r.KeyChordMM != nil {
			add(remedyFromKey, map[string]any{"Radius": mm(*r.KeyRadiusMM, 2), "Chord": mm(*r.KeyChordMM, 2)})
		}
		data := map[string]any{"Offset": mm(*r.ChordMM, 2)}
		switch {
		case r.DowelMM == nil:
			add(remedyOffset, data)
		case *r.ChordMM <= offsetShare**r.DowelMM:
			data["Dowel"] = mm(*r.DowelMM, 2)
			add(remedyOffsetYes, data)
		default:
			data["Dowel"] = mm(*r.DowelMM, 2)
			add(remedyOffsetNo, data)
		}
		if r.DowelMM != nil && *r.ChordMM < *r.DowelMM {
			add(remedyBreaks, nil)
		}
	}
	switch {
	case r.KeyStepMM != nil:
		add(remedyKeyStep, map[string]any{"Turn": num(timing.Deg(math.Abs(*r.KeyTurnDeg))), "Step": mm(*r.KeyStepMM, 2), "Radius": mm(*r.KeyRadiusMM, 2)})
	case r.KeyTurnDeg != nil:
		add(remedyKey, map[string]any{"Turn": num(timing.Deg(math.Abs(*r.KeyTurnDeg)))})
	}
	add(remedyRisk, nil)
	add(remedyECU, nil)
	for _, text := range []phrase.Text{askReplace, askDrawing, askConsent, askBatch} {
		r.Ask = append(r.Ask, phrase.Sentence{Text: text})
	}
}
