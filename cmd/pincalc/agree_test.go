package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/sheet"
)

// wholeJobs are forty engines with readings, recordings and evidence in every mixture:
// nothing measured, the dowel, the keyway, both, right and wrong, with and without an
// uncertainty; stated, recorded, contradicted.
func wholeJobs(t *testing.T) []string {
	t.Helper()
	rng := rand.New(rand.NewPCG(40, 14))
	pick := func(of ...string) string { return of[rng.IntN(len(of))] }
	var list []string
	for i := range 40 {
		drawn := 5 + 30*rng.Float64()
		var b strings.Builder
		fmt.Fprintf(&b, "title = \"engine %d\"\n[engine]\nstrokes = 4\nfiring_order = %s\nbore_mm = 100.0\nstroke_mm = 115.0\nrod_mm = 190.0\ncompression_ratio = %.1f\n",
			i, pick("[1, 3, 4, 2]", "[1, 5, 3, 6, 2, 4]", "[1, 2, 3]", "[1]"), 15+5*rng.Float64())
		fmt.Fprintf(&b, "[injection]\nstart_btdc_deg = %.1f\ncranking_rpm = %d.0\nair_c = %.0f.0\n", 2+12*rng.Float64(), 140+rng.IntN(120), -10+30*rng.Float64())
		b.WriteString("[crank_wheel]\npositions = 60\nmissing = [59, 60]\nfirst_tooth_btdc_deg = 84.0\n[cam_wheel]\nteeth_cam_deg = [0, 60, 120, 180, 240, 300, 330]\nfirst_tooth_btdc_deg = 50.0\n[gears]\ncrank_teeth = 36\ncam_teeth = 72\n")
		fmt.Fprintf(&b, "[dowel]\ndrawing = { angle_deg = %.1f, side = \"clockwise\", u_deg = 0.1 }\n", drawn)
		if i%4 != 0 {
			off := [...]float64{0, 0.3, -2 * drawn, 12}[rng.IntN(4)]
			at, side := drawn+off, "clockwise"
			if at < 0 {
				at, side = -at, "anticlockwise"
			}
			fmt.Fprintf(&b, "measured = { angle_deg = %.2f, side = %q%s }\n", at, side, pick("", ", u_deg = 0.2", ", u_deg = 4.0"))
		}
		if i%3 == 0 {
			fmt.Fprintf(&b, "[keyway]\ndrawing = { angle_deg = 90.0, side = \"clockwise\" }\nmeasured = { angle_deg = %.1f, side = \"clockwise\", u_deg = 0.3 }\n", 90+[...]float64{0, 0.2, 5}[rng.IntN(3)])
		}
		switch i % 5 {
		case 1:
			fmt.Fprintf(&b, "[[evidence]]\nkind = \"correlation_error_deg\"\nvalue = %.1f\n[[evidence]]\nkind = \"tdc_offset_deg\"\nvalue = %.1f\n", -2*drawn, -2*drawn)
		case 2:
			fmt.Fprintf(&b, "[[evidence]]\nkind = \"starts\"\nvalue = false\n[[evidence]]\nkind = \"correlation_error_deg\"\nvalue = %.1f\n", -2*drawn)
		case 3:
			fmt.Fprintf(&b, "[[evidence]]\nkind = \"dowel_error_deg\"\nvalue = %.1f\n[[evidence]]\nkind = \"cranking_rpm\"\nvalue = 90.0\n", [...]float64{0, -2 * drawn}[rng.IntN(2)])
		}
		list = append(list, b.String())
	}
	return list
}

