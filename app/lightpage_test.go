package app

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"pinphase/assets"
	"pinphase/timing"
	"pinphase/timing/finding"
	"pinphase/timing/job"
)

// lit returns the window with the light-off page shown, of the demo job or of
// another, doing nothing beside the main goroutine.
func lit(t testing.TB, text string) (*ui, *lightPage) {
	t.Helper()
	u := window(t)
	u.inTurn = true
	if text != "" {
		u.openFile(file(t, "job.toml", text))
	}
	u.pages.show(2)
	if u.pages.now() != page(u.light) {
		t.Fatal("the third page is not the light-off page")
	}
	return u, u.light
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

// dragTo drags a slider's knob to where a value is, in three moves.
func dragTo(v *valueSlider, to float64) {
	s := v.slider
	at := func(x float32) float64 {
		e := &fyne.DragEvent{}
		e.Position = fyne.NewPos(x, 5)
		s.Dragged(e)
		return s.Value
	}
	x0, x1 := s.Size().Width/4, s.Size().Width*3/4
	v0, v1 := at(x0), at(x1)
	at(x0 + float32((to-v0)/(v1-v0))*(x1-x0))
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
	contains(t, "the page", words(u.root), p.sentence.Text, p.second.Text, u.head.sentence.Text)
	for i, want := range []string{"12 °C", "180 rpm", "17 : 1", "28° behind, measured"} {
		s := p.sliders
		if got := []*valueSlider{s.air, s.rpm, s.ratio, s.wheel}[i].words.Text; got != want {
			t.Errorf("beside a slider stands %q, want %q", got, want)
		}
	}
	contains(t, "the sentence", p.sentence.Text, "At 180 rpm and 12 °C this engine lights with injection from", "yours lands 18° after TDC: it will not light.")
	contains(t, "the second line", p.second.Text, "being worked out", "compares two timings and promises no start")
	if len(rasters(p.content)) != 2 {
		t.Errorf("there are %d figures on the page", len(rasters(p.content)))
	}
	p.rest()
	l, err := finding.LightOf(u.session.Job(), finding.LightOptions{})
	if err != nil {
		t.Fatal(err)
	}
	l, err = l.Drawn(t.Context(), 100_000, 1)
	if err != nil {
		t.Fatal(err)
	}
	c := l.Cases[0]
	want := finding.Num{Value: 100 * *c.Probability, Decimals: 1}.String() + " ± " + finding.Num{Value: 100 * *c.ProbabilityU, Decimals: 1}.String() + " % where asked for"
	contains(t, "the second line", p.second.Text, "Chance to light, all correlations weighed: "+want, "% where it lands", "promises no start")
}

func TestLightSlidersChangeTheJob(t *testing.T) {
	for name, c := range map[string]struct {
		slider func(*lightPage) *valueSlider
		to     [2]float64
		get    func(job.Job) job.Number
		words  string // beside the slider, at the end
	}{
		"air":   {func(p *lightPage) *valueSlider { return p.sliders.air }, [2]float64{-14, 31}, func(j job.Job) job.Number { return j.Injection.AirC }, "31 °C"},
		"rpm":   {func(p *lightPage) *valueSlider { return p.sliders.rpm }, [2]float64{110, 285}, func(j job.Job) job.Number { return j.Injection.CrankingRPM }, "285 rpm"},
		"ratio": {func(p *lightPage) *valueSlider { return p.sliders.ratio }, [2]float64{14.5, 21.3}, func(j job.Job) job.Number { return j.Engine.CompressionRatio }, "21.3 : 1"},
	} {
		t.Run(name, func(t *testing.T) {
			u, p := lit(t, "")
			v, was, said := c.slider(p), u.session.Job(), p.sentence.Text
			figures := painted(p.view)
			for _, to := range c.to {
				dragTo(v, to)
				v.slider.DragEnd()
				if got := c.get(u.session.Job()).Value; math.Abs(got-to) > 2.1*v.step || math.Abs(got/v.step-math.Round(got/v.step)) > 1e-9 || got != math.Round(got*1000)/1000 {
					t.Errorf("dragged to %g, the job has %v", to, got)
				}
			}
			v.change(c.to[1])
			v.slider.OnChangeEnded(0)
			if v.words.Text != c.words {
				t.Errorf("beside the slider stands %q, want %q", v.words.Text, c.words)
			}
			if p.sentence.Text == said || painted(p.view) == figures {
				t.Error("sentence and figure have not changed")
			}
			if len(u.session.Faults()) > 0 {
				t.Errorf("the job has the faults %v", u.session.Faults())
			}
			for u.session.CanUndo() {
				u.undo()
			}
			is(t, u, was)
			if p.sentence.Text != said || painted(p.view) != figures {
				t.Error("undone, the page differs from before")
			}
		})
	}
}

func TestOneDragOfALightSliderIsOneStep(t *testing.T) {
	u, p := lit(t, "")
	was := u.session.Job()
	dragTo(p.sliders.air, 30)
	p.sliders.air.slider.DragEnd()
	one := u.session.Job()
	dragTo(p.sliders.air, -20)
	p.sliders.air.slider.DragEnd()
	u.undo()
	is(t, u, one)
	if got, want := p.sliders.air.slider.Value, one.Injection.AirC.Value; got != want {
		t.Errorf("undone, the slider stands at %g, the job has %g", got, want)
	}
	u.undo()
	is(t, u, was)
	if u.session.CanUndo() {
		t.Error("two drags are more than two steps")
	}
}

func TestLightSliderKeys(t *testing.T) {
	u, p := lit(t, strings.Replace(string(assets.DemoJob), "air_c = 12.0", "air_c = 12.3", 1))
	press := func(names ...fyne.KeyName) {
		for _, n := range names {
			p.sliders.air.slider.TypedKey(&fyne.KeyEvent{Name: n})
		}
	}
	is := func(want float64) {
		t.Helper()
		if got := u.session.Job().Injection.AirC.Value; got != want {
			t.Errorf("the air is at %g °C, want %g", got, want)
		}
	}
	press(fyne.KeyRight)
	is(13.3) // by steps from the value, not from the knob's place
	press(fyne.KeyUp, fyne.KeyLeft, fyne.KeyDown)
	is(12.3)
	press(fyne.KeyPageUp)
	is(22.3)
	press(fyne.KeyPageDown, fyne.KeyPageDown)
	is(2.3)
	u.undo()
	is(12.3)
	for range 9 {
		press(fyne.KeyPageUp)
	}
	is(50) // the end
	press(fyne.KeySpace)
	if !u.run.On() {
		t.Error("Space does not run the crank")
	}
	u.run.Stop()
}

// A slider reaches values outside its usual range, and does not shrink under a
// drag.
func TestLightSliderWidens(t *testing.T) {
	u, p := lit(t, strings.Replace(string(assets.DemoJob), "air_c = 12.0", "air_c = 77.5", 1))
	if s := p.sliders.air.slider; s.Max < 77.5 || math.Abs(s.Value-77.5) > 0.5 {
		t.Errorf("the slider stands at %g of %g to %g", s.Value, s.Min, s.Max)
	}
	dragTo(p.sliders.air, 20)
	if p.sliders.air.slider.Max < 77.5 {
		t.Error("the range shrinks under the drag")
	}
	u.inTurn = true
	u.begin(newSession("", demo(), nil))
	if p.sliders.air.slider.Max != 50 {
		t.Errorf("with another job the range ends at %g", p.sliders.air.slider.Max)
	}
}

func TestLightWithoutAnAirTemperature(t *testing.T) {
	u, p := lit(t, without("air_c"))
	contains(t, "beside the slider", p.sliders.air.words.Text, "15 °C, assumed")
	contains(t, "the sentence", p.sentence.Text, "and 15 °C")
	dragTo(p.sliders.air, 5)
	p.sliders.air.slider.DragEnd()
	if n := u.session.Job().Injection.AirC; !n.Given || math.Abs(n.Value-5) > 2 {
		t.Errorf("the job has %v", n)
	}
	u.undo()
	if u.session.Job().Injection.AirC.Given {
		t.Error("undone, the job still has an air temperature")
	}
}

func TestLightSaysWhatTheJobLacks(t *testing.T) {
	u, p := lit(t, without("cranking_rpm", "compression_ratio", "bore_mm"))
	contains(t, "the page", words(p.content), "Whether it lights cannot be said yet.",
		"Bore: missing; light-off needs the bore", "Compression: missing", "Cranking speed: missing", "[Fill it in]")
	contains(t, "beside the sliders", p.sliders.rpm.words.Text+p.sliders.ratio.words.Text, "not given yetnot given yet")
	if len(rasters(p.view)) > 0 && slices.Contains(shown(p.content), fyne.CanvasObject(p.view)) {
		t.Error("a figure is shown all the same")
	}
	test.Tap(p.fill)
	if u.pages.now() != page(u.page) || u.window.Canvas().Focused() != u.form.input(t, "engine.bore_mm").field.Focusable() {
		t.Error("the button does not lead to the bore")
	}
	fill(t, u, "engine.bore_mm", "108")
	u.pages.show(2)
	dragTo(p.sliders.rpm, 180)
	p.sliders.rpm.slider.DragEnd()
	contains(t, "the page", words(p.content), "cannot be said yet", "Compression: missing")
	dragTo(p.sliders.ratio, 17)
	p.sliders.ratio.slider.DragEnd()
	contains(t, "the sentence", p.sentence.Text, "this engine lights with injection from")
	if !slices.Contains(shown(p.content), fyne.CanvasObject(p.view)) {
		t.Error("the figure does not appear")
	}
}

func TestASupposedWheelErrorIsNotInTheJob(t *testing.T) {
	u, p := lit(t, "")
	was, head := u.session.Job(), u.head.sentence.Text
	figure, chart := painted(p.view), painted(p.side.view)
	dragTo(p.sliders.wheel, 3)
	p.sliders.wheel.slider.DragEnd()
	p.suppose(ptr(3.0))
	is(t, u, was)
	if u.session.CanUndo() || u.head.sentence.Text != head {
		t.Error("the supposition is in the job")
	}
	contains(t, "the sentence", p.sentence.Text, "Supposing the wheel 3° ahead: At 180 rpm", "yours lands 13° before TDC: it should light.")
	contains(t, "beside the slider", p.sliders.wheel.words.Text, "3° ahead, supposed")
	if painted(p.view) == figure || painted(p.side.view) == chart || len(p.side.in.Points) != 3 || p.side.in.Points[1].Y > -27 || p.side.in.Points[2].Y != 3 {
		t.Errorf("the figures do not show it; the map has %v", p.side.in.Points)
	}
	if p.sliders.back.Disabled() {
		t.Fatal("there is no way back")
	}
	p.rest()
	contains(t, "the second line", p.second.Text, "% where it lands")
	dragTo(p.sliders.air, 0) // other sliders leave it
	contains(t, "the sentence", p.sentence.Text, "Supposing the wheel 3° ahead: At 180 rpm and")
	u.undo()
	test.Tap(p.sliders.back)
	contains(t, "beside the slider", p.sliders.wheel.words.Text, "28° behind, measured")
	if painted(p.view) != figure || !p.sliders.back.Disabled() || strings.Contains(p.sentence.Text, "Supposing") {
		t.Error("back at the measured wheel error the page is not as it was")
	}

	p.suppose(ptr(-5.0))
	u.edit("another reading", func(j *job.Job) { j.Dowel.Measured.ChordMM = job.Num(17.2) })
	if p.supposed != nil {
		t.Error("measured anew, the supposition is still there")
	}
	p.suppose(ptr(-5.0))
	u.begin(newSession("", demo(), nil))
	if p.supposed != nil {
		t.Error("with another job the supposition is still there")
	}
}

func TestLightWithoutAMeasuredDowel(t *testing.T) {
	_, p := lit(t, without("measured"))
	contains(t, "beside the slider", p.sliders.wheel.words.Text, "at 0°, assumed")
	contains(t, "the sentence", p.sentence.Text, "it should light.")
	p.tabs.SelectIndex(1)
	contains(t, "the notes", p.notes.Text, "No dowel was measured", "promises no start")
}

// The chances and the fine map are those of the job shown, or are dropped.
func TestLateChancesAreDropped(t *testing.T) {
	u, p := lit(t, "")
	late := p.work()() // the work is done, its result has yet to be shown
	dragTo(p.sliders.air, 40)
	pending, cells := p.second.Text, len(p.side.in.Cells)
	late()
	if p.second.Text != pending || p.draws.done || len(p.side.in.Cells) != cells {
		t.Errorf("the chances of the job before are shown: %q", p.second.Text)
	}
	p.rest()
	first := p.second.Text
	u.pages.show(0)
	u.pages.show(2) // nothing has changed: they are still true
	if p.second.Text != first || !p.draws.done {
		t.Errorf("shown again, the page says %q", p.second.Text)
	}
	given := p.work()
	p.stop() // as when the window is closed
	given()()
	dragTo(p.sliders.air, -25)
	contains(t, "the second line", p.second.Text, "being worked out")
	p.rest()
	if p.second.Text == first {
		t.Error("at −25 °C the chances are those at 40 °C")
	}
}

func TestLightMap(t *testing.T) {
	_, p := lit(t, "")
	coarse := len(p.side.in.Cells)
	p.rest()
	fine := p.side.in.Cells
	if len(fine) < 3*coarse/2 || !p.side.fine {
		t.Errorf("the map has %d rows after a pause, %d before", len(fine), coarse)
	}
	before := painted(p.side.view)
	dragTo(p.sliders.air, 30)
	if &p.side.in.Cells[0] != &fine[0] {
		t.Error("with the air alone changed the map is worked out anew")
	}
	if painted(p.side.view) == before {
		t.Error("the engine's point does not move")
	}
	if got, want := p.side.in.Points[1].X, p.estimate.AirC; got != want {
		t.Errorf("the engine is at %g °C on the map, want %g", got, want)
	}
	dragTo(p.sliders.ratio, 20)
	if len(p.side.in.Cells) != coarse || p.side.fine {
		t.Errorf("while compression is dragged the map has %d rows", len(p.side.in.Cells))
	}
	p.rest()
	if len(p.side.in.Cells) != len(fine) {
		t.Errorf("after a pause it has %d rows", len(p.side.in.Cells))
	}

	p.side.view.OnPoint(0, 0, true)
	contains(t, "below the map", p.side.words.Text, "−25 °C, wheel 40° behind: lit by", "of 5 correlations")
	p.side.view.OnPoint(len(p.side.in.X)-1, len(p.side.in.Y)-1, true)
	contains(t, "below the map", p.side.words.Text, "40 °C, wheel 30° ahead: lit by 5 of 5, may kick back")
	p.side.view.MouseOut()
	contains(t, "below the map", p.side.words.Text, "Point at the map")

	p.tabs.SelectIndex(1) // not shown, it is left alone
	dragTo(p.sliders.ratio, 12)
	if len(p.side.in.Cells) != len(fine) {
		t.Error("the map is worked out while it is not shown")
	}
	p.rest()
	if len(p.side.in.Cells) != len(fine) {
		t.Error("after a pause too")
	}
	p.tabs.SelectIndex(0)
	if len(p.side.in.Cells) != coarse {
		t.Error("shown again, the map is the one before")
	}
}

func TestLightTabs(t *testing.T) {
	u, p := lit(t, "")
	p.rest()
	for i, want := range [][]string{
		1: {"promises no start", "leaves injection in the window", "Of 5 published correlations"},
		2: {"Wolfer 1938", "2.1° BTDC, 7.3 ms\nwithin the data", "does not light", "colder than the data"},
		3: {"Livengood and Wu 1955", "Cetane 50", "100 000 draws"},
		4: {"pierces skin", "licensed practice"},
	} {
		p.tabs.SelectIndex(i)
		contains(t, "tab "+p.tabs.Selected().Text, words(p.tabs), want...)
	}
	if got := len(p.table.cells); got != 6 {
		t.Errorf("the table has %d rows", got)
	}
	p.tabs.SelectIndex(2)
	before, second := p.sentence.Text, p.second.Text
	p.by.SetSelected("Watson 1980")
	if p.sentence.Text == before || p.estimate.Correlation != "watson" {
		t.Errorf("by another correlation the sentence is %q", p.sentence.Text)
	}
	p.tabs.SelectIndex(0)
	contains(t, "the map's legend", p.side.in.Words.Limit, "Watson 1980")
	p.rest()
	if p.second.Text != second { // the chances are drawn over all correlations
		t.Errorf("the chances are %q, were %q", p.second.Text, second)
	}
	if u.session.CanUndo() {
		t.Error("the choice is in the job")
	}
}

func TestLightCursor(t *testing.T) {
	u, p := lit(t, "")
	u.setAt(702)
	tag := words(p.view)
	contains(t, "the tag", p.reading(-18), "18° BTDC: ", " °C, ", " bar")
	if !slices.Contains(texts(p.view), p.reading(-18)) {
		t.Errorf("at 702 the figure says %q", tag)
	}
	p.view.OnCursor(-5) // the figure counts round firing TDC, the crank from it on
	if u.at != 715 {
		t.Errorf("pointed at −5, the crank stands at %v", u.at)
	}
	p.view.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if u.at != 716 {
		t.Errorf("a step on it stands at %v", u.at)
	}
	g := p.estimate.Path.At(0)
	contains(t, "the tag", p.reading(0), "TDC: "+finding.Num{Value: g.K - 273.15}.String()+" °C")
	contains(t, "the tag", p.reading(-170), "170° BTDC: a valve is open")
	u.setAt(300)
	if len(texts(p.view)) > 0 {
		t.Errorf("beyond the figure there is a cursor: %q", texts(p.view))
	}
	u.setAt(timing.Deg(0))
}

func TestLightFitsTheSmallestScreen(t *testing.T) {
	u, p := lit(t, "")
	const menuBar = 36
	for range 2 {
		u.window.Resize(fyne.NewSize(1024, 640-menuBar))
		if m := u.root.MinSize(); m.Width > 1024 || m.Height > 640-menuBar {
			t.Errorf("the window needs %v, more than 1024 by %d", m, 640-menuBar)
		}
		if got, room := p.inner.MinSize(), p.content.Size(); got.Height > room.Height || got.Width > room.Width {
			t.Errorf("the page needs %v and has %v: it scrolls", got, room)
		}
		p.rest()
		p.suppose(ptr(-12.5))
	}
	before := p.split.Position()
	p.suppose(nil)
	p.inner.Refresh()
	if p.split.Position() != before {
		t.Error("with shorter words the page below jumps")
	}
	choose(t, u, "View", "Text size", "200 %")
	if m := u.root.MinSize(); m.Width > 1024 || m.Height > 640-menuBar {
		t.Errorf("at double size the window needs %v", m)
	}
	if a, b := p.sliders.air.content, p.sliders.rpm.content; a.Position().X != b.Position().X || a.Position().Y == b.Position().Y {
		t.Error("at double size the sliders are side by side")
	}
	choose(t, u, "View", "Text size", "100 %")
}

func TestLightDividerIsKept(t *testing.T) {
	u, p := lit(t, "")
	p.split.Offset = 0.42
	u.rememberLayout()
	if again := newUI(u.app); again.light.split.Offset != 0.42 {
		t.Errorf("at the next start the divider is at %g", again.light.split.Offset)
	}
}

func TestLightOfATwoStroke(t *testing.T) {
	u, p := lit(t, read(t, "../testdata/jobs/two-stroke.toml"))
	contains(t, "the page", words(p.content), "Compression: missing", "Cranking speed: missing")
	dragTo(p.sliders.rpm, 150)
	dragTo(p.sliders.ratio, 18)
	u.setAt(350)
	contains(t, "the tag", strings.Join(texts(p.view), " "), "10° BTDC: ")
}
