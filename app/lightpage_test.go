package app

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// lit returns the window with the light-off page shown, of the demo job or of
// another, doing nothing beside the main goroutine.
func lit(t testing.TB, text string) (*ui, *lightPage) {
	t.Helper()
	u := window(t)
	u.InTurn = true
	if text != "" {
		u.openFile(file(t, "job.toml", text))
	}
	u.pages.show(2)
	if u.pages.kind().Name != "light" {
		t.Fatal("the third page is not the light-off page")
	}
	return u, lightOf(u)
}

// without returns the demo job without the lines of some keys.
func without(keys ...string) string {
	var out []string
	for _, line := range strings.Split(string(assets.DemoJob), "\n") {
		if key, _, _ := strings.Cut(line, " "); !slices.Contains(keys, key) {
			out = append(out, line)
		}
	}
	return strings.Join(out, "\n")
}

// texts are the texts that lie over a figure.
func texts(o fyne.CanvasObject) (list []string) {
	for _, o := range shown(o) {
		if t, ok := o.(*canvas.Text); ok {
			list = append(list, t.Text)
		}
	}
	return list
}

func contains(t testing.TB, what, got string, want ...string) {
	t.Helper()
	for _, w := range want {
		if !strings.Contains(got, w) {
			t.Errorf("%s is %q, want %q in it", what, got, w)
		}
	}
}

