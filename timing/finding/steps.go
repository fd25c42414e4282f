package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/known"
)

// The steps of the derivation, in their order.
const (
	stepSign         = "Angles on the crankshaft count positive in the direction of rotation."
	stepKeyway       = "Keyway from the No. 1 throw: drawing {{.Drawing}}°, measured {{.Measured}}°. Gear error = measured − drawing = {{.Measured}} − {{.Less}} = {{.Error}}°."
	stepKeywayRound  = "Keyway from the No. 1 throw: drawing {{.Drawing}}°, measured {{.Measured}}°. Gear error = measured − drawing = {{.Measured}} − {{.Less}} = {{.Sum}}°, the short way round {{.Error}}°."
	stepKeywayStated = "Keyway from the No. 1 throw: not measured. Gear error = {{.Error}}°, as stated."
	stepNoKeyway     = "Keyway from the No. 1 throw: not measured, taken as drawn. Gear error = 0°."
	stepNoDowel      = "Dowel from the keyway: not measured, taken as set out from the keyway. Wheel error = gear error = {{.Error}}°, assumed."
	stepRead         = "Wheel error = {{.Error}}°: where the wheel most probably is, by all that was seen and by what each fault would do."
	stepStated       = "Wheel error = gear error + the dowel's error as stated = {{.Gear}}° and the dowel's, in all {{.Error}}°."
	stepSupposed     = "Wheel error = {{.Error}}°, supposed."
	stepDowel        = "Dowel from the keyway: drawing {{.Drawing}}°, measured {{.Measured}}°."
	stepWheel        = "Wheel error = gear error + measured − drawing = {{.Gear}} + {{.Plus}} − {{.Less}} = {{.Error}}°."
	stepWheelRound   = "Wheel error = gear error + measured − drawing = {{.Gear}} + {{.Plus}} − {{.Less}} = {{.Sum}}°, the short way round {{.Error}}°."
	stepAhead        = "The wheel is {{.By}}° ahead: the controller believes the crank is {{.By}}° further on than it is, and everything it asks for happens {{.By}}° early."
	stepBehind       = "The wheel is {{.By}}° behind: the controller believes the crank is {{.By}}° less far on than it is, and everything it asks for happens {{.By}}° late."
	stepActual       = "Injection asked for at {{.Commanded}}° before TDC happens at {{.Commanded}} + {{.Plus}} = {{.Actual}}° before TDC."
	stepActualAfter  = "Injection asked for at {{.Commanded}}° before TDC happens at {{.Commanded}} + {{.Plus}} = {{.Actual}}° before TDC, which is {{.After}}° after TDC."
)

var stepTexts = []string{
	stepSign, stepKeyway, stepKeywayRound, stepNoKeyway, stepKeywayStated, stepNoDowel, stepRead, stepStated, stepSupposed, stepDowel, stepWheel, stepWheelRound, stepAhead, stepBehind,
	stepActual, stepActualAfter,
}

// steps lead from the readings to when injection happens.
func (e errorsOf) steps(commanded, actual timing.Deg) []Sentence {
	list := []Sentence{{Text: stepSign}, e.keywayStep()}
	switch {
	case e.basis == known.Supposed:
		list = append(list, Sentence{stepSupposed, map[string]any{"Error": fine(e.wheel.Value)}})
	case e.basis == known.Assumed && e.doubt == settled:
		list = append(list, Sentence{stepNoDowel, map[string]any{"Error": fine(e.wheel.Value)}})
	case e.basis == known.Read || e.doubt == branching || e.taken:
		list = append(list, Sentence{stepRead, map[string]any{"Error": fine(e.wheel.Value)}})
	case e.dowel.measured == nil:
		list = append(list, Sentence{stepStated, map[string]any{"Gear": fine(e.gear.Value), "Error": fine(e.wheel.Value)}})
	default:
		list = append(list, e.dowelSteps()...)
	}
	if by := fine(size(e.wheel.Value)); by.String() != "0" {
		text := stepAhead
		if e.wheel.Value < 0 {
			text = stepBehind
		}
		list = append(list, Sentence{text, map[string]any{"By": by}})
	}
	text := stepActual
	if fine(actual).String() != "0" && actual < 0 {
		text = stepActualAfter
	}
	return append(list, Sentence{text, map[string]any{
		"Commanded": fine(commanded), "Plus": Operand(fine(e.wheel.Value)), "Actual": fine(actual), "After": fine(size(actual))}})
}

func (e errorsOf) keywayStep() Sentence {
	switch {
	case e.keyway.measured == nil && e.gearBasis == known.Stated:
		return Sentence{stepKeywayStated, map[string]any{"Error": fine(e.gear.Value)}}
	case e.keyway.measured == nil:
		return Sentence{Text: stepNoKeyway}
	}
	drawing, measured := e.keyway.drawing.Value, e.keyway.measured.Value
	sum := measured - drawing
	text := stepKeyway
	if wrapped(sum, e.gear.Value) {
		text = stepKeywayRound
	}
	return Sentence{text, map[string]any{
		"Drawing": fine(drawing), "Measured": fine(measured), "Less": Operand(fine(drawing)), "Sum": fine(sum), "Error": fine(e.gear.Value)}}
}

func (e errorsOf) dowelSteps() []Sentence {
	drawing, measured := e.dowel.drawing.Value, e.dowel.measured.Value
	sum := e.gear.Value + measured - drawing
	text := stepWheel
	if wrapped(sum, e.wheel.Value) {
		text = stepWheelRound
	}
	return []Sentence{
		{stepDowel, map[string]any{"Drawing": fine(drawing), "Measured": fine(measured)}},
		{text, map[string]any{"Gear": fine(e.gear.Value), "Plus": Operand(fine(measured)), "Less": Operand(fine(drawing)),
			"Sum": fine(sum), "Error": fine(e.wheel.Value)}},
	}
}

// wrapped tells whether an error is not the sum itself but the short way round
// to it.
func wrapped(sum, err timing.Deg) bool { return size(sum-err) > timing.Turn/2 }
