package chart

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

// partJobs are jobs that bring up every sentence of the part figure.
func partJobs(t *testing.T) []job.Job {
	t.Helper()
	const drawing, measured = `drawing = { angle_deg = 20, side = "clockwise" }` + "\n", `measured = { angle_deg = %, side = "clockwise", u_deg = 0.3 }` + "\n"
	at := func(angle string) string { return strings.ReplaceAll(measured, "%", angle) }
	var jobs []job.Job
	for _, s := range []string{
		"[dowel]\n" + drawing, "[dowel]\n" + at("20"), "[dowel]\n" + drawing + at("20.01"), "[dowel]\n" + drawing + at("30"), "[dowel]\n" + drawing + at("3"),
		"[keyway]\n" + drawing, "[keyway]\n" + at("20"), "[keyway]\n" + drawing + at("20"), "[keyway]\n" + drawing + at("30"), "[keyway]\n" + drawing + at("3"),
	} {
		jobs = append(jobs, sample.Read(t, thin+s))
	}
	titled := jobs[5]
	titled.Title = "Keyway only"
	return append(jobs, titled, sample.Demo(t), sample.File(t, "keyway-and-dowel"))
}

// sayParts makes every part figure speak, for the test of the translations.
func sayParts(t *testing.T, say Say) {
	t.Helper()
	for _, j := range partJobs(t) {
		old, err := finding.PartOf(j)
		if err != nil {
			t.Fatal(err)
		}
		for _, from := range []timing.End{timing.Nose, timing.Flywheel} {
			for _, feature := range []figure.PartFeature{figure.DowelFromKeyway, figure.KeywayFromThrow} {
				in, err := Part(j, PartOptions{From: from, Feature: feature, Old: &old, Overlay: true, Say: say})
				if err != nil {
					t.Fatal(err)
				}
				lines := append(slices.Clone(in.Caption), in.Title, in.Desc, in.Keyway, in.Throw, in.Parts[0].Name, in.Parts[1].Name, in.Parts[0].MeasuredTag.Word)
				for _, line := range lines {
					if !strings.HasPrefix(line, "~") {
						t.Fatalf("%q speaks English only", line)
					}
				}
			}
		}
	}
	say.interval(10, [2]timing.Deg{8, 15})
}

func TestPartOfTheDemo(t *testing.T) {
	t.Parallel()
	in, err := Part(sample.Demo(t), PartOptions{From: timing.Flywheel})
	if err != nil {
		t.Fatal(err)
	}
	p := in.Parts[0]
	if len(in.Parts) != 1 || in.Feature != figure.DowelFromKeyway || in.View != (timing.View{From: timing.Flywheel}) {
		t.Errorf("%d parts, feature %d, view %+v", len(in.Parts), in.Feature, in.View)
	}
	// The demo: 14 degrees on the drawing, mirrored to -14; the keyway at 90.
	if *p.Drawing != 14 || math.Abs(float64(*p.Measured+14)) > 0.01 || *p.KeywayAt != 90 {
		t.Errorf("drawing %v, measured %v, keyway at %v", *p.Drawing, *p.Measured, *p.KeywayAt)
	}
	if p.DrawingTag.Value != "14°" || p.MirroredTag.Value != "−14°" || p.ErrorTag.Value != "−28°" || !strings.HasPrefix(p.MeasuredTag.Value, "−14° ± 0.") {
		t.Errorf("labels %v, %v, %v, %v", p.DrawingTag, p.MirroredTag, p.ErrorTag, p.MeasuredTag)
	}
	caption := strings.Join(in.Caption, " ")
	for _, want := range []string{"Seen from the flywheel, where the crankshaft turns anticlockwise.", "Angles count from the keyway",
		"The measured dowel is 28° from the drawn one, on the other side of the keyway", string(wordBand)} {
		if !strings.Contains(caption, want) {
			t.Errorf("no %q in %q", want, caption)
		}
	}
	if strings.Contains(caption, string(wordKeywayOnTop)) {
		t.Errorf("the keyway's angle is known: %q", caption)
	}
	if !strings.Contains(in.Desc, "Every injection starts 18° after TDC") {
		t.Error(in.Desc)
	}
}

func TestPartOfThinJobs(t *testing.T) {
	t.Parallel()
	jobs := partJobs(t)
	for i, want := range []string{
		string(partWords[0].unmeasured), string(partWords[0].undrawn), string(partWords[0].right), "is 10° ahead of the drawn one", "is 17° behind the drawn one",
		string(partWords[1].unmeasured), string(partWords[1].undrawn), string(partWords[1].right), "is 10° ahead of the drawn one", "is 17° behind the drawn one",
	} {
		in, err := Part(jobs[i], PartOptions{})
		if err != nil {
			t.Fatal(err)
		}
		caption := strings.Join(in.Caption, " ")
		if !strings.Contains(caption, want) {
			t.Errorf("job %d: no %q in %q", i, want, caption)
		}
		dowel := i < 5
		if (in.Feature == figure.DowelFromKeyway) != dowel || strings.Contains(caption, string(wordKeywayOnTop)) != dowel {
			t.Errorf("job %d: feature %d, %q", i, in.Feature, caption)
		}
		if (in.Parts[0].Interval != nil) != strings.Contains(caption, string(wordBand)) {
			t.Errorf("job %d: interval %v, %q", i, in.Parts[0].Interval, caption)
		}
	}
	if _, err := Part(sample.Read(t, thin), PartOptions{}); err == nil {
		t.Error("a job without a dowel and a keyway has a part")
	}
}

func TestOldPartBesideTheNew(t *testing.T) {
	t.Parallel()
	old, err := finding.PartOf(sample.File(t, "keyway-and-dowel")) // dowel at 10, keyway at 63
	if err != nil {
		t.Fatal(err)
	}
	in, err := Part(sample.Demo(t), PartOptions{Old: &old})
	if err != nil {
		t.Fatal(err)
	}
	if len(in.Parts) != 2 || *in.Parts[1].Measured != 10 || in.Parts[0].Name != string(wordNewPart) || in.Parts[1].Name != string(wordOldPart) {
		t.Fatalf("parts %+v", in.Parts)
	}
	if in.Apart.Value != "−24°" { // -14 from 10
		t.Errorf("apart %v", in.Apart)
	}
	if in.Parts[0].MeasuredTag.Word != string(wordAsMeasured) {
		t.Errorf("side by side the names are above: %v", in.Parts[0].MeasuredTag)
	}
	in, err = Part(sample.Demo(t), PartOptions{Old: &old, Overlay: true})
	if err != nil || in.Parts[0].MeasuredTag.Word != string(wordNewPart) || in.Parts[1].MeasuredTag.Word != string(wordOldPart) {
		t.Errorf("laid over each other: %v, %v, %v", in.Parts[0].MeasuredTag, in.Parts[1].MeasuredTag, err)
	}
}

func TestIntervalInWords(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		value, lo, hi timing.Deg
		want          string
	}{
		{-12.6, -13.2, -12, "−12.6° ± 0.6°"},
		{12.503, 12.483, 12.523, "12.5° ± 0.02°"},
		{179.5, 178.5, 180.5, "179.5° ± 1°"},
		{10, 8, 15, "10° (8° to 15°)"},
		{5, 5, 5, "5° ± 0°"},
	} {
		if got := Say(nil).interval(c.value, [2]timing.Deg{c.lo, c.hi}); got != c.want {
			t.Errorf("%v in %v to %v: %s, want %s", c.value, c.lo, c.hi, got, c.want)
		}
	}
}
