package finding

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

func causesOf(t testing.TB, j job.Job) Causes {
	t.Helper()
	c, err := CausesOf(j, CauseOptions{})
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, k := range c.Causes {
		sum += k.Probability
	}
	if !near(sum, 1, 1e-9) {
		t.Errorf("the causes add up to %g", sum)
	}
	return c
}

const (
	causeSix  = "[engine]\nstrokes = 4\nfiring_order = [1, 5, 3, 6, 2, 4]\n"
	causeGear = "[gears]\ncrank_teeth = 36\nidler_teeth = [53]\ncam_teeth = 72\n"
)

func saw(kind, value string) string {
	return "[[evidence]]\nkind = \"" + kind + "\"\nvalue = " + value + "\n"
}

// The demo's dowel is on the wrong side: measured, that is evidence enough.
func TestCausesOfMeasuredParts(t *testing.T) {
	d, err := job.ReadFile("../../assets/jobs/demo.toml")
	if err != nil {
		t.Fatal(err)
	}
	c := causesOf(t, d.Job())
	if c.Causes[0].Cause != "dowel mirrored" || !slices.Equal(c.Causes[0].Explains, []string{"dowel_error_deg"}) {
		t.Errorf("%s, explains %v", c.Causes[0].Cause, c.Causes[0].Explains)
	}
	// 14 degrees on the wrong side is 28 behind.
	for kind, want := range map[string]any{"correlation_error_deg": -28.0, "tdc_offset_deg": -28.0, "valve_timing_error_deg": 0.0, "wheel_error_deg": -28.0, "cam_error_deg": 0.0, "starts": false} {
		if got := c.Causes[0].Predicts[kind]; got != want {
			t.Errorf("predicts %s %v, want %v", kind, got, want)
		}
	}
	if wheel, cam, valves, ok := c.ErrorsIf("dowel mirrored"); !ok || wheel != -28 || cam != 0 || valves != 0 {
		t.Errorf("mirrored: wheel %g, cam %g, valves %g", float64(wheel), float64(cam), float64(valves))
	}
	if wheel, cam, valves, ok := c.ErrorsIf("cam gear out by teeth"); ok && (wheel != 0 || cam != valves) {
		t.Errorf("gear out: wheel %g, cam %g, valves %g", float64(wheel), float64(cam), float64(valves))
	}
	if _, _, _, ok := c.ErrorsIf("gremlins"); ok {
		t.Error("a cause there is not has errors")
	}
	if len(c.Evidence) != 2 || c.Evidence[0].Key != "dowel.measured" || !near(c.Evidence[0].Value.(float64), -28, 0.05) || c.Evidence[1].Key != "keyway.measured" {
		t.Errorf("evidence %+v", c.Evidence)
	}
	// The light-off estimate says within which wheel errors it lights.
	if e := c.Engine; e.LightsFrom >= 0 || e.LightsTo <= 0 || e.CompressionBar < 15 || e.Interval != 120 || *e.Dowel != 14 || !e.Idlers || !e.OneGap {
		t.Errorf("%+v", e)
	}
	// What [[evidence]] says of the same kind goes first.
	j := d.Job()
	j.Evidence = []job.Evidence{{Kind: "dowel_error_deg", Value: 0.0}}
	if c = causesOf(t, j); len(c.Evidence) != 2 || c.Evidence[0].Key != "evidence[1]" || c.Causes[0].Cause == "dowel mirrored" {
		t.Errorf("%s from %+v", c.Causes[0].Cause, c.Evidence)
	}
}