// The same numbers and the same sentences stand in the head, in what the pages' figures
// are described by, in the job sheet and in the JSON of forty whole jobs; and no page
// says that it should light above a cause that is sure enough to act on and keeps it
// from lighting.
func TestOneAnswerEverywhere(t *testing.T) {
	say := chart.Say(nil)
	bases := map[string]int{}
	for n, text := range wholeJobs(t) {
		d, err := job.Read("job.toml", []byte(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		j := d.Job()
		shift, err := finding.ShiftOf(j)
		if err != nil {
			t.Fatalf("%d: %v\n%s", n, err, text)
		}
		bases[shift.Basis]++
		causes, err := finding.CausesOf(j, finding.CauseOptions{})
		if err != nil {
			t.Fatal(err)
		}
		light := fromJSON(t, text, "light", "--draws", "10000")
		paper := sheet.JobSheet(sheet.Input{Job: j, Angles: j, Date: time.Date(2026, 3, 31, 0, 0, 0, 0, time.UTC)}).String()
		head := shift.Says.String()

		in, err := chart.Cycle(j, chart.CycleOptions{Say: say})
		if err != nil || !strings.Contains(in.Desc, head) {
			t.Errorf("%d: the cycle is described otherwise than %q: %q", n, head, in.Desc)
		}
		wheel, err := chart.Wheel(j, chart.WheelOptions{Say: say})
		if err != nil || !strings.Contains(wheel.Desc, head) {
			t.Errorf("%d: the wheel is described otherwise: %q", n, wheel.Desc)
		}
		for name, said := range map[string]string{"shift": head, "cause": causes.Says.String(), "light": light["finding"].(string)} {
			if !strings.Contains(paper, said) {
				t.Errorf("%d: the sheet does not say, as %s does: %s", n, name, said)
			}
		}
		got := fromJSON(t, text, "shift")
		if got["finding"] != head || got["wheel_error_deg"] != shift.WheelErrorDeg || got["basis"] != shift.Basis {
			t.Errorf("%d: shift --json says %v, the head %q", n, got["finding"], head)
		}
		oneProbability(t, n, paper, shift, causes, fromJSON(t, text, "cause"))
		if got := light["wheel_error_deg"]; got != shift.WheelErrorDeg {
			t.Errorf("%d: light goes by a wheel error of %v, the head by %g", n, got, shift.WheelErrorDeg)
		}
		name, p := causes.Ranking.Leading()
		wheel0, _, _, ok := causes.ErrorsIf(name)
		if ok && p >= causes.SureFrom && (wheel0 < -15 || wheel0 > 25) && strings.HasSuffix(light["finding"].(string), "ignition is likely.") && !strings.Contains(light["finding"].(string), "By the dowel alone") {
			t.Errorf("%d: %q above %s", n, light["finding"], causes.Says)
		}
	}
	for _, basis := range []string{"measured", "read", "stated", "assumed"} {
		if bases[basis] == 0 {
			t.Errorf("no job's wheel error is %s: %v", basis, bases)
		}
	}
}

// oneProbability holds the numbers of the head's note, of the causes, of their JSON and
// of the sheet together.
func oneProbability(t *testing.T, n int, paper string, shift finding.Shift, causes finding.Causes, got map[string]any) {
	t.Helper()
	list := got["causes"].([]any)
	sum := 0.0
	for i, c := range causes.Causes {
		of := list[i].(map[string]any)
		if of["cause"] != c.Cause || of["probability"] != c.Probability || of["probability_alone_or_with_another"] != c.InAll {
			t.Errorf("%d: cause --json has %v, the causes %s %g %g", n, of, c.Cause, c.Probability, c.InAll)
		}
		sum += c.Probability
	}
	if sum < 1-1e-6 || sum > 1+1e-6 {
		t.Errorf("%d: the causes add up to %g", n, sum)
	}
	name, all := causes.Ranking.Leading()
	pair := causes.Ranking.Pair()
	faults := cause.Faults()
	title := faults[slices.IndexFunc(faults, func(f cause.Fault) bool { return f.Name == name })].Title
	for _, note := range shift.Notes {
		if _, two := note.Data["Other"]; two && (pair == nil || fmt.Sprint(note.Data["P"]) != fmt.Sprint(finding.Percent(pair.Probability))) {
			t.Errorf("%d: the head says %s, the causes %+v", n, note, pair)
		}
		p, ok := note.Data["All"]
		if ok && pair != nil {
			t.Errorf("%d: the head names one fault, %s, the causes two: %+v", n, note, pair)
		}
		if !ok {
			continue
		}
		if fmt.Sprint(p) != fmt.Sprint(finding.Percent(all)) || fmt.Sprint(note.Data["Cause"]) != string(title) {
			t.Errorf("%d: the head has %v for %v, the causes %g for %s", n, p, note.Data["Cause"], all, name)
		}
		if !strings.Contains(paper, note.String()) && !strings.Contains(paper, fmt.Sprintf("%v %%, alone or with another", p)) {
			t.Errorf("%d: the sheet has another number than %s", n, note)
		}
	}
}

// fromJSON is what a command prints of a job with --json.
func fromJSON(t *testing.T, text string, args ...string) map[string]any {
	t.Helper()
	var out, errOut bytes.Buffer
	args = append([]string{args[0], "-", "--json"}, args[1:]...)
	if code := run(args, streams{in: strings.NewReader(text), out: &out, errOut: &errOut}); code != 0 {
		t.Fatalf("%v: %d %s", args, code, &errOut)
	}
	of := map[string]any{}
	if err := json.Unmarshal(out.Bytes(), &of); err != nil {
		t.Fatal(err)
	}
	return of
}
