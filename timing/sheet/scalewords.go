package sheet

// The words of what is printed to true scale.
const (
	wordWheelSheet   = "Degree wheel of {{.Diameter}}"
	wordTapeSheet    = "Timing tape for a diameter of {{.Diameter}}"
	wordTrueScale    = "Printed to true scale"
	wordForJob       = "For: {{.Title}}"
	wordPrintWhole   = "Print at 100 %, without fitting to the page."
	wordCheckRulers  = "Before you use it, lay a steel rule on both rulers: each must be as long as it says, to half a millimetre."
	wordCorrect      = "If they are not, say what the level ruler really measures and print again: the scale is then put right."
	wordCorrected    = "Printed for a printer whose ruler of 150 mm came out at {{.Length}}: all lengths are multiplied by {{.Factor}}."
	wordUneven       = "If the two are off by different shares, this printer or paper will not do for it."
	wordRulerIs      = "This is {{.Length}} mm long"
	wordWheelNose    = "Fix it to the nose of the crankshaft, which turns {{.Sense}} seen from there."
	wordWheelFly     = "Fix it to the flywheel end of the crankshaft, which turns {{.Sense}} seen from there."
	wordWheelReads   = "With a fixed pointer the number grows as the engine turns. Set it to 0 at true TDC of cylinder 1: then it reads degrees after that TDC."
	wordWheelTurns   = "turns {{.Sense}}"
	wordTapeLength   = "The whole tape is {{.Length}} long, once round; a degree is {{.Degree}}."
	wordTapeMeasured = "Measure the rim's diameter where the tape will lie. Where the ends of the tape do not meet, the diameter was another."
	wordTapeJoin     = "Cut out the strips. Lay the left end of each onto the dashed line at the end of the one before, over its tab, and the first onto the end of the last."
	wordTapeNose     = "Lay it round the rim with its lower edge towards the nose of the crankshaft, which turns {{.Sense}} seen from there."
	wordTapeFly      = "Lay it round the rim with its lower edge towards the flywheel end of the crankshaft, which turns {{.Sense}} seen from there."
	wordEdgeNose     = "↓ towards the nose"
	wordEdgeFly      = "↓ towards the flywheel end"
	wordTab          = "next over this"
	wordStrip        = "Strip {{.N}} of {{.Of}}"
	wordPiece        = "Piece {{.N}} of {{.Of}}: row {{.Row}}, column {{.Column}}. Cut one of two pieces that meet along the dashed line and lay it on the line of the other."
	wordFires        = "TDC {{.Cylinders}}"
	wordFiresNote    = "TDC marks where the named cylinders come to firing TDC, each on its own turn of the crank."
)

var scaleTexts = []string{
	wordWheelSheet, wordTapeSheet, wordTrueScale, wordForJob, wordPrintWhole, wordCheckRulers, wordCorrect, wordCorrected, wordUneven, wordRulerIs, wordWheelNose,
	wordWheelFly, wordWheelReads, wordWheelTurns, wordTapeLength, wordTapeMeasured, wordTapeJoin, wordTapeNose, wordTapeFly, wordEdgeNose, wordEdgeFly,
	wordTab, wordStrip, wordPiece, wordFires, wordFiresNote,
}