func TestCausesOfEvidence(t *testing.T) {
	for _, c := range []struct{ name, job, cause, says string }{
		{"nothing", causeSix, "timing right, look elsewhere", string(leadNone)},
		{"gear out", causeSix + causeGear + saw("correlation_error_deg", "-10.2") + saw("starts", "true"), "cam gear out by teeth", string(leadAhead)},
		{"named teeth", causeSix + causeGear + "cam_teeth_out = 1\n" + saw("correlation_error_deg", "-10.2"), "cam gear out by teeth", string(leadMost)},
		{"dead sensor", causeSix + saw("crank_signal", `"none"`) + saw("fault_code", `"P0335"`) + saw("crank_sensor_test", `"open"`), "crank sensor dead or its gap wrong", string(leadMost)},
		{"compression", causeSix + "compression_gauge_bar = 11\n" + saw("starts", "false"), "poor compression", string(leadMost)},
	} {
		got := causesOf(t, sample.Read(t, c.job))
		if got.Causes[0].Cause != c.cause || string(got.Says.Text) != c.says {
			t.Errorf("%s: %s %.3f, %q", c.name, got.Causes[0].Cause, got.Causes[0].Probability, got.Says)
		}
	}
	// No evidence returns the priors.
	for _, k := range causesOf(t, sample.Read(t, causeSix)).Causes {
		if !near(k.Probability, k.Prior, 1e-6) || len(k.Explains) > 0 {
			t.Errorf("%s: %g, prior %g", k.Cause, k.Probability, k.Prior)
		}
	}
}

func TestContradiction(t *testing.T) {
	c := causesOf(t, sample.Read(t, causeSix+saw("correlation_error_deg", "-25")+saw("smoke", `"white"`)+saw("correlation_error_deg", "3")))
	want := "The findings contradict each other: crank–cam correlation error, −25°, and crank–cam correlation error, 3°. No probable cause explains both; take both readings again before you rely on these probabilities."
	if c.Contradiction == nil || !slices.Equal(c.Contradiction.Evidence, []string{"evidence[1]", "evidence[3]"}) || c.Notes[0].String() != want {
		t.Errorf("%+v, %q", c.Contradiction, c.Notes)
	}
	if c := causesOf(t, sample.Read(t, causeSix+saw("correlation_error_deg", "-25"))); c.Contradiction != nil {
		t.Errorf("one reading contradicts itself: %+v", c.Contradiction)
	}
}

func TestWrongEvidence(t *testing.T) {
	j := sample.Read(t, causeSix+saw("correlation_eror_deg", "3")+saw("smoke", `"green"`)+saw("starts", "1")+saw("mood", `"bad"`)+saw("starts", "true")+"u = 1\n"+saw("cranking_rpm", "9000"))
	_, err := CausesOf(j, CauseOptions{})
	var faults job.Faults
	if !errors.As(err, &faults) {
		t.Fatal(err)
	}
	want := []string{
		`evidence[1].kind: "correlation_eror_deg" is not known; is correlation_error_deg meant? Known here: starts, starts_cam_unplugged, `,
		`evidence[2].value: "green" is not known for smoke; it is "none", "white" or "black"`,
		`evidence[3].value: is 1; starts takes true or false`,
		`evidence[4].kind: "mood" is not known; known here: starts, starts_cam_unplugged, `,
		`evidence[5].u: does not apply to starts, which is not a measurement; leave it out`,
		`evidence[6].value: is 9000; cranking_rpm must be from 0 to 1000 rpm`,
	}
	if len(faults) != len(want) {
		t.Fatalf("%d faults\n%v", len(faults), faults)
	}
	for i, f := range faults {
		if !strings.HasPrefix(f.Error(), want[i]) {
			t.Errorf("%s, want %s", f.Error(), want[i])
		}
	}
}

// By hand: even engines look alike every firing; two firings 90 apart and 150 on, every
// 240 degrees; a V-twin of 270 and 450 only after the cycle.
func TestAlikeDeadCentres(t *testing.T) {
	for text, want := range map[string]float64{
		causeSix: 120,
		"[engine]\nstrokes = 4\nfiring_order = [1]\n":                                                          720,
		"[engine]\nstrokes = 2\nfiring_order = [1, 3, 2]\n":                                                    120,
		"[engine]\nstrokes = 4\nfiring_order = [1, 2]\nfiring_intervals_deg = [270, 450]\n":                    720,
		"[engine]\nstrokes = 4\nfiring_order = [1, 2, 3, 4]\nfiring_intervals_deg = [150, 210, 150, 210]\n":    360,
		"[engine]\nstrokes = 4\nfiring_order = [1,2,3,4,5,6]\nfiring_intervals_deg = [90,150,90,150,90,150]\n": 240,
	} {
		e, err := EngineOf(sample.Read(t, text))
		if err != nil {
			t.Fatal(err)
		}
		if got := float64(alike(e)); !near(got, want, 1e-9) {
			t.Errorf("%s: %g, want %g", text, got, want)
		}
	}
}

