package finding

import (
	"fmt"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/internal/sample"
)

// evidenceOf writes [[evidence]] of kinds and values.
func evidenceOf(kv ...string) string {
	var b strings.Builder
	for i := 0; i+1 < len(kv); i += 2 {
		fmt.Fprintf(&b, "[[evidence]]\nkind = %q\nvalue = %s\n", kv[i], kv[i+1])
	}
	return b.String()
}

const drawnAt14 = "\n[dowel]\ndrawing = { angle_deg = 14, side = \"clockwise\", u_deg = 0.1 }\n"

// What a recording shows and what is stated moves the head as it moves the causes.
func TestEvidenceMovesTheHead(t *testing.T) {
	const right = "measured = { angle_deg = 14, side = \"clockwise\", u_deg = 0.2 }\n"
	for _, c := range []struct {
		name, job    string
		basis, doubt string
		wheel        float64
		says         string
	}{
		{"nothing seen", drawnAt14, "assumed", "", 0, "If the sensor wheel is as drawn, every injection starts as commanded"},
		{"the dowel's error stated", drawnAt14 + evidenceOf("dowel_error_deg", "-28.0"), "stated", "", -28, "Every injection starts 18° after TDC"},
		{"the dowel stated right", drawnAt14 + evidenceOf("dowel_error_deg", "0.0"), "stated", "", 0, "Every injection starts as commanded, ± 1°"},
		{"the keyway's error stated, no dowel", drawnAt14 + evidenceOf("keyway_error_deg", "4.0"), "assumed", "", 4, "If the dowel was set out from that keyway, every injection starts 14° before TDC"},
		{"a recording with both", drawnAt14 + evidenceOf("correlation_error_deg", "-28.0", "tdc_offset_deg", "-28.0"), "read", "", -28, "Every injection starts 18° after TDC"},
		{"a recording that finds nothing", drawnAt14 + evidenceOf("correlation_error_deg", "0.0", "tdc_offset_deg", "0.0"), "read", "", 0, "Every injection starts as commanded"},
		{"a correlation alone leaves it open", drawnAt14 + evidenceOf("correlation_error_deg", "-40.0"), "read", "branching", -40, "Most likely, "},
		{"the dowel right, but the recording speaks against it", drawnAt14 + right + evidenceOf("correlation_error_deg", "-40.0", "tdc_offset_deg", "-40.0"), "measured", "disputed", 0, "Not certain: by the dowel alone injection starts 10° before TDC"},
		{"seen on the other side", drawnAt14 + evidenceOf("dowel_side", `"other side"`, "correlation_error_deg", "-28.0"), "read", "", -28, "Every injection starts 18° after TDC"},
		{"an engine that does not start proves no angle", drawnAt14 + evidenceOf("starts", "false"), "assumed", "", 0, "If the sensor wheel is as drawn"},
	} {
		s, err := ShiftOf(sample.Read(t, four+c.job))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if s.Basis != c.basis || s.Doubt != c.doubt || !near(s.WheelErrorDeg, c.wheel, 0.6) || !strings.HasPrefix(s.Says.String(), c.says) {
			t.Errorf("%s: %s %s %g %v: %s", c.name, s.Basis, s.Doubt, s.WheelErrorDeg, s.Probability, s.Says)
		}
		if told := s.WheelErrorUDeg != nil; told != (c.basis != "assumed" && c.doubt != "branching") {
			t.Errorf("%s: u %v", c.name, s.WheelErrorUDeg)
		}
		if s.Assumed != (c.basis == "assumed") {
			t.Errorf("%s: assumed %v", c.name, s.Assumed)
		}
		for _, step := range s.Steps {
			if strings.Contains(step.String(), "{{") {
				t.Errorf("%s: %s", c.name, step)
			}
		}
	}
}
