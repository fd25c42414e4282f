package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// PartAngles is what was measured on one of several parts: degrees, positive in the
// direction of rotation, with their standard uncertainties; nil where not measured.
type PartAngles struct {
	Name       string   `json:"name"`
	What       string   `json:"what,omitempty"`
	Use        string   `json:"use,omitempty"`
	Dated      string   `json:"dated,omitempty"`
	DowelDeg   *float64 `json:"dowel_deg"` // from the keyway
	DowelUDeg  *float64 `json:"dowel_u_deg"`
	KeywayDeg  *float64 `json:"keyway_deg"` // from the No. 1 throw
	KeywayUDeg *float64 `json:"keyway_u_deg"`
}

// PartsOf measures every part of the job. What cannot be measured is left out: where it
// is compared, that is told.
func PartsOf(j job.Job) []PartAngles {
	var list []PartAngles
	for i := range j.Parts {
		p := &j.Parts[i]
		a := PartAngles{Name: p.Name, What: p.What, Use: p.Use, Dated: p.Dated}
		for _, f := range []struct {
			section string
			at, u   **float64
		}{{"dowel", &a.DowelDeg, &a.DowelUDeg}, {"keyway", &a.KeywayDeg, &a.KeywayUDeg}} {
			r := p.Reading(f.section)
			if r == nil {
				continue
			}
			exact := p.What == "drawing" && p.Use == job.UseDatum
			result, err := r.As(f.section, exact).Measure(ViewOf(j, endOf(job.Feature{SeenFrom: p.SeenFrom}, *r)))
			if err == nil && result.U <= maxU {
				*f.at, *f.u = ptr(short(result.Value)), ptr(result.U)
			}
		}
		list = append(list, a)
	}
	return list
}

const seenAngle phrase.Text = "{{.Size}}° {{.Sense}}"

// SeenAngle says an angle on the part without a sign: how large it is, and to which side
// it leads as it is seen from an end.
func SeenAngle(j job.Job, from string, deg float64) phrase.Sentence {
	by, side := ViewOf(j, from).Seen(timing.Deg(deg))
	return phrase.Sentence{Text: seenAngle, Data: map[string]any{"Size": phrase.Num{Value: float64(by), Decimals: 1}, "Sense": side.Text()}}
}
