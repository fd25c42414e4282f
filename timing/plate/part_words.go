package plate

import "pinphase.org/pinphase/timing/figure"

// The words of the part figure.
const (
	wordAsDrawn       = "as drawn"
	wordAsMeasured    = "as measured"
	wordMirrored      = "drawing mirrored"
	wordOffBy         = "off by"
	wordNewPart       = "New part"
	wordOldPart       = "Old part"
	wordNewFromOld    = "new from old"
	wordAngle         = "{{.Angle}}°"
	wordAngleHalf     = "{{.Angle}}° ± {{.Half}}°"
	wordAngleBetween  = "{{.Angle}}° ({{.Lo}}° to {{.Hi}}°)"
	wordSeenNose      = "Seen from the nose, where the crankshaft turns {{.Sense}}."
	wordSeenFlywheel  = "Seen from the flywheel, where the crankshaft turns {{.Sense}}."
	wordKeywayOnTop   = "The keyway's angle from the throw is not in the job; it is drawn at the top."
	wordBand          = "The shaded sector is the 95 % interval of what was measured."
	wordFoundMirrored = "The measured dowel lies {{.By}}° from the drawing's, on the other side of the keyway: where it would be if the drawing were mirrored."
)

// partWording are the sentences that name the feature.
type partWording struct {
	title, untitled, desc, counts string
	right, ahead, behind          string // measured against the drawing
	unmeasured, undrawn           string
}

var partWords = map[figure.PartFeature]partWording{
	figure.DowelFromKeyway: {
		title:      "Dowel and keyway of {{.Title}}",
		untitled:   "Dowel and keyway",
		desc:       "The crankshaft's end to scale of angle, with the dowel as drawn and as measured.",
		counts:     "Angles count from the keyway in the direction of rotation.",
		right:      "The measured dowel is where the drawing has it.",
		ahead:      "The measured dowel lies {{.By}}° further in the direction of rotation than the drawing's.",
		behind:     "The measured dowel lies {{.By}}° further against the direction of rotation than the drawing's.",
		unmeasured: "The dowel has not been measured.",
		undrawn:    "The job does not say where the drawing has the dowel.",
	},
	figure.KeywayFromThrow: {
		title:      "Keyway and No. 1 throw of {{.Title}}",
		untitled:   "Keyway and No. 1 throw",
		desc:       "The crankshaft's end to scale of angle, with the keyway as drawn and as measured.",
		counts:     "Angles count from the No. 1 throw in the direction of rotation.",
		right:      "The measured keyway is where the drawing has it.",
		ahead:      "The measured keyway lies {{.By}}° further in the direction of rotation than the drawing's.",
		behind:     "The measured keyway lies {{.By}}° further against the direction of rotation than the drawing's.",
		unmeasured: "The keyway has not been measured.",
		undrawn:    "The job does not say where the drawing has the keyway.",
	},
}

// partTexts are the words above.
func partTexts() []string {
	list := []string{wordAsDrawn, wordAsMeasured, wordMirrored, wordOffBy, wordNewPart, wordOldPart, wordNewFromOld, wordAngle, wordAngleHalf,
		wordAngleBetween, wordSeenNose, wordSeenFlywheel, wordKeywayOnTop, wordBand, wordFoundMirrored}
	for _, f := range []figure.PartFeature{figure.DowelFromKeyway, figure.KeywayFromThrow} {
		w := partWords[f]
		list = append(list, w.title, w.untitled, w.desc, w.counts, w.right, w.ahead, w.behind, w.unmeasured, w.undrawn)
	}
	return list
}
