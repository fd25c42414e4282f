package chart

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

func TestGears(t *testing.T) {
	t.Parallel()
	j := sample.Demo(t)
	j.Gears.CamTeethOut = -1
	in, err := Gears(j, GearsOptions{At: 720})
	if err != nil {
		t.Fatal(err)
	}
	// By hand, 36, 53 and 72 teeth over two turns of the crank: the idler has made
	// 2*36/53 turns against it, the cam one turn with it; a tooth behind is 5 degrees
	// of the cam.
	for i, want := range []timing.Deg{720, -720 * 36.0 / 53, 360} {
		if w := in.Wheels[i]; math.Abs(float64(w.Turned-want)) > 1e-9 {
			t.Errorf("%s has turned %g, want %g", w.Name, float64(w.Turned), float64(want))
		}
	}
	if out := in.Wheels[2].Out; out != -5 || in.Wheels[0].Out != 0 || in.Wheels[1].Out != 0 {
		t.Errorf("the cam gear is %g out", float64(out))
	}
	if *in.Throw != 0 || in.Wheels[1].Count != "idler gear, 53 teeth" || !strings.Contains(in.Desc, "720°") {
		t.Errorf("throw %g, %q, %q", float64(*in.Throw), in.Wheels[1].Count, in.Desc)
	}
	// Crank and cam in mesh turn against each other, and a cam ahead is ahead in its
	// own direction.
	j.Gears.IdlerTeeth, j.Gears.CamTeethOut = nil, 2
	if in, err = Gears(j, GearsOptions{At: 10}); err != nil || in.Wheels[1].Turned != -5 || in.Wheels[1].Out != -10 {
		t.Errorf("%+v, %v", in.Wheels, err)
	}
	if _, err := Gears(sample.Read(t, thin), GearsOptions{}); err == nil {
		t.Error("a job without gears has a figure of them")
	}
}

// Every word goes through the reader's translation, is among the texts, and each
// of the figure's is said by one of these jobs.
func TestGearWords(t *testing.T) {
	t.Parallel()
	say, _ := listener(t)
	two := sample.Demo(t)
	two.Title, two.Gears.IdlerTeeth, two.Gears.CamTeethOut = "", []int{40, 41}, 1
	two.Gears.PumpTeeth = 54
	for _, j := range []job.Job{sample.Demo(t), two} {
		for _, from := range []timing.End{timing.Nose, timing.Flywheel} {
			in, err := Gears(j, GearsOptions{From: from, Say: say})
			if err != nil {
				t.Fatal(err)
			}
			if j.Gears.PumpTeeth != 0 {
				if p := in.Pump; p == nil || p.On != 2 || p.Teeth != 54 || p.Name != "~pump" {
					t.Errorf("pump %+v", p)
				}
			}
			for _, line := range append(slices.Clone(in.Caption), in.Title, in.Desc, in.Words.Mark, in.Words.Right, in.Words.Throw, in.Wheels[0].Count) {
				if !strings.HasPrefix(line, "~") {
					t.Errorf("%q speaks English only", line)
				}
			}
		}
	}
}
