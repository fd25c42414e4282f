package chart

import (
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/phrase"
)

// The words of the part figure.
const (
	wordAsDrawn       phrase.Text = "as drawn"
	wordAsMeasured    phrase.Text = "as measured"
	wordMirrored      phrase.Text = "drawing mirrored"
	wordOffBy         phrase.Text = "out by"
	wordNewPart       phrase.Text = "New part"
	wordOldPart       phrase.Text = "Old part"
	wordNewFromOld    phrase.Text = "new from old"
	wordAngle         phrase.Text = "{{.Angle}}°"
	wordAngleHalf     phrase.Text = "{{.Angle}}° ± {{.Half}}°"
	wordAngleBetween  phrase.Text = "{{.Angle}}° ({{.Lo}}° to {{.Hi}}°)"
	wordSeenNose      phrase.Text = "Seen from the nose, where the crankshaft turns {{.Sense}}."
	wordSeenFlywheel  phrase.Text = "Seen from the flywheel, where the crankshaft turns {{.Sense}}."
	wordKeywayOnTop   phrase.Text = "The keyway's angle from the throw is not in the job: not measured, drawn at the top."
	wordBand          phrase.Text = "The shaded sector is the 95 % interval of what was measured."
	wordFoundMirrored phrase.Text = "The measured dowel is {{.By}}° from the drawn one, on the other side of the keyway: where it would be if the drawing were mirrored."
)

// partWording are the sentences that name the feature.
type partWording struct {
	title, untitled, desc, counts phrase.Text
	right, ahead, behind          phrase.Text // measured against the drawing
	unmeasured, undrawn           phrase.Text
}

var partWords = map[figure.PartFeature]partWording{
	figure.DowelFromKeyway: {
		title:      "Dowel and keyway of {{.Title}}",
		untitled:   "Dowel and keyway",
		desc:       "The crankshaft's end to scale of angle, with the dowel as drawn and as measured.",
		counts:     "Angles count from the keyway in the direction of rotation.",
		right:      "The measured dowel is as drawn.",
		ahead:      "The measured dowel is {{.By}}° ahead of the drawn one, in the direction of rotation.",
		behind:     "The measured dowel is {{.By}}° behind the drawn one, in the direction of rotation.",
		unmeasured: "The dowel has not been measured.",
		undrawn:    "The job does not give the drawing angle of the dowel.",
	},
	figure.KeywayFromThrow: {
		title:      "Keyway and No. 1 throw of {{.Title}}",
		untitled:   "Keyway and No. 1 throw",
		desc:       "The crankshaft's end to scale of angle, with the keyway as drawn and as measured.",
		counts:     "Angles count from the No. 1 throw in the direction of rotation.",
		right:      "The measured keyway is as drawn.",
		ahead:      "The measured keyway is {{.By}}° ahead of the drawn one, in the direction of rotation.",
		behind:     "The measured keyway is {{.By}}° behind the drawn one, in the direction of rotation.",
		unmeasured: "The keyway has not been measured.",
		undrawn:    "The job does not give the drawing angle of the keyway.",
	},
}
