package cause

import (
	"testing"

	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
)

// What is answered is in the job, not known is not no, and every answer is one step
// for undo.
func TestAnswersAreEvidence(t *testing.T) {
	u, p := causing(t, untouched())
	was, said := u.Session.Job(), p.sentence.Text
	for _, c := range []struct {
		do   func()
		want string
	}{
		{func() { p.answer(t, "starts", 2) }, "starts 0 false"},
		{func() { p.answer(t, "starts", 1) }, "starts 0 true"},
		{func() { p.answer(t, "smoke", 2) }, "starts 0 true; smoke 0 white"},
		{func() { p.answer(t, "starts", 0) }, "smoke 0 white"},
		{func() { p.answer(t, "wheel_side", 2) }, "smoke 0 white; wheel_side 0 back to front"},
		{func() { p.answer(t, "wheel_side", 0) }, "smoke 0 white"},
	} {
		c.do()
		if got := evidenceOf(u); got != c.want {
			t.Errorf("the job has %q, want %q", got, c.want)
		}
	}
	if p.sentence.Text == said {
		t.Error("the sentence has not changed with what was seen")
	}
	if got := p.known.groups.List[0].Title; got != "Heard and seen: 1 known" {
		t.Errorf("the group is called %q", got)
	}
	for range 6 {
		u.Undo()
	}
	u.Is(t, was)
	if u.Session.CanUndo() || p.sentence.Text != said {
		t.Errorf("undone, the page says %q", p.sentence.Text)
	}
	if a := p.known.rows["smoke"].list[0].(*wordAnswer); a.sel.SelectedIndex() != 0 {
		t.Error("undone, the smoke is still known")
	}
	if b := p.known.rows["starts"].list[0].(*wordAnswer).row; b.chosen != 0 {
		t.Error("undone, it is still known whether it starts")
	}
}

func TestNumbersHaveAWayAndNoSign(t *testing.T) {
	u, p := causing(t, untouched())
	a := p.number("correlation_error_deg", 0)
	desktest.Retype(u.Window.Canvas(), a.value.Field, "27.5")
	if len(u.Session.Job().Evidence) != 0 {
		t.Error("it counts without its way")
	}
	desktest.Contains(t, "the answer", a.which.Text, "Which way?")
	if a.value.Field.Text() != "27.5" {
		t.Errorf("while it waits the field shows %q", a.value.Field.Text())
	}
	test.Tap(a.way.buttons[1])
	if got := evidenceOf(u); got != "correlation_error_deg 0 -27.5" {
		t.Errorf("the job has %q", got)
	}
	if a.which.Text != "" {
		t.Errorf("it still asks %q", a.which.Text)
	}
	test.Tap(a.way.buttons[0])
	if got := evidenceOf(u); got != "correlation_error_deg 0 27.5" {
		t.Errorf("the other way the job has %q", got)
	}
	desktest.Retype(u.Window.Canvas(), a.value.Field, "−3")
	desktest.Contains(t, "a sign", a.value.Field.Fault(), "without a sign")
	desktest.Retype(u.Window.Canvas(), a.value.Field, "3000")
	desktest.Contains(t, "too much", a.value.Field.Fault(), "between 0 and 360")
	desktest.Retype(u.Window.Canvas(), a.value.Field, "abc")
	desktest.Contains(t, "no number", a.value.Field.Fault(), "“abc” is not a number")
	if got := evidenceOf(u); got != "correlation_error_deg 0 300" { // the last that could be one
		t.Errorf("the job has %q", got)
	}
	desktest.Retype(u.Window.Canvas(), a.value.Field, "0,5") // the way stays
	desktest.Retype(u.Window.Canvas(), a.u.Field, "0.25")
	if got := evidenceOf(u); got != "correlation_error_deg 0.25 0.5" {
		t.Errorf("with its ± the job has %q", got)
	}
	desktest.Retype(u.Window.Canvas(), a.u.Field, "−1")
	desktest.Contains(t, "a ± below 0", a.u.Field.Fault(), "between 0 and")
	desktest.Retype(u.Window.Canvas(), a.u.Field, "")
	test.Tap(a.take)
	if len(u.Session.Job().Evidence) != 0 || a.value.Field.Text() != "" || a.side != 0 {
		t.Errorf("taken away, %q and %q are left", evidenceOf(u), a.value.Field.Text())
	}
	u.Undo()
	if got := evidenceOf(u); got != "correlation_error_deg 0 0.5" || a.value.Field.Text() != "0.5" || a.side != 1 {
		t.Errorf("undone, the job has %q, the field %q", got, a.value.Field.Text())
	}
}

func TestTeethAreWhole(t *testing.T) {
	u, p := causing(t, untouched())
	p.read(t, "cam_gear_marks_teeth", 0, "1.5", 1)
	desktest.Contains(t, "half a tooth", p.number("cam_gear_marks_teeth", 0).value.Field.Fault(), "not a whole number")
	p.read(t, "cam_gear_marks_teeth", 0, "2", -1)
	if got := evidenceOf(u); got != "cam_gear_marks_teeth 0 -2" {
		t.Errorf("the job has %q", got)
	}
	p.read(t, "cam_gear_marks_teeth", 0, "0", -1)
	if got := evidenceOf(u); got != "cam_gear_marks_teeth 0 0" {
		t.Errorf("marks that are right are %q", got)
	}
}

