package chart

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

// The figure shows the numbers of the finding: the window, both injections, and
// the gas at its hottest.
func TestLightShowsTheFinding(t *testing.T) {
	t.Parallel()
	j := sample.Demo(t)
	l, err := finding.LightOf(j, finding.LightOptions{})
	if err != nil {
		t.Fatal(err)
	}
	in, err := Light(j, LightOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if float64(in.Window.From) != -l.Window.EarlyBTDCDeg || float64(in.Window.To) != -l.Window.LateBTDCDeg {
		t.Errorf("window %v of %+v", *in.Window, *l.Window)
	}
	if len(in.Bars) != 2 || float64(in.Bars[0].Start) != -10 || float64(*in.Bars[0].Lights) != -*l.Cases[0].LightsAt || in.Bars[1].Lights != nil || !in.Bars[1].Warn {
		t.Errorf("injections %+v", in.Bars)
	}
	if in.Bars[0].Says != "ignites 2.1° before TDC, after 7.3 ms" || in.Bars[1].Says != "does not ignite" {
		t.Errorf("they say %q and %q", in.Bars[0].Says, in.Bars[1].Says)
	}
	hottest, highest := math.Inf(-1), 0.0
	for _, g := range in.Gas {
		hottest, highest = max(hottest, g.C), max(highest, g.Bar)
	}
	if math.Abs(hottest+273.15-l.HottestK) > 0.1 || math.Abs(highest-l.HighestBar) > 0.05 {
		t.Errorf("the gas comes to %g °C and %g bar, the finding says %g K and %g bar", hottest, highest, l.HottestK, l.HighestBar)
	}
	if len(in.Spreads) != 5 || in.Finding != l.Says.String() {
		t.Errorf("%d spreads, %q", len(in.Spreads), in.Finding)
	}
	if in.From > -60 || in.To < 60 {
		t.Errorf("shown from %v to %v", in.From, in.To)
	}
	// A far start is shown too, up to a turn.
	far := -150.0
	in, err = Light(j, LightOptions{Of: finding.LightOptions{WheelErrorDeg: &far}})
	if err != nil || in.To < 150 || in.To > 180 {
		t.Errorf("injection 140 after TDC is shown up to %v, %v", in.To, err)
	}
}

func TestLightMapShowsTheEngine(t *testing.T) {
	t.Parallel()
	j := sample.Demo(t)
	in, err := LightMap(j, LightOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if len(in.X) != 14 || in.X[0] != -25 || len(in.Y) != 29 || in.Y[28] != 30 || len(in.Cells) != 29 || len(in.Cells[0]) != 14 {
		t.Fatalf("%d by %d cells from %g, %g", len(in.X), len(in.Y), in.X[0], in.Y[0])
	}
	if p := in.Points[1]; p.X != 12 || math.Abs(p.Y+28) > 0.1 {
		t.Errorf("this engine at %v", p)
	}
	// At 10 °C, where the demo's injection lands nothing lights by the default, and
	// with the wheel right everything does.
	column := 7
	if in.X[column] != 10 || in.Cells[16][column].Lit != 5 || in.Y[16] != 0 || in.Cells[5][column].Chosen || in.Y[5] != -27.5 {
		t.Errorf("at %g °C: %+v with an error of %g, %+v with %g", in.X[column], in.Cells[16][column], in.Y[16], in.Cells[5][column], in.Y[5])
	}
	far := 150.0
	in, err = LightMap(j, LightOptions{Of: finding.LightOptions{WheelErrorDeg: &far}})
	if err != nil || in.Y[len(in.Y)-1] < 150 {
		t.Errorf("a wheel error of 150 is off the map: %v", err)
	}
}

func TestLightFiguresAreWritten(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"light", "light-map"} {
		d, err := Drawing(name, sample.Demo(t), Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, ending := range Formats {
			var b bytes.Buffer
			if err := write(&b, ending, d); err != nil || b.Len() == 0 {
				t.Errorf("%s as %s: %d bytes, %v", name, ending, b.Len(), err)
			}
		}
		if !strings.Contains(d.Desc, "ignition is unlikely") {
			t.Errorf("%s is described as %q", name, d.Desc)
		}
		if _, err := Drawing(name, job.Job{Engine: job.Engine{Strokes: 4, FiringOrder: []int{1}}}, Options{}); err == nil {
			t.Errorf("%s of a job without a bore is drawn", name)
		}
	}
}

// Estimate, figure and picture of one frame of a drag, by the best of a few: a
// 60th of a second is 16 ms, and the bound leaves room for a busy machine.
func TestLightFrame(t *testing.T) {
	j := sample.Demo(t)
	var r figure.Raster
	best := time.Duration(math.MaxInt64)
	air := -20.0
	for range 12 {
		begin := time.Now()
		in, err := Light(j, LightOptions{Of: finding.LightOptions{AirC: &air}})
		if err != nil {
			t.Fatal(err)
		}
		d, _ := figure.LightOff(in, figure.Box{W: 1000, H: 600})
		r.Render(d, figure.Light(), 1000, 600, 1)
		best = min(best, time.Since(begin))
		air++
	}
	t.Logf("a frame takes %v", best)
	if best > 50*time.Millisecond {
		t.Errorf("a frame takes %v", best)
	}
}

func BenchmarkLight(b *testing.B) {
	j := sample.Demo(b)
	for b.Loop() {
		in, err := Light(j, LightOptions{})
		if err != nil {
			b.Fatal(err)
		}
		figure.LightOff(in, figure.Box{W: 1000, H: 600})
	}
}
