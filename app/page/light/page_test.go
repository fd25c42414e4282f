package light

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// lit returns the window with the light-off page shown, of the demo job or of
// another, doing nothing beside the main goroutine.
func lit(t testing.TB, text string) (*desktest.Bench, *page) {
	t.Helper()
	u := desktest.New(t, Kind)
	u.InTurn = true
	if text != "" {
		u.OpenFile(t, desktest.File(t, "job.toml", text))
	}
	return u, u.Page.(*page)
}

func TestLightPageAnswersFirst(t *testing.T) {
	u, p := lit(t, "")
	desktest.Contains(t, "the page", desktest.Words(u.Root), p.sentence.Text, p.second.Text)
	for i, want := range []string{"12 °C", "180 rpm", "17 : 1", "28° behind, measured"} {
		s := p.sliders
		if got := []*kit.ValueSlider{s.air, s.rpm, s.ratio, s.wheel}[i].Words.Text; got != want {
			t.Errorf("beside a slider stands %q, want %q", got, want)
		}
	}
	desktest.Contains(t, "the sentence", p.sentence.Text, "At 180 rpm and 12 °C this engine needs injection to start from", "yours starts 18° after TDC: ignition is unlikely.")
	desktest.Contains(t, "the second line", p.second.Text, "being calculated", "compares two injection timings and does not promise a start")
	if len(desktest.Rasters(p.content)) != 2 {
		t.Errorf("there are %d figures on the page", len(desktest.Rasters(p.content)))
	}
	p.rest()
	l, err := finding.LightOf(u.Session.Job(), finding.LightOptions{})
	if err != nil {
		t.Fatal(err)
	}
	l, err = l.Drawn(t.Context(), 100_000, 1)
	if err != nil {
		t.Fatal(err)
	}
	c := l.Cases[0]
	want := phrase.Num{Value: 100 * *c.Probability, Decimals: 1}.String() + " ± " + phrase.Num{Value: 100 * *c.ProbabilityU, Decimals: 1}.String() + " % as commanded"
	desktest.Contains(t, "the second line", p.second.Text, "Probability of ignition, all delay formulas weighted: "+want, "% as it actually is", "does not promise a start")
}

func TestLightWithoutAnAirTemperature(t *testing.T) {
	u, p := lit(t, desktest.Without("air_c"))
	desktest.Contains(t, "beside the slider", p.sliders.air.Words.Text, "15 °C, assumed")
	desktest.Contains(t, "the sentence", p.sentence.Text, "and 15 °C")
	desktest.DragTo(p.sliders.air, 5)
	p.sliders.air.Slider.DragEnd()
	if v := u.Supposed().AirC; v == nil || math.Abs(*v-5) > 2 || u.Session.Job().Injection.AirC.Given {
		t.Errorf("supposed is %v, the job has %v", v, u.Session.Job().Injection.AirC)
	}
	u.AsMeasured()
	desktest.Contains(t, "beside the slider", p.sliders.air.Words.Text, "15 °C, assumed")
}

func TestLightSaysWhatTheJobLacks(t *testing.T) {
	u, p := lit(t, desktest.Without("cranking_rpm", "compression_ratio", "bore_mm"))
	desktest.Contains(t, "the page", desktest.Words(p.content), "Whether the fuel ignites is not known yet.",
		"Bore: missing; the ignition estimate needs the bore", "Compression ratio: missing", "Cranking speed: missing", "[Fill in]")
	desktest.Contains(t, "beside the sliders", p.sliders.rpm.Words.Text+p.sliders.ratio.Words.Text, "not given yetnot given yet")
	if len(desktest.Rasters(p.view)) > 0 && slices.Contains(desktest.Shown(p.content), fyne.CanvasObject(p.view)) {
		t.Error("a figure is shown all the same")
	}
	test.Tap(p.fill)
	if asked, away := u.Away(); !away || asked != "key of the job engine.bore_mm" {
		t.Error("the button does not lead to the bore")
	}
	u.Edit("engine.bore_mm", func(j *job.Job) { j.Engine.BoreMM = job.Num(108) })
	u.Return()
	desktest.DragTo(p.sliders.rpm, 180)
	p.sliders.rpm.Slider.DragEnd()
	desktest.Contains(t, "the page", desktest.Words(p.content), "is not known yet", "Compression ratio: missing")
	desktest.DragTo(p.sliders.ratio, 17)
	p.sliders.ratio.Slider.DragEnd()
	desktest.Contains(t, "the sentence", p.sentence.Text, "this engine needs injection to start from")
	if !slices.Contains(desktest.Shown(p.content), fyne.CanvasObject(p.view)) {
		t.Error("the figure does not appear")
	}
}

// supposeWheel supposes a wheel error.
func supposeWheel(u *desktest.Bench, v *float64) {
	u.Suppose(func(w *finding.WhatIf) { w.WheelErrorDeg = v })
}

