package finding

import (
	"strings"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// Source is what one reading contributes to the uncertainty of an angle.
type Source struct {
	Reading         string  `json:"reading"` // the key of the job file; "scatter" for that of repeated readings
	U               float64 `json:"u"`       // its standard uncertainty
	Unit            string  `json:"unit"`    // "mm", "deg", or "" for coordinates
	ContributionDeg float64 `json:"contribution_deg"`
	Share           float64 `json:"share"` // of the variance; the shares add up to 1
}

// sourcesOf names a budget's readings by the keys of the job's reading.
func sourcesOf(budget []part.Source, section string, r job.Reading) []Source {
	list := []Source{} // none is [] in JSON, not null
	for _, s := range budget {
		key := keyOf(s.Reading, section, r)
		unit := ""
		switch {
		case s.Reading == part.ReadScatter && (r.Method == "chord" || r.Method == "arc"), strings.HasSuffix(key, "_mm"):
			unit = "mm"
		case s.Reading == part.ReadScatter, strings.HasSuffix(key, "_deg"):
			unit = "deg"
		}
		list = append(list, Source{key, round(s.U), unit, round(float64(s.Contribution)), round(s.Share)})
	}
	return list
}

// keyOf returns the key under which a reading stands in a section.
func keyOf(reading, section string, r job.Reading) string {
	from, to, radius, own := "keyway", "dowel", "dowel_radius_mm", r.DowelRadiusMM
	if section == "keyway" {
		from, to, radius, own = "throw", "keyway", "throw_radius_mm", r.ThrowRadiusMM
	}
	degrees := ""
	if r.Method == "degree_wheel" {
		degrees = "_deg"
	}
	switch reading {
	case part.ReadAngle:
		return "angle_deg"
	case part.ReadChord:
		return "chord_mm"
	case part.ReadArc:
		return "arc_mm"
	case part.ReadRadius1:
		if !own.Given {
			return "keyway_radius_mm"
		}
		return radius
	case part.ReadRadius2:
		return "keyway_radius_mm"
	case part.ReadRim:
		return "rim_radius_mm"
	case part.ReadPin:
		return "pin_mm"
	case part.ReadKey:
		return "key_mm"
	case part.ReadFrom:
		return from + degrees
	case part.ReadTo:
		return to + degrees
	}
	return reading // "centre", "scatter"
}

// Which reading to take better, by the key of the largest source.
var betterTexts = map[string]phrase.Text{
	"angle_deg":        "{{.Feature}}: {{.Share}} % of the uncertainty is the degree wheel's own: a larger or finer one would better it, reading it more often would not.",
	"keyway_deg":       "{{.Feature}}: {{.Share}} % of the uncertainty comes from the degree wheel's reading at the keyway: better that first.",
	"dowel_deg":        "{{.Feature}}: {{.Share}} % of the uncertainty comes from the degree wheel's reading at the dowel: better that first.",
	"throw_deg":        "{{.Feature}}: {{.Share}} % of the uncertainty comes from the degree wheel's reading at the No. 1 throw: better that first.",
	"chord_mm":         "{{.Feature}}: {{.Share}} % of the uncertainty comes from the distance across: better that first.",
	"arc_mm":           "{{.Feature}}: {{.Share}} % of the uncertainty comes from the length along the rim: better that first.",
	"dowel_radius_mm":  "{{.Feature}}: {{.Share}} % of the uncertainty comes from the radius of the dowel: better that first.",
	"throw_radius_mm":  "{{.Feature}}: {{.Share}} % of the uncertainty comes from the radius of the throw: better that first.",
	"keyway_radius_mm": "{{.Feature}}: {{.Share}} % of the uncertainty comes from the radius of the keyway: better that first.",
	"rim_radius_mm":    "{{.Feature}}: {{.Share}} % of the uncertainty comes from the radius of the rim: better that first.",
	"pin_mm":           "{{.Feature}}: {{.Share}} % of the uncertainty comes from the diameter of the pin: better that first.",
	"key_mm":           "{{.Feature}}: {{.Share}} % of the uncertainty comes from the width of the key: better that first.",
	"centre":           "{{.Feature}}: {{.Share}} % of the uncertainty comes from the coordinates of the centre: better those first.",
	"keyway":           "{{.Feature}}: {{.Share}} % of the uncertainty comes from the coordinates of the keyway: better those first.",
	"dowel":            "{{.Feature}}: {{.Share}} % of the uncertainty comes from the coordinates of the dowel: better those first.",
	"throw":            "{{.Feature}}: {{.Share}} % of the uncertainty comes from the coordinates of the throw: better those first.",
	part.ReadScatter:   "{{.Feature}}: {{.Share}} % of the uncertainty is the scatter of the readings: read it more often.",
}

const noteDrawn phrase.Text = "{{.Feature}}: the formula is far from straight at this reading, so its interval comes from {{.Draws}} random draws (Monte Carlo)."

// featureNames are what a note is about, by section of the job.
var featureNames = map[string]phrase.Text{"dowel": "Dowel", "keyway": "Keyway"}

// budgetNotes say, for each feature, how its interval was found where not the
// usual way, and which reading to take better: the largest source, where there
// are others.
func budgetNotes(p Part) []phrase.Sentence {
	var list []phrase.Sentence
	for _, f := range []struct {
		section string
		angle   *FeatureAngle
	}{{"dowel", p.Dowel}, {"keyway", p.Keyway}} {
		if f.angle == nil || f.angle.MeasuredDeg == nil {
			continue
		}
		if f.angle.By == byDraws {
			list = append(list, phrase.Sentence{Text: noteDrawn, Data: map[string]any{"Feature": featureNames[f.section], "Draws": part.Draws}})
		}
		if len(f.angle.Budget) < 2 {
			continue
		}
		most := f.angle.Budget[0]
		if text, ok := betterTexts[most.Reading]; ok {
			list = append(list, phrase.Sentence{Text: text, Data: map[string]any{"Feature": featureNames[f.section], "Share": phrase.Num{Value: 100 * most.Share}}})
		}
	}
	return list
}
