package chart

import (
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
)

// Say puts a sentence into the reader's language. The zero value of what uses
// it stands for English.
type Say func(phrase.Sentence) string

func (say Say) text(text phrase.Text) string { return say.Sentence(phrase.Sentence{Text: text}) }

func (say Say) with(text phrase.Text, data map[string]any) string {
	return say.Sentence(phrase.Sentence{Text: text, Data: data})
}

// Sentence puts a sentence into the reader's language, or into English for nil.
func (say Say) Sentence(s phrase.Sentence) string {
	if say == nil {
		return s.String()
	}
	return say(s)
}

// title names a figure after its job, or without it when the job has no title.
func (say Say) title(named, untitled phrase.Text, title string) string {
	if title == "" {
		return say.text(untitled)
	}
	return say.with(named, map[string]any{"Title": title})
}

// The words of the figures.
const (
	wordCycle         phrase.Text = "The cycle of {{.Title}}"
	wordCycleUntitled phrase.Text = "The engine's cycle"
	wordCycleDesc     phrase.Text = "One row a cylinder over {{.Cycle}} crank degrees: strokes, firing top dead centres and injections."
	wordAxis          phrase.Text = "crank degrees after firing TDC of cylinder 1"
	wordIntakeOpen    phrase.Text = "intake open"
	wordExhaustOpen   phrase.Text = "exhaust open"
	wordFiringTDC     phrase.Text = "firing TDC"
	wordCommanded     phrase.Text = "injection commanded"
	wordActual        phrase.Text = "actual injection"
	wordCylinder      phrase.Text = "Cyl {{.N}}"
	wordWheel         phrase.Text = "Crankshaft end of {{.Title}}"
	wordWheelUntitled phrase.Text = "The crankshaft's end"
	wordWheelDesc     phrase.Text = "The crankshaft's end with its sensor wheel, crankshaft at {{.At}}°."
	wordTurnsNose     phrase.Text = "turns {{.Sense}}, seen from the nose"
	wordTurnsFlywheel phrase.Text = "turns {{.Sense}}, seen from the flywheel"
	wordTooth1        phrase.Text = "tooth 1"
	wordTooth1Right   phrase.Text = "tooth 1 as drawn"
	wordGap           phrase.Text = "gap"
	wordSensor        phrase.Text = "sensor"
	wordThrow         phrase.Text = "No. 1 throw"
	wordKeyway        phrase.Text = "keyway"
	wordKeywayDrawing phrase.Text = "keyway as drawn"
	wordDowelDrawing  phrase.Text = "dowel as drawn"
	wordDowelMeasured phrase.Text = "dowel as measured"
	wordAskedFor      phrase.Text = "commanded, {{.At}}"
	wordHappens       phrase.Text = "actual, {{.At}}"
	wordTDC           phrase.Text = "TDC"
	wordBefore        phrase.Text = "BTDC"
	wordAfter         phrase.Text = "ATDC"
	wordBTDC          phrase.Text = "{{.Size}}° BTDC"
	wordATDC          phrase.Text = "{{.Size}}° ATDC"
	wordSensorPlace   phrase.Text = "The sensor's place around the crankshaft is an assumption; it does not affect any angle."
	wordKeywayUnknown phrase.Text = "The keyway's angle from the throw is not in the job: not measured, drawn at the throw."
	wordAtSensor      phrase.Text = "At the sensor: {{.Actual}}. On a wheel as drawn: {{.Right}}."
	wordAtSensorRight phrase.Text = "At the sensor: {{.Actual}}."
	wordAtSensorDrawn phrase.Text = "At the sensor of a wheel as drawn: {{.Right}}."
	wordNotMeasured   phrase.Text = "No dowel was measured: the wheel is drawn as if it were correct."
	wordNotWorkedOut  phrase.Text = "The wheel error cannot be calculated: the wheel is drawn as if it were correct."
	wordToothN        phrase.Text = "tooth {{.N}}"
	wordGapN          phrase.Text = "the gap (position {{.N}})"
	wordNumber        phrase.Text = "{{.N}}"
	wordNoWheel       phrase.Text = "The job names no sensor wheel."
)

// strokeWords are the strokes, in full and short, by timing.Stroke.
var strokeWords = [4][2]phrase.Text{{"power", "pwr"}, {"exhaust", "exh"}, {"intake", "int"}, {"compression", "cmp"}}

// number writes a number as the reader's language does.
func (say Say) number(v float64, decimals int) string {
	return say.with(wordNumber, map[string]any{"N": phrase.Num{Value: v, Decimals: decimals}})
}

// comma tells whether the reader's numbers have a decimal comma.
func (say Say) comma() bool { return say.number(0.5, 1) == "0,5" }

// BTDC writes an angle before top dead centre, negative being after, to a tenth of a
// degree or to as much more as keeps it on its side of a dead centre.
func (say Say) BTDC(at float64) string {
	n := finding.Beside(at, 1)
	switch {
	case n.String() == "0":
		return say.text(wordTDC)
	case at < 0:
		return say.with(wordATDC, map[string]any{"Size": phrase.Num{Value: -at, Decimals: n.Decimals}})
	}
	return say.with(wordBTDC, map[string]any{"Size": n})
}

// Sensor says what stands at the crank sensor, on this wheel and on one as
// drawn.
func (say Say) Sensor(w finding.WheelPhase) string {
	right := say.tooth(w.Right)
	switch {
	case w.Actual == nil:
		return say.with(wordAtSensorDrawn, map[string]any{"Right": right})
	case w.Actual.Position == w.Right.Position:
		return say.with(wordAtSensorRight, map[string]any{"Actual": right})
	}
	return say.with(wordAtSensor, map[string]any{"Actual": say.tooth(*w.Actual), "Right": right})
}

func (say Say) tooth(t finding.Tooth) string {
	word := wordToothN
	if t.Missing {
		word = wordGapN
	}
	return say.with(word, map[string]any{"N": t.Position})
}
