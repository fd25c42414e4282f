package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/phrase"
)

// The steps of the derivation, in their order.
const (
	stepSign         phrase.Text = "Angles on the crankshaft count positive in the direction of rotation."
	stepKeyway       phrase.Text = "Keyway from the No. 1 throw: drawing {{.Drawing}}°, measured {{.Measured}}°. Gear error = measured − drawing = {{.Measured}} − {{.Less}} = {{.Error}}°."
	stepKeywayRound  phrase.Text = "Keyway from the No. 1 throw: drawing {{.Drawing}}°, measured {{.Measured}}°. Gear error = measured − drawing = {{.Measured}} − {{.Less}} = {{.Sum}}°, the short way round {{.Error}}°."
	stepKeywayStated phrase.Text = "Keyway from the No. 1 throw: not measured. Gear error = {{.Error}}°, as stated."
	stepNoKeyway     phrase.Text = "Keyway from the No. 1 throw: not measured, taken as drawn. Gear error = 0°."
	stepNoDowel      phrase.Text = "Dowel from the keyway: not measured; assumed: set out from the keyway. Wheel error = gear error = {{.Error}}°, assumed."
	stepRead         phrase.Text = "Wheel error = {{.Error}}°: where the wheel most probably is, by all findings and by what each fault would do."
	stepStated       phrase.Text = "Wheel error = gear error + the dowel's error as stated = {{.Gear}}° and the dowel's, in all {{.Error}}°."
	stepSupposed     phrase.Text = "Wheel error = {{.Error}}°, what-if."
	stepDowel        phrase.Text = "Dowel from the keyway: drawing {{.Drawing}}°, measured {{.Measured}}°."
	stepWheel        phrase.Text = "Wheel error = gear error + measured − drawing = {{.Gear}} + {{.Plus}} − {{.Less}} = {{.Error}}°."
	stepWheelRound   phrase.Text = "Wheel error = gear error + measured − drawing = {{.Gear}} + {{.Plus}} − {{.Less}} = {{.Sum}}°, the short way round {{.Error}}°."
	stepAhead        phrase.Text = "The wheel is {{.By}}° ahead: the ECU counts {{.By}}° too many, and all it commands is {{.By}}° early."
	stepBehind       phrase.Text = "The wheel is {{.By}}° behind: the ECU counts {{.By}}° too few, and all it commands is {{.By}}° late."
	stepActual       phrase.Text = "Injection commanded at {{.Commanded}}° before TDC starts at {{.Commanded}} + {{.Plus}} = {{.Actual}}° before TDC."
	stepActualAfter  phrase.Text = "Injection commanded at {{.Commanded}}° before TDC starts at {{.Commanded}} + {{.Plus}} = {{.Actual}}° before TDC, which is {{.After}}° after TDC."
)

// steps lead from the readings to when injection happens.
func (e errorsOf) steps(commanded, actual timing.Deg) []phrase.Sentence {
	list := []phrase.Sentence{{Text: stepSign}, e.keywayStep()}
	switch {
	case e.basis == known.Supposed:
		list = append(list, phrase.Sentence{Text: stepSupposed, Data: map[string]any{"Error": fine(e.wheel.Value)}})
	case e.basis == known.Assumed && e.doubt == settled:
		list = append(list, phrase.Sentence{Text: stepNoDowel, Data: map[string]any{"Error": fine(e.wheel.Value)}})
	case e.basis == known.Read || e.doubt == branching || e.taken:
		list = append(list, phrase.Sentence{Text: stepRead, Data: map[string]any{"Error": fine(e.wheel.Value)}})
	case e.dowel.measured == nil:
		list = append(list, phrase.Sentence{Text: stepStated, Data: map[string]any{"Gear": fine(e.gear.Value), "Error": fine(e.wheel.Value)}})
	default:
		list = append(list, e.dowelSteps()...)
	}
	if by := fine(size(e.wheel.Value)); by.String() != "0" {
		text := stepAhead
		if e.wheel.Value < 0 {
			text = stepBehind
		}
		list = append(list, phrase.Sentence{Text: text, Data: map[string]any{"By": by}})
	}
	text := stepActual
	if fine(actual).String() != "0" && actual < 0 {
		text = stepActualAfter
	}
	return append(list, phrase.Sentence{Text: text, Data: map[string]any{
		"Commanded": fine(commanded), "Plus": phrase.Operand(fine(e.wheel.Value)), "Actual": fine(actual), "After": fine(size(actual))}})
}

func (e errorsOf) keywayStep() phrase.Sentence {
	switch {
	case e.keyway.measured == nil && e.gearBasis == known.Stated:
		return phrase.Sentence{Text: stepKeywayStated, Data: map[string]any{"Error": fine(e.gear.Value)}}
	case e.keyway.measured == nil:
		return phrase.Sentence{Text: stepNoKeyway}
	}
	drawing, measured := e.keyway.drawing.Value, e.keyway.measured.Value
	sum := measured - drawing
	text := stepKeyway
	if wrapped(sum, e.gear.Value) {
		text = stepKeywayRound
	}
	return phrase.Sentence{Text: text, Data: map[string]any{
		"Drawing": fine(drawing), "Measured": fine(measured), "Less": phrase.Operand(fine(drawing)), "Sum": fine(sum), "Error": fine(e.gear.Value)}}
}

func (e errorsOf) dowelSteps() []phrase.Sentence {
	drawing, measured := e.dowel.drawing.Value, e.dowel.measured.Value
	sum := e.gear.Value + measured - drawing
	text := stepWheel
	if wrapped(sum, e.wheel.Value) {
		text = stepWheelRound
	}
	return []phrase.Sentence{
		{Text: stepDowel, Data: map[string]any{"Drawing": fine(drawing), "Measured": fine(measured)}},
		{Text: text, Data: map[string]any{"Gear": fine(e.gear.Value), "Plus": phrase.Operand(fine(measured)), "Less": phrase.Operand(fine(drawing)),
			"Sum": fine(sum), "Error": fine(e.wheel.Value)}},
	}
}

// wrapped tells whether an error is not the sum itself but the short way round
// to it.
func wrapped(sum, err timing.Deg) bool { return size(sum-err) > timing.Turn/2 }