func TestSeveralReadings(t *testing.T) {
	u, p := causing(t, untouched())
	r := p.known.rows["compression_bar"]
	if r.more.Visible() {
		t.Error("another reading is offered before the first")
	}
	p.read(t, "compression_bar", 0, "26", -1)
	test.Tap(r.more)
	p.read(t, "compression_bar", 1, "25", -1)
	if got := evidenceOf(u); got != "compression_bar 0 26; compression_bar 0 25" {
		t.Fatalf("the job has %q", got)
	}
	test.Tap(p.number("compression_bar", 0).take)
	if got := evidenceOf(u); got != "compression_bar 0 25" || p.number("compression_bar", 0).value.Field.Text() != "25" {
		t.Errorf("without the first the job has %q, the field %q", got, p.number("compression_bar", 0).value.Field.Text())
	}
}

func TestReplacedPartsAreTicked(t *testing.T) {
	u, p := causing(t, untouched())
	ticks := p.known.rows["replaced"].ticks
	ticks.ticks[0].SetChecked(true)
	ticks.ticks[1].SetChecked(true)
	if got := evidenceOf(u); got != "replaced 0 crankshaft; replaced 0 crank wheel" {
		t.Errorf("the job has %q", got)
	}
	ticks.ticks[0].SetChecked(false)
	if got := evidenceOf(u); got != "replaced 0 crank wheel" {
		t.Errorf("unticked, the job has %q", got)
	}
	u.Undo()
	if !ticks.ticks[0].Checked {
		t.Error("undone, the tick is not back")
	}
}

// What was measured on the Part page is shown and not typed twice; what is typed
// all the same counts before it.
func TestEvidenceFromElsewhere(t *testing.T) {
	u, p := causing(t, string(assets.DemoJob)+"\n[[evidence]]\nkind = \"keyway_error_deg\"\nvalue = 4.0\n")
	dowel, keyway := p.known.rows["dowel_error_deg"], p.known.rows["keyway_error_deg"]
	desktest.Contains(t, "the dowel", dowel.from.Text, "From the Part page: 28° behind ± 0.3°.")
	if dowel.answers.Visible() {
		t.Error("the dowel is asked for twice")
	}
	desktest.Contains(t, "the keyway", keyway.from.Text, "This entry overrides the Part page: 0°")
	if !keyway.answers.Visible() {
		t.Error("what was typed of the keyway is not shown")
	}
	test.Tap(dowel.shows)
	if asked, _ := u.Away(); asked != "part dowel" {
		t.Error("it does not lead to the Part page")
	}
	u.Edit("gears.cam_teeth_out", func(j *job.Job) { j.Gears.CamTeethOut = 1 })
	u.OpenPage("cause", "")
	desktest.Contains(t, "the gear", p.known.rows["cam_gear_marks_teeth"].from.Text, "From the Gears page: 1 tooth, camshaft ahead.")
	test.Tap(p.known.rows["cam_gear_marks_teeth"].shows)
	if asked, _ := u.Away(); asked != "key of the job gears.cam_teeth_out" {
		t.Error("it does not lead to the Gears page")
	}
}

func TestEvidenceThatCannotBe(t *testing.T) {
	u, p := causing(t, untouched("kind = \"smokes\"\nvalue = \"white\"", "kind = \"smoke\"\nvalue = \"green\"", "kind = \"starts\"\nvalue = false"))
	desktest.Contains(t, "the page", desktest.Words(p.content), "The causes cannot be calculated yet.", "marked there", "\"smokes\" is not known", "\"green\" is not known for smoke")
	desktest.TapButton(t, p.known.strange.content, "Remove")
	desktest.TapButton(t, p.known.strange.content, "Remove")
	if got := evidenceOf(u); got != "starts 0 false" {
		t.Errorf("the job has %q", got)
	}
	desktest.Contains(t, "the sentence", p.sentence.Text, "Most likely so far")
}

func TestOnlyWhatIsKnown(t *testing.T) {
	_, p := causing(t, untouched("kind = \"smoke\"\nvalue = \"white\""))
	p.known.only.SetChecked(true)
	for kind, r := range p.known.rows {
		if r.content.Visible() != (kind == "smoke") {
			t.Errorf("%s is shown: %v", kind, r.content.Visible())
		}
	}
	for i, g := range p.known.groups.List {
		if g.Open != (i == 0) {
			t.Errorf("%s is open: %v", g.Title, g.Open)
		}
	}
	p.answer(t, "smoke", 0)
	if !p.known.none.Visible() {
		t.Error("it does not say that nothing is known")
	}
	p.known.reveal("starts") // a check asks for it
	if !p.known.rows["starts"].content.Visible() {
		t.Error("what a check asks for is hidden")
	}
	p.known.only.SetChecked(false)
	if !p.known.rows["fuel_sample"].content.Visible() || p.known.none.Visible() {
		t.Error("not everything is back")
	}
}
