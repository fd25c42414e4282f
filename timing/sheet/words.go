package sheet

import (
	"maps"
	"slices"
)

// The words of the sheets, each a whole text with a translation of its own.
const (
	wordJobSheet    = "Job sheet"
	wordUntitledJob = "Job without a title"
	wordPage        = "Page {{.N}} of {{.Of}}"
	wordMade        = "Pinphase {{.Version}}, {{.Date}}"

	wordFinding   = "What was found"
	wordEngine    = "Engine"
	wordMeasuring = "What was measured"
	wordHowDowel  = "How the dowel was measured"
	wordHowKeyway = "How the keyway was measured"
	wordDoubt     = "Where the uncertainty comes from"
	wordInjection = "Where injection lands"
	wordReached   = "How it was reached"
	wordKnow      = "To know"
	wordLight     = "Light-off"
	wordRests     = "What the estimate rests on"
	wordGears     = "Gears"
	wordCauses    = "Causes"
	wordSeen      = "What was seen, and what it says of the most probable cause"
	wordNext      = "Checks to make next"
	wordCautions  = "Before you measure or turn the engine"
	wordNotes     = "Notes"

	wordNoShift = "Where injection lands cannot be said yet. Still open in the job: {{.Keys}}."
	wordNothing = "No dowel or keyway has been measured."

	wordWhat       = "angle"
	wordDrawing    = "drawing"
	wordMeasured   = "measured"
	wordDifference = "difference"
	wordU          = "± (standard)"
	wordInterval   = "95 % interval"
	wordDowel      = "keyway to dowel"
	wordKeyway     = "No. 1 throw to keyway"
	wordPositive   = "Angles count positive in the direction of rotation. ± is one standard uncertainty (JCGM 100:2008); the interval holds the true angle in 95 of 100 such measurements."
	wordReading    = "reading"
	wordMakes      = "makes"
	wordShare      = "share"

	wordCylinder = "cylinder"
	wordAsked    = "asked for"
	wordHappens  = "happens"
	wordCrankAt  = "crank at"
	wordStroke   = "stroke"
	wordDown     = "piston below TDC"

	wordStarts      = "injection starts"
	wordCase        = "injection"
	wordLands       = "lands"
	wordGas         = "gas"
	wordPressure    = "pressure"
	wordLights      = "lights"
	wordWaits       = "waits"
	wordProbability = "probability"
	wordDark        = "no"

	wordCause    = "cause"
	wordBefore   = "before evidence"
	wordAlone    = "alone"
	wordInAll    = "alone or with another"
	wordCheck    = "check"
	wordMinutes  = "minutes"
	wordTools    = "tools"
	wordShowed   = "what it showed"
	wordWheel    = "wheel"
	wordTeeth    = "teeth"
	wordTurns    = "turns"
	wordMeet     = "turns until all marks meet"
	wordWith     = "with the crank"
	wordAgainst  = "against the crank"
	wordGearCam  = "cam"
	wordGearMain = "crank"
	wordGearIdle = "idler {{.N}}"

	wordDegrees = "{{.Value}}°"
	wordPixels  = "{{.Value}} px"
	wordPlain   = "{{.Value}}"
	wordMS      = "{{.Value}} ms"
	wordRPM     = "{{.Value}} rpm"
	wordPercent = "{{.Value}} %"
	wordUnder   = "under 0.1 %"
	wordOver    = "over 99.9 %"
	wordFromTo  = "{{.From}}° to {{.To}}°"
	wordUnknown = "–"
)

// captions stand below the figures, by name.
var captions = map[string]string{
	"cycle":     "Each cylinder's strokes over one cycle, with injection as the controller asks for it and as it happens.",
	"wheel":     "The end of the crankshaft with its sensor wheel, cylinder 1 at firing TDC.",
	"part":      "The angle on the drawing and as measured.",
	"light":     "The gas in the cylinder while cranking, and where fuel lights.",
	"light-map": "Whether fuel lights, by wheel error and air temperature.",
	"gears":     "The gears from crank to cam with their marks.",
	"signals":   "What the crank and cam sensors give.",
}

// Texts returns every text of this package that may be shown, so that
// translations can be checked for completeness.
func Texts() []string {
	list := []string{
		wordJobSheet, wordUntitledJob, wordPage, wordMade, wordFinding, wordEngine, wordMeasuring, wordHowDowel, wordHowKeyway, wordDoubt, wordInjection,
		wordReached, wordKnow, wordLight, wordRests, wordGears, wordCauses, wordSeen, wordNext, wordCautions, wordNotes,
		wordNoShift, wordNothing, wordWhat, wordDrawing, wordMeasured, wordDifference, wordU, wordInterval, wordDowel, wordKeyway,
		wordPositive, wordReading, wordMakes, wordShare, wordCylinder, wordAsked, wordHappens, wordCrankAt,
		wordStroke, wordDown, wordStarts, wordCase, wordLands, wordGas, wordPressure, wordLights, wordWaits, wordProbability, wordDark,
		wordCause, wordBefore, wordAlone, wordInAll, wordCheck, wordMinutes, wordTools, wordShowed, wordWheel, wordTeeth, wordTurns, wordMeet, wordWith,
		wordAgainst, wordGearCam, wordGearMain, wordGearIdle, wordDegrees, wordPixels, wordPlain, wordMS, wordRPM,
		wordPercent, wordUnder, wordOver, wordFromTo, wordUnknown,
	}
	list = append(append(list, engineTexts...), readingTexts()...)
	list = append(append(list, claimTexts...), photoTexts()...)
	list = append(list, exerciseTexts...)
	list = append(list, scaleTexts...)
	return append(list, slices.Sorted(maps.Values(captions))...)
}