func TestWheelFromBehind(t *testing.T) {
	for _, c := range []struct {
		positions int
		missing   []int
		want      bool
	}{{60, []int{59, 60}, true}, {36, []int{36}, true}, {36, nil, true}, {36, []int{12, 24, 36}, true}, {12, []int{1, 2, 4}, false}, {36, []int{36, 3, 10}, false}, {36, []int{36, 5, 10}, true}} {
		if got := sameFromBehind(c.positions, c.missing); got != c.want {
			t.Errorf("%d without %v: %v", c.positions, c.missing, got)
		}
	}
}

// Every sentence of any evidence is whole.
func TestCauseSentences(t *testing.T) {
	said := map[phrase.Text]bool{}
	look := func(t interface{ Fatalf(string, ...any) }, c Causes) {
		list := append(append([]phrase.Sentence{c.Says, c.PlanSays}, c.Then...), c.Notes...)
		for _, k := range c.Causes {
			list = append(append(list, k.Chance()), k.Meaning...)
			for _, r := range k.Reasons {
				list = append(list, r.Says)
			}
		}
		for _, n := range c.Next {
			list = append(list, n.Gain())
			for _, o := range n.Outcomes {
				list = append(list, o.Says...)
			}
		}
		for _, s := range list {
			said[s.Text] = true
			if got := s.String(); got == "" || spoilt.MatchString(got) {
				t.Fatalf("%q from %q", got, s.Text)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob().Draw(t, "job")
		kinds := cause.Kinds()
		for range rapid.IntRange(0, 3).Draw(t, "pieces") {
			k := kinds[rapid.IntRange(0, len(kinds)-1).Draw(t, "kind")]
			ev := job.Evidence{Kind: k.Name, Value: rapid.Bool().Draw(t, "yes")}
			switch {
			case k.Value == cause.Word:
				ev.Value = rapid.SampledFrom(k.Words).Draw(t, "word")
			case k.Value == cause.Number:
				ev.Value = math.Round(rapid.Float64Range(k.Min, k.Max).Draw(t, "number"))
			}
			j.Evidence = append(j.Evidence, ev)
		}
		c, err := CausesOf(j, CauseOptions{PairShare: new(float64)}) // pairs have the same sentences
		if err != nil {
			t.Fatal(err)
		}
		look(t, c)
	})
	for _, text := range []string{causeSix, causeSix + saw("crank_key", `"sheared"`) + saw("crank_gear_marks_teeth", "0") + saw("valve_timing_error_deg", "-14") + saw("crank_signal", `"good"`) + saw("starts", "false"),
		causeSix + saw("correlation_error_deg", "-25") + saw("correlation_error_deg", "3"),
		causeSix + causeGear + saw("correlation_error_deg", "-10") + saw("starts", "false") + saw("cranking_rpm", "200"),
		causeSix + causeGear + saw("cam_gear_marks_teeth", "1") + saw("smoke", `"none"`),
		causeSix + saw("rail_pressure_bar", "20") + saw("starts", "false") + saw("smoke", `"none"`) + saw("fault_code", `"P0087"`)} {
		look(t, causesOf(t, sample.Read(t, text)))
	}
	for _, text := range []phrase.Text{leadNone, leadMost, leadAhead, leadSure, leadOne, leadOpen, becauseFor, becauseAgainst, becauseNeither, clashTwo, foundWord, foundBand, foundTeeth, chanceSays, gainSays, planSure, planIf,
		causePriors, causeNoGears, causeNoDowel, causeNoBand} {
		if !said[text] {
			t.Errorf("%q is never said", text)
		}
	}
}
