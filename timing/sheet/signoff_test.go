package sheet

import (
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/internal/sample"
)

// The sign-off sets before beside after with the injection point, on every paper, and says
// what was not checked; a job without both has none.
func TestSignOff(t *testing.T) {
	in := on(t, sample.File(t, "old-and-new"))
	d, err := SignOff(in)
	if err != nil {
		t.Fatal(err)
	}
	got := d.String()
	for _, want := range []string{
		"these readings cannot tell it from 0",
		"| part | Old crankshaft | New crankshaft, as delivered | New crankshaft, dowel hole drilled again |", "| measured on | 28 Mar 2026 | 29 Mar 2026 | 2 Apr 2026 |",
		"| keyway to dowel | 14° clockwise ± 0.3° | 14.1° anticlockwise ± ",
		"| wheel error | 0° | 28.1° ± 0.4° behind |",
		"| start of injection, cylinder 1 | 10° BTDC | 18.1° ATDC | 10° BTDC |",
		"The keyway from the No. 1 throw after the repair", "Name, place, date and signature: ____",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the sheet lacks %q:\n%s", want, got)
		}
	}
	for _, p := range Papers {
		checkPages(t, d, p)
	}
	if _, err := SignOff(on(t, sample.Demo(t))); err == nil || !strings.Contains(err.Error(), `use = "before"`) {
		t.Errorf("%v", err)
	}
}
