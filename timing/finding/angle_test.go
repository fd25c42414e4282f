package finding

import "testing"

func TestParseAngle(t *testing.T) {
	for text, want := range map[string]float64{"38 btdc": -38, "38° BTDC": -38, "12,5 n. OT": 12.5, "38 v. OT": -38, "4 atdc": 4, "7 a. PMS": -7, "−3": -3, "10°": 10, "0 btdc": 0} {
		if got, err := ParseAngle(text); err != nil || got != want {
			t.Errorf("%q is %g, %v; want %g", text, got, err, want)
		}
	}
	for _, text := range []string{"", "btdc", "-3 btdc", "38 bdc", "x"} {
		if got, err := ParseAngle(text); err == nil {
			t.Errorf("%q is %g", text, got)
		}
	}
}
