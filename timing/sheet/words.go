package sheet

import "pinphase.org/pinphase/timing/phrase"

// The words of the sheets, each a whole text with a translation of its own.
const (
	wordJobSheet    phrase.Text = "Job sheet"
	wordUntitledJob phrase.Text = "Job without a title"
	wordPage        phrase.Text = "Page {{.N}} of {{.Of}}"
	wordMade        phrase.Text = "Pinphase {{.Version}}, {{.Date}}"

	wordFinding   phrase.Text = "What was found"
	wordEngine    phrase.Text = "Engine"
	wordMeasuring phrase.Text = "What was measured"
	wordHowDowel  phrase.Text = "How the dowel was measured"
	wordHowKeyway phrase.Text = "How the keyway was measured"
	wordDoubt     phrase.Text = "Where the uncertainty comes from"
	wordInjection phrase.Text = "Start of injection"
	wordReached   phrase.Text = "Calculation"
	wordKnow      phrase.Text = "Remarks"
	wordLight     phrase.Text = "Fuel ignition"
	wordRests     phrase.Text = "What the estimate rests on"
	wordGears     phrase.Text = "Gears"
	wordCauses    phrase.Text = "Causes"
	wordSeen      phrase.Text = "Findings, and what they say of the most probable cause"
	wordNext      phrase.Text = "Checks to make next"
	wordCautions  phrase.Text = "Before you measure or turn the engine"
	wordNotes     phrase.Text = "Notes"

	wordNoShift phrase.Text = "Where injection starts cannot be said yet. Still open in the job: {{.Keys}}."
	wordNothing phrase.Text = "No dowel or keyway has been measured."

	wordWhat       phrase.Text = "angle"
	wordDrawing    phrase.Text = "drawing"
	wordMeasured   phrase.Text = "measured"
	wordDifference phrase.Text = "difference"
	wordU          phrase.Text = "± (standard)"
	wordInterval   phrase.Text = "95 % interval"
	wordDowel      phrase.Text = "keyway to dowel"
	wordKeyway     phrase.Text = "No. 1 throw to keyway"
	wordPositive   phrase.Text = "Angles count positive in the direction of rotation. ± is one standard uncertainty (JCGM 100:2008); the 95 % interval contains the true angle in 95 % of such measurements."
	wordReading    phrase.Text = "reading"
	wordMakes      phrase.Text = "contribution"
	wordShare      phrase.Text = "share"

	wordCylinder phrase.Text = "cylinder"
	wordAsked    phrase.Text = "commanded"
	wordHappens  phrase.Text = "actual"
	wordCrankAt  phrase.Text = "crankshaft at"
	wordStroke   phrase.Text = "stroke"
	wordDown     phrase.Text = "piston below TDC"

	wordStarts      phrase.Text = "injection starts"
	wordCase        phrase.Text = "injection"
	wordLands       phrase.Text = "actual"
	wordGas         phrase.Text = "gas"
	wordPressure    phrase.Text = "pressure"
	wordLights      phrase.Text = "ignites"
	wordWaits       phrase.Text = "delay"
	wordProbability phrase.Text = "probability"
	wordDark        phrase.Text = "no"

	wordCause    phrase.Text = "cause"
	wordBefore   phrase.Text = "before evidence"
	wordAlone    phrase.Text = "alone"
	wordInAll    phrase.Text = "alone or with another"
	wordCheck    phrase.Text = "check"
	wordMinutes  phrase.Text = "minutes"
	wordTools    phrase.Text = "tools"
	wordShowed   phrase.Text = "result"
	wordWheel    phrase.Text = "gear"
	wordTeeth    phrase.Text = "teeth"
	wordTurns    phrase.Text = "turns"
	wordMeet     phrase.Text = "turns until all marks are aligned"
	wordWith     phrase.Text = "with the crankshaft"
	wordAgainst  phrase.Text = "against the crankshaft"
	wordGearCam  phrase.Text = "camshaft"
	wordGearMain phrase.Text = "crankshaft"
	wordGearIdle phrase.Text = "idler gear {{.N}}"

	wordDegrees  phrase.Text = "{{.Value}}°"
	wordPixels   phrase.Text = "{{.Value}} px"
	wordPlain    phrase.Text = "{{.Value}}"
	wordMS       phrase.Text = "{{.Value}} ms"
	wordRPM      phrase.Text = "{{.Value}} rpm"
	wordPercent  phrase.Text = "{{.Value}} %"
	wordUnder    phrase.Text = "under 0.1 %"
	wordOver     phrase.Text = "over 99.9 %"
	wordFromTo   phrase.Text = "{{.From}}° to {{.To}}°"
	wordUnranked phrase.Text = "The causes were not ranked: the evidence in the job is faulty."
	wordFault    phrase.Text = "{{.Key}}: {{.Says}}"
	wordUnknown  phrase.Text = "–"
)

// captionOldPart stands below the part where an old one is the datum.
const captionOldPart phrase.Text = "The angle on the old part and as measured."

// captions stand below the figures, by name.
var captions = map[string]phrase.Text{
	"cycle":     "Each cylinder's strokes over one cycle, with injection as commanded and as it is.",
	"wheel":     "The end of the crankshaft with its sensor wheel, cylinder 1 at firing TDC.",
	"part":      "The angle on the drawing and as measured.",
	"light":     "The gas in the cylinder while cranking, and where fuel ignites.",
	"light-map": "Whether fuel ignites, by wheel error and air temperature.",
	"gears":     "The gears from crankshaft to camshaft with their marks.",
	"engine":    "Every cylinder cut open, cylinder 1 at firing TDC, and the crank throws.",
	"signals":   "The signals of crankshaft and camshaft sensor.",
}
