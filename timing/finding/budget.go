package finding

import (
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
		key, unit := r.Source(s.Reading, section)
		list = append(list, Source{key, round(s.U), unit, round(float64(s.Contribution)), round(s.Share)})
	}
	return list
}

const betterScatter phrase.Text = "{{.Feature}}: {{.Share}} % of the uncertainty is the scatter of the readings: take more readings."

// better says which reading to take better, by the key of the largest source.
func better(key string) (phrase.Text, bool) {
	if key == part.ReadScatter {
		return betterScatter, true
	}
	v, ok := job.ValueOf(key)
	return v.Better, ok && v.Better != ""
}

const noteDrawn phrase.Text = "{{.Feature}}: at this reading the formula is too curved for a linear estimate, so its interval comes from {{.Draws}} random draws (Monte Carlo)."

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
		if text, ok := better(most.Reading); ok {
			list = append(list, phrase.Sentence{Text: text, Data: map[string]any{"Feature": featureNames[f.section], "Share": phrase.Num{Value: 100 * most.Share}}})
		}
	}
	return list
}
