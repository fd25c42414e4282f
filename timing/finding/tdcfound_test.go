package finding

import (
	"testing"

	"pinphase.org/pinphase/timing/internal/sample"
)

const foundTDC = "format = 2\n" + four + `
[[tdc]]
method = "stop"
before_deg = [322.0, 322.4]
after_deg = [44.0, 44.2]
datum = "damper mark"
u_deg = 0.1
`

// The middle of two readings is true TDC (common practice; the arithmetic is counted
// out here: the means are 322.2 and 44.1, which is 37.8 before and 44.1 after, and the
// middle 3.15), and with the wheel set to 0 at the damper's mark that is evidence.
func TestFoundTDC(t *testing.T) {
	j := sample.Read(t, foundTDC)
	list, err := TDCsOf(j)
	if err != nil || len(list) != 1 || !near(float64(list[0].AtDeg.Value), 3.15, 1e-9) || !list[0].Mark {
		t.Fatalf("%+v, %v", list, err)
	}
	c, err := CausesOf(j, CauseOptions{})
	if err != nil || len(c.Evidence) != 1 || c.Evidence[0].Key != "tdc[1]" || c.Evidence[0].Kind != "damper_mark_error_deg" || c.Evidence[0].Value != 3.15 {
		t.Fatalf("%+v, %v", c.Evidence, err)
	}
	before := c.Ranking.Find("damper ring slipped")
	none := j.Clone()
	none.TDC = nil
	usual, err := CausesOf(none, CauseOptions{})
	if err != nil || usual.Ranking.Find("damper ring slipped").Probability >= before.Probability {
		t.Errorf("a mark 3 degrees off does not tell of a slipped ring: %v", err)
	}
	j.TDC[0].Counts = "down"
	if list, err = TDCsOf(j); err != nil || !near(float64(list[0].AtDeg.Value), -3.15, 1e-9) {
		t.Errorf("counting down: %+v, %v", list, err)
	}
	j.TDC[0].AfterDeg, j.TDC[0].AfterAgain = j.TDC[0].BeforeDeg, nil
	if _, err := TDCsOf(j); err == nil {
		t.Error("two readings that are alike have a middle")
	}
}
