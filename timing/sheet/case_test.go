package sheet

import (
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/job"
)

// What the job says of the case stands on both sheets; what it does not say is a line to
// fill in only where that is asked for.
func TestCase(t *testing.T) {
	doc, err := job.Read("a.toml", []byte(`format = 2
[engine]
strokes = 4
firing_order = [1, 3, 4, 2]
[dowel]
drawing = { angle_deg = 12, side = "clockwise" }
measured = { angle_deg = 12, side = "anticlockwise", u_deg = 0.3 }
[case]
customer = "Quay & Sons"
hours = 4120
supplier = "Millrace Parts"
part_number = "K-118"
measured_on = "2026-03-31"
`))
	if err != nil {
		t.Fatal(err)
	}
	in := Input{Job: doc.Job(), Angles: doc.Job()}
	claim, err := ClaimSheet(in)
	if err != nil {
		t.Fatal(err)
	}
	for name, d := range map[string]Document{"claim": claim, "job sheet": JobSheet(in)} {
		text := d.String()
		for _, want := range []string{"Customer: Quay & Sons", "Hours run: 4120 h", "Supplier: Millrace Parts", "Part number: K-118", "Measured on: 31 Mar 2026"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q in\n%s", name, want, text)
			}
		}
		for _, no := range []string{"Machine", "Order number", "Delivered on", "Sent by"} {
			if strings.Contains(text, no) {
				t.Errorf("%s: %q, which nobody gave or asked for", name, no)
			}
		}
	}
	in.Fill = true
	if claim, err = ClaimSheet(in); err != nil {
		t.Fatal(err)
	}
	if text := claim.String(); !strings.Contains(text, "Order number") || !strings.Contains(text, "Delivered on") || strings.Count(text, "Part number") != 1 {
		t.Errorf("with lines to fill in:\n%s", text)
	}
	in.Job.Case = nil
	in.Fill = false
	if text := JobSheet(in).String(); strings.Contains(text, "The case") {
		t.Errorf("an empty case:\n%s", text)
	}
}
