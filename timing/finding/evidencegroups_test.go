package finding

import (
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/internal/sample"
)

func TestEveryKindHasOneGroup(t *testing.T) {
	times := map[string]int{}
	for _, g := range EvidenceGroups() {
		if g.Title == "" {
			t.Errorf("%v have no title", g.Kinds)
		}
		for _, k := range g.Kinds {
			times[k]++
		}
	}
	for _, k := range cause.Kinds() {
		if times[k.Name] != 1 {
			t.Errorf("%s is in %d groups", k.Name, times[k.Name])
		}
		delete(times, k.Name)
	}
	for k := range times {
		t.Errorf("there is no kind %q", k)
	}
}

// A number that can be below 0 has words for both ways, and no other has.
func TestWaysStandForSigns(t *testing.T) {
	for _, k := range cause.Kinds() {
		ways, ok := Ways(k.Name)
		if signed := k.Value == cause.Number && k.Min < 0; ok != signed {
			t.Errorf("%s: ways %v, %v", k.Name, ways, ok)
		}
		if ok && (ways[0] == ways[1] || ways[0] == "" || ways[1] == "") {
			t.Errorf("%s: ways %q", k.Name, ways)
		}
	}
}

func TestClueSays(t *testing.T) {
	u := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		clue Clue
		want string
	}{
		{Clue{Kind: "starts", Value: true}, "yes"},
		{Clue{Kind: "smoke", Value: "white"}, "white"},
		{Clue{Kind: "correlation_error_deg", Value: -25.3, U: u(1)}, "25.3° cam edges early ± 1°"},
		{Clue{Kind: "correlation_error_deg", Value: 25.3}, "25.3° cam edges late"},
		{Clue{Kind: "dowel_error_deg", Value: -28.0, U: u(0.287)}, "28° behind ± 0.3°"},
		{Clue{Kind: "dowel_error_deg", Value: 0.0, U: u(0.02)}, "0° ± 0.02°"},
		{Clue{Kind: "tdc_offset_deg", Value: 3.0}, "3° after TDC"},
		{Clue{Kind: "valve_timing_error_deg", Value: -10.0}, "10° retarded"},
		{Clue{Kind: "cam_gear_marks_teeth", Value: -1.0}, "1 tooth, camshaft behind"},
		{Clue{Kind: "cam_gear_marks_teeth", Value: 2.0}, "2 teeth, camshaft ahead"},
		{Clue{Kind: "crank_gear_marks_teeth", Value: 0.0}, "right"},
		{Clue{Kind: "compression_bar", Value: 27.0, U: u(1)}, "27 bar ± 1 bar"},
		{Clue{Kind: "cranking_rpm", Value: 190.0}, "190 rpm"},
	} {
		if got := c.clue.Says().String(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.clue, got, c.want)
		}
	}
}

func TestFoundSays(t *testing.T) {
	for _, c := range []struct {
		found cause.Found
		want  string
	}{
		{cause.Found{Kind: "smoke", Word: "white"}, "exhaust smoke while cranking: white"},
		{cause.Found{Kind: "dowel_error_deg", From: -30, To: -26}, "dowel from the keyway, measured − drawing: 26 to 30° behind"},
		{cause.Found{Kind: "dowel_error_deg", From: 26, To: 30}, "dowel from the keyway, measured − drawing: 26 to 30° ahead"},
		{cause.Found{Kind: "dowel_error_deg", From: -2, To: 3}, "dowel from the keyway, measured − drawing: 2° behind to 3° ahead"},
		{cause.Found{Kind: "dowel_error_deg", From: -160, To: 160, Other: true}, "dowel from the keyway, measured − drawing: anything else"},
		{cause.Found{Kind: "cam_gear_marks_teeth", From: 0.5, To: 1.5, Likely: 1}, "camshaft gear's timing mark, teeth out: 1 tooth, camshaft ahead"},
		{cause.Found{Kind: "compression_bar", From: 20, To: 30}, "measured compression: 20 to 30 bar"},
		{cause.Found{Kind: "no such kind"}, ""},
	} {
		if got := joined(foundSays([]cause.Found{c.found})); got != c.want {
			t.Errorf("%+v: %q, want %q", c.found, got, c.want)
		}
	}
}

// What the job holds elsewhere is evidence, and what is typed of the same kind
// counts before it.
func TestImplied(t *testing.T) {
	const measured = "[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\ncompression_gauge_bar = 26\n[dowel]\ndrawing = { angle_deg = 14, side = \"clockwise\" }\n" +
		"measured = { angle_deg = 14, side = \"anticlockwise\", u_deg = 0.3 }\n[gears]\ncrank_teeth = 36\ncam_teeth = 72\ncam_teeth_out = -1\n"
	j := sample.Read(t, measured+"[[evidence]]\nkind = \"dowel_error_deg\"\nvalue = -27\n")
	list, err := Implied(j)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range list {
		got = append(got, c.Key+": "+c.Says().String())
	}
	want := "dowel.measured: 28° behind ± 0.3°|engine.compression_gauge_bar: 26 bar ± 0.7 bar|gears.cam_teeth_out: 1 tooth, camshaft behind"
	if strings.Join(got, "|") != want {
		t.Errorf("implied is %q, want %q", strings.Join(got, "|"), want)
	}
	if len(j.Evidence) != 1 {
		t.Error("asking has changed the job")
	}
}
