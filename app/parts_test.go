package app

import (
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/job"
)

const partsJob = `format = 2
[engine]
strokes = 4
firing_order = [1, 3, 4, 2]
[injection]
start_btdc_deg = 10
[[part]]
name = "Old"
use = "datum"
dowel = { angle_deg = 12, side = "clockwise", u_deg = 0.1 }
[[part]]
name = "New"
use = "engine"
dowel = { angle_deg = 13, side = "anticlockwise", u_deg = 0.3 }
`

// The window shows the part in the engine against the datum; what is typed as measured is
// that part's reading, what as drawing or old part the datum's, and their faults stand
// beside those fields.
func TestPartsInTheWindow(t *testing.T) {
	u := on(t, partsJob)
	if got := u.Known().Dowel; got == nil || got.Measured.AngleDeg.Value != 13 || got.Drawing.AngleDeg.Value != 12 {
		t.Fatalf("compared is %+v", got)
	}
	fill(t, u, "dowel.measured.angle_deg", "14")
	fill(t, u, "dowel.drawing.angle_deg", "15")
	j := u.Session.Job()
	if j.Dowel != nil || j.Parts[1].Dowel.AngleDeg != job.Num(14) || j.Parts[0].Dowel.AngleDeg != job.Num(15) {
		t.Errorf("the job holds %+v", j.Parts)
	}
	fill(t, u, "dowel.measured.angle_deg", "190")
	if words, key := u.Wrong(); key != "dowel.measured.angle_deg" || !strings.Contains(words, "190") {
		t.Errorf("wrong is %q, %q", key, words)
	}
}
