package app

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/widgets"
)

// A wheel's tooth count is understood as the trade writes it, letter by letter, and what
// is none is told beside the field.
func TestNotationIsTyped(t *testing.T) {
	u := on(t, byHand)
	fill(t, u, "crank_wheel.positions", "60-2")
	if w := u.Session.Job().CrankWheel; w == nil || w.Positions != 60 || !slices.Equal(w.Missing, []int{59, 60}) {
		t.Errorf("60-2 is %+v", w)
	}
	field := fill(t, u, "crank_wheel.positions", "36-2-2-2")
	if w := u.Session.Job().CrankWheel; w.Positions != 36 || len(w.Missing) != 6 || field.Text() != "36-2-2-2" {
		t.Errorf("36-2-2-2 is %+v, and the field shows %q", w, field.Text())
	}
	fill(t, u, "crank_wheel.positions", "24+1")
	if j := u.Session.Job(); j.CrankWheel.Positions != 24 || len(j.CrankWheel.Missing) != 0 || j.CamWheel == nil || len(j.CamWheel.TeethCamDeg) != 1 {
		t.Errorf("24+1 is %+v with %+v", j.CrankWheel, j.CamWheel)
	}
	if field = fill(t, u, "crank_wheel.positions", "60-60"); !strings.Contains(field.Fault(), "60-60") {
		t.Errorf("of 60-60 it says %q", field.Fault())
	}
	if field = fill(t, u, "crank_wheel.positions", "sixty-2"); !strings.Contains(field.Fault(), "36-2-2-2 or 24+1") {
		t.Errorf("of sixty-2 it says %q", field.Fault())
	}
}

// The teeth of a cam wheel that were measured stay whatever is typed of the crankshaft's,
// and those that were filled in are filled in anew. Undone, the notation is gone.
func TestNotationLeavesMeasuredTeeth(t *testing.T) {
	u := on(t, byHand)
	fill(t, u, "crank_wheel.positions", "24")
	fill(t, u, "cam_wheel.teeth_cam_deg", "0; 50; 130")
	for _, text := range []string{"24+", "24+1", "24+12"} {
		fill(t, u, "crank_wheel.positions", text)
	}
	if got := u.Session.Job().CamWheel.TeethCamDeg; !slices.Equal(got, []float64{0, 50, 130}) {
		t.Errorf("the measured teeth are at %v", got)
	}
	fill(t, u, "cam_wheel.teeth_cam_deg", "")
	for _, text := range []string{"24", "24+1", "24+12"} {
		fill(t, u, "crank_wheel.positions", text)
	}
	if got := u.Session.Job().CamWheel.TeethCamDeg; len(got) != 12 || got[1] != 30 {
		t.Errorf("twelve even teeth are at %v", got)
	}
	u.Undo()
	u.Undo()
	if got := inputOf(t, cycleOf(u).Form, "crank_wheel.positions").Field.Text(); got != "24" {
		t.Errorf("undone, the tooth field shows %q", got)
	}
}

// What stands in a field is selected when the keyboard comes to it.
func TestKeyboardSelects(t *testing.T) {
	u := on(t, byHand)
	field := inputOf(t, cycleOf(u).Form, "injection.start_btdc_deg").Field
	u.Window.Canvas().Focus(field.Focusable())
	field.Focusable().TypedRune('7')
	if field.Text() != "7" || u.Session.Job().Injection.StartBTDCDeg != job.Num(7) {
		t.Errorf("typed over, the field shows %q", field.Text())
	}
}

// A two-stroke with gears of a four-stroke is offered those that go with it.
func TestTwoStrokeGetsItsGears(t *testing.T) {
	u := window(t)
	pick(t, u, "engine.strokes", "two-stroke")
	press(t, u, "Set 36 teeth")
	if g := u.Session.Job().Gears; g.CamTeeth != 36 {
		t.Errorf("the camshaft gear has %d teeth", g.CamTeeth)
	}
	for _, f := range u.Session.Faults() {
		if strings.HasPrefix(f.Key, "gears") || strings.HasPrefix(f.Key, "cam_wheel") {
			t.Errorf("a fault: %v", f)
		}
	}
	pick(t, u, "engine.strokes", "four-stroke")
	press(t, u, "Set 72 teeth")
	if g := u.Session.Job().Gears; g.CamTeeth != 72 {
		t.Errorf("the camshaft gear has %d teeth", g.CamTeeth)
	}
}

// Gears that nobody counted yet are not asked about.
func TestUncountedGears(t *testing.T) {
	u := window(t)
	u.Edit("gears", func(j *job.Job) { j.Gears.CrankTeeth, j.Gears.CamTeeth = 0, 0 })
	pick(t, u, "engine.strokes", "two-stroke")
	if got := said(u); strings.Contains(got, "of 0 teeth") {
		t.Errorf("it is asked %q", got)
	}
}

// A section that the job lacks is filled in from its first field, which comes into sight.
func TestFillInOpensTheSection(t *testing.T) {
	u := on(t, byHand)
	for key, want := range map[string]string{"crank_wheel": "crank_wheel.positions", "cam_wheel": "cam_wheel.teeth_cam_deg", "engine.valves": "engine.valves.intake_opens_btdc_deg", "injection.cetane": "injection.cetane"} {
		u.Show(key)
		field := inputOf(t, cycleOf(u).Form, want).Field
		if u.Window.Canvas().Focused() != field.Focusable() {
			t.Errorf("%s: the keyboard is not in %s", key, want)
			continue
		}
		d := fyne.CurrentApp().Driver()
		f := cycleOf(u).Form
		y := d.AbsolutePositionForObject(field).Y - d.AbsolutePositionForObject(f.Scroll).Y
		if y < 0 || y+widgets.NewField("", 1).MinSize().Height > f.Scroll.Size().Height {
			t.Errorf("%s: the field is at %v of %v", key, y, f.Scroll.Size().Height)
		}
	}
}

// No key of the file is said in the window.
func TestWindowSaysNoKeys(t *testing.T) {
	u := on(t, byHand)
	for _, page := range []string{"cycle", "part", "signals", "gears", "cause", "light"} {
		u.OpenPage(page, "")
		all := words(u.Window.Canvas().Content())
		for _, key := range []string{"_deg", "_mm", "_teeth", "crank_wheel", "cam_wheel", "[engine]"} {
			if strings.Contains(all, key) {
				at := strings.Index(all, key)
				t.Errorf("the %s page says %q", page, all[max(0, at-60):min(len(all), at+40)])
			}
		}
	}
}