func TestLightPageAnswersFirst(t *testing.T) {
	u, p := lit(t, "")
	contains(t, "the page", words(u.Root), p.sentence.Text, p.second.Text, u.head.sentence.Text)
	for i, want := range []string{"12 °C", "180 rpm", "17 : 1", "28° behind, measured"} {
		s := p.sliders
		if got := []*kit.ValueSlider{s.air, s.rpm, s.ratio, s.wheel}[i].Words.Text; got != want {
			t.Errorf("beside a slider stands %q, want %q", got, want)
		}
	}
	contains(t, "the sentence", p.sentence.Text, "At 180 rpm and 12 °C this engine wants injection from", "yours lands 18° after TDC: ignition there is unlikely.")
	contains(t, "the second line", p.second.Text, "being worked out", "compares two timings and promises no start")
	if len(rasters(p.content)) != 2 {
		t.Errorf("there are %d figures on the page", len(rasters(p.content)))
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
	want := phrase.Num{Value: 100 * *c.Probability, Decimals: 1}.String() + " ± " + phrase.Num{Value: 100 * *c.ProbabilityU, Decimals: 1}.String() + " % where asked for"
	contains(t, "the second line", p.second.Text, "Chance to light, all correlations weighed: "+want, "% where it lands", "promises no start")
}

func TestLightWithoutAnAirTemperature(t *testing.T) {
	u, p := lit(t, without("air_c"))
	contains(t, "beside the slider", p.sliders.air.Words.Text, "15 °C, assumed")
	contains(t, "the sentence", p.sentence.Text, "and 15 °C")
	dragTo(p.sliders.air, 5)
	p.sliders.air.Slider.DragEnd()
	if v := u.Supposed().AirC; v == nil || math.Abs(*v-5) > 2 || u.Session.Job().Injection.AirC.Given {
		t.Errorf("supposed is %v, the job has %v", v, u.Session.Job().Injection.AirC)
	}
	u.AsMeasured()
	contains(t, "beside the slider", p.sliders.air.Words.Text, "15 °C, assumed")
}

func TestLightSaysWhatTheJobLacks(t *testing.T) {
	u, p := lit(t, without("cranking_rpm", "compression_ratio", "bore_mm"))
	contains(t, "the page", words(p.content), "Whether it lights cannot be said yet.",
		"Bore: missing; light-off needs the bore", "Compression: missing", "Cranking speed: missing", "[Fill it in]")
	contains(t, "beside the sliders", p.sliders.rpm.Words.Text+p.sliders.ratio.Words.Text, "not given yetnot given yet")
	if len(rasters(p.view)) > 0 && slices.Contains(shown(p.content), fyne.CanvasObject(p.view)) {
		t.Error("a figure is shown all the same")
	}
	test.Tap(p.fill)
	if u.pages.kind().Name != "cycle" || u.Window.Canvas().Focused() != inputOf(t, cycleOf(u).form, "engine.bore_mm").Field.Focusable() {
		t.Error("the button does not lead to the bore")
	}
	fill(t, u, "engine.bore_mm", "108")
	u.pages.show(2)
	dragTo(p.sliders.rpm, 180)
	p.sliders.rpm.Slider.DragEnd()
	contains(t, "the page", words(p.content), "cannot be said yet", "Compression: missing")
	dragTo(p.sliders.ratio, 17)
	p.sliders.ratio.Slider.DragEnd()
	contains(t, "the sentence", p.sentence.Text, "this engine wants injection from")
	if !slices.Contains(shown(p.content), fyne.CanvasObject(p.view)) {
		t.Error("the figure does not appear")
	}
}

// supposeWheel supposes a wheel error.
func supposeWheel(u *ui, v *float64) { u.Suppose(func(w *finding.WhatIf) { w.WheelErrorDeg = v }) }

func TestASupposedWheelErrorIsNotInTheJob(t *testing.T) {
	u, p := lit(t, "")
	was, head := u.Session.Job(), u.head.sentence.Text
	figure, chart := painted(p.view), painted(p.side.view)
	dragTo(p.sliders.wheel, 3)
	p.sliders.wheel.Slider.DragEnd()
	supposeWheel(u, new(3.0))
	is(t, u, was)
	if u.Session.CanUndo() || u.head.sentence.Text == head {
		t.Error("the supposition is in the job, or the answer is not of it")
	}
	contains(t, "the head", words(u.head.content), "Supposing the sensor wheel 3° ahead: Every injection lands 13° before TDC", "◇ Supposing the sensor wheel 3° ahead. The job stays as it is.")
	contains(t, "the sentence", p.sentence.Text, "Supposing the sensor wheel 3° ahead: At 180 rpm", "yours lands 13° before TDC: it should light.")
	contains(t, "beside the slider", p.sliders.wheel.Words.Text, "3° ahead, supposed")
	if painted(p.view) == figure || painted(p.side.view) == chart || len(p.side.in.Points) != 3 || p.side.in.Points[1].Y > -27 || p.side.in.Points[2].Y != 3 {
		t.Errorf("the figures do not show it; the map has %v", p.side.in.Points)
	}
	if p.sliders.back.Disabled() {
		t.Fatal("there is no way back")
	}
	p.rest()
	contains(t, "the second line", p.second.Text, "% where it lands")
	dragTo(p.sliders.air, 0) // other sliders leave it
	contains(t, "the sentence", p.sentence.Text, "Supposing the sensor wheel 3° ahead, air at 0")
	test.Tap(p.sliders.back)
	contains(t, "beside the slider", p.sliders.wheel.Words.Text, "28° behind, measured")
	if painted(p.view) != figure || !p.sliders.back.Disabled() || strings.Contains(p.sentence.Text, "Supposing") {
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
	_, p := lit(t, without("measured"))
	contains(t, "beside the slider", p.sliders.wheel.Words.Text, "at 0°, assumed")
	contains(t, "the sentence", p.sentence.Text, "it should light.")
	p.tabs.SelectIndex(1)
	contains(t, "the notes", p.notes.Text, "Not measured yet", "promises no start")
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
	choose(t, u, "View", "Text size", "200 %")
	if m := u.Root.MinSize(); m.Width > 1024 || m.Height > 640-menuBar {
		t.Errorf("at double size the window needs %v", m)
	}
	if a, b := p.sliders.air.Content, p.sliders.rpm.Content; a.Position().X != b.Position().X || a.Position().Y == b.Position().Y {
		t.Error("at double size the sliders are side by side")
	}
	choose(t, u, "View", "Text size", "100 %")
}

func TestLightDividerIsKept(t *testing.T) {
	u, p := lit(t, "")
	p.split.Offset = 0.42
	u.rememberLayout()
	if again := testUI(u.App); lightOf(again).split.Offset != 0.42 {
		t.Errorf("at the next start the divider is at %g", lightOf(again).split.Offset)
	}
}

func TestLightOfATwoStroke(t *testing.T) {
	u, p := lit(t, read(t, "../testdata/jobs/two-stroke.toml"))
	contains(t, "the page", words(p.content), "Compression: missing", "Cranking speed: missing")
	dragTo(p.sliders.rpm, 150)
	dragTo(p.sliders.ratio, 18)
	u.SetAt(350)
	contains(t, "the tag", strings.Join(texts(p.view), " "), "10° BTDC: ")
}
