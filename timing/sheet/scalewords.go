package sheet

import "pinphase.org/pinphase/timing/phrase"

// The words of what is printed to true scale.
const (
	wordWheelSheet   phrase.Text = "Degree wheel of {{.Diameter}}"
	wordTapeSheet    phrase.Text = "Degree tape for a diameter of {{.Diameter}}"
	wordTrueScale    phrase.Text = "Printed to true scale"
	wordForJob       phrase.Text = "For: {{.Title}}"
	wordPrintWhole   phrase.Text = "Print at 100 %, without fitting to the page."
	wordCheckRulers  phrase.Text = "Before you use it, lay a steel rule on both rulers: each must have the length it states, to half a millimetre."
	wordCorrect      phrase.Text = "If not, enter what the horizontal ruler really measures and print again: the scale is then corrected."
	wordCorrected    phrase.Text = "Printed for a printer whose ruler of 150 mm came out at {{.Length}}: all lengths are multiplied by {{.Factor}}."
	wordUneven       phrase.Text = "If the two differ by different shares, this printer or paper is not suitable."
	wordRulerIs      phrase.Text = "This is {{.Length}} mm long"
	wordWheelNose    phrase.Text = "Fix it to the nose (front end) of the crankshaft, which turns {{.Sense}} seen from there."
	wordWheelFly     phrase.Text = "Fix it to the flywheel end of the crankshaft, which turns {{.Sense}} seen from there."
	wordWheelReads   phrase.Text = "With a fixed pointer the number grows as the engine turns. Set it to 0 at true TDC of cylinder 1: then it reads degrees after that TDC."
	wordWheelTurns   phrase.Text = "turns {{.Sense}}"
	wordTapeLength   phrase.Text = "The whole tape is {{.Length}} long, once round; a degree is {{.Degree}}."
	wordTapeMeasured phrase.Text = "Measure the rim's diameter where the tape will lie. If the ends of the tape do not meet, the diameter is another."
	wordTapeJoin     phrase.Text = "Cut out the strips. Lay the left end of each onto the dashed line at the end of the one before, over its tab, and the first onto the end of the last."
	wordTapeNose     phrase.Text = "Lay it round the rim with its lower edge towards the nose of the crankshaft, which turns {{.Sense}} seen from there."
	wordTapeFly      phrase.Text = "Lay it round the rim with its lower edge towards the flywheel end of the crankshaft, which turns {{.Sense}} seen from there."
	wordEdgeNose     phrase.Text = "↓ towards the nose"
	wordEdgeFly      phrase.Text = "↓ towards the flywheel end"
	wordTab          phrase.Text = "next over this"
	wordStrip        phrase.Text = "Strip {{.N}} of {{.Of}}"
	wordPiece        phrase.Text = "Piece {{.N}} of {{.Of}}: row {{.Row}}, column {{.Column}}. Cut one of two pieces that meet along the dashed line and lay it on the line of the other."
	wordFires        phrase.Text = "TDC {{.Cylinders}}"
	wordFiresNote    phrase.Text = "TDC marks where the named cylinders come to firing TDC, each on its own crankshaft turn."
)