func TestASupposedWheelErrorIsNotInTheJob(t *testing.T) {
	u, p := lit(t, "")
	was, head := u.Session.Job(), u.Answer()
	figure, chart := desktest.Painted(p.view), desktest.Painted(p.side.view)
	desktest.DragTo(p.sliders.wheel, 3)
	p.sliders.wheel.Slider.DragEnd()
	supposeWheel(u, new(3.0))
	u.Is(t, was)
	if u.Session.CanUndo() || u.Answer() == head {
		t.Error("the supposition is in the job, or the answer is not of it")
	}
	desktest.Contains(t, "the answer", u.Answer(), "What if: the sensor wheel 3° ahead. Every injection starts 13° before TDC")
	desktest.Contains(t, "the sentence", p.sentence.Text, "What if: the sensor wheel 3° ahead. At 180 rpm", "yours starts 13° before TDC: ignition is likely.")
	desktest.Contains(t, "beside the slider", p.sliders.wheel.Words.Text, "3° ahead, what-if")
	if desktest.Painted(p.view) == figure || desktest.Painted(p.side.view) == chart || len(p.side.in.Points) != 3 || p.side.in.Points[1].Y > -27 || p.side.in.Points[2].Y != 3 {
		t.Errorf("the figures do not show it; the map has %v", p.side.in.Points)
	}
	if p.sliders.back.Disabled() {
		t.Fatal("there is no way back")
	}
	p.rest()
	desktest.Contains(t, "the second line", p.second.Text, "% with the what-if")
	desktest.DragTo(p.sliders.air, 0) // other sliders leave it
	desktest.Contains(t, "the sentence", p.sentence.Text, "What if: the sensor wheel 3° ahead, air at 0")
	test.Tap(p.sliders.back)
	desktest.Contains(t, "beside the slider", p.sliders.wheel.Words.Text, "28° behind, measured")
	if desktest.Painted(p.view) != figure || !p.sliders.back.Disabled() || strings.Contains(p.sentence.Text, "What if") {
		t.Error("back at the measured wheel error the page is not as it was")
	}

	supposeWheel(u, new(-5.0))
	u.Edit("another reading", func(j *job.Job) { j.Dowel.Measured.ChordMM = job.Num(17.2) })
	if u.Supposes() {
		t.Error("measured anew, the supposition is still there")
	}
	supposeWheel(u, new(-5.0))
	u.Begin(desk.NewSession("", desk.Demo(), nil))
	if u.Supposes() {
		t.Error("with another job the supposition is still there")
	}
}

func TestLightWithoutAMeasuredDowel(t *testing.T) {
	_, p := lit(t, desktest.Without("measured"))
	desktest.Contains(t, "beside the slider", p.sliders.wheel.Words.Text, "at 0°, assumed")
	desktest.Contains(t, "the sentence", p.sentence.Text, "ignition is likely.")
	p.tabs.SelectIndex(1)
	desktest.Contains(t, "the notes", p.notes.Text, "Not measured yet", "does not promise a start")
}

func TestLightFitsTheSmallestScreen(t *testing.T) {
	u, p := lit(t, "")
	const menuBar = 36
	for range 2 {
		u.Window.Resize(fyne.NewSize(1024, 640-menuBar))
		if m := u.Root.MinSize(); m.Width > 1024 || m.Height > 640-menuBar {
			t.Errorf("the window needs %v, more than 1024 by %d", m, 640-menuBar)
		}
		if got, room := p.inner.MinSize(), p.content.Size(); got.Height > room.Height || got.Width > room.Width {
			t.Errorf("the page needs %v and has %v: it scrolls", got, room)
		}
		p.rest()
		supposeWheel(u, new(-12.5))
	}
	before := p.split.Position()
	u.AsMeasured()
	p.inner.Refresh()
	if p.split.Position() != before {
		t.Error("with shorter words the page below jumps")
	}
	u.SetTextSize(2)
	if m := u.Root.MinSize(); m.Width > 1024 || m.Height > 640-menuBar {
		t.Errorf("at double size the window needs %v", m)
	}
	if a, b := p.sliders.air.Content, p.sliders.rpm.Content; a.Position().X != b.Position().X || a.Position().Y == b.Position().Y {
		t.Error("at double size the sliders are side by side")
	}
	u.SetTextSize(1)
}

func TestLightDividerIsKept(t *testing.T) {
	u, p := lit(t, "")
	p.split.Offset = 0.42
	u.Page.Remember()
	if again := desktest.Again(u.App, Kind); again.Page.(*page).split.Offset != 0.42 {
		t.Errorf("at the next start the divider is at %g", again.Page.(*page).split.Offset)
	}
}

func TestLightOfATwoStroke(t *testing.T) {
	u, p := lit(t, desktest.Read(t, "../../../testdata/jobs/two-stroke.toml"))
	desktest.Contains(t, "the page", desktest.Words(p.content), "Compression ratio: missing", "Cranking speed: missing")
	desktest.DragTo(p.sliders.rpm, 150)
	desktest.DragTo(p.sliders.ratio, 18)
	u.SetAt(350)
	desktest.Contains(t, "the tag", strings.Join(desktest.Texts(p.view), " "), "10° BTDC: ")
}
