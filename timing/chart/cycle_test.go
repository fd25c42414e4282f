package chart

import (
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

// thin has nothing but an engine.
const thin = "[engine]\nstrokes = 4\nfiring_order = [2, 1, 3]\n"

func TestCycleOfTheDemo(t *testing.T) {
	t.Parallel()
	at := timing.Deg(430 + 720)
	in, err := Cycle(sample.Demo(t), CycleOptions{Cursor: &at, Selected: 3})
	if err != nil {
		t.Fatal(err)
	}
	var rows []int
	for _, r := range in.Rows {
		rows = append(rows, r.Cylinder)
		// The job's own numbers: 10 BTDC asked for, the dowel mirrored from 14 to −14.
		if r.Commanded == nil || *r.Commanded != 10 || r.Actual == nil || *r.Actual < -18.01 || *r.Actual > -17.99 {
			t.Errorf("cylinder %d: asked for %v, happens %v", r.Cylinder, r.Commanded, r.Actual)
		}
		if *r.Intake != (timing.Span{From: 346, To: 576}) || *r.Exhaust != (timing.Span{From: 132, To: 372}) {
			t.Errorf("cylinder %d: intake open %v, exhaust %v", r.Cylinder, *r.Intake, *r.Exhaust)
		}
		if r.Selected != (r.Cylinder == 3) {
			t.Errorf("cylinder %d selected: %v", r.Cylinder, r.Selected)
		}
	}
	if !slices.Equal(rows, []int{1, 5, 3, 6, 2, 4}) {
		t.Errorf("rows %v, want the firing order", rows)
	}
	if *in.Cursor != 430 || in.CursorLabel != "430°" {
		t.Errorf("cursor at %g, labelled %s", float64(*in.Cursor), in.CursorLabel)
	}
	// Cylinder 5 fires at 120, so it stands at 310; cylinder 6 at 70.
	if got := in.Rows[1].Readout; got != "exhaust, 310° ATDC" {
		t.Errorf("cylinder 5: %s", got)
	}
	if got := in.Rows[3].Readout; got != "power, 70° ATDC" {
		t.Errorf("cylinder 6: %s", got)
	}
	if got := in.Rows[1].Label; got.Full != "Cyl 5" || got.Short != "5" {
		t.Errorf("label %+v", got)
	}
	if !strings.HasSuffix(in.Desc, "28° later than commanded.") || !strings.Contains(in.Title, "Gravel barge Tern") {
		t.Errorf("%s: %s", in.Title, in.Desc)
	}
	if in.Commanded == "" || in.Actual == "" || in.IntakeOpen == "" || in.ExhaustOpen == "" {
		t.Error("the legend misses what is drawn")
	}
}

func TestCycleOfThinJobs(t *testing.T) {
	t.Parallel()
	in, err := Cycle(sample.Read(t, thin), CycleOptions{ByNumber: true})
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range in.Rows {
		if r.Cylinder != i+1 || r.Commanded != nil || r.Actual != nil || r.Intake != nil || r.Exhaust != nil || r.Readout != "" {
			t.Errorf("row %d: %+v", i+1, r)
		}
	}
	if in.Commanded != "" || in.Actual != "" || in.IntakeOpen != "" || in.ExhaustOpen != "" {
		t.Error("the legend names what is not drawn")
	}
	if in.Title != string(wordCycleUntitled) || in.Cursor != nil || in.CursorLabel != "" {
		t.Errorf("title %q, cursor %v", in.Title, in.Cursor)
	}
	if in.Desc != "One row a cylinder over 720 crank degrees: strokes, firing top dead centres and injections." {
		t.Errorf("%q", in.Desc)
	}
	// A start of injection, and a measurement with nothing to compare it with:
	// where injection lands cannot be said, so nothing is drawn.
	in, err = Cycle(sample.Read(t, thin+"[injection]\nstart_btdc_deg = 8\n[dowel]\nmeasured = { angle_deg = 3, side = \"clockwise\" }\n"), CycleOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if in.Rows[0].Commanded != nil || in.Rows[0].Actual != nil || in.Actual != "" {
		t.Error("an injection that cannot be known is drawn")
	}
	if _, err := Cycle(job.Job{}, CycleOptions{}); err == nil {
		t.Error("a job without an engine has a cycle")
	}
}

// The order is written from cylinder 1 on, wherever the job begins it.
func TestRowOrder(t *testing.T) {
	t.Parallel()
	e, err := finding.EngineOf(sample.Read(t, thin))
	if err != nil {
		t.Fatal(err)
	}
	if got := RowOrder(e, false); !slices.Equal(got, []int{1, 3, 2}) {
		t.Errorf("by firing %v", got)
	}
	if got := RowOrder(e, true); !slices.Equal(got, []int{1, 2, 3}) {
		t.Errorf("by number %v", got)
	}
}

func TestReadouts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		job  string
		at   timing.Deg
		want string
	}{
		{"[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n", 0, "power, TDC | exhaust, 180° ATDC | compression, 180° BTDC | intake, 360° ATDC"},
		{"[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n", -10.25, "compression, 10.2° BTDC | power, 169.8° ATDC | intake, 190.2° BTDC | exhaust, 349.8° ATDC"},
		{"[engine]\nstrokes = 2\nfiring_order = [1, 2]\n", 90, "power, 90° ATDC | compression, 90° BTDC"},
		{"[engine]\nstrokes = 2\nfiring_order = [1, 2]\n", 0.04, "power, 0.04° ATDC | compression, 179.96° BTDC"},
		{"[engine]\nstrokes = 4\nfiring_order = [1]\n", 179.9999, "power, 179.9999° ATDC"},
	} {
		p, err := finding.PhaseAt(sample.Read(t, c.job), c.at)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(Readouts(p, nil), " | "); got != c.want {
			t.Errorf("at %g: %s\nwant %s", float64(c.at), got, c.want)
		}
	}
}
