package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// geared returns the window with the gears page shown, of the demo job or of
// another.
func geared(t testing.TB, text string) (*ui, *gearsPage) {
	t.Helper()
	u := window(t)
	if text != "" {
		u.openFile(file(t, "job.toml", text))
	}
	u.OpenPage("gears", "")
	return u, gearsOf(u)
}

// typeInto types over what stands in a field of the page's.
func (p *gearsPage) typeInto(t testing.TB, key, text string) {
	t.Helper()
	retype(p.u, p.form.input(t, key).field, text)
	p.u.Window.Canvas().Unfocus()
}

// The demo's train: 36, 53 and 72 teeth have 3816 = 106 · 36 as least common
// multiple (hand calculation).
func TestGearsPageAnswersFirst(t *testing.T) {
	u, p := geared(t, "")
	contains(t, "the page", words(p.content), "The cam is where it belongs.", "All marks meet here, as they were set.",
		"All marks meet again only after 106 turns of the crank.", "One tooth out, at any mesh, moves the cam by 10 crank degrees.",
		"every tooth of one comes to every tooth of the other", "Seen from the nose")
	if len(rasters(p.content)) != 1 {
		t.Errorf("there are %d figures on the page", len(rasters(p.content)))
	}
	for key, want := range map[string]string{"gears.crank_teeth": "36", "gears.idler_teeth": "53", "gears.cam_teeth": "72", "gears.cam_teeth_out": ""} {
		if got := p.form.input(t, key).field.Text(); got != want {
			t.Errorf("%s shows %q, want %q", key, got, want)
		}
	}
	is(t, u, desk.Demo().Job())
}

func TestGearsTurnWithTheCrank(t *testing.T) {
	u, p := geared(t, "")
	at0 := painted(p.view)
	u.SetAt(20)
	if painted(p.view) == at0 {
		t.Error("the train has not turned with the crank")
	}
	contains(t, "the marks", p.marks.Text, "20° of the crank on")
	for range 35 { // to 720, by steps that go over the end of the cycle
		u.SetAt(u.At + 20)
	}
	contains(t, "after two turns", p.marks.Text, "2 turns on the marks of crank and cam are back", "off its place by 19 of its 53 teeth") // 2 · 36 = 72 = 53 + 19
	if u.At != 0 {
		t.Errorf("the crank stands at %v", u.At)
	}
	if painted(p.view) == at0 {
		t.Error("the idler's mark is back after two turns")
	}
	p.turnTo(106 * timing.Turn)
	contains(t, "after all turns", p.marks.Text, "All marks meet here again, 106 turns of the crank on.")
	if painted(p.view) != at0 {
		t.Error("after 106 turns the marks are not where they were")
	}
	for _, c := range []struct{ button, want string }{
		{"+1 turn", "half a turn away"},
		{"All marks together", "All marks meet here, as they were set."},
		{"−1 turn", "half a turn away"},
	} {
		tapButton(t, p.content, c.button)
		contains(t, "after "+c.button, p.marks.Text, c.want)
	}
}

// tapButton presses a button of a page.
func tapButton(t testing.TB, o fyne.CanvasObject, name string) {
	t.Helper()
	for _, o := range shown(o) {
		if b, ok := o.(*widget.Button); ok && b.Text == name && !b.Disabled() {
			test.Tap(b)
			return
		}
	}
	t.Fatalf("there is no button %q that can be pressed", name)
}

func TestSupposedTeethChangeNoJob(t *testing.T) {
	u, p := geared(t, "")
	was, right := u.Session.Job(), painted(p.view)
	test.Tap(p.suppose.less)
	contains(t, "the sentence", p.sentence.Text, "Supposing the cam gear 1 tooth behind: The cam is 10 crank degrees behind")
	contains(t, "the stepper", p.suppose.words.Text, "1 tooth behind")
	contains(t, "the marks", p.marks.Text, "Here all marks would meet", "stands one tooth short of where it should")
	if painted(p.view) == right {
		t.Error("the figure shows no gear out")
	}
	is(t, u, was)
	test.Tap(p.suppose.more)
	test.Tap(p.suppose.more)
	test.Tap(p.suppose.more)
	contains(t, "the sentence", p.sentence.Text, "2 teeth ahead: The cam is 20 crank degrees ahead")
	test.Tap(p.suppose.back)
	if p.sentence.Text != "The cam is where it belongs." || painted(p.view) != right {
		t.Errorf("back, the page says %q", p.sentence.Text)
	}
	test.Tap(p.suppose.more)
	test.Tap(p.suppose.take)
	if got := u.Session.Job().Gears.CamTeethOut; got != 1 {
		t.Errorf("the job has %d teeth out", got)
	}
	contains(t, "the sentence", p.sentence.Text, "The cam is 10 crank degrees ahead")
	if p.form.input(t, "gears.cam_teeth_out").field.Text() != "1" {
		t.Error("the field does not show it")
	}
	u.Undo()
	is(t, u, was)
}

