package plate

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
)

// Say puts a sentence into the reader's language. The zero value of what uses
// it stands for English.
type Say func(finding.Sentence) string

func (say Say) text(text string) string { return say.with(text, nil) }

func (say Say) with(text string, data map[string]any) string {
	s := finding.Sentence{Text: text, Data: data}
	if say == nil {
		return s.String()
	}
	return say(s)
}

// Text puts a sentence into the reader's language, or into English for nil.
func (say Say) Text(s finding.Sentence) string { return say.with(s.Text, s.Data) }

// title names a figure after its job, or without it when the job has no title.
func (say Say) title(named, untitled, title string) string {
	if title == "" {
		return say.text(untitled)
	}
	return say.with(named, map[string]any{"Title": title})
}

// The words of the figures.
const (
	wordCycle         = "The cycle of {{.Title}}"
	wordCycleUntitled = "The engine's cycle"
	wordCycleDesc     = "One row a cylinder over {{.Cycle}} crank degrees: strokes, firing top dead centres and injections."
	wordAxis          = "crank degrees after firing TDC of cylinder 1"
	wordIntakeOpen    = "intake open"
	wordExhaustOpen   = "exhaust open"
	wordFiringTDC     = "firing TDC"
	wordCommanded     = "injection asked for"
	wordActual        = "injection as it happens"
	wordCylinder      = "Cyl {{.N}}"
	wordWheel         = "Crankshaft end of {{.Title}}"
	wordWheelUntitled = "The crankshaft's end"
	wordWheelDesc     = "The crankshaft's end with its sensor wheel, crank at {{.At}}°."
	wordTurnsNose     = "turns {{.Sense}}, seen from the nose"
	wordTurnsFlywheel = "turns {{.Sense}}, seen from the flywheel"
	wordTooth1        = "tooth 1"
	wordTooth1Right   = "tooth 1 as drawn"
	wordGap           = "gap"
	wordSensor        = "sensor"
	wordThrow         = "No. 1 throw"
	wordKeyway        = "keyway"
	wordKeywayDrawing = "keyway as drawn"
	wordDowelDrawing  = "dowel as drawn"
	wordDowelMeasured = "dowel as measured"
	wordAskedFor      = "asked for, {{.At}}"
	wordHappens       = "happens, {{.At}}"
	wordTDC           = "TDC"
	wordBefore        = "BTDC"
	wordAfter         = "ATDC"
	wordBTDC          = "{{.Size}}° BTDC"
	wordATDC          = "{{.Size}}° ATDC"
	wordSensorPlace   = "The sensor's place round the crankshaft is drawn at our choice; it changes no timing."
	wordKeywayUnknown = "The keyway's angle from the throw is not in the job; it is drawn at the throw."
	wordAtSensor      = "At the sensor: {{.Actual}}. On a wheel as drawn: {{.Right}}."
	wordAtSensorRight = "At the sensor: {{.Actual}}."
	wordAtSensorDrawn = "At the sensor of a wheel as drawn: {{.Right}}."
	wordNotMeasured   = "No dowel was measured: the wheel is drawn as if it were right."
	wordNotWorkedOut  = "How far the wheel is off cannot be worked out: it is drawn as if it were right."
	wordToothN        = "tooth {{.N}}"
	wordGapN          = "the gap (position {{.N}})"
	wordNumber        = "{{.N}}"
	wordNoWheel       = "The job names no sensor wheel."
)

// strokeWords are the strokes, in full and short, by timing.Stroke.
var strokeWords = [4][2]string{{"power", "pwr"}, {"exhaust", "exh"}, {"intake", "int"}, {"compression", "cmp"}}

// Texts returns every word of this package that may be shown, so that
// translations can be checked for completeness.
func Texts() []string {
	list := []string{
		wordCycle, wordCycleUntitled, wordCycleDesc, wordAxis, wordIntakeOpen, wordExhaustOpen, wordFiringTDC, wordCommanded, wordActual,
		wordCylinder, wordWheel, wordWheelUntitled, wordWheelDesc, wordTurnsNose, wordTurnsFlywheel, wordTooth1, wordTooth1Right, wordGap,
		wordSensor, wordThrow, wordKeyway, wordKeywayDrawing, wordDowelDrawing, wordDowelMeasured, wordAskedFor, wordHappens,
		wordTDC, wordBefore, wordAfter, wordBTDC, wordATDC, wordSensorPlace, wordKeywayUnknown, wordAtSensor, wordAtSensorRight,
		wordAtSensorDrawn, wordNotMeasured, wordNotWorkedOut, wordToothN, wordGapN, wordNoWheel, wordNumber,
		timing.Clockwise.String(), timing.Anticlockwise.String(),
	}
	list = append(list, lightWords()...)
	list = append(append(append(list, gearWords()...), photoWords()...), supposedWords()...)
	list = append(append(list, signalWords()...), recordedWords()...)
	list = append(list, boardTexts()...)
	list = append(list, practiceWords()...)
	for _, w := range strokeWords {
		list = append(list, w[0], w[1])
	}
	return append(list, partTexts()...)
}

// number writes a number as the reader's language does.
func (say Say) number(v float64, decimals int) string {
	return say.with(wordNumber, map[string]any{"N": finding.Num{Value: v, Decimals: decimals}})
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
		return say.with(wordATDC, map[string]any{"Size": finding.Num{Value: -at, Decimals: n.Decimals}})
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
