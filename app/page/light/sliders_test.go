package light

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
)

// The sliders suppose: sentence and figure follow, and the job, its faults and its steps
// stay as they are until it is put into the job, which one undo takes back.
func TestLightSlidersSuppose(t *testing.T) {
	for name, c := range map[string]struct {
		slider func(*page) *kit.ValueSlider
		to     [2]float64
		get    func(job.Job) job.Number
		words  string // beside the slider, at the end
		says   string // in the head
	}{
		"air":   {func(p *page) *kit.ValueSlider { return p.sliders.air }, [2]float64{-14, 31}, func(j job.Job) job.Number { return j.Injection.AirC }, "31 °C, what-if", "air at 31 °C"},
		"rpm":   {func(p *page) *kit.ValueSlider { return p.sliders.rpm }, [2]float64{110, 285}, func(j job.Job) job.Number { return j.Injection.CrankingRPM }, "285 rpm, what-if", "cranking at 285 rpm"},
		"ratio": {func(p *page) *kit.ValueSlider { return p.sliders.ratio }, [2]float64{14.5, 21.3}, func(j job.Job) job.Number { return j.Engine.CompressionRatio }, "21.3 : 1, what-if", "a compression ratio of 21.3"},
	} {
		t.Run(name, func(t *testing.T) {
			u, p := lit(t, "")
			v, was, said := c.slider(p), u.Session.Job(), p.sentence.Text
			figures := desktest.Painted(p.view)
			for _, to := range c.to {
				desktest.DragTo(v, to)
				v.Slider.DragEnd()
				if got := c.get(u.Shown()).Value; math.Abs(got-to) > 2.1*v.Step || math.Abs(got/v.Step-math.Round(got/v.Step)) > 1e-9 || got != math.Round(got*1000)/1000 {
					t.Errorf("dragged to %g, %v is supposed", to, got)
				}
			}
			v.Change(c.to[1])
			if v.Words.Text != c.words {
				t.Errorf("beside the slider stands %q, want %q", v.Words.Text, c.words)
			}
			desktest.Contains(t, "the head", u.Supposing(), c.says)
			if p.sentence.Text == said || desktest.Painted(p.view) == figures {
				t.Error("sentence and figure have not changed")
			}
			u.Is(t, was)
			if u.Session.CanUndo() || u.Session.Dirty() {
				t.Error("the job has another step")
			}
			u.KeepSupposed()
			if got := c.get(u.Session.Job()).Value; got != c.to[1] || u.Supposes() || u.Supposing() != "" {
				t.Errorf("put into the job it has %v", got)
			}
			if v.Words.Text != strings.TrimSuffix(c.words, ", what-if") {
				t.Errorf("in the job, beside the slider stands %q", v.Words.Text)
			}
			u.Undo()
			u.Is(t, was)
			if u.Session.CanUndo() || p.sentence.Text != said || desktest.Painted(p.view) != figures {
				t.Error("undone, the page differs from before")
			}
		})
	}
}

func TestOneClickTakesBackAllThatIsSupposed(t *testing.T) {
	u, p := lit(t, "")
	was, said := u.Session.Job(), u.Answer()
	of := p.sentence.Text
	desktest.DragTo(p.sliders.air, 30)
	desktest.DragTo(p.sliders.rpm, 120)
	desktest.DragTo(p.sliders.wheel, -20)
	u.Leave()
	desktest.Contains(t, "the head", u.Supposing(), "air at", "cranking at", "the sensor wheel")
	test.Tap(p.sliders.back)
	u.Return()
	u.Is(t, was)
	if u.Answer() != said || u.Supposing() != "" || p.sentence.Text != of {
		t.Errorf("taken back, the window says %q, the page %q", u.Answer(), p.sentence.Text)
	}
}

func TestLightSliderKeys(t *testing.T) {
	u, p := lit(t, strings.Replace(string(assets.DemoJob), "air_c = 12.0", "air_c = 12.3", 1))
	press := func(names ...fyne.KeyName) {
		for _, n := range names {
			p.sliders.air.Slider.TypedKey(&fyne.KeyEvent{Name: n})
		}
	}
	is := func(want float64) {
		t.Helper()
		if got := u.Shown().Injection.AirC.Value; got != want {
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
	u.AsMeasured()
	is(12.3)
	for range 9 {
		press(fyne.KeyPageUp)
	}
	is(50) // the end
	press(fyne.KeySpace)
	if asked, _ := u.Away(); asked != "key Space" {
		t.Errorf("Space is not handed on: %q", asked)
	}
}

// A slider reaches values outside its usual range, and does not shrink under a
// drag.
func TestLightSliderWidens(t *testing.T) {
	u, p := lit(t, strings.Replace(string(assets.DemoJob), "air_c = 12.0", "air_c = 77.5", 1))
	if s := p.sliders.air.Slider; s.Max < 77.5 || math.Abs(s.Value-77.5) > 0.5 {
		t.Errorf("the slider stands at %g of %g to %g", s.Value, s.Min, s.Max)
	}
	desktest.DragTo(p.sliders.air, 20)
	if p.sliders.air.Slider.Max < 77.5 {
		t.Error("the range shrinks under the drag")
	}
	u.InTurn = true
	u.Begin(desk.NewSession("", desk.Demo(), nil))
	if p.sliders.air.Slider.Max != 50 {
		t.Errorf("with another job the range ends at %g", p.sliders.air.Slider.Max)
	}
}