func TestGearsTable(t *testing.T) {
	_, p := geared(t, "")
	list, err := finding.TeethOut(desk.Demo().Job(), mostTeeth)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.table.Cells) != 1+len(list) {
		t.Fatalf("the table has %d rows", len(p.table.Cells))
	}
	var row []string
	for _, c := range p.table.Cells[2*mostTeeth+1-2] { // two teeth behind the last: one ahead
		row = append(row, c.Text)
	}
	// Closing at 36° ABDC, less 10; wheel error −28 less 10. By hand.
	if got, want := strings.Join(row, "|"), "1 tooth ahead|10° ahead|26° ABDC|correlation error −38°"; got != want {
		t.Errorf("one tooth ahead is %q, want %q", got, want)
	}
}

func TestGearsTypedFromNothing(t *testing.T) {
	u, p := geared(t, strings.Split(string(assets.DemoJob), "[gears]")[0])
	contains(t, "the page", words(p.content), "The gear train cannot be shown yet.", "Type the numbers of teeth")
	if !p.suppose.more.Disabled() || !p.suppose.take.Disabled() {
		t.Error("teeth can be supposed out of no gears")
	}
	p.typeInto(t, "gears.crank_teeth", "30")
	p.typeInto(t, "gears.idler_teeth", "41, 37")
	p.typeInto(t, "gears.cam_teeth", "61")
	contains(t, "the fault", p.form.input(t, "gears.cam_teeth").field.Fault(), "so 30 crank teeth go with 60")
	p.typeInto(t, "gears.cam_teeth", "60")
	contains(t, "the page", words(p.content), "The cam is where it belongs.")
	if g := u.Session.Job().Gears; g.CrankTeeth != 30 || len(g.IdlerTeeth) != 2 || g.CamTeeth != 60 {
		t.Errorf("the job has %+v", g)
	}
	p.typeInto(t, "gears.cam_teeth_out", "−2")
	contains(t, "the page", p.sentence.Text, "The cam is 24 crank degrees behind")
	for _, key := range []string{"gears.crank_teeth", "gears.idler_teeth", "gears.cam_teeth", "gears.cam_teeth_out"} {
		p.typeInto(t, key, "")
	}
	if u.Session.Job().Gears != nil {
		t.Error("emptied, the section is still there")
	}
}

func TestFaultLeadsToTheGears(t *testing.T) {
	u, p := geared(t, "")
	u.Edit("test", func(j *job.Job) { j.Gears.CamTeeth = 71 })
	u.pages.show(0)
	u.Show("gears.cam_teeth")
	if u.pages.now() != desk.Page(p) || u.Window.Canvas().Focused() != p.form.input(t, "gears.cam_teeth").focus() {
		t.Error("the fault does not lead to its field")
	}
}

func TestGearsPageFits(t *testing.T) {
	u, p := geared(t, "")
	for _, scale := range []float64{1, 1.5, 2} {
		u.setTextSize(scale)
		if m := u.Root.MinSize(); m.Width > 1024 || m.Height > 640-36 {
			t.Errorf("at %g the window needs %v", scale, m)
		}
	}
	if strings.Contains(words(p.content), "{{") {
		t.Error("a place is open")
	}
}

func TestGearsCrankStrip(t *testing.T) {
	u, p := geared(t, "")
	u.typeAngle()
	if u.Window.Canvas().Focused() != p.transport.Entry.Focusable() {
		t.Error("Ctrl G does not lead to the page's own angle")
	}
	retype(u, p.transport.Entry, "90")
	u.Window.Canvas().Unfocus()
	if u.At != 90 {
		t.Errorf("the crank stands at %v", u.At)
	}
	u.Run.Toggle()
	if p.transport.Run.Icon == nil || !u.Run.On() {
		t.Error("the crank does not run")
	}
	u.Run.Stop()
}
